#include "claims/extract.h"

#include "claims/assembler.h"

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
      BlockAssembler(finder, manuscript, m, b, focus, dates, claims).run();
    }
  }
  return claims;
}

}  // namespace tailproof
