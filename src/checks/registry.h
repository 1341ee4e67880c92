// The built-in checks: the rows of checks.inc with the pages that stand beside the sources.
#pragma once

#include <span>
#include <string_view>

#include "tailproof/check.h"

namespace tailproof {

/// In the order of the table. The rows live as long as the program.
[[nodiscard]] std::span<const CheckInfo> builtin_checks();

/// What a check looks at: words parted by blanks.
struct CheckNeeds {
  std::string_view claims;  // kinds of claim
  std::string_view tables;  // tables of the ledger ("ledger" is ledger.toml); "": needs none
};
/// One for each of builtin_checks(), in the same order.
[[nodiscard]] std::span<const CheckNeeds> builtin_needs();

/// The page of a check, embedded when the program was built; "" when there is none. Defined in a
/// generated source.
[[nodiscard]] std::string_view page_of_check(std::string_view id);

}  // namespace tailproof
