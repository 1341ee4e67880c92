// Folding of words for comparison.
#pragma once

#include <string>
#include <string_view>

namespace tailproof {

/// ASCII letters in lower case, "’" as "'"; everything else as it stands.
[[nodiscard]] std::string fold(std::string_view text);

/// A phrase as word lists compare it: folded, full points dropped, runs of blanks as one.
[[nodiscard]] std::string fold_phrase(std::string_view text);

}  // namespace tailproof
