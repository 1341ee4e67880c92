// The days on which the ledger leaves one claim possible, kind by kind: the one rule that both the
// checks of single claims and the brackets of photographs go by.
//
// Contract: a function gives nothing where the ledger has no word on the matter; absence of a row
// rules out no day. Days are possible unless a row speaks against them, and a row that speaks for
// the claim outweighs one that speaks against it. `when` is the time that is asked about; where
// only days near it count (which theatre, which stations), it may be all days. With `grounds`, the
// rows by which it was decided are put there as well; that costs strings, so leave it out, or
// ask for days alone, until they are to be printed.
#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <unordered_map>
#include <utility>
#include <vector>

#include "tailproof/claim_index.h"
#include "tailproof/placement.h"
#include "tailproof/verdict.h"

namespace tailproof {

/// A row that makes the claim possible on some days, or rules it out on others.
struct Ground {
  DaySet days;
  bool is_against = false;
  std::string_view key;  // the unit, place, rank or identity that the row names
  Evidence evidence;
  std::string_view unit;  // whose station it is
};
class Grounds {
 public:
  Grounds() = default;
  /// Days and keys alone; nothing is put into words.
  [[nodiscard]] static Grounds without_evidence();

  template <typename MakeEvidence>
  void add(DaySet days, bool is_against, std::string_view key, const MakeEvidence& make,
           std::string_view unit = {}) {
    rows_.push_back({std::move(days), is_against, key, has_evidence_ ? make() : Evidence{}, unit});
  }
  [[nodiscard]] const std::vector<Ground>& rows() const { return rows_; }
  /// Days for which some row speaks; all of them when none does.
  [[nodiscard]] DaySet recorded() const;

 private:
  std::vector<Ground> rows_;
  bool has_evidence_ = true;
};

/// Of days that no row rules out, those that are more than an interval between two rows: what was
/// on the way, in the paint shop or not yet issued was nobody else's and nowhere else meanwhile.
inline constexpr Day kWayDays = 31;       // from one row to the next
inline constexpr Day kDeliveryDays = 92;  // from the makers, `life` beginning, to the first row
[[nodiscard]] DaySet without_short_gaps(const DaySet& open, const DaySet& life = {});
[[nodiscard]] Allowed without_short_gaps(const Allowed& open, const Allowed& life = {});

/// "When": all days.
[[nodiscard]] const When& at_any_time();

// --- machines ---
/// Taken on charge to struck off or lost; nothing when the ledger does not know the machine.
[[nodiscard]] std::optional<Allowed> days_of_life(const Ledger& ledger, std::string_view serial,
                                                  Grounds* grounds = nullptr);
/// Of days that no row speaks against, those in the machine's life: after its end nobody else had
/// it, so that they excuse no date within it. All of them where the time asked about is not known,
/// begins before its life, or is longer than a year and goes on for more than a month after it.
[[nodiscard]] Allowed only_in_life(const Ledger& ledger, std::string_view serial, const When& when,
                                   Allowed free_days);
/// Whether the caption, or the sentence in running text, speaks of a wreck or relic, or of the loss
/// itself: days after the machine's life are then possible.
[[nodiscard]] bool tells_of_end(const ClaimIndex& index, const Claim& airframe);
/// Whether the identity is the same one, spelled otherwise, or a part of it that captions give
/// alone.
[[nodiscard]] bool is_same_identity(std::string_view one, std::string_view other);
[[nodiscard]] bool is_part_of_identity(std::string_view part, std::string_view whole);
/// Rows of the machine that a claim of this role (code, radio_call, nickname) may mean.
[[nodiscard]] std::vector<const Identity*> identities_meant(const Ledger& ledger,
                                                            const Claim& identity);
/// A code, radio call or nickname; nothing when the machine has no row of that kind.
[[nodiscard]] std::optional<Allowed> days_of_identity(const Ledger& ledger, const Claim& identity,
                                                      Grounds* grounds = nullptr);
[[nodiscard]] Evidence quote_identity(const Identity& row);

// --- units ---
/// From its forming to its disbanding, as far as the claim speaks of that: a former unit may be
/// gone. Nothing when a unit that may be meant has no row.
[[nodiscard]] std::optional<Allowed> days_of_unit(const Ledger& ledger, const Claim& unit,
                                                  Grounds* grounds = nullptr);
enum class UnitSense { kHeld, kFlown, kEither };
[[nodiscard]] UnitSense unit_sense(const Ledger& ledger, const Claim& unit);
/// The machine (the claim's subject) with the unit.
[[nodiscard]] Allowed days_with_unit(const Ledger& ledger, const Claim& unit, const When& when,
                                     Grounds* grounds = nullptr);
/// Days on which the unit was certainly at a place where the machine certainly was not; none for
/// a unit that does not fly.
[[nodiscard]] Certain days_apart(const Ledger& ledger, const Claim& unit, const DaySet& days,
                                 Grounds* grounds = nullptr);

// --- places ---
/// Whose stations tell where a machine was, besides its own rows: those of every unit that had it,
/// or only those of units that the caption names. A machine may be away from its unit, and what is
/// concluded from several facts needs firmer ground than the verdict on one.
enum class Stations { kOfItsUnits, kOfNamedUnits };
/// Nothing when the claim's place has no row.
[[nodiscard]] std::optional<Allowed> days_at_place(const CheckInput& input, const ClaimIndex& index,
                                                   const Claim& place, const When& when,
                                                   Stations stations = Stations::kOfItsUnits,
                                                   Grounds* grounds = nullptr);

// --- people ---
/// Everybody whom the name beside this rank, award or unit claim may mean.
[[nodiscard]] std::vector<std::string> people_meant(const ClaimIndex& index, const Claim& claim);
[[nodiscard]] std::optional<Allowed> days_of_person(const Ledger& ledger, const Claim& person,
                                                    Grounds* grounds = nullptr);
/// Without the days behind the death of the person of whom a rank or unit is told, where the
/// claim's own days reach from before it to behind it: "killed in May as a Captain of 9 Squadron".
[[nodiscard]] Allowed within_life(const Ledger& ledger, const Claim& of_person,
                                  const Allowed& allowed);
/// What rank rows say of the people: days on which one of the ranks was, or may have been, held.
struct RankDays {
  Allowed own;      // by the rows of the rank itself
  Allowed allowed;  // these, and days on which no other row speaks against it
  bool was_held = false;
};
[[nodiscard]] std::optional<RankDays> days_of_rank(const Ledger& ledger, std::string_view person,
                                                   std::span<const std::string> ranks,
                                                   Grounds* grounds = nullptr);
/// Rows of the award of everybody who may be meant.
[[nodiscard]] std::vector<const Service*> awards_meant(const ClaimIndex& index,
                                                       const Ledger& ledger, const Claim& award);
/// From the award on; nothing when a person who may be meant has no such row and the table is open.
[[nodiscard]] std::optional<Allowed> days_of_award(const ClaimIndex& index, const Ledger& ledger,
                                                   const Claim& award, Grounds* grounds = nullptr);
/// Who commanded each unit.
using Commanders = std::unordered_map<std::string_view, std::vector<const Service*>>;
[[nodiscard]] Commanders read_commanders(const Ledger& ledger);
/// The person (the claim's subject) with, or in command of, the unit.
[[nodiscard]] std::optional<Allowed> days_of_service(const ClaimIndex& index, const Ledger& ledger,
                                                     const Commanders& commanders,
                                                     const Claim& unit, Grounds* grounds = nullptr);
[[nodiscard]] Evidence quote_service(const Service& row);

}  // namespace tailproof
