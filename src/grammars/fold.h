// Folding of words for comparison.
#pragma once

#include <array>
#include <cstddef>
#include <cstdint>
#include <cstring>
#include <functional>
#include <string>
#include <string_view>

namespace tailproof {

/// ASCII letters in lower case, "’" as "'"; everything else as it stands.
[[nodiscard]] std::string fold(std::string_view text);

/// fold() of one word, in place of its own as long as the word is short.
class FoldedWord {
 public:
  explicit FoldedWord(std::string_view word);
  FoldedWord(const FoldedWord&) = delete;
  FoldedWord& operator=(const FoldedWord&) = delete;
  [[nodiscard]] std::string_view view() const { return view_; }

 private:
  std::array<char, 48> short_;
  std::string long_;
  std::string_view view_;
};

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

/// A phrase as word lists compare it: folded, full points dropped, runs of blanks as one.
[[nodiscard]] std::string fold_phrase(std::string_view text);
/// The same into `out`, at most `room` characters; the length, or room + 1 when it is longer.
[[nodiscard]] std::size_t fold_phrase(std::string_view text, char* out, std::size_t room);

}  // namespace tailproof
