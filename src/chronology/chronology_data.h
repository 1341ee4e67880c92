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
  // Variables: the photographs, then events, and moments of repainting between forms of a marking.
  std::uint32_t variable_count = 0;
  std::vector<bool> is_tied;  // by variable: some relation names it
  /// What befell a machine, as far as photographs are timed by it.
  struct Event {
    std::string_view serial, kind, unit;
    Allowed days = Allowed::always();
    std::vector<Evidence> rows;
    bool is_known = false;
    bool may_recur = true;
    std::size_t row_count = 0;
    std::uint32_t variable = kNone;  // where it is one of its own
  };
  std::vector<Event> events;
  // Repaints that the text dates, by the first serial of the machine.
  std::unordered_map<std::string_view, std::vector<const Claim*>> repaints_told;
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
/// Facts that tie photographs to what befell a machine.
void relate_events(ChronologyData& data);
/// Facts about coats of paint: of one photograph, or of several of one machine.
void relate_paint(ChronologyData& data);

/// The one photograph of a caption; kNone of a caption that prints several, as it is not told
/// which one is meant.
[[nodiscard]] std::uint32_t photograph_at(const ChronologyData& data, const CaptionPlace& place);
/// Puts the fact where it belongs, and ties what it relates.
void add_fact(ChronologyData& data, TimeFact fact);
/// A new variable that is no photograph.
[[nodiscard]] std::uint32_t add_moment(ChronologyData& data);

/// Whether a photograph's date was counted from an event of the caption, and is no better known.
[[nodiscard]] bool is_counted(const CheckInput& input, const Claim& date);
/// "was lost", "was allotted to 4 Company".
[[nodiscard]] std::string event_in_words(const ChronologyData::Event& event);

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

}  // namespace tailproof
