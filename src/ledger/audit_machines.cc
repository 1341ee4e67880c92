// Airframes against their own histories, identities and photographs.
#include <algorithm>
#include <unordered_map>

#include "ledger/audit_parts.h"
#include "ledger/text.h"

namespace tailproof {
namespace {

// In whose hands a row puts the machine; "" for a row that says nothing of it.
std::string_view holder_of(const History& row) {
  if (row.unit.empty()) return {};
  if (row.role == "holder") {
    const bool is_event = row.kind == "accident" || row.kind == "repaint" ||
                          row.kind == "modified" || row.kind == "ferried" || row.kind == "lost";
    return is_event ? std::string_view{} : std::string_view(row.unit);
  }
  const bool holds_by_kind = row.kind == "allotted" || row.kind == "stored" ||
                             row.kind == "captured" || row.kind == "interned" ||
                             row.kind == "instructional";
  return row.role.empty() && holds_by_kind ? std::string_view(row.unit) : std::string_view{};
}

std::string says(const History& row) {
  std::string out = row.serial + " " + row.kind;
  if (!row.unit.empty()) out += " " + row.unit;
  return out + ", " + audit_words(row.spell);
}

std::string says(const Identity& row) {
  return row.serial + " " + row.kind + " " + row.identity + ", " + audit_words(row.spell);
}

class MachinesAudit {
 public:
  MachinesAudit(const Ledger& ledger, AuditFindings& findings)
      : ledger_(ledger), findings_(findings) {}

  void run() {
    std::unordered_map<std::string_view, bool> seen;  // machines, by their first serial
    const auto once = [&](std::string_view serial) {
      const auto serials = ledger_.serials_of(serial);
      return !serials.empty() && seen.try_emplace(serials.front(), true).second;
    };
    for (const Airframe& row : ledger_.airframes()) {
      if (once(row.serial)) look_at_machine(row.serial);
    }
    for (const History& row : ledger_.histories()) {
      if (ledger_.airframe(row.serial) == nullptr && once(row.serial)) look_at_machine(row.serial);
    }
    look_at_shared_codes();
    look_at_shared_former_serials();
    look_at_constructor_numbers();
    look_at_photographs();
  }

 private:
  void look_at_machine(std::string_view serial) {
    const auto history = ledger_.history_of(serial);
    look_at_holders(history);
    const auto life = ledger_.life_of(serial, true);
    if (!life) return;
    for (const History* row : history) look_at_life(*row, *life);
    for (const Identity* row : ledger_.identities_of(serial)) look_at_life(*row, *life);
  }

  // Rows in order of `from`: one is compared with those that begin before it ends.
  void look_at_holders(const std::vector<const History*>& history) {
    for (std::size_t i = 0; i < history.size(); ++i) {
      const History& a = *history[i];
      const std::string_view holder = holder_of(a);
      const DaySet held = a.spell.certain();
      if (holder.empty() || held.empty()) continue;
      for (std::size_t k = i + 1; k < history.size(); ++k) {
        const History& b = *history[k];
        const DaySet& begins = b.spell.from.days();
        if (!begins.empty() && begins.first() > held.last()) break;
        const std::string_view other = holder_of(b);
        if (other.empty() || other == holder) continue;
        // A wing and its own squadron hold it together.
        if (ledger_.is_unit_within(holder, other) || ledger_.is_unit_within(other, holder))
          continue;
        const DaySet both = certain_overlap(a.spell, b.spell);
        if (both.empty()) continue;
        findings_.push_back({false,
                             {audit_row(b.row, says(b)), audit_row(a.row, says(a))},
                             b.serial + " is held by " + std::string(other) + " and by " +
                                 std::string(holder) + " (line " + std::to_string(a.row.line) +
                                 ") on the same days, " + audit_words(both) +
                                 "; correct a date, or make one of them the operator"});
      }
    }
  }

  // An airframe struck off may live on as an instructional one, or in the hands that took it.
  void look_at_life(const History& row, const DaySet& life) {
    const bool may_outlive =
        row.kind == "instructional" || row.kind == "captured" || row.kind == "interned";
    look_at_life(row.row, row.serial + " " + row.kind, says(row), row.spell, life, may_outlive,
                 false);
  }

  void look_at_life(const Identity& row, const DaySet& life) {
    if (row.kind == "previous_serial" || row.kind == "later_serial") return;
    look_at_life(row.row, row.serial + " " + row.kind + " " + row.identity, says(row), row.spell,
                 life, true, true);
  }

  void look_at_life(const RowPlace& place, const std::string& what, std::string row_says,
                    const Spell& spell, const DaySet& life, bool may_outlive, bool warning_only) {
    const DaySet possible = spell.possible(&ledger_.settings().margins);
    if (possible.empty()) return;  // it runs backwards, and that is told elsewhere
    // A row that begins or ends a day off shares the day of a hand-over.
    const DaySet certain = spell.certain();
    const bool is_before =
        possible.last() < life.first() || (!certain.empty() && certain.first() < life.first() - 1);
    const bool is_after =
        possible.first() > life.last() || (!certain.empty() && certain.last() > life.last() + 1);
    if (is_before) {
      findings_.push_back({true,
                           {audit_row(place, std::move(row_says))},
                           what + " (" + audit_words(spell) +
                               ") begins before the airframe was taken " + "on charge, " +
                               iso_day(life.first()) + "; correct one of the dates"});
    } else if (is_after && !(may_outlive && !warning_only)) {
      findings_.push_back({warning_only,
                           {audit_row(place, std::move(row_says))},
                           what + " (" + audit_words(spell) +
                               ") goes beyond the end of the airframe, " + iso_day(life.last()) +
                               "; correct one of the dates"});
    }
  }

