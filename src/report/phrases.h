// Pieces that several formats share.
#pragma once

#include <string>
#include <string_view>

#include "report/report.h"

namespace tailproof {

/// "file:line:column" of the span's beginning.
[[nodiscard]] std::string place_of(const Sources& sources, const Span& span);
/// "1 caption", "2 captions".
[[nodiscard]] std::string counted(std::size_t count, std::string_view noun);
/// The words of the manuscript that a query is about, on one line.
[[nodiscard]] std::string words_of(const Run& run, const Query& query);
/// Whether the query of this index is listed, by level, stet, and whether it is known from before.
[[nodiscard]] bool is_listed(const std::vector<Query>& queries, std::size_t index,
                             const ReportOptions& options);
/// "table:line: says (source)"; what is empty is left out.
[[nodiscard]] std::string line_of(const Evidence& evidence);

}  // namespace tailproof
