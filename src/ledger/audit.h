// The ledger held against itself: what in it cannot all be true, and what names nothing.
//
// Contract: findings come in the order of tables and lines. Only what is certain at the narrowest
// reading of its dates is a finding: two rows may share the day of a hand-over, and a date that is
// uncertain is given the benefit of the doubt. Cost: near linear in the number of rows.
#pragma once

#include <cstdint>
#include <string>
#include <vector>

#include "tailproof/ledger.h"

namespace tailproof {

/// A row of the ledger as a finding quotes it.
struct AuditRow {
  std::string table;
  std::uint32_t line = 0;
  std::string source;
  std::string says;  // the row in words: "R2004 with 4 Yard, 1942-11-12 to 1943-03-30"
};

struct AuditFinding {
  bool warning_only = false;   // may be right as it is
  std::vector<AuditRow> rows;  // never empty; the first is where the finding stands
  std::string message;         // what is wrong and what to do
  bool note_only = false;      // nothing is wrong: what the ledger cannot tell as it stands
};

[[nodiscard]] std::vector<AuditFinding> audit(const Ledger& ledger);

}  // namespace tailproof
