// Queries of manuscripts under edit: after a change only the captions that it can reach are checked
// again, by those checks that see no further than a caption (CheckScope::kCaption).
//
// Contract: run() gives, check by check, the queries that each finds in the whole input; those of
// one caption in its order. What is kept of a caption is dropped when one of its blocks, or of
// those that its claims name by number, has been extracted again, and always where it says which
// photograph was taken before which, as that hangs on the figures of the whole book. An unchanged
// block may have moved: what is kept counts from its block. The ledger and the options must be the
// same between two calls of forget(). Lifetime: it copies, but keeps pointers into the ledger.
// Cost: of run(), the captions reached, a pass over the blocks, and the checks of the whole book.
#pragma once

#include <functional>
#include <memory>
#include <vector>

#include "claims/kept_claims.h"
#include "run/excerpt.h"
#include "tailproof/check.h"
#include "tailproof/chronology.h"

namespace tailproof {

class KeptChecks {
 public:
  /// By check, in their order.
  using Found = std::vector<std::vector<Query>>;
  /// Runs checks over an input.
  using RunAll =
      std::function<Found(const std::vector<CheckInfo>& checks, const CheckInput& input)>;

  KeptChecks();
  ~KeptChecks();
  KeptChecks(const KeptChecks&) = delete;
  KeptChecks& operator=(const KeptChecks&) = delete;

  /// Everything has been read anew.
  void forget();
  /// Manuscript `index`, which had `block_count` blocks, has been read again, and `touched`
  /// extracted.
  void touch(std::uint32_t index, const Manuscript& manuscript, std::uint32_t block_count,
             const Touched& touched);

  /// What each check finds in `input`; into its `photographs` goes what is known of these.
  [[nodiscard]] Found run(const std::vector<CheckInfo>& checks, CheckInput& input,
                          const RunAll& run_all);

 private:
  struct Inside;
  std::unique_ptr<Inside> inside_;
};

}  // namespace tailproof
