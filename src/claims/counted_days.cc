// What a day is counted from where the words have no event for it that is known: "three months to
// the day after X12 had gone through the wall", "a week before Order 7/43 took effect", "six weeks
// after Brack's death", "ten days after it".
#include "claims/block_reading.h"

namespace tailproof {
namespace {

// The one day on which the ledger has something befall the machine; none where there are two.
DaySet day_of_mishap(const Ledger& ledger, std::string_view serial) {
  DaySet days;
  for (const History* row : ledger.history_of(serial)) {
    if ((row->kind != "lost" && row->kind != "accident") || row->spell.from.is_unknown()) continue;
    const DaySet& own = row->spell.from.days();
    if (!days.empty() && days != own) return {};
    days = own;
  }
  return days;
}

DaySet day_of_order(const Ledger& ledger, std::string_view name, bool is_issue) {
  DaySet days;
  for (const Order& row : ledger.orders()) {
    const Edtf& date = is_issue ? row.issued : row.effective;
    if (row.order != name || date.is_unknown()) continue;
    if (!days.empty() && days != date.days()) return {};
    days = date.days();
  }
  return days;
}

}  // namespace

// When it befell the machine by the ledger, the last time; of its coming to a unit or leaving it
// only that unit's rows tell.
DaySet BlockReading::days_by_ledger(const Claim& event, const Mention& cue,
                                    const Ledger& ledger) const {
  const bool is_loss = event.value == "lost" || event.value == "accident";
  const Mention* unit = nullptr;
  if (event.value == "allotted") {
    unit = mention_at(is_in("determiner", cue.last) ? cue.last + 1 : cue.last);
    if (unit == nullptr || unit->kind != MentionKind::kUnit) return {};
  }
  const bool is_left = unit != nullptr && is_in("unit_leaving", cue.last - 1);
  DaySet days;
  for (const History* row : ledger.history_of(event.subject)) {
    const bool fits =
        row->kind == event.value || (is_loss && (row->kind == "lost" || row->kind == "accident"));
    if (!fits || (unit != nullptr && row->unit != unit->value)) continue;
    const Edtf& day = is_left ? row->spell.to : row->spell.from;
    if (!day.is_unknown()) days = day.days();
  }
  return days;
}

// "Six weeks to the day after it X14 ran into a ditch", "after that loss": the last day of which
// the sentence before tells. "After it was repainted" has its own event, and so has "after that
// loss of X12".
DaySet BlockReading::days_before_sentence(const Mention& date,
                                          std::span<const ResolvedDate> dates) const {
  std::uint32_t pronoun = date.last;
  if (is_in("leaning_word", pronoun) && !is_in("counted_pronoun", pronoun)) ++pronoun;
  const bool is_noun = is_in("mishap_article", pronoun) && is_in("mishap_noun", pronoun + 1);
  const std::uint32_t next = pronoun + (is_noun ? 2 : 1);
  const std::uint32_t sentence = clauses_.sentence_of[date.first];
  // "After that the Squadron moved", but not "after it the Squadron".
  const bool is_alone = next >= mentions_.tokens.size() || mention_at(next) != nullptr ||
                        mentions_.tokens[next].kind == TokenKind::kMark ||
                        (is_in("mishap_article", pronoun) &&
                         (is_in("determiner", next) || is_in("day_pronoun", next)));
  DaySet days;
  if ((!is_noun && !is_in("counted_pronoun", pronoun)) || !is_alone) return days;
  // "X12 came before the move and X13 four days after it": after the move.
  for (std::uint32_t t = date.first; t-- > 1 && clauses_.sentence_of[t] == sentence;) {
    if (is_in("leaning_word", t - 1) && is_in("determiner", t)) return days;
  }
  for (const Mention& other : mentions_of(MentionKind::kDate)) {
    const ResolvedDate& told = dates[other.payload];
    const std::uint32_t own = clauses_.sentence_of[other.first];
    // "X12 came on the 7th and X13 a week after it": from the day told just before.
    // In months that is too rough.
    const DatePeriod period = mentions_.dates[date.payload].first.offset_period;
    const bool is_near = period == DatePeriod::kDay || period == DatePeriod::kWeek;
    const bool is_before =
        own + 1 == sentence || (is_near && own == sentence && other.last <= date.first);
    if (is_before && !told.date.is_unknown()) days = told.date.days();
  }
  return days;
}

// "Stripes for the landfall of May 1945, still fresh on Sunday 10 June": when something else was.
bool BlockReading::is_of_happening(const Mention& date, std::span<const ResolvedDate> dates) const {
  if (!is_caption() || date.first < 3 || office(date.first - 1) != "of") return false;
  const std::uint32_t noun = date.first - 2;
  const Mention* name = mention_at(noun);
  const bool is_noun = (name == nullptr || name->kind == MentionKind::kCue) &&
                       mentions_.tokens[noun].kind == TokenKind::kWord &&
                       is_in("determiner", noun - 1) && !is_in("credit_noun", noun) &&
                       !is_in("picture_of_time", noun);
  // "In the thaw of February 1943": when it was.
  if (!is_noun || (noun > 1 && is_in("in_word", noun - 2))) return false;
  const DaySet& own = dates[date.payload].date.days();
  return any_mention(MentionKind::kDate, [&](const Mention& other) {
    const Edtf& day = dates[other.payload].date;
    if (&other == &date || day.is_unknown() || day.days().empty()) return false;
    const bool is_one = day.days().first() == day.days().last();
    const bool is_free = other.first == 0 || office(other.first - 1) != "of";
    return is_one && is_free && !day.days().intersects(own);
  });
}

// "A fortnight after X12 had swung": the machine with which the clause behind "after" begins.
const Mention* BlockReading::machine_counted_from(const Mention& date) const {
  std::uint32_t first = date.last;
  if (is_in("leaning_word", first)) ++first;
  const Mention* machine = mention_at(first);
  const bool is_told = machine != nullptr && machine->kind == MentionKind::kAirframe &&
                       machine->first == first && machine->readings.empty() &&
                       machine->last < mentions_.tokens.size() &&
                       is_in("pluperfect_auxiliary", machine->last);
  return is_told ? machine : nullptr;
}

// Of the clause behind "after": the machine's mishap, the person's death, the order's day or the
// unit's.
DaySet BlockReading::days_counted_from(const Mention& date, const Ledger& ledger) const {
  std::uint32_t first = date.last;
  if (is_in("leaning_word", first)) ++first;
  return days_told_from(first, mentions_.dates[date.payload].first.offset_to_the_day, ledger);
}

// The same of the clause that begins with `first`.
DaySet BlockReading::days_told_from(std::uint32_t first, bool is_to_the_day,
                                    const Ledger& ledger) const {
  const auto count = static_cast<std::uint32_t>(mentions_.tokens.size());
  if (first >= count) return {};
  const std::uint32_t sentence = clauses_.sentence_of[first];
  std::uint32_t end = first;
  // A serial may have a mark inside.
  while (end < count && clauses_.sentence_of[end] == sentence &&
         (mentions_.tokens[end].kind != TokenKind::kMark || mention_at(end) != nullptr))
    ++end;
  const Mention* named = nullptr;
  for (std::uint32_t t = first; t < end && named == nullptr; ++t) {
    const Mention* mention = mention_at(t);
    if (mention == nullptr || mention->first != t) continue;
    const bool is_name = mention->kind == MentionKind::kOrder ||
                         mention->kind == MentionKind::kPerson ||
                         mention->kind == MentionKind::kUnit ||
                         (mention->kind == MentionKind::kAirframe && mention->readings.empty());
    if (is_name) named = mention;
  }
  if (named == nullptr) return {};
  switch (named->kind) {
    case MentionKind::kOrder:
      return day_of_order(ledger, named->value, stands_between(named->last, end, "order_issuing"));
    case MentionKind::kAirframe:
      // Nobody counts to the day from less than a mishap: "after X12", "after X12 had swung".
      return is_to_the_day && (named->first == first || named->last < end)
                 ? day_of_mishap(ledger, named->value)
                 : DaySet{};
    case MentionKind::kUnit:
      // "Before it was sent to the Staff Flight": a day of another's life.
      return named->first == first || (named->first == first + 1 && is_in("determiner", first))
                 ? day_of_unit(*named, first, end, ledger)
                 : DaySet{};
    default: {
      const Person* person = ledger.person(named->value);
      const bool is_death = stands_between(first, end, "dated_death");
      return is_death && person != nullptr && !person->died.is_unknown() ? person->died.days()
                                                                         : DaySet{};
    }
  }
}

}  // namespace tailproof
