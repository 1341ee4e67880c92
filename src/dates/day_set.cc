#include <algorithm>
#include <utility>

#include "tailproof/day.h"

namespace tailproof {
namespace {

// Sorts, drops reversed ranges, and joins those that overlap or touch.
std::vector<DayRange> normalised(std::vector<DayRange> ranges) {
  std::erase_if(ranges, [](const DayRange& range) { return range.first > range.last; });
  std::sort(ranges.begin(), ranges.end(),
            [](const DayRange& a, const DayRange& b) { return a.first < b.first; });
  std::vector<DayRange> joined;
  joined.reserve(ranges.size());
  for (const DayRange& range : ranges) {
    if (!joined.empty() && range.first <= joined.back().last + 1) {
      joined.back().last = std::max(joined.back().last, range.last);
    } else {
      joined.push_back(range);
    }
  }
  return joined;
}

}  // namespace

DaySet::DaySet(std::initializer_list<DayRange> ranges)
    : DaySet(std::vector<DayRange>(ranges.begin(), ranges.end())) {}

DaySet::DaySet(std::vector<DayRange> ranges) : ranges_(normalised(std::move(ranges))) {}

bool DaySet::is_all() const { return ranges_.size() == 1 && ranges_.front() == DayRange{}; }

bool DaySet::contains(Day day) const {
  const auto after =
      std::upper_bound(ranges_.begin(), ranges_.end(), day,
                       [](Day value, const DayRange& range) { return value < range.first; });
  return after != ranges_.begin() && std::prev(after)->last >= day;
}

bool DaySet::intersects(const DaySet& other) const {
  auto a = ranges_.begin();
  auto b = other.ranges_.begin();
  while (a != ranges_.end() && b != other.ranges_.end()) {
    if (a->last < b->first) {
      ++a;
    } else if (b->last < a->first) {
      ++b;
    } else {
      return true;
    }
  }
  return false;
}

bool DaySet::covers(const DaySet& other) const {
  auto mine = ranges_.begin();
  for (const DayRange& theirs : other.ranges_) {
    while (mine != ranges_.end() && mine->last < theirs.first) ++mine;
    if (mine == ranges_.end() || mine->first > theirs.first || mine->last < theirs.last) {
      return false;
    }
  }
  return true;
}

DaySet DaySet::intersect(const DaySet& other) const {
  DaySet common;
  auto a = ranges_.begin();
  auto b = other.ranges_.begin();
  while (a != ranges_.end() && b != other.ranges_.end()) {
    const Day first = std::max(a->first, b->first);
    const Day last = std::min(a->last, b->last);
    if (first <= last) common.ranges_.push_back({first, last});
    if (a->last < b->last) {
      ++a;
    } else {
      ++b;
    }
  }
  return common;
}

DaySet DaySet::unite(const DaySet& other) const {
  std::vector<DayRange> both;
  both.reserve(ranges_.size() + other.ranges_.size());
  std::merge(ranges_.begin(), ranges_.end(), other.ranges_.begin(), other.ranges_.end(),
             std::back_inserter(both),
             [](const DayRange& a, const DayRange& b) { return a.first < b.first; });
  return DaySet(std::move(both));
}

DaySet DaySet::complement() const {
  DaySet rest;
  Day next = kFirstDay;
  for (const DayRange& range : ranges_) {
    if (range.first > next) rest.ranges_.push_back({next, range.first - 1});
    next = range.last + 1;
  }
  if (next <= kLastDay) rest.ranges_.push_back({next, kLastDay});
  return rest;
}

DaySet DaySet::widened(Day days) const {
  std::vector<DayRange> wider = ranges_;
  for (DayRange& range : wider) {
    if (range.first > kFirstDay) range.first = std::max(kFirstDay, range.first - days);
    if (range.last < kLastDay) range.last = std::min(kLastDay, range.last + days);
  }
  return DaySet(std::move(wider));
}

}  // namespace tailproof
