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
  // What a pattern fixes ("half a metre") counts as if it stood there.
  const auto slot = [&](ListName name) { return match.value_of(name, text); };
  measure.value_text = slot("value");
  if (measure.value_text.empty()) measure.value_text = match.value_of("number", text);
  measure.value = decimal_of(measure.value_text) + fraction_of(slot("fraction"));
  measure.value_text += slot("fraction");
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
    measure.converted_text += slot("converted_fraction");
    if (!slot("converted_high").empty())
      measure.converted_high = decimal_of(slot("converted_high"));
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
    // "2.80 m by 0.60 m, or 9 ft 2 in by 2 ft": the sizes of both, and no conversion of the one.
    const bool is_of_pairs = !measure.converted_unit.empty() && match.first > 0 &&
                             is_in("size_by", match.first - 1) &&
                             match.last < result_.tokens.size() && is_in("size_by", match.last);
    if (is_of_pairs) continue;
    Mention& mention =
        add_tokens(MentionKind::kMeasure, match.begin, match.end, match.first, match.last);
    // "20 cm. A pale disc": the point ends the sentence.
    const bool is_open = mention.last < result_.tokens.size() && word(mention.last - 1) == "." &&
                         result_.tokens[mention.last].capital &&
                         (is_in("function_word", mention.last) ||
                          is_in("determiner", mention.last) || is_in("size_apart", mention.last));
    if (is_open) mention.end = result_.tokens[--mention.last - 1].end;
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

// "16.5", "3½": tokens that touch, the first of them digits.
bool BlockFinder::is_of_number(std::uint32_t token) const {
  if (token >= result_.tokens.size()) return false;
  const Spelling w = word(token);
  return result_.tokens[token].kind == TokenKind::kNumber || w == "." || fraction_of(w) > 0;
}

std::optional<BlockFinder::SizePiece> BlockFinder::size_at(std::uint32_t token) const {
  if (token >= result_.tokens.size()) return std::nullopt;
  for (const Mention& mention : result_.items) {
    if (mention.kind != MentionKind::kMeasure || mention.first > token || token >= mention.last)
      continue;
    const bool is_plain = result_.measures[mention.payload].converted_unit.empty();
    if (!is_plain) return std::nullopt;
    return SizePiece{mention.first, mention.last, mention.payload, true};
  }
  const auto touches = [&](std::uint32_t before) {  // the token behind it
    return before + 1 < result_.tokens.size() &&
           result_.tokens[before].end == result_.tokens[before + 1].begin;
  };
  std::uint32_t first = token, last = token + 1;
  while (first > 0 && touches(first - 1) && is_of_number(first - 1)) --first;
  while (touches(last - 1) && is_of_number(last)) ++last;
  if (word(last - 1) == ".") --last;
  for (std::uint32_t t = first; t < last; ++t) {
    if (!is_of_number(t) || is_named_otherwise(t)) return std::nullopt;
  }
  const bool is_number = last > first && token < last &&
                         std::isdigit(static_cast<unsigned char>(word(first).front())) != 0;
  if (!is_number) return std::nullopt;
  return SizePiece{first, last, 0, false};
}

// "13 in by 4 in (33 cm by 10 cm)", "13 in high and 4 in wide (33 by 10 cm)": each size is given
// once more in the bracket, in the same order.
void BlockFinder::convert_sizes() {
  const auto count = static_cast<std::uint32_t>(result_.tokens.size());
  const auto unit_of = [&](const SizePiece& one, const SizePiece& other) -> std::string {
    if (!one.is_measure && !other.is_measure) return {};
    const std::string& unit = result_.measures[one.is_measure ? one.measure : other.measure].unit;
    const bool is_one_unit =
        !one.is_measure || !other.is_measure || result_.measures[other.measure].unit == unit;
    return is_one_unit ? unit : std::string{};
  };
  const auto is_joint = [&](std::uint32_t t) {
    return t < count && (is_in("size_by", t) || office(t) == "and");
  };
  // Behind a size, where "high" or "wide" is passed over.
  const auto end_of = [&](const SizePiece& size) {
    return size.last < count && is_in("part_adjective", size.last) ? size.last + 1 : size.last;
  };
  for (std::uint32_t open = 3; open + 3 < count; ++open) {
    if (word(open) != "(" && word(open) != "[") continue;
    const auto third = size_at(open + 1);
    if (!third || !is_joint(end_of(*third))) continue;
    const auto fourth = size_at(end_of(*third) + 1);
    if (!fourth || end_of(*fourth) >= count) continue;
    const Spelling close = word(end_of(*fourth));
    if (close != ")" && close != "]") continue;
    const auto right = size_at(is_in("part_adjective", open - 1) ? open - 2 : open - 1);
    if (!right || right->first < 2 || !is_joint(right->first - 1)) continue;
    const std::uint32_t by = right->first - 1;
    const auto left = size_at(is_in("part_adjective", by - 1) ? by - 2 : by - 1);
    if (!left) continue;
    const std::string unit = unit_of(*left, *right), converted = unit_of(*third, *fourth);
    if (unit.empty() || converted.empty() || unit == converted) continue;
    const auto measure_of = [&](const SizePiece& piece, const std::string& own) {
      if (piece.is_measure) return result_.measures[piece.measure];
      Measure bare;
      bare.unit = own;
      const Spelling fraction = word(piece.last - 1);
      const bool has_fraction = fraction_of(fraction) > 0;
      const std::uint32_t end =
          has_fraction ? result_.tokens[piece.last - 1].begin : result_.tokens[piece.last - 1].end;
      bare.value_text =
          text_.substr(result_.tokens[piece.first].begin, end - result_.tokens[piece.first].begin);
      bare.value = decimal_of(bare.value_text) + (has_fraction ? fraction_of(fraction) : 0);
      bare.value_low = bare.value_high = bare.value;
      if (has_fraction) bare.value_text += fraction;
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
