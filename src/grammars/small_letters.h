// Patterns without regard to case, told in small letters.
//
// RE2 makes of each letter that may be small or capital a class of its own before it sees what it
// has, and of "k" and "s" one of three, beyond ASCII: two fifths of what compiling a pattern costs.
// A pattern in small letters, asked of a text in small letters, does without.
#pragma once

#include <optional>
#include <string>
#include <string_view>

namespace tailproof {

/// Begins the names of groups that stand for "(?-i:" in a pattern in small letters.
inline constexpr std::string_view kCasedGroup = "_cased";

/// A pattern that matches of a text in small letters, with regard to case, what `pattern` matches
/// of the text itself without; nothing for a pattern with flags, or with letters beyond ASCII. Of
/// flags it may have "(?-i:" around what has no capitals: what the groups named kCasedGroup match
/// must then have none in the text itself, or the match is none of `pattern`, whose own, if any, is
/// another.
[[nodiscard]] std::optional<std::string> in_small_letters(std::string_view pattern);

/// Puts the text into `out` with small letters for the capitals of ASCII, byte for byte. False when
/// it holds "ſ" or the sign of the kelvin, which are an "s" and a "k" where case does not count.
[[nodiscard]] bool write_small(std::string_view text, std::string& out);

}  // namespace tailproof
