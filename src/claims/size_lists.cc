// Sizes that are told in a row: the diameters of all rings of a marking, outermost first, and a
// width by a height.
#include <algorithm>
#include <cmath>
#include <cstdlib>

#include "claims/assembler.h"
#include "grammars/fold.h"

namespace tailproof {
namespace {

struct Ring {
  std::string name;  // folded; "" where the ledger gives diameters alone
  double size = 0;
};

// "5:3:1", or "width 3;height 4".
std::vector<Ring> rings_of(std::string_view cell) {
  std::vector<Ring> rings;
  const char separator = cell.find(';') != std::string_view::npos ? ';' : ':';
  while (!cell.empty()) {
    const std::size_t end = std::min(cell.find(separator), cell.size());
    const std::string item = fold(cell.substr(0, end));
    cell.remove_prefix(std::min(end + 1, cell.size()));
    const std::size_t blank = item.rfind(' ');
    const std::string number = blank == std::string::npos ? item : item.substr(blank + 1);
    rings.push_back({blank == std::string::npos ? std::string{} : item.substr(0, blank),
                     std::strtod(number.c_str(), nullptr)});
    if (rings.back().size <= 0) return {};
  }
  return rings;
}

bool shrinks(const std::vector<double>& sizes) {
  return std::is_sorted(sizes.rbegin(), sizes.rend(), std::less_equal<>());
}

// Whether two of the sizes are as the rings have them: else they are sizes of something else.
bool has_proportion(const std::vector<Ring>& rings, const std::vector<double>& sizes) {
  constexpr double kSlack = 0.04;
  for (std::size_t i = 0; i < sizes.size(); ++i) {
    for (std::size_t j = i + 1; j < sizes.size(); ++j) {
      const double told = sizes[i] / sizes[j];
      const double right = rings[i].size / rings[j].size;
      if (std::abs(told - right) < kSlack * right) return true;
    }
  }
  return false;
}

}  // namespace

std::vector<std::string> diameter_names(std::string_view rings) {
  std::vector<std::string> names;
  std::vector<double> sizes;
  for (const Ring& ring : rings_of(rings)) {
    if (ring.name.empty() || ring.name.find(' ') != std::string::npos) return {};
    names.push_back(ring.name);
    sizes.push_back(ring.size);
  }
  return shrinks(sizes) ? names : std::vector<std::string>{};
}

bool has_diameters(std::string_view rings) {
  std::vector<double> sizes;
  for (const Ring& ring : rings_of(rings)) sizes.push_back(ring.size);
  return sizes.size() > 1 && shrinks(sizes);
}

Size bare_size(const Token& token, std::uint32_t at, const std::string& unit) {
  Size size;
  size.words.kind = MentionKind::kMeasure;
  size.words.first = at;
  size.words.last = at + 1;
  size.words.begin = token.begin;
  size.words.end = token.end;
  size.measure.unit = unit;
  size.measure.value_text = std::string(token.word->text);
  size.measure.value = std::strtod(size.measure.value_text.c_str(), nullptr);
  size.measure.value_low = size.measure.value_high = size.measure.value;
  size.value = size.measure.value_text + " " + unit;
  return size;
}

// "30, 18 and 6 in", "30 in, 18 in and 6 in": the sizes that end with this measure, each as a
// mention; alone where it ends no list.
std::vector<Size> SizeReading::sizes_ending_in(const Mention& last) const {
  const Measure& measure = mentions_.measures[last.payload];
  std::vector<Size> sizes = {{last, measure, std::string(last.value)}};
  std::uint32_t t = last.first;
  const auto is_joint = [&](std::uint32_t at) { return word(at) == "," || office(at) == "and"; };
  while (t > 1 && is_joint(t - 1)) {
    --t;
    while (t > 1 && is_joint(t - 1)) --t;
    Size size{last, measure, {}};
    const Mention* before = mention_ending_at(t);
    if (before != nullptr && before->kind == MentionKind::kMeasure) {
      const Measure& other = mentions_.measures[before->payload];
      if (other.unit != measure.unit || !other.converted_unit.empty()) break;
      size = {*before, other, std::string(before->value)};
    } else if (mentions_.tokens[t - 1].kind == TokenKind::kNumber && mention_at(t - 1) == nullptr) {
      size = bare_size(mentions_.tokens[t - 1], t - 1, measure.unit);
    } else {
      break;
    }
    t = size.words.first;
    sizes.insert(sizes.begin(), std::move(size));
  }
  return sizes;
}

// The markings that may be measured, each as the keys that its words may mean: those of the
// sentence, then those named before it, the last first.
std::vector<std::vector<std::string>> BlockAssembler::markings_measured(
    const Mention& measure) const {
  std::vector<std::vector<std::string>> here, before;
  for (const Mention& other : mentions_of(MentionKind::kMarking)) {
    std::vector<std::string> keys = other.readings;
    if (keys.empty()) keys.emplace_back(other.value);
    if (clauses_.sentence_of[other.first] == clauses_.sentence_of[measure.first]) {
      here.push_back(std::move(keys));
    } else if (other.last <= measure.first) {
      before.insert(before.begin(), std::move(keys));
    }
  }
  here.insert(here.end(), before.begin(), before.end());
  if (here.empty() && !focus_.marking.empty()) here.push_back({focus_.marking});
  return here;
}

void BlockAssembler::add_size(const Size& size, const std::string& marking,
                              const std::vector<std::string>& readings, std::string part) {
  Claim& claim = add(size.words, ClaimKind::kMeasure);
  claim.value = size.value;
  claim.measure = size.measure;
  claim.subject = marking;
  claim.readings = readings;
  claim.part = std::move(part);
}

bool SizeReading::speaks_of_family(const std::string& family, std::uint32_t until) const {
  for (std::uint32_t t = 0; t < until; ++t) {
    const Spelling w = folded(t);
    if (w == std::string_view(family) ||
        (w.size() == family.size() + 1 && w.ends_with("s") && w.starts_with(family)))
      return true;
  }
  return false;
}

// "The plain wheel has rings of 30 in, 18 in and 6 in": as many sizes as the marking has rings.
bool BlockAssembler::add_ring_list(const Mention& last) {
  constexpr std::size_t kFewest = 3;
  const std::vector<Size> sizes = sizes_ending_in(last);
  if (sizes.size() < kFewest) return false;
  std::vector<double> values;
  for (const Size& size : sizes) values.push_back(size.measure.value);
  if (values.back() <= 0 || !shrinks(values)) return false;
  std::vector<std::string> fitting;
  const auto try_marking = [&](const Marking* marking) {
    if (marking == nullptr) return;
    const std::vector<Ring> rings = rings_of(marking->rings);
    std::vector<double> own;
    for (const Ring& ring : rings) own.push_back(ring.size);
    if (rings.size() == sizes.size() && shrinks(own) && has_proportion(rings, values))
      fitting.push_back(marking->marking);
  };
  for (const std::vector<std::string>& keys : markings_measured(last)) {
    for (const std::string& key : keys) try_marking(ledger_.marking(key));
    if (!fitting.empty()) break;
  }
  // "It invented the wheel: green, white and black. The three circles measured 120, 80 and 50 cm":
  // of any of the family that the text speaks of.
  if (fitting.empty()) {
    for (const Marking& marking : ledger_.markings()) {
      if (!marking.family.empty() && speaks_of_family(fold(marking.family), last.first))
        try_marking(&marking);
    }
  }
  if (fitting.empty()) return false;
  const std::vector<Ring> rings = rings_of(ledger_.marking(fitting.front())->rings);
  for (std::size_t i = 0; i < sizes.size(); ++i) {
    const std::string part = rings[i].name.empty() ? std::to_string(i + 1) : rings[i].name;
    add_size(sizes[i], fitting.front(), fitting.size() > 1 ? fitting : std::vector<std::string>{},
             part);
  }
  return true;
}

// Whether the sizes that begin at the token are said of the marking itself: "measured 30 in by",
// "the shield, 30 in by", and not "a board 30 in by", "a sheet of 30 in by".
bool SizeReading::is_said_of_marking(std::uint32_t token) const {
  if (token == 0) return false;
  const Mention* before = mention_ending_at(token);
  if (before != nullptr && before->kind == MentionKind::kMarking) return true;
  const Spelling w = word(token - 1);
  if (w == "," || w == "(" || w == ":") {
    const Mention* named = mention_ending_at(token - 1);
    return named != nullptr && named->kind == MentionKind::kMarking;
  }
  if (office(token - 1) == "of") {
    const Mention* whole = mention_ending_at(token - 1);
    return token > 1 && ((whole != nullptr && whole->kind == MentionKind::kMarking) ||
                         is_in("size_stand_in", token - 2));
  }
  return is_in("size_lead", token - 1);
}

// "A shield of 24 in by 32 in", "24 by 32 in": the larger is that of the larger part.
bool BlockAssembler::add_size_by_size(const Mention& last) {
  const Measure& measure = mentions_.measures[last.payload];
  // "Bars of 26 in by 10": the unit stands with the first.
  const bool is_behind = is_in("size_by", last.last) && mention_at(last.last + 1) == nullptr &&
                         number_told(last.last + 1) > 0;
  if (is_behind) {
    Size second = bare_size(mentions_.tokens[last.last + 1], last.last + 1, measure.unit);
    second.measure.value = second.measure.value_low = second.measure.value_high =
        number_told(last.last + 1);
    second.value = second.measure.value_text + " " + measure.unit;
    return is_said_of_marking(last.first) &&
           add_extents({last, measure, std::string(last.value)}, second);
  }
  if (folded(last.last) == "over" && add_size_over(last)) return true;
  if (last.first < 2 || !is_in("size_by", last.first - 1)) return false;
  // "30 in by 40 in boards" measure boards.
  if (last.last < mentions_.tokens.size() && mentions_.tokens[last.last].kind == TokenKind::kWord &&
      !is_in("function_word", last.last) && !is_in("event_preposition", last.last))
    return false;
  Size first{last, measure, {}};
  const std::uint32_t end = last.first - 1;
  const Mention* before = mention_ending_at(end);
  if (before != nullptr && before->kind == MentionKind::kMeasure) {
    first = {*before, mentions_.measures[before->payload], std::string(before->value)};
    if (first.measure.unit != measure.unit ||
        first.measure.converted_unit.empty() != measure.converted_unit.empty())
      return false;
  } else if (mentions_.tokens[end - 1].kind == TokenKind::kNumber &&
             mention_at(end - 1) == nullptr) {
    first = bare_size(mentions_.tokens[end - 1], end - 1, measure.unit);
  } else {
    return false;
  }
  if (!is_said_of_marking(first.words.first)) return false;
  return add_extents(first, {last, measure, std::string(last.value)});
}

// "30 in over 20": the diameters of a marking that has two.
bool BlockAssembler::add_size_over(const Mention& first) {
  const std::uint32_t at = first.last + 1;
  if (at >= mentions_.tokens.size() || mentions_.tokens[at].kind != TokenKind::kNumber ||
      mention_at(at) != nullptr)
    return false;
  const Measure& measure = mentions_.measures[first.payload];
  const Size inner = bare_size(mentions_.tokens[at], at, measure.unit);
  if (measure.value <= inner.measure.value) return false;
  for (const NameList& keys : markings_measured(first)) {
    const Marking* marking = keys.size() == 1 ? ledger_.marking(keys.front()) : nullptr;
    if (marking == nullptr) continue;
    const std::vector<std::string> names = diameter_names(marking->rings);
    if (names.size() != 2) continue;
    add_size({first, measure, std::string(first.value)}, keys.front(), {}, names.front());
    add_size(inner, keys.front(), {}, names.back());
    return true;
  }
  return false;
}

// The two sizes are those of a marking with two parts whose names are those of extents.
bool BlockAssembler::add_extents(const Size& first, const Size& second) {
  const WordList* adjectives = lexicon_.grammars().list("part_adjective");
  if (adjectives == nullptr) return false;
  std::vector<Ring> extents;
  std::string key;
  for (const std::vector<std::string>& keys : markings_measured(second.words)) {
    const Marking* marking = keys.size() == 1 ? ledger_.marking(keys.front()) : nullptr;
    if (marking == nullptr) continue;
    extents.clear();
    for (const Ring& ring : rings_of(marking->rings)) {
      const bool is_extent = std::any_of(
          adjectives->words.begin(), adjectives->words.end(),
          [&](const auto& entry) { return ring.name.ends_with(std::string_view(entry.second)); });
      if (is_extent) extents.push_back(ring);
    }
    key = keys.front();
    if (extents.size() == 2) break;
  }
  if (extents.size() != 2) return false;
  const bool is_in_order =
      (first.measure.value < second.measure.value) == (extents[0].size < extents[1].size);
  add_size(first, key, {}, extents[is_in_order ? 0 : 1].name);
  add_size(second, key, {}, extents[is_in_order ? 1 : 0].name);
  return true;
}

// Measures that stand in a row, so that the row tells what each of them measures.
std::vector<std::uint32_t> BlockAssembler::add_sizes_in_rows() {
  static constexpr std::string_view kLengths[] = {"in", "ft", "cm", "mm", "m"};
  std::vector<std::uint32_t> told, looked_at;
  for (std::size_t i = mentions_.items.size(); i-- > 0;) {
    const Mention& mention = mentions_.items[i];
    // What has ended no list, or is inside a longer one, ends none either.
    const bool is_new =
        mention.kind == MentionKind::kMeasure &&
        std::find(looked_at.begin(), looked_at.end(), mention.first) == looked_at.end();
    if (!is_new) continue;
    const Measure& measure = mentions_.measures[mention.payload];
    const bool is_length =
        std::find(std::begin(kLengths), std::end(kLengths), measure.unit) != std::end(kLengths);
    const bool is_by = (mention.first > 0 && is_in("size_by", mention.first - 1)) ||
                       is_in("size_by", mention.last) || folded(mention.last) == "over";
    if (!is_length || (!measure.converted_unit.empty() && !is_by)) continue;
    for (const Size& size : sizes_ending_in(mention)) looked_at.push_back(size.words.first);
    const std::size_t before = out_.size();
    if (!add_ring_list(mention) && !add_size_by_size(mention)) continue;
    for (std::size_t c = before; c < out_.size(); ++c) told.push_back(token_at(out_[c].begin));
    looked_at.insert(looked_at.end(), told.begin(), told.end());
  }
  return told;
}

}  // namespace tailproof
