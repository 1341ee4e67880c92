// | situation                                                              | level   |
// | the two numbers differ by more than the rounding shown on both allows  | warning |
// | a gallon that may be imperial or of the United States: either fits     | silent  |
// | units of different kinds                                               | silent  |
// | quoted from somebody else, in quotation marks                          | silent  |
//
// Rounding shown: half of the last place written. Noughts at the end of a whole number may be
// rounding too, so "6,500" may be anything from 6,450 to 6,550; but of numbers under a hundred only
// distances and speeds are given in round tens ("20 miles"), dimensions are not ("20 in"). Nobody
// rounds a number by more than a twentieth of it.
#include <algorithm>
#include <cctype>
#include <cmath>
#include <cstdlib>
#include <string>
#include <vector>

#include "tailproof/claim_index.h"
#include "tailproof/verdict.h"

namespace tailproof {
namespace {

constexpr std::string_view kId = "conversion-wrong";

enum class Quantity { kLength, kMass, kVolume, kSpeed };

struct UnitRow {
  std::string_view unit;
  Quantity quantity;
  double factor;     // exact: metres, kilograms, litres, metres a second
  double other = 0;  // a second meaning of the same word
};
constexpr UnitRow kUnits[] = {
    {"in", Quantity::kLength, 0.0254},
    {"ft", Quantity::kLength, 0.3048},
    {"yd", Quantity::kLength, 0.9144},
    {"mi", Quantity::kLength, 1609.344},
    {"nmi", Quantity::kLength, 1852},
    {"mm", Quantity::kLength, 0.001},
    {"cm", Quantity::kLength, 0.01},
    {"m", Quantity::kLength, 1},
    {"km", Quantity::kLength, 1000},
    {"oz", Quantity::kMass, 0.028349523125},
    {"lb", Quantity::kMass, 0.45359237},
    {"g", Quantity::kMass, 0.001},
    {"kg", Quantity::kMass, 1},
    {"gal", Quantity::kVolume, 4.54609, 3.785411784},
    {"l", Quantity::kVolume, 1},
    {"mph", Quantity::kSpeed, 0.44704},
    {"kn", Quantity::kSpeed, 1852.0 / 3600.0},
    {"km/h", Quantity::kSpeed, 1000.0 / 3600.0},
};

const UnitRow* find_unit(std::string_view unit) {
  for (const UnitRow& row : kUnits) {
    if (row.unit == unit) return &row;
  }
  return nullptr;
}

// Distances and speeds, which are given in round tens.
bool is_distance(std::string_view unit) {
  return unit == "mi" || unit == "nmi" || unit == "km" || unit == "mph" || unit == "kn" ||
         unit == "km/h";
}

// Half of the last place that the number shows. A fraction ("2½", "6 1/2") shows its own parts.
double half_place(std::string_view text, double value, bool round_tens) {
  if (text.find('/') != std::string_view::npos) return 1.0 / 16;
  const std::size_t point = text.find('.');
  if (point != std::string_view::npos) {
    std::size_t places = 0;
    while (point + 1 + places < text.size() &&
           std::isdigit(static_cast<unsigned char>(text[point + 1 + places])) != 0) {
      ++places;
    }
    if (places > 0) return 0.5 * std::pow(10.0, -static_cast<double>(places));
  }
  if (value != std::floor(value)) return 1.0 / 16;
  double place = 1;
  double rest = std::fabs(value);
  if (rest < 100 && !round_tens) return 0.5;
  while (rest >= 10 && std::fmod(rest, 10) == 0) {
    rest /= 10;
    place *= 10;
  }
  return place / 2;
}

std::string shown(double value, double half) {
  const double place = 2 * half;
  const double rounded = place > 0 ? std::round(value / place) * place : value;
  char digits[32];
  std::snprintf(digits, sizeof digits, "%.*f", place < 1 ? (place < 0.1 ? 2 : 1) : 0, rounded);
  return digits;
}

// By how much the number written may differ from the one that was measured.
double rounding_of(std::string_view text, double value, std::string_view unit) {
  constexpr double kMost = 0.05, kOfOne = 0.5;
  const double half = half_place(text, value, is_distance(unit));
  return half > kOfOne ? std::max(kOfOne, std::min(half, kMost * std::fabs(value))) : half;
}

bool fits(const Measure& measure, double factor) {
  const double half = rounding_of(measure.value_text, measure.value, measure.unit);
  const double low = std::min(measure.value_low, measure.value_high);
  const double high = std::max(measure.value_low, measure.value_high);
  const bool is_range = high > low;
  const double from = (is_range ? low : measure.value) - half;
  const double to = (is_range ? high : measure.value) + half;
  const double converted_half =
      rounding_of(measure.converted_text, measure.converted, measure.converted_unit);
  // A hair's breadth for the arithmetic itself.
  const double slack = 1e-9 * std::max(1.0, std::fabs(measure.converted));
  const auto is_reached = [&](double value, double converted) {
    return converted + converted_half + slack >= (value - half) * factor &&
           converted - converted_half - slack <= (value + half) * factor;
  };
  // "12 to 18 in (30 to 46 cm)": each end has its own.
  if (is_range && measure.converted_high > 0)
    return is_reached(low, measure.converted) && is_reached(high, measure.converted_high);
  return measure.converted + converted_half + slack >= from * factor &&
         measure.converted - converted_half - slack <= to * factor;
}

// "The works claimed 420 km/h (231 mph)": the figure is theirs, the arithmetic the author's. What
// is quoted keeps its own.
bool is_quoted(const ClaimIndex& index, const Claim& claim) {
  constexpr std::string_view kMarks[] = {"\"", "\xE2\x80\x9C", "\xE2\x80\x98", "\xC2\xAB",
                                         "\xE2\x80\x9E"};
  const std::string_view sentence = index.sentence_of(claim);
  return std::any_of(std::begin(kMarks), std::end(kMarks), [&](std::string_view mark) {
    return sentence.find(mark) != std::string_view::npos;
  });
}

}  // namespace

std::vector<Query> check_conversion_wrong(const CheckInput& input) {
  const ClaimIndex index(input);
  return judge_claims(input, ClaimKind::kMeasure, [&](const Claim& claim) -> std::optional<Query> {
    const Measure& measure = *claim.measure;
    // "Not much above 18 in (64 cm)" denies the height, not the arithmetic.
    if (measure.converted_unit.empty() || (claim.attributed && is_quoted(index, claim)))
      return std::nullopt;
    const UnitRow* unit = find_unit(measure.unit);
    const UnitRow* converted = find_unit(measure.converted_unit);
    if (unit == nullptr || converted == nullptr || unit->quantity != converted->quantity) {
      return std::nullopt;
    }
    for (const double from : {unit->factor, unit->other}) {
      for (const double to : {converted->factor, converted->other}) {
        if (from > 0 && to > 0 && fits(measure, from / to)) return std::nullopt;
      }
    }
    const double factor = unit->factor / converted->factor;
    // Of a range told twice, the end that is wrong.
    const bool is_high_end = measure.converted_high > 0 && measure.value_high > measure.value &&
                             std::fabs(measure.converted_high - measure.value_high * factor) >
                                 std::fabs(measure.converted - measure.value * factor);
    const double right = (is_high_end ? measure.value_high : measure.value) * factor;
    const double half = std::min(
        half_place(measure.converted_text, measure.converted, is_distance(measure.converted_unit)),
        std::max(0.5, std::fabs(right) / 200));
    const std::string unit_name(converted->unit);
    const std::string suggestion = shown(right, half) + " " + unit_name;
    const std::string value = is_high_end                  ? shown(measure.value_high, 0.5)
                              : measure.value_text.empty() ? shown(measure.value, 0.05)
                                                           : measure.value_text;
    const std::string other = is_high_end                      ? shown(measure.converted_high, 0.5)
                              : measure.converted_text.empty() ? shown(measure.converted, 0.05)
                                                               : measure.converted_text;
    Query query = query_at(kId, input, claim, tempered(claim, Level::kWarning),
                           Measure::printed(value, measure.unit) + " is " +
                               shown(right, std::min(0.05, half)) + " " + unit_name + ", not " +
                               Measure::printed(other, unit_name));
    query.suggestion = suggestion;
    return query;
  });
}

}  // namespace tailproof
