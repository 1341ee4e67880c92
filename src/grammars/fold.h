// Folding of words for comparison.
#pragma once

#include <array>
#include <cstddef>
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

/// A phrase as word lists compare it: folded, full points dropped, runs of blanks as one.
[[nodiscard]] std::string fold_phrase(std::string_view text);
/// The same into `out`, at most `room` characters; the length, or room + 1 when it is longer.
[[nodiscard]] std::size_t fold_phrase(std::string_view text, char* out, std::size_t room);

}  // namespace tailproof
