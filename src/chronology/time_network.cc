#include "tailproof/time_network.h"

#include <algorithm>
#include <numeric>
#include <utility>

#include "chronology/propagation.h"

namespace tailproof {
namespace {

// A clash of so many facts is looked through for one of two, then of three.
constexpr std::size_t kMostForPairs = 200;
constexpr std::size_t kMostForTriples = 30;

}  // namespace

namespace offsets {
DaySet not_before() { return DaySet{DayRange{0, kLastDay}}; }
DaySet after() { return DaySet{DayRange{1, kLastDay}}; }
DaySet between(Day least, Day most) { return DaySet{DayRange{least, most}}; }
DaySet exactly(Day days) { return DaySet::single(days); }
}  // namespace offsets

VariableId TimeNetwork::add_variable() {
  facts_of_.emplace_back();
  return static_cast<VariableId>(facts_of_.size() - 1);
}

FactId TimeNetwork::restrict(VariableId variable, DaySet days) {
  const auto fact = static_cast<FactId>(facts_.size());
  facts_.push_back({variable, kNoVariable, std::move(days)});
  facts_of_[variable].push_back(fact);
  return fact;
}

FactId TimeNetwork::relate(VariableId later, VariableId earlier, DaySet offsets) {
  const auto fact = static_cast<FactId>(facts_.size());
  facts_.push_back({later, earlier, std::move(offsets)});
  facts_of_[later].push_back(fact);
  facts_of_[earlier].push_back(fact);
  return fact;
}

std::vector<std::vector<VariableId>> TimeNetwork::components() const {
  std::vector<VariableId> root(facts_of_.size());
  std::iota(root.begin(), root.end(), 0U);
  const auto find = [&](VariableId variable) {
    while (root[variable] != variable) variable = root[variable] = root[root[variable]];
    return variable;
  };
  for (const Fact& fact : facts_) {
    if (!fact.is_relation()) continue;
    const VariableId one = find(fact.later);
    const VariableId other = find(fact.earlier);
    // The least variable is the root, so that components stand in order of their first one.
    root[std::max(one, other)] = std::min(one, other);
  }
  std::vector<std::vector<VariableId>> members(facts_of_.size());
  for (VariableId v = 0; v < facts_of_.size(); ++v) members[find(v)].push_back(v);
  std::erase_if(members, [](const std::vector<VariableId>& list) { return list.empty(); });
  return members;
}

void TimeNetwork::solve_component(std::span<const VariableId> variables,
                                  TimeSolution& solution) const {
  std::vector<DaySet> domains(variables.size(), DaySet::all());
  std::vector<Link> links;
  std::vector<FactId> facts;
  for (std::uint32_t i = 0; i < variables.size(); ++i) {
    for (const FactId id : facts_of_[variables[i]]) {
      const Fact& fact = facts_[id];
      if (fact.is_relation() && fact.later != variables[i]) continue;  // comes with its later one
      facts.push_back(id);
      if (!fact.is_relation()) {
        domains[i] = domains[i].intersect(fact.set);
        continue;
      }
      const auto at = std::lower_bound(variables.begin(), variables.end(), fact.earlier);
      links.push_back({i, static_cast<std::uint32_t>(at - variables.begin()), &fact.set});
    }
  }
  if (links.empty()) {
    solution.days[variables.front()] = domains.front();
    if (!domains.front().empty()) return;
  } else {
    Propagation propagation(std::move(domains), std::move(links));
    std::optional<std::vector<DaySet>> found = propagation.solve();
    for (std::uint32_t i = 0; found && i < variables.size(); ++i) {
      solution.days[variables[i]] = std::move((*found)[i]);
      solution.is_exact[variables[i]] = propagation.is_exact();
    }
    if (found) return;
  }
  std::sort(facts.begin(), facts.end());
  solution.clashes.push_back(clash_among(facts));
}

TimeSolution TimeNetwork::solve() const {
  TimeSolution solution;
  solution.days.resize(facts_of_.size());
  solution.is_exact.assign(facts_of_.size(), true);
  for (const std::vector<VariableId>& variables : components()) {
    solve_component(variables, solution);
  }
  return solution;
}

/// Variables of some facts, numbered in their order.
class TimeNetwork::Places {
 public:
  explicit Places(std::vector<VariableId> variables) : variables_(std::move(variables)) {
    if (variables_.empty()) return;
    const auto [first, last] = std::minmax_element(variables_.begin(), variables_.end());
    first_ = *first;
    // Those of one network mostly lie close together.
    constexpr std::size_t kMostRoom = 8;
    const std::size_t room = std::size_t{*last} - first_ + 1;
    if (room <= kMostRoom * variables_.size()) {
      places_.resize(room);
      for (const VariableId id : variables_) places_[id - first_] = 1;
      for (std::uint32_t& place : places_) {
        const bool is_there = place != 0;
        place = count_;
        count_ += is_there ? 1 : 0;
      }
      return;
    }
    std::sort(variables_.begin(), variables_.end());
    variables_.erase(std::unique(variables_.begin(), variables_.end()), variables_.end());
    count_ = static_cast<std::uint32_t>(variables_.size());
  }
  [[nodiscard]] std::uint32_t count() const { return count_; }
  [[nodiscard]] std::uint32_t operator()(VariableId id) const {
    if (!places_.empty()) return places_[id - first_];
    return static_cast<std::uint32_t>(std::lower_bound(variables_.begin(), variables_.end(), id) -
                                      variables_.begin());
  }

