// From one uncertain date to another: the widest and the narrowest reading.
#include "tailproof/ledger.h"

namespace tailproof {

DaySet Spell::possible(const Margins* margins) const {
  const DaySet starts = margins != nullptr ? from.widened(*margins) : from.days();
  const DaySet ends = margins != nullptr ? to.widened(*margins) : to.days();
  if (starts.empty() || ends.empty()) return {};
  return {{starts.first(), ends.last()}};
}

DaySet Spell::certain() const {
  // One end alone proves no more than the day on which it began or ended, and only where that day
  // is exact.
  const auto day_of = [](const Edtf& end) {
    const DaySet& days = end.days();
    return !days.empty() && days.first() == days.last() ? days : DaySet();
  };
  if (from.is_unknown()) return day_of(to);
  if (to.is_unknown()) return day_of(from);
  if (from.days().empty() || to.days().empty()) return {};
  return {{from.days().last(), to.days().first()}};
}

}  // namespace tailproof
