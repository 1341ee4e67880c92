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

DaySet::DaySet(std::initializer_list<DayRange> ranges) {
  if (ranges.size() == 1) {
    if (ranges.begin()->first <= ranges.begin()->last) push_back(*ranges.begin());
    return;
  }
  *this = DaySet(std::vector<DayRange>(ranges.begin(), ranges.end()));
}

DaySet::DaySet(std::vector<DayRange> ranges) : several_(normalised(std::move(ranges))) {
  if (several_.size() != 1) return;
  one_ = several_.front();
  has_one_ = true;
  several_ = {};
}

bool DaySet::is_all() const { return has_one_ && one_ == DayRange{}; }

bool DaySet::contains(Day day) const {
  const auto all = ranges();
  const auto after =
      std::upper_bound(all.begin(), all.end(), day,
                       [](Day value, const DayRange& range) { return value < range.first; });
  return after != all.begin() && std::prev(after)->last >= day;
}

bool DaySet::intersects(const DaySet& other) const {
  const auto mine = ranges(), theirs = other.ranges();
  auto a = mine.begin();
  auto b = theirs.begin();
  while (a != mine.end() && b != theirs.end()) {
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
  const auto all = ranges();
  auto mine = all.begin();
  for (const DayRange& theirs : other.ranges()) {
    while (mine != all.end() && mine->last < theirs.first) ++mine;
    if (mine == all.end() || mine->first > theirs.first || mine->last < theirs.last) {
      return false;
    }
  }
  return true;
}

DaySet DaySet::intersect(const DaySet& other) const {
  DaySet common;
  const auto mine = ranges(), theirs = other.ranges();
  auto a = mine.begin();
  auto b = theirs.begin();
  while (a != mine.end() && b != theirs.end()) {
    const Day first = std::max(a->first, b->first);
    const Day last = std::min(a->last, b->last);
    if (first <= last) common.push_back({first, last});
    if (a->last < b->last) {
      ++a;
    } else {
      ++b;
    }
  }
  return common;
}

DaySet DaySet::unite(const DaySet& other) const {
  if (empty() || other.is_all()) return other;
  if (other.empty() || is_all()) return *this;
  const auto mine = ranges(), theirs = other.ranges();
  auto a = mine.begin();
  auto b = theirs.begin();
  const auto take = [&] {
    const bool is_mine = b == theirs.end() || (a != mine.end() && a->first <= b->first);
    return is_mine ? *a++ : *b++;
  };
  DaySet joined;
  DayRange open = take();
  while (a != mine.end() || b != theirs.end()) {
    const DayRange next = take();
    if (next.first <= open.last + 1) {
      open.last = std::max(open.last, next.last);
    } else {
      joined.push_back(open);
      open = next;
    }
  }
  joined.push_back(open);
  return joined;
}

DaySet DaySet::complement() const {
  DaySet rest;
  Day next = kFirstDay;
  for (const DayRange& range : ranges()) {
    if (range.first > next) rest.push_back({next, range.first - 1});
    next = range.last + 1;
  }
  if (next <= kLastDay) rest.push_back({next, kLastDay});
  return rest;
}

DaySet DaySet::widened(Day days) const {
  const auto longer = [days](DayRange range) {
    if (range.first > kFirstDay) range.first = std::max(kFirstDay, range.first - days);
    if (range.last < kLastDay) range.last = std::min(kLastDay, range.last + days);
    return range;
  };
  if (has_one_ && days >= 0) return of_range(longer(one_));
  std::vector<DayRange> wider(ranges().begin(), ranges().end());
  for (DayRange& range : wider) range = longer(range);
  return DaySet(std::move(wider));
}

}  // namespace tailproof
