// One component of a time network, solved exactly.
//
// Difference bounds and restrictions to sets of days are closed under the smaller, and under the
// larger, of two solutions. So the least days to which lower bounds can be raised, jumping over
// gaps, are together a solution if there is any: that decides whether there is one, and gives both
// ends of every bracket, without a search. Only offsets with gaps branch.
#pragma once

#include <optional>
#include <vector>

#include "tailproof/time_network.h"

namespace tailproof {

/// later - earlier lies in `offsets`; variables by their place in the component.
struct Link {
  std::uint32_t later = 0;
  std::uint32_t earlier = 0;
  const DaySet* offsets = nullptr;
  Day least = kFirstDay;  // of the interval of offsets that is now tried
  Day most = kLastDay;
};

class Propagation {
 public:
  /// `domains` by variable. Offsets must outlive the object.
  Propagation(std::vector<DaySet> domains, std::vector<Link> links);

  [[nodiscard]] bool is_satisfiable();
  /// Exactly the days of each variable that some solution uses; nothing when there is none.
  [[nodiscard]] std::optional<std::vector<DaySet>> solve();
  /// Whether the last answer was reached before the search had to be cut short.
  [[nodiscard]] bool is_exact() const { return branches_ < kMostBranches; }

 private:
  using Days = std::vector<Day>;

  [[nodiscard]] bool has_empty_set() const;
  [[nodiscard]] bool differences_agree() const;
  [[nodiscard]] bool raise_lower(const std::vector<DaySet>& domains, Days& low) const;
  [[nodiscard]] bool reduce_upper(const std::vector<DaySet>& domains, Days& high) const;
  [[nodiscard]] bool can_hold(Days& low) const;
  [[nodiscard]] std::vector<DaySet> solve_convex(const Days& low) const;
  void narrow_along_tree(std::vector<DaySet>& domains) const;
  [[nodiscard]] DaySet sweep(const std::vector<DaySet>& domains, std::uint32_t variable) const;
  bool search(std::size_t next, std::vector<DaySet>* found);

  std::vector<DaySet> domains_;
  std::vector<Link> links_;
  std::vector<std::vector<std::uint32_t>> links_of_;  // by variable
  bool is_forest_ = true;
  std::size_t branches_ = 0;
};

}  // namespace tailproof
