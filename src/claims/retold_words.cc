#include "claims/retold_words.h"

#include <algorithm>

#include "grammars/fold.h"
#include "tailproof/manuscript.h"

namespace tailproof {
namespace {

bool ends_with_any(std::string& word, std::string_view ending, std::size_t shortest) {
  if (word.size() < shortest + ending.size() || !word.ends_with(ending)) return false;
  word.resize(word.size() - ending.size());
  return true;
}

std::string stem_in(std::string_view folded, const WordList* forms) {
  std::string word(folded);
  constexpr std::size_t kShortest = 3;
  for (const std::string_view ending : {"'s", "’s"}) ends_with_any(word, ending, kShortest);
  if (forms != nullptr) {
    if (const std::string_view base = forms->value_of(word); !base.empty()) word = base;
  }
  for (const std::string_view ending : {"ing", "ed", "es", "s"}) {
    if (ends_with_any(word, ending, kShortest)) break;
  }
  const std::size_t size = word.size();
  if (size > kShortest && word[size - 1] == word[size - 2]) word.pop_back();
  if (word.size() > kShortest && word.back() == 'e') word.pop_back();
  if (word.back() == 'y') word.back() = 'i';
  return word;
}

}  // namespace

RetoldWords::RetoldWords(const Grammars& grammars)
    : weak_(grammars.list("retold_weak")),
      half_(grammars.list("retold_half")),
      forms_(grammars.list("retold_form")) {}

std::uint32_t RetoldWords::stem_of(std::string_view folded) {
  const auto next = static_cast<std::uint32_t>(numbers_.size());
  return numbers_.try_emplace(stem_in(folded, forms_), next).first->second;
}

std::uint32_t RetoldWords::stem_of(const Word& word) {
  if (word.number >= stems_.size()) stems_.resize(word.number + 1, kNone);
  std::uint32_t& stem = stems_[word.number];
  if (stem == kNone) stem = stem_of(std::string_view(word.folded));
  return stem;
}

std::vector<RetoldWords::RowWord> RetoldWords::words_of(std::string_view detail) {
  constexpr std::size_t kShortest = 3;
  constexpr std::string_view kBetween = " ,;:.()\t\n";
  std::vector<RowWord> words;
  for (std::size_t at = 0; at < detail.size();) {
    const std::size_t end = std::min(detail.find_first_of(kBetween, at), detail.size());
    const std::string_view word = detail.substr(at, end - at);
    at = end + 1;
    const bool is_plain = word.size() >= kShortest &&
                          word.find_first_of("0123456789@") == std::string_view::npos &&
                          fold(word) == word;
    if (!is_plain || (weak_ != nullptr && !weak_->value_of(word).empty())) continue;
    const std::uint32_t stem = stem_of(word);
    const bool is_known = std::any_of(words.begin(), words.end(),
                                      [&](const RowWord& other) { return other.stem == stem; });
    const bool is_half = half_ != nullptr && !half_->value_of(word).empty();
    if (!is_known) words.push_back({stem, is_half ? 1 : 2});
  }
  return words;
}

const std::vector<RetoldWords::RowWord>& RetoldWords::of_row(const History& row) {
  const auto [found, is_new] = rows_.try_emplace(&row);
  if (is_new) found->second = words_of(row.detail);
  return found->second;
}

}  // namespace tailproof
