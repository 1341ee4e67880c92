#include "grammars/choice.h"

#include <algorithm>
#include <span>
#include <utility>
#include <vector>

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
    const Piece all = piece_of(phrases, 0);
    out_ = "(?:" + all.head + all.tail + (all_end_in_word_ ? ")\\b" : ")");
  }
  [[nodiscard]] std::string take() { return std::move(out_); }

 private:
  /// What stands somewhere in the choice, parted before the group with which it ends, if with any.
  struct Piece {
    std::string head, tail;
  };

  // Of phrases in order, alike up to `at`, what may stand behind that; the longest goes first.
  [[nodiscard]] Piece piece_of(std::span<const std::string> phrases, std::size_t at) const {
    std::string common;
    while (!phrases.empty() && at < phrases.front().size()) {
      // What the first and the last of them have, all between have as well.
      const std::string_view letter = letter_at(phrases.front(), at);
      if (at >= phrases.back().size() || letter_at(phrases.back(), at) != letter) break;
      add_told(letter, common);
      at += letter.size();
    }
    Piece rest = parted_at(phrases, at);
    if (!common.empty()) rest.head.insert(0, common);
    return rest;
  }

  // The same where one of them ends, or the next letter is not that of all.
  [[nodiscard]] Piece parted_at(std::span<const std::string> phrases, std::size_t at) const {
    const bool has_end = !phrases.empty() && phrases.front().size() == at;
    const std::span<const std::string> longer = phrases.subspan(has_end ? 1 : 0);
    const std::string end =
        has_end && !all_end_in_word_ && ends_in_word(phrases.front()) ? "\\b" : "";
    std::vector<Piece> ways;
    for (std::size_t first = 0; first < longer.size();) {
      const std::string_view letter = letter_at(longer[first], at);
      std::size_t last = first + 1;
      while (last < longer.size() && letter_at(longer[last], at) == letter) ++last;
      ways.push_back(piece_of(longer.subspan(first, last - first), at));
      first = last;
    }
    if (ways.empty()) return {end, ""};
    join_alike(ways);
    if (ways.size() == 1 && !has_end) return std::move(ways.front());
    std::string group = "(?:";
    for (const Piece& way : ways) group += way.head + way.tail + '|';
    if (!has_end) group.pop_back();
    return {"", group + end + ')'};
  }

  // "Two years (?:later|before)" and "three years (?:later|before)" have one ending: told once, it
  // makes a list of all numbers with all endings a quarter as long. They begin with different
  // letters, so that their order does not matter.
  static void join_alike(std::vector<Piece>& ways) {
    for (std::size_t i = 0; i < ways.size(); ++i) {
      Piece& way = ways[i];
      const auto is_alike = [&](const Piece& other) {
        return !way.tail.empty() && other.tail == way.tail;
      };
      const auto rest = ways.begin() + static_cast<std::ptrdiff_t>(i) + 1;
      if (std::none_of(rest, ways.end(), is_alike)) continue;
      std::string heads = "(?:" + way.head;
      for (auto other = rest; other != ways.end(); ++other) {
        if (is_alike(*other)) heads += '|' + other->head;
      }
      way.head = heads + ')';
      ways.erase(std::remove_if(rest, ways.end(), is_alike), ways.end());
    }
  }

  static void add_told(std::string_view letter, std::string& out) {
    if (letter == "'") {
      out += "['’]";
      return;
    }
    const bool is_operator =
        std::string_view("\\^$.|?*+()[]{}").find(letter.front()) != std::string_view::npos;
    if (is_operator) out += '\\';
    out += letter;
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
