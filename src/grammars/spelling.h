// A word or name as a view, compared with words of the source at once: its length tells most apart,
// and the rest is compared in place, without a call.
#pragma once

#include <cstddef>
#include <cstring>
#include <string>
#include <string_view>

namespace tailproof {

class Spelling : public std::string_view {
 public:
  using std::string_view::string_view;
  constexpr Spelling(std::string_view text) : std::string_view(text) {}  // NOLINT: meant to convert
  operator std::string() const { return std::string(data(), size()); }   // NOLINT: meant to convert

  template <std::size_t kSize>
  [[nodiscard]] friend bool operator==(Spelling text, const char (&literal)[kSize]) {
    return text.size() == kSize - 1 && std::memcmp(text.data(), literal, kSize - 1) == 0;
  }
};

}  // namespace tailproof
