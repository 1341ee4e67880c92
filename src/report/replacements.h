// Suggestions that an editor program may put into the text as they stand.
#pragma once

#include <string>
#include <vector>

#include "run/run.h"

namespace tailproof {

/// What may stand in place of the bytes at the query's span, the likeliest first. Empty unless
/// every alternative of the suggestion is of the same sort as the claim there (a serial for a
/// serial, a rank for a rank), the bytes are the claim's words without markup between, and the new
/// words need no escaping in any manuscript format.
[[nodiscard]] std::vector<std::string> replacements_of(const Run& run, const Query& query);

}  // namespace tailproof
