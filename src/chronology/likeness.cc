#include "chronology/likeness.h"

#include <algorithm>

namespace tailproof {

std::string shape_of(std::string_view code) {
  std::string shape;
  for (const char c : code) {
    const bool is_digit = c >= '0' && c <= '9';
    const bool is_letter = (c >= 'A' && c <= 'Z') || (c >= 'a' && c <= 'z');
    if (is_digit && !shape.empty() && shape.back() == '9') continue;
    shape += is_digit ? '9' : is_letter ? 'A' : '-';
  }
  return shape;
}

std::string_view unit_part(std::string_view code) {
  const std::size_t mark = code.find_first_of("-:+/ ");
  return mark == std::string_view::npos ? std::string_view() : code.substr(0, mark);
}

bool is_slip(Day one, Day other) {
  const CivilDate a = to_civil(std::min(one, other));
  const CivilDate b = to_civil(std::max(one, other));
  constexpr Day kNeighbours = 3;
  if (std::max(one, other) - std::min(one, other) <= kNeighbours) return true;
  const bool is_same_day = a.day == b.day;
  if (a.year == b.year && a.month != b.month) return is_same_day;
  if (a.year != b.year) return is_same_day && a.month == b.month && b.year - a.year == 1;
  const bool is_swapped = a.day / 10 == b.day % 10 && a.day % 10 == b.day / 10;  // 12 and 21
  return is_swapped || a.day % 10 == b.day % 10 || (a.day / 10 == b.day / 10 && a.day / 10 > 0);
}

std::optional<Day> single_day(const DaySet& days) {
  const bool is_one = !days.empty() && days.first() == days.last();
  return is_one ? std::optional<Day>(days.first()) : std::nullopt;
}

}  // namespace tailproof
