// Orders and sequences of markings.
#include <algorithm>
#include <map>
#include <set>

#include "ledger/audit_parts.h"

namespace tailproof {
namespace {

// Lists of surfaces or theatres of which an empty one means all.
bool have_common(const std::vector<std::string>& a, const std::vector<std::string>& b) {
  if (a.empty() || b.empty()) return true;
  return std::any_of(a.begin(), a.end(), [&](const std::string& value) {
    return std::find(b.begin(), b.end(), value) != b.end();
  });
}

void audit_replacements(const Ledger& ledger, AuditFindings& findings) {
  std::map<std::string_view, const Order*> first_of;
  for (const Order& row : ledger.orders()) first_of.try_emplace(row.order, &row);
  for (const Order& row : ledger.orders()) {
    if (row.marking.empty()) {
      findings.push_back({true,
                          {audit_row(row.row, row.order)},
                          row.order + " names no marking, so that nothing follows from this row; "
                                      "fill in its marking"});
    }
    for (const std::string& newer : row.replaced_by) {
      const auto found = first_of.find(newer);
      if (found == first_of.end()) continue;
      const DaySet older_days = row.effective.days();
      const DaySet newer_days = found->second->effective.days();
      const bool is_backwards = row.order == newer || (!older_days.empty() && !newer_days.empty() &&
                                                       newer_days.last() < older_days.first());
      if (!is_backwards) continue;
      findings.push_back(
          {true,
           {audit_row(row.row, row.order + ", effective " + row.effective.text()),
            audit_row(found->second->row,
                      newer + ", effective " + found->second->effective.text())},
           row.order + " is replaced by " + newer +
               ", which is no newer; replaced_by stands on the older order and names the newer"});
    }
  }
}

void audit_theatres(const Ledger& ledger, AuditFindings& findings) {
  std::set<std::string_view> known;
  for (const Place& row : ledger.places()) {
    if (!row.theatre.empty()) known.insert(row.theatre);
  }
  if (known.empty()) return;
  known.insert(ledger.settings().theatre);
  std::set<std::string> told;
  const auto look_at = [&](const RowPlace& place, const std::vector<std::string>& theatres) {
    for (const std::string& theatre : theatres) {
      if (known.contains(theatre) || !told.insert(theatre).second) continue;
      findings.push_back({true,
                          {audit_row(place, "theatre " + theatre)},
                          "no place of places.csv is in theatre \"" + theatre +
                              "\"; correct it, or give the places their theatre"});
    }
  };
  for (const Order& row : ledger.orders()) look_at(row.row, row.theatres);
  for (const Sequence& row : ledger.sequences()) look_at(row.row, row.theatres);
}

void audit_sequences(const Ledger& ledger, AuditFindings& findings) {
  std::map<std::pair<std::string_view, std::string_view>, std::vector<const Sequence*>> by_pair;
  for (const Sequence& row : ledger.sequences()) {
    if (row.earlier == row.later) {
      findings.push_back({false,
                          {audit_row(row.row, row.earlier + " before itself")},
                          row.earlier + " stands before itself; correct earlier or later"});
      continue;
    }
    const auto reversed = by_pair.find({row.later, row.earlier});
    if (reversed != by_pair.end()) {
      for (const Sequence* other : reversed->second) {
        if (!have_common(row.positions, other->positions) ||
            !have_common(row.theatres, other->theatres)) {
          continue;
        }
        findings.push_back({false,
                            {audit_row(row.row, row.earlier + " before " + row.later),
                             audit_row(other->row, other->earlier + " before " + other->later)},
                            row.earlier + " stands before " + row.later +
                                ", and after it in line " + std::to_string(other->row.line) +
                                "; remove one, or tell them apart by position or theatre"});
      }
    }
    by_pair[{row.earlier, row.later}].push_back(&row);
  }
}

}  // namespace

void audit_markings(const Ledger& ledger, AuditFindings& findings) {
  audit_replacements(ledger, findings);
  audit_theatres(ledger, findings);
  audit_sequences(ledger, findings);
}

}  // namespace tailproof
