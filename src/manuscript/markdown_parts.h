// Footnote definitions, front matter and aligned tables: what stands in Markdown but not in
// CommonMark.
#pragma once

#include <cstdint>
#include <string_view>
#include <unordered_set>
#include <vector>

namespace tailproof {

/// `[^label]: text`; its text is bytes [begin, end), line ends and indents included.
struct FootnoteDefinition {
  std::uint32_t marker = 0;  // where its line begins
  std::uint32_t begin = 0;
  std::uint32_t end = 0;
};

/// Lines of a table whose columns a rule of dashes marks ("-------  ----"), the last line's end
/// not included.
struct AlignedLines {
  std::uint32_t begin = 0;
  std::uint32_t end = 0;
};

struct MarkdownParts {
  std::uint32_t body_begin = 0;  // behind byte-order mark and front matter
  std::vector<FootnoteDefinition> footnotes;
  std::unordered_set<std::string_view> labels;  // of the footnotes
  std::vector<AlignedLines> tables;
};

/// Cost: a look at how each line begins, and one search for `[^`; only a text that has a definition
/// or an aligned table is gone through with care.
[[nodiscard]] MarkdownParts find_markdown_parts(std::string_view bytes);

}  // namespace tailproof
