// The yardstick: one pass of RE2 with one date pattern over the bytes as they are.
#include <re2/re2.h>

#include "task.h"

namespace tailproof::bench {

std::size_t run_re2_dates(const Book& book);
std::size_t run_re2_dates(const Book& book) {
  static const RE2 kDate(
      "\\b(?:[0-9]{1,2} )?(?:January|February|March|April|May|June|July|August|September|October|"
      "November|December) (?:19)[0-9]{2}\\b");
  re2::StringPiece rest(book.bytes());
  std::size_t count = 0;
  while (RE2::FindAndConsume(&rest, kDate)) ++count;
  return count;
}

}  // namespace tailproof::bench
