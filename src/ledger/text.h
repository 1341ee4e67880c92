// How the ledger compares and cuts the text of its cells.
#pragma once

#include <string>
#include <string_view>
#include <vector>

namespace tailproof {

/// Without blanks (ASCII and no-break) at either end.
[[nodiscard]] std::string_view trimmed(std::string_view text);

/// Names compare by this form: small letters (Latin, Greek, Cyrillic), one blank for a run of
/// blanks, plain hyphens and apostrophes for typographic ones, no blank at either end.
[[nodiscard]] std::string folded_name(std::string_view text);

/// Identities compare by this form: as folded_name, without blanks and hyphens.
[[nodiscard]] std::string folded_identity(std::string_view text);

/// The values of a list cell: cut at ";", trimmed, empty ones left out.
[[nodiscard]] std::vector<std::string> split_list(std::string_view text);

}  // namespace tailproof
