#include "claims/extract.h"

#include "claims/assemble_block.h"
#include "claims/order_claims.h"
#include "claims/stretches.h"

namespace tailproof {

void assemble_block(const MentionFinder& finder, const Manuscript& manuscript,
                    std::uint32_t manuscript_index, std::uint32_t block_index, Focus& focus,
                    DateContext& dates, std::vector<Claim>& out) {
  const Block& block = manuscript.blocks[block_index];
  if (!needs_stretches(block)) {
    BlockAssembler(finder, manuscript, block, manuscript_index, block_index, focus, dates, out)
        .run();
    return;
  }
  for (const Stretch& stretch : stretches_of(block)) {
    const std::size_t first = out.size();
    BlockAssembler(finder, manuscript, stretch.block, manuscript_index, block_index, focus, dates,
                   out)
        .run();
    for (std::size_t i = first; i < out.size(); ++i) {
      out[i].begin += stretch.offset;
      out[i].end += stretch.offset;
    }
  }
}

std::vector<Claim> extract_claims(const std::vector<Manuscript>& manuscripts, const Ledger& ledger,
                                  const Grammars& grammars, Explain explain) {
  std::vector<Claim> claims;
  // Claims are large: about as many as a book full of them has, so that they need not be moved.
  constexpr std::size_t kBytesAClaim = 48;
  std::size_t bytes = 0;
  for (const Manuscript& manuscript : manuscripts) {
    for (const Block& block : manuscript.blocks) bytes += block.text.size();
  }
  claims.reserve(bytes / kBytesAClaim);
  const MentionFinder finder(ledger, grammars, explain);
  for (std::uint32_t m = 0; m < manuscripts.size(); ++m) {
    Focus focus;
    DateContext dates(ledger.settings());
    for (std::uint32_t b = 0; b < manuscripts[m].blocks.size(); ++b) {
      assemble_block(finder, manuscripts[m], m, b, focus, dates, claims);
    }
  }
  resolve_orders_in_time(manuscripts, ledger, claims);
  return claims;
}

}  // namespace tailproof
