// A picture that shows what befell a machine before the text lets it happen: "turned over on 12 May
// (see Fig. 3)", where Fig. 3 has it on its back on 9 May.
//
// Contract: only where the sentence of the event points to the figure, that figure shows the same
// machine after an event of the same sort, and no day of the picture is one of the event or later.
// Order: of the text. Lifetime: pointers into the input.
#pragma once

#include <utility>
#include <vector>

#include "tailproof/check.h"
#include "tailproof/claim_index.h"

namespace tailproof {

struct PicturedEvent {
  const Claim* event = nullptr;    // with its own date
  const Claim* picture = nullptr;  // the date of the photograph
};
[[nodiscard]] std::vector<PicturedEvent> events_after_pictures(const CheckInput& input,
                                                               const ClaimIndex& index);

}  // namespace tailproof
