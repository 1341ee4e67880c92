// From the file to blocks of text, each byte of which knows where it came from.
#include "task.h"

namespace tailproof::bench {

std::size_t run_reader(const Book& book);
std::size_t run_reader(const Book& book) {
  Sources sources;
  Complaints complaints;
  return read_manuscript(sources, book.path(), {}, complaints).value().blocks.size();
}

}  // namespace tailproof::bench
