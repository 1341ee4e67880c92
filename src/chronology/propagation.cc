#include "chronology/propagation.h"

#include <algorithm>
#include <deque>
#include <numeric>
#include <utility>

namespace tailproof {
namespace {

// A bound that is not there stays so, whatever is added to it.
Day lower_sum(Day bound, Day offset) {
  return bound <= kFirstDay || offset <= kFirstDay ? kFirstDay : std::min(bound + offset, kLastDay);
}
Day upper_sum(Day bound, Day offset) {
  return bound >= kLastDay || offset >= kLastDay ? kLastDay : std::max(bound + offset, kFirstDay);
}
Day negated(Day offset) {
  if (offset <= kFirstDay) return kLastDay;
  return offset >= kLastDay ? kFirstDay : -offset;
}

DaySet shifted(const DaySet& days, Day least, Day most) {
  std::vector<DayRange> ranges;
  ranges.reserve(days.ranges().size());
  for (const DayRange& range : days.ranges()) {
    ranges.push_back({lower_sum(range.first, least), upper_sum(range.last, most)});
  }
  return DaySet(std::move(ranges));
}

// The range that holds the first day of the set at or after `day`.
const DayRange* range_from(const DaySet& days, Day day) {
  const auto& ranges = days.ranges();
  const auto found = std::partition_point(ranges.begin(), ranges.end(),
                                          [&](const DayRange& range) { return range.last < day; });
  return found == ranges.end() ? nullptr : &*found;
}
const DayRange* range_until(const DaySet& days, Day day) {
  const auto& ranges = days.ranges();
  const auto found = std::partition_point(
      ranges.begin(), ranges.end(), [&](const DayRange& range) { return range.first <= day; });
  return found == ranges.begin() ? nullptr : &*std::prev(found);
}

class Queue {
 public:
  explicit Queue(std::size_t size) : is_in_(size, true), waiting_(size) {
    std::iota(waiting_.begin(), waiting_.end(), 0U);
  }
  [[nodiscard]] bool is_empty() const { return waiting_.empty(); }
  std::uint32_t take() {
    const std::uint32_t variable = waiting_.front();
    waiting_.pop_front();
    is_in_[variable] = false;
    return variable;
  }
  void put(std::uint32_t variable) {
    if (is_in_[variable]) return;
    is_in_[variable] = true;
    waiting_.push_back(variable);
  }

