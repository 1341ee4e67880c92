// A desk for tests of extraction: an invented ledger from a few tables, the English grammars, and
// manuscripts of one block each.
#pragma once

#include <unistd.h>

#include <catch2/catch.hpp>
#include <cstddef>
#include <filesystem>
#include <fstream>
#include <string>
#include <utility>
#include <vector>

#include "claims/extract.h"
#include "grammars/grammars.h"
#include "ledger/reader.h"

namespace tailproof::testing {

/// A file of a ledger: "units.csv" and its rows.
struct LedgerFile {
  const char* name;
  const char* text;
};

/// The ledger of these files, written to a folder and read as any other; what is wrong with it
/// fails the test.
template <std::size_t kCount>
[[nodiscard]] Ledger ledger_of(const LedgerFile (&files)[kCount]) {
  static int number = 0;
  const auto folder =
      std::filesystem::temp_directory_path() /
      ("tailproof_claims_desk_" + std::to_string(++number) + "_" + std::to_string(::getpid()));
  std::filesystem::create_directories(folder);
  for (const LedgerFile& file : files) std::ofstream(folder / file.name) << file.text;
  Complaints complaints;
  auto read = read_ledger(folder.string(), complaints);
  for (const Complaint& complaint : complaints) FAIL_CHECK(to_line(complaint));
  std::filesystem::remove_all(folder);
  REQUIRE(read.has_value());
  return std::move(read).value();
}

/// The program's own grammars.
[[nodiscard]] inline const Grammars& english() {
  static const Grammars kept = [] {
    Complaints complaints;
    Grammars read =
        Grammars::read({}, {std::string(TAILPROOF_TOP) + "/grammars"}, "en", complaints);
    for (const Complaint& complaint : complaints) FAIL_CHECK(to_line(complaint));
    return read;
  }();
  return kept;
}

/// Adds a block whose bytes are its text; a caption is that of the figure named, of its own group.
inline void add_block(Manuscript& manuscript, BlockKind kind, const std::string& text,
                      const std::string& figure = "Fig. 1") {
  Block block;
  block.kind = kind;
  block.text = text;
  block.runs = {{0, 0, static_cast<std::uint32_t>(text.size()), true}};
  if (kind == BlockKind::kCaption) {
    block.figure = figure;
    block.group = static_cast<std::uint32_t>(manuscript.blocks.size());
  }
  manuscript.blocks.push_back(std::move(block));
  manuscript.sections.push_back(kNone);
}

/// A manuscript of one block.
[[nodiscard]] inline std::vector<Manuscript> one_block(BlockKind kind, const std::string& text) {
  std::vector<Manuscript> manuscripts(1);
  add_block(manuscripts[0], kind, text);
  return manuscripts;
}

}  // namespace tailproof::testing
