// | situation                                                                | level  |
// | the person was certainly with (or in command of) another unit            | error  |
// | in command: somebody else certainly commanded that unit                  | error  |
// | before the first or after the last recorded spell, and with that unit at | error  |
// |   some other time                                                        |        |
// | parent and sub-unit, a gap between spells                                | silent |
// | former or later unit                                                     | silent |
// | a name shared by several people, one of whom was there                   | silent |
#include <algorithm>
#include <string>
#include <string_view>
#include <unordered_map>
#include <vector>

#include "tailproof/claim_index.h"
#include "tailproof/placement.h"
#include "tailproof/verdict.h"

namespace tailproof {
namespace {

constexpr std::string_view kId = "person-unit-disagrees";
constexpr std::size_t kQuoted = 4;

std::string quoted_as(const Service& row) {
  return row.person + (row.kind == "command" ? " in command of " : " with ") + row.value + " " +
         in_words(row.spell);
}

// Everybody whom the person's name in the text may mean.
std::vector<std::string> people_meant(const ClaimIndex& index, const Claim& unit) {
  for (const std::uint32_t i : index.around(unit)) {
    const Claim& claim = index.claim(i);
    if (claim.kind != ClaimKind::kPerson || claim.readings.empty()) continue;
    if (std::find(claim.readings.begin(), claim.readings.end(), unit.subject) !=
        claim.readings.end()) {
      return claim.readings;
    }
  }
  return {unit.subject};
}

struct Record {
  Allowed own;
  Certain elsewhere;
  bool has_rows = false;
};

// Outside everything recorded of the person, a spell with known ends has not begun or is over.
// Between two spells nothing is known.
Certain outside_all(const std::vector<const Service*>& rows, const Margins& margins) {
  Allowed hull;
  for (const Service* row : rows) {
    Allowed days = possible_days(row->spell, margins);
    if (days.days.empty()) continue;
    hull = unite(hull, days);
  }
  if (hull.days.empty()) return {};
  hull.days = DaySet{DayRange{hull.days.first(), hull.days.last()}};
  hull.widened = DaySet{DayRange{hull.widened.first(), hull.widened.last()}};
  return {hull.days.complement(), hull.widened.complement()};
}

Record read_record(const Ledger& ledger, const std::string& person, const Claim& claim,
                   const std::vector<std::string>& units) {
  const Margins& margins = ledger.settings().margins;
  const bool is_command = claim.role == "command";
  Record record;
  std::vector<const Service*> rows;
  bool was_there = false;
  for (const Service* row : ledger.service_of(person)) {
    if (row->kind != "unit" && row->kind != "command") continue;
    record.has_rows = true;
    // Whoever commands a wing need not belong to one of its squadrons only.
    const bool agrees = agrees_with_any(ledger, row->value, units);
    if (agrees && (!is_command || row->kind == "command")) {
      record.own = unite(record.own, possible_days(row->spell, margins));
      was_there = true;
      rows.push_back(row);
    } else if (!agrees) {
      record.elsewhere = unite(record.elsewhere, certain_days(row->spell, margins));
      rows.push_back(row);
    }
  }
  if (was_there) record.elsewhere = unite(record.elsewhere, outside_all(rows, margins));
  return record;
}

using Commanders = std::unordered_map<std::string_view, std::vector<const Service*>>;

Commanders read_commanders(const Ledger& ledger) {
  Commanders commanders;
  for (const Service& row : ledger.service()) {
    if (row.kind == "command") commanders[row.value].push_back(&row);
  }
  return commanders;
}

// Days on which others commanded one of the units.
Certain commanded_by_others(const Ledger& ledger, const Commanders& commanders,
                            const std::vector<std::string>& people,
                            const std::vector<std::string>& units,
                            std::vector<const Service*>& rows) {
  Certain days;
  for (const std::string& unit : units) {
    const auto found = commanders.find(unit);
    if (found == commanders.end()) continue;
    for (const Service* row : found->second) {
      if (std::find(people.begin(), people.end(), row->person) != people.end()) continue;
      days = unite(days, certain_days(row->spell, ledger.settings().margins));
      rows.push_back(row);
    }
  }
  return days;
}

}  // namespace

std::vector<Query> check_person_unit_disagrees(const CheckInput& input) {
  const ClaimIndex index(input);
  const Ledger& ledger = input.ledger;
  const Commanders all_commanders = read_commanders(ledger);
  return judge_claims(input, ClaimKind::kUnit, [&](const Claim& claim) -> std::optional<Query> {
    const bool has_sense = claim.role.empty() || claim.role == "member" || claim.role == "command";
    if (!has_sense || !claim.when.known || !holds_at_its_date(input, claim)) return std::nullopt;
    if (ledger.person(claim.subject) == nullptr) return std::nullopt;
    const std::vector<std::string> units = readings_of(claim);
    for (const std::string& unit : units) {
      if (ledger.unit(unit) == nullptr) return std::nullopt;
    }
    const std::vector<std::string> people = people_meant(index, claim);
    Allowed allowed;
    for (const std::string& person : people) {
      const Record record = read_record(ledger, person, claim, units);
      if (!record.has_rows) return std::nullopt;
      allowed = unite(allowed, unite(record.own, except(record.elsewhere)));
    }
    std::vector<const Service*> commanders;
    if (claim.role == "command") {
      const Certain others = commanded_by_others(ledger, all_commanders, people, units, commanders);
      Allowed own;
      for (const std::string& person : people) {
        own = unite(own, read_record(ledger, person, claim, units).own);
      }
      allowed = unite(own, intersect(allowed, except(others)));
    }
    const std::optional<Level> level = level_of(claim, fit(claim.when, allowed), Level::kError);
    if (!level) return std::nullopt;

    std::string others;
    std::vector<Evidence> evidence;
    std::string suggestion;
    for (const Service* row : ledger.service_of(claim.subject)) {
      if (row->kind != "unit" && row->kind != "command") continue;
      const bool is_then = row->spell.possible().intersects(claim.when.days);
      const bool is_there = agrees_with_any(ledger, row->value, units);
      if ((!is_then && !is_there) || evidence.size() >= kQuoted) continue;
      evidence.push_back(quote(row->row, quoted_as(*row)));
      others += (others.empty() ? "" : " and ") +
                std::string(row->kind == "command" ? "commanded " : "was with ") + row->value +
                " " + in_words(row->spell);
      if (is_then && !is_there) suggestion = row->value;
    }
    for (const Service* row : commanders) {
      if (!row->spell.possible().intersects(claim.when.days) || evidence.size() >= kQuoted) {
        continue;
      }
      evidence.push_back(quote(row->row, quoted_as(*row)));
    }
    std::string message = claim.subject +
                          (claim.role == "command" ? " is said to command " : " is put with ") +
                          claim.value + " " + when_in_words(claim.when);
    message += others.empty() ? ", which another commanded" : ", but " + others;
    Query query = query_at(kId, input, claim, *level, std::move(message));
    query.evidence = std::move(evidence);
    query.suggestion = std::move(suggestion);
    return query;
  });
}

}  // namespace tailproof
