// JSON objects that several formats share. Keys keep the order in which they are written.
#pragma once

#include <nlohmann/json.hpp>

#include "report/report.h"

namespace tailproof {

using Json = nlohmann::ordered_json;

/// Adds file, line, column, end_line, end_column.
void add_place(Json& object, const Sources& sources, const Span& span);
/// A claim with the keys of the claims format.
[[nodiscard]] Json claim_object(const Run& run, const Claim& claim);
[[nodiscard]] Json evidence_object(const Evidence& evidence);
/// Numbers of queries and claims in the run.
[[nodiscard]] Json totals_object(const Run& run, const ReportOptions& options);
/// On one line, without a line end; bytes that are not UTF-8 are replaced.
[[nodiscard]] std::string one_line(const Json& json);
/// Indented, with a line end.
[[nodiscard]] std::string indented(const Json& json);

}  // namespace tailproof
