// From blocks to claims, mentions and the making of the lexicon included.
#include "claims/extract.h"
#include "task.h"

namespace tailproof::bench {

std::size_t run_claims(const Book& book);
std::size_t run_claims(const Book& book) {
  return extract_claims(book.manuscripts(), book.evidence().ledger, book.evidence().grammars)
      .size();
}

}  // namespace tailproof::bench
