// The word that somebody probably meant.
#pragma once

#include <span>
#include <string>
#include <string_view>

namespace tailproof {

/// The candidate with the fewest letters added, dropped, changed or swapped, the first of equals;
/// "" when all are too far off to be a slip.
[[nodiscard]] std::string nearest(std::string_view word, std::span<const std::string> candidates);

/// The end of a message on `word`: `; "check" was perhaps meant`, or "" where nothing is near.
[[nodiscard]] std::string perhaps_meant(std::string_view word,
                                        std::span<const std::string> candidates);

}  // namespace tailproof
