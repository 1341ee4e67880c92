#include "manuscript/assembly.h"

#include <algorithm>
#include <numeric>
#include <utility>

#include "manuscript/labels.h"

namespace tailproof {
namespace {

constexpr std::string_view kBlanks = " \t\r\n";

std::string_view trimmed(std::string_view text) {
  const std::size_t begin = text.find_first_not_of(kBlanks);
  if (begin == std::string_view::npos) return {};
  return text.substr(begin, text.find_last_not_of(kBlanks) - begin + 1);
}

std::string folded(std::string_view text) {
  std::string out;
  for (const char c : text) {
    const bool blank = kBlanks.find(c) != std::string_view::npos;
    if (!blank) {
      out.push_back(c);
    } else if (!out.empty() && out.back() != ' ') {
      out.push_back(' ');
    }
  }
  return out;
}

// For each block the heading above it with a lower level: a stack of open headings.
std::vector<std::uint32_t> find_sections(const std::vector<Block>& blocks) {
  std::vector<std::uint32_t> sections(blocks.size(), kNone);
  std::vector<std::uint32_t> open;
  for (std::uint32_t i = 0; i < blocks.size(); ++i) {
    const bool is_heading = blocks[i].kind == BlockKind::kHeading;
    while (is_heading && !open.empty() && blocks[open.back()].level >= blocks[i].level) {
      open.pop_back();
    }
    if (!open.empty()) sections[i] = open.back();
    if (is_heading) open.push_back(i);
  }
  return sections;
}

// Leaves at most so many bytes of the block's text, and no half of a word that is one.
void cut(Block& block, std::uint32_t most) {
  constexpr std::size_t kLongestWord = 1024;
  const std::size_t blank = block.text.rfind(' ', most);
  const bool ends_word = blank != std::string::npos && most - blank < kLongestWord;
  std::uint32_t end = ends_word ? static_cast<std::uint32_t>(blank) : most;
  while (end > 0 && (static_cast<unsigned char>(block.text[end]) & 0xC0U) == 0x80U) --end;
  block.text.resize(end);
  std::erase_if(block.runs, [end](const MapRun& run) { return run.text_begin >= end; });
  if (!block.runs.empty() && block.runs.back().verbatim) {
    MapRun& last = block.runs.back();
    last.source_length = std::min(last.source_length, end - last.text_begin);
  }
  for (Cell& cell : block.cells) {
    cell.begin = std::min(cell.begin, end);
    cell.end = std::min(cell.end, end);
  }
}

}  // namespace

void Assembly::resolve_ditto(RowCell& cell, std::uint32_t table) {
  if (table != table_above_) cells_above_.clear();
  table_above_ = table;
  if (cell.column >= cells_above_.size()) cells_above_.resize(cell.column + std::size_t{1});
  std::string& above = cells_above_[cell.column];
  if (is_ditto(cell.text.text()) && !above.empty()) {
    const std::uint32_t begin = cell.text.source_begin();
    const std::uint32_t length = cell.text.source_end() - begin;
    cell.text.clear();
    cell.text.add_for(above, begin, length);
  } else {
    above = cell.text.text();
  }
}

std::uint32_t Assembly::push(Block block) {
  block.is_quotation = quotation_depth_ > 0 && block.kind == BlockKind::kBody;
  manuscript_.blocks.push_back(std::move(block));
  settle_stets(block_count() - 1);
  return block_count() - 1;
}

void Assembly::push_row(std::vector<RowCell>& cells, std::uint32_t table, Span span) {
  Block block;
  block.kind = BlockKind::kTableRow;
  block.table = table;
  block.span = span;
  block.cells.reserve(cells.size());
  TextBuilder text;
  bool has_text = false;
  for (std::size_t i = 0; i < cells.size(); ++i) {
    RowCell& cell = cells[i];
    cell.text.trim();
    resolve_ditto(cell, table);
    if (i > 0) {
      const std::uint32_t gap = cells[i - 1].end;
      const std::string_view bar = cell.text.empty() ? " |" : " | ";
      text.add_literal(text.empty() ? bar.substr(1) : bar, gap,
                       cell.begin > gap ? cell.begin - gap : 0);
    }
    Cell place{text.size(), text.size(), cell.column};
    // The bar before it ends in a space, so the cell adds none of its own.
    text.add_block(cell.text, cell.begin, 0);
    place.end = text.size();
    has_text = has_text || place.end > place.begin;
    block.cells.push_back(place);
  }
  if (!has_text) return;
  text.move_into(block);
  push(std::move(block));
}

void Assembly::add_stet(std::string_view body, Span span, std::uint32_t block) {
  const std::size_t colon = body.find(':');
  const std::string_view check = trimmed(body.substr(0, colon));
  const std::string_view reason =
      colon == std::string_view::npos ? std::string_view{} : trimmed(body.substr(colon + 1));
  if (check.empty() || reason.empty() || check.find_first_of(kBlanks) != std::string_view::npos) {
    complain(span.file, span.begin,
             "this stet names no " + std::string(reason.empty() ? "reason" : "check") +
                 "; write it as \"stet CHECK: reason\"");
    return;
  }
  const auto index = static_cast<std::uint32_t>(manuscript_.stets.size());
  manuscript_.stets.push_back({std::string(check), folded(reason), span, block});
  if (block == kNone) waiting_stets_.push_back(index);
}

void Assembly::settle_stets(std::uint32_t block) {
  for (const std::uint32_t stet : waiting_stets_) manuscript_.stets[stet].block = block;
  waiting_stets_.clear();
}

std::uint32_t Assembly::new_table() {
  manuscript_.tables.emplace_back();
  return static_cast<std::uint32_t>(manuscript_.tables.size() - 1);
}

void Assembly::complain(FileId file, std::uint32_t offset, std::string message, bool is_note) {
  const Position place = sources_.position(file, offset);
  complaints_.push_back(
      {sources_.path(file), place.line, place.column, std::move(message), is_note});
}

void Assembly::sort_blocks() {
  auto& blocks = manuscript_.blocks;
  std::vector<std::uint32_t> order(blocks.size());
  std::iota(order.begin(), order.end(), 0U);
  std::stable_sort(order.begin(), order.end(), [&blocks](std::uint32_t a, std::uint32_t b) {
    return blocks[a].span.begin < blocks[b].span.begin;
  });
  std::vector<std::uint32_t> new_place(blocks.size());
  std::vector<Block> sorted;
  sorted.reserve(blocks.size());
  for (const std::uint32_t old : order) {
    new_place[old] = static_cast<std::uint32_t>(sorted.size());
    sorted.push_back(std::move(blocks[old]));
  }
  blocks = std::move(sorted);
  for (Stet& stet : manuscript_.stets) {
    if (stet.block != kNone) stet.block = new_place[stet.block];
  }
}

void Assembly::cut_long_blocks() {
  for (Block& block : manuscript_.blocks) {
    const bool is_body = block.kind == BlockKind::kBody;
    const std::size_t most = is_body ? kMostBodyBytes : kMostCaptionBytes;
    if (block.text.size() <= most) continue;
    cut(block, static_cast<std::uint32_t>(most));
    complain(block.span.file, block.span.begin,
             std::string("this ") + std::string(to_word(block.kind)) + " has more than " +
                 (is_body ? "1 MiB" : "128 KiB") +
                 " of text; what stands behind that is not read; split it");
  }
}

Manuscript Assembly::finish() {
  cut_long_blocks();
  manuscript_.sections = find_sections(manuscript_.blocks);
  return std::move(manuscript_);
}

void add_heading(Table& table, std::uint32_t column, std::string_view text) {
  if (table.headings.size() <= column) table.headings.resize(column + 1);
  std::string& heading = table.headings[column];
  if (!heading.empty() && !text.empty()) heading += ' ';
  heading += text;
}

std::string_view stet_body(std::string_view text) {
  const std::size_t begin = text.find_first_not_of(kBlanks);
  if (begin == std::string_view::npos || !text.substr(begin).starts_with("stet")) return {};
  const std::string_view rest = text.substr(begin + 4);
  if (!rest.empty() && kBlanks.find(rest[0]) == std::string_view::npos) return {};
  return rest;
}

void label_group(Assembly& assembly, std::uint32_t first, std::uint32_t group, std::string label,
                 std::string_view image, std::string_view credit) {
  for (std::uint32_t i = first; i < assembly.block_count() && label.empty(); ++i) {
    if (assembly.block(i).group != group) continue;
    if (const auto found = leading_figure_label(assembly.block(i).text)) label = found->label;
  }
  for (std::uint32_t i = first; i < assembly.block_count(); ++i) {
    Block& block = assembly.block(i);
    if (block.group != group) continue;
    block.figure = label;
    if (block.image.empty()) block.image = image;
    if (block.credit.empty()) block.credit = credit;
  }
}

}  // namespace tailproof
