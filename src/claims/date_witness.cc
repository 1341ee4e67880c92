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

bool is_witnessed_to_the_day(const DateMention& mention, const DaySet& days) {
  if (days.empty() || days.first() != days.last()) return false;
  return std::any_of(mention.witnessed.begin(), mention.witnessed.end(),
                     [day = days.first()](const DayRange& range) {
                       return range.first == day && range.last == day;
                     });
}

std::optional<bool> has_weekday_behind(const DateMention& mention, std::int64_t year) {
  const unsigned month = mention.first.month, day = mention.day_behind;
  if (mention.weekday_behind < 0 || month == 0 || day == 0 || day > days_in_month(year, month))
    return std::nullopt;
  return weekday(to_day({year, month, day})) == static_cast<unsigned>(mention.weekday_behind);
}

}  // namespace tailproof
