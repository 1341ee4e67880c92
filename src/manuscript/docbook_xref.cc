// Cross references: `<xref linkend="f2"/>` is printed as "Figure 2.1", and read so.
//
// The number may be known only later, so a mark stands in the text until everything is read. What
// refers to something without a number of its own (a section, an id of another file) is "…".

#include <algorithm>
#include <string>
#include <utility>

#include "manuscript/docbook_reader.h"

namespace tailproof {
namespace {

constexpr std::string_view kUnknown = "\u2026";
constexpr std::string_view kMark = "\xEF\xBF\xBC";  // U+FFFC, object replacement character

std::uint64_t place_of(FileId file, std::uint32_t offset) {
  return static_cast<std::uint64_t>(file) << 32U | offset;
}

void remove_marks(std::string& text) {
  std::size_t at = 0;
  while ((at = text.find(kMark, at)) != std::string::npos) text.erase(at, kMark.size());
}

}  // namespace

void DocBookReader::cross_reference(pugi::xml_node node, const XmlOrigin& origin, Flow& flow) {
  std::string id = attribute(node, "linkend", origin);
  if (id.empty()) {
    id = attribute(node, "xlink:href", origin);
    if (!id.starts_with('#')) return;
    id.erase(0, 1);
  }
  const Span span = element_span(node, origin);
  references_[place_of(span.file, span.begin)] = std::move(id);
  flow.text.add_literal(kMark, span.begin, span.size());
}

void DocBookReader::note_target(pugi::xml_node node, const XmlOrigin& origin, std::string text) {
  std::string id = attribute(node, "xml:id", origin);
  if (id.empty()) id = attribute(node, "id", origin);
  if (!id.empty()) targets_[std::move(id)] = std::move(text);
}

void DocBookReader::note_ids() {
  for (const auto& [path, file] : files_) {
    if (file == nullptr) continue;
    std::vector<pugi::xml_node> open{file->document};
    while (!open.empty()) {
      const pugi::xml_node node = open.back();
      open.pop_back();
      for (const char* name : {"xml:id", "id"}) {
        const pugi::xml_attribute id = node.attribute(name);
        if (!id.empty()) assembly_.add_id(id.value());
      }
      for (const pugi::xml_node child : node.children()) open.push_back(child);
    }
  }
}

void DocBookReader::resolve_cross_references() {
  note_ids();
  if (references_.empty()) return;
  for (std::uint32_t i = 0; i < assembly_.block_count(); ++i) {
    if (assembly_.block(i).text.find(kMark) != std::string::npos) resolve_in(i);
  }
  for (std::uint32_t i = 0; i < assembly_.table_count(); ++i) {
    remove_marks(assembly_.table(i).caption);
    for (std::string& heading : assembly_.table(i).headings) remove_marks(heading);
  }
}

// Builds the block's text anew from its runs, with each mark replaced.
void DocBookReader::resolve_in(std::uint32_t index) {
  Block& block = assembly_.block(index);
  std::string text;
  std::vector<MapRun> runs;
  std::vector<std::pair<std::uint32_t, std::uint32_t>> moves;  // offset before, offset after
  const std::string_view old = block.text;
  for (std::size_t i = 0; i < block.runs.size(); ++i) {
    MapRun run = block.runs[i];
    const std::size_t end = i + 1 < block.runs.size() ? block.runs[i + 1].text_begin : old.size();
    std::string_view piece = old.substr(run.text_begin, end - run.text_begin);
    const auto reference = references_.find(place_of(block.span.file, run.source_begin));
    if (!run.verbatim && piece.starts_with(kMark) && reference != references_.end()) {
      assembly_.add_cross_reference(
          {{block.span.file, run.source_begin, run.source_begin + run.source_length},
           reference->second,
           index});
      const auto target = targets_.find(reference->second);
      piece = target == targets_.end() ? kUnknown : std::string_view(target->second);
    }
    moves.emplace_back(run.text_begin, static_cast<std::uint32_t>(text.size()));
    run.text_begin = static_cast<std::uint32_t>(text.size());
    runs.push_back(run);
    text += piece;
  }
  const auto moved = [&](std::uint32_t offset) {
    std::uint32_t after = 0;
    for (const auto& [from, to] : moves) {
      if (from <= offset) after = to + (offset - from);
    }
    return std::min(after, static_cast<std::uint32_t>(text.size()));
  };
  for (Cell& cell : block.cells) {
    cell.begin = moved(cell.begin);
    cell.end = moved(cell.end);
  }
  block.text = std::move(text);
  block.runs = std::move(runs);
}

}  // namespace tailproof
