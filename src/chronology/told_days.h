// One day of a machine's life told twice, of which one is a slip of the pen: "came down near
// Pradoval on 15 May 1942" in the text, "the forced landing near Pradoval, 5 May 1942" below the
// picture, where the ledger has neither.
//
// Contract: single days with their year, of one machine, that no row of the ledger begins or ends
// on; of one month, more than three days apart, one a misprint of the other (a digit too many, too
// few or changed, two swapped); not both of photographs, and none on which it merely flew; in
// different captions or paragraphs. Order: by machine. Lifetime: pointers into the input.
#pragma once

#include <vector>

#include "tailproof/check.h"
#include "tailproof/claim_index.h"

namespace tailproof {

struct ToldTwice {
  const Claim* first = nullptr;   // a date claim
  const Claim* second = nullptr;  // likewise, later in the text
  std::string_view machine;
  Day day = 0;        // of the first
  Day other_day = 0;  // of the second
};
[[nodiscard]] std::vector<ToldTwice> days_told_twice(const CheckInput& input,
                                                     const ClaimIndex& index);

/// Adds the days told of a machine that are a digit off one of its mishaps in the ledger, whatever
/// words the text has for what befell it, and the day of a picture of what befell it that is a
/// digit before: the first only where no row of the machine, of another named beside it, or of a
/// unit or an order has the day told, the book does not tell of the ledger's day as well, the
/// sentence has no event of the machine, and `queries` nothing of it there.
void add_days_near_rows(const CheckInput& input, const ClaimIndex& index, std::string_view check,
                        std::vector<Query>& queries);

}  // namespace tailproof
