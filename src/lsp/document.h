// A text that is open in the editor, as it is there.
//
// Contract: the lines are always those of the text. Cost: of a change, moving the text behind it
// and the lines' numbers, and looking at the lines it touches.
#pragma once

#include <cstdint>
#include <string>
#include <string_view>
#include <vector>

#include "lsp/places.h"

namespace tailproof::lsp {

struct Document {
  std::string uri;  // as the client writes it
  std::string path;
  std::string language;  // the client's languageId
  std::int64_t version = 0;
  std::string text;
  std::vector<std::uint32_t> line_begins = {0};

  void set_text(std::string words);
  /// Puts `words` in place of bytes [begin, end).
  void replace(std::uint32_t begin, std::uint32_t end, std::string_view words);
  /// One of the contentChanges of a notification, with a range or the whole text. False when it is
  /// none, or the text would become longer than 4 GiB; nothing has changed then.
  bool apply(const Json& change, PositionEncoding encoding);
};

}  // namespace tailproof::lsp
