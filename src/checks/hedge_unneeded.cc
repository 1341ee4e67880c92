// | situation                                                                | level  |
// | an event, or its date, is hedged, and the date is exactly the day or      | note   |
// |   month that the one row of that kind gives without any doubt             |        |
// | the ledger's date has "~" or "?", or is a season, a year or a range       | silent |
// | several rows of that kind                                                 | silent |
// | a date coarser or finer than the ledger's, or another                     | silent |
// | the date is the picture's, or taken over from a heading; another's words  | silent |
#include <vector>

#include "tailproof/event_dates.h"
#include "tailproof/verdict.h"

namespace tailproof {
namespace {

constexpr std::string_view kId = "hedge-unneeded";

bool is_settled(const EventDate& own) {
  if (own.is_qualified() || own.date->is_interval()) return false;
  const Precision precision = own.date->precision();
  return own.date->days().ranges().size() == 1 &&
         (precision == Precision::kDay || precision == Precision::kMonth);
}

}  // namespace

std::vector<Query> check_hedge_unneeded(const CheckInput& input) {
  return judge_claims(input, ClaimKind::kEvent, [&](const Claim& claim) -> std::optional<Query> {
    if (!has_own_date(input, claim) || !is_hedged_anywhere(input, claim)) return std::nullopt;
    const std::vector<EventDate> dates = dates_of_event(input.ledger, claim);
    if (dates.size() != 1 || !is_settled(dates.front())) return std::nullopt;
    if (dates.front().date->days() != claim.when.days) return std::nullopt;
    const std::string told = in_words(*dates.front().date);
    Query query =
        query_at(kId, input, claim, Level::kNote,
                 claim.subject + " is said with doubt to have been " + event_in_words(claim) + " " +
                     when_in_words(claim.when) + ", but the ledger has exactly " + told);
    query.evidence.push_back(dates.front().evidence);
    query.suggestion = told;
    return query;
  });
}

}  // namespace tailproof
