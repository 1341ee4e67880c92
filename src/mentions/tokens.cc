#include "mentions/tokens.h"

#include "grammars/fold.h"
#include "mentions/phrase_index.h"

namespace tailproof {
namespace {

// `word_at` gives the word of a piece of the text.
template <typename WordAt>
void split(std::string_view text, const WordAt& word_at, std::vector<Token>& tokens) {
  constexpr std::size_t kBytesAToken = 4;
  tokens.clear();
  tokens.reserve(text.size() / kBytesAToken + 1);
  bool sentence_over = true;
  const auto size = static_cast<std::uint32_t>(text.size());
  for (std::uint32_t at = 0; at < size;) {
    if (is_blank(text[at])) {
      ++at;
      continue;
    }
    const WordShape shape = shape_at(text, at);
    const Word& word = word_at(text.substr(at, shape.end - at), shape);
    Token& token = tokens.emplace_back();
    token.begin = at;
    token.end = at = shape.end;
    token.word = &word;
    token.starts = word.starts;
    token.kinds = word.kinds;
    token.kind = word.kind;
    token.capital = word.capital;
    token.all_capitals = word.all_capitals;
    if (word.kind != TokenKind::kMark) {
      token.sentence_start = sentence_over;
      sentence_over = false;
    } else if (word.ends_sentence) {
      sentence_over = true;
    }
  }
}

}  // namespace

void tokenize(std::string_view text, WordTable& words, std::vector<Token>& tokens) {
  split(
      text,
      [&](std::string_view spelling, const WordShape& shape) -> const Word& {
        return words.word(spelling, shape);
      },
      tokens);
}

std::vector<Token> tokenize(std::string_view text, WordTable& words) {
  std::vector<Token> tokens;
  tokenize(text, words, tokens);
  return tokens;
}

std::vector<Token> tokenize(std::string_view text, const Grammars& grammars) {
  std::vector<Token> tokens;
  Word word;
  split(
      text,
      [&](std::string_view spelling, const WordShape& shape) -> const Word& {
        word = word_of(spelling, shape);
        if (shape.letters) word.starts |= grammars.starts_of_word(FoldedWord(spelling).view());
        word.kinds = grammars.kinds_begun_by(word.starts);
        return word;
      },
      tokens);
  for (Token& token : tokens) token.word = nullptr;
  return tokens;
}

std::string folded_word(std::string_view text, const Token& token) {
  const std::string_view as_written = text.substr(token.begin, token.end - token.begin);
  return std::string(bare_of_possessive(
      token.word != nullptr ? token.word->folded : Spelling(FoldedWord(as_written).view())));
}

}  // namespace tailproof
