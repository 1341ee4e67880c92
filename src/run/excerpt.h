// A few captions of the manuscripts as an input of their own.
//
// Contract: it holds the captions asked for, and those that their claims name by number (the date
// in a heading on which a caption rests, the figure that it was taken after), and theirs in turn;
// nothing else of any manuscript. So a check that sees no further than these finds in it, for the
// captions asked for, what it finds in the whole. Lifetime: it copies; the ledger outlives it.
// Cost: linear in what it holds.
#pragma once

#include <compare>
#include <cstdint>
#include <vector>

#include "tailproof/check.h"
#include "tailproof/claim_index.h"

namespace tailproof {

/// A block of a manuscript.
struct BlockPlace {
  std::uint32_t manuscript = 0;
  std::uint32_t block = 0;

  friend constexpr auto operator<=>(const BlockPlace&, const BlockPlace&) = default;
};

/// Which blocks make up the captions of one manuscript: those of one figure, or one alone.
class CaptionBlocks {
 public:
  explicit CaptionBlocks(const Manuscript& manuscript);

  /// The first block of the caption to which the block belongs.
  [[nodiscard]] std::uint32_t owner(std::uint32_t block) const { return owner_[block]; }
  /// The next block of the same caption; kNone after the last.
  [[nodiscard]] std::uint32_t next(std::uint32_t block) const { return next_[block]; }
  [[nodiscard]] std::uint32_t count() const { return static_cast<std::uint32_t>(owner_.size()); }

 private:
  std::vector<std::uint32_t> owner_, next_;
};

/// The blocks of a caption and of all that its claims name, in turn; the caption's own first.
[[nodiscard]] std::vector<BlockPlace> reach_of(const CheckInput& whole, const FirstClaims& first,
                                               const std::vector<CaptionBlocks>& captions,
                                               const BlockPlace& owner);

class Excerpt {
 public:
  /// `places`: whole captions with what they reach, in any order.
  Excerpt(const CheckInput& whole, const FirstClaims& first, std::vector<BlockPlace> places);
  Excerpt(const Excerpt&) = delete;
  Excerpt& operator=(const Excerpt&) = delete;

  /// Its spans point into this.
  [[nodiscard]] const CheckInput& input() const { return input_; }
  /// What a block or a claim of it is in the whole.
  [[nodiscard]] BlockPlace whole_place(const BlockPlace& place) const;
  [[nodiscard]] std::uint32_t whole_claim(std::uint32_t claim) const { return claims_of_[claim]; }
  /// The block of it that this block of the whole, which it must hold, has become.
  [[nodiscard]] std::uint32_t own_block(const BlockPlace& place) const;

 private:
  std::vector<BlockPlace> places_;          // sorted
  std::vector<std::uint32_t> first_place_;  // by manuscript, into places_
  std::vector<std::uint32_t> claims_of_;    // in the whole, ascending
  std::vector<Manuscript> manuscripts_;
  std::vector<Claim> claims_;
  CheckInput input_;
};

}  // namespace tailproof
