// Running text in which a machine takes up a code, or gives one up, on a day: "became LD-A in May
// 1941", "exchanged LB-A for LD-A in May", "in May LB-A was painted out".
#include <algorithm>

#include "claims/assembler.h"

namespace tailproof {

// The verb by which a code is taken up: right before it, past another code ("from LB-A to LD-A"),
// its noun and small words; kNone for none.
std::uint32_t BlockReading::verb_of_taking_up(std::uint32_t code) const {
  constexpr std::uint32_t kReach = 7;
  for (std::uint32_t t = code; t > 0 && code - t < kReach; --t) {
    const std::uint32_t before = t - 1;
    if (clauses_.sentence_of[before] != clauses_.sentence_of[code]) return kNone;
    if (is_in("code_taken_up", before)) return before;
    const Mention* other = mention_over(MentionKind::kAirframe, before);
    const bool is_passed = (other != nullptr && other->role == "code") ||
                           is_in("code_taking_joint", before) || is_in("determiner", before) ||
                           is_in("letters_noun", before) || is_in("code_word", before);
    if (!is_passed) return kNone;
  }
  return kNone;
}

// "LB-A was painted out", "LB-A gave way": behind the code, no other code between.
bool BlockReading::is_done_away(std::uint32_t end) const {
  constexpr std::uint32_t kReach = 3;
  const auto is_behind = [&](const Mention& cue) {
    return cue.value == "before" && cue.first >= end && cue.first - end < kReach &&
           clauses_.clause_of[cue.first] == clauses_.clause_of[end - 1] &&
           (is_in("code_gone_then", cue.first) ||
            (cue.first > end && is_in("code_gone_then", cue.first - 1)));
  };
  return any_cue("cue_code_gone", is_behind) || any_cue("cue_negation", is_behind);
}

void BlockAssembler::settle_code_turns() {
  if (is_caption() || block_.kind == BlockKind::kTableRow || !has_word_of("code_turn_word")) return;
  for (std::size_t i = first_claim_; i < out_.size(); ++i) {
    Claim& claim = out_[i];
    const bool is_code = claim.kind == ClaimKind::kAirframe && claim.role == "code" &&
                         !claim.negated && !claim.attributed;
    if (!is_code || !claim.when.known || claim.when.inherited || claim.when.date >= out_.size())
      continue;
    const Claim& date = out_[claim.when.date];
    const std::uint32_t token = token_at(claim.begin);
    const bool is_own = !date.inherited && !is_bound(date) && (claim.said & kSaidStretch) == 0 &&
                        clauses_.clause_of[token_at(date.begin)] == clauses_.clause_of[token];
    const Mention* code = mention_over(MentionKind::kAirframe, token);
    // "X12 became 5, and X14, new on 21 April, was 6": the day of the other.
    const std::uint32_t told = token_at(date.begin);
    const bool is_of_other = any_mention(MentionKind::kAirframe, [&](const Mention& other) {
      return other.role.empty() && other.value != claim.subject &&
             other.first >= std::min(told, token) && other.last <= std::max(told, token);
    });
    if (!is_own || is_of_other || code == nullptr) continue;
    const std::uint32_t verb = verb_of_taking_up(code->first);
    if (verb != kNone) {
      if (is_in("pluperfect_auxiliary", verb > 0 ? verb - 1 : 0)) continue;
      // "From LB-A to LD-A", "LB-A for LD-A": the first of them is given up.
      const bool is_first = code->last + 1 < mentions_.tokens.size() &&
                            is_in("code_taking_joint", code->last) && mention_at(code->last + 1);
      if (!is_first && claim.tense == Tense::kFormer) continue;
      if (!is_first) claim.tense = Tense::kThen;
      claim.turn = is_first ? Turn::kWithdrawn : Turn::kRenumbered;
    } else if (claim.tense == Tense::kFormer && is_done_away(code->last)) {
      claim.turn = Turn::kWithdrawn;
    }
  }
}

}  // namespace tailproof
