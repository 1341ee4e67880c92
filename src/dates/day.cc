#include "tailproof/day.h"

#include <cassert>
#include <chrono>
#include <cstdio>

namespace tailproof {
namespace {

// Years that std::chrono::year can hold. Beyond them the same arithmetic is done by hand, in 64
// bits: 400 years are one era of 146,097 days, and a year is counted from March so that the leap
// day comes last.
constexpr std::int64_t kChronoYears = 32767;
constexpr std::int64_t kDaysInEra = 146097;
constexpr std::int64_t kDaysBefore1970 = 719468;  // from 0000-03-01

constexpr std::int64_t floor_divide(std::int64_t value, std::int64_t by) {
  return value >= 0 ? value / by : -((-value + by - 1) / by);
}

bool is_leap_year(std::int64_t year) {
  return year % 4 == 0 && (year % 100 != 0 || year % 400 == 0);
}

Day days_from_civil(const CivilDate& date) {
  const std::int64_t year = date.month <= 2 ? date.year - 1 : date.year;
  const std::int64_t era = floor_divide(year, 400);
  const std::int64_t year_of_era = year - era * 400;
  const std::int64_t month_from_march = (date.month + 9) % 12;
  const std::int64_t day_of_year = (153 * month_from_march + 2) / 5 + date.day - 1;
  const std::int64_t day_of_era =
      year_of_era * 365 + year_of_era / 4 - year_of_era / 100 + day_of_year;
  return era * kDaysInEra + day_of_era - kDaysBefore1970;
}

CivilDate civil_from_days(Day day) {
  const std::int64_t shifted = day + kDaysBefore1970;
  const std::int64_t era = floor_divide(shifted, kDaysInEra);
  const std::int64_t day_of_era = shifted - era * kDaysInEra;
  const std::int64_t year_of_era =
      (day_of_era - day_of_era / 1460 + day_of_era / 36524 - day_of_era / 146096) / 365;
  const std::int64_t day_of_year =
      day_of_era - (365 * year_of_era + year_of_era / 4 - year_of_era / 100);
  const std::int64_t month_from_march = (5 * day_of_year + 2) / 153;
  const std::int64_t month = month_from_march < 10 ? month_from_march + 3 : month_from_march - 9;
  return {year_of_era + era * 400 + (month <= 2 ? 1 : 0), static_cast<unsigned>(month),
          static_cast<unsigned>(day_of_year - (153 * month_from_march + 2) / 5 + 1)};
}

}  // namespace

unsigned days_in_month(std::int64_t year, unsigned month) {
  constexpr unsigned kDays[] = {31, 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31};
  if (month < 1 || month > 12) return 0;
  return month == 2 && is_leap_year(year) ? 29 : kDays[month - 1];
}

bool is_valid(const CivilDate& date) {
  return date.day >= 1 && date.day <= days_in_month(date.year, date.month);
}

Day to_day(const CivilDate& date) {
  assert(is_valid(date) && "a date is checked before it becomes a day");
  if (date.year < -kChronoYears || date.year > kChronoYears) return days_from_civil(date);
  const std::chrono::year_month_day civil{std::chrono::year{static_cast<int>(date.year)},
                                          std::chrono::month{date.month},
                                          std::chrono::day{date.day}};
  return std::chrono::sys_days{civil}.time_since_epoch().count();
}

CivilDate to_civil(Day day) {
  // Half of chrono's range in days: far inside it, whatever the leap years do.
  constexpr Day kChronoDays = kChronoYears * 365;
  if (day < -kChronoDays || day > kChronoDays - kDaysBefore1970) return civil_from_days(day);
  const std::chrono::year_month_day civil{
      std::chrono::sys_days{std::chrono::days{static_cast<int>(day)}}};
  return {static_cast<int>(civil.year()), static_cast<unsigned>(civil.month()),
          static_cast<unsigned>(civil.day())};
}

unsigned weekday(Day day) {
  // 1970-01-01 was a Thursday.
  return static_cast<unsigned>((day % 7 + 7 + 4) % 7);
}

Day after(Day day, const Duration& duration) {
  constexpr std::int64_t kMonths = 12;
  if (day <= kFirstDay || day >= kLastDay) return day;
  CivilDate date = to_civil(day);
  const std::int64_t month = date.year * kMonths + date.month - 1 + duration.months;
  date.year = month >= 0 ? month / kMonths : (month - kMonths + 1) / kMonths;
  date.month = static_cast<unsigned>(month - date.year * kMonths) + 1;
  date.day = std::min(date.day, days_in_month(date.year, date.month));
  return to_day(date) + duration.days;
}

std::string iso_day(Day day) {
  if (day <= kFirstDay || day >= kLastDay) return "";
  const CivilDate date = to_civil(day);
  const std::int64_t magnitude = date.year < 0 ? -date.year : date.year;
  char text[48];
  std::snprintf(text, sizeof text, "%s%s%04lld-%02u-%02u", magnitude > 9999 ? "Y" : "",
                date.year < 0 ? "-" : "", static_cast<long long>(magnitude), date.month, date.day);
  return text;
}

}  // namespace tailproof
