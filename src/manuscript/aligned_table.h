// A table whose columns stand one under another, marked by a rule of dashes: plain text, Markdown.
//
// Contract: lines are given in the order of the source. A line with nothing but its last cell goes
// on with the row before it; of other cells only one line is read as one, since a row's text
// follows the source.
#pragma once

#include <cstdint>
#include <vector>

#include "manuscript/assembly.h"
#include "manuscript/text_lines.h"

namespace tailproof {

class AlignedTable {
 public:
  /// `columns` as rule_columns has them; rows go to `table` of the assembly.
  AlignedTable(Assembly& assembly, FileId file, const std::vector<TextColumn>& columns,
               std::uint32_t table)
      : assembly_(assembly), file_(file), columns_(columns), table_(table) {}

  /// A line above the rule: its cells are the columns' headings.
  void add_head(const TextLine& line);
  /// A line below it; another rule is passed over.
  void add(const TextLine& line);
  /// What follows is no part of the row begun last. To be called behind the last line, too.
  void end_row();

 private:
  Assembly& assembly_;
  FileId file_;
  const std::vector<TextColumn>& columns_;
  std::uint32_t table_;
  std::vector<RowCell> row_;
  Span span_;
};

}  // namespace tailproof
