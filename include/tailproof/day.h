// Days and sets of days.
//
// A Day counts days of the proleptic Gregorian calendar from 1970-01-01 (day 0). A DaySet is a
// sorted vector of disjoint, non-adjacent closed intervals; kFirstDay and kLastDay stand for "no
// limit known". Cost: every set operation is linear in the number of intervals.
#pragma once

#include <cstdint>
#include <initializer_list>
#include <limits>
#include <optional>
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

  [[nodiscard]] static DaySet all() { return DaySet{DayRange{}}; }
  [[nodiscard]] static DaySet single(Day day) { return DaySet{DayRange{day, day}}; }

  [[nodiscard]] bool empty() const { return ranges_.empty(); }
  [[nodiscard]] bool is_all() const;
  /// First and last day; the set must not be empty.
  [[nodiscard]] Day first() const { return ranges_.front().first; }
  [[nodiscard]] Day last() const { return ranges_.back().last; }
  [[nodiscard]] bool contains(Day day) const;
  [[nodiscard]] bool intersects(const DaySet& other) const;
  /// Whether every day of `other` is in this set.
  [[nodiscard]] bool covers(const DaySet& other) const;
  [[nodiscard]] DaySet intersect(const DaySet& other) const;
  [[nodiscard]] DaySet unite(const DaySet& other) const;
  [[nodiscard]] DaySet complement() const;
  /// Every interval made longer by that many days at each end that is limited.
  [[nodiscard]] DaySet widened(Day days) const;
  [[nodiscard]] const std::vector<DayRange>& ranges() const { return ranges_; }

  friend bool operator==(const DaySet&, const DaySet&) = default;

 private:
  std::vector<DayRange> ranges_;
};

}  // namespace tailproof
