// | situation                                                                   | level  |
// | said to be held by one unit while another certainly held it                 | error  |
// | said to be flown by one unit while another is the only recorded operator,   | error  |
// |   or a squadron held it and no operator row covers the day                  |        |
// | no word of holding or flying, and it is neither holder nor operator         | error  |
// | said to be flown by a unit that was elsewhere, the machine's place known    | error  |
// | parent and sub-unit, holder beside operator, a gap between rows             | silent |
// | former or later unit                                                        | silent |
// | a unit that a closed table of units does not have                           | error  |
#include <algorithm>
#include <string>
#include <vector>

#include "tailproof/placement.h"
#include "tailproof/verdict.h"

namespace tailproof {
namespace {

constexpr std::string_view kId = "unit-disagrees";
constexpr std::size_t kQuoted = 4;

enum class Sense { kHeld, kFlown, kEither };

Sense sense_of(const Ledger& ledger, const Claim& claim) {
  if (claim.role == "holder") return Sense::kHeld;
  if (claim.role == "operator") return Sense::kFlown;
  const Unit* unit = ledger.unit(claim.value);
  // A servicing unit only ever holds.
  return unit != nullptr && is_servicing_kind(unit->kind) ? Sense::kHeld : Sense::kEither;
}

// What the history of one machine says of one claimed unit.
struct Record {
  Allowed held, flown;  // by the claimed unit
  Certain held_by_other, flown_by_other;
  Certain flies_what_it_holds;  // another unit that holds and, unless told otherwise, flies
  Allowed any_operator;         // days on which some operator row may apply
  bool has_holder = false;
};

bool flies(const Ledger& ledger, std::string_view unit) {
  const Unit* row = ledger.unit(unit);
  return row != nullptr && is_flying_kind(row->kind);
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

Record read_record(const Ledger& ledger, const std::vector<const History*>& history,
                   const std::vector<std::string>& readings) {
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
    } else if (is_event_kind(row->kind)) {
      // Whoever repainted or recovered it need not have had it.
      continue;
    } else if (is_operator) {
      operators.emplace_back(row->unit, certain);
    } else if (is_holder) {
      record.held_by_other = unite(record.held_by_other, certain);
      if (flies(ledger, row->unit)) {
        record.flies_what_it_holds = unite(record.flies_what_it_holds, certain);
      }
    }
  }
  record.flown_by_other = without_shared(operators);
  return record;
}

// Days on which the unit was certainly at a place where the machine certainly was not.
Certain days_elsewhere(const Ledger& ledger, const Claim& claim, std::vector<Evidence>& evidence) {
  Certain elsewhere;
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
      if (!apart.days.intersects(claim.when.days)) continue;
      evidence.push_back(station.evidence);
      evidence.push_back(placement.evidence);
    }
  }
  return {elsewhere.days.intersect(together.days.complement()),
          elsewhere.narrowed.intersect(together.widened.complement())};
}

Allowed allowed_days(const Ledger& ledger, const Claim& claim, Sense sense, const Record& record,
                     std::vector<Evidence>& elsewhere) {
  if (sense == Sense::kHeld) return unite(record.held, except(record.held_by_other));
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
  if (sense == Sense::kEither) {
    own = unite(own, record.held);
    if (record.has_holder) others = intersect(others, record.held_by_other);
  }
  if (claim.when.known && flies(ledger, claim.value) && claim.readings.size() < 2) {
    others = unite(others, days_elsewhere(ledger, claim, elsewhere));
  }
  return unite(own, except(others));
}

std::string verb_of(Sense sense) {
  if (sense == Sense::kHeld) return "held by ";
  return sense == Sense::kFlown ? "flown by " : "with ";
}

std::optional<Query> unknown_unit(const CheckInput& input, const Claim& claim) {
  if (claim.known || !input.ledger.is_closed_table("units")) return std::nullopt;
  Query query = query_at(kId, input, claim, tempered(claim, Level::kError),
                         claim.subject + " is put " + verb_of(Sense::kEither) + claim.value +
                             ", a unit that the ledger, which is closed for units, does not have");
  query.evidence.push_back(quote_table("units.csv", "closed, and has no " + claim.value));
  return query;
}

}  // namespace

std::vector<Query> check_unit_disagrees(const CheckInput& input) {
  const Ledger& ledger = input.ledger;
  return judge_claims(input, ClaimKind::kUnit, [&](const Claim& claim) -> std::optional<Query> {
    const bool has_sense = claim.role.empty() || claim.role == "holder" || claim.role == "operator";
    if (!has_sense || !holds_at_its_date(input, claim)) return std::nullopt;
    if (ledger.machine_of(claim.subject).empty()) return std::nullopt;
    const std::vector<std::string> readings = readings_of(claim);
    if (ledger.unit(claim.value) == nullptr) return unknown_unit(input, claim);
    const std::vector<const History*> history = ledger.history_of(claim.subject);
    if (history.empty()) return std::nullopt;

    const Sense sense = sense_of(ledger, claim);
    std::vector<Evidence> elsewhere;
    const Record record = read_record(ledger, history, readings);
    Allowed allowed = allowed_days(ledger, claim, sense, record, elsewhere);
    if (!claim.when.known) {
      // Undated: contradicted only when others had it all its life.
      const auto life = ledger.life_of(claim.subject, false);
      const auto wide = ledger.life_of(claim.subject, true);
      if (!life || !wide || life->empty()) return std::nullopt;
      allowed = intersect(allowed, {*life, *wide});
    }
    const std::optional<Level> level = level_of(claim, fit(claim.when, allowed), Level::kError);
    if (!level) return std::nullopt;

    std::string others;
    std::vector<Evidence> evidence;
    for (const History* row : history) {
      const bool counts = sense == Sense::kHeld ? row->role == "holder"
                          : sense == Sense::kFlown
                              ? !row->role.empty()
                              : row->role == "holder" || row->role == "operator";
      if (row->unit.empty() || !counts || is_event_kind(row->kind)) continue;
      if (!row->spell.possible().intersects(claim.when.widened)) continue;
      if (evidence.size() < kQuoted) {
        evidence.push_back(quote_history(*row));
        others += (others.empty() ? "" : " and ") +
                  std::string(row->role == "operator" ? "flown by " : "held by ") + row->unit +
                  " " + in_words(row->spell);
      }
    }
    std::string message = claim.subject +
                          (sense == Sense::kEither ? " is put " : " is said to be ") +
                          verb_of(sense) + claim.value;
    const std::string date = when_in_words(claim.when);
    if (!date.empty()) message += " " + date;
    message += others.empty() ? ", but that unit was then elsewhere" : ", but was " + others;
    Query query = query_at(kId, input, claim, *level, std::move(message));
    query.evidence = std::move(evidence);
    for (Evidence& row : elsewhere) {
      if (query.evidence.size() < 2 * kQuoted) query.evidence.push_back(std::move(row));
    }
    for (const History* row : history) {
      if (row->unit.empty() || row->role.empty() || is_event_kind(row->kind)) continue;
      const bool is_then = claim.when.known && row->spell.possible().intersects(claim.when.days);
      const bool fits = sense != Sense::kHeld || row->role == "holder";
      if (is_then && fits && query.suggestion.find(row->unit) == std::string::npos) {
        query.suggestion += (query.suggestion.empty() ? "" : " or ") + row->unit;
      }
    }
    return query;
  });
}

}  // namespace tailproof
