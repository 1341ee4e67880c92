#include "ledger/duration.h"

namespace tailproof {

std::optional<Day> duration_days(std::string_view text) {
  if (text.size() < 3 || text.front() != 'P') return std::nullopt;
  text.remove_prefix(1);
  // In 1/10000 of a day, by the Gregorian mean year of 365.2425 days.
  Day total = 0;
  std::string_view units = "YMWD";
  while (!text.empty()) {
    Day number = 0;
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
    const Day length = unit == 'Y' ? 3652425 : unit == 'M' ? 304369 : unit == 'W' ? 70000 : 10000;
    total += number * length;
  }
  return (total + 9999) / 10000;
}

}  // namespace tailproof
