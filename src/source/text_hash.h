// Hashing of words, names and cells, for maps that are asked with views.
#pragma once

#include <cstddef>
#include <cstdint>
#include <cstring>
#include <string_view>

namespace tailproof {

/// A hash of words and phrases, which are short: eight bytes at a step.
[[nodiscard]] inline std::uint64_t hash_text(std::string_view text) noexcept {
  constexpr std::uint64_t kFactor = 0x9E3779B97F4A7C15U;
  std::uint64_t hash = text.size() * kFactor;
  std::size_t at = 0;
  for (; at + 8 <= text.size(); at += 8) {
    std::uint64_t piece = 0;
    std::memcpy(&piece, text.data() + at, 8);
    hash = (hash ^ piece) * kFactor;
    hash ^= hash >> 29;
  }
  std::uint64_t rest = 0;
  std::memcpy(&rest, text.data() + at, text.size() - at);
  hash = (hash ^ rest) * kFactor;
  return hash ^ (hash >> 32);
}

/// Hash for maps of strings that are looked up by views.
struct TextHash {
  using is_transparent = void;
  std::size_t operator()(std::string_view text) const noexcept { return hash_text(text); }
};

}  // namespace tailproof
