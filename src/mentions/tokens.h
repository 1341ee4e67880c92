// Words of a block: the one pass on which every later lookup stands.
#pragma once

#include <cstdint>
#include <string>
#include <string_view>
#include <vector>

#include "mentions/words.h"

namespace tailproof {

/// A run of letters, of digits, of both, or one other character. Apostrophes inside a word belong
/// to it.
struct Token {
  std::uint32_t begin = 0;
  std::uint32_t end = 0;
  const Word* word = nullptr;  // what its spelling tells; none without a table of words
  StartBits starts;            // which patterns may begin here (Pattern::starts)
  KindBits kinds = 0;          // and of which kinds these are
  TokenKind kind = TokenKind::kWord;
  bool capital = false;       // begins with a capital letter
  bool all_capitals = false;  // two letters or more and none small
  bool sentence_start = false;
};

/// The token as written; in the text, when it points to no word.
[[nodiscard]] inline Spelling spelling_of(std::string_view text, const Token& token) {
  if (token.word != nullptr) return token.word->text;
  return text.substr(token.begin, token.end - token.begin);
}

/// The tokens of `text` in place of what `tokens` held. Their words live as long as the table.
void tokenize(std::string_view text, WordTable& words, std::vector<Token>& tokens);
[[nodiscard]] std::vector<Token> tokenize(std::string_view text, WordTable& words);
/// Tokens by themselves, for names and short texts: none points to a word.
[[nodiscard]] std::vector<Token> tokenize(std::string_view text, const Grammars& grammars);
/// Folded text of a token, without a possessive "'s".
[[nodiscard]] std::string folded_word(std::string_view text, const Token& token);

}  // namespace tailproof
