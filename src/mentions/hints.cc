// What the words of a block may be part of, told once for each spelling.
#include <algorithm>

#include "mentions/finder.h"

namespace tailproof {

void BlockFinder::look_at_words() {
  std::size_t words = 0, capitals = 0;
  hints_.resize(result_.tokens.size());
  for (std::size_t t = 0; t < result_.tokens.size(); ++t) {
    const Token& token = result_.tokens[t];
    const std::uint32_t number = token.word->number;
    result_.kinds |= token.kinds;
    if (number >= memory_.hints.size()) memory_.hints.resize(2 * std::size_t{number} + 1);
    if (memory_.hints[number] == 0) memory_.hints[number] = hints_of(*token.word);
    hints_[t] = memory_.hints[number];
    hints_here_ |= hints_[t];
    if (token.kind != TokenKind::kWord || token.end - token.begin < 2) continue;
    ++words;
    capitals += token.all_capitals;
  }
  all_capitals_ = words >= 3 && capitals == words;
}

std::uint8_t BlockFinder::hints_of(const Word& word) const {
  const Grammars& grammars = lexicon_.grammars();
  const auto& prefixes = lexicon_.photograph_prefixes();
  const bool is_of_archive =
      word.capital && std::any_of(prefixes.begin(), prefixes.end(), [&](std::string_view prefix) {
        return prefix.starts_with(word.text) || word.text.starts_with(prefix);
      });
  unsigned hints = kHintMet;
  if (word.kind == TokenKind::kWord && word.is_in(grammars.list("serial_word")))
    hints |= kCalledSerial;
  if (word.is_in(grammars.list("machine_numbered"))) hints |= kCalledNumber;
  if (starts_like_serial(word)) hints |= kLikeSerial;
  if (word.capital && lexicon_.is_code_word(word.text)) hints |= kWordOfCodes;
  if (is_of_archive) hints |= kWordOfArchive;
  if (word.is_in(grammars.list("event_parted"))) hints |= kPartedVerb;
  if (word.kind == TokenKind::kNumber || word.kind == TokenKind::kMixed) hints |= kHasDigit;
  return static_cast<std::uint8_t>(hints);
}

}  // namespace tailproof
