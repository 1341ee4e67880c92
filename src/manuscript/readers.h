// One function for each format; reader.cc chooses among them.
#pragma once

#include <string>
#include <vector>

#include "manuscript/assembly.h"
#include "manuscript/reader.h"

namespace tailproof {

void read_docbook(Assembly& assembly, FileId file, const ReadOptions& options,
                  std::vector<std::string>* included);
void read_markdown(Assembly& assembly, FileId file);
void read_text(Assembly& assembly, FileId file);
/// What is wrong, when the list has no column `caption`; else nothing.
[[nodiscard]] std::optional<Failure> read_caption_list(Assembly& assembly, FileId file);

/// Offset of the first byte behind a byte-order mark.
[[nodiscard]] inline std::uint32_t text_begin(std::string_view bytes) {
  return bytes.starts_with("\xEF\xBB\xBF") ? 3 : 0;
}

}  // namespace tailproof
