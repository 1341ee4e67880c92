#include "chronology/solving.h"

#include <algorithm>
#include <tuple>
#include <utility>

namespace tailproof {
namespace {

bool counts(const TimeFact& fact, Weight weight) {
  switch (weight) {
    case Weight::kFirm:
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
  if (weight != Weight::kUsual) return fact.allowed.days;
  DaySet recorded = fact.allowed.days.intersect(fact.recorded);
  return recorded.empty() ? fact.allowed.days : recorded;
}

constexpr int kMostRounds = 12;

}  // namespace

std::uint32_t weakest_of(const ChronologyData& data, const std::vector<std::uint32_t>& clash) {
  const auto rank = [&](std::uint32_t id) {
    const TimeFact& fact = data.facts[id];
    return std::tuple(fact.is_relation(), !fact.is_firm, fact.basis != Basis::kDate, id);
  };
  return *std::max_element(clash.begin(), clash.end(),
                           [&](std::uint32_t a, std::uint32_t b) { return rank(a) < rank(b); });
}

Build::Build(const ChronologyData& data, Weight weight) : data_(data), weight_(weight) {
  for (std::uint32_t i = 0; i < data.variable_count; ++i) network_.add_variable();
}

void Build::add(std::uint32_t id) {
  const TimeFact& fact = data_.facts[id];
  if (!counts(fact, weight_)) return;
  if (fact.is_relation()) {
    network_.relate(fact.photograph, fact.other, days_of(fact, weight_));
  } else {
    network_.restrict(fact.photograph, days_of(fact, weight_));
  }
  facts_.push_back(id);
}

void Build::add_all(const std::vector<bool>& is_out) {
  for (std::uint32_t i = 0; i < data_.facts.size(); ++i) {
    if (!is_out[i]) add(i);
  }
}

std::vector<std::uint32_t> Build::own(std::vector<FactId> facts) const {
  for (FactId& id : facts) id = facts_[id];
  return facts;
}

Solved solve(const ChronologyData& data, Weight weight, std::vector<bool> is_out) {
  is_out.resize(data.facts.size(), false);
  std::vector<std::vector<std::uint32_t>> clashes;
  for (int round = 0;; ++round) {
    Build build(data, weight);
    build.add_all(is_out);
    TimeSolution solution = build.network().solve();
    if (solution.clashes.empty() || round == kMostRounds) {
      return {std::move(build), std::move(solution), std::move(clashes)};
    }
    for (Clash& clash : solution.clashes) {
      clashes.push_back(build.own(std::move(clash.facts)));
      is_out[weakest_of(data, clashes.back())] = true;
    }
  }
}

}  // namespace tailproof