 private:
  std::vector<VariableId> variables_;
  std::vector<std::uint32_t> places_;  // by variable, from the first
  VariableId first_ = 0;
  std::uint32_t count_ = 0;
};

// Whether all are restrictions of one variable, which is `variable` if that is one: what they leave
// is told without any propagation.
bool TimeNetwork::are_of_one(std::span<const FactId> facts, VariableId variable) const {
  if (facts.empty()) return false;
  const VariableId own = variable == kNoVariable ? facts_[facts.front()].later : variable;
  return std::all_of(facts.begin(), facts.end(), [&](FactId id) {
    return !facts_[id].is_relation() && facts_[id].later == own;
  });
}

bool TimeNetwork::holds(std::span<const FactId> facts, VariableId variable,
                        const DaySet* extra) const {
  if (are_of_one(facts, variable)) {
    if (extra == nullptr && facts.size() == 2)
      return facts_[facts[0]].set.intersects(facts_[facts[1]].set);
    DaySet left = extra != nullptr ? *extra : DaySet::all();
    for (const FactId id : facts) left = left.intersect(facts_[id].set);
    return !left.empty();
  }
  std::vector<VariableId> variables;
  variables.reserve(2 * facts.size() + 1);
  if (extra != nullptr) variables.push_back(variable);
  for (const FactId id : facts) {
    variables.push_back(facts_[id].later);
    if (facts_[id].is_relation()) variables.push_back(facts_[id].earlier);
  }
  const Places place_of(std::move(variables));
  std::vector<DaySet> domains(place_of.count(), DaySet::all());
  std::vector<Link> links;
  if (extra != nullptr) domains[place_of(variable)] = *extra;
  for (const FactId id : facts) {
    const Fact& fact = facts_[id];
    const std::uint32_t at = place_of(fact.later);
    if (fact.is_relation()) {
      links.push_back({at, place_of(fact.earlier), &fact.set});
    } else {
      domains[at] = domains[at].intersect(fact.set);
    }
  }
  return Propagation(std::move(domains), std::move(links)).is_satisfiable();
}

bool TimeNetwork::is_satisfiable(std::span<const FactId> facts) const {
  return holds(facts, kNoVariable, nullptr);
}

// Of the candidates in order, the shortest beginning that clashes ends with a member of every
// clash within it: that one is kept, and the search goes on before it.
std::vector<FactId> TimeNetwork::minimal_of_one(std::vector<FactId> candidates, DaySet left) const {
  std::vector<FactId> kept;
  while (!left.empty()) {
    DaySet days = left;
    std::size_t least = 0;
    for (; least < candidates.size() && !days.empty(); ++least)
      days = days.intersect(facts_[candidates[least]].set);
    if (!days.empty()) return {};
    kept.push_back(candidates[least - 1]);
    left = left.intersect(facts_[kept.back()].set);
    candidates.resize(least - 1);
  }
  return kept;
}

std::vector<FactId> TimeNetwork::minimal(std::vector<FactId> candidates, VariableId variable,
                                         const DaySet* extra) const {
  if (are_of_one(candidates, variable))
    return minimal_of_one(std::move(candidates), extra != nullptr ? *extra : DaySet::all());
  std::vector<FactId> kept;
  std::vector<FactId> tried;
  const auto clashes_with_first = [&](std::size_t count) {
    tried = kept;
    tried.insert(tried.end(), candidates.begin(),
                 candidates.begin() + static_cast<std::ptrdiff_t>(count));
    return !holds(tried, variable, extra);
  };
  while (!clashes_with_first(0)) {
    std::size_t least = 1;
    std::size_t most = candidates.size();
    if (most == 0) return {};
    while (least < most) {
      const std::size_t middle = least + (most - least) / 2;
      if (clashes_with_first(middle)) {
        most = middle;
      } else {
        least = middle + 1;
      }
    }
    kept.push_back(candidates[least - 1]);
    candidates.resize(least - 1);
  }
  return kept;
}

// Facts that hang together by no variable clash only if some of them do by themselves.
bool TimeNetwork::is_tied(FactId a, FactId b) const {
  const Fact& one = facts_[a];
  const Fact& other = facts_[b];
  const auto names = [&](VariableId variable) {
    return variable != kNoVariable && (variable == other.later || variable == other.earlier);
  };
  return names(one.later) || names(one.earlier);
}

// Two facts clash only about the same day or the same two days: where nothing else holds a
// variable, it can follow any other.
bool TimeNetwork::are_of_same(FactId a, FactId b) const {
  const Fact& one = facts_[a];
  const Fact& other = facts_[b];
  return (one.later == other.later && one.earlier == other.earlier) ||
         (one.later == other.earlier && one.earlier == other.later);
}

Clash TimeNetwork::clash_among(std::span<const FactId> facts) const {
  for (const FactId id : facts) {
    if (facts_[id].set.empty()) return {{id}};
  }
  std::vector<FactId> found = minimal({facts.begin(), facts.end()}, kNoVariable, nullptr);
  std::sort(found.begin(), found.end());
  if (found.size() > 2 && facts.size() <= kMostForPairs) {
    for (std::size_t i = 0; i < facts.size(); ++i) {
      for (std::size_t j = i + 1; j < facts.size(); ++j) {
        if (!are_of_same(facts[i], facts[j])) continue;
        const FactId two[] = {facts[i], facts[j]};
        if (!is_satisfiable(two)) return {{two[0], two[1]}};
      }
    }
  }
  if (found.size() > 3 && facts.size() <= kMostForTriples) {
    for (std::size_t i = 0; i < facts.size(); ++i) {
      for (std::size_t j = i + 1; j < facts.size(); ++j) {
        for (std::size_t k = j + 1; k < facts.size(); ++k) {
          const int ties = int{is_tied(facts[i], facts[j])} + int{is_tied(facts[i], facts[k])} +
                           int{is_tied(facts[j], facts[k])};
          if (ties < 2) continue;
          const FactId three[] = {facts[i], facts[j], facts[k]};
          if (!is_satisfiable(three)) return {{three[0], three[1], three[2]}};
        }
      }
    }
  }
  return {std::move(found)};
}

// Facts one relation further away; `frontier` holds the variables whose facts are still missing.
void TimeNetwork::grow(std::vector<FactId>& facts, std::vector<VariableId>& frontier,
                       std::unordered_set<VariableId>& seen,
                       std::unordered_set<FactId>& relations) const {
  std::vector<VariableId> next;
  for (const VariableId variable : frontier) {
    for (const FactId id : facts_of_[variable]) {
      const Fact& fact = facts_[id];
      const VariableId other = fact.later == variable ? fact.earlier : fact.later;
      // A relation came with the variable at its other end, if that is nearer or as near.
      const bool is_new = !fact.is_relation() || relations.insert(id).second;
      if (is_new) facts.push_back(id);
      if (fact.is_relation() && seen.insert(other).second) next.push_back(other);
    }
  }
  frontier = std::move(next);
}

std::vector<FactId> TimeNetwork::reasons(VariableId variable, const DaySet& excluded) const {
  for (const FactId id : facts_of_[variable]) {
    if (!facts_[id].is_relation() && !facts_[id].set.intersects(excluded)) return {id};
  }
  std::vector<FactId> facts;
  std::vector<VariableId> frontier = {variable};
  std::unordered_set<VariableId> seen = {variable};
  std::unordered_set<FactId> relations;
  while (!frontier.empty()) {
    grow(facts, frontier, seen, relations);
    if (holds(facts, variable, &excluded)) continue;
    std::vector<FactId> found = minimal(facts, variable, &excluded);
    std::sort(found.begin(), found.end());
    return found;
  }
  return {};
}

}  // namespace tailproof
