// Raw HTML inside Markdown: figures with captions, tables, headings, plain text.
//
// Tolerant, as browsers are: a tag that makes no sense is passed over, what is left open closes
// with the piece. A figure alone may reach over several pieces of raw HTML, with Markdown in
// between.
#pragma once

#include <memory>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "manuscript/assembly.h"
#include "manuscript/table_grid.h"

namespace tailproof {

/// An attribute; its value is bytes [begin, end) of the source, references not resolved.
struct HtmlAttribute {
  std::string name;  // in lower case
  std::uint32_t begin = 0;
  std::uint32_t end = 0;
};

struct HtmlTag {
  std::string name;  // in lower case; "" when there is no tag here
  bool is_end = false;
  std::vector<HtmlAttribute> attributes;
  std::uint32_t end = 0;  // offset behind it

  [[nodiscard]] const HtmlAttribute* find(std::string_view attribute) const;
};

/// The tag at `begin`, where `<` stands; an empty name when it is none. A tag that does not close
/// before `end` has an empty name, too, and its `end` is `end`.
[[nodiscard]] HtmlTag read_html_tag(std::string_view source, std::uint32_t begin,
                                    std::uint32_t end);
/// Adds source [begin, end), references resolved.
void add_html_text(TextBuilder& text, std::string_view source, std::uint32_t begin,
                   std::uint32_t end);

class HtmlFragmentReader {
 public:
  HtmlFragmentReader(Assembly& assembly, FileId file, std::string_view source)
      : assembly_(assembly), file_(file), source_(source) {}

  /// Reads one piece of raw HTML, source [begin, end).
  void read(std::uint32_t begin, std::uint32_t end);
  /// Group of the figure that is open, kNone outside one.
  [[nodiscard]] std::uint32_t figure_group() const { return figure_ ? figure_->group : kNone; }
  /// Closes what is open: the end of the manuscript.
  void finish();

 private:
  struct Picture {
    std::uint32_t group = kNone;
    std::uint32_t first_block = 0;
    std::string image;
    std::string credit;
  };

  void text(std::uint32_t begin, std::uint32_t end);
  std::uint32_t comment(std::uint32_t begin, std::uint32_t end);
  void tag(const HtmlTag& tag, std::uint32_t begin);
  bool table_tag(const HtmlTag& tag, std::uint32_t begin);
  void image(const HtmlTag& tag, std::uint32_t begin);
  void flush();
  void close_figure();
  void end_cell(std::uint32_t end);
  void end_row(std::uint32_t end);
  std::string value(const HtmlAttribute* attribute) const;

  Assembly& assembly_;
  FileId file_;
  std::string_view source_;
  TextBuilder text_;
  std::uint32_t heading_level_ = 0;  // 0: not in a heading
  std::optional<Picture> figure_;
  std::optional<Picture> last_picture_;  // outside a figure, in this piece
  std::unique_ptr<TableGrid> grid_;
  std::vector<GridCell> cells_;
  std::uint32_t row_begin_ = kNone;
  bool row_is_head_ = true;
  bool in_cell_ = false;
  bool in_table_caption_ = false;
};

}  // namespace tailproof
