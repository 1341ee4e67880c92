// Bytes checked as UTF-8, with the index of lines.
#include "source/sources.h"
#include "task.h"

namespace tailproof::bench {

std::size_t run_sources(const Book& book);
std::size_t run_sources(const Book& book) {
  Sources sources;
  const FileId file = sources.add("book", book.bytes()).value();
  return sources.position(file, static_cast<std::uint32_t>(book.bytes().size() - 1)).line;
}

}  // namespace tailproof::bench
