#include "chronology/solving.h"

#include <algorithm>
#include <iterator>
#include <numeric>
#include <tuple>
#include <utility>

namespace tailproof {
bool counts(const TimeFact& fact, Weight weight) {
  switch (weight) {
    case Weight::kFirm:
    case Weight::kLinked:
    case Weight::kFirmWide:
      return fact.is_firm && !fact.is_inherited && !fact.is_hedged;
    case Weight::kUsual:
      return true;
    case Weight::kDoubtful:
    case Weight::kDoubtfulWide:
      return fact.is_firm && !fact.is_inherited;
  }
  return false;
}

DaySet days_of(const TimeFact& fact, Weight weight) {
  if (weight == Weight::kFirmWide || weight == Weight::kDoubtfulWide) return fact.allowed.widened;
  if (weight == Weight::kLinked) return fact.allowed.days.intersect(fact.linked);
  if (weight != Weight::kUsual) return fact.allowed.days;
  DaySet recorded = fact.allowed.days.intersect(fact.recorded);
  return recorded.empty() ? fact.allowed.days : recorded;
}

DaySet days_left(const ChronologyData& data, std::span<const std::uint32_t> facts, Weight weight,
                 std::uint32_t without) {
  const bool is_wide = weight == Weight::kFirmWide || weight == Weight::kDoubtfulWide;
  const bool is_plain = weight == Weight::kFirm || weight == Weight::kDoubtful;
  DaySet left = DaySet::all();
  for (const std::uint32_t id : facts) {
    const TimeFact& fact = data.facts[id];
    if (id == without || !counts(fact, weight)) continue;
    if (is_wide || is_plain) {
      left = left.intersect(is_wide ? fact.allowed.widened : fact.allowed.days);
    } else {
      left = left.intersect(days_of(fact, weight));
    }
  }
  return left;
}

namespace {
constexpr int kMostRounds = 12;

}  // namespace

std::uint32_t weakest_of(const ChronologyData& data, const std::vector<std::uint32_t>& clash) {
  const auto rank = [&](std::uint32_t id) {
    const TimeFact& fact = data.facts[id];
    return std::tuple(fact.is_relation(), !fact.is_firm, fact.is_soft, fact.basis != Basis::kDate,
                      id);
  };
  return *std::max_element(clash.begin(), clash.end(),
                           [&](std::uint32_t a, std::uint32_t b) { return rank(a) < rank(b); });
}

VariableId Build::variable(std::uint32_t photograph) {
  const auto [found, is_new] = variables_.try_emplace(photograph, 0);
  if (is_new) found->second = network_.add_variable();
  return found->second;
}

std::optional<VariableId> Build::variable_of(std::uint32_t photograph) const {
  const auto found = variables_.find(photograph);
  if (found == variables_.end()) return std::nullopt;
  return found->second;
}

void Build::add(std::uint32_t id) {
  const TimeFact& fact = data_.facts[id];
  if (!counts(fact, weight_)) return;
  if (fact.is_relation()) {
    const VariableId later = variable(fact.photograph);
    const VariableId earlier = variable(fact.other);
    network_.relate(later, earlier, days_of(fact, weight_));
  } else {
    network_.restrict(variable(fact.photograph), days_of(fact, weight_));
  }
  facts_.push_back(id);
}

std::vector<std::uint32_t> Build::own(std::vector<FactId> facts) const {
  for (FactId& id : facts) id = facts_[id];
  return facts;
}

bool Build::is_satisfiable() const {
  std::vector<FactId> all(facts_.size());
  std::iota(all.begin(), all.end(), 0U);
  return network_.is_satisfiable(all);
}

std::vector<std::uint32_t> Build::clash() const {
  std::vector<FactId> all(facts_.size());
  std::iota(all.begin(), all.end(), 0U);
  if (network_.is_satisfiable(all)) return {};
  return own(network_.clash_among(all).facts);
}

Solved::Solved(const ChronologyData& data, Weight weight, std::vector<bool> is_out)
    : days(data.photographs.size(), DaySet::all()),
      data_(data),
      weight_(weight),
      is_out_(std::move(is_out)) {
  is_out_.resize(data.facts.size(), false);
  for (std::uint32_t i = 0; i < data.photographs.size(); ++i) {
    if (!data.is_tied[i]) solve_alone(i);
  }
  solve_tied();
}

void Solved::solve_alone(std::uint32_t photograph) {
  const std::vector<std::uint32_t>& facts = data_.photographs[photograph].facts;
  std::vector<std::uint32_t> counted;
  counted.reserve(facts.size());
  for (int round = 0; round <= kMostRounds; ++round) {
    counted.clear();
    std::copy_if(facts.begin(), facts.end(), std::back_inserter(counted),
                 [&](std::uint32_t id) { return !is_out_[id]; });
    days[photograph] = days_left(data_, counted, weight_);
    if (!days[photograph].empty()) return;
    Build build(data_, weight_);
    for (const std::uint32_t id : counted) build.add(id);
    clashes.push_back(build.clash());
    is_out_[weakest_of(data_, clashes.back())] = true;
  }
}

void Solved::solve_tied() {
  for (int round = 0; round <= kMostRounds; ++round) {
    tied_.emplace(data_, weight_);
    for (std::uint32_t id = 0; id < data_.facts.size(); ++id) {
      const TimeFact& fact = data_.facts[id];
      if (is_out_[id] || (!fact.is_relation() && !data_.is_tied[fact.photograph])) continue;
      tied_->add(id);
    }
    TimeSolution solution = tied_->network().solve();
    for (std::uint32_t i = 0; i < data_.photographs.size(); ++i) {
      if (!data_.is_tied[i]) continue;
      const std::optional<VariableId> variable = tied_->variable_of(i);
      days[i] = variable ? std::move(solution.days[*variable]) : DaySet::all();
    }
    if (solution.clashes.empty()) return;
    for (Clash& clash : solution.clashes) {
      clashes.push_back(tied_->own(std::move(clash.facts)));
      is_out_[weakest_of(data_, clashes.back())] = true;
    }
  }
}

std::vector<std::uint32_t> Solved::reasons(std::uint32_t photograph, const DaySet& excluded) const {
  const std::vector<std::uint32_t>& facts = data_.photographs[photograph].facts;
  for (const std::uint32_t id : facts) {
    const TimeFact& fact = data_.facts[id];
    if (is_out_[id] || fact.is_relation() || !counts(fact, weight_)) continue;
    if (!days_of(fact, weight_).intersects(excluded)) return {id};
  }
  Build own(data_, weight_);
  for (const std::uint32_t id : facts) {
    if (!data_.is_tied[photograph] && !is_out_[id]) own.add(id);
  }
  const Build& build = data_.is_tied[photograph] ? *tied_ : own;
  const std::optional<VariableId> variable = build.variable_of(photograph);
  if (!variable) return {};
  return build.own(build.network().reasons(*variable, excluded));
}

}  // namespace tailproof
