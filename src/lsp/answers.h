// What the server answers about a manuscript: one function for each thing that a client asks. Each
// is in a file of its name.
#pragma once

#include <cstdint>
#include <map>
#include <string>
#include <string_view>

#include "lsp/view.h"

namespace tailproof::lsp {

/// Stands in a stet that an action has written, until the author writes why.
inline constexpr std::string_view kOpenReason = "reason to be written";

/// Diagnostics of every file of the collection, by path: its queries, and what is wrong with files
/// that are read for it. A file without any has an empty list.
[[nodiscard]] std::map<std::string, Json> diagnostics_of(const View& view);

/// Hover: of an airframe its history, of a date the days that it means, and in a caption the
/// bracket of its photograph; null where nothing is said.
[[nodiscard]] Json hover_at(const View& view, FileId file, std::uint32_t offset);

/// Locations of the evidence: rows that a query there quotes, then rows about what is named there.
[[nodiscard]] Json evidence_at(const View& view, FileId file, std::uint32_t offset);

/// Locations at which the manuscripts name the same airframe (under any of its serials and
/// identities), person, unit or whatever stands there; with its own row of the ledger.
[[nodiscard]] Json references_at(const View& view, FileId file, std::uint32_t offset,
                                 bool with_row);

/// Actions on the queries that meet bytes [begin, end]: suggestions, and stets in every form.
[[nodiscard]] Json actions_at(const View& view, FileId file, std::uint32_t begin,
                              std::uint32_t end);

/// The figures of a file.
[[nodiscard]] Json figures_of(const View& view, FileId file);

/// The diagnostic of one query.
[[nodiscard]] Json diagnostic_of(const View& view, Lines& lines, const Query& query);

}  // namespace tailproof::lsp
