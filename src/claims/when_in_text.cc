// When a claim of running text is said to hold: on a date beside it, or on that of the sentence
// before.
#include <algorithm>

#include "claims/when_settler.h"

namespace tailproof {

// "I had X12 in May 1944. We of 3 Wing were living at the Point": the sentence has no date, and
// the one before has one.
bool BlockAssembler::WhenSettler::takes_background(std::uint32_t token) const {
  if (!a_.is_background(token)) return false;
  const std::uint32_t sentence = a_.clauses_.sentence_of[token];
  int before = 0;
  for (const Mention& date : a_.mentions_of(MentionKind::kDate)) {
    if (a_.clauses_.sentence_of[date.first] == sentence) return false;
    if (a_.clauses_.sentence_of[date.first] + 1 == sentence) ++before;
  }
  return before == 1;
}

// "Delivered in May and flown by the Flight": by which days the words do not tell.
bool BlockAssembler::WhenSettler::is_past_passive(Claim& claim, std::uint32_t token,
                                                  std::uint32_t date) const {
  if (claim.kind != ClaimKind::kUnit || !a_.is_past_passive(token, token_of(date))) return false;
  claim.tense = Tense::kFormer;
  return true;
}

// Running text: a date of the same segment, or, if it is no relative one, of the same clause.
// That a machine is named beside a date says nothing of its life; its events do.
void BlockAssembler::WhenSettler::settle_in_text(Claim& claim, std::uint32_t token) {
  const auto best = [&](auto&& fits) { return best_of(claim, token, fits); };
  if (claim.kind == ClaimKind::kAirframe && claim.role.empty() && !is_remains_ &&
      !a_.is_said_to_fly(claim))
    return;
  // "In August 1947 it flew, and it is now painted as X12": of X12's own days.
  // "He was a Major throughout, and on New Year's Day they made him a Colonel".
  if (claim.kind == ClaimKind::kRank && a_.is_in("whole_lead", a_.token_at(claim.end)) &&
      a_.mention_over(MentionKind::kDate, a_.token_at(claim.end) + 1) == nullptr)
    return;
  if (claim.kind == ClaimKind::kUnit && a_.is_reached_later(token)) return;
  const bool is_of_stood_for = a_.any_mention(MentionKind::kAirframe, [&](const Mention& serial) {
    return serial.value == claim.subject && a_.is_stood_for(serial.first) &&
           a_.clauses_.sentence_of[serial.first] == a_.clauses_.sentence_of[token];
  });
  if (is_of_stood_for) return;
  if (a_.is_handed_on(claim)) {
    claim.tense = Tense::kFormer;
    return;
  }
  const std::uint32_t aboard =
      claim.kind == ClaimKind::kAirframe ? a_.clause_aboard(a_.token_at(claim.end)) : kNone;
  std::uint32_t own = best([&](std::uint32_t d) {
    if (aboard != kNone) return a_.clauses_.clause_of[token_of(d)] == aboard;
    return a_.clauses_.segment_of[token_of(d)] == a_.clauses_.segment_of[token] &&
           !a_.is_past_joint(token, a_.out_[d]);
  });
  if (own == kNone && has_own_count(claim, token)) return;
  if (own == kNone) {
    own = best([&](std::uint32_t d) {
      return a_.clauses_.clause_of[token_of(d)] == a_.clauses_.clause_of[token] &&
             !a_.is_relative_date(a_.out_[d]) && !a_.is_past_joint(token, a_.out_[d]) &&
             !a_.is_of_next_item(claim, a_.out_[d]) &&
             !a_.is_of_other_machine(claim, a_.out_[d], dates_told_) &&
             !a_.is_of_time_before(token, a_.out_[d]) && !is_counted_on(token, d) &&
             !a_.is_counted_beside(token, token_of(d));
    });
  }
  // "At Murrow that May, however, X12 had a band": what a sentence opens with holds for all of
  // its first clause, though the month be counted from another.
  if (own == kNone) {
    own = best([&](std::uint32_t d) { return a_.opens_clause_with(a_.out_[d], token); });
  }
  // "In May 1957, when Pascoe of 9 Squadron flew it": not what had been before, nor "until the
  // end of April, when he went over to them".
  if (own == kNone && (claim.kind == ClaimKind::kUnit || claim.kind == ClaimKind::kPlace))
    own = best([&](std::uint32_t d) {
      const Clause& clause = a_.clauses_.clauses[a_.clauses_.clause_of[token]];
      // "... while the other stood at the Point" need not be of that day.
      const bool is_then = claim.kind == ClaimKind::kUnit || a_.office(clause.first) == "when";
      return clause.kind == ClauseKind::kSubordinate && is_then && !a_.is_bound(a_.out_[d]) &&
             a_.opens_behind(a_.clauses_.clause_of[token], a_.out_[d]) &&
             !a_.stands_between(clause.first, clause.last, "had_word") &&
             !a_.stands_between(clause.first, clause.last, "when_state");
    });
  // "In January a crack was found in the spar of X12, which was then held by the Column".
  if (own == kNone && claims_whereabouts(claim) && a_.is_told_of_then(token)) {
    // "They left on 3 May. Carne, who led them at that time, ...".
    const std::uint32_t back = claim.role == "command" ? 1 : 0;
    own = best([&](std::uint32_t d) {
      return token_of(d) < token && !a_.is_bound(a_.out_[d]) &&
             a_.clauses_.sentence_of[token_of(d)] + back >= a_.clauses_.sentence_of[token];
    });
  }
  // "They left on 3 May. Carne, who was by then a Captain, ...".
  if (own == kNone && claim.kind == ClaimKind::kRank && a_.is_had_by_then(token)) {
    own = best([&](std::uint32_t d) {
      return token_of(d) < token && !a_.is_bound(a_.out_[d]) &&
             a_.clauses_.sentence_of[token_of(d)] + 1 >= a_.clauses_.sentence_of[token];
    });
  }
  if (own == kNone) {
    own = best([&](std::uint32_t d) {
      const Mention* words = a_.mention_over(MentionKind::kDate, token_of(d));
      return words != nullptr && a_.is_right_behind_when(a_.clauses_.clause_of[token], *words);
    });
  }
  // "On 22 February, by which time 3 Wing had been there a week".
  if (own == kNone) {
    const std::uint32_t taken_up = a_.time_taken_up(token);
    if (taken_up != kNone) {
      own = best([&](std::uint32_t d) {
        return token_of(d) < taken_up && !a_.is_bound(a_.out_[d]) &&
               a_.clauses_.sentence_of[token_of(d)] == a_.clauses_.sentence_of[token];
      });
    }
  }
  const bool is_background = own == kNone && claims_whereabouts(claim) && takes_background(token);
  if (is_background) {
    own = best([&](std::uint32_t d) {
      return !a_.is_bound(a_.out_[d]) &&
             a_.clauses_.sentence_of[token_of(d)] + 1 == a_.clauses_.sentence_of[token];
    });
  }
  const bool is_by_clause = own == kNone && claim.kind == ClaimKind::kUnit;
  if (is_by_clause) {
    own = best([&](std::uint32_t d) { return a_.is_dated_by_clause(claim, a_.out_[d]); });
  }
  // "Figure 3, taken in May 1943, shows what was left of X12."
  if (own == kNone && is_remains_) {
    own = best([&](std::uint32_t d) {
      return a_.out_[d].of == "photograph" &&
             a_.clauses_.sentence_of[token_of(d)] == a_.clauses_.sentence_of[token];
    });
  }
  // "Andrews, then of the Sixteenth, found it": no next step of his.
  const bool is_then = (claim.kind == ClaimKind::kUnit && a_.is_told_of_then(token)) ||
                       (claim.kind != ClaimKind::kPlace && a_.is_then_of(token));
  if (own != kNone && !is_then && a_.is_told_onward(token, a_.out_[own])) return;
  if (own != kNone && is_remains_ && (a_.out_[own].event != kNone || a_.out_[own].inherited))
    return;
  if (own != kNone && is_past_passive(claim, token, own)) return;
  if (own != kNone &&
      (a_.has_impossible_between(claim, a_.out_[own]) ||
       a_.is_before_joint_day(token, a_.out_[own]) || a_.is_before_pronoun(token, token_of(own)) ||
       (!is_then && a_.is_before_next_verb(token, token_of(own))) ||
       (claim.kind == ClaimKind::kUnit && a_.is_before_next_honour(token, token_of(own))) ||
       (claim.kind == ClaimKind::kRank &&
        a_.is_of_other_rank(token, a_.token_at(claim.end), token_of(own)))))
    return;
  if (own != kNone && is_parted_by_rank(claim, token, own)) return;
  if (own != kNone && a_.out_[own].of != "publication" && a_.out_[own].of != "type")
    claim.when = when_of(own);
  if (own != kNone && (is_by_clause || is_background)) claim.when.inherited = true;
}

}  // namespace tailproof
