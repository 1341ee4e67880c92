// Units and places that a relative clause dates: "at the Point, where it had come in October 1942",
// "with the School, which it had joined that May".
#include <algorithm>

#include "claims/assembler.h"

namespace tailproof {

// From that day on, give or take what papers differ by; what the sentence itself dates stays so.
void BlockAssembler::settle_by_arrivals() {
  if (!has_word_of("arrival_word")) return;
  constexpr Day kSlackDays = 31;
  for (std::size_t d = first_claim_; d < out_.size(); ++d) {
    const Claim& date = out_[d];
    if (date.kind != ClaimKind::kDate || date.event != kNone || date.of == "photograph" ||
        date.impossible || date.negated || date.attributed || is_bound(date) ||
        date.date.days().empty())
      continue;
    const std::uint32_t at = token_at(date.begin);
    const Clause& told = clauses_.clauses[clauses_.clause_of[at]];
    const std::uint32_t opener =
        is_in("relative_word", told.first) ? told.first : told.first + 1;  // "to which"
    if (told.kind != ClauseKind::kRelative || !is_in("relative_word", opener) ||
        !is_in("machine_pronoun", opener + 1) || !stands_between(opener, at, "arrival_word"))
      continue;
    const std::uint32_t before = told.first > 0 && word(told.first - 1) == "," ? 1 : 0;
    for (std::size_t i = first_claim_; i < out_.size(); ++i) {
      Claim& claim = out_[i];
      const bool is_where = office(opener) == "where";
      const bool is_state =
          claim.kind == ClaimKind::kPlace || (claim.kind == ClaimKind::kUnit && !is_where);
      if (!is_state || claim.negated || claim.attributed || claim.tense != Tense::kThen ||
          token_at(claim.end) + before != told.first || ledger_.machine_of(claim.subject).empty())
        continue;
      const DaySet& days = date.date.days();
      claim.when = When{};
      claim.when.known = true;
      claim.when.hedged = date.hedged;
      claim.when.date = static_cast<std::uint32_t>(d);
      claim.when.days = DaySet{{days.first(), kLastDay}};
      claim.when.widened = DaySet{{days.first() - kSlackDays, kLastDay}};
      claim.said |= kSaidStretch;
    }
  }
}

}  // namespace tailproof
