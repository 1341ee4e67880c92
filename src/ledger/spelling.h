// Spellings by which a compiled ledger is asked: one number for all ways to write a name.
//
// "K7-RB", "k7 rb" and "K7+RB" are one spelling: letters and digits in small, without anything
// between. Two names may share a number; what is found too much by that does no harm, since the
// rows found are looked up by their names again.
#pragma once

#include <cstddef>
#include <cstdint>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

namespace tailproof {

using Spelling = std::uint64_t;

/// Letters and digits of a name, small, without blanks and marks.
[[nodiscard]] std::string squashed(std::string_view name);
[[nodiscard]] Spelling spelling_of(std::string_view name);
/// Of text that is squashed already.
[[nodiscard]] Spelling spelling_of_squashed(std::string_view text);
/// The runs of letters and digits that a name is made of.
[[nodiscard]] std::size_t pieces_of(std::string_view name);

/// How long the names of a ledger are at most.
struct SpellingLimits {
  std::size_t pieces = 1;
  std::size_t bytes = 0;  // squashed
};

/// A set of numbers, quick to fill. Zero is as good as any other.
class SpellingSet {
 public:
  /// False when it was there before.
  bool insert(Spelling spelling);
  [[nodiscard]] bool contains(Spelling spelling) const;

 private:
  void grow();

  std::vector<Spelling> slots_;
  std::size_t count_ = 0;
  bool has_zero_ = false;
};

/// Tells of most numbers that are not in a set that they are not. Serialised by its bytes.
class SpellingFilter {
 public:
  explicit SpellingFilter(std::size_t count);
  explicit SpellingFilter(std::string bytes) : bits_(std::move(bytes)) {}
  void insert(Spelling spelling);
  [[nodiscard]] bool may_contain(Spelling spelling) const;
  [[nodiscard]] const std::string& bytes() const { return bits_; }

 private:
  std::string bits_;
};

/// Every spelling that a name in `text` can have, for names within the limits, and that the filter
/// lets through. Adjoining pieces are put together in every way, and a plural's ending is taken
/// off. Cost: linear in the text, times the pieces of the longest name.
void find_spellings(std::string_view text, const SpellingLimits& limits,
                    const SpellingFilter& filter, std::vector<Spelling>& found);

}  // namespace tailproof
