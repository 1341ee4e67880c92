// Whether a unit was there.
#pragma once

#include "tailproof/ledger.h"

namespace tailproof {

/// Whether the unit may have existed on some day of `days`, which are not empty.
[[nodiscard]] inline bool exists_on(const Unit& unit, const DaySet& days) {
  const bool began = unit.formed.is_unknown() || unit.formed.days().empty() ||
                     unit.formed.days().first() <= days.last();
  const bool ended = !unit.disbanded.is_unknown() && !unit.disbanded.days().empty() &&
                     unit.disbanded.days().last() < days.first();
  return began && !ended;
}

}  // namespace tailproof
