// Words of a block: the one pass on which every later lookup stands.
#pragma once

#include <cstdint>
#include <string>
#include <string_view>
#include <vector>

#include "grammars/grammars.h"

namespace tailproof {

enum class TokenKind : std::uint8_t { kWord, kNumber, kMixed, kMark };

/// A run of letters, of digits, of both, or one other character. Apostrophes inside a word belong
/// to it.
struct Token {
  std::uint32_t begin = 0;
  std::uint32_t end = 0;
  TokenKind kind = TokenKind::kWord;
  bool capital = false;       // begins with a capital letter
  bool all_capitals = false;  // two letters or more and none small
  bool sentence_start = false;
  std::uint64_t starts = 0;  // which patterns may begin here (Pattern::starts)
};

[[nodiscard]] std::vector<Token> tokenize(std::string_view text, const Grammars& grammars);

/// A pattern that matched text [begin, end).
struct PatternMatch {
  const Pattern* pattern = nullptr;
  std::uint32_t begin = 0;
  std::uint32_t end = 0;
  std::vector<std::pair<std::uint32_t, std::uint32_t>>
      slots;  // by capture group from 0 (group 1); begin == end: not matched

  /// The slot's text; "" when it took no part.
  [[nodiscard]] std::string_view text_of(std::string_view slot, std::string_view block_text) const;
  /// The slot's value: through its word list, or fixed by the pattern, or else the text itself.
  [[nodiscard]] std::string value_of(std::string_view slot, std::string_view block_text) const;
};

/// Every match of the patterns of `kind`, left to right, none overlapping another.
[[nodiscard]] std::vector<PatternMatch> match_patterns(std::string_view text,
                                                       const std::vector<Token>& tokens,
                                                       const std::vector<const Pattern*>& patterns);

}  // namespace tailproof
