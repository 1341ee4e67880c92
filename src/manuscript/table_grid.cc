#include "manuscript/table_grid.h"

#include <algorithm>
#include <utility>

namespace tailproof {
namespace {

// More than any printed table has; keeps a false number from asking for endless columns.
constexpr std::uint32_t kMostColumns = 1000;

}  // namespace

void TableGrid::add_row(std::vector<GridCell> cells, bool is_head, Span span) {
  std::vector<RowCell> row;
  std::map<std::uint32_t, Held> held;
  std::uint32_t next = 0;
  for (GridCell& cell : cells) {
    std::uint32_t column = cell.column;
    if (column == kNone) {
      column = next;
      while (held_.contains(column)) ++column;
    }
    column = std::min(column, kMostColumns);
    const std::uint32_t columns = std::clamp(cell.columns, 1U, kMostColumns);
    next = column + columns;
    cell.text.trim();
    RowCell placed{std::move(cell.text), column, cell.begin, cell.end};
    if (cell.rows > 1) {
      for (std::uint32_t i = 0; i < columns; ++i) {
        held[column + i] = {placed, cell.rows - 1, i == 0};
      }
    }
    if (is_head) {
      for (std::uint32_t i = 0; i < columns; ++i) {
        add_heading(assembly_.table(table_), column + i, placed.text.text());
      }
    }
    row.push_back(std::move(placed));
  }
  const std::uint32_t first_own = row.empty() ? kMostColumns : row.front().column;
  std::vector<RowCell> all;
  for (auto at = held_.begin(); at != held_.end();) {
    Held& from_above = at->second;
    if (!is_head && from_above.is_first_column && at->first < first_own) {
      all.push_back(from_above.cell);
    }
    at = --from_above.rows_left == 0 ? held_.erase(at) : std::next(at);
  }
  for (RowCell& cell : row) all.push_back(std::move(cell));
  held_.merge(held);
  if (!is_head) assembly_.push_row(all, table_, span);
}

}  // namespace tailproof
