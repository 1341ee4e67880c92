// | situation                                                                 | level  |
// | a flat date, at the ledger's precision or finer, of an event that the     | note   |
// |   ledger itself dates with "~" or "?"                                     |        |
// | so is the date of a picture, of which the row of the one photograph that  | note   |
// |   the caption names is not sure                                           |        |
// | a date coarser than the ledger's                                          | silent |
// | a row of that kind, or of another that the words may mean, gives a date   | silent |
// |   without doubt that fits                                                 |        |
// | "about", "probably" or the like in the text                               | silent |
// | no row of that kind, or a date that no row allows                         | silent |
// | the date is taken over from a heading; another's words                    | silent |
#include <algorithm>
#include <iterator>
#include <vector>

#include "tailproof/event_dates.h"
#include "tailproof/verdict.h"

namespace tailproof {
namespace {

constexpr std::string_view kId = "hedge-missing";

// "X12 at the Point, October 1944", where the print register has "about October 1944".
std::optional<Query> judge_flat_picture(const CheckInput& input, const ClaimIndex& index,
                                        const Claim& claim) {
  if (claim.of != "photograph" || !is_affirmed(claim) || claim.impossible || claim.inherited)
    return std::nullopt;
  if (is_hedged_date(claim) || index.block_of(claim).kind != BlockKind::kCaption)
    return std::nullopt;
  // "Easter, about 13 April 1941": the doubt stands beside it.
  const auto around = index.around(claim);
  if (std::any_of(around.begin(), around.end(), [&](std::uint32_t i) {
        const Claim& other = index.claim(i);
        return other.kind == ClaimKind::kDate && other.of == "photograph" && is_hedged_date(other);
      }))
    return std::nullopt;
  const Photograph* row = row_of_picture(input.ledger, index, claim);
  if (row == nullptr || row->taken.is_unknown() || claim.date.days().empty()) return std::nullopt;
  const bool is_unsure = row->taken.is_approximate() || row->taken.is_uncertain();
  if (!is_unsure || !row->taken.days().covers(claim.date.days())) return std::nullopt;
  const std::string told = in_words(row->taken);
  Query query = query_at(kId, input, claim, Level::kNote,
                         "the caption is dated flatly " + in_words(claim.date) + ", but " +
                             row->photograph + " was taken " + told);
  query.evidence.push_back(quote(row->row, row->photograph + " taken " + told));
  query.suggestion = told;
  return query;
}

std::vector<Query> judge_flat_events(const CheckInput& input) {
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

}  // namespace

std::vector<Query> check_hedge_missing(const CheckInput& input) {
  const ClaimIndex index(input);
  std::vector<Query> queries = judge_flat_events(input);
  std::vector<Query> pictures = judge_claims(input, ClaimKind::kDate, [&](const Claim& claim) {
    return judge_flat_picture(input, index, claim);
  });
  std::move(pictures.begin(), pictures.end(), std::back_inserter(queries));
  return queries;
}

}  // namespace tailproof
