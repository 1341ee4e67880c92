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

/// Notes on turns told with doubt on the very day for which the ledger has just that.
[[nodiscard]] std::vector<Query> judge_doubted_turns(const CheckInput& input, std::string_view id);

/// "FNO 33/39 introduced the gold-centre roundel", where another order did. The order and what it
/// did with that marking must both be in the ledger. The queries are of the check `id`.
[[nodiscard]] std::vector<Query> judge_order_contents(const CheckInput& input, std::string_view id);

/// `queries`, and those of `judge_turns`.
[[nodiscard]] std::vector<Query> with_turns(std::vector<Query> queries, const CheckInput& input,
                                            std::string_view id);

}  // namespace tailproof
