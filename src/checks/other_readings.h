// The benefit of the doubt: what a query rests on is how the text was read, and where the same text
// names another machine, person or date for which the ledger has just what is said, the words may
// have been told of that one.
//
// Contract: such a query becomes a note that says so, and quotes the row. It must be a coincidence
// to the day (or to the number): that a row of something else named beside it agrees by chance is
// then unlikely, and a reader sees at a glance which of the two it is. Which checks, and what
// speaks for another reading, is the table at the end of other_readings.cc. Cost: the queries,
// times what their captions name.
#pragma once

#include <vector>

#include "tailproof/check.h"

namespace tailproof {

void give_benefit_of_doubt(std::vector<Query>& queries, const CheckInput& input);

}  // namespace tailproof
