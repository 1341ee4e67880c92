// States dated by what befell a machine then: "it had the amber band when it burnt", "he was a
// lieutenant already by the time X12 was lost", "he had won the Cross when X12 was photographed in
// May".
//
// The day is that of the event, by the text where that tells it, else by the one row that the
// ledger has of such an event; what rests on the ledger's day is inherited.
#include <algorithm>

#include "claims/assembler.h"

namespace tailproof {

namespace {

// The days of the ledger's only row for the event; nothing where it has none, several, or knows no
// nearer than a month.
std::optional<Edtf> recorded_date(const Ledger& ledger, const Claim& event) {
  const Edtf* found = nullptr;
  const auto take = [&](const Edtf& date) {
    const bool is_only = found == nullptr;
    found = &date;
    return is_only;
  };
  for (const History* row : ledger.history_of(event.subject)) {
    if (row->kind == event.value && !take(row->spell.from)) return std::nullopt;
  }
  for (const Airframe* row : ledger.machine_of(event.subject)) {
    const bool is_taken = event.value == "taken_on_charge";
    if (!is_taken && event.value != "struck_off_charge") continue;
    if (!take(is_taken ? row->taken_on_charge : row->struck_off_charge)) return std::nullopt;
  }
  if (found == nullptr || found->is_unknown() || found->precision() > Precision::kMonth ||
      found->is_interval())
    return std::nullopt;
  return *found;
}

}  // namespace

void BlockAssembler::settle_by_when_clauses() {
  if (!has_word_of("when_event_opener")) return;
  // The one event told in a clause; kNone where it tells none, or several.
  const auto event_told_in = [&](std::uint32_t clause) {
    std::uint32_t found = kNone;
    for (std::size_t i = first_claim_; i < out_.size(); ++i) {
      const Claim& event = out_[i];
      if (event.kind != ClaimKind::kEvent || clauses_.clause_of[token_at(event.begin)] != clause)
        continue;
      if (event.negated || event.attributed || event.hedged || found != kNone) return kNone;
      found = static_cast<std::uint32_t>(i);
    }
    return found;
  };
  // The one day or month told in a clause with which a sentence of running text begins.
  const auto day_told_in = [&](std::uint32_t clause) {
    const std::uint32_t first = clauses_.clauses[clause].first;
    std::uint32_t found = kNone, at = kNone;
    const bool is_picture = stands_between(first, clauses_.clauses[clause].last, "pictured_verb");
    if (is_caption() || (begin_of_sentence(first) != first && !is_picture)) return kNone;
    for (std::size_t i = first_claim_; i < out_.size(); ++i) {
      const Claim& date = out_[i];
      const std::uint32_t token = token_at(date.begin);
      if (date.kind != ClaimKind::kDate || clauses_.clause_of[token] != clause) continue;
      const bool is_plain = !date.impossible && !date.negated && !date.attributed && !date.hedged &&
                            date.date.precision() <= Precision::kMonth &&
                            !date.date.is_interval() && !is_bound(date);
      if (!is_plain || (at != kNone && at != token)) return kNone;
      if (found == kNone) found = static_cast<std::uint32_t>(i);
      at = token;
    }
    // "When it had been formed in May".
    const std::uint32_t end = found == kNone ? first : token_at(out_[found].end);
    return stands_between(first, end, "had_word") ? kNone : found;
  };
  for (std::uint32_t c = 0; c < clauses_.clauses.size(); ++c) {
    const Clause& told = clauses_.clauses[c];
    if (!is_in_list("when_event_opener", told.first)) continue;
    const std::uint32_t event_told = event_told_in(c);
    // "When the Fourth was assembled on 2 May, Captain Vane led the Third": a day, whatever it was.
    const std::uint32_t day = event_told == kNone ? day_told_in(c) : kNone;
    const std::uint32_t index = event_told == kNone ? day : event_told;
    if (index == kNone) continue;
    const Claim& event = out_[index];
    When when = event.when;
    if (day != kNone) {
      when.known = true;
      when.days = event.date.days();
      when.widened = event.date.widened(ledger_.settings().margins);
      when.inherited = event.inherited;
      when.date = day;
    }
    if (!when.known) {
      const std::optional<Edtf> date = recorded_date(ledger_, event);
      if (!date) continue;
      when.known = when.inherited = true;
      when.days = date->days();
      when.widened = date->widened(ledger_.settings().margins);
    }
    for (std::size_t i = first_claim_; i < out_.size(); ++i) {
      Claim& claim = out_[i];
      const std::uint32_t token = token_at(claim.begin);
      const std::uint32_t own = clauses_.clause_of[token];
      const bool is_state = claim.kind == ClaimKind::kRank || claim.kind == ClaimKind::kUnit ||
                            claim.kind == ClaimKind::kPlace || claim.kind == ClaimKind::kMarking ||
                            claim.kind == ClaimKind::kAward ||
                            (claim.kind == ClaimKind::kAirframe && claim.role == "code");
      // "A Captain when X12 was lost": of that time, and of no other.
      const bool is_of_then = claim.tense == Tense::kThen ||
                              (claim.kind == ClaimKind::kRank && token_at(claim.end) == told.first);
      if (!is_state || claim.when.known || !is_of_then || claim.attributed ||
          clauses_.sentence_of[token] != told.sentence)
        continue;
      // What it hangs on, or stands before.
      const bool is_fronted = begin_of_sentence(told.first) == told.first;
      const bool is_behind =
          told.first > 0 && clauses_.segment_of[token] == clauses_.segment_of[told.first - 1];
      const bool hangs_on = told.parent == own && own != c && (is_fronted || is_behind);
      const bool has_had = stands_between(clauses_.clauses[own].first, token, "had_word");
      const bool is_past = has_had && claim.kind != ClaimKind::kMarking;
      // "He won the Cross when X12 was lost": for that, and later; "he had it" by then.
      const bool is_award = claim.kind == ClaimKind::kAward;
      if (!hangs_on || (is_award ? !has_had : is_past)) continue;
      claim.when = when;
      claim.tense = Tense::kThen;
      if (when.date == kNone) claim.event = index;
    }
  }
}

}  // namespace tailproof
