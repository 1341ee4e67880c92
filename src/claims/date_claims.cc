// Claims of dates, each with what it is of and, of an event, the claims that it dates.
#include <algorithm>

#include "claims/assembler.h"
#include "mentions/event_words.h"

namespace tailproof {

// Dates that stand by themselves first; those counted from an event may need its date.
void BlockAssembler::add_dates() {
  for (const bool leaning : {false, true}) {
    for (const Mention& mention : mentions_of(MentionKind::kDate)) {
      if (leans_on_event(mention) == leaning) add_date(mention);
    }
  }
}

void BlockAssembler::add_date(const Mention& mention) {
  const DateMention& date = mentions_.dates[mention.payload];
  const ResolvedDate& resolved = dates_[mention.payload];
  // "Almost three years after the first": the first of something, and no day of a month.
  if (date.joint == DateJoint::kFrom && date.second.day != 0 && date.second.month == 0) return;
  const bool leans = leans_on_event(mention);
  std::uint32_t base = kNone;
  Edtf value = leans ? count_from_event(mention, base) : resolved.date;
  // "The same day", "the morning after" with nothing to count from in the caption itself: no date.
  if (is_caption() && resolved.inherited && !resolved.from_caption && date.first.is_relative() &&
      !leans) {
    return;
  }
  if (leans && add_date_from_apposition(mention)) return;
  if (!leans && is_counted_from_rest(mention)) return;
  if (!leans && is_restated(mention)) return;
  // "A month less a day after": no length by itself.
  if (date.first.is_offset() && mention.first > 0 && is_in("less_word", mention.first - 1)) return;
  if (is_counted_from_picture(mention) || is_counted_from_untold(mention)) return;
  if (value.is_unknown() && !resolved.impossible) return;
  if (is_number_of_something(mention, value) || is_only_likened(mention)) return;
  std::uint32_t event = kNone;
  // "A wall of the fourteenth century and X12": no picture or machine is dated so.
  if (value.precision() == Precision::kCentury) {
    add_date_of(mention, value, "event", "", kNone);
    return;
  }
  std::string owner{owner_of(mention, event)};
  // Counted from what another caption tells, it may be a picture's date, but dates no event.
  // "Its engine was running in KB202 the next spring" is told, and dates no picture.
  const std::uint32_t opening = begin_of_sentence(mention.first);
  const auto is_story = [&] {
    return (stands_between(opening, mention.first, "was_word") ||
            stands_between(opening, mention.first, "story_verb")) &&
           !says_taken(opening, mention.first);
  };
  if (is_caption() && resolved.inherited && date.first.is_relative() && !leans &&
      (owner != "photograph" || is_story()))
    return;
  // Counted from the event itself, it can be no date of it.
  if (event != kNone && event == base) return;
  if (event != kNone && !date.first.year && !leans && is_told_in_pluperfect(mention)) {
    value = told_back(mention, value);
  }
  if (owner == "photograph" && !resolved.impossible) {
    // A second date in another sentence dates the picture only if it narrows the first.
    for (const std::uint32_t earlier : focus_.photograph_dates) {
      const Claim& first = out_[earlier];
      const std::uint32_t at = earlier >= first_claim_ ? token_at(first.begin) : kNone;
      const bool same_clause =
          at != kNone && (clauses_.clause_of[at] == clauses_.clause_of[mention.first] ||
                          item_of(at) != item_of(mention.first));
      if (!same_clause && !first.date.days().intersects(value.days())) owner = "event";
    }
  }
  std::vector<std::uint32_t> events = events_of(event);
  if (owner == "event" && event != kNone) {
    const std::vector<std::uint32_t> in_turn = events_in_turn(mention);
    if (!in_turn.empty() && group_led_by(mention) == nullptr) events = in_turn;
    events = events_of_own_date(std::move(events), mention);
  }
  if (const std::uint32_t pick = pick_before(mention); pick != kNone && events.size() > 1) {
    if (pick == kLastPick) events = {events.back()};
    if (pick < events.size()) events = {events[pick]};
  }
  std::vector<std::string> subjects;
  for (const std::uint32_t of : events) subjects.push_back(out_[of].subject);
  // "KB201 and KB202 were delivered in July and September": one after the other where there are as
  // many days as machines, and whose is whose is open where there are not.
  if (const std::vector<const Mention*> days = dates_in_row(mention);
      events.size() > 1 && days.size() > 1) {
    const auto at =
        static_cast<std::size_t>(std::find(days.begin(), days.end(), &mention) - days.begin());
    if (days.size() == events.size()) {
      events = {events[at]};
      subjects = {out_[events.front()].subject};
    } else {
      events.clear();
    }
  }
  if (events.empty()) subjects = date_subjects(mention, owner);
  for (std::size_t i = 0; i < subjects.size(); ++i) {
    add_date_of(mention, value, owner, subjects[i], events.empty() ? kNone : events[i]);
  }
}

// "Lost at Feyle, the first in April and the second in July", "E/01 to E/12, the last of them on 9
// November": which of the event's machines the date is of, counted from 0.
std::uint32_t BlockAssembler::pick_before(const Mention& date) const {
  constexpr std::uint32_t kReach = 3;
  const WordList* picks = lexicon_.grammars().list("turn_pick");
  if (picks == nullptr) return kNone;
  std::uint32_t end = date.first;
  if (end > 3 && is_in("day_preposition", end - 1) && office(end - 3) == "of" &&
      is_in("picked_of", end - 2))
    end -= 3;
  for (std::uint32_t t = end; t > 1 && end - t < kReach; --t) {
    if (mentions_.tokens[t - 1].kind == TokenKind::kMark) break;
    const std::string_view value = value_in(picks, t - 1);
    if (value.empty() || office(t - 2) != "the") continue;
    if (value == "last") return kLastPick;
    return static_cast<std::uint32_t>(value.front() - '1');
  }
  return kNone;
}

// The dates that stand with this one in a list: "in July and September 1932".
std::vector<const Mention*> BlockAssembler::dates_in_row(const Mention& date) const {
  std::vector<const Mention*> row;
  if (mentions_.dates.size() < 2) return row;
  bool has_date = false, has_and = false;
  for (const Mention& other : mentions_of(MentionKind::kDate)) {
    bool is_joined = !row.empty() && other.first > row.back()->last;
    bool has_joint = false;
    for (std::uint32_t t = row.empty() ? 0 : row.back()->last; is_joined && t < other.first; ++t) {
      const Spelling w = office(t);
      has_joint = has_joint || w == "," || w == "and";
      has_and = has_and || w == "and";
      is_joined = w == "," || w == "and" || w == "in" || w == "on";
    }
    if (!is_joined || !has_joint || mentions_.dates[other.payload].first.is_relative()) {
      if (has_date) break;
      row.clear();
      has_and = false;
    }
    row.push_back(&other);
    has_date = has_date || &other == &date;
  }
  return has_and ? row : std::vector<const Mention*>{};
}

// The claims that one event's words made, one for each machine.
std::vector<std::uint32_t> BlockAssembler::events_of(std::uint32_t event) const {
  std::vector<std::uint32_t> events;
  if (event == kNone) return events;
  for (std::uint32_t i = event; i < out_.size(); ++i) {
    if (out_[i].kind != ClaimKind::kEvent || out_[i].begin != out_[event].begin ||
        out_[i].value != out_[event].value)
      break;
    events.push_back(i);
  }
  return events;
}

void BlockAssembler::add_date_of(const Mention& mention, const Edtf& value,
                                 const std::string& owner, const std::string& subject,
                                 std::uint32_t event) {
  const DateMention& date = mentions_.dates[mention.payload];
  const ResolvedDate& resolved = dates_[mention.payload];
  const bool leans = leans_on_event(mention);
  Claim& claim = add(mention, ClaimKind::kDate);
  claim.date = value;
  // "Until the end of September" bounds a state; the date that the words name is that September's
  // end.
  const bool is_as_resolved = value.text() == resolved.date.text();
  const bool plain =
      owner != "photograph" && !leans && is_as_resolved && !resolved.plain.is_unknown();
  const Hemisphere hemisphere = ledger_.settings().hemisphere;
  claim.value = resolved.impossible ? impossible_text(mention)
                                    : claimed_text(plain ? resolved.plain : value, hemisphere);
  claim.of = owner;
  claim.event = event;
  claim.hedged = claim.hedged || date.hedged;
  claim.inherited = resolved.inherited && !leans;
  claim.weekday = date.weekday;
  claim.impossible = resolved.impossible;
  claim.known = !resolved.impossible;
  if (!is_caption() && !leans && !resolved.impossible) add_ends(claim, date, resolved);
  const DateUnit& named = date.first;
  const bool has_no_year = named.month != 0 && !named.year && !named.is_relative() &&
                           named.year_ref == DateRef::kNone && date.joint == DateJoint::kNone;
  if (has_no_year) claim.said |= kSaidYearUnsaid;
  const bool is_bare_day = named.day != 0 && named.month == 0 && !named.year &&
                           !named.is_relative() && named.month_ref == DateRef::kNone &&
                           date.joint == DateJoint::kNone;
  if (is_bare_day) claim.said |= kSaidMonthUnsaid;
  if (has_no_year && date.weekday < 0 && date.weekday_behind < 0 && !value.is_unknown()) {
    // Lent by a date of the block that is not of that year, or by another block.
    const std::int64_t year = to_civil(value.days().first()).year;
    const bool is_told = std::any_of(mentions_.dates.begin(), mentions_.dates.end(),
                                     [year](const DateMention& other) {
                                       return other.first.year == year || other.second.year == year;
                                     });
    if (!is_told) claim.said |= kSaidYearOpen;
  }
  // "Shot down on Tuesday 24 March, and X14 on Friday 12 September 1941": of a year in which it was
  // one, where another date of the block is of such a year or the next.
  const bool is_weekday_alone = named.month != 0 && named.day != 0 && !named.year &&
                                !named.is_relative() && date.weekday >= 0 &&
                                date.joint == DateJoint::kNone && !value.is_unknown();
  if (is_weekday_alone) {
    const auto fits = [&](std::int64_t year) {
      return named.day <= days_in_month(year, named.month) &&
             static_cast<int>(weekday(to_day({year, named.month, named.day}))) == date.weekday;
    };
    const std::int64_t own = to_civil(value.days().first()).year;
    const bool fits_another =
        !fits(own) && (fits(own - 1) || fits(own + 1)) &&
        std::any_of(mentions_.dates.begin(), mentions_.dates.end(), [&](const DateMention& other) {
          return other.first.year && *other.first.year != own && fits(*other.first.year);
        });
    if (fits_another) claim.weekday = -1;
    if (fits_another) claim.said |= kSaidYearOpen;
  }
  if (resolved.impossible && finder_.explains()) claim.why += "; " + resolved.what;
  claim.subject = subject;
  if (!resolved.impossible && event == kNone && !leans) add_turn(mention, claim);
  if (!resolved.impossible && owner == "photograph" && is_caption() && !claim.attributed &&
      !claim.negated) {
    focus_.photograph_dates.push_back(static_cast<std::uint32_t>(out_.size() - 1));
  }
}

// "2043, 'Monday's Child'": a bare number that as a year would lie far from everything that the
// ledger knows.
bool BlockAssembler::is_number_of_something(const Mention& mention, const Edtf& value) const {
  constexpr std::int64_t kFar = 20;
  const auto [first, last] = lexicon_.years();
  if (first == 0 || value.precision() != Precision::kYear || mention.last - mention.first > 1)
    return false;
  const WordList* prepositions = lexicon_.grammars().list("year_preposition");
  const bool is_led = mention.first > 0 && prepositions != nullptr &&
                      !value_in(prepositions, mention.first - 1).empty();
  if (is_led) return false;
  const std::int64_t year = to_civil(value.days().first()).year;
  return year < first - kFar || year > last + kFar;
}

// "The same machine as Photo 1, two years on": counted from a picture whose day is not at hand.
bool BlockAssembler::is_counted_from_picture(const Mention& date) const {
  constexpr std::uint32_t kReach = 4;
  const bool is_counted = is_caption() && mentions_.dates[date.payload].first.is_offset() &&
                          dates_[date.payload].inherited;
  return is_counted && any_mention(MentionKind::kReference, [&](const Mention& other) {
           return other.last <= date.first && date.first - other.last <= kReach &&
                  other.first > 1 &&
                  clauses_.sentence_of[other.first] == clauses_.sentence_of[date.first];
         });
}

// "The first was lost with the ship, the second ditched four months earlier": counted from an event
// of which the text gives no date.
bool BlockAssembler::is_counted_from_untold(const Mention& date) const {
  if (!is_caption() || !mentions_.dates[date.payload].first.is_offset() || leans_on_event(date))
    return false;
  const std::uint32_t sentence = clauses_.sentence_of[date.first];
  std::uint32_t last_date = 0;
  for (const Mention& other : mentions_.items) {
    if (other.kind == MentionKind::kDate && other.last <= date.first) {
      last_date = std::max(last_date, other.last);
    }
  }
  const auto events = index_.of("cue_event");
  return std::any_of(events.begin(), events.end(), [&](std::uint32_t c) {
    const Mention& cue = mentions_.items[c];
    return claim_of_mention_[c] != kNone && (cue.payload & kEventState) == 0 &&
           cue.first >= last_date && cue.last <= date.first &&
           clauses_.sentence_of[cue.first] == sentence &&
           clauses_.segment_of[cue.first] != clauses_.segment_of[date.first];
  });
}

// "Lost five weeks afterwards, on Tuesday 14 July": the day itself stands behind the count.
bool BlockAssembler::is_restated(const Mention& date) const {
  if (!mentions_.dates[date.payload].first.is_offset()) return false;
  return std::any_of(mentions_.items.begin(), mentions_.items.end(), [&](const Mention& other) {
    constexpr std::uint32_t kReach = 3;  // ", on the"
    if (other.kind != MentionKind::kDate || other.first <= date.last ||
        other.first - date.last > kReach || word(date.last) != ",")
      return false;
    const DateUnit& day = mentions_.dates[other.payload].first;
    if (day.is_relative() || day.day == 0 || day.month == 0) return false;
    for (std::uint32_t t = date.last + 1; t < other.first; ++t) {
      if (!is_in("day_preposition", t) && office(t) != "the") return false;
    }
    return true;
  });
}

}  // namespace tailproof
