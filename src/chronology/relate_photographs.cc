// What ties one photograph to another: stated order, one session, one paint.
#include <algorithm>
#include <map>
#include <tuple>

#include "chronology/chronology_data.h"

namespace tailproof {
namespace {

std::uint32_t photograph_at(const ChronologyData& data, const CaptionPlace& place) {
  if (!place.is_known() || place.manuscript >= data.photographs_of_block.size()) return kNone;
  const auto& blocks = data.photographs_of_block[place.manuscript];
  // Of a caption that prints several it is not told which one is meant.
  if (place.block >= blocks.size() || blocks[place.block].size() != 1) return kNone;
  return blocks[place.block].front();
}

void push(ChronologyData& data, TimeFact fact) {
  const auto id = static_cast<std::uint32_t>(data.facts.size());
  for (const std::uint32_t variable : {fact.photograph, fact.other}) {
    if (variable >= data.photographs.size()) continue;
    data.photographs[variable].facts.push_back(id);
    data.is_tied[variable] = true;
  }
  data.facts.push_back(std::move(fact));
}

void add_stated_orders(ChronologyData& data) {
  for (std::uint32_t i = 0; i < data.input.claims.size(); ++i) {
    const Claim& claim = data.input.claims[i];
    if (claim.kind != ClaimKind::kOrderInTime || !is_affirmed(claim)) continue;
    if (claim.tense != Tense::kThen || claim.relation.least > claim.relation.most) continue;
    TimeFact fact;
    fact.basis = Basis::kStatedOrder;
    fact.photograph = photograph_at(data, claim.relation.photograph);
    fact.other = photograph_at(data, claim.relation.other);
    if (fact.photograph == kNone || fact.other == kNone) continue;
    if (fact.photograph == fact.other) continue;
    const DaySet offsets{DayRange{claim.relation.least, claim.relation.most}};
    fact.claim = i;
    fact.allowed = {offsets, offsets};
    fact.recorded = DaySet::all();
    fact.is_hedged = claim.hedged;
    fact.is_inherited = claim.inherited;
    push(data, std::move(fact));
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
      push(data, std::move(fact));
    }
    found->second = {photograph, row};
  }
}

// One form of a marking on a machine, in one photograph.
struct Worn {
  std::uint32_t photograph = kNone;
  std::uint32_t claim = kNone;
  Surfaces surfaces;
};
using Forms = std::map<std::string_view, std::vector<Worn>>;  // by marking

// The row counts for a machine that can only have been in its theatres.
bool reaches(const Ledger& ledger, const Sequence& row, std::string_view serial) {
  if (row.theatres.empty()) return true;
  const std::vector<std::string_view> theatres =
      theatres_on(ledger, placements_of_machine(ledger, serial), DaySet::all());
  return !theatres.empty() &&
         std::all_of(theatres.begin(), theatres.end(), [&](std::string_view theatre) {
           return std::find(row.theatres.begin(), row.theatres.end(), theatre) !=
                  row.theatres.end();
         });
}

// A repaint may bring an old form back.
bool is_repainted(const Ledger& ledger, const Sequence& row, std::string_view serial,
                  const Surfaces& surfaces) {
  Wearer wearer;
  wearer.history = ledger.history_of(serial);
  return !repainted_days(ledger, wearer, row.earlier, surfaces).days.empty();
}

// All photographs of the earlier form before one moment, all of the later form after it.
void add_paint_order(ChronologyData& data, const Sequence& row, const Forms& forms) {
  const auto earlier = forms.find(row.earlier);
  const auto later = forms.find(row.later);
  if (earlier == forms.end() || later == forms.end()) return;
  const std::string_view serial = data.input.claims[earlier->second.front().claim].subject;
  if (!reaches(data.input.ledger, row, serial)) return;
  const Surfaces scope = surfaces_of(row.positions);
  for (std::size_t surface = 0; surface < kSurfaceCount; ++surface) {
    if (!scope.test(surface)) continue;
    const auto is_here = [&](const Worn& worn) { return worn.surfaces.test(surface); };
    const bool is_both = std::any_of(earlier->second.begin(), earlier->second.end(), is_here) &&
                         std::any_of(later->second.begin(), later->second.end(), is_here);
    Surfaces here;
    here.set(surface);
    if (!is_both || is_repainted(data.input.ledger, row, serial, here)) continue;
    const std::uint32_t moment = data.variable_count++;
    const auto add = [&](const Worn& worn, bool is_later) {
      if (!is_here(worn)) return;
      TimeFact fact;
      fact.basis = Basis::kPaintOrder;
      fact.photograph = is_later ? worn.photograph : moment;
      fact.other = is_later ? moment : worn.photograph;
      fact.claim = worn.claim;
      fact.sequence = &row;
      fact.allowed = {offsets::not_before(), offsets::not_before()};
      fact.recorded = DaySet::all();
      fact.is_firm = row.always;
      fact.is_hedged = data.input.claims[worn.claim].hedged;
      fact.is_inherited = data.input.claims[worn.claim].inherited;
      push(data, std::move(fact));
    };
    for (const Worn& worn : earlier->second) add(worn, false);
    for (const Worn& worn : later->second) add(worn, true);
  }
}

void add_paint_orders(ChronologyData& data) {
  const Ledger& ledger = data.input.ledger;
  if (ledger.sequences().empty()) return;
  std::map<std::uint32_t, Forms> forms_of;  // by machine
  for (std::uint32_t i = 0; i < data.input.claims.size(); ++i) {
    const Claim& claim = data.input.claims[i];
    if (claim.kind != ClaimKind::kMarking || !claim.known || claim.readings.size() > 1) continue;
    if (claim.state != MarkingState::kWorn && claim.state != MarkingState::kAdded) continue;
    if (!is_of_picture(data.input, claim)) continue;
    const std::uint32_t photograph = photograph_at(data, {claim.manuscript, claim.block});
    if (photograph == kNone) continue;
    const Surfaces surfaces = certain_surfaces(ledger, claim);
    if (surfaces.none()) continue;
    const std::vector<const Airframe*> machine = ledger.machine_of(claim.subject);
    if (machine.empty()) continue;
    forms_of[machine.front()->machine][claim.value].push_back({photograph, i, surfaces});
  }
  for (const auto& [machine, forms] : forms_of) {
    if (forms.size() < 2) continue;
    for (const Sequence& row : ledger.sequences()) add_paint_order(data, row, forms);
  }
}

}  // namespace

Surfaces certain_surfaces(const Ledger& ledger, const Claim& marking) {
  const std::string& position =
      marking.position.empty() ? ledger.settings().position : marking.position;
  if (position.empty()) return {};
  const Surfaces surfaces = surfaces_of(position);
  // "On the wing" may be either side of it.
  return surfaces.count() == 1 ? surfaces : Surfaces();
}

void relate_photographs(ChronologyData& data) {
  data.variable_count = static_cast<std::uint32_t>(data.photographs.size());
  data.is_tied.assign(data.photographs.size(), false);
  add_stated_orders(data);
  if (data.has_usual_facts) add_sessions(data);
  add_paint_orders(data);
}

}  // namespace tailproof
