// What a paragraph of Markdown is: body text, a caption, pictures with captions, a table's caption.
//
// Contract: paragraphs and tables are given in reading order, so that a caption finds the picture
// directly before it and a table's caption the table directly before or behind it.
#pragma once

#include <cstdint>
#include <optional>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

#include "manuscript/assembly.h"
#include "manuscript/table_captions.h"

namespace tailproof {

/// A piece of a paragraph: text between pictures, or a picture with its alternative text.
struct MarkdownPart {
  TextBuilder text;
  bool is_image = false;
  bool has_plain = false;  // some of the text is not in italics
  std::string image;
  std::string credit;
  std::uint32_t begin = 0;  // of a picture, in the source
  std::uint32_t end = 0;
  std::vector<std::pair<std::string, Span>> stets;
};

class MarkdownParagraphs {
 public:
  MarkdownParagraphs(Assembly& assembly, FileId file)
      : assembly_(assembly),
        file_(file),
        source_(assembly.sources().text(file)),
        table_captions_(assembly) {}

  /// One paragraph, or a heading when `heading_level` is not 0. `figure_group` is the figure of raw
  /// HTML that is open around it, or kNone.
  void add(std::vector<MarkdownPart> parts, std::uint32_t heading_level,
           std::uint32_t figure_group);
  /// Something else stands between: a picture before it waits for no caption any more.
  void interrupt() { open_picture_.reset(); }
  void begin_table(std::uint32_t table);
  void end_table(std::uint32_t table) { table_captions_.end_table(table); }

 private:
  struct Picture {
    std::uint32_t group = kNone;
    std::uint32_t first_block = 0;
    std::string image;
    std::string credit;
  };

  void add_text(MarkdownPart& part, std::uint32_t figure_group);
  void add_with_images(std::vector<MarkdownPart>& parts);
  void add_image(MarkdownPart& part, const Picture& picture);
  std::uint32_t push(TextBuilder& text, BlockKind kind, std::uint32_t group);
  void push_stets(const MarkdownPart& part, std::uint32_t block);
  void label(const Picture& picture);
  [[nodiscard]] Span span_of(const TextBuilder& text) const;

  Assembly& assembly_;
  FileId file_;
  std::string_view source_;
  std::uint32_t heading_level_ = 0;
  std::optional<Picture> open_picture_;  // alone in the paragraph before, still without a caption
  TableCaptions table_captions_;
};

}  // namespace tailproof
