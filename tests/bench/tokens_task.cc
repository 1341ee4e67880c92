// The words of every block.
#include "task.h"

namespace tailproof::bench {

std::size_t run_tokens(const Book& book);
std::size_t run_tokens(const Book& book) {
  std::size_t count = 0;
  for (const Block& block : book.manuscripts().front().blocks) {
    count += tokenize(block.text, book.evidence().grammars).size();
  }
  return count;
}

}  // namespace tailproof::bench