 private:
  std::vector<bool> is_in_;
  std::deque<std::uint32_t> waiting_;
};

bool is_gapped(const DaySet& set) { return set.ranges().size() > 1; }

}  // namespace

Propagation::Propagation(std::vector<DaySet> domains, std::vector<Link> links)
    : domains_(std::move(domains)), links_(std::move(links)), links_of_(domains_.size()) {
  std::vector<std::uint32_t> root(domains_.size());
  std::iota(root.begin(), root.end(), 0U);
  const auto find = [&](std::uint32_t variable) {
    while (root[variable] != variable) variable = root[variable] = root[root[variable]];
    return variable;
  };
  for (std::uint32_t i = 0; i < links_.size(); ++i) {
    Link& link = links_[i];
    if (!link.offsets->empty()) {
      link.least = link.offsets->first();
      link.most = link.offsets->last();
    }
    links_of_[link.later].push_back(i);
    links_of_[link.earlier].push_back(i);
    const std::uint32_t one = find(link.later);
    const std::uint32_t other = find(link.earlier);
    if (one == other) is_forest_ = false;
    root[one] = other;
  }
}

bool Propagation::has_empty_set() const {
  return std::any_of(domains_.begin(), domains_.end(),
                     [](const DaySet& days) { return days.empty(); }) ||
         std::any_of(links_.begin(), links_.end(),
                     [](const Link& link) { return link.offsets->empty(); });
}

// Whether the differences alone can hold, days apart: no cycle of them adds up to more than none.
bool Propagation::differences_agree() const {
  if (is_forest_) return true;
  Days potential(domains_.size(), 0);
  std::vector<std::uint32_t> length(domains_.size(), 0);
  Queue queue(domains_.size());
  const auto lift = [&](std::uint32_t to, std::uint32_t from, Day offset) {
    if (offset <= kFirstDay || potential[from] + offset <= potential[to]) return true;
    potential[to] = potential[from] + offset;
    length[to] = length[from] + 1;
    queue.put(to);
    return length[to] <= domains_.size();
  };
  while (!queue.is_empty()) {
    const std::uint32_t variable = queue.take();
    for (const std::uint32_t i : links_of_[variable]) {
      const Link& link = links_[i];
      const bool agrees = link.earlier == variable
                              ? lift(link.later, variable, link.least)
                              : lift(link.earlier, variable, negated(link.most));
      if (!agrees) return false;
    }
  }
  return true;
}

bool Propagation::raise_lower(const std::vector<DaySet>& domains, Days& low) const {
  low.resize(domains.size());
  for (std::size_t i = 0; i < domains.size(); ++i) {
    if (domains[i].empty()) return false;
    low[i] = domains[i].first();
  }
  if (links_.empty()) return true;
  Queue queue(domains.size());
  while (!queue.is_empty()) {
    const std::uint32_t variable = queue.take();
    for (const std::uint32_t i : links_of_[variable]) {
      const Link& link = links_[i];
      const bool is_earlier = link.earlier == variable;
      const std::uint32_t other = is_earlier ? link.later : link.earlier;
      const Day bound = lower_sum(low[variable], is_earlier ? link.least : negated(link.most));
      if (bound <= low[other]) continue;
      const DayRange* range = range_from(domains[other], bound);
      if (range == nullptr) return false;
      low[other] = std::max(bound, range->first);
      queue.put(other);
    }
  }
  return true;
}

bool Propagation::reduce_upper(const std::vector<DaySet>& domains, Days& high) const {
  high.resize(domains.size());
  for (std::size_t i = 0; i < domains.size(); ++i) {
    if (domains[i].empty()) return false;
    high[i] = domains[i].last();
  }
  if (links_.empty()) return true;
  Queue queue(domains.size());
  while (!queue.is_empty()) {
    const std::uint32_t variable = queue.take();
    for (const std::uint32_t i : links_of_[variable]) {
      const Link& link = links_[i];
      const bool is_earlier = link.earlier == variable;
      const std::uint32_t other = is_earlier ? link.later : link.earlier;
      const Day bound = upper_sum(high[variable], is_earlier ? link.most : negated(link.least));
      if (bound >= high[other]) continue;
      const DayRange* range = range_until(domains[other], bound);
      if (range == nullptr) return false;
      high[other] = std::min(bound, range->last);
      queue.put(other);
    }
  }
  return true;
}

bool Propagation::can_hold(Days& low) const {
  return differences_agree() && raise_lower(domains_, low);
}

// Where the links form a tree, narrowing towards the root and back leaves nothing to narrow.
void Propagation::narrow_along_tree(std::vector<DaySet>& domains) const {
  constexpr std::uint32_t kNoLink = UINT32_MAX;
  std::vector<std::pair<std::uint32_t, std::uint32_t>> order;  // variable, link to its parent
  std::vector<bool> is_seen(domains.size(), false);
  for (std::uint32_t root = 0; root < domains.size(); ++root) {
    if (is_seen[root]) continue;
    is_seen[root] = true;
    order.emplace_back(root, kNoLink);
    for (std::size_t next = order.size() - 1; next < order.size(); ++next) {
      const std::uint32_t variable = order[next].first;
      for (const std::uint32_t i : links_of_[variable]) {
        const std::uint32_t other =
            links_[i].later == variable ? links_[i].earlier : links_[i].later;
        if (is_seen[other]) continue;
        is_seen[other] = true;
        order.emplace_back(other, i);
      }
    }
  }
  const auto narrow = [&](std::uint32_t to, std::uint32_t from, const Link& link) {
    const DaySet reach = link.later == to
                             ? shifted(domains[from], link.least, link.most)
                             : shifted(domains[from], negated(link.most), negated(link.least));
    domains[to] = domains[to].intersect(reach);
  };
  const auto parent_of = [&](std::uint32_t variable, const Link& link) {
    return link.later == variable ? link.earlier : link.later;
  };
  for (auto step = order.rbegin(); step != order.rend(); ++step) {
    if (step->second == kNoLink) continue;
    const Link& link = links_[step->second];
    narrow(parent_of(step->first, link), step->first, link);
  }
  for (const auto& [variable, i] : order) {
    if (i != kNoLink) narrow(variable, parent_of(variable, links_[i]), links_[i]);
  }
}

// From the least solution with this variable at or after a day, the intervals that it uses make a
// problem without gaps, whose days for the variable run without a break; then on from there.
DaySet Propagation::sweep(const std::vector<DaySet>& domains, std::uint32_t variable) const {
  std::vector<DayRange> runs;
  std::vector<DaySet> rest = domains;
  Days low;
  Days high;
  while (raise_lower(rest, low)) {
    std::vector<DaySet> used(domains.size());
    for (std::size_t i = 0; i < domains.size(); ++i) {
      const DayRange* range = range_from(domains[i], low[i]);
      used[i] = DaySet{DayRange{low[i], range->last}};
      if (low[i] <= kFirstDay) used[i] = DaySet{*range};
    }
    if (!reduce_upper(used, high)) break;  // cannot be: the least solution lies within
    runs.push_back({low[variable], high[variable]});
    if (high[variable] >= kLastDay) break;
    rest[variable] = rest[variable].intersect(DaySet{DayRange{high[variable] + 1, kLastDay}});
  }
  return DaySet(std::move(runs));
}

std::vector<DaySet> Propagation::solve_convex(const Days& low) const {
  Days high;
  if (!reduce_upper(domains_, high)) return std::vector<DaySet>(domains_.size());
  std::vector<DaySet> domains;
  domains.reserve(domains_.size());
  bool has_gap = false;
  for (std::size_t i = 0; i < domains_.size(); ++i) {
    domains.push_back(domains_[i].intersect(DaySet{DayRange{low[i], high[i]}}));
    has_gap = has_gap || is_gapped(domains.back());
  }
  if (!has_gap) return domains;
  if (is_forest_) {
    narrow_along_tree(domains);
    return domains;
  }
  std::vector<DaySet> exact(domains.size());
  for (std::uint32_t i = 0; i < domains.size(); ++i) exact[i] = sweep(domains, i);
  return exact;
}

// Tries the intervals of each link with gaps in turn. Without `found`, stops at the first solution.
bool Propagation::search(std::size_t next, std::vector<DaySet>* found) {
  Days low;
  if (!can_hold(low)) {
    ++branches_;
    return false;
  }
  while (next < links_.size() && !is_gapped(*links_[next].offsets)) ++next;
  const bool is_cut_short = branches_ >= kMostBranches;
  if (next >= links_.size() || is_cut_short) {
    ++branches_;
    if (found == nullptr) return true;
    const std::vector<DaySet> domains = solve_convex(low);
    for (std::size_t i = 0; i < domains.size(); ++i) (*found)[i] = (*found)[i].unite(domains[i]);
    return true;
  }
  const Day least = links_[next].least;
  const Day most = links_[next].most;
  bool is_any = false;
  for (const DayRange& range : links_[next].offsets->ranges()) {
    links_[next].least = range.first;
    links_[next].most = range.last;
    is_any = search(next + 1, found) || is_any;
    if (is_any && found == nullptr) break;
  }
  links_[next].least = least;
  links_[next].most = most;
  return is_any;
}

bool Propagation::is_satisfiable() {
  branches_ = 0;
  return !has_empty_set() && search(0, nullptr);
}

std::optional<std::vector<DaySet>> Propagation::solve() {
  branches_ = 0;
  if (has_empty_set()) return std::nullopt;
  std::vector<DaySet> found(domains_.size());
  if (!search(0, &found)) return std::nullopt;
  return found;
}

}  // namespace tailproof
