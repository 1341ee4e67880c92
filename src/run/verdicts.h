// What the evidence says of each claim, for those who want to see more than the queries.
#pragma once

#include <vector>

#include "run/run.h"

namespace tailproof {

/// For each claim of a checked run, in order. Contradicted: an error or warning stands at it, let
/// stand or not. Upheld: the author affirms it, no query of that level stands at it, and a row of
/// the ledger says the same for a day on which the claim may hold; or it is a conversion, or a
/// reference to a figure, that came out right. All else is unproven.
[[nodiscard]] std::vector<Verdict> verdicts_of(const Run& run);

}  // namespace tailproof
