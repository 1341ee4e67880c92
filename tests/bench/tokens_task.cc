// The words of every block.
#include "task.h"

namespace tailproof::bench {

std::size_t run_tokens(const Book& book);
std::size_t run_tokens(const Book& book) {
  WordTable words(book.evidence().grammars, &book.evidence().finder->lexicon().phrases());
  std::vector<Token> tokens;
  std::size_t count = 0;
  for (const Block& block : book.manuscripts().front().blocks) {
    tokenize(block.text, words, tokens);
    count += tokens.size();
  }
  return count;
}

}  // namespace tailproof::bench
