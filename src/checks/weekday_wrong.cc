// | situation                                            | level  |
// | the weekday named is that of no day of the date      | error  |
// | from or until a day: the weekday is that of that end | error  |
// | a night that touches two days, one of which fits     | silent |
// | quoted from somebody else                             | a level lower |
// | the date itself is impossible (another check says so) | silent |
#include <array>
#include <string>

#include "tailproof/verdict.h"

namespace tailproof {
namespace {

constexpr std::string_view kId = "weekday-wrong";
constexpr Day kWeek = 7;
constexpr std::array<std::string_view, 7> kNames = {"Sunday",   "Monday", "Tuesday", "Wednesday",
                                                    "Thursday", "Friday", "Saturday"};

bool has_weekday(const DaySet& days, int wanted) {
  for (const DayRange& range : days.ranges()) {
    // "From Friday 15 May", "until Sunday": the weekday is that of the one end there is.
    const bool is_open = range.last == kLastDay;
    if (range.first == kFirstDay || is_open) {
      const Day end = is_open ? range.first : range.last;
      if ((range.first == kFirstDay && is_open) || static_cast<int>(weekday(end)) == wanted)
        return true;
      continue;
    }
    for (Day day = range.first; day <= range.last && day < range.first + kWeek; ++day) {
      if (static_cast<int>(weekday(day)) == wanted) return true;
    }
  }
  return false;
}

// The nearest days before and after that are such a weekday.
std::string nearest(Day day, int wanted) {
  Day before = day;
  while (static_cast<int>(weekday(before)) != wanted) --before;
  return in_words(before) + " or " + in_words(before + kWeek);
}

}  // namespace

std::vector<Query> check_weekday_wrong(const CheckInput& input) {
  return judge_claims(input, ClaimKind::kDate, [&](const Claim& claim) -> std::optional<Query> {
    // What is denied of a day may be anything, but the day has its weekday all the same.
    // A year that the words leave open is a guess, which the weekday may well refute.
    if (claim.weekday < 0 || claim.weekday > 6 || claim.impossible || claim.inherited) {
      return std::nullopt;
    }
    const DaySet& days = claim.date.days();
    if (days.empty() || has_weekday(days, claim.weekday)) return std::nullopt;
    const std::string named(kNames[static_cast<std::size_t>(claim.weekday)]);
    const Day day = days.first() == kFirstDay ? days.last() : days.first();
    const std::string real(kNames[weekday(day)]);
    Query query = query_at(kId, input, claim,
                           tempered(claim, claim.attributed ? Level::kWarning : Level::kError),
                           in_words(day) + " was a " + real + ", not a " + named);
    query.suggestion = real + ", or " + nearest(day, claim.weekday);
    return query;
  });
}

}  // namespace tailproof
