// Hand-annotated claims of one manuscript of the corpus.
//
// Format: "@ Fig. 3" or "@ line 57" opens a caption (by its printed label) or another block (by its
// first line); each line below it is one claim, `kind | value | subject | role=... | hedged | ...`.
// '#' begins a comment. What cannot be read is an error with its line, never skipped.
#pragma once

#include <cstdint>
#include <string>
#include <string_view>
#include <vector>

#include "tailproof/result.h"

namespace tailproof::corpus {

struct Annotation {
  std::string kind, value, subject, role, position, of;
  bool negated = false, hedged = false, attributed = false, shown = true, inherited = false;
  std::uint32_t line = 0;  // of the annotation file
};

struct AnnotatedBlock {
  std::string figure;         // label as printed; "" for a block known by its line
  std::uint32_t line = 0;     // first line in the manuscript, when `figure` is empty
  std::uint32_t written = 0;  // line of the annotation file
  std::vector<Annotation> claims;
};

[[nodiscard]] Result<std::vector<AnnotatedBlock>> read_annotations(std::string_view text,
                                                                   const std::string& file);

}  // namespace tailproof::corpus
