// What stands behind a Chronology. Not for other stations.
#pragma once

#include <string_view>
#include <unordered_map>
#include <vector>

#include "tailproof/allowed_days.h"
#include "tailproof/chronology.h"
#include "tailproof/marking_orders.h"

namespace tailproof {

struct ChronologyData {
  explicit ChronologyData(const CheckInput& from)
      : input(from), index(input), commanders(read_commanders(from.ledger)) {}

  CheckInput input;
  bool has_usual_facts = true;
  ClaimIndex index;
  Commanders commanders;
  std::vector<PhotographTime> photographs;
  std::vector<TimeFact> facts;
  // Variables: the photographs, then moments of repainting between the forms of a marking.
  std::uint32_t variable_count = 0;
  std::vector<bool> is_tied;  // by photograph: some relation names it
  // For narrowing(), made when first asked for.
  struct Candidate {
    const Airframe* airframe = nullptr;
    DaySet life;
  };
  std::vector<Candidate> candidates;
  DaySet horizon;  // from the first to the last day of which the ledger speaks
  // By manuscript and block: the photographs of the caption to which the block belongs.
  std::vector<std::vector<std::vector<std::uint32_t>>> photographs_of_block;
};

/// Fills in photographs, and the facts that concern one of them alone.
void find_photographs(ChronologyData& data);
/// Facts that tie two photographs.
void relate_photographs(ChronologyData& data);

/// Whether the claim speaks of the picture as it was taken, and counts for its date.
[[nodiscard]] bool is_of_picture(const CheckInput& input, const Claim& claim);
/// What the ledger allows of the claim in a fact of this basis; nothing when it has no word on it.
/// With `grounds`, its rows as well.
struct FactDays {
  Allowed allowed;
  DaySet recorded = DaySet::all();
};
[[nodiscard]] std::optional<FactDays> days_of_fact(const ChronologyData& data, Basis basis,
                                                   const Claim& claim, Grounds* grounds);

/// Surfaces that a claim of a marking certainly means; none when it leaves that open.
[[nodiscard]] Surfaces certain_surfaces(const Ledger& ledger, const Claim& marking);

}  // namespace tailproof
