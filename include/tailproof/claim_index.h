// Which claims stand together, and the words around them.
//
// Lifetime: views point into the CheckInput. Cost: each look-up is constant; what it rests on is
// linear in the number of claims to build, and taken from CheckInput::captions where that is there.
#pragma once

#include <cstdint>
#include <memory>
#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "tailproof/check.h"

namespace tailproof {

/// Claims sorted by the caption they stand in, and by kind; immutable, so that all checks of a run
/// share one.
class Captions {
 public:
  Captions(std::span<const Manuscript> manuscripts, std::span<const Claim> claims);
  [[nodiscard]] std::span<const std::uint32_t> around(const Claim& claim) const;
  /// In the order of the text.
  [[nodiscard]] std::span<const std::uint32_t> of_kind(ClaimKind kind) const;

 private:
  struct Range {
    std::uint32_t first = 0, count = 0;
  };
  std::vector<std::uint32_t> claims_;              // those of one caption side by side
  std::vector<Range> ranges_;                      // of claims_
  std::vector<std::vector<std::uint32_t>> of_;     // range by manuscript and block
  std::vector<std::vector<std::uint32_t>> kinds_;  // claims by kind
};

/// The claims of one kind, in the order of the text: `for (const Claim& claim :
/// ClaimsOfKind(...))`. Where the input has captions, claims of other kinds are not even looked at:
/// a book has more of them than the processor's caches hold.
class ClaimsOfKind {
 public:
  class Iterator {
   public:
    Iterator(const Claim* claims, const std::uint32_t* at) : claims_(claims), at_(at) {}
    const Claim& operator*() const { return claims_[*at_]; }
    Iterator& operator++() {
      ++at_;
      return *this;
    }
    friend bool operator==(const Iterator& a, const Iterator& b) { return a.at_ == b.at_; }

   private:
    const Claim* claims_;
    const std::uint32_t* at_;
  };

  ClaimsOfKind(const CheckInput& input, ClaimKind kind);
  [[nodiscard]] Iterator begin() const { return {claims_, of_kind_.data()}; }
  [[nodiscard]] Iterator end() const { return {claims_, of_kind_.data() + of_kind_.size()}; }

 private:
  std::shared_ptr<const Captions> captions_;
  const Claim* claims_;
  std::span<const std::uint32_t> of_kind_;
};

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
  /// The claims of that sentence, in the order of the text. Cost: what they are, however long the
  /// block.
  [[nodiscard]] std::span<const Claim> in_sentence(const Claim& claim) const;

 private:
  const CheckInput* input_;
  std::shared_ptr<const Captions> captions_;
};

/// The machine of a claim, which is its subject, as the sentence of the claim names it: by whatever
/// number or code, since a nickname may be that of another.
struct NamedMachine {
  const Claim* before = nullptr;  // named last before the claim
  const Claim* behind = nullptr;  // named first behind it
  std::string_view between;       // from the one before to the claim
  bool is_only = true;            // the sentence names no other machine

  /// Named before the claim, and no mark between the two: what follows may be told of another.
  [[nodiscard]] bool is_unparted() const {
    return before != nullptr && between.find_first_of(",;:()") == std::string_view::npos;
  }
};
[[nodiscard]] NamedMachine machine_beside(const ClaimIndex& index, const Claim& claim);

/// Where the claims of each block begin: by manuscript and block, and one more.
using FirstClaims = std::vector<std::vector<std::uint32_t>>;
[[nodiscard]] FirstClaims first_claims(const CheckInput& input);

/// One number for all blocks of a figure, else for the block alone.
[[nodiscard]] std::uint64_t caption_key(const CheckInput& input, const Claim& claim);

/// Lower case, letters and digits only: how identities ("K7+RB", "k7 rb") are compared.
[[nodiscard]] std::string bare(std::string_view text);

}  // namespace tailproof
