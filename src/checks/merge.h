// One fault, one query: where several checks see the same fault, the most specific reports and
// carries the others' evidence. A pass over all queries after every check has run, before stets.
//
// Contract: the order of the queries that remain is kept. Which check outranks which, and when, is
// the table in merge.cc. Cost: linear in the number of queries, quadratic in those of one caption.
#pragma once

#include <vector>

#include "tailproof/check.h"

namespace tailproof {

[[nodiscard]] std::vector<Query> merge_queries(std::vector<Query> queries, const CheckInput& input);

}  // namespace tailproof
