// Proportions told without a size: "the diameters stood as six to four to two", "in the proportion
// 10:8:4", "green to white as eight to three". The claim is a measure whose part is the proportion.
#include <algorithm>
#include <cmath>

#include "claims/assembler.h"
#include "grammars/fold.h"

namespace tailproof {
namespace {

constexpr std::size_t kMostRings = 6;

}  // namespace

// "Six to four to two", "10:8:4"; with a lead that says so ("as eight, six and three") also a list
// by commas. Empty where the token begins none.
std::vector<int> SizeReading::proportion_at(std::uint32_t first, std::uint32_t& end) const {
  std::vector<int> parts;
  bool has_comma = false;
  for (std::uint32_t t = first; parts.size() < kMostRings;) {
    const int part = number_told(t);
    if (part <= 0) break;
    parts.push_back(part);
    end = t + 1;
    std::uint32_t next = end;
    if (word(next) == ",") ++next;
    if (office(next) == "and") ++next;
    const bool is_listed = next > end;
    if (office(end) == "to" || word(end) == ":") next = end + 1;
    if (next == end) break;
    if (is_listed && number_told(next) > 0) has_comma = true;
    t = next;
  }
  if (parts.size() < 2 || first == 0) return {};
  const bool falls = std::is_sorted(parts.rbegin(), parts.rend(), std::less_equal<>());
  const bool rises = std::is_sorted(parts.begin(), parts.end(), std::less_equal<>());
  if (!falls && !rises) return {};
  const bool is_led = is_in("proportion_lead", first - 1);
  if (has_comma && !is_led) return {};
  // "As six to four aircraft": so many of something.
  const bool is_counted = end < mentions_.tokens.size() &&
                          mentions_.tokens[end].kind == TokenKind::kWord &&
                          !is_in("function_word", end) && !is_in("event_preposition", end);
  const Mention* behind = mention_at(end);
  const bool is_measured = behind != nullptr && behind->kind == MentionKind::kMeasure;
  if ((is_counted && !is_led) || is_measured) return {};
  const std::uint32_t sentence = clauses_.sentence_of[first];
  for (std::uint32_t t = 0; t < mentions_.tokens.size(); ++t) {
    if (clauses_.sentence_of[t] == sentence && is_in("proportion_noun", t)) return parts;
  }
  return {};
}

// The markings that may have these proportions: those of the sentence; those whose rings it names;
// those told of before.
std::vector<std::string> BlockAssembler::markings_proportioned(const Mention& told) const {
  std::vector<std::string> keys;
  const std::uint32_t sentence = clauses_.sentence_of[told.first];
  const auto take_key = [&](const std::string& key) {
    const Marking* marking = ledger_.marking(key);
    if (marking != nullptr && has_diameters(marking->rings)) keys.push_back(key);
  };
  const auto take = [&](const Mention& marking) {
    if (marking.readings.empty()) take_key(std::string(marking.value));
    for (const std::string& key : marking.readings) take_key(key);
  };
  for (const Mention& marking : mentions_of(MentionKind::kMarking)) {
    if (clauses_.sentence_of[marking.first] == sentence) take(marking);
  }
  if (!keys.empty()) return keys;
  std::vector<std::string> colours;
  for (std::uint32_t t = 0; t < mentions_.tokens.size(); ++t) {
    if (clauses_.sentence_of[t] == sentence)
      colours.push_back(folded_word(block_.text, mentions_.tokens[t]));
  }
  std::size_t most = 2;
  for (const Marking& marking : ledger_.markings()) {
    const std::vector<std::string> names = diameter_names(marking.rings);
    const bool is_named =
        names.size() >= most && std::all_of(names.begin(), names.end(), [&](const auto& name) {
          return std::find(colours.begin(), colours.end(), name) != colours.end();
        });
    if (!is_named) continue;
    if (names.size() > most) keys.clear();
    most = names.size();
    keys.push_back(marking.marking);
  }
  if (!keys.empty()) return keys;
  const std::vector<NameList> before = markings_measured(told);
  return before.empty() ? keys : before.front();
}

void BlockAssembler::add_proportions() {
  std::uint32_t free_from = 1;
  for (const std::uint32_t t : numbers_) {
    if (t < free_from) continue;
    std::uint32_t end = t;
    const std::vector<int> parts = proportion_at(t, end);
    if (parts.empty()) continue;
    Size size = bare_size(mentions_.tokens[t], t, {});
    size.words.last = end;
    size.words.end = mentions_.tokens[end - 1].end;
    size.measure.value = parts.front();
    size.value.clear();
    for (const int part : parts)
      size.value += (size.value.empty() ? "" : ":") + std::to_string(part);
    const std::vector<std::string> keys = markings_proportioned(size.words);
    if (!keys.empty()) add_size(size, keys.front(), keys, std::string(kProportion));
    free_from = end + 1;
  }
}

}  // namespace tailproof
