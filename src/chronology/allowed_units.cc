// Units of a machine, and the life of a unit.
#include <algorithm>
#include <utility>

#include "tailproof/allowed_days.h"

namespace tailproof {
namespace {

// What the history of one machine says of one claimed unit.
struct Record {
  Allowed held, flown;  // by the claimed unit
  Certain held_by_other, flown_by_other;
  Certain flies_what_it_holds;  // another unit that holds and, unless told otherwise, flies
  Allowed any_operator;         // days on which some operator row may apply
  bool has_holder = false;
};

// Whoever leaves the kinds of units out tells none of them from a squadron.
bool flies(const Ledger& ledger, std::string_view unit) {
  const Unit* row = ledger.unit(unit);
  return row != nullptr && (row->kind.empty() || is_flying_kind(row->kind));
}

// Days on which two different operators are recorded are shared, not exclusive.
Certain without_shared(const std::vector<std::pair<std::string_view, Certain>>& operators) {
  Certain all;
  Certain shared;
  for (const auto& [unit, days] : operators) {
    for (const auto& [other, other_days] : operators) {
      if (unit < other) shared = unite(shared, intersect(days, other_days));
    }
    all = unite(all, days);
  }
  return {all.days.intersect(shared.days.complement()),
          all.narrowed.intersect(shared.days.complement())};
}

void add_ground(Grounds* grounds, const History& row, DaySet days, bool is_against) {
  if (grounds == nullptr) return;
  grounds->add(std::move(days), is_against, row.unit, [&] { return quote_history(row); });
}

Record read_record(const Ledger& ledger, const std::vector<const History*>& history,
                   std::span<const std::string> readings, UnitSense sense, Grounds* grounds) {
  const Margins& margins = ledger.settings().margins;
  Record record;
  std::vector<std::pair<std::string_view, Certain>> operators;
  for (const History* row : history) {
    if (row->unit.empty()) continue;
    const Allowed possible = possible_days(row->spell, margins);
    const Certain certain = certain_days(row->spell, margins);
    const bool is_operator = row->role == "operator";
    const bool is_holder = row->role == "holder";
    if (is_operator) record.any_operator = unite(record.any_operator, possible);
    if (is_holder && !is_event_kind(row->kind)) record.has_holder = true;
    if (agrees_with_any(ledger, row->unit, readings)) {
      if (!is_operator) record.held = unite(record.held, possible);
      if (!is_holder) record.flown = unite(record.flown, possible);
      const bool counts = sense != UnitSense::kHeld || !is_operator;
      if (counts) add_ground(grounds, *row, possible.days, false);
    } else if (is_event_kind(row->kind)) {
      // Whoever repainted or recovered it need not have had it.
      continue;
    } else if (is_operator) {
      operators.emplace_back(row->unit, certain);
      if (sense != UnitSense::kHeld) add_ground(grounds, *row, certain.days, true);
    } else if (is_holder) {
      record.held_by_other = unite(record.held_by_other, certain);
      if (flies(ledger, row->unit)) {
        record.flies_what_it_holds = unite(record.flies_what_it_holds, certain);
      }
      add_ground(grounds, *row, certain.days, true);
    }
  }
  record.flown_by_other = without_shared(operators);
  return record;
}

}  // namespace

std::optional<Allowed> days_of_unit(const Ledger& ledger, const Claim& unit, Grounds* grounds) {
  const Margins& margins = ledger.settings().margins;
  const bool is_former = unit.tense == Tense::kFormer || unit.role == "former";
  const bool is_later = unit.tense == Tense::kLater || unit.role == "later";
  Allowed allowed;
  for (const std::string& reading : readings_of(unit)) {
    const Unit* row = ledger.unit(reading);
    if (row == nullptr) return std::nullopt;
    Allowed days = Allowed::always();
    if (!is_later) days = intersect(days, from_days(row->formed, margins));
    if (!is_former) days = intersect(days, until_days(row->disbanded, margins));
    allowed = unite(allowed, days);
    if (grounds != nullptr) {
      grounds->add(days.days, false, row->unit, [&] { return quote_unit(*row); });
    }
  }
  return allowed;
}

UnitSense unit_sense(const Ledger& ledger, const Claim& claim) {
  if (claim.role == "holder") return UnitSense::kHeld;
  if (claim.role == "operator") return UnitSense::kFlown;
  const Unit* unit = ledger.unit(claim.value);
  // A servicing unit only ever holds.
  return unit != nullptr && is_servicing_kind(unit->kind) ? UnitSense::kHeld : UnitSense::kEither;
}

Certain days_apart(const Ledger& ledger, const Claim& claim, const DaySet& days, Grounds* grounds) {
  Certain elsewhere;
  if (!flies(ledger, claim.value) || claim.readings.size() > 1) return elsewhere;
  const std::vector<Placement> machine = placements_of_machine(ledger, claim.subject);
  Allowed together;
  for (const Placement& station : placements_of_unit(ledger, claim.value)) {
    for (const Placement& placement : machine) {
      if (places_agree(ledger, station.place, placement.place)) {
        together = unite(together, intersect(station.possible, placement.possible));
        continue;
      }
      if (placement.is_event) continue;
      const Certain apart = intersect(station.certain, placement.certain);
      if (apart.days.empty()) continue;
      elsewhere = unite(elsewhere, apart);
      if (grounds == nullptr || !apart.days.intersects(days)) continue;
      grounds->add(apart.days, true, station.place, [&] { return station.evidence(); });
      grounds->add(apart.days, true, placement.place, [&] { return placement.evidence(); });
    }
  }
  return {elsewhere.days.intersect(together.days.complement()),
          elsewhere.narrowed.intersect(together.widened.complement())};
}

Allowed days_with_unit(const Ledger& ledger, const Claim& claim, const When& when,
                       Grounds* grounds) {
  const UnitSense sense = unit_sense(ledger, claim);
  const Record record =
      read_record(ledger, ledger.history_of(claim.subject), readings_of(claim), sense, grounds);
  const auto where_free = [&](const Certain& others) {
    return only_in_life(ledger, claim.subject, when, except(others));
  };
  if (sense == UnitSense::kHeld) return unite(record.held, where_free(record.held_by_other));
  // A squadron that holds an aircraft flies it too, unless an operator row covers that day.
  const Allowed& operated = record.any_operator;
  const Certain implied{
      record.flies_what_it_holds.days.intersect(operated.days.complement()),
      record.flies_what_it_holds.narrowed.intersect(operated.widened.complement())};
  Certain others = unite(record.flown_by_other, implied);
  const Allowed held_and_flown{
      record.held.days.intersect(record.flown_by_other.days.complement()),
      record.held.widened.intersect(record.flown_by_other.narrowed.complement())};
  Allowed own = unite(record.flown, held_and_flown);
  if (sense == UnitSense::kEither) {
    own = unite(own, record.held);
    if (record.has_holder) others = intersect(others, record.held_by_other);
  }
  if (when.known) others = unite(others, days_apart(ledger, claim, when.days, grounds));
  return unite(own, where_free(others));
}

}  // namespace tailproof
