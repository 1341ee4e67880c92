// What the query sheet shows, in order: entries (captions, and whatever else a query stands at),
// each with its claims and queries, and the lists by which it is filtered.
#pragma once

#include <cstdint>
#include <map>
#include <string>
#include <string_view>
#include <vector>

#include "report/report.h"

namespace tailproof {

/// Words of a block that a mark is put on.
struct SheetMark {
  std::uint32_t begin = 0, end = 0;  // in the block's text
  Verdict verdict = Verdict::kUnproven;
  std::vector<std::uint32_t> claims;  // indices into Run::claims
};

struct SheetQuery {
  std::uint32_t query = 0;  // index into Run::queries
  std::uint32_t number = 0;
  std::uint32_t entry = 0;
  std::string id;
  std::uint32_t block = kNone;  // of the entry's manuscript
  std::uint32_t begin = 0,
                end = 0;  // the words at fault; equal where the block as a whole is meant
  std::vector<std::uint32_t> airframes, people;  // indices into the lists of SheetLayout
};

/// One caption with all blocks of its figure, or a heading, paragraph or table row; without a
/// manuscript (kNone) and blocks for a query that stands in none.
struct SheetEntry {
  std::uint32_t manuscript = 0;
  std::vector<std::uint32_t> blocks;
  std::uint32_t chapter = 0;
  std::vector<std::uint32_t> claims;   // indices into Run::claims
  std::vector<std::uint32_t> queries;  // indices into SheetLayout::queries
  std::vector<std::uint32_t> airframes, people;
};

struct SheetChapter {
  std::string file;
  std::string heading;  // "" before the first one
};

struct SheetLayout {
  std::vector<SheetEntry> entries;
  std::vector<SheetQuery> queries;
  std::vector<SheetChapter> chapters;
  std::vector<std::string> airframes, people;
  std::vector<Verdict> verdicts;  // by claim
};

/// Queries that the options leave out are not in it; those let stand are.
[[nodiscard]] SheetLayout lay_out_sheet(const Run& run, const ReportOptions& options);

/// Marks of a block's claims and queries, in order, without overlap: where two share words, the one
/// that counts more has them.
[[nodiscard]] std::vector<SheetMark> marks_of(const Run& run, const SheetLayout& layout,
                                              const SheetEntry& entry, std::uint32_t block);

}  // namespace tailproof
