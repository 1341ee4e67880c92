#include <algorithm>
#include <cstdlib>
#include <optional>
#include <string>
#include <utility>

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

void BlockFinder::find_measures() {
  for (const PatternMatch& match : matches("measure")) {
    Measure measure = read_measure(match, text_);
    if (measure.unit.empty()) continue;
    // "G113, 115 and 116 in line", "No. 17 in whitewash": a number of a machine, and no inches.
    const bool is_preposition = measure.converted_unit.empty() && match.end > match.begin + 3 &&
                                text_.substr(match.end - 3, 3) == " in";
    if (is_preposition && (covered(MentionKind::kAirframe, match.begin, match.end) ||
                           is_year_in_place(match.begin, match.end))) {
      continue;
    }
    // "A hundred and ninety yards": the end of a larger number.
    const bool is_tail =
        match.first > 0 && (is_in("number_head", match.first - 1) ||
                            (match.first > 1 && is_in("number_head", match.first - 2) &&
                             office(match.first - 1) == "and"));
    if (is_tail && result_.tokens[match.first].kind == TokenKind::kWord) continue;
    // "Joined 161 in May 1942": of a unit, and no inches.
    const std::uint32_t behind = match.last;
    if (is_preposition && behind < result_.tokens.size() &&
        covered(MentionKind::kUnit, match.begin, match.end) &&
        covered(MentionKind::kDate, result_.tokens[behind].begin, result_.tokens[behind].end))
      continue;
    Mention& mention =
        add_tokens(MentionKind::kMeasure, match.begin, match.end, match.first, match.last);
    mention.payload = static_cast<std::uint32_t>(result_.measures.size());
    mention.why = match.pattern->why;
    std::string value = measure.in_print();
    if (!measure.converted_unit.empty()) {
      value += " = " + measure.converted_in_print();
    }
    mention.value = memory_.keep(value);
    result_.measures.push_back(std::move(measure));
  }
  convert_sizes();
}

// One of the four sizes of "13 in by 4 (33 cm by 10)": a measure, or a bare number that has the
// unit of its neighbour.
struct BlockFinder::SizePiece {
  std::uint32_t first = 0, last = 0;
  std::size_t measure = 0;
  bool is_measure = false;
};

std::optional<BlockFinder::SizePiece> BlockFinder::size_at(std::uint32_t token) const {
  if (token >= result_.tokens.size()) return std::nullopt;
  for (const Mention& mention : result_.items) {
    if (mention.kind != MentionKind::kMeasure || mention.first > token || token >= mention.last)
      continue;
    const bool is_plain = result_.measures[mention.payload].converted_unit.empty();
    if (!is_plain) return std::nullopt;
    return SizePiece{mention.first, mention.last, mention.payload, true};
  }
  if (result_.tokens[token].kind != TokenKind::kNumber || is_named_otherwise(token))
    return std::nullopt;
  return SizePiece{token, token + 1, 0, false};
}

// "13 in by 4 in (33 cm by 10 cm)": each size is given once more in the bracket, in the same order.
void BlockFinder::convert_sizes() {
  const auto count = static_cast<std::uint32_t>(result_.tokens.size());
  const auto unit_of = [&](const SizePiece& one, const SizePiece& other) -> std::string {
    if (!one.is_measure && !other.is_measure) return {};
    const std::string& unit = result_.measures[one.is_measure ? one.measure : other.measure].unit;
    const bool is_one_unit =
        !one.is_measure || !other.is_measure || result_.measures[other.measure].unit == unit;
    return is_one_unit ? unit : std::string{};
  };
  for (std::uint32_t by = 1; by + 1 < count; ++by) {
    if (!is_in("size_by", by)) continue;
    const auto left = size_at(by - 1), right = size_at(by + 1);
    if (!left || !right || left->last != by || right->last >= count || word(right->last) != "(")
      continue;
    const auto third = size_at(right->last + 1);
    if (!third || third->last + 1 >= count || !is_in("size_by", third->last)) continue;
    const auto fourth = size_at(third->last + 1);
    if (!fourth || fourth->last >= count || word(fourth->last) != ")") continue;
    const std::string unit = unit_of(*left, *right), converted = unit_of(*third, *fourth);
    if (unit.empty() || converted.empty() || unit == converted) continue;
    const auto measure_of = [&](const SizePiece& piece, const std::string& own) {
      if (piece.is_measure) return result_.measures[piece.measure];
      Measure bare;
      bare.unit = own;
      bare.value_text = std::string(word(piece.first));
      bare.value = bare.value_low = bare.value_high = decimal_of(bare.value_text);
      return bare;
    };
    for (const auto& [size, again] : {std::pair(*left, *third), std::pair(*right, *fourth)}) {
      Measure measure = measure_of(size, unit);
      const Measure other = measure_of(again, converted);
      measure.converted_unit = other.unit;
      measure.converted = other.value;
      measure.converted_text = other.value_text;
      const Spelling value =
          memory_.keep(measure.in_print() + " = " + measure.converted_in_print());
      if (!size.is_measure) {
        Mention& mention = add_tokens(MentionKind::kMeasure, result_.tokens[size.first].begin,
                                      result_.tokens[size.last - 1].end, size.first, size.last);
        mention.payload = static_cast<std::uint32_t>(result_.measures.size());
        mention.why = "a size with its conversion";
        mention.value = value;
        result_.measures.push_back(std::move(measure));
        continue;
      }
      for (Mention& mention : result_.items) {
        if (mention.kind == MentionKind::kMeasure && mention.payload == size.measure)
          mention.value = value;
      }
      result_.measures[size.measure] = std::move(measure);
    }
    std::erase_if(result_.items, [&](const Mention& mention) {
      return mention.kind == MentionKind::kMeasure && mention.first > right->last &&
             mention.last <= fourth->last;
    });
  }
}

}  // namespace tailproof
