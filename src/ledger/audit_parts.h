// The parts of the audit, one function for each subject; private to this station.
#pragma once

#include <string>
#include <vector>

#include "ledger/audit.h"

namespace tailproof {

using AuditFindings = std::vector<AuditFinding>;

/// Cells that name keys nobody defines; rings of parents; rows that stand twice.
void audit_names(const Ledger& ledger, AuditFindings& findings);
/// Dates of one row that run backwards.
void audit_dates(const Ledger& ledger, AuditFindings& findings);
/// Airframes, their histories, identities and photographs.
void audit_machines(const Ledger& ledger, AuditFindings& findings);
/// Units and their stations; people and their service.
void audit_units_and_people(const Ledger& ledger, AuditFindings& findings);
/// Markings, orders and sequences.
void audit_markings(const Ledger& ledger, AuditFindings& findings);
/// What of the ledger no text can reach, and what nobody can ask of it.
void audit_reach(const Ledger& ledger, AuditFindings& findings);

// What the parts share.

[[nodiscard]] AuditRow audit_row(const RowPlace& place, std::string says);
/// "1942-11-12 to 1943-03-30", "1942-11-12 on", "1942-11-12", "at some time".
[[nodiscard]] std::string audit_words(const Spell& spell);
/// "1943-06-14", or "1943-06-14 to 1943-06-20".
[[nodiscard]] std::string audit_words(const DaySet& days);
/// Number of days in the set, at most `limit`.
[[nodiscard]] Day count_days(const DaySet& days, Day limit);
/// Days on which both rows certainly held, the one of a hand-over left out: fewer than two are
/// none.
[[nodiscard]] DaySet certain_overlap(const Spell& a, const Spell& b);

}  // namespace tailproof
