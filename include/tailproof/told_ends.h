// Days of which a sentence speaks more exactly than a claim's own date tells: when a machine came
// to a unit or left it, and both ends of a state ("from May 1941 until January 1942").
//
// Contract: nothing where the words or the ledger leave the day open. Papers differ about such days
// by weeks, so only what is more than a month out counts, and what they find is a warning.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "tailproof/claim_index.h"
#include "tailproof/verdict.h"

namespace tailproof {

/// "Joined 62 Squadron on 9 May", "left 61 Squadron in July": the claim is the event, and a unit
/// stands right behind it. The query is of the check `id`.
[[nodiscard]] std::optional<Query> judge_change_of_hands(const CheckInput& input,
                                                         const ClaimIndex& index,
                                                         const Claim& event, std::string_view id);

/// The days around each end that the date of `claim` names, and behind them what lies between both
/// ends; none unless the state lasts from or until it (kSaidStretch).
[[nodiscard]] std::vector<When> told_ends(const CheckInput& input, const Claim& claim);

/// The claim's time as `when_in_words` has it, but an open one by the words of its date where they
/// have a figure: "until late in 1944", which no day or month says as well.
[[nodiscard]] std::string told_in_words(const CheckInput& input, const Claim& claim);

/// The first of these days on which the claim cannot hold, by what `allowed_at` (When ->
/// std::optional<Allowed>) has of each.
template <typename AllowedAt>
[[nodiscard]] std::optional<When> impossible_end(const CheckInput& input, const Claim& claim,
                                                 const AllowedAt& allowed_at) {
  for (const When& end : told_ends(input, claim)) {
    const std::optional<Allowed> allowed = allowed_at(end);
    if (allowed && fit(end, *allowed) == Fit::kImpossible) return end;
  }
  return std::nullopt;
}

}  // namespace tailproof
