// Character references: `&#8220;`, `&#x201C;`, `&ldquo;`.
//
// The names are those of HTML, which take in the ISO entity sets of DocBook 4. Cost: a binary
// search.
#pragma once

#include <cstdint>
#include <string>
#include <string_view>

namespace tailproof {

/// UTF-8 of one code point; U+FFFD for what is none (0, surrogates, past U+10FFFF).
[[nodiscard]] std::string to_utf8(std::uint32_t code_point);
/// Characters of a reference given without `&` and `;` ("#8220", "ldquo"); "" when it is none.
[[nodiscard]] std::string resolve_reference(std::string_view name);
/// Length of the reference at the start of `text`, which begins with `&`, its `;` included; 0 when
/// there is none of that shape.
[[nodiscard]] std::size_t reference_length(std::string_view text);
/// The text with every known reference resolved; unknown ones stay as they are.
[[nodiscard]] std::string resolve_references(std::string_view text);

}  // namespace tailproof
