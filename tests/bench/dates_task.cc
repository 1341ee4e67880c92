// The dates of every block.
#include "task.h"

namespace tailproof::bench {

std::size_t run_dates(const Book& book);
std::size_t run_dates(const Book& book) {
  const Evidence& evidence = book.evidence();
  const auto& blocks = book.manuscripts().front().blocks;
  std::size_t count = 0;
  for (std::size_t b = 0; b < blocks.size(); ++b) {
    count +=
        find_dates(blocks[b].text, book.tokens()[b], evidence.grammars, evidence.ledger.settings())
            .size();
  }
  return count;
}

}  // namespace tailproof::bench
