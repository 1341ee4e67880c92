// Text of other people made harmless for an HTML page.
//
// Contract: whatever stands in `text` is shown and does nothing. Characters that would be invisible
// or would turn the direction of the line (controls, bidirectional marks, tags) are shown by their
// number, "[U+202E]".
#pragma once

#include <string>
#include <string_view>

#include "report/json_parts.h"

namespace tailproof {

/// For element content and for attribute values in double quotes.
[[nodiscard]] std::string html(std::string_view text);
/// The same without markup, for scripts that show text as text.
[[nodiscard]] std::string inert(std::string_view text);
/// A JSON value as the content of a script element: ASCII, and nothing in it ends the element.
[[nodiscard]] std::string script_json(const Json& json);
/// 'sha256-...' of a content security policy, from the digest in hexadecimal.
[[nodiscard]] std::string policy_hash(std::string_view hex_digest);
/// The text in at most `length` code points, the last of them an ellipsis where it was longer.
[[nodiscard]] std::string shortened(std::string_view text, std::size_t length);

}  // namespace tailproof
