// The dates of every block.
#include "mentions/date_reader.h"
#include "task.h"

namespace tailproof::bench {

std::size_t run_dates(const Book& book);
std::size_t run_dates(const Book& book) {
  const Evidence& evidence = book.evidence();
  const auto& blocks = book.manuscripts().front().blocks;
  DateReader reader(evidence.grammars, evidence.ledger.settings());
  std::size_t count = 0;
  for (std::size_t b = 0; b < blocks.size(); ++b) {
    count += reader.find(blocks[b].text, book.tokens()[b]).size();
  }
  return count;
}

}  // namespace tailproof::bench
