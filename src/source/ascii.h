// Letters and digits of ASCII, whatever the locale.
#pragma once

#include <string>
#include <string_view>

namespace tailproof {

constexpr bool is_digit(char c) { return c >= '0' && c <= '9'; }
constexpr bool is_upper(char c) { return c >= 'A' && c <= 'Z'; }
constexpr bool is_lower(char c) { return c >= 'a' && c <= 'z'; }
constexpr bool is_letter(char c) { return is_upper(c) || is_lower(c); }
constexpr char lower(char c) { return is_upper(c) ? static_cast<char>(c - 'A' + 'a') : c; }

constexpr bool has_upper(std::string_view text) {
  for (const char c : text) {
    if (is_upper(c)) return true;
  }
  return false;
}

inline std::string lower(std::string_view text) {
  std::string out(text);
  for (char& c : out) c = lower(c);
  return out;
}

}  // namespace tailproof
