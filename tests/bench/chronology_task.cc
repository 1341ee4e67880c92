// Brackets of all photographs, and everything about them that clashes.
#include "tailproof/chronology.h"
#include "task.h"

namespace tailproof::bench {

std::size_t run_chronology(const Book& book);
std::size_t run_chronology(const Book& book) {
  const CheckInput input{.manuscripts = book.manuscripts(),
                         .claims = book.claims(),
                         .ledger = book.evidence().ledger,
                         .stets = {},
                         .check_ids = {}};
  const Chronology chronology(input);
  std::size_t count = chronology.clashes().size();
  for (const Bracket& bracket : chronology.brackets()) {
    count += bracket.earliest.is_known || bracket.latest.is_known ? 1 : 0;
  }
  return count;
}

}  // namespace tailproof::bench
