// Names of files as they are printed. A name may hold any bytes but / and NUL: line ends, bytes
// that drive a terminal, bytes that are no UTF-8.
//
// Contract: what is printed is one line of UTF-8. An ordinary name comes out as it is.
#pragma once

#include <string>
#include <string_view>

namespace tailproof {

/// For people: controls, marks that turn the line round and bytes that are no UTF-8 are written as
/// in C ("\n", "\x1b", "\xff"); where there is one of them, so is the backslash ("\\").
[[nodiscard]] std::string shown_path(std::string_view path);

/// For formats with an escape of their own, such as JSON: only bytes that are no UTF-8 are written
/// as "\xff", and then the backslash as "\\".
[[nodiscard]] std::string utf8_path(std::string_view path);

}  // namespace tailproof
