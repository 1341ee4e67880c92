#include "manuscript/aligned_table.h"

#include <algorithm>
#include <utility>

namespace tailproof {

void AlignedTable::add_head(const TextLine& line) {
  const std::vector<TextColumn> cells = cut_row(line.text, columns_);
  for (std::size_t i = 0; i < cells.size(); ++i) {
    TextBuilder text;
    text.add(line.text.substr(cells[i].begin, cells[i].end - cells[i].begin), 0);
    add_heading(assembly_.table(table_), static_cast<std::uint32_t>(i), text.text());
  }
}

void AlignedTable::add(const TextLine& line) {
  if (!rule_columns(line.text).empty()) return;
  const std::vector<TextColumn> cells = cut_row(line.text, columns_);
  const bool is_continued = !row_.empty() && cells.back().end > cells.back().begin &&
                            std::all_of(cells.begin(), cells.end() - 1, [](const TextColumn& each) {
                              return each.begin == each.end;
                            });
  if (is_continued) {
    // Only the last cell goes on: the row's text still follows the source.
    RowCell& last = row_.back();
    const std::uint32_t begin = line.begin + cells.back().begin;
    if (!last.text.empty()) last.text.add_for(" ", last.end, begin - last.end);
    last.text.add(line.text.substr(cells.back().begin, cells.back().end - cells.back().begin),
                  begin);
    last.end = line.begin + cells.back().end;
    span_.end = line.end;
    return;
  }
  end_row();
  span_ = {file_, line.begin, line.end};
  for (std::size_t c = 0; c < cells.size(); ++c) {
    RowCell cell;
    cell.column = static_cast<std::uint32_t>(c);
    cell.begin = line.begin + cells[c].begin;
    cell.end = line.begin + cells[c].end;
    cell.text.add(line.text.substr(cells[c].begin, cells[c].end - cells[c].begin), cell.begin);
    row_.push_back(std::move(cell));
  }
}

void AlignedTable::end_row() {
  if (!row_.empty()) assembly_.push_row(row_, table_, span_);
  row_.clear();
}

}  // namespace tailproof
