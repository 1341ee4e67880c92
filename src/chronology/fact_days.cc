// From one claim of a caption, without regard to its date, to the days that the ledger leaves it.
#include <algorithm>
#include <utility>

#include "chronology/chronology_data.h"

namespace tailproof {
namespace {

std::string_view serial_of(const Claim& claim) {
  return claim.subject.empty() ? std::string_view(claim.value) : std::string_view(claim.subject);
}

// The accidents of which the caption tells were, by the ledger, none that ended the machine.
bool is_only_dented(const ChronologyData& data, const Claim& claim, const Allowed& life) {
  constexpr Day kLongAfter = 366;
  if ((claim.said & kSaidRemains) != 0) return false;
  for (const std::uint32_t i : data.index.around(claim)) {
    const Claim& event = data.input.claims[i];
    if (event.kind != ClaimKind::kEvent || event.subject != claim.subject) continue;
    if (event.value == "lost" || event.value == "struck_off_charge") return false;
  }
  bool has_row = false;
  for (const History* row : data.input.ledger.history_of(serial_of(claim))) {
    if (row->kind != "accident") continue;
    if (row->spell.from.is_unknown() || row->spell.from.days().empty()) return false;
    has_row = true;
    if (row->spell.from.days().last() + kLongAfter > life.widened.last()) return false;
  }
  return has_row;
}

std::optional<FactDays> life(const ChronologyData& data, const Claim& claim, Grounds* grounds) {
  std::optional<Allowed> days = days_of_life(data.input.ledger, serial_of(claim), grounds);
  if (!days) return std::nullopt;
  const auto open_until = [](DaySet& set) { set = DaySet{DayRange{set.first(), kLastDay}}; };
  const auto open_from = [](DaySet& set) { set = DaySet{DayRange{kFirstDay, set.last()}}; };
  if (tells_of_end(data.index, claim) && !is_only_dented(data, claim, *days)) {
    open_until(days->days);
    open_until(days->widened);
  }
  if ((claim.said & kSaidMakers) != 0) {
    open_from(days->days);
    open_from(days->widened);
  }
  return FactDays{*std::move(days)};
}

// Runs `find` with the days of the rows that speak for the claim.
template <typename Find>
std::optional<FactDays> with_recorded(Grounds* grounds, const Find& find) {
  Grounds own = Grounds::without_evidence();
  Grounds& rows = grounds == nullptr ? own : *grounds;
  std::optional<Allowed> allowed = find(&rows);
  if (!allowed) return std::nullopt;
  return FactDays{*std::move(allowed), rows.recorded()};
}

std::optional<FactDays> rank(const ChronologyData& data, const Claim& claim, Grounds* grounds) {
  FactDays found;
  found.recorded = DaySet();
  for (const std::string& person : people_meant(data.index, claim)) {
    const std::optional<RankDays> days =
        days_of_rank(data.input.ledger, person, readings_of(claim), grounds);
    if (!days) return std::nullopt;
    found.allowed = unite(found.allowed, days->allowed);
    found.recorded = found.recorded.unite(days->was_held ? days->own.days : DaySet::all());
  }
  return found;
}

std::optional<FactDays> place(const ChronologyData& data, Basis basis, const Claim& claim,
                              Grounds* grounds) {
  const auto days_at = [&](Stations stations, Grounds* rows) {
    return days_at_place(data.input, data.index, claim, at_any_time(), stations, rows);
  };
  const Stations counted = basis == Basis::kPlace ? Stations::kOfNamedUnits : Stations::kOfItsUnits;
  std::optional<FactDays> found =
      with_recorded(grounds, [&](Grounds* rows) { return days_at(counted, rows); });
  if (!found || counted == Stations::kOfItsUnits) return found;
  // Where it was all the time with a unit that the caption does not name is recorded as well, or
  // else the one day of an event there would be the only one.
  Grounds all = Grounds::without_evidence();
  static_cast<void>(days_at(Stations::kOfItsUnits, &all));
  found->recorded = found->recorded.unite(all.recorded());
  return found;
}

// Parts of time within which the machine's theatres and units stay the same.
std::vector<DaySet> even_parts(const Wearer& wearer) {
  std::vector<Day> cuts = {kFirstDay};
  const auto add = [&](const DaySet& days) {
    for (const DayRange& range : days.ranges()) {
      if (range.first > kFirstDay) cuts.push_back(range.first);
      if (range.last < kLastDay) cuts.push_back(range.last + 1);
    }
  };
  for (const Placement& placement : wearer.placements()) {
    add(placement.possible.days);
    add(placement.possible.widened);
  }
  for (const History* row : wearer.history) {
    if (!row->unit.empty()) add(row->spell.possible());
  }
  std::sort(cuts.begin(), cuts.end());
  cuts.erase(std::unique(cuts.begin(), cuts.end()), cuts.end());
  std::vector<DaySet> parts;
  for (std::size_t i = 0; i < cuts.size(); ++i) {
    const Day last = i + 1 < cuts.size() ? cuts[i + 1] - 1 : kLastDay;
    parts.push_back(DaySet{DayRange{cuts[i], last}});
  }
  return parts;
}

bool has_scope(const std::vector<const Order*>& orders) {
  return std::any_of(orders.begin(), orders.end(), [](const Order* order) {
    return !order->theatres.empty() || !order->units.empty();
  });
}

void quote_orders(const std::vector<const Order*>& orders, const Margins& margins,
                  Grounds* grounds) {
  if (grounds == nullptr) return;
  for (const Order* order : orders) {
    const bool introduces = order->action == OrderAction::kIntroduces;
    const DaySet since = from_days(effect_of(*order), margins).days;
    grounds->add(since, !introduces, order->marking, [&] { return quote_order(*order); });
  }
}

std::optional<FactDays> marking(const ChronologyData& data, Basis basis, const Claim& claim,
                                Grounds* grounds) {
  const Ledger& ledger = data.input.ledger;
  const Margins& margins = ledger.settings().margins;
  const Wearer wearer = wearer_of(data.input, data.index, claim);
  if (basis == Basis::kReached && wearer.serial.empty()) return std::nullopt;
  FactDays found;
  for (const std::string& reading : readings_of(claim)) {
    const std::vector<const Order*> orders = ledger.orders_of(reading);
    if (orders.empty()) return std::nullopt;
    const bool is_ever = basis == Basis::kIntroduced || basis == Basis::kTrace;
    const bool is_even = is_ever || !has_scope(orders);
    const std::vector<DaySet> parts =
        is_even ? std::vector<DaySet>{DaySet::all()} : even_parts(wearer);
    for (const DaySet& part : parts) {
      Allowed days;
      if (basis == Basis::kCurrent) {
        Currency currency = currency_of(ledger, claim, wearer, reading, part);
        days = currency.withdrawals.empty() || currency.is_carried_out ? Allowed::always()
                                                                       : currency.allowed;
        quote_orders(currency.withdrawals, margins, grounds);
      } else {
        Introduction introduction = introduction_of(ledger, claim, wearer, reading, part);
        if (introduction.orders.empty()) return std::nullopt;
        const bool is_anywhere = is_ever || introduction.surfaces.none();
        days = is_anywhere ? introduction.anywhere : introduction.here;
        quote_orders(introduction.orders, margins, grounds);
      }
      found.allowed = unite(found.allowed, intersect(days, {part, part}));
    }
  }
  return found;
}

}  // namespace

std::optional<FactDays> days_of_fact(const ChronologyData& data, Basis basis, const Claim& claim,
                                     Grounds* grounds) {
  const Ledger& ledger = data.input.ledger;
  const auto without_rows = [](std::optional<Allowed> allowed) -> std::optional<FactDays> {
    if (!allowed) return std::nullopt;
    return FactDays{*std::move(allowed)};
  };
  switch (basis) {
    case Basis::kLife:
      return life(data, claim, grounds);
    case Basis::kIdentity:
      return with_recorded(grounds,
                           [&](Grounds* rows) { return days_of_identity(ledger, claim, rows); });
    case Basis::kUnit:
      return with_recorded(grounds, [&](Grounds* rows) -> std::optional<Allowed> {
        return days_with_unit(ledger, claim, at_any_time(), rows);
      });
    case Basis::kUnitLife:
      return without_rows(days_of_unit(ledger, claim, grounds));
    case Basis::kPlace:
    case Basis::kStation:
      return place(data, basis, claim, grounds);
    case Basis::kPerson:
      return without_rows(days_of_person(ledger, claim, grounds));
    case Basis::kRank:
      return rank(data, claim, grounds);
    case Basis::kAward:
      return without_rows(days_of_award(data.index, ledger, claim, grounds));
    case Basis::kService:
      return with_recorded(grounds, [&](Grounds* rows) {
        return days_of_service(data.index, ledger, data.commanders, claim, rows);
      });
    case Basis::kIntroduced:
    case Basis::kReached:
    case Basis::kCurrent:
    case Basis::kTrace:
      return marking(data, basis, claim, grounds);
    case Basis::kDate:
    case Basis::kArchive:
    case Basis::kRepainted:
    case Basis::kFormerOwner:
    case Basis::kEventDay:
    case Basis::kEvent:
    case Basis::kStatedOrder:
    case Basis::kSession:
    case Basis::kPaintOrder:
    case Basis::kCoat:
    case Basis::kNewOwner:
      break;
  }
  return std::nullopt;
}

}  // namespace tailproof
