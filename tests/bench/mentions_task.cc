// Everything that the words of each block name; tokens, phrases and dates are part of it.
#include "task.h"

namespace tailproof::bench {

std::size_t run_mentions(const Book& book);
std::size_t run_mentions(const Book& book) {
  std::size_t count = 0;
  for (const Block& block : book.manuscripts().front().blocks) {
    count += book.evidence().finder->find(block.text).items.size();
  }
  return count;
}

}  // namespace tailproof::bench
