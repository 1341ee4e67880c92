// A block too long to be taken in at once, cut into stretches at the ends of sentences.
//
// What belongs to what is decided by comparing the mentions of a block with each other. That is
// quick for any paragraph a person would write, and would be hopeless for a megabyte without a
// break. Nothing in a sentence leans on what stood some thousands of words before it.
#pragma once

#include <cstdint>
#include <vector>

#include "tailproof/manuscript.h"

namespace tailproof {

struct Stretch {
  std::uint32_t offset = 0;  // of its text in the block's
  Block block;               // as the whole, with this part of the text
};

/// Whether the block is longer than one stretch may be. Rows of tables are never cut.
[[nodiscard]] bool needs_stretches(const Block& block);
/// The stretches in order, together the whole text. The credit stays with the first.
[[nodiscard]] std::vector<Stretch> stretches_of(const Block& block);

}  // namespace tailproof
