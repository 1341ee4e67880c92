// Times that are not known but tied to each other: the engine beneath the brackets.
//
// A variable is the day of one photograph or event. A fact either restricts one variable to a set
// of days, which may have gaps (a unit's two tours), or ties two of them: the later minus the
// earlier, in days, lies in a set of offsets ("before", "two or three weeks after"). This is a
// temporal constraint problem as Dechter, Meiri and Pearl define it (Artificial Intelligence 49,
// 1991): a simple one when no set has a gap.
//
// Contract: facts are never changed once put in. solve() gives for each variable exactly the days
// that some solution of the whole uses, gaps included. What ties nothing together is solved apart:
// where one component has no solution, the others still have theirs. A clash is minimal: without
// any one of its members the rest can be true together. Where there are several, members that were
// put in first are preferred; the outcome depends on the facts and their order alone.
//
// Limits: only offsets with gaps need a search; after kMostBranches of its ends the rest are taken
// without their gaps, which makes brackets wider, never narrower, and hides a clash rather than
// inventing one. `is_exact` is then false.
//
// Cost: near linear in the number of facts while components stay small. See: design section 8.
#pragma once

#include <cstdint>
#include <span>
#include <unordered_set>
#include <vector>

#include "tailproof/day.h"

namespace tailproof {

using VariableId = std::uint32_t;
using FactId = std::uint32_t;

inline constexpr std::size_t kMostBranches = 4096;

/// Offsets in days, of the later variable minus the earlier one.
namespace offsets {
/// On the same day or after.
[[nodiscard]] DaySet not_before();
/// On a later day.
[[nodiscard]] DaySet after();
[[nodiscard]] DaySet between(Day least, Day most);
[[nodiscard]] DaySet exactly(Day days);
}  // namespace offsets

/// Facts of which no day, or no set of days, satisfies all, while without any one of them there is
/// one.
struct Clash {
  std::vector<FactId> facts;  // ascending
};

struct TimeSolution {
  std::vector<DaySet> days;    // by variable; empty throughout a component that clashes
  std::vector<Clash> clashes;  // one for each such component, in order of their first variable
  std::vector<bool> is_exact;  // by variable: false where the search was cut short
};

class TimeNetwork {
 public:
  VariableId add_variable();
  /// The variable lies on one of these days.
  FactId restrict(VariableId variable, DaySet days);
  /// later - earlier is one of these offsets. The two must differ.
  FactId relate(VariableId later, VariableId earlier, DaySet offsets);

  [[nodiscard]] std::size_t variable_count() const { return facts_of_.size(); }
  [[nodiscard]] std::size_t fact_count() const { return facts_.size(); }
  [[nodiscard]] bool is_relation(FactId fact) const { return facts_[fact].is_relation(); }
  /// The days of a restriction, the offsets of a relation.
  [[nodiscard]] const DaySet& set_of(FactId fact) const { return facts_[fact].set; }
  /// The variable of a restriction; the later one of a relation.
  [[nodiscard]] VariableId variable_of(FactId fact) const { return facts_[fact].later; }
  /// The earlier one of a relation.
  [[nodiscard]] VariableId earlier_of(FactId fact) const { return facts_[fact].earlier; }
  [[nodiscard]] std::span<const FactId> facts_of(VariableId variable) const {
    return facts_of_[variable];
  }

  [[nodiscard]] TimeSolution solve() const;
  /// Whether the facts named can all be true.
  [[nodiscard]] bool is_satisfiable(std::span<const FactId> facts) const;
  /// A smallest-first search among the facts named, which must clash.
  [[nodiscard]] Clash clash_among(std::span<const FactId> facts) const;
  /// Why the variable lies on none of `excluded`: a minimal set of facts, those nearest to the
  /// variable first. Empty when the facts do not exclude these days.
  [[nodiscard]] std::vector<FactId> reasons(VariableId variable, const DaySet& excluded) const;

 private:
  static constexpr VariableId kNoVariable = UINT32_MAX;
  class Places;
  struct Fact {
    VariableId later = kNoVariable;
    VariableId earlier = kNoVariable;
    DaySet set;
    [[nodiscard]] bool is_relation() const { return earlier != kNoVariable; }
  };

  [[nodiscard]] std::vector<std::vector<VariableId>> components() const;
  void solve_component(std::span<const VariableId> variables, TimeSolution& solution) const;
  [[nodiscard]] std::vector<FactId> minimal(std::vector<FactId> candidates, VariableId variable,
                                            const DaySet* extra) const;
  [[nodiscard]] bool holds(std::span<const FactId> facts, VariableId variable,
                           const DaySet* extra) const;
  [[nodiscard]] bool are_of_one(std::span<const FactId> facts, VariableId variable) const;
  [[nodiscard]] std::vector<FactId> minimal_of_one(std::vector<FactId> candidates,
                                                   DaySet left) const;
  [[nodiscard]] bool is_tied(FactId a, FactId b) const;
  [[nodiscard]] bool are_of_same(FactId a, FactId b) const;
  void grow(std::vector<FactId>& facts, std::vector<VariableId>& frontier,
            std::unordered_set<VariableId>& seen, std::unordered_set<FactId>& relations) const;

  std::vector<Fact> facts_;
  std::vector<std::vector<FactId>> facts_of_;
};

}  // namespace tailproof
