// What the parsers themselves cost: md4c or pugixml over the same bytes, nothing made of it.
#include <md4c.h>

#include <pugixml.hpp>

#include "task.h"

namespace tailproof::bench {
namespace {

int count_block(MD_BLOCKTYPE, void*, void* user) {
  ++*static_cast<std::size_t*>(user);
  return 0;
}
int ignore_block(MD_BLOCKTYPE, void*, void*) { return 0; }
int ignore_span(MD_SPANTYPE, void*, void*) { return 0; }
int ignore_text(MD_TEXTTYPE, const MD_CHAR*, MD_SIZE, void*) { return 0; }

std::size_t children_of(pugi::xml_node node) {
  std::size_t count = 0;
  for (const pugi::xml_node child : node.children()) count += 1 + children_of(child);
  return count;
}

}  // namespace

std::size_t run_bare_parse(const Book& book);
std::size_t run_bare_parse(const Book& book) {
  if (book.is_xml()) {
    pugi::xml_document document;
    document.load_buffer(book.bytes().data(), book.bytes().size());
    return children_of(document);
  }
  std::size_t blocks = 0;
  const MD_PARSER parser{.abi_version = 0,
                         .flags = MD_FLAG_TABLES,
                         .enter_block = count_block,
                         .leave_block = ignore_block,
                         .enter_span = ignore_span,
                         .leave_span = ignore_span,
                         .text = ignore_text,
                         .debug_log = nullptr,
                         .syntax = nullptr};
  md_parse(book.bytes().data(), static_cast<MD_SIZE>(book.bytes().size()), &parser, &blocks);
  return blocks;
}

}  // namespace tailproof::bench
