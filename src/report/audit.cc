// The formats of audit: text, json.
#include "ledger/audit.h"

#include <fmt/format.h>

#include <algorithm>
#include <filesystem>
#include <system_error>

#include "report/formats.h"
#include "report/html_text.h"
#include "report/json_parts.h"
#include "report/phrases.h"
#include "source/shown_path.h"

namespace tailproof {

namespace {

/// Where the row stands, as a path where the ledger is a folder.
std::string place_of_row(const Ledger& ledger, const AuditRow& row) {
  std::error_code error;
  const std::filesystem::path path(ledger.path());
  const bool is_folder = std::filesystem::is_directory(path, error);
  const std::string table =
      shown_path(is_folder ? (path / row.table).string() : ledger.path() + ":" + row.table);
  return row.line == 0 ? table : fmt::format("{}:{}", table, row.line);
}

Evidence evidence_of(const AuditRow& row) {
  return Evidence{row.table, row.line, row.source, row.says};
}

struct AuditTotals {
  std::size_t errors = 0, warnings = 0, notes = 0;
};

AuditTotals totals_of(const std::vector<AuditFinding>& findings) {
  AuditTotals totals;
  for (const AuditFinding& finding : findings) {
    const Level level = level_of(finding);
    ++(level == Level::kError     ? totals.errors
       : level == Level::kWarning ? totals.warnings
                                  : totals.notes);
  }
  return totals;
}

}  // namespace

Level level_of(const AuditFinding& finding) {
  if (finding.note_only) return Level::kNote;
  return finding.warning_only ? Level::kWarning : Level::kError;
}

std::string audit_as_text(const Ledger& ledger, const std::vector<AuditFinding>& findings,
                          const ReportOptions& options) {
  std::string text;
  for (const AuditFinding& finding : findings) {
    if (level_of(finding) < options.at_least) {
      continue;
    }
    text += fmt::format("{}: {}: {}\n", place_of_row(ledger, finding.rows.front()),
                        to_word(level_of(finding)), finding.message);
    for (const AuditRow& row : finding.rows) {
      text += fmt::format("    {}\n", line_of(evidence_of(row)));
    }
    text += "\n";
  }
  const AuditTotals totals = totals_of(findings);
  const bool is_silent = totals.notes > 0 && options.at_least > Level::kNote;
  text +=
      fmt::format("{}, {}, {} in the ledger {}{}\n", counted(totals.errors, "error"),
                  counted(totals.warnings, "warning"), counted(totals.notes, "note"),
                  shown_path(ledger.path()), is_silent ? " (--at-least note lists the notes)" : "");
  return inert(text);
}

std::string audit_as_json(const Ledger& ledger, const std::vector<AuditFinding>& findings,
                          const ReportOptions& options) {
  const AuditTotals totals = totals_of(findings);
  Json report;
  report["tool"] = kTool;
  report["version"] = TAILPROOF_VERSION;
  report["ledger"] = utf8_path(ledger.path());
  report["totals"]["error"] = totals.errors;
  report["totals"]["warning"] = totals.warnings;
  report["totals"]["note"] = totals.notes;
  report["findings"] = Json::array();
  for (const AuditFinding& finding : findings) {
    if (level_of(finding) < options.at_least) {
      continue;
    }
    Json object;
    object["level"] = to_word(level_of(finding));
    object["message"] = finding.message;
    object["rows"] = Json::array();
    for (const AuditRow& row : finding.rows) {
      object["rows"].push_back(evidence_object(evidence_of(row)));
    }
    report["findings"].push_back(std::move(object));
  }
  report["schema"] = kAuditSchema;
  return indented(report);
}

}  // namespace tailproof
