// | situation                                                                 | level  |
// | a flat date, at the ledger's precision or finer, of an event that the     | note   |
// |   ledger itself dates with "~" or "?"                                     |        |
// | a date coarser than the ledger's                                          | silent |
// | a row of that kind, or of another that the words may mean, gives a date   | silent |
// |   without doubt that fits                                                 |        |
// | "about", "probably" or the like in the text                               | silent |
// | no row of that kind, or a date that no row allows                         | silent |
// | the date is the picture's, or taken over from a heading; another's words  | silent |
#include <vector>

#include "tailproof/event_dates.h"
#include "tailproof/verdict.h"

namespace tailproof {
namespace {

constexpr std::string_view kId = "hedge-missing";

}  // namespace

std::vector<Query> check_hedge_missing(const CheckInput& input) {
  return judge_claims(input, ClaimKind::kEvent, [&](const Claim& claim) -> std::optional<Query> {
    if (!has_own_date(input, claim) || is_hedged_anywhere(input, claim)) return std::nullopt;
    // "Received in August": taken on charge, or allotted to those who had it then.
    for (const std::string& reading : claim.readings) {
      Claim other = claim;
      other.value = reading;
      for (const EventDate& own : dates_of_event(input.ledger, other)) {
        const bool fits = own.date->days().intersects(claim.when.days);
        if (!own.is_qualified() && fits) return std::nullopt;
      }
    }
    const EventDate* doubtful = nullptr;
    const std::vector<EventDate> dates = dates_of_event(input.ledger, claim);
    for (const EventDate& own : dates) {
      if (!own.is_qualified()) {
        if (own.date->days().intersects(claim.when.days)) return std::nullopt;
      } else if (doubtful == nullptr && own.date->days().covers(claim.when.days)) {
        doubtful = &own;
      }
    }
    if (doubtful == nullptr) return std::nullopt;
    const std::string told = in_words(*doubtful->date);
    Query query =
        query_at(kId, input, claim, Level::kNote,
                 claim.subject + " is said flatly to have been " + event_in_words(claim) + " " +
                     when_in_words(claim.when) + ", but the ledger has only " + told);
    query.evidence.push_back(doubtful->evidence);
    query.suggestion = told;
    return query;
  });
}

}  // namespace tailproof
