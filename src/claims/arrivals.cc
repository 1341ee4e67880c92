// Units and places that a relative clause dates: "at the Point, where it had come in October 1942",
// "with the School, which it had joined that May".
#include <algorithm>

#include "claims/assembler.h"

namespace tailproof {

// From that day on, give or take what papers differ by; what the sentence itself dates stays so.
// "Was given the band in June and wore it to the day she was lost": that day is not June's.
bool BlockReading::is_day_reached(std::uint32_t event) const {
  constexpr std::uint32_t kReach = 7;
  for (std::uint32_t t = event; t > 2 && event - t < kReach; --t) {
    if (clauses_.sentence_of[t - 1] != clauses_.sentence_of[event]) return false;
    if (is_in("day_reached", t - 1) && office(t - 2) == "the" && is_in("reaching_word", t - 3))
      return mention_over(MentionKind::kDate, t - 1) == nullptr;
  }
  return false;
}

void BlockAssembler::settle_by_arrivals() {
  const bool has_reached =
      !is_caption() && has_word_of("day_reached") && has_word_of("reaching_word");
  for (std::size_t i = first_claim_; has_reached && i < out_.size(); ++i) {
    Claim& event = out_[i];
    if (event.kind != ClaimKind::kEvent || !event.when.known || event.when.date >= out_.size() ||
        out_[event.when.date].begin > event.begin || !is_day_reached(token_at(event.begin)))
      continue;
    event.when = When();
    for (std::size_t d = first_claim_; d < out_.size(); ++d) {
      if (out_[d].kind == ClaimKind::kDate && out_[d].event == i) out_[d].event = kNone;
    }
  }
  constexpr Day kSlackDays = 31;
  // "It spent its first winter at the Point": of the days behind its forming, by the ledger.
  const bool has_spans = !is_caption() && has_word_of("spent_word") && has_word_of("first_word");
  for (std::size_t i = first_claim_; has_spans && i < out_.size(); ++i) {
    Claim& place = out_[i];
    Day days = 0;
    if (place.kind != ClaimKind::kPlace || place.when.known || place.tense != Tense::kThen)
      continue;
    const Mention* told = unit_in_first_span(token_at(place.begin), days);
    const Unit* unit = told == nullptr ? nullptr : ledger_.unit(told->value);
    const bool is_other = !place.subject.empty() && unit != nullptr && place.subject != unit->unit;
    if (unit == nullptr || is_other || unit->formed.is_unknown() || unit->formed.days().is_all())
      continue;
    place.subject = unit->unit;
    place.when.known = place.when.inherited = true;
    place.when.days =
        DaySet{{unit->formed.days().first(), unit->formed.days().last() + days + kSlackDays}};
    place.when.widened = place.when.days;
  }
  if (!has_word_of("arrival_word") && !has_word_of("ever_word")) return;
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
    // "Had lived at the Point ever since Crewe raised it in 1934".
    const bool is_since = told.kind == ClauseKind::kSubordinate && told.first > 0 &&
                          is_in("ever_word", told.first - 1) && office(told.first) == "since";
    if (!is_since &&
        (told.kind != ClauseKind::kRelative || !is_in("relative_word", opener) ||
         !is_in("machine_pronoun", opener + 1) || !stands_between(opener, at, "arrival_word")))
      continue;
    const std::uint32_t before = is_since || word(told.first - 1) == "," ? 1 : 0;
    for (std::size_t i = first_claim_; i < out_.size(); ++i) {
      Claim& claim = out_[i];
      const bool is_where = office(opener) == "where";
      const bool is_state =
          claim.kind == ClaimKind::kPlace || (claim.kind == ClaimKind::kUnit && !is_where);
      if (!is_state || claim.negated || claim.attributed || claim.tense != Tense::kThen ||
          token_at(claim.end) + before != told.first ||
          (ledger_.machine_of(claim.subject).empty() &&
           !(is_since && ledger_.unit(claim.subject) != nullptr)))
        continue;
      const DaySet& days = date.date.days();
      claim.when = When{};
      claim.when.known = true;
      claim.when.hedged = date.hedged;
      claim.when.date = static_cast<std::uint32_t>(d);
      claim.when.days = DaySet{{days.first(), kLastDay}};
      claim.when.widened = DaySet{{days.first() - kSlackDays, kLastDay}};
      if (const Unit* unit = ledger_.unit(claim.subject); is_since && unit != nullptr) {
        // Until the day told of, which may be any of its life.
        const DaySet life{
            {unit->formed.days().first(), std::max(unit->disbanded.days().last(), days.last())}};
        claim.when.days = claim.when.days.intersect(life);
        claim.when.widened = claim.when.days;
        if (claim.when.days.empty()) claim.when = When{};
        continue;
      }
      claim.said |= kSaidStretch;
    }
  }
}

}  // namespace tailproof
