#include "grammars/spared_lists.h"

#include <algorithm>

#include "grammars/grammars.h"

namespace tailproof {
namespace {

// Lists of fewer phrases are as soon compiled as looked for.
constexpr std::size_t kFewestPhrases = 64;

// What stands in every phrase of the list, a word of the first one; "" for nothing.
std::string shared_word(const WordList& list) {
  const std::string_view first = list.words.front().first;
  for (std::size_t at = 0; at < first.size();) {
    const std::size_t end = std::min(first.find(' ', at), first.size());
    const std::string_view word = first.substr(at, end - at);
    at = end + 1;
    const bool is_plain = !word.empty() && std::all_of(word.begin(), word.end(),
                                                       [](char c) { return c >= 'a' && c <= 'z'; });
    const bool is_shared =
        is_plain && std::all_of(list.words.begin(), list.words.end(), [&](const auto& phrase) {
          return phrase.first.find(word) != std::string::npos;
        });
    if (is_shared) return std::string(word);
  }
  return {};
}

// Where the group that begins at `open` is closed.
std::size_t end_of_group(std::string_view pattern, std::size_t open) {
  int depth = 0;
  for (std::size_t at = open; at < pattern.size(); ++at) {
    if (pattern[at] == '\\') {
      ++at;
    } else if (pattern[at] == '[') {
      at = pattern.find(']', at + 2);
      if (at == std::string_view::npos) return at;
    } else if (pattern[at] == '(') {
      ++depth;
    } else if (pattern[at] == ')' && --depth == 0) {
      return at;
    }
  }
  return std::string_view::npos;
}

}  // namespace

bool SparedLists::may_be_asked_of(std::string_view small_text) const {
  return !source.empty() && std::none_of(words.begin(), words.end(), [&](const std::string& word) {
    return small_text.find(word) != std::string_view::npos;
  });
}

SparedLists spare_lists(const std::string& pattern,
                        const std::vector<std::pair<std::string, const WordList*>>& slots) {
  constexpr std::string_view kNothing = "x\\bx";  // no word ends within a word
  SparedLists spared;
  std::string source = pattern;
  for (const auto& [slot, list] : slots) {
    if (list->words.size() < kFewestPhrases) continue;
    std::string word = shared_word(*list);
    const std::string head = "(?P<" + slot + ">";
    const std::size_t open = source.find(head);
    if (word.empty() || open == std::string::npos) continue;
    const std::size_t close = end_of_group(source, open);
    if (close == std::string::npos) continue;
    source.replace(open + head.size(), close - open - head.size(), kNothing);
    spared.words.push_back(std::move(word));
  }
  if (!spared.words.empty()) spared.source = std::move(source);
  return spared;
}

}  // namespace tailproof
