#include "manuscript/entities.h"

#include <algorithm>
#include <charconv>
#include <iterator>

namespace tailproof {
namespace {

struct NamedEntity {
  std::string_view name;
  std::string_view characters;
};

constexpr NamedEntity kEntities[] = {
#include "manuscript/entity_table.inc"
};

constexpr std::size_t kLongestName = 64;

bool is_name_character(char c) {
  return (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z') || (c >= '0' && c <= '9') || c == '_' ||
         c == '-' || c == '.' || c == ':' || static_cast<unsigned char>(c) >= 0x80;
}

std::string resolve_number(std::string_view digits) {
  int base = 10;
  if (digits.starts_with('x') || digits.starts_with('X')) {
    base = 16;
    digits.remove_prefix(1);
  }
  std::uint32_t code = 0;
  const auto [end, error] =
      std::from_chars(digits.data(), digits.data() + digits.size(), code, base);
  if (digits.empty() || end != digits.data() + digits.size()) return "";
  return to_utf8(error == std::errc() ? code : 0);
}

}  // namespace

std::string to_utf8(std::uint32_t code_point) {
  const bool is_surrogate = code_point >= 0xD800 && code_point < 0xE000;
  if (code_point == 0 || is_surrogate || code_point > 0x10FFFF) code_point = 0xFFFD;
  const auto tail = [code_point](unsigned shift) {
    return static_cast<char>(0x80U | (code_point >> shift & 0x3FU));
  };
  if (code_point < 0x80) return {static_cast<char>(code_point)};
  if (code_point < 0x800) return {static_cast<char>(0xC0U | code_point >> 6U), tail(0)};
  if (code_point < 0x10000) {
    return {static_cast<char>(0xE0U | code_point >> 12U), tail(6), tail(0)};
  }
  return {static_cast<char>(0xF0U | code_point >> 18U), tail(12), tail(6), tail(0)};
}

std::string resolve_reference(std::string_view name) {
  if (name.starts_with('#')) return resolve_number(name.substr(1));
  const auto* const found = std::lower_bound(
      std::begin(kEntities), std::end(kEntities), name,
      [](const NamedEntity& entity, std::string_view wanted) { return entity.name < wanted; });
  if (found == std::end(kEntities) || found->name != name) return "";
  return std::string(found->characters);
}

std::size_t reference_length(std::string_view text) {
  std::size_t end = 1;
  if (end < text.size() && text[end] == '#') ++end;
  while (end < text.size() && end <= kLongestName && is_name_character(text[end])) ++end;
  const bool has_name = end > 1 && text[end - 1] != '#';
  return has_name && end < text.size() && text[end] == ';' ? end + 1 : 0;
}

std::string resolve_references(std::string_view text) {
  std::string out;
  while (true) {
    const std::size_t amp = text.find('&');
    out.append(text.substr(0, amp));
    if (amp == std::string_view::npos) return out;
    text.remove_prefix(amp);
    const std::size_t length = reference_length(text);
    const std::string resolved = length == 0 ? "" : resolve_reference(text.substr(1, length - 2));
    const std::size_t taken = resolved.empty() ? 1 : length;
    out.append(resolved.empty() ? std::string(text.substr(0, 1)) : resolved);
    text.remove_prefix(taken);
  }
}

}  // namespace tailproof
