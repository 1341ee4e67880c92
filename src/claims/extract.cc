#include "claims/extract.h"

#include "claims/assembler.h"
#include "claims/order_claims.h"
#include "claims/stretches.h"

namespace tailproof {

std::vector<Claim> extract_claims(const std::vector<Manuscript>& manuscripts, const Ledger& ledger,
                                  const Grammars& grammars) {
  std::vector<Claim> claims;
  const MentionFinder finder(ledger, grammars);
  for (std::uint32_t m = 0; m < manuscripts.size(); ++m) {
    const Manuscript& manuscript = manuscripts[m];
    Focus focus;
    DateContext dates(ledger.settings());
    for (std::uint32_t b = 0; b < manuscript.blocks.size(); ++b) {
      const Block& block = manuscript.blocks[b];
      if (!needs_stretches(block)) {
        BlockAssembler(finder, manuscript, block, m, b, focus, dates, claims).run();
        continue;
      }
      for (const Stretch& stretch : stretches_of(block)) {
        const std::size_t first = claims.size();
        BlockAssembler(finder, manuscript, stretch.block, m, b, focus, dates, claims).run();
        for (std::size_t i = first; i < claims.size(); ++i) {
          claims[i].begin += stretch.offset;
          claims[i].end += stretch.offset;
        }
      }
    }
  }
  resolve_orders_in_time(manuscripts, ledger, claims);
  return claims;
}

}  // namespace tailproof
