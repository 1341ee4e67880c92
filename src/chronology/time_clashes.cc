// What cannot all be true of photographs, beyond what one claim and its date decide.
#include <algorithm>
#include <unordered_set>

#include "chronology/solving.h"

namespace tailproof {
namespace {

// Whether the check of single claims holds the fact against the caption's date.
bool has_check_of_its_own(Basis basis) {
  return basis != Basis::kDate && basis != Basis::kEvent && basis != Basis::kEventDay &&
         basis != Basis::kTrace;
}

// Facts that the photograph's own date rules out without any help: each check of single claims
// reports these, or has its reason not to.
std::vector<bool> ruled_out_by_date(const ChronologyData& data) {
  std::vector<bool> is_out(data.facts.size(), false);
  for (const PhotographTime& photograph : data.photographs) {
    DaySet date = DaySet::all();
    for (const std::uint32_t id : photograph.facts) {
      const TimeFact& fact = data.facts[id];
      if (fact.basis == Basis::kDate) date = date.intersect(fact.allowed.days);
    }
    for (const std::uint32_t id : photograph.facts) {
      const TimeFact& fact = data.facts[id];
      if (fact.is_relation() || !has_check_of_its_own(fact.basis)) continue;
      is_out[id] = !fact.allowed.days.intersects(date);
    }
  }
  return is_out;
}

// Everything that hangs together with these facts, by the relations that are left.
std::vector<std::uint32_t> tied_to(const ChronologyData& data, const std::vector<bool>& is_out,
                                   const std::vector<std::vector<std::uint32_t>>& facts_of,
                                   const std::vector<std::uint32_t>& facts) {
  std::vector<std::uint32_t> found;
  std::vector<std::uint32_t> waiting;
  std::unordered_set<std::uint32_t> seen;
  const auto reach = [&](std::uint32_t variable) {
    if (variable != kNone && seen.insert(variable).second) waiting.push_back(variable);
  };
  for (const std::uint32_t id : facts) {
    reach(data.facts[id].photograph);
    reach(data.facts[id].other);
  }
  while (!waiting.empty()) {
    const std::uint32_t variable = waiting.back();
    waiting.pop_back();
    for (const std::uint32_t id : facts_of[variable]) {
      if (is_out[id]) continue;
      found.push_back(id);
      reach(data.facts[id].photograph);
      reach(data.facts[id].other);
    }
  }
  // A relation is one of the facts of both its ends.
  std::sort(found.begin(), found.end());
  found.erase(std::unique(found.begin(), found.end()), found.end());
  return found;
}

// Whether no network is needed to tell what days they leave.
bool are_of_one_photograph(const ChronologyData& data, const std::vector<std::uint32_t>& facts) {
  return std::all_of(facts.begin(), facts.end(), [&](std::uint32_t id) {
    const TimeFact& fact = data.facts[id];
    return !fact.is_relation() && fact.photograph == data.facts[facts.front()].photograph;
  });
}

// The only member of the clash without which all the facts can be true.
std::uint32_t outvoted_in(const ChronologyData& data, const std::vector<std::uint32_t>& clash,
                          const std::vector<std::uint32_t>& facts, Weight weight) {
  std::uint32_t found = kNone;
  const bool is_of_one = are_of_one_photograph(data, facts);
  const auto can_hold_without = [&](std::uint32_t member) {
    if (is_of_one) return !days_left(data, facts, weight, member).empty();
    Build build(data, weight);
    for (const std::uint32_t id : facts) {
      if (id != member) build.add(id);
    }
    return build.is_satisfiable();
  };
  for (const std::uint32_t member : clash) {
    if (!can_hold_without(member)) continue;
    if (found != kNone) return kNone;
    found = member;
  }
  return found;
}

// The clash that is hardest to explain away among the facts, and how bad that is.
std::optional<TimeClash> worst_clash(const ChronologyData& data,
                                     const std::vector<std::uint32_t>& facts) {
  struct Step {
    Weight weight;
    Level level;
  };
  constexpr Step kSteps[] = {{Weight::kFirmWide, Level::kError},
                             {Weight::kFirm, Level::kWarning},
                             {Weight::kDoubtfulWide, Level::kWarning},
                             {Weight::kDoubtful, Level::kNote}};
  const bool is_of_one = are_of_one_photograph(data, facts);
  for (const Step& step : kSteps) {
    if (is_of_one && !days_left(data, facts, step.weight).empty()) continue;
    Build build(data, step.weight);
    for (const std::uint32_t id : facts) build.add(id);
    std::vector<std::uint32_t> clash = build.clash();
    if (clash.empty()) continue;
    const bool is_soft = std::any_of(clash.begin(), clash.end(),
                                     [&](std::uint32_t id) { return data.facts[id].is_soft; });
    const Level level = is_soft ? std::min(step.level, Level::kWarning) : step.level;
    // Forms of paint in the wrong order are a fault of their own, with a query of its own: a stated
    // order of pictures is not made right by what would mend that as well.
    std::vector<std::uint32_t> voters = facts;
    const auto is_paint = [&](std::uint32_t id) {
      return data.facts[id].basis == Basis::kPaintOrder;
    };
    const bool is_of_stated_order = std::any_of(clash.begin(), clash.end(), [&](std::uint32_t id) {
      return data.facts[id].basis == Basis::kStatedOrder;
    });
    if (is_of_stated_order && std::none_of(clash.begin(), clash.end(), is_paint))
      std::erase_if(voters, is_paint);
    const std::uint32_t outvoted = outvoted_in(data, clash, voters, step.weight);
    return TimeClash{std::move(clash), level, outvoted};
  }
  return std::nullopt;
}

}  // namespace

std::vector<TimeClash> Chronology::clashes() const {
  const ChronologyData& data = *data_;
  std::vector<bool> is_out = ruled_out_by_date(data);
  const Solved all(data, Weight::kDoubtful, is_out);
  std::vector<TimeClash> clashes;
  if (all.clashes.empty()) return clashes;
  std::vector<std::vector<std::uint32_t>> facts_of(data.variable_count);
  for (std::uint32_t id = 0; id < data.facts.size(); ++id) {
    facts_of[data.facts[id].photograph].push_back(id);
    if (data.facts[id].is_relation()) facts_of[data.facts[id].other].push_back(id);
  }
  for (const std::vector<std::uint32_t>& clash : all.clashes) {
    while (true) {
      std::optional<TimeClash> worst = worst_clash(data, tied_to(data, is_out, facts_of, clash));
      if (!worst) break;
      // The next one is looked for among what is left without the member that is most likely wrong.
      is_out[worst->outvoted == kNone ? weakest_of(data, worst->facts) : worst->outvoted] = true;
      clashes.push_back(*std::move(worst));
    }
  }
  return clashes;
}

}  // namespace tailproof
