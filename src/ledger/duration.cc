#include "ledger/duration.h"

namespace tailproof {

std::optional<Duration> read_duration(std::string_view text) {
  constexpr std::int64_t kMonthsOfYear = 12;
  constexpr Day kDaysOfWeek = 7;
  if (text.size() < 3 || text.front() != 'P') return std::nullopt;
  text.remove_prefix(1);
  Duration duration;
  std::string_view units = "YMWD";
  while (!text.empty()) {
    std::int64_t number = 0;
    std::size_t digits = 0;
    while (digits < text.size() && text[digits] >= '0' && text[digits] <= '9') {
      number = number * 10 + (text[digits++] - '0');
      if (digits > 6) return std::nullopt;
    }
    if (digits == 0 || digits == text.size()) return std::nullopt;
    const char unit = text[digits];
    const std::size_t place = units.find(unit);
    if (place == std::string_view::npos) return std::nullopt;
    units.remove_prefix(place + 1);  // each unit once, the greater first
    text.remove_prefix(digits + 1);
    if (unit == 'Y') duration.months += number * kMonthsOfYear;
    if (unit == 'M') duration.months += number;
    if (unit == 'W') duration.days += number * kDaysOfWeek;
    if (unit == 'D') duration.days += number;
  }
  return duration;
}

std::optional<Day> duration_days(std::string_view text) {
  // In 1/10000 of a day, by the Gregorian mean year of 365.2425 days.
  constexpr Day kDay = 10000, kMonth = 304369, kYear = 3652425, kMonthsOfYear = 12;
  const std::optional<Duration> duration = read_duration(text);
  if (!duration) return std::nullopt;
  const Day total = duration->months / kMonthsOfYear * kYear +
                    duration->months % kMonthsOfYear * kMonth + duration->days * kDay;
  return (total + kDay - 1) / kDay;
}

}  // namespace tailproof
