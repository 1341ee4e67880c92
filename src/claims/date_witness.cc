#include "claims/date_witness.h"

#include <algorithm>

namespace tailproof {

bool is_witnessed(const DateMention& mention, const DaySet& days) {
  if (days.empty()) return false;
  const bool is_one = days.first() == days.last();
  if (is_one && mention.weekday >= 0 &&
      weekday(days.first()) == static_cast<unsigned>(mention.weekday))
    return true;
  return std::any_of(mention.witnessed.begin(), mention.witnessed.end(),
                     [&](const DayRange& range) { return days.intersects(DaySet{range}); });
}

}  // namespace tailproof
