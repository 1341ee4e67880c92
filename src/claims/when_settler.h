// When each claim of a block is said to hold: in a caption on the day of the picture, but for
// clauses with a date of their own; in running text on a date beside it.
//
// Contract: made once for a block, when all of its claims are there; `settle` is called once.
#pragma once

#include <cstdint>
#include <vector>

#include "claims/assembler.h"

namespace tailproof {

class BlockAssembler::WhenSettler {
 public:
  explicit WhenSettler(BlockAssembler& block);
  void settle();

 private:
  [[nodiscard]] When when_of(std::uint32_t index) const;
  [[nodiscard]] When plain_when(std::uint32_t index) const;
  void read_picture();
  void part_bracketed_views();
  [[nodiscard]] std::uint32_t token_of(std::size_t claim) const {
    return first_token_[claim - a_.first_claim_];
  }
  [[nodiscard]] std::uint32_t bracketed_date_of(const Claim& claim) const;
  [[nodiscard]] bool has_picture_date(std::uint32_t clause) const;
  template <typename Fits>
  [[nodiscard]] std::uint32_t best_of(const Claim& claim, std::uint32_t token,
                                      const Fits& fits) const;
  [[nodiscard]] bool is_parted_by_rank(const Claim& claim, std::uint32_t token,
                                       std::uint32_t own) const;
  [[nodiscard]] bool has_own_count(const Claim& claim, std::uint32_t token) const;
  [[nodiscard]] bool is_counted_on(std::uint32_t token, std::uint32_t d) const;
  [[nodiscard]] static bool claims_whereabouts(const Claim& claim) {
    return claim.kind == ClaimKind::kUnit || claim.kind == ClaimKind::kPlace;
  }
  [[nodiscard]] bool takes_background(std::uint32_t token) const;
  void settle_event(Claim& claim, std::uint32_t token);
  [[nodiscard]] bool settle_by_words(Claim& claim, std::uint32_t token);
  void settle_in_caption(Claim& claim, std::uint32_t token);
  void settle_in_text(Claim& claim, std::uint32_t token);
  bool is_past_passive(Claim& claim, std::uint32_t token, std::uint32_t date) const;

  BlockAssembler& a_;
  const Margins& margins_;
  std::vector<std::uint32_t> dates_told_;   // claims of dates that the calendar and the words allow
  std::vector<std::uint32_t> first_token_;  // by claim of the block
  When picture_;
  DaySet picture_days_;  // of a caption, once they are known
  bool has_joined_views_ = false;
  bool is_of_career_ = false, is_remains_ = false;  // of the claim that is being settled
};

// The nearest of the dates that fit; kNone where none does.
template <typename Fits>
std::uint32_t BlockAssembler::WhenSettler::best_of(const Claim& claim, std::uint32_t token,
                                                   const Fits& fits) const {
  // "The green disc in 1943 and the edged one in 1945": each its own, however near the other.
  constexpr std::uint32_t kParted = 12;
  const auto gap = [&](std::uint32_t d) {
    const std::uint32_t at = token_of(d);
    // "Frontier Medal 1943, Flyer's Star 1944": behind the award's last word.
    const std::uint32_t end = claim.kind == ClaimKind::kAward ? a_.token_at(claim.end) : token;
    const std::uint32_t distance = at >= end ? at - end : token - at;
    return distance + (a_.is_parted(std::min(at, token), std::max(at, token)) ? kParted : 0);
  };
  std::uint32_t best = kNone;
  for (const std::uint32_t date : dates_told_) {
    if (!fits(date) || (a_.out_[date].attributed && !claim.attributed)) continue;
    if (is_of_career_ && !a_.is_date_of_career(claim, a_.out_[date])) continue;
    // "Its number was 62, except from January to August".
    if (a_.stands_between(token, token_of(date), "exception_word")) continue;
    if (best == kNone || gap(date) < gap(best)) best = date;
  }
  return best;
}

}  // namespace tailproof
