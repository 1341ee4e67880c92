#include "ledger/audit.h"

#include <algorithm>
#include <tuple>

#include "ledger/audit_parts.h"

namespace tailproof {

AuditRow audit_row(const RowPlace& place, std::string says) {
  return {std::string(place.table), place.line, std::string(place.source), std::move(says)};
}

std::string audit_words(const Spell& spell) {
  const std::string& from = spell.from.text();
  const std::string& to = spell.to.text();
  if (from.empty() && to.empty()) return "at some time";
  if (from.empty()) return "until " + to;
  if (to.empty()) return from + " on";
  return from == to ? from : from + " to " + to;
}

std::string audit_words(const DaySet& days) {
  if (days.empty()) return "no day";
  const std::string first = iso_day(days.first());
  const std::string last = iso_day(days.last());
  if (first.empty() && last.empty()) return "any day";
  if (first.empty()) return "until " + last;
  if (last.empty()) return "from " + first + " on";
  return first == last ? first : first + " to " + last;
}

Day count_days(const DaySet& days, Day limit) {
  Day count = 0;
  for (const DayRange& range : days.ranges()) {
    count += range.last - range.first + 1;
    if (count >= limit) return limit;
  }
  return count;
}

DaySet certain_overlap(const Spell& a, const Spell& b) {
  const DaySet both = a.certain().intersect(b.certain());
  return count_days(both, 2) < 2 ? DaySet{} : both;
}

std::vector<AuditFinding> audit(const Ledger& ledger) {
  AuditFindings findings;
  audit_names(ledger, findings);
  audit_dates(ledger, findings);
  audit_machines(ledger, findings);
  audit_units_and_people(ledger, findings);
  audit_markings(ledger, findings);
  audit_reach(ledger, findings);
  std::stable_sort(findings.begin(), findings.end(), [](const auto& a, const auto& b) {
    return std::tie(a.rows.front().table, a.rows.front().line) <
           std::tie(b.rows.front().table, b.rows.front().line);
  });
  return findings;
}

}  // namespace tailproof
