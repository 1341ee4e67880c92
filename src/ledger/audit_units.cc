// Units and their stations, people and their service; what is said of either outside its life.
#include <algorithm>
#include <unordered_map>

#include "ledger/audit_parts.h"
#include "ledger/columns.h"

namespace tailproof {
namespace {

class UnitsAudit {
 public:
  UnitsAudit(const Ledger& ledger, AuditFindings& findings)
      : ledger_(ledger), margins_(ledger.settings().margins), findings_(findings) {}

  void run() {
    for (const Unit& unit : ledger_.units()) look_at_stations(unit.unit);
    for (const Station& row : ledger_.stations()) {
      look_at_unit_life(row.row, row.unit, "at " + row.place, row.spell);
    }
    for (const History& row : ledger_.histories()) {
      look_at_unit_life(row.row, row.unit, row.serial + " " + row.kind, row.spell);
    }
    for (const Identity& row : ledger_.identities()) {
      // Codes are worn on after a unit is gone, or were somebody else's before.
      look_at_unit_life(row.row, row.operator_unit, row.serial + " as " + row.identity, row.spell,
                        true);
    }
    for (const Service& row : ledger_.service()) {
      if (row.kind == "unit" || row.kind == "command") {
        look_at_unit_life(row.row, row.value, row.person + " " + row.kind, row.spell);
      }
      look_at_person_life(row);
    }
    for (const Person& person : ledger_.people()) look_at_ranks(person.person);
  }

 private:
  void look_at_stations(std::string_view unit) {
    const auto stations = ledger_.stations_of(unit);
    for (std::size_t i = 0; i < stations.size(); ++i) {
      const Station& a = *stations[i];
      const DaySet there = a.spell.certain();
      for (std::size_t k = i + 1; k < stations.size() && !there.empty(); ++k) {
        const Station& b = *stations[k];
        const DaySet& begins = b.spell.from.days();
        if (!begins.empty() && begins.first() > there.last()) break;
        if (ledger_.is_place_within(a.place, b.place) ||
            ledger_.is_place_within(b.place, a.place)) {
          continue;
        }
        const DaySet both = certain_overlap(a.spell, b.spell);
        if (both.empty()) continue;
        findings_.push_back(
            {false,
             {audit_row(b.row, b.unit + " at " + b.place + ", " + audit_words(b.spell)),
              audit_row(a.row, a.unit + " at " + a.place + ", " + audit_words(a.spell))},
             b.unit + " is at " + b.place + " and at " + a.place + " (line " +
                 std::to_string(a.row.line) + ") on the same days, " + audit_words(both) +
                 "; correct a date, or give the detachment a unit of its own"});
      }
    }
  }

  // The days from forming to disbanding at their widest; an end that is not known is open.
  [[nodiscard]] DaySet life_between(const Edtf& begin, const Edtf& end) const {
    const DaySet begins = begin.widened(margins_);
    const DaySet ends = end.widened(margins_);
    const Day first = begin.is_unknown() || begins.empty() ? kFirstDay : begins.first();
    const Day last = end.is_unknown() || ends.empty() ? kLastDay : ends.last();
    return DaySet{DayRange{first, last}};
  }

  // An end that only the next row gives proves nothing against a unit that went before it.
  [[nodiscard]] bool is_outside(Spell spell, const DaySet& life) const {
    if (spell.ends_by_rule && spell.to.text() != spell.from.text()) spell.to = Edtf{};
    const DaySet possible = spell.possible(&margins_);
    if (life.empty() || possible.empty()) return false;  // backwards: told elsewhere
    if (!possible.intersects(life)) return true;
    // A row that ends a day late shares the day of a hand-over.
    return count_days(spell.certain().intersect(life.complement()), 2) == 2;
  }

  void look_at_unit_life(const RowPlace& place, const std::string& key, const std::string& what,
                         const Spell& spell, bool warning_only = false) {
    const Unit* unit = key.empty() ? nullptr : ledger_.unit(key);
    if (unit == nullptr) return;
    const DaySet life = life_between(unit->formed, unit->disbanded);
    if (!is_outside(spell, life)) return;
    findings_.push_back({warning_only,
                         {audit_row(place, what + ", " + key + ", " + audit_words(spell)),
                          audit_row(unit->row, unit->unit + " existed " + audit_words(life))},
                         what + ": " + key + " (" + audit_words(spell) + ") existed only " +
                             audit_words(life) +
                             "; correct the row, or the unit's formed or disbanded"});
  }

  // Awards come after death too, and a rank goes on being named.
  void look_at_person_life(const Service& row) {
    const Person* person = ledger_.person(row.person);
    if (person == nullptr || row.kind == "award") return;
    const DaySet life = life_between(person->born, person->died);
    if (!is_outside(row.spell, life)) return;
    findings_.push_back(
        {false,
         {audit_row(row.row,
                    row.person + " " + row.kind + " " + row.value + ", " + audit_words(row.spell)),
          audit_row(person->row, person->person + " lived " + audit_words(life))},
         row.person + ": " + row.kind + " " + row.value + " (" + audit_words(row.spell) +
             ") is outside their life, " + audit_words(life) + "; correct one of the dates"});
  }

  void look_at_ranks(std::string_view person) {
    const Service* before = nullptr;
    for (const Service* row : ledger_.service_of(person)) {
      if (row->kind != "rank" || row->spell.from.is_unknown()) continue;
      if (before != nullptr) look_at_rank_pair(*before, *row);
      before = row;
    }
  }

  // A note on either row is taken as the reason (reverted at own request, say).
  void look_at_rank_pair(const Service& before, const Service& after) {
    const Rank* lower = ledger_.rank(before.value);
    const Rank* higher = ledger_.rank(after.value);
    const std::string at_line = " (line " + std::to_string(before.row.line) + ")";
    std::vector<AuditRow> rows = {
        audit_row(after.row, after.person + " " + after.value + ", " + audit_words(after.spell)),
        audit_row(before.row,
                  before.person + " " + before.value + ", " + audit_words(before.spell))};
    if (const DaySet both = certain_overlap(before.spell, after.spell);
        !both.empty() && before.value != after.value) {
      findings_.push_back({true, rows,
                           after.person + " is " + after.value + " and " + before.value + at_line +
                               " on the same days, " + audit_words(both) + "; correct a date"});
    }
    if (lower == nullptr || higher == nullptr) return;
    if (lower->seniority == 0 || higher->seniority == 0) return;
    const bool is_later = before.spell.from.days().last() < after.spell.from.days().first();
    const bool has_reason = !before.row.note.empty() || !after.row.note.empty();
    if (!is_later || has_reason || higher->seniority >= lower->seniority) return;
    findings_.push_back({true, std::move(rows),
                         after.person + " goes down from " + before.value + at_line + " to " +
                             after.value + " on " + after.spell.from.text() +
                             "; correct one of them, or give the reason in the row's note"});
  }

  const Ledger& ledger_;
  const Margins& margins_;
  AuditFindings& findings_;
};

}  // namespace

void audit_units_and_people(const Ledger& ledger, AuditFindings& findings) {
  UnitsAudit(ledger, findings).run();
}

}  // namespace tailproof