  [[nodiscard]] bool is_one_machine(std::string_view a, std::string_view b) const {
    const auto of_a = ledger_.serials_of(a);
    return std::find(of_a.begin(), of_a.end(), b) != of_a.end();
  }

  // One code of one operator on two airframes on one day.
  void look_at_shared_codes() {
    std::unordered_map<std::string, std::vector<const Identity*>> bearers;
    std::vector<std::string> order;
    for (const Identity& row : ledger_.identities()) {
      if ((row.kind != "code" && row.kind != "radio_call") || row.operator_unit.empty()) continue;
      std::string key = row.kind + '\n' + row.operator_unit + '\n' + folded_identity(row.identity);
      auto& rows = bearers[key];
      if (rows.empty()) order.push_back(std::move(key));
      rows.push_back(&row);
    }
    for (const std::string& key : order) {
      auto& rows = bearers[key];
      std::stable_sort(rows.begin(), rows.end(), [](const Identity* a, const Identity* b) {
        const DaySet of_a = a->spell.possible();
        const DaySet of_b = b->spell.possible();
        return (of_a.empty() ? kFirstDay : of_a.first()) <
               (of_b.empty() ? kFirstDay : of_b.first());
      });
      for (std::size_t i = 0; i < rows.size(); ++i) {
        const DaySet worn = rows[i]->spell.certain();
        for (std::size_t k = i + 1; k < rows.size() && !worn.empty(); ++k) {
          const DaySet begins = rows[k]->spell.possible();
          if (!begins.empty() && begins.first() > worn.last()) break;
          look_at_code_pair(*rows[i], *rows[k]);
        }
      }
    }
  }

  void look_at_code_pair(const Identity& a, const Identity& b) {
    const DaySet both = certain_overlap(a.spell, b.spell);
    if (both.empty() || is_one_machine(a.serial, b.serial)) return;
    findings_.push_back({true,
                         {audit_row(b.row, says(b)), audit_row(a.row, says(a))},
                         b.kind + " " + b.identity + " of " + b.operator_unit + " is on " +
                             b.serial + " and on " + a.serial + " (line " +
                             std::to_string(a.row.line) + ") on the same days, " +
                             audit_words(both) + "; correct a date or a code"});
  }

  void look_at_shared_former_serials() {
    std::unordered_map<std::string, const Identity*> first;
    for (const Identity& row : ledger_.identities()) {
      if (row.kind != "previous_serial" && row.kind != "later_serial") continue;
      const auto [other, is_new] = first.try_emplace(row.kind + '\n' + row.identity, &row);
      if (is_new || is_one_machine(row.serial, other->second->serial)) continue;
      findings_.push_back(
          {true,
           {audit_row(row.row, says(row)), audit_row(other->second->row, says(*other->second))},
           row.identity + " is " + row.kind + " of " + row.serial + " and of " +
               other->second->serial + " (line " + std::to_string(other->second->row.line) +
               "), which are two airframes; correct one, or join them by a row of their own"});
    }
  }

  void look_at_constructor_numbers() {
    std::unordered_map<std::string, const Airframe*> first;
    for (const Airframe& row : ledger_.airframes()) {
      if (row.constructor_number.empty()) continue;
      const auto [other, is_new] =
          first.try_emplace(row.type + '\n' + row.constructor_number, &row);
      if (is_new || other->second->machine == row.machine) continue;
      findings_.push_back(
          {true,
           {audit_row(row.row, row.serial + " constructor number " + row.constructor_number),
            audit_row(other->second->row, other->second->serial + " the same")},
           row.serial + " has the constructor number of " + other->second->serial + " (line " +
               std::to_string(other->second->row.line) +
               "); correct one, or make them one airframe in identities.csv"});
    }
  }

  // A wreck may be photographed after its end, so that only a warning is due.
  void look_at_photographs() {
    for (const Photograph& row : ledger_.photographs()) {
      if (row.taken.is_unknown()) continue;
      const DaySet taken = row.taken.widened(ledger_.settings().margins);
      for (const std::string& serial : row.depicts) {
        const auto life = ledger_.life_of(serial, true);
        if (!life || life->intersects(taken) || taken.empty()) continue;
        findings_.push_back(
            {true,
             {audit_row(row.row,
                        row.photograph + " depicts " + serial + ", taken " + row.taken.text())},
             row.photograph + " was taken " + row.taken.text() + " and depicts " + serial +
                 ", which was on charge " + audit_words(*life) + "; correct one of them"});
      }
    }
  }

  const Ledger& ledger_;
  AuditFindings& findings_;
};

}  // namespace

void audit_machines(const Ledger& ledger, AuditFindings& findings) {
  MachinesAudit(ledger, findings).run();
}

}  // namespace tailproof
