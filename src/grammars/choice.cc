#include "grammars/choice.h"

#include <algorithm>
#include <span>

namespace tailproof {
namespace {

bool ends_in_word(std::string_view phrase) {
  const char last = phrase.empty() ? ' ' : phrase.back();
  return (last >= 'a' && last <= 'z') || (last >= 'A' && last <= 'Z') ||
         (last >= '0' && last <= '9');
}

// With those bytes behind its first that belong to the same letter.
std::string_view letter_at(std::string_view phrase, std::size_t at) {
  std::size_t end = at + 1;
  while (end < phrase.size() && (static_cast<unsigned char>(phrase[end]) & 0xC0U) == 0x80) ++end;
  return phrase.substr(at, end - at);
}

class Choice {
 public:
  explicit Choice(std::span<const std::string> phrases)
      : all_end_in_word_(!phrases.empty() &&
                         std::all_of(phrases.begin(), phrases.end(), ends_in_word)) {
    out_ = "(?:";
    add(phrases, 0);
    out_ += all_end_in_word_ ? ")\\b" : ")";
  }
  [[nodiscard]] std::string take() { return std::move(out_); }

 private:
  // Of phrases in order, alike up to `at`, what may stand behind that; the longest goes first.
  void add(std::span<const std::string> phrases, std::size_t at) {
    const bool has_end = !phrases.empty() && phrases.front().size() == at;
    const std::span<const std::string> longer = phrases.subspan(has_end ? 1 : 0);
    const bool is_one = longer.empty() ||
                        (!has_end && letter_at(longer.front(), at) == letter_at(longer.back(), at));
    if (!is_one) out_ += "(?:";
    for (std::size_t first = 0; first < longer.size();) {
      const std::string_view letter = letter_at(longer[first], at);
      std::size_t last = first + 1;
      while (last < longer.size() && letter_at(longer[last], at) == letter) ++last;
      if (first != 0) out_ += '|';
      add_letter(letter);
      add(longer.subspan(first, last - first), at + letter.size());
      first = last;
    }
    if (has_end && !longer.empty()) out_ += '|';
    if (has_end && !all_end_in_word_ && ends_in_word(phrases.front())) out_ += "\\b";
    if (!is_one) out_ += ')';
  }

  void add_letter(std::string_view letter) {
    if (letter == "'") {
      out_ += "['’]";
      return;
    }
    if (std::string_view("\\^$.|?*+()[]{}").find(letter.front()) != std::string_view::npos) {
      out_ += '\\';
    }
    out_ += letter;
  }

  bool all_end_in_word_;
  std::string out_;
};

}  // namespace

std::string choice_of(std::vector<std::string> phrases, Case how) {
  if (how == Case::kFolded) {
    for (std::string& phrase : phrases) {
      for (char& c : phrase) {
        if (c >= 'A' && c <= 'Z') c = static_cast<char>(c - 'A' + 'a');
      }
    }
  }
  std::sort(phrases.begin(), phrases.end());
  phrases.erase(std::unique(phrases.begin(), phrases.end()), phrases.end());
  return Choice(phrases).take();
}

}  // namespace tailproof
