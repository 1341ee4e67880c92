// Tables, CALS and HTML alike: each row a block, the head's cells the headings.

#include <algorithm>
#include <cstdlib>
#include <tuple>
#include <utility>

#include "manuscript/docbook_reader.h"

namespace tailproof {
namespace {

std::uint32_t number(const std::string& text, std::uint32_t otherwise) {
  if (text.empty()) return otherwise;
  const long value = std::strtol(text.c_str(), nullptr, 10);
  return value < 0 ? otherwise : static_cast<std::uint32_t>(std::min(value, 10000L));
}

bool is_cell(std::string_view name) {
  return name == "entry" || name == "entrytbl" || name == "td" || name == "th";
}

bool has_only_heads(pugi::xml_node row) {
  bool any = false;
  for (const pugi::xml_node child : row.children()) {
    if (child.type() != pugi::node_element) continue;
    if (local_name(child) != "th") return false;
    any = true;
  }
  return any;
}

}  // namespace

void DocBookReader::table(pugi::xml_node node, const XmlOrigin& origin) {
  TableGrid grid(assembly_, assembly_.new_table());
  std::string label;
  if (local_name(node) == "table") {
    const std::string number =
        (chapter_label_.empty() ? "" : chapter_label_ + ".") + std::to_string(++table_count_);
    const std::string written = attribute(node, "label", origin);
    if (!written.empty()) label = "Table " + written;
    note_target(node, origin, "Table " + (written.empty() ? number : written));
  }
  // The number that the printed page puts before the title.
  const auto set_caption = [&](std::uint32_t block) {
    if (block == kNone) return;
    const std::string& text = assembly_.block(block).text;
    const bool has_number = label.empty() || text.starts_with("Table ");
    assembly_.table(grid.table()).caption = has_number ? text : label + ". " + text;
  };
  bool is_first_row = true;
  for (const pugi::xml_node child : node.children()) {
    if (child.type() == pugi::node_pi) stet(child, origin, nullptr);
    if (child.type() != pugi::node_element) continue;
    const std::string_view name = local_name(child);
    if (name == "title" || name == "caption") {
      set_caption(paragraph(child, origin, BlockKind::kBody));
    } else if (role_of(name) == Role::kInfo) {
      const pugi::xml_node title = child.child("title");
      set_caption(title ? paragraph(title, origin, BlockKind::kBody) : kNone);
    } else if (name == "tgroup") {
      table_part(child, origin, grid, false);
    } else if (name == "thead" || name == "tbody" || name == "tfoot") {
      table_part(child, origin, grid, name == "thead");
      is_first_row = false;
    } else if (name == "tr") {
      row(child, origin, grid, is_first_row && has_only_heads(child));
      is_first_row = false;
    } else if (name == "textobject") {
      children(child, origin, false);
    }
  }
}

void DocBookReader::table_part(pugi::xml_node node, const XmlOrigin& origin, TableGrid& grid,
                               bool is_head) {
  if (local_name(node) == "tgroup") {
    grid.column_names.clear();
    grid.span_names.clear();
    assembly_.table(grid.table()).headings.clear();
  }
  read_columns(node, origin, grid);
  bool is_first_row = !is_head;
  for (const pugi::xml_node child : node.children()) {
    if (child.type() == pugi::node_pi) stet(child, origin, nullptr);
    if (child.type() != pugi::node_element) continue;
    const std::string_view name = local_name(child);
    if (name == "thead" || name == "tbody" || name == "tfoot") {
      table_part(child, origin, grid, name == "thead");
    } else if (name == "row" || name == "tr") {
      const bool heads = is_head || (is_first_row && has_only_heads(child) &&
                                     assembly_.table(grid.table()).headings.empty());
      row(child, origin, grid, heads);
      is_first_row = false;
    } else if (name == "include") {
      include(child, origin, nullptr);
    }
  }
  grid.end_part();
}

void DocBookReader::read_columns(pugi::xml_node group, const XmlOrigin& origin, TableGrid& grid) {
  std::uint32_t next = 0;
  for (const pugi::xml_node child : group.children()) {
    if (child.type() != pugi::node_element) continue;
    const std::string_view name = local_name(child);
    if (name == "colspec") {
      const std::uint32_t written = number(attribute(child, "colnum", origin), next + 1);
      next = std::max(written, 1U);
      grid.column_names[attribute(child, "colname", origin)] = next - 1;
    } else if (name == "spanspec") {
      const auto first = grid.column_names.find(attribute(child, "namest", origin));
      const auto last = grid.column_names.find(attribute(child, "nameend", origin));
      if (first != grid.column_names.end() && last != grid.column_names.end()) {
        grid.span_names[attribute(child, "spanname", origin)] = {first->second, last->second};
      }
    }
  }
}

GridCell DocBookReader::cell(pugi::xml_node entry, const XmlOrigin& origin, Flow& flow) {
  GridCell cell;
  const Span span = element_span(entry, origin);
  cell.begin = span.begin;
  cell.end = span.end;
  inlines(entry, origin, flow);
  cell.text = std::move(flow.text);
  flow.text.clear();
  cell.columns = number(attribute(entry, "colspan", origin), 1);
  cell.rows = std::max(number(attribute(entry, "rowspan", origin), 1),
                       1 + number(attribute(entry, "morerows", origin), 0));
  return cell;
}

void DocBookReader::row(pugi::xml_node node, const XmlOrigin& origin, TableGrid& grid,
                        bool is_head) {
  std::vector<GridCell> cells;
  Flow flow;
  flow.keeps_together = true;
  const auto column_of = [&](const pugi::xml_node& entry, const char* name) {
    const auto found = grid.column_names.find(attribute(entry, name, origin));
    return found == grid.column_names.end() ? kNone : found->second;
  };
  for (const pugi::xml_node child : node.children()) {
    if (child.type() == pugi::node_pi) stet(child, origin, &flow);
    if (child.type() != pugi::node_element || !is_cell(local_name(child))) continue;
    GridCell cell = this->cell(child, origin, flow);
    std::uint32_t first = kNone;
    std::uint32_t last = kNone;
    if (child.attribute("colname")) first = last = column_of(child, "colname");
    if (child.attribute("namest")) {
      first = column_of(child, "namest");
      last = column_of(child, "nameend");
    }
    const auto span = grid.span_names.find(attribute(child, "spanname", origin));
    if (span != grid.span_names.end()) std::tie(first, last) = span->second;
    cell.column = first;
    if (first != kNone && last != kNone && last > first) cell.columns = last - first + 1;
    cells.push_back(std::move(cell));
  }
  const std::uint32_t before = assembly_.block_count();
  for (const auto& [body, span] : flow.stets) assembly_.add_stet(body, span);
  grid.add_row(std::move(cells), is_head, element_span(node, origin));
  if (figure_ != nullptr && assembly_.block_count() > before) {
    assembly_.block(before).group = figure_->group;
  }
  read_deferred(flow);
}

}  // namespace tailproof
