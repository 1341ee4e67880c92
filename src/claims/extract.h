// Claims of manuscripts: mentions tied to subjects. Fourth and fifth station in one call.
#pragma once

#include <vector>

#include "grammars/grammars.h"
#include "mentions/find_mentions.h"
#include "mentions/mention.h"
#include "tailproof/claim.h"
#include "tailproof/ledger.h"
#include "tailproof/manuscript.h"

namespace tailproof {

/// All claims, ordered by manuscript, block and place. Dates of claims (`when`) are filled in.
/// `why` of each only where they are to be explained. At most `jobs` manuscripts are read side by
/// side; the claims are the same for any number.
[[nodiscard]] std::vector<Claim> extract_claims(const std::vector<Manuscript>& manuscripts,
                                                const Ledger& ledger, const Grammars& grammars,
                                                Explain explain = Explain::kNo, unsigned jobs = 1);
/// The same with a finder of mentions that has been made before.
[[nodiscard]] std::vector<Claim> extract_claims(const std::vector<Manuscript>& manuscripts,
                                                const MentionFinder& finder, unsigned jobs);

}  // namespace tailproof
