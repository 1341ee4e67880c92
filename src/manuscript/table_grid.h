// The grid of a table: which column each cell stands in when cells span columns and rows.
//
// Contract: rows are given from the top. A cell that spans rows stands, in the rows below its own,
// again at their left end (a serial written once for three rows names the subject of all three);
// further right its columns are only kept free.
#pragma once

#include <cstdint>
#include <map>
#include <string>
#include <vector>

#include "manuscript/assembly.h"

namespace tailproof {

/// One cell as written, before it has a place.
struct GridCell {
  TextBuilder text;
  std::uint32_t begin = 0;
  std::uint32_t end = 0;
  std::uint32_t column = kNone;  // where it says it stands; kNone: the next free one
  std::uint32_t columns = 1;
  std::uint32_t rows = 1;
};

class TableGrid {
 public:
  TableGrid(Assembly& assembly, std::uint32_t table) : assembly_(assembly), table_(table) {}

  /// A row of cells: a head row adds to the headings, another one becomes a block.
  void add_row(std::vector<GridCell> cells, bool is_head, Span span);
  /// No cell reaches further down than this.
  void end_part() { held_.clear(); }
  [[nodiscard]] std::uint32_t table() const { return table_; }

  std::map<std::string, std::uint32_t, std::less<>> column_names;
  /// Span names of CALS: first and last column.
  std::map<std::string, std::pair<std::uint32_t, std::uint32_t>, std::less<>> span_names;

 private:
  struct Held {
    RowCell cell;
    std::uint32_t rows_left = 0;
    bool is_first_column = false;  // of the columns the cell covers
  };
  Assembly& assembly_;
  std::uint32_t table_;
  std::map<std::uint32_t, Held> held_;  // by column
};

}  // namespace tailproof
