// Lines of plain text and what one looks like by itself.
#pragma once

#include <cstdint>
#include <string_view>
#include <vector>

namespace tailproof {

/// A line without its end. A form feed ends a line too.
struct TextLine {
  std::uint32_t begin = 0;
  std::uint32_t end = 0;
  std::uint32_t next = 0;  // where the next one begins
  std::string_view text;

  [[nodiscard]] bool is_blank() const;
  [[nodiscard]] std::uint32_t indent() const;
};

[[nodiscard]] std::vector<TextLine> split_lines(std::string_view bytes, std::uint32_t begin);
[[nodiscard]] std::string_view trim_blanks(std::string_view text);

/// No small letter, and four capitals or more.
[[nodiscard]] bool is_all_capitals(std::string_view line);
/// "Chapter One", "PART II. THE NORTH", "Appendix B: Orders": no sentence that begins so.
[[nodiscard]] bool is_chapter_line(std::string_view line);
/// A line of one mark only that underlines a heading.
[[nodiscard]] bool is_underline(std::string_view line, std::string_view title);
/// A year, or two of them ("1914", "1914-18"), that head what follows: no book has so many pages.
[[nodiscard]] bool is_year_line(std::string_view line);
/// A page number, or a running head with one.
[[nodiscard]] bool is_page_furniture(std::string_view line);
/// A short line that ends like no sentence.
[[nodiscard]] bool is_short_title(std::string_view line);

/// Columns [begin, end) of a table's rule, counted in code points, tabs to the next eighth.
struct TextColumn {
  std::uint32_t begin = 0;
  std::uint32_t end = 0;
};
/// The columns that a rule of dashes marks: two groups or more; empty when the line is none.
[[nodiscard]] std::vector<TextColumn> rule_columns(std::string_view line);
/// Byte ranges of the cells of a row under that rule, relative to the line, blanks trimmed.
[[nodiscard]] std::vector<TextColumn> cut_row(std::string_view line,
                                              const std::vector<TextColumn>& columns);

}  // namespace tailproof
