// | situation                                                                  | level  |
// | facts of one photograph, or of several tied together, have no common day   | error  |
// | ... a margin alone parts them                                              | warning |
// | ... a hedged claim is among them                                           | one less |
// | the caption's own date against one other fact: the check of that claim     | silent |
// | a stated order of photographs is among them: photograph-order              | silent |
// | a repaint, accident or the like is among them, which may have come twice   | warning |
// | dates and two forms of a marking alone: marking-order-reversed             | silent |
// | one marking painted over another is among them: overpaint-reversed         | silent |
#include <algorithm>
#include <set>

#include "tailproof/chronology.h"

namespace tailproof {
namespace {

constexpr std::string_view kId = "photograph-undatable";

bool is_of_this_check(std::span<const TimeFact> facts, const TimeClash& clash) {
  const auto any = [&](const auto& is_so) {
    return std::any_of(clash.facts.begin(), clash.facts.end(),
                       [&](std::uint32_t id) { return is_so(facts[id]); });
  };
  if (any([](const TimeFact& fact) {
        return fact.basis == Basis::kStatedOrder || fact.basis == Basis::kCoat;
      })) {
    return false;
  }
  return any([](const TimeFact& fact) {
    return fact.basis != Basis::kDate && fact.basis != Basis::kPaintOrder;
  });
}

// What the others leave: the days against which a member's rows are quoted.
DaySet days_without(std::span<const TimeFact> facts, const TimeClash& clash, std::uint32_t left) {
  DaySet days = DaySet::all();
  for (const std::uint32_t id : clash.facts) {
    const TimeFact& fact = facts[id];
    const bool is_here = id != left && !fact.is_relation();
    if (is_here && fact.photograph == facts[left].photograph) {
      days = days.intersect(fact.allowed.days);
    }
  }
  return days;
}

}  // namespace

std::vector<Query> check_photograph_undatable(const CheckInput& input) {
  std::vector<Query> queries;
  const auto times = firm_times(input);
  const Chronology& chronology = times->chronology;
  const auto facts = chronology.facts();
  std::set<std::uint32_t> reported;
  for (const TimeClash& clash : times->clashes) {
    if (!is_of_this_check(facts, clash)) continue;
    // It stands at the member that the rest outvotes, else at what was said last.
    const Claim* at = nullptr;
    std::uint32_t photograph = kNone;
    for (const std::uint32_t id : clash.facts) {
      const TimeFact& fact = facts[id];
      const Claim* claim = chronology.claim_of(fact);
      if (claim == nullptr || (fact.is_relation() && id != clash.outvoted)) continue;
      if (clash.outvoted != kNone ? id == clash.outvoted : at == nullptr || claim > at) {
        at = claim;
        photograph = chronology.photograph_of(fact);
      }
    }
    // One fault, one query: what also clashes may follow from it.
    if (at == nullptr || !reported.insert(photograph).second) continue;
    std::string message = "no day is left for " + chronology.name_of(photograph) + ": " +
                          chronology.clash_in_words(clash.facts);
    if (clash.outvoted != kNone) {
      message += "; all else agrees without the claim here, which is most likely wrong";
    }
    Query query = query_at(kId, input, *at, clash.level, std::move(message));
    for (const std::uint32_t id : clash.facts) {
      const TimeFact& fact = facts[id];
      for (Evidence& row : chronology.evidence(fact, days_without(facts, clash, id))) {
        query.evidence.push_back(std::move(row));
      }
      const Claim* claim = chronology.claim_of(fact);
      if (claim == nullptr || claim == at) continue;
      query.related.push_back({claim->span, chronology.in_words_beside(photograph, fact)});
      query.claims.push_back(fact.claim);
    }
    queries.push_back(std::move(query));
  }
  return queries;
}

}  // namespace tailproof
