// | situation                                                                 | level    |
// | a stated order or distance in time that the days of both do not allow     | warning  |
// | ... a margin alone parts them, or a hedged claim is among the facts       | one less |
// | orders that contradict each other, without any date                       | warning  |
// | a photograph that no caption has, or that the words leave open            | silent   |
// | a caption that prints photographs of several dates                        | silent   |
#include <algorithm>

#include "tailproof/chronology.h"

namespace tailproof {
namespace {

constexpr std::string_view kId = "photograph-order";

}  // namespace

std::vector<Query> check_photograph_order(const CheckInput& input) {
  std::vector<Query> queries;
  const bool is_any = std::any_of(input.claims.begin(), input.claims.end(), [](const Claim& claim) {
    return claim.kind == ClaimKind::kOrderInTime;
  });
  if (!is_any) return queries;
  const auto times = firm_times(input);
  const Chronology& chronology = times->chronology;
  const auto facts = chronology.facts();
  for (const TimeClash& clash : times->clashes) {
    const TimeFact* order = nullptr;
    for (const std::uint32_t id : clash.facts) {
      if (facts[id].basis == Basis::kStatedOrder) order = &facts[id];
    }
    if (order == nullptr) continue;
    const TimeFact& wrong = clash.outvoted == kNone ? *order : facts[clash.outvoted];
    const Claim& at = *chronology.claim_of(wrong);
    std::string message = chronology.in_words(*order) + ", but ";
    std::string_view mark;
    for (const std::uint32_t id : clash.facts) {
      const TimeFact& fact = facts[id];
      if (&fact == order) continue;
      message += mark;
      if (!fact.is_relation()) {
        const bool is_date = fact.basis == Basis::kDate;
        message += chronology.name_of(fact.photograph) + (is_date ? " is " : " has ");
      }
      message += chronology.in_words(fact);
      mark = " and ";
    }
    if (&wrong != order) {
      message += "; all else agrees without the claim here, which is most likely wrong";
    }
    // What would be an error is a warning: it may be the order alone that is misremembered.
    Query query = query_at(kId, input, at, lowered(clash.level), std::move(message));
    for (const std::uint32_t id : clash.facts) {
      const TimeFact& fact = facts[id];
      for (Evidence& row : chronology.evidence(fact, DaySet::all())) {
        query.evidence.push_back(std::move(row));
      }
      if (&fact == &wrong) continue;
      query.related.push_back({chronology.claim_of(fact)->span, chronology.in_words(fact)});
      query.claims.push_back(fact.claim);
    }
    queries.push_back(std::move(query));
  }
  return queries;
}

}  // namespace tailproof
