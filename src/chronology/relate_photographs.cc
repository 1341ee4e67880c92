// What ties one photograph to another: stated order, one session.
#include <algorithm>
#include <map>

#include "chronology/chronology_data.h"

namespace tailproof {
namespace {

void add_stated_orders(ChronologyData& data) {
  for (std::uint32_t i = 0; i < data.input.claims.size(); ++i) {
    const Claim& claim = data.input.claims[i];
    if (claim.kind != ClaimKind::kOrderInTime || !is_affirmed(claim)) continue;
    if (claim.tense != Tense::kThen || claim.relation->least > claim.relation->most) continue;
    TimeFact fact;
    fact.basis = Basis::kStatedOrder;
    fact.photograph = photograph_at(data, claim.relation->photograph);
    fact.other = photograph_at(data, claim.relation->other);
    if (fact.photograph == kNone || fact.other == kNone) continue;
    if (fact.photograph == fact.other) continue;
    const DaySet offsets{DayRange{claim.relation->least, claim.relation->most}};
    fact.claim = i;
    fact.allowed = {offsets, offsets};
    fact.recorded = DaySet::all();
    fact.is_hedged = claim.hedged;
    fact.is_inherited = claim.inherited;
    add_fact(data, std::move(fact));
  }
}

// Rows of one session were taken on one day: usually, for a session may go on overnight.
void add_sessions(ChronologyData& data) {
  std::map<std::string_view, std::pair<std::uint32_t, const Photograph*>> last;
  const std::size_t count = data.facts.size();
  for (std::size_t i = 0; i < count; ++i) {
    if (data.facts[i].basis != Basis::kArchive) continue;
    const Photograph* row = data.facts[i].archive;
    const std::uint32_t photograph = data.facts[i].photograph;
    const std::uint32_t claim = data.facts[i].claim;
    if (row->session.empty()) continue;
    const auto [found, is_first] = last.try_emplace(row->session, photograph, row);
    if (is_first) continue;
    if (found->second.first != photograph) {
      TimeFact fact;
      fact.basis = Basis::kSession;
      fact.photograph = photograph;
      fact.other = found->second.first;
      fact.claim = claim;
      fact.archive = row;
      fact.allowed = {offsets::exactly(0), offsets::between(-1, 1)};
      fact.recorded = DaySet::all();
      fact.is_firm = false;
      add_fact(data, std::move(fact));
    }
    found->second = {photograph, row};
  }
}

}  // namespace

std::uint32_t photograph_at(const ChronologyData& data, const CaptionPlace& place) {
  if (!place.is_known() || place.manuscript >= data.photographs_of_block.size()) return kNone;
  const auto& blocks = data.photographs_of_block[place.manuscript];
  if (place.block >= blocks.size() || blocks[place.block].size() != 1) return kNone;
  return blocks[place.block].front();
}

void add_fact(ChronologyData& data, TimeFact fact) {
  const auto id = static_cast<std::uint32_t>(data.facts.size());
  for (const std::uint32_t variable : {fact.photograph, fact.other}) {
    if (variable == kNone) continue;
    if (variable < data.photographs.size()) data.photographs[variable].facts.push_back(id);
    if (fact.is_relation()) data.is_tied[variable] = true;
  }
  data.facts.push_back(std::move(fact));
}

std::uint32_t add_moment(ChronologyData& data) {
  data.is_tied.push_back(true);
  return data.variable_count++;
}

void relate_photographs(ChronologyData& data) {
  add_stated_orders(data);
  if (data.has_usual_facts) add_sessions(data);
}

}  // namespace tailproof
