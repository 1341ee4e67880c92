// The claims of one block, long or short.
#pragma once

#include <cstdint>
#include <vector>

#include "claims/assembler.h"

namespace tailproof {

/// Adds the claims of a block. Blocks come in reading order, with one focus and one date context
/// for each manuscript.
void assemble_block(const MentionFinder& finder, const Manuscript& manuscript,
                    std::uint32_t manuscript_index, std::uint32_t block_index, Focus& focus,
                    DateContext& dates, std::vector<Claim>& out);

/// Moves the numbers of other claims that a claim names.
void move_references(Claim& claim, std::uint32_t by);

}  // namespace tailproof
