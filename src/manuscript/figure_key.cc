#include "tailproof/figure_key.h"

#include <algorithm>
#include <map>
#include <set>
#include <utility>

#include "source/ascii.h"

namespace tailproof {
namespace {

std::string series_of(const std::string& word) {
  if (word.empty() || word.starts_with("fig") || word == "ill" || word.starts_with("illus") ||
      word.starts_with("abb") || word == "bild") {
    return "fig";
  }
  if (word.starts_with("plate") || word == "pl" || word == "pls" || word == "tafel") return "plate";
  if (word.starts_with("photo") || word == "foto") return "photo";
  if (word.starts_with("map")) return "map";
  if (word.starts_with("table")) return "table";
  if (word.starts_with("profile")) return "profile";
  if (word.starts_with("drawing")) return "drawing";
  return "";  // a page, a chapter, another book: not for this check
}

int roman(std::string_view text) {
  int value = 0;
  int before = 0;
  for (const char c : text) {
    const int digit = c == 'i' ? 1 : c == 'v' ? 5 : c == 'x' ? 10 : c == 'l' ? 50 : 0;
    if (digit == 0) return 0;
    value += digit;
    if (before > 0 && before < digit) value -= 2 * before;
    before = digit;
  }
  return value;
}

// "60", "A.1": no word says of which series it is.
bool is_bare(std::string_view label) {
  if (label.size() > 2 && is_letter(label[0]) && label[1] == '.') label.remove_prefix(2);
  return !label.empty() && is_digit(label.front());
}

}  // namespace

std::vector<FigureKey> figure_keys(std::string_view text) {
  std::string folded(text);
  std::transform(folded.begin(), folded.end(), folded.begin(), [](char c) {
    return static_cast<char>(std::tolower(static_cast<unsigned char>(c)));
  });
  std::size_t at = 0;
  while (at < folded.size() && is_letter(folded[at])) ++at;
  // "A.1", without a word: of an appendix.
  if (at == 1 && folded.size() > 2 && folded[1] == '.' && is_digit(folded[2])) at = 0;
  const std::string word = folded.substr(0, at);
  std::vector<FigureKey> labels;
  const std::string series = series_of(word);
  if (series.empty()) return labels;
  while (at < folded.size()) {
    if (is_digit(folded[at])) {
      std::size_t end = at;
      while (end < folded.size() &&
             (is_digit(folded[end]) ||
              (folded[end] == '.' && end + 1 < folded.size() && is_digit(folded[end + 1])))) {
        ++end;
      }
      std::string number = folded.substr(at, end - at);
      // "3a", but not the "a" of "3 and".
      const bool has_letter = end < folded.size() && is_letter(folded[end]) &&
                              (end + 1 == folded.size() || !is_letter(folded[end + 1]));
      if (has_letter) number += folded[end++];
      labels.push_back({series, number});
      at = end;
    } else if (is_letter(folded[at])) {
      std::size_t end = at;
      while (end < folded.size() && is_letter(folded[end])) ++end;
      const int number = roman(std::string_view(folded).substr(at, end - at));
      // "A.1", "A1": the first of the appendix A. The numbers of a chapter ("II.3") read as digits.
      const std::size_t point = end < folded.size() && folded[end] == '.' ? end + 1 : end;
      const bool is_prefix = point < folded.size() && is_digit(folded[point]) &&
                             (end == at + 1 || (number > 0 && point > end));
      if (is_prefix) {
        const std::string prefix = end == at + 1 ? folded.substr(at, 1) : std::to_string(number);
        std::size_t last = point;
        while (last < folded.size() &&
               (is_digit(folded[last]) ||
                (folded[last] == '.' && last + 1 < folded.size() && is_digit(folded[last + 1])))) {
          ++last;
        }
        labels.push_back({series, prefix + "." + folded.substr(point, last - point)});
        at = last;
        continue;
      }
      if (number > 0) labels.push_back({series, std::to_string(number)});
      at = end;
    } else {
      ++at;
    }
  }
  return labels;
}

FigureSeries::FigureSeries(std::span<const Manuscript> manuscripts) {
  std::set<std::string> bare;
  std::map<std::string, std::set<std::string>> named;  // by series
  for (const Manuscript& manuscript : manuscripts) {
    for (const Block& block : manuscript.blocks) {
      if (block.kind != BlockKind::kCaption || block.figure.empty()) continue;
      const std::vector<FigureKey> keys = figure_keys(block.figure);
      if (keys.size() != 1) continue;
      std::set<std::string>& numbers = is_bare(block.figure) ? bare : named[keys.front().series];
      numbers.insert(keys.front().number);
    }
  }
  if (named.size() != 1 || bare.empty()) return;
  const auto& [series, numbers] = *named.begin();
  std::set<int> all;
  for (const std::set<std::string>* some : {&numbers, &std::as_const(bare)}) {
    for (const std::string& number : *some) {
      constexpr std::size_t kMostDigits = 5;
      const bool is_plain =
          number.size() <= kMostDigits && std::all_of(number.begin(), number.end(), is_digit);
      if (!is_plain || !all.insert(std::stoi(number)).second) return;
    }
  }
  const auto span = static_cast<std::size_t>(*all.rbegin() - *all.begin());
  if (span + 1 == all.size()) bare_ = series;
}

std::vector<FigureKey> FigureSeries::keys_of_caption(std::string_view label) const {
  std::vector<FigureKey> keys = figure_keys(label);
  if (is_bare(label)) {
    for (FigureKey& key : keys) key.series = bare_;
  }
  return keys;
}

}  // namespace tailproof
