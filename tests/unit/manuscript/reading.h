// Reads manuscripts written down in a test, and checks what every block promises.
#pragma once

#include <algorithm>
#include <catch2/catch.hpp>
#include <cstdlib>
#include <filesystem>
#include <fstream>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

#include "manuscript/reader.h"

namespace tailproof {

/// A folder of its own for one test, emptied first.
class TestFolder {
 public:
  explicit TestFolder(const std::string& name)
      : path_(std::string(TAILPROOF_BUILD) + "/test-files/" + name) {
    std::filesystem::remove_all(path_);
    std::filesystem::create_directories(path_);
  }
  std::string write(const std::string& name, std::string_view bytes) const {
    const std::string path = path_ + "/" + name;
    std::filesystem::create_directories(std::filesystem::path(path).parent_path());
    std::ofstream(path, std::ios::binary) << bytes;
    return path;
  }

 private:
  std::string path_;
};

struct Reading {
  Sources sources;
  Complaints complaints;
  Manuscript manuscript;
  std::vector<std::string> included;
  std::string failure;

  [[nodiscard]] const Block& block(std::size_t index) const { return manuscript.blocks.at(index); }
  [[nodiscard]] std::string_view source(const Span& span) const { return sources.text(span); }
  /// "kind figure|text" of every block.
  [[nodiscard]] std::vector<std::string> outline() const {
    std::vector<std::string> lines;
    for (const Block& each : manuscript.blocks) {
      std::string line(to_word(each.kind));
      if (each.kind == BlockKind::kHeading) line += std::to_string(each.level);
      if (!each.figure.empty()) line += " <" + each.figure + ">";
      lines.push_back(line + ": " + each.text);
    }
    return lines;
  }
  /// Source bytes of the first place where `text` stands in a block.
  [[nodiscard]] std::string source_of(std::string_view text) const {
    for (const Block& each : manuscript.blocks) {
      const std::size_t at = each.text.find(text);
      if (at == std::string::npos) continue;
      return std::string(sources.text(each.text_span(
          static_cast<std::uint32_t>(at), static_cast<std::uint32_t>(at + text.size()))));
    }
    return "(not found)";
  }
};

inline void read_into(Reading& reading, const std::string& path, const ReadOptions& options = {}) {
  auto result =
      read_manuscript(reading.sources, path, options, reading.complaints, &reading.included);
  if (result) {
    reading.manuscript = std::move(result).value();
  } else {
    reading.failure = to_line(result.error());
  }
}

/// What tailproof/manuscript.h promises of every block; "" when it holds.
inline std::string broken_promise(const Reading& reading) {
  const Manuscript& manuscript = reading.manuscript;
  if (manuscript.sections.size() != manuscript.blocks.size()) return "sections do not fit";
  for (std::size_t i = 0; i < manuscript.blocks.size(); ++i) {
    const Block& block = manuscript.blocks[i];
    const std::string where = "block " + std::to_string(i) + ": ";
    const std::string_view bytes = reading.sources.text(block.span.file);
    const auto size = static_cast<std::uint32_t>(block.text.size());
    if (block.text.empty() || block.text.front() == ' ' || block.text.back() == ' ') {
      return where + "text is empty or not trimmed";
    }
    if (block.text.find("  ") != std::string::npos) return where + "two spaces";
    if (block.text.find_first_of("\t\r\n\f\v") != std::string::npos) return where + "white space";
    if (block.span.begin >= block.span.end || block.span.end > bytes.size()) {
      return where + "span outside the file or empty";
    }
    if (block.runs.empty() || block.runs.front().text_begin != 0) return where + "no first run";
    for (std::size_t r = 0; r < block.runs.size(); ++r) {
      const MapRun& run = block.runs[r];
      const std::uint32_t end = r + 1 < block.runs.size() ? block.runs[r + 1].text_begin : size;
      if (run.text_begin >= end) return where + "runs leave a gap or overlap";
      if (run.source_begin + run.source_length > bytes.size())
        return where + "run outside the file";
      const std::string_view text =
          std::string_view(block.text).substr(run.text_begin, end - run.text_begin);
      if (run.verbatim && bytes.substr(run.source_begin, run.source_length) != text) {
        return where + "verbatim run differs: " + std::string(text);
      }
    }
    // A cell repeated from the row above stands further up than the rest of its row.
    const bool repeats =
        block.kind == BlockKind::kTableRow && block.runs.front().source_begin < block.span.begin;
    Span last = block.text_span(0, 0);
    for (std::uint32_t at = 0; at < size && !repeats; ++at) {
      const Span span = block.text_span(at, at + 1);
      if (span.end < span.begin || span.end > bytes.size()) return where + "bad span";
      if (span.begin < last.begin || span.end < last.end) return where + "spans run backwards";
      last = span;
    }
    const std::uint32_t section = manuscript.sections[i];
    if (section != kNone &&
        (section >= i || manuscript.blocks[section].kind != BlockKind::kHeading)) {
      return where + "its section is no heading before it";
    }
    for (const Cell& cell : block.cells) {
      if (cell.begin > cell.end || cell.end > size) return where + "cell outside the text";
    }
    if (block.table != kNone && block.table >= manuscript.tables.size())
      return where + "no such table";
  }
  for (const Stet& stet : manuscript.stets) {
    if (stet.reason.empty() || (stet.block != kNone && stet.block >= manuscript.blocks.size())) {
      return "a stet has no reason or no such block";
    }
  }
  return "";
}

inline Reading read_text_as(const std::string& name, std::string_view bytes,
                            const ReadOptions& options = {}) {
  const TestFolder folder("one-file");
  Reading reading;
  read_into(reading, folder.write(name, bytes), options);
  CHECK(broken_promise(reading) == "");
  return reading;
}

inline std::string with_crlf(std::string_view text) {
  std::string out;
  for (const char c : text) {
    if (c == '\n') out += '\r';
    out += c;
  }
  return out;
}

}  // namespace tailproof
