// Brackets of the photographs of a run.
//
// Lifetime: points into the run.
#pragma once

#include <string>
#include <vector>

#include "run/run.h"
#include "tailproof/chronology.h"

namespace tailproof {

/// A line of a manuscript, as FILE:LINE names it.
struct LinePlace {
  std::string file;
  std::uint32_t line = 0;  // from 1
};
/// "book.md:12" taken apart, unless there is a file of just that name; nothing without a line.
[[nodiscard]] std::optional<LinePlace> read_line_place(const std::string& path);
/// Whether some block of a caption stands on the line.
[[nodiscard]] bool has_caption(const Run& run, const LinePlace& place);

struct PhotographBracket {
  std::uint32_t photograph = 0;
  Bracket bracket;
  Narrowing narrowing;
};
struct Brackets {
  Chronology chronology;
  std::vector<PhotographBracket> rows;  // in the order of the text
};
/// Of every photograph; with `places`, only those whose caption (any block of the figure) stands on
/// one of these lines, or in a file that no place names.
[[nodiscard]] Brackets brackets_of(const Run& run, const std::vector<LinePlace>& places);

}  // namespace tailproof
