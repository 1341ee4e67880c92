// Which one more fact would narrow a bracket most. For each kind of fact that the caption lacks,
// every value that the ledger still allows is tried: with each of its days as likely as any other,
// the days left are to be expected as the mean of what the values leave, weighed by how often each
// would be the right one.
#include <algorithm>
#include <cmath>
#include <map>
#include <set>

#include "chronology/chronology_data.h"

namespace tailproof {
namespace {

Day count_days(const DaySet& days) {
  Day count = 0;
  for (const DayRange& range : days.ranges()) count += range.last - range.first + 1;
  return count;
}

class Expectation {
 public:
  void add(const DaySet& left) {
    const auto days = static_cast<double>(count_days(left));
    if (days <= 0) return;
    ++candidates_;
    sum_ += days;
    squares_ += days * days;
  }
  [[nodiscard]] std::size_t candidates() const { return candidates_; }
  [[nodiscard]] Day days() const { return std::llround(squares_ / sum_); }

 private:
  std::size_t candidates_ = 0;
  double sum_ = 0, squares_ = 0;
};

void prepare(ChronologyData& data) {
  if (!data.horizon.empty()) return;
  const Ledger& ledger = data.input.ledger;
  Day first = kLastDay;
  Day last = kFirstDay;
  const auto reach = [&](const DaySet& days) {
    if (days.empty()) return;
    if (days.first() > kFirstDay) first = std::min(first, days.first());
    if (days.last() < kLastDay) last = std::max(last, days.last());
  };
  for (const Airframe& airframe : ledger.airframes()) {
    const std::optional<DaySet> life = ledger.life_of(airframe.serial, false);
    if (!life || life->empty()) continue;
    reach(*life);
    data.candidates.push_back({&airframe, *life});
  }
  for (const Order& order : ledger.orders()) reach(effect_of(order).days());
  for (const History& row : ledger.histories()) reach(row.spell.possible());
  for (const Station& row : ledger.stations()) reach(row.spell.possible());
  data.horizon = first <= last ? DaySet{DayRange{first, last}} : DaySet::all();
}

// What the caption tells, as far as it decides which facts are missing.
struct Told {
  std::string_view serial;
  std::vector<const Claim*> types, units, places, markings;
};

Told read_told(const ChronologyData& data, const PhotographTime& photograph) {
  Told told;
  Claim at;  // any claim of this caption stands for it
  at.manuscript = photograph.manuscript;
  at.block = photograph.block;
  for (const std::uint32_t i : data.index.around(at)) {
    const Claim& claim = data.input.claims[i];
    if (!is_of_picture(data.input, claim)) continue;
    if (claim.kind == ClaimKind::kType) told.types.push_back(&claim);
    if (claim.kind == ClaimKind::kUnit) told.units.push_back(&claim);
    if (claim.kind == ClaimKind::kPlace) told.places.push_back(&claim);
    if (claim.kind == ClaimKind::kMarking) told.markings.push_back(&claim);
    const bool is_machine =
        claim.kind == ClaimKind::kAirframe && told.serial.empty() &&
        !data.input.ledger.machine_of(claim.subject.empty() ? claim.value : claim.subject).empty();
    if (is_machine) told.serial = claim.subject.empty() ? claim.value : claim.subject;
  }
  return told;
}

bool is_of_type(const Airframe& airframe, const std::vector<const Claim*>& types) {
  return types.empty() || std::any_of(types.begin(), types.end(), [&](const Claim* claim) {
           return claim->value == airframe.type ||
                  claim->value == airframe.type + " " + airframe.mark;
         });
}

// Days on which the ledger has the machine with the unit.
DaySet days_recorded(const Ledger& ledger, std::string_view serial,
                     std::span<const std::string> units) {
  DaySet days;
  for (const History* row : ledger.history_of(serial)) {
    if (row->unit.empty() || is_event_kind(row->kind)) continue;
    if (agrees_with_any(ledger, row->unit, units)) days = days.unite(row->spell.possible());
  }
  return days;
}

Expectation by_serial(const ChronologyData& data, const Told& told, const DaySet& days) {
  Expectation expectation;
  for (const ChronologyData::Candidate& candidate : data.candidates) {
    if (!is_of_type(*candidate.airframe, told.types)) continue;
    DaySet left = days.intersect(candidate.life);
    if (left.empty()) continue;
    for (const Claim* unit : told.units) {
      const DaySet with =
          days_recorded(data.input.ledger, candidate.airframe->serial, readings_of(*unit));
      left = left.intersect(with);
    }
    expectation.add(left);
  }
  return expectation;
}

Expectation by_unit(const ChronologyData& data, const Told& told, const DaySet& days) {
  const Ledger& ledger = data.input.ledger;
  std::map<std::string_view, DaySet> with;
  if (!told.serial.empty()) {
    for (const History* row : ledger.history_of(told.serial)) {
      if (row->unit.empty() || is_event_kind(row->kind)) continue;
      with[row->unit] = with[row->unit].unite(row->spell.possible());
    }
  } else {
    for (const Claim* place : told.places) {
      for (const Station& row : ledger.stations()) {
        if (!places_agree(ledger, row.place, place->value)) continue;
        with[row.unit] = with[row.unit].unite(row.spell.possible());
      }
    }
  }
  Expectation expectation;
  for (const auto& [unit, spells] : with) expectation.add(days.intersect(spells));
  return expectation;
}

Expectation by_theatre(const ChronologyData& data, const Told& told, const DaySet& days) {
  const Ledger& ledger = data.input.ledger;
  std::set<std::string_view> theatres;
  for (const Place& place : ledger.places()) {
    if (!place.theatre.empty()) theatres.insert(place.theatre);
  }
  std::map<std::string_view, DaySet> there;
  if (!told.serial.empty()) {
    for (const Placement& placement : placements_of_machine(ledger, told.serial)) {
      const std::string_view theatre = ledger.theatre_of(placement.place);
      if (theatre.empty()) continue;
      there[theatre] = there[theatre].unite(placement.possible.days);
    }
  } else {
    for (const std::string_view theatre : theatres) there[theatre] = DaySet::all();
  }
  // Without a machine the theatre tells which orders to go by.
  Expectation expectation;
  for (auto& [theatre, when] : there) {
    for (const Claim* marking : told.markings) {
      DaySet ordered;
      bool has_order = false;
      for (const Order* order : ledger.orders_of(marking->value)) {
        if (order->action != OrderAction::kIntroduces) continue;
        has_order = true;
        if (!reaches_theatre(*order, theatre)) continue;
        ordered = ordered.unite(from_days(effect_of(*order), ledger.settings().margins).days);
      }
      if (has_order) when = when.intersect(ordered);
    }
    expectation.add(days.intersect(when));
  }
  return expectation;
}

}  // namespace

Narrowing Chronology::narrowing(std::uint32_t photograph, const Bracket& bracket) {
  prepare(*data_);
  Narrowing best;
  const DaySet days = bracket.days.intersect(data_->horizon);
  if (days.is_all()) return best;
  best.days_now = count_days(days);
  best.days_then = best.days_now;
  if (best.days_now <= 1) return best;
  const Told told = read_told(*data_, data_->photographs[photograph]);
  const auto offer = [&](std::string_view what, const Expectation& expectation) {
    if (expectation.candidates() == 0 || expectation.days() >= best.days_then) return;
    best.what = what;
    best.candidates = expectation.candidates();
    best.days_then = expectation.days();
  };
  if (told.serial.empty()) offer("serial", by_serial(*data_, told, days));
  if (told.units.empty()) offer("unit", by_unit(*data_, told, days));
  if (told.places.empty()) offer("theatre", by_theatre(*data_, told, days));
  return best;
}

}  // namespace tailproof
