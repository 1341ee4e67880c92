// What makes two values of one kind, or one of them a slip of the pen for the other.
#pragma once

#include <optional>
#include <string>
#include <string_view>

#include "tailproof/day.h"

namespace tailproof {

/// Letters and figures of a code without telling which: "AA-A" for "KB-F", "9" for "12".
[[nodiscard]] std::string shape_of(std::string_view code);
/// What stands before the letter or number of the single machine: "KB" of "KB-F"; "" for none.
[[nodiscard]] std::string_view unit_part(std::string_view code);
/// Whether one day may have been misprinted for the other: a digit too many or too few, a digit
/// changed, two digits swapped, or days that follow each other.
[[nodiscard]] bool is_slip(Day one, Day other);
/// The day, where there is but one.
[[nodiscard]] std::optional<Day> single_day(const DaySet& days);

}  // namespace tailproof
