// Which claims stand together, and the words around them: built once by a check that needs it.
//
// Lifetime: views point into the CheckInput. Cost: linear in the number of claims to build;
// each look-up is constant.
#pragma once

#include <cstdint>
#include <initializer_list>
#include <span>
#include <string_view>
#include <unordered_map>
#include <utility>
#include <vector>

#include "tailproof/check.h"

namespace tailproof {

class ClaimIndex {
 public:
  explicit ClaimIndex(const CheckInput& input);

  /// Indices of every claim of the claim's block and of the other blocks of its figure (title,
  /// caption, footnote, alternative text).
  [[nodiscard]] std::span<const std::uint32_t> around(const Claim& claim) const;
  [[nodiscard]] const Claim& claim(std::uint32_t index) const { return input_->claims[index]; }
  [[nodiscard]] std::uint32_t index_of(const Claim& claim) const;
  /// The person claim beside which this rank or award stands; nullptr when there is none.
  [[nodiscard]] const Claim* person_beside(const Claim& claim) const;
  [[nodiscard]] const Block& block_of(const Claim& claim) const;

  /// Text of the claim's whole block.
  [[nodiscard]] std::string_view block_text(const Claim& claim) const;
  /// The sentence in which the claim stands.
  [[nodiscard]] std::string_view sentence_of(const Claim& claim) const;

 private:
  const CheckInput* input_;
  // Claims of one caption side by side; of each caption the place of the first and their number.
  std::vector<std::uint32_t> claims_;
  std::unordered_map<std::uint64_t, std::pair<std::uint32_t, std::uint32_t>> captions_;
};

/// One number for all blocks of a figure, else for the block alone.
[[nodiscard]] std::uint64_t caption_key(const CheckInput& input, const Claim& claim);

/// Lower case, letters and digits only: how identities ("K7+RB", "k7 rb") are compared.
[[nodiscard]] std::string bare(std::string_view text);

}  // namespace tailproof
