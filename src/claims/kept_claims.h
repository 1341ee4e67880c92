// Claims of manuscripts under edit: after a change only what it touches is extracted again.
//
// Contract: after every call `claims` is what extract_claims() would give for the manuscripts as
// they are now. A block is extracted anew when it differs from last time (its words, its figure,
// the head of its table), or when what the blocks before it hand on does: the machines and the
// person last spoken of, the dates from which "that October" is counted. That settles soon: mostly
// within the figure, at the latest some paragraphs on. Lifetime: ledger and grammars outlive it.
// Cost: of an update, comparing the blocks, the touched ones extracted, and a pass over the claims
// behind them.
#pragma once

#include <cstdint>
#include <memory>
#include <vector>

#include "grammars/grammars.h"
#include "tailproof/claim.h"
#include "tailproof/ledger.h"
#include "tailproof/manuscript.h"

namespace tailproof {

/// What an update extracted anew, in the numbers of now.
struct Touched {
  std::uint32_t first_block = 0, last_block = 0;  // blocks [first, last) of the manuscript
  std::uint32_t first_claim = 0, last_claim = 0;
};

class KeptClaims {
 public:
  KeptClaims(const Ledger& ledger, const Grammars& grammars);
  ~KeptClaims();
  KeptClaims(const KeptClaims&) = delete;
  KeptClaims& operator=(const KeptClaims&) = delete;

  /// Extracts everything.
  void extract(const std::vector<Manuscript>& manuscripts, std::vector<Claim>& claims);
  /// Manuscript `index` has been read again, into the same file numbers; `before` is what it was.
  /// The others, and `claims`, are as the last call left them.
  Touched update(const std::vector<Manuscript>& manuscripts, std::uint32_t index,
                 const Manuscript& before, std::vector<Claim>& claims);

 private:
  struct Inside;
  std::unique_ptr<Inside> inside_;
};

}  // namespace tailproof
