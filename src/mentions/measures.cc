#include <cstdlib>
#include <string>

#include "mentions/finder.h"

namespace tailproof {
namespace {

double decimal_of(std::string_view text) {
  std::string digits;
  for (const char c : text) {
    if (c != ',' && c != ' ') digits += c;
  }
  return std::strtod(digits.c_str(), nullptr);
}

double fraction_of(std::string_view text) {
  if (text.find("½") != std::string_view::npos) return 0.5;
  if (text.find("¼") != std::string_view::npos) return 0.25;
  if (text.find("¾") != std::string_view::npos) return 0.75;
  if (text.find("⅓") != std::string_view::npos) return 1.0 / 3;
  if (text.find("⅔") != std::string_view::npos) return 2.0 / 3;
  const auto slash = text.find('/');
  if (slash == std::string_view::npos || slash == 0) return 0;
  const double below = decimal_of(text.substr(slash + 1));
  return below > 0 ? decimal_of(text.substr(0, slash)) / below : 0;
}

// What the smaller part of "9 ft 6 in" adds to the larger; 0 when the units are no such pair.
double part_factor(std::string_view unit, std::string_view part) {
  if (unit == "ft" && part == "in") return 1.0 / 12;
  if (unit == "yd" && part == "ft") return 1.0 / 3;
  if (unit == "lb" && part == "oz") return 1.0 / 16;
  if (unit == "m" && part == "cm") return 1.0 / 100;
  if (unit == "kg" && part == "g") return 1.0 / 1000;
  return 0;
}

}  // namespace

Measure read_measure(const PatternMatch& match, std::string_view text) {
  Measure measure;
  measure.unit = match.value_of("measure_unit", text);
  measure.converted_unit = match.value_of("converted_unit", text);
  const auto slot = [&](ListName name) { return match.text_of(name, text); };
  measure.value_text = slot("value");
  if (measure.value_text.empty()) measure.value_text = match.value_of("number", text);
  measure.value = decimal_of(measure.value_text) + fraction_of(slot("fraction"));
  if (!slot("part").empty()) {
    const double factor = part_factor(measure.unit, match.value_of("part_unit", text));
    measure.value += (decimal_of(slot("part")) + fraction_of(slot("part_fraction"))) * factor;
    // Rounded to the smaller part: "31 ft 6 in" shows inches, that is a twelfth of a foot.
    measure.value_text +=
        "+" + std::string(match.value_of("part_unit", text)) + " " + std::string(slot("part"));
  }
  measure.value_low = measure.value;
  measure.value_high = slot("value_high").empty() ? measure.value : decimal_of(slot("value_high"));
  measure.converted_text = slot("converted");
  if (!measure.converted_text.empty()) {
    measure.converted =
        decimal_of(measure.converted_text) + fraction_of(slot("converted_fraction"));
    if (!slot("converted_part").empty()) {
      const double factor =
          part_factor(measure.converted_unit, match.value_of("converted_part_unit", text));
      measure.converted +=
          (decimal_of(slot("converted_part")) + fraction_of(slot("converted_part_fraction"))) *
          factor;
      measure.converted_text += "+" + std::string(match.value_of("converted_part_unit", text)) +
                                " " + std::string(slot("converted_part"));
    }
  }
  return measure;
}

}  // namespace tailproof
