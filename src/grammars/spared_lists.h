// Patterns without the longest of their lists, for texts in which no phrase of these can stand.
//
// "14 June 1943" might have gone on with "of the second year before": hundreds of phrases, which a
// dozen patterns for dates hold, and for most dates RE2 would compile them for nothing. All of them
// have one word in common, and where that is not to be read, none of them is.
#pragma once

#include <string>
#include <string_view>
#include <utility>
#include <vector>

namespace tailproof {

struct WordList;

struct SparedLists {
  /// The pattern with groups for these lists that match nothing; "" when there are none.
  std::string source;
  std::vector<std::string> words;  // in small letters, one for each list
  /// Whether the pattern so shortened matches of a text in small letters what the whole one does.
  [[nodiscard]] bool may_be_asked_of(std::string_view small_text) const;
};

/// `slots`: the named groups of the pattern that hold the phrases of a list.
[[nodiscard]] SparedLists spare_lists(
    const std::string& pattern, const std::vector<std::pair<std::string, const WordList*>>& slots);

}  // namespace tailproof
