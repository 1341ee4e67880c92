// The word that somebody probably meant.
#pragma once

#include <span>
#include <string>
#include <string_view>

namespace tailproof {

/// The candidate with the fewest letters added, dropped, changed or swapped, the first of equals;
/// "" when all are too far off to be a slip.
[[nodiscard]] std::string nearest(std::string_view word, std::span<const std::string> candidates);

}  // namespace tailproof
