// Every name of the ledger and every cue of the grammars, in one pass over the words.
#include "task.h"

namespace tailproof::bench {

std::size_t run_phrases(const Book& book);
std::size_t run_phrases(const Book& book) {
  const PhraseIndex& phrases = book.evidence().finder->lexicon().phrases();
  const auto& blocks = book.manuscripts().front().blocks;
  std::vector<PhraseIndex::Hit> hits;
  std::size_t count = 0;
  for (std::size_t b = 0; b < blocks.size(); ++b) {
    const std::vector<Token>& tokens = book.tokens()[b];
    for (std::uint32_t t = 0; t < tokens.size(); ++t) {
      if (tokens[t].kind == TokenKind::kMark) continue;
      phrases.hits_at(blocks[b].text, tokens, t, hits);
      count += hits.size();
    }
  }
  return count;
}

}  // namespace tailproof::bench
