// People: life, ranks, awards, units.
#include <algorithm>

#include "tailproof/allowed_days.h"

namespace tailproof {
namespace {

bool is_one_of(std::span<const std::string> words, const std::string& word) {
  return std::find(words.begin(), words.end(), word) != words.end();
}

int seniority_of(const Ledger& ledger, const std::string& rank) {
  const Rank* row = ledger.rank(rank);
  return row == nullptr ? 0 : row->seniority;
}

Certain certainly_after(const Edtf& start, const Margins& margins) {
  if (start.is_unknown() || start.days().empty()) return {};
  return {DaySet{DayRange{start.days().last(), kLastDay}},
          DaySet{DayRange{start.widened(margins).last(), kLastDay}}};
}

Certain certainly_before(const Edtf& start, const Margins& margins) {
  return {from_days(start, margins).days.complement(),
          from_days(start, margins).widened.complement()};
}

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

// What the person's own rows say of the unit; nothing without any.
struct UnitService {
  Allowed own;     // with the unit, or one above or below it
  Allowed itself;  // with no other than this
  Certain elsewhere;
};

std::optional<UnitService> read_service(const Ledger& ledger, const std::string& person,
                                        const Claim& claim, std::span<const std::string> units,
                                        Grounds* grounds) {
  const Margins& margins = ledger.settings().margins;
  const bool is_command = claim.role == "command";
  UnitService service;
  std::vector<const Service*> rows;
  bool has_rows = false;
  bool was_there = false;
  for (const Service* row : ledger.service_of(person)) {
    if (row->kind != "unit" && row->kind != "command") continue;
    has_rows = true;
    // Whoever commands a wing need not belong to one of its squadrons only.
    const bool agrees = agrees_with_any(ledger, row->value, units);
    if (agrees && is_command && row->kind != "command") continue;
    rows.push_back(row);
    was_there = was_there || agrees;
    const Allowed possible = possible_days(row->spell, margins);
    const Certain certain = certain_days(row->spell, margins);
    if (agrees) {
      service.own = unite(service.own, possible);
      const bool is_itself = std::find(units.begin(), units.end(), row->value) != units.end();
      if (is_itself) service.itself = unite(service.itself, possible);
    } else {
      service.elsewhere = unite(service.elsewhere, certain);
    }
    if (grounds != nullptr) {
      grounds->add(agrees ? possible.days : certain.days, !agrees, row->person,
                   [&] { return quote_service(*row); });
    }
  }
  if (!has_rows) return std::nullopt;
  if (was_there) service.elsewhere = unite(service.elsewhere, outside_all(rows, margins));
  return service;
}

// Days on which others commanded one of the units.
Certain commanded_by_others(const Ledger& ledger, const Commanders& commanders,
                            const std::vector<std::string>& people,
                            std::span<const std::string> units, Grounds* grounds) {
  Certain days;
  for (const std::string& unit : units) {
    const auto found = commanders.find(unit);
    if (found == commanders.end()) continue;
    for (const Service* row : found->second) {
      if (std::find(people.begin(), people.end(), row->person) != people.end()) continue;
      const Certain certain = certain_days(row->spell, ledger.settings().margins);
      days = unite(days, certain);
      if (grounds != nullptr) {
        grounds->add(certain.days, true, row->person, [&] { return quote_service(*row); });
      }
    }
  }
  return days;
}

}  // namespace

std::vector<std::string> people_meant(const ClaimIndex& index, const Claim& claim) {
  if (const Claim* person = index.person_beside(claim)) {
    if (!person->readings.empty()) return person->readings;
    // "Sub-Rittmaster Kressel" over "E. Kressel, F.M.C.": the name beside it says which.
    if (person->value == claim.subject) return {claim.subject};
  }
  for (const std::uint32_t i : index.around(claim)) {
    const Claim& person = index.claim(i);
    if (person.kind != ClaimKind::kPerson || person.readings.empty()) continue;
    if (is_one_of(person.readings, claim.subject)) return person.readings;
  }
  return {claim.subject};
}

std::optional<Allowed> days_of_person(const Ledger& ledger, const Claim& claim, Grounds* grounds) {
  const Margins& margins = ledger.settings().margins;
  Allowed allowed;
  for (const std::string& reading : readings_of(claim)) {
    const Person* person = ledger.person(reading);
    if (person == nullptr) return std::nullopt;
    const Allowed life =
        intersect(from_days(person->born, margins), until_days(person->died, margins));
    allowed = unite(allowed, life);
    if (grounds != nullptr) {
      grounds->add(life.days, false, person->person, [&] {
        return quote(person->row, person->person + " born " + in_words(person->born) + ", died " +
                                      in_words(person->died));
      });
    }
  }
  return allowed;
}

Allowed within_life(const Ledger& ledger, const Claim& of_person, const Allowed& allowed) {
  const Person* person = ledger.person(of_person.subject);
  if (person == nullptr || person->died.is_unknown() || !of_person.when.known) return allowed;
  const Allowed life = until_days(person->died, ledger.settings().margins);
  return of_person.when.days.intersects(life.days) ? intersect(allowed, life) : allowed;
}

std::optional<RankDays> days_of_rank(const Ledger& ledger, std::string_view person,
                                     std::span<const std::string> ranks, Grounds* grounds) {
  const Margins& margins = ledger.settings().margins;
  RankDays days;
  Certain impossible;
  Certain before_all{DaySet::all(), DaySet::all()};
  bool has_rows = false;
  int most_junior = 0;
  int most_senior = 0;
  for (const std::string& rank : ranks) {
    const int seniority = seniority_of(ledger, rank);
    most_junior = most_junior == 0 ? seniority : std::min(most_junior, seniority);
    most_senior = std::max(most_senior, seniority);
  }
  for (const Service* row : ledger.service_of(person)) {
    if (row->kind != "rank") continue;
    has_rows = true;
    if (is_one_of(ranks, row->value)) {
      days.was_held = true;
      const Allowed own = possible_days(row->spell, margins);
      days.own = unite(days.own, own);
      before_all = intersect(before_all, certainly_before(row->spell.from, margins));
      if (grounds != nullptr) {
        grounds->add(own.days, false, row->value, [&] { return quote_service(*row); });
      }
      continue;
    }
    // A last rank without an end may have given way to any later one: only its beginning counts.
    Certain against = certain_days(row->spell, margins);
    if (row->spell.to.is_unknown()) against.days = row->spell.certain();
    const int seniority = seniority_of(ledger, row->value);
    const bool has_order = seniority != 0 && most_junior != 0;
    if (has_order && seniority > most_senior) {
      against = unite(against, certainly_after(row->spell.from, margins));
    }
    if (has_order && seniority < most_junior) {
      against = unite(against, certainly_before(row->spell.from, margins));
    }
    impossible = unite(impossible, against);
    if (grounds != nullptr) {
      grounds->add(against.days, true, row->value, [&] { return quote_service(*row); });
    }
  }
  if (!has_rows) return std::nullopt;
  if (days.was_held) impossible = unite(impossible, before_all);
  days.allowed = unite(days.own, except(impossible));
  return days;
}

std::vector<const Service*> awards_meant(const ClaimIndex& index, const Ledger& ledger,
                                         const Claim& claim) {
  const std::span<const std::string> awards = readings_of(claim);
  std::vector<const Service*> rows;
  for (const std::string& person : people_meant(index, claim)) {
    for (const Service* row : ledger.service_of(person)) {
      if (row->kind == "award" && is_one_of(awards, row->value)) rows.push_back(row);
    }
  }
  return rows;
}

std::optional<Allowed> days_of_award(const ClaimIndex& index, const Ledger& ledger,
                                     const Claim& claim, Grounds* grounds) {
  const std::vector<const Service*> rows = awards_meant(index, ledger, claim);
  if (!ledger.is_closed_table("service")) {
    for (const std::string& person : people_meant(index, claim)) {
      const bool is_recorded = std::any_of(
          rows.begin(), rows.end(), [&](const Service* row) { return row->person == person; });
      if (!is_recorded) return std::nullopt;
    }
  }
  Allowed allowed;
  for (const Service* row : rows) {
    const Allowed since = from_days(row->spell.from, ledger.settings().margins);
    allowed = unite(allowed, since);
    if (grounds != nullptr) {
      grounds->add(since.days, false, row->value, [&] { return quote_service(*row); });
    }
  }
  return allowed;
}

Commanders read_commanders(const Ledger& ledger) {
  Commanders commanders;
  for (const Service& row : ledger.service()) {
    if (row.kind == "command") commanders[row.value].push_back(&row);
  }
  return commanders;
}

std::optional<Allowed> days_of_service(const ClaimIndex& index, const Ledger& ledger,
                                       const Commanders& commanders, const Claim& claim,
                                       Grounds* grounds) {
  const std::span<const std::string> units = readings_of(claim);
  for (const std::string& unit : units) {
    if (ledger.unit(unit) == nullptr) return std::nullopt;
  }
  const std::vector<std::string> people = people_meant(index, claim);
  Allowed allowed;
  // Whoever has the wing does not command the squadron that somebody else has.
  Allowed own;
  for (const std::string& person : people) {
    const std::optional<UnitService> service = read_service(ledger, person, claim, units, grounds);
    if (!service) return std::nullopt;
    allowed = unite(allowed, unite(service->own, except(service->elsewhere)));
    own = unite(own, service->itself);
  }
  if (claim.role != "command") return allowed;
  const Certain others = commanded_by_others(ledger, commanders, people, units, grounds);
  return unite(own, intersect(allowed, except(others)));
}

Evidence quote_service(const Service& row) {
  if (row.kind == "award") {
    return quote(row.row, row.value + " to " + row.person + " " + in_words(row.spell.from));
  }
  const std::string_view how = row.kind == "command" ? " in command of "
                               : row.kind == "unit"  ? " with "
                                                     : " ";
  return quote(row.row, row.person + std::string(how) + row.value + " " + in_words(row.spell));
}

}  // namespace tailproof
