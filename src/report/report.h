// What a run found out, written for a person or for a program. Last station.
//
// Contract: output depends on the run alone; it is UTF-8 and ends with a line end. In JSON each
// object has all its keys, in the order of the design's sections 5 and 6. Lines and columns count
// from 1, columns in code points; an end is the place after the last character.
#pragma once

#include <functional>
#include <string>
#include <string_view>
#include <vector>

#include "ledger/audit.h"
#include "run/brackets.h"
#include "run/concordance.h"
#include "run/history.h"
#include "run/run.h"

namespace tailproof {

inline constexpr std::string_view kTool = "tailproof";
// Versions of what the machine formats hold: one higher when a key changes its meaning or goes.
inline constexpr unsigned kCheckSchema = 1;
inline constexpr unsigned kClaimsSchema = 1;
inline constexpr unsigned kHistorySchema = 1;
inline constexpr unsigned kBracketSchema = 1;
inline constexpr unsigned kConcordanceSchema = 1;
inline constexpr unsigned kAuditSchema = 1;

struct ReportOptions {
  Level at_least = Level::kWarning;    // queries below are only counted
  bool with_stetted = false;           // list stetted queries too
  bool explain = false;                // of claims: how each was found
  bool is_colored = false;             // of text for a terminal
  std::vector<LinePlace> places = {};  // of bracket: the captions asked for; empty: all
  std::vector<bool> is_known = {};  // by query: an earlier run reported it; it is left out. Empty:
                                    // there is no earlier run
};

/// Queries by level; a stetted one counts as stetted alone, one known from before as known alone.
struct Totals {
  std::size_t errors = 0, warnings = 0, notes = 0, stetted = 0, known = 0;
};
[[nodiscard]] Totals totals_of(const std::vector<Query>& queries,
                               const std::vector<bool>& is_known = {});
/// Whether a query that no stet covers, and that is not known, is at this level or above.
[[nodiscard]] bool has_query(const std::vector<Query>& queries, Level at_least,
                             const std::vector<bool>& is_known = {});

using RunWriter = std::string (*)(const Run& run, const ReportOptions& options);
using AuditWriter = std::string (*)(const Ledger& ledger, const std::vector<AuditFinding>& findings,
                                    const ReportOptions& options);
using ConcordanceWriter = std::string (*)(const Run& run,
                                          const std::vector<ConcordanceSection>& sections);
using HistoryWriter = std::string (*)(const Run& run, const AirframeHistory& history);

/// Writers by the word of --format; nullptr for a word that the verb does not know.
[[nodiscard]] RunWriter check_writer(std::string_view format);
[[nodiscard]] RunWriter claims_writer(std::string_view format);
[[nodiscard]] RunWriter bracket_writer(std::string_view format);
[[nodiscard]] HistoryWriter history_writer(std::string_view format);
[[nodiscard]] ConcordanceWriter concordance_writer(std::string_view format);
[[nodiscard]] AuditWriter audit_writer(std::string_view format);
/// Words of --format for a verb, in the order of the table.
[[nodiscard]] std::vector<std::string> formats_of(std::string_view verb);

/// A finding that may be right as it is is a warning, any other an error.
[[nodiscard]] Level level_of(const AuditFinding& finding);

/// The checks with id, highest level and summary.
[[nodiscard]] std::string list_of_checks(const std::vector<CheckInfo>& checks);
/// The page of one check.
[[nodiscard]] std::string page_of_check(const CheckInfo& check);

}  // namespace tailproof
