// "Two days later": counting from another date.
#include <algorithm>

#include "mentions/dates.h"

namespace tailproof {
namespace {

// The same day of another month, or that month's last day.
CivilDate months_later(const CivilDate& date, std::int64_t months) {
  const std::int64_t index = date.year * 12 + static_cast<std::int64_t>(date.month) - 1 + months;
  CivilDate moved;
  moved.year = index >= 0 ? index / 12 : -((-index + 11) / 12);
  moved.month = static_cast<unsigned>(index - moved.year * 12) + 1;
  moved.day = std::min(date.day, days_in_month(moved.year, moved.month));
  return moved;
}

CivilDate moved(Day day, const DateUnit& offset) {
  const CivilDate date = to_civil(day);
  switch (offset.offset_period) {
    case DatePeriod::kWeek:
      return to_civil(day + 7 * offset.offset);
    case DatePeriod::kMonth:
      return months_later(date, offset.offset);
    case DatePeriod::kYear:
      return months_later(date, 12 * offset.offset);
    case DatePeriod::kDecade:
      return months_later(date, 120 * offset.offset);
    default:
      return to_civil(day + offset.offset);
  }
}

// The coarsest date that an offset of this period can be counted from.
Precision coarsest_anchor(DatePeriod period) {
  switch (period) {
    case DatePeriod::kDay:
      return Precision::kDay;
    case DatePeriod::kWeek:
    case DatePeriod::kMonth:
      return Precision::kMonth;
    default:
      return Precision::kDecade;
  }
}

DateUnit unit_of(const CivilDate& date, Precision precision) {
  DateUnit unit;
  unit.precision = precision;
  unit.year = precision == Precision::kDecade ? date.year / 10 * 10 : date.year;
  if (precision == Precision::kDay || precision == Precision::kMonth) unit.month = date.month;
  if (precision == Precision::kDay) unit.day = date.day;
  return unit;
}

bool is_same_date(const DateUnit& a, const DateUnit& b) {
  return a.year == b.year && a.month == b.month && a.day == b.day;
}

}  // namespace

bool settle_offset(DateMention& mention, const Edtf& anchor, const LedgerSettings& settings) {
  if (anchor.is_unknown() || !mention.first.is_offset()) return false;
  const DaySet& days = anchor.days();
  if (days.first() <= kFirstDay || days.last() >= kLastDay) return false;
  const DateUnit offset = mention.first;
  if (anchor.precision() > coarsest_anchor(offset.offset_period)) return false;
  Precision precision = offset.precision;
  if (offset.offset_to_the_day) precision = Precision::kDay;
  const auto placed = [&](Day day) {
    DateUnit unit = unit_of(moved(day, offset), precision);
    unit.approximate = offset.approximate;
    unit.uncertain = offset.uncertain;
    return unit;
  };
  // From a span of days ("the night of 14/15 June") one counts on from its end, back from its
  // start; from a month, or "the last week of July", every day of it may be meant.
  constexpr Day kFewDays = 3;
  const bool from_days =
      anchor.precision() == Precision::kDay && days.last() - days.first() < kFewDays;
  const Day first = from_days && offset.offset > 0 ? days.last() : days.first();
  const Day last = from_days && offset.offset < 0 ? days.first() : days.last();
  mention.first = placed(first);
  mention.second = placed(last);
  mention.joint =
      is_same_date(mention.first, mention.second) ? DateJoint::kNone : DateJoint::kRange;
  settle_date(mention, settings);
  return !mention.impossible;
}

}  // namespace tailproof
