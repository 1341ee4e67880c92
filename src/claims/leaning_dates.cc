// Days counted from an event or an order that the same words name: "a week after it was repainted",
// "9 August, the day after the accident".
#include <algorithm>

#include "claims/assembler.h"
#include "grammars/fold.h"
#include "mentions/event_words.h"

namespace tailproof {
namespace {

// Whether periods of this kind can be counted from the date.
bool is_fine_enough(const Edtf& date, const DateUnit& unit) {
  if (date.is_unknown() || date.days().empty()) return false;
  constexpr Day kDaysOfMonth = 31, kDaysOfYear = 366;
  const Day longest = unit.offset_period == DatePeriod::kYear    ? kDaysOfYear
                      : unit.offset_period == DatePeriod::kMonth ? kDaysOfMonth
                                                                 : 1;
  return date.days().last() - date.days().first() < longest;
}

bool is_few_days(const DaySet& days) {
  constexpr Day kFewDays = 3;
  return !days.empty() && !days.is_all() && days.last() - days.first() < kFewDays;
}

Edtf shifted(const DaySet& days, const DateUnit& unit) {
  if (unit.offset_period == DatePeriod::kDay || unit.offset_period == DatePeriod::kWeek) {
    const Day by = unit.offset * (unit.offset_period == DatePeriod::kWeek ? 7 : 1);
    return Edtf::of_days(DaySet{{days.first() + by, days.last() + by}});
  }
  if (unit.offset_period != DatePeriod::kMonth && unit.offset_period != DatePeriod::kYear)
    return {};
  const std::int64_t months = unit.offset * (unit.offset_period == DatePeriod::kYear ? 12 : 1);
  CivilDate date = to_civil(days.first());
  const std::int64_t index = date.year * 12 + static_cast<std::int64_t>(date.month) - 1 + months;
  date.year = index / 12;
  date.month = static_cast<unsigned>(index % 12) + 1;
  const unsigned length = days_in_month(date.year, date.month);
  const unsigned day = std::min(date.day, length);
  if (unit.offset_to_the_day && days.first() == days.last()) {
    return Edtf::of_day(to_day({date.year, date.month, day}));
  }
  std::string text = iso_day(to_day({date.year, date.month, 1})).substr(0, 7);
  if (unit.offset_period == DatePeriod::kYear) text.resize(4);
  auto parsed = Edtf::parse(text);
  return parsed.has_value() ? parsed.value() : Edtf{};
}

// "The day after", "the week before" as one day or week on or back.
DateUnit as_offset(DateUnit unit) {
  const bool is_step = unit.ref == DateRef::kNext || unit.ref == DateRef::kPrevious;
  if (unit.is_offset() || !is_step || unit.ref_period == DatePeriod::kNone) return unit;
  unit.offset = unit.ref == DateRef::kNext ? 1 : -1;
  unit.offset_period = unit.ref_period;
  unit.ref = DateRef::kNone;
  unit.ref_period = DatePeriod::kNone;
  return unit;
}

}  // namespace

// "A week after it was repainted", "the same day as R2027": the words that follow tell what to
// count from.
bool BlockAssembler::leans_on_event(const Mention& date) const {
  if (!mentions_.dates[date.payload].first.is_relative() || date.last == 0 ||
      date.last >= mentions_.tokens.size())
    return false;
  const WordList* leaning = lexicon_.grammars().list("leaning_word");
  if (leaning == nullptr) return false;
  const bool is_same = mentions_.dates[date.payload].first.ref == DateRef::kSame;
  // "The same day as X12", but not "that July as a Major".
  bool says_same = false;
  for (std::uint32_t t = date.first; t < date.last; ++t)
    says_same = says_same || is_in("order_same_word", t);
  // "The following March from a weather flight": the month has a name, and needs no thing.
  const bool is_named = mentions_.dates[date.payload].first.is_named();
  const auto leans = [&](std::uint32_t t) {
    const std::string_view value = value_in(leaning, t);
    // "The same day from the roof": what is the same is not counted from anything.
    return !value.empty() && (value != "same" || (is_same && says_same)) &&
           (value != "unnamed" || (!is_named && !is_same));
  };
  const bool ends_leaning = !mentions_.dates[date.payload].first.is_named() &&
                            leans(date.last - 1) &&
                            mentions_.tokens[date.last].kind != TokenKind::kMark;
  // "Ten days later from a newspaper" counts from nothing behind it; nor does "that night that he".
  const DateMention& mention = mentions_.dates[date.payload];
  if (mention.first.is_offset()) return ends_leaning || mention.leans_on_event;
  return ends_leaning || (leans(date.last) && folded(date.last) != folded(date.first));
}

// "Three weeks before S3007 was shot down": counted from the event told of behind it, whose day the
// text gives or, when it gives none, the ledger.
Edtf BlockAssembler::count_from_event(const Mention& mention, std::uint32_t& base) const {
  const DateUnit unit = as_offset(mentions_.dates[mention.payload].first);
  if (!unit.is_offset()) return {};
  if (const DaySet days = days_before_sentence(mention, dates_); is_few_days(days))
    return shifted(days, unit);
  // "Four weeks to the day after X12, a fighter shot down X14": from X12's own mishap.
  const std::uint32_t named = mention.last + (is_in("leaning_word", mention.last) ? 1U : 0U);
  const Mention* machine_before = mention_over(MentionKind::kAirframe, named);
  if (!is_caption() && unit.offset_to_the_day && machine_before != nullptr &&
      machine_before->first == named && word(machine_before->last) == "," &&
      mention_over(MentionKind::kAirframe, machine_before->last + 1) == nullptr) {
    const DaySet days = days_counted_from(mention, ledger_);
    if (is_few_days(days)) return shifted(days, unit);
  }
  constexpr std::uint32_t kReach = 14;
  for (const std::uint32_t c : index_.of("cue_event")) {
    const Mention& cue = mentions_.items[c];
    if (claim_of_mention_[c] == kNone || cue.first < mention.last) continue;
    if (cue.first - mention.last > kReach ||
        clauses_.sentence_of[cue.first] != clauses_.sentence_of[mention.first]) {
      break;
    }
    const Claim& event = out_[claim_of_mention_[c]];
    base = claim_of_mention_[c];
    DaySet days;
    for (std::size_t i = first_claim_; i < out_.size(); ++i) {
      if (out_[i].kind == ClaimKind::kDate && out_[i].event == claim_of_mention_[c])
        days = out_[i].date.days();
    }
    if (days.empty()) days = days_by_ledger(event, cue, ledger_);
    if (days.empty() || days.is_all() || days.last() - days.first() > 31) return {};
    return shifted(days, unit);
  }
  // "14 May 1935, five weeks after 3 Wing was formed": roughly, where the day itself is told.
  const bool is_told_so = is_caption() && !unit.offset_to_the_day &&
                          day_in_apposition(mention, mention.last) != nullptr;
  if (const DaySet days = days_counted_from(mention, ledger_); is_few_days(days) && !is_told_so)
    return shifted(days, unit);
  // "X12 burnt on 18 July. X14 was lost a fortnight after X12 had swung": its day as told before;
  // weeks that nobody counts to the day.
  if (const Mention* machine = machine_counted_from(mention); machine != nullptr) {
    constexpr Day kRoughly = 3;
    DaySet told;
    for (std::size_t i = first_claim_; i < out_.size(); ++i) {
      const Claim& day = out_[i];
      if (day.kind != ClaimKind::kDate || day.subject != machine->value || day.of != "event" ||
          day.begin > mention.begin || !is_few_days(day.date.days()))
        continue;
      if (told.empty()) told = day.date.days();
    }
    if (!told.empty() && unit.offset_period == DatePeriod::kWeek)
      return Edtf::of_days(shifted(told, unit).days().widened(kRoughly));
    if (!told.empty()) return shifted(told, unit);
  }
  if (is_caption()) return {};
  const Edtf beside = said_beside(mention, unit);
  return beside.is_unknown() ? count_from_named(mention, unit) : beside;
}

// "On 31 August, five weeks after the first assault": what is counted so is the day that its
// sentence has given.
Edtf BlockAssembler::said_beside(const Mention& mention, const DateUnit& unit) const {
  if (mention.first == 0 || (office(mention.first - 1) != "," && office(mention.first - 1) != "("))
    return {};
  const Mention* day = nullptr;
  for (const Mention& other : mentions_.items) {
    if (other.kind == MentionKind::kDate && other.last <= mention.first &&
        clauses_.sentence_of[other.first] == clauses_.sentence_of[mention.first]) {
      day = &other;
    }
  }
  // "Split off on 1 June, and handed over four days before it moved" is another day.
  constexpr std::uint32_t kReach = 8;
  if (day == nullptr || leans_on_event(*day) || mention.first - day->last > kReach) return {};
  const Edtf& date = dates_[day->payload].plain;
  DateUnit none = unit;
  none.offset = 0;
  return is_fine_enough(date, unit) ? shifted(date.days(), none) : Edtf{};
}

// "... and Buller at Corvo on 15 December. Two days after Corvo he was recalled": the date beside
// the last place where the paragraph has the word that is counted from.
Edtf BlockAssembler::count_from_named(const Mention& mention, const DateUnit& unit) const {
  constexpr std::uint32_t kReach = 3;
  constexpr std::size_t kShortest = 4;
  const auto is_named_by = [&](std::uint32_t t) {
    const Token& token = mentions_.tokens[t];
    return token.kind == TokenKind::kWord && token.end - token.begin >= kShortest &&
           office(t).empty();
  };
  const WordList* leaning = lexicon_.grammars().list("leaning_word");
  std::uint32_t name = mention.last;
  if (leaning != nullptr && name < mentions_.tokens.size() && !value_in(leaning, name).empty())
    ++name;
  while (name < mentions_.tokens.size() && name < mention.last + kReach && !is_named_by(name))
    ++name;
  if (name >= mentions_.tokens.size() || name >= mention.last + kReach || !is_named_by(name))
    return {};
  const std::uint32_t sentence = clauses_.sentence_of[mention.first];
  for (std::uint32_t t = mention.first; t-- > 0;) {
    if (clauses_.sentence_of[t] == sentence || folded(t) != folded(name)) continue;
    const Mention* nearest = nullptr;
    std::uint32_t least = 0;
    for (const Mention& other : mentions_of(MentionKind::kDate)) {
      if (leans_on_event(other) || clauses_.sentence_of[other.first] != clauses_.sentence_of[t]) {
        continue;
      }
      const std::uint32_t apart = other.first > t ? other.first - t : t - other.last;
      if (nearest == nullptr || apart < least) {
        nearest = &other;
        least = apart;
      }
    }
    if (nearest == nullptr) continue;
    const Edtf& date = dates_[nearest->payload].date;
    return is_fine_enough(date, unit) ? shifted(date.days(), unit) : Edtf{};
  }
  return {};
}

// The day that stands beside "the day after the accident" and says the same: "9 August 1941, the
// day after ...", "three days after the loss, 14 February".
const Mention* BlockAssembler::day_in_apposition(const Mention& leaning, std::uint32_t end) const {
  const auto is_day = [&](const Mention& other) {
    return other.kind == MentionKind::kDate && &other != &leaning &&
           !mentions_.dates[other.payload].first.is_relative() &&
           clauses_.sentence_of[other.first] == clauses_.sentence_of[leaning.first] &&
           dates_[other.payload].date.precision() == Precision::kDay &&
           dates_[other.payload].date.days().first() == dates_[other.payload].date.days().last();
  };
  const auto only_marks = [&](std::uint32_t from, std::uint32_t to) {
    bool any = false;
    for (std::uint32_t t = from; t < to; ++t) {
      const Spelling w = office(t);
      const bool is_mark =
          w == "," || w == ":" || w == "(" || w == "\xE2\x80\x94" || w == "\xE2\x80\x93";
      any = any || is_mark;
      if (!is_mark && w != "on") return false;
    }
    return any;
  };
  // "Four days before it burnt. AS-305 at Dunmarrow, 5 December": a caption's opening words.
  const std::uint32_t sentence = clauses_.sentence_of[leaning.first];
  const bool opens = leaning.first == 0 || clauses_.sentence_of[leaning.first - 1] != sentence;
  constexpr std::uint32_t kFewWords = 4;
  bool is_fragment = is_caption() && opens;
  for (std::uint32_t t = end; is_fragment && t < mentions_.tokens.size(); ++t) {
    if (clauses_.sentence_of[t] != sentence) break;
    is_fragment = t - end < kFewWords;
  }
  if (is_fragment) {
    const Mention* only = nullptr;
    for (const Mention& other : mentions_of(MentionKind::kDate)) {
      if (clauses_.sentence_of[other.first] != sentence + 1) continue;
      if (only != nullptr) return nullptr;
      only = &other;
    }
    if (only == nullptr || mentions_.dates[only->payload].first.is_relative()) return nullptr;
    const Edtf& date = dates_[only->payload].date;
    const bool is_one = date.precision() == Precision::kDay && !date.days().empty() &&
                        date.days().first() == date.days().last();
    return is_one ? only : nullptr;
  }
  for (const Mention& other : mentions_.items) {
    if (!is_day(other)) continue;
    if (other.last <= leaning.first && only_marks(other.last, leaning.first)) return &other;
    if (other.first >= end && only_marks(end, other.first)) return &other;
  }
  return nullptr;
}

// "9 August 1941, the day after the accident": the picture's day is given, so what is counted is
// the day of the accident.
bool BlockAssembler::add_date_from_apposition(const Mention& leaning) {
  DateUnit unit = as_offset(mentions_.dates[leaning.payload].first);
  if (!unit.is_offset() ||
      (unit.offset_period != DatePeriod::kDay && unit.offset_period != DatePeriod::kWeek))
    return false;
  constexpr std::uint32_t kReach = 8;
  const std::uint32_t sentence = clauses_.sentence_of[leaning.first];
  const Mention* of = nullptr;
  std::uint32_t index = kNone;
  for (std::uint32_t i = 0; i < mentions_.items.size(); ++i) {
    const Mention& other = mentions_.items[i];
    if (other.first < leaning.last || other.first - leaning.last > kReach ||
        clauses_.sentence_of[other.first] != sentence)
      continue;
    const bool is_event =
        other.kind == MentionKind::kCue && other.role == kEventCue && claim_of_mention_[i] != kNone;
    if (!is_event && other.kind != MentionKind::kOrder) continue;
    of = &other;
    index = i;
    break;
  }
  if (of == nullptr) return false;
  const Mention* day = day_in_apposition(leaning, of->last);
  if (day == nullptr) return false;
  unit.offset = -unit.offset;
  Edtf value = shifted(dates_[day->payload].date.days(), unit);
  if (value.is_unknown()) return false;
  // "The evening before she was lost, 19 November": the day behind may as well be the event's.
  if (day->first >= of->last && clauses_.sentence_of[day->first] == sentence)
    value = Edtf::of_days(value.days().unite(dates_[day->payload].date.days()));
  if (of->kind == MentionKind::kOrder) {
    add_date_of(leaning, value, "order", of->value, kNone);
    return true;
  }
  for (const std::uint32_t event : events_of(claim_of_mention_[index])) {
    const std::string subject = out_[event].subject;  // the claims may move
    add_date_of(leaning, value, "event", subject, event);
  }
  return true;
}

// "The print is dated 1951", when the machine was long gone: that is when it was made.
bool BlockAssembler::is_date_of_print(const Mention& date) const {
  const Edtf& told = dates_[date.payload].date;
  // "The photographs of the squadron were printed in 1958".
  std::uint32_t verb = date.first;
  while (verb > 0 && is_in("year_preposition", verb - 1)) --verb;
  if (verb > 1 && is_in("print_verb", verb - 1) &&
      (is_in("event_auxiliary", verb - 2) || is_in("credit_noun", verb - 2)))
    return true;
  if (!is_caption() || told.is_unknown() || told.days().empty()) return false;
  // A few days after the end the date may well be wrong.
  const Day gap = told.precision() == Precision::kDay ? Day{365} : Day{0};
  const std::uint32_t clause = clauses_.clause_of[date.first];
  bool has_print = false;
  for (std::uint32_t t = date.first; t > 0 && clauses_.clause_of[t - 1] == clause; --t)
    has_print = has_print || is_in("print_word", t - 1) ||
                (is_in("credit_noun", t - 1) && is_in("being_word", t));  // "the album is dated"
  return has_print &&
         std::any_of(mentions_.items.begin(), mentions_.items.end(), [&](const Mention& machine) {
           const bool is_serial = machine.kind == MentionKind::kAirframe && machine.role.empty();
           const Airframe* row = is_serial ? ledger_.airframe(machine.value) : nullptr;
           return row != nullptr && !row->struck_off_charge.is_unknown() &&
                  row->struck_off_charge.days().last() + gap < told.days().first();
         });
}

}  // namespace tailproof
