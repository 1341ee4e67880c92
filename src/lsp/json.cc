#include "lsp/json.h"

namespace tailproof::lsp {

const Json& member(const Json& object, std::string_view name) {
  static const Json kNothing;
  if (!object.is_object()) return kNothing;
  const auto found = object.find(name);
  return found == object.end() ? kNothing : *found;
}

const Json& member_at(const Json& object, std::string_view path) {
  const std::size_t dot = path.find('.');
  const Json& first = member(object, path.substr(0, dot));
  return dot == std::string_view::npos ? first : member_at(first, path.substr(dot + 1));
}

std::optional<std::string> text_of(const Json& value) {
  if (!value.is_string()) return std::nullopt;
  return value.get_ref<const std::string&>();
}

std::optional<std::uint32_t> number_of(const Json& value) {
  constexpr std::int64_t kMost = 0x7fffffff;
  if (!value.is_number_integer()) return std::nullopt;
  if (value.is_number_unsigned() && value.get<std::uint64_t>() > kMost) return std::nullopt;
  const auto number = value.get<std::int64_t>();
  if (number < 0 || number > kMost) return std::nullopt;
  return static_cast<std::uint32_t>(number);
}

bool is_true(const Json& value) { return value.is_boolean() && value.get<bool>(); }

std::optional<std::vector<std::string>> texts_of(const Json& value) {
  if (!value.is_array()) return std::nullopt;
  std::vector<std::string> texts;
  for (const Json& one : value) {
    if (!one.is_string()) return std::nullopt;
    texts.push_back(one.get_ref<const std::string&>());
  }
  return texts;
}

std::string written(const Json& value) {
  return value.dump(-1, ' ', false, Json::error_handler_t::replace);
}

}  // namespace tailproof::lsp
