// Where and how a stet is written into a manuscript, so that it covers one query.
//
// Contract: every edit offered has been tried: the manuscript, read again with it, has the same
// blocks with the same words, and the stet covers the query and no query of that check elsewhere.
// Cost: up to four readings of the manuscript.
#pragma once

#include <cstdint>
#include <optional>
#include <string>
#include <string_view>

#include "run/run.h"

namespace tailproof::lsp {

/// `words` put in at byte `at` of the file.
struct Insertion {
  FileId file = 0;
  std::uint32_t at = 0;
  std::string words;
};

/// The stet in the form of the manuscript's format; nothing for a caption list, or where no place
/// serves.
[[nodiscard]] std::optional<Insertion> stet_in_text(const Run& run, const Query& query,
                                                    std::string_view reason);

/// A row of the stets.csv in the query's folder that covers it, with the columns of `table`, the
/// text that the file has; with a header before it when that is empty.
[[nodiscard]] std::string stet_row(const Run& run, const Query& query, std::string_view reason,
                                   std::string_view table);

}  // namespace tailproof::lsp
