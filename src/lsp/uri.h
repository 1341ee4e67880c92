// Files as the protocol names them: RFC 3986 with the scheme "file".
#pragma once

#include <optional>
#include <string>
#include <string_view>

namespace tailproof::lsp {

/// "/book/one.md" of "file:///book/one.md", without "." and ".."; nothing for another scheme,
/// another host or a path that is not absolute.
[[nodiscard]] std::optional<std::string> path_of_uri(std::string_view uri);
[[nodiscard]] std::string uri_of_path(std::string_view path);

}  // namespace tailproof::lsp
