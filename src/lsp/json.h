// JSON as the protocol has it, read from clients that may send anything.
//
// Contract: the look-ups never fail: what is missing or of another kind is the null value, or
// nothing. Nothing that a client sent is ever written back but the id of a request, which is a
// number or a short text: deep nesting ends with the parser.
#pragma once

#include <cstdint>
#include <nlohmann/json.hpp>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

namespace tailproof::lsp {

using Json = nlohmann::json;

/// The member of this name; the null value when there is none.
[[nodiscard]] const Json& member(const Json& object, std::string_view name);
/// "a.b.c": members of members.
[[nodiscard]] const Json& member_at(const Json& object, std::string_view path);
[[nodiscard]] std::optional<std::string> text_of(const Json& value);
/// A whole number from 0 to 2^31 - 1, as the protocol's uinteger.
[[nodiscard]] std::optional<std::uint32_t> number_of(const Json& value);
[[nodiscard]] bool is_true(const Json& value);
/// The texts of an array; nothing when it is none, or holds something else.
[[nodiscard]] std::optional<std::vector<std::string>> texts_of(const Json& value);
/// On one line; bytes that are not UTF-8 are replaced.
[[nodiscard]] std::string written(const Json& value);

}  // namespace tailproof::lsp
