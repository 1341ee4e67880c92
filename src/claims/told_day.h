// The days that a claim takes over from a date elsewhere in its block.
#pragma once

#include <cstdint>

#include "tailproof/claim.h"
#include "tailproof/edtf.h"

namespace tailproof {

/// `date` is claim `index` of all that are made. What rests on a date that is told elsewhere is
/// inherited, and as doubtful as that.
[[nodiscard]] inline When when_of_told_day(const Claim& date, std::uint32_t index,
                                           const Margins& margins) {
  When when;
  when.known = when.inherited = true;
  when.days = date.date.days();
  when.widened = date.date.widened(margins);
  when.hedged = date.hedged;
  when.date = index;
  return when;
}

}  // namespace tailproof
