// Days and sets of days.
//
// A Day counts days of the proleptic Gregorian calendar from 1970-01-01 (day 0). A DaySet holds
// sorted, disjoint, non-adjacent closed intervals; kFirstDay and kLastDay stand for "no limit
// known". Cost: every set operation is linear in the number of intervals; a set of a single
// interval, as nearly all are, stands in the object itself.
#pragma once

#include <algorithm>
#include <cstdint>
#include <initializer_list>
#include <limits>
#include <optional>
#include <span>
#include <string>
#include <string_view>
#include <vector>

namespace tailproof {

using Day = std::int64_t;

inline constexpr Day kFirstDay = std::numeric_limits<Day>::min() / 4;
inline constexpr Day kLastDay = std::numeric_limits<Day>::max() / 4;

/// A date of the calendar, not normalised: `is_valid` says whether the day exists.
struct CivilDate {
  std::int64_t year = 1970;
  unsigned month = 1;
  unsigned day = 1;

  friend constexpr bool operator==(const CivilDate&, const CivilDate&) = default;
};

/// Whether the calendar has this day (31 June has not).
[[nodiscard]] bool is_valid(const CivilDate& date);
/// Number of days in the month; 0 when `month` is not 1 to 12.
[[nodiscard]] unsigned days_in_month(std::int64_t year, unsigned month);
/// The day number; `date` must be valid.
[[nodiscard]] Day to_day(const CivilDate& date);
[[nodiscard]] CivilDate to_civil(Day day);
/// 0 is Sunday, 6 Saturday.
[[nodiscard]] unsigned weekday(Day day);
/// "1943-06-14"; "" for kFirstDay and kLastDay.
[[nodiscard]] std::string iso_day(Day day);

/// A period of the calendar: months (a year is 12) and days.
struct Duration {
  std::int64_t months = 0;
  Day days = 0;

  [[nodiscard]] bool is_none() const { return months == 0 && days == 0; }
};
/// The same day of the month that many months on, or the last of a shorter month, and the days
/// after that: 31 January and P1M make 28 February. kFirstDay and kLastDay stay what they are.
[[nodiscard]] Day after(Day day, const Duration& duration);

/// A closed interval of days.
struct DayRange {
  Day first = kFirstDay;
  Day last = kLastDay;

  friend constexpr bool operator==(const DayRange&, const DayRange&) = default;
};

class DaySet {
 public:
  DaySet() = default;  // the empty set
  DaySet(std::initializer_list<DayRange> ranges);
  explicit DaySet(
      std::vector<DayRange> ranges);  // any order, may overlap; reversed ranges are dropped

  [[nodiscard]] static DaySet all() { return of_range({}); }
  [[nodiscard]] static DaySet single(Day day) { return of_range({day, day}); }

  [[nodiscard]] bool empty() const { return ranges().empty(); }
  [[nodiscard]] bool is_all() const;
  /// First and last day; the set must not be empty.
  [[nodiscard]] Day first() const { return ranges().front().first; }
  [[nodiscard]] Day last() const { return ranges().back().last; }
  [[nodiscard]] bool contains(Day day) const;
  [[nodiscard]] bool intersects(const DaySet& other) const;
  /// Whether every day of `other` is in this set.
  [[nodiscard]] bool covers(const DaySet& other) const;
  [[nodiscard]] DaySet intersect(const DaySet& other) const;
  [[nodiscard]] DaySet unite(const DaySet& other) const;
  [[nodiscard]] DaySet complement() const;
  /// Every interval made longer by that many days at each end that is limited.
  [[nodiscard]] DaySet widened(Day days) const;
  [[nodiscard]] std::span<const DayRange> ranges() const {
    return several_.empty() ? std::span(&one_, has_one_ ? 1U : 0U) : std::span(several_);
  }

  friend bool operator==(const DaySet& a, const DaySet& b) {
    const auto of_a = a.ranges(), of_b = b.ranges();
    return of_a.size() == of_b.size() && std::equal(of_a.begin(), of_a.end(), of_b.begin());
  }

 private:
  [[nodiscard]] static DaySet of_range(DayRange range) {
    DaySet set;
    set.push_back(range);
    return set;
  }
  // Behind the last one, and apart from it.
  void push_back(DayRange range);

  DayRange one_;
  bool has_one_ = false;           // never together with `several_`
  std::vector<DayRange> several_;  // two or more, or none
};

inline void DaySet::push_back(DayRange range) {
  if (!has_one_ && several_.empty()) {
    one_ = range;
    has_one_ = true;
    return;
  }
  if (has_one_) {
    constexpr std::size_t kUsual = 4;
    several_.reserve(kUsual);
    several_.push_back(one_);
  }
  has_one_ = false;
  several_.push_back(range);
}

}  // namespace tailproof
