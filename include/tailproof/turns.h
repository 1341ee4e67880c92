// What began or ended on a day, held against the ledger: a unit's forming and moves, an order's
// days, a person's promotions, awards and postings. Each kind of turn is reported by the check that
// the reader would look to.
//
// Contract: silent where no row gives the day. A claim that fits on no day is contradicted, by the
// rules of verdict.h.
#pragma once

#include <string_view>
#include <vector>

#include "tailproof/check.h"

namespace tailproof {

/// Queries of the check `id` on dates of turns.
[[nodiscard]] std::vector<Query> judge_turns(const CheckInput& input, std::string_view id);

/// `queries`, and those of `judge_turns`.
[[nodiscard]] std::vector<Query> with_turns(std::vector<Query> queries, const CheckInput& input,
                                            std::string_view id);

}  // namespace tailproof
