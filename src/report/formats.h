// Declares the writers of the table of formats.
#pragma once

#include "report/report.h"

namespace tailproof {

#define TAILPROOF_RUN_FORMAT(verb, word, function) \
  [[nodiscard]] std::string function(const Run& run, const ReportOptions& options);
#define TAILPROOF_HISTORY_FORMAT(verb, word, function) \
  [[nodiscard]] std::string function(const Run& run, const AirframeHistory& history);
#define TAILPROOF_AUDIT_FORMAT(verb, word, function)                            \
  [[nodiscard]] std::string function(const Ledger& ledger,                      \
                                     const std::vector<AuditFinding>& findings, \
                                     const ReportOptions& options);
#define TAILPROOF_CONCORDANCE_FORMAT(verb, word, function) \
  [[nodiscard]] std::string function(const Run& run,       \
                                     const std::vector<ConcordanceSection>& sections);
#include "report/formats.inc"

}  // namespace tailproof
