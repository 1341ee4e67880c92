// | situation                                                                | level  |
// | an event, or its date, is hedged, and the date is exactly the day or      | note   |
// |   month that the one row of that kind gives without any doubt             |        |
// | so is a picture's date, which the row of the one photograph that the      | note   |
// |   caption names gives without any doubt                                   |        |
// | so is the unit of a machine on a day on which a row has it there          | note   |
// | so is the day of a unit's move, a person's step or an order               | note   |
// | the ledger's date has "~" or "?", or is a season, a year or a range       | silent |
// | several rows of that kind                                                 | silent |
// | a date coarser or finer than the ledger's, or another                     | silent |
// | the date is taken over from a heading; another's words                    | silent |
#include <algorithm>
#include <iterator>
#include <vector>

#include "tailproof/allowed_days.h"
#include "tailproof/event_dates.h"
#include "tailproof/placement.h"
#include "tailproof/turns.h"
#include "tailproof/verdict.h"

namespace tailproof {
namespace {

constexpr std::string_view kId = "hedge-unneeded";

bool is_settled_date(const Edtf& own) {
  if (own.is_unknown() || own.is_approximate() || own.is_uncertain() || own.is_interval())
    return false;
  const Precision precision = own.precision();
  return own.days().ranges().size() == 1 &&
         (precision == Precision::kDay || precision == Precision::kMonth);
}

// "X12 at the Point, probably on 3 May 1943", and so is the print register.
std::optional<Query> judge_hedged_picture(const CheckInput& input, const ClaimIndex& index,
                                          const Claim& claim) {
  if (claim.of != "photograph" || !is_affirmed(claim) || claim.impossible || claim.inherited)
    return std::nullopt;
  if (!is_hedged_date(claim) || index.block_of(claim).kind != BlockKind::kCaption)
    return std::nullopt;
  const Photograph* row = row_of_picture(input.ledger, index, claim);
  if (row == nullptr || !is_settled_date(row->taken) || row->taken.days() != claim.date.days())
    return std::nullopt;
  const std::string told = in_words(row->taken);
  Query query = query_at(
      kId, input, claim, Level::kNote,
      "the caption is dated with doubt, but " + row->photograph + " was taken exactly " + told);
  query.evidence.push_back(quote(row->row, row->photograph + " taken " + told));
  query.suggestion = told;
  return query;
}

// "X12, possibly flown by 3 Flight", with which it was on that day by a row that leaves no doubt.
std::optional<Query> judge_hedged_unit(const CheckInput& input, const Claim& claim) {
  if (!claim.hedged || !is_affirmed(claim) || claim.inherited || claim.subject.empty())
    return std::nullopt;
  if (!claim.known || readings_of(claim).size() != 1 || !holds_at_its_date(input, claim))
    return std::nullopt;
  const When& when = claim.when;
  if (!when.known || when.hedged || when.inherited || when.days != when.widened)
    return std::nullopt;
  const UnitSense sense = unit_sense(input.ledger, claim);
  for (const History* row : input.ledger.history_of(claim.subject)) {
    if (row->unit != claim.value || row->role.empty() || is_event_kind(row->kind)) continue;
    if (sense == UnitSense::kFlown ? row->role != "operator" : row->role != "holder") continue;
    const Certain there = certain_days(row->spell, input.ledger.settings().margins);
    const bool is_sure = !row->spell.from.is_approximate() && !row->spell.from.is_uncertain() &&
                         !row->spell.to.is_approximate() && !row->spell.to.is_uncertain();
    if (!is_sure || !there.narrowed.covers(when.days)) continue;
    Query query = query_at(kId, input, claim, Level::kNote,
                           claim.subject + " is said with doubt to have been with " + claim.value +
                               ", but the ledger has just that " + in_words(row->spell));
    query.evidence.push_back(quote_history(*row));
    query.suggestion = claim.value;
    return query;
  }
  return std::nullopt;
}

std::optional<Query> judge_hedged_event(const CheckInput& input, const Claim& claim) {
  if (!has_own_date(input, claim) || !is_hedged_anywhere(input, claim)) return std::nullopt;
  const std::vector<EventDate> dates = dates_of_event(input.ledger, claim);
  if (dates.size() != 1 || !is_settled_date(*dates.front().date)) return std::nullopt;
  if (dates.front().date->days() != claim.when.days) return std::nullopt;
  const std::string told = in_words(*dates.front().date);
  Query query =
      query_at(kId, input, claim, Level::kNote,
               claim.subject + " is said with doubt to have been " + event_in_words(claim) + " " +
                   when_in_words(claim.when) + ", but the ledger has exactly " + told);
  query.evidence.push_back(dates.front().evidence);
  query.suggestion = told;
  return query;
}

}  // namespace

std::vector<Query> check_hedge_unneeded(const CheckInput& input) {
  const ClaimIndex index(input);
  std::vector<Query> queries = judge_claims(input, ClaimKind::kEvent, [&](const Claim& claim) {
    return judge_hedged_event(input, claim);
  });
  const auto add = [&](std::vector<Query> more) {
    std::move(more.begin(), more.end(), std::back_inserter(queries));
  };
  add(judge_claims(input, ClaimKind::kDate,
                   [&](const Claim& claim) { return judge_hedged_picture(input, index, claim); }));
  add(judge_claims(input, ClaimKind::kUnit,
                   [&](const Claim& claim) { return judge_hedged_unit(input, claim); }));
  add(judge_doubted_turns(input, kId));
  return queries;
}

}  // namespace tailproof
