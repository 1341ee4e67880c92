// What the words around a date make of it: clauses and brackets that hang on it, titles, years that
// are left open.
#include <algorithm>

#include "claims/assembler.h"
#include "claims/identities.h"
#include "mentions/event_words.h"

namespace tailproof {

// "In the next year, when the Flight had become 914 Squadron": a clause that tells of the date
// right before it.
bool BlockAssembler::opens_behind(std::uint32_t clause, const Claim& date) const {
  const std::uint32_t end = token_at(date.end);
  const auto opens = [&](const Clause& opened) {
    return is_in_list("when_word", opened.first) && end <= opened.first && opened.first - end <= 1;
  };
  const Clause& own = clauses_.clauses[clause];
  return opens(own) || (own.kind == ClauseKind::kCoordinate && opens(clauses_.clauses[own.parent]));
}

// "On 1 June 1938, the day he was made a Captain, ...": what stands between commas right behind a
// date and opens with a word for it.
bool BlockAssembler::is_told_of_day(std::uint32_t token, const Claim& date) const {
  const std::uint32_t end = token_at(date.end), first = end + 1;
  if (first >= token || word(end) != "," || office(first) != "the" ||
      !is_in("date_period", first + 1))
    return false;
  return clauses_.segment_of[first] == clauses_.segment_of[token];
}

// "As 14 (top: Nimbal, October 1943)": the bracket that tells of the claim right before it in which
// view it is seen.
bool BlockAssembler::has_view_behind(const Claim& claim, std::uint32_t clause) const {
  const Clause& bracket = clauses_.clauses[clause];
  const std::uint32_t end = token_at(claim.end);
  if (bracket.kind != ClauseKind::kBracket || end > bracket.first || bracket.first - end > 1)
    return false;
  return stands_between(bracket.first, bracket.last, "view_word");
}

// "P302, forced landing; Nessing Water, 19 May": the bare word says what the picture is of,
// whatever mark stands before the place and the day.
bool BlockAssembler::is_titled_by(const Claim& event) const {
  if (!is_caption()) return false;
  for (const std::uint32_t c : index_.of("cue_event")) {
    const Mention& cue = mentions_.items[c];
    if (cue.begin != event.begin || (cue.payload & kEventNoun) == 0) continue;
    const std::uint32_t segment = clauses_.segment_of[cue.first];
    const auto count = static_cast<std::uint32_t>(mentions_.tokens.size());
    for (std::uint32_t t = 0; t < count; ++t) {
      if (clauses_.segment_of[t] != segment || (t >= cue.first && t < cue.last)) continue;
      if (mentions_.tokens[t].kind != TokenKind::kMark && office(t) != "a") return false;
    }
    std::uint32_t before = cue.first;
    while (before > 0 && clauses_.segment_of[before - 1] == segment) --before;
    while (before > 0 && word(before - 1) == ",") --before;
    const bool is_behind_machine =
        std::any_of(groups_.begin(), groups_.end(),
                    [&](const Group& group) { return group.last == before && group.shown; });
    return is_behind_machine && cue.last < count && word(cue.last) == ";";
  }
  return false;
}

// "Got the Cross for his work that day": the day of the deed, and the award came later.
bool BlockAssembler::is_for_deed(const Claim& award) const {
  constexpr std::uint32_t kReach = 2;
  const std::uint32_t end = token_at(award.end);
  const auto count = static_cast<std::uint32_t>(mentions_.tokens.size());
  for (std::uint32_t t = end; t < std::min(count, end + kReach); ++t) {
    if (office(t) == "for") return true;
  }
  return false;
}

// "Taken in May 1942. He took over in December": a day or month without a year, told beside the
// picture, is of the one before it or of the one after it.
DaySet BlockAssembler::with_years_around(const Claim& date, const DaySet& days,
                                         const DaySet& picture) const {
  const auto mention =
      std::find_if(mentions_.dates.begin(), mentions_.dates.end(),
                   [&](const DateMention& one) { return one.begin == date.begin; });
  const bool has_month = mention != mentions_.dates.end() && mention->first.month != 0 &&
                         !mention->first.year && !mention->first.is_relative() &&
                         mention->joint == DateJoint::kNone;
  if (!has_month || days.empty() || days.first() <= kFirstDay || days.last() >= kLastDay ||
      picture.empty())
    return days;
  const auto told =
      std::find_if(mentions_.items.begin(), mentions_.items.end(), [&](const Mention& one) {
        return one.kind == MentionKind::kDate && one.begin == date.begin;
      });
  if (told != mentions_.items.end() && is_told_in_pluperfect(*told)) return days;
  const std::int64_t way = days.last() < picture.first()   ? 12
                           : days.first() > picture.last() ? -12
                                                           : 0;
  if (way == 0) return days;
  const Duration year{way, 0};
  const DaySet other{DayRange{after(days.first(), year), after(days.last(), year)}};
  return days.unite(other);
}

// "(1) KB201, 1938. (2) KB202, 1943", "Top left: KB201, 1938. Bottom: KB202, 1943": which item of a
// numbered list, or which of several views, the token stands in; 0 for none.
std::uint32_t BlockAssembler::item_of(std::uint32_t token) const {
  const auto is_view = [&](std::uint32_t colon) {
    constexpr std::uint32_t kWords = 2;  // "top left"
    for (std::uint32_t t = colon; t-- > 0 && colon - t <= kWords && is_in("view_word", t);) {
      if (mentions_.tokens[t].sentence_start || t == 0) return true;
    }
    return false;
  };
  for (std::uint32_t t = token + 1; t-- > 1;) {
    if (word(t) == ":" && is_caption() && is_view(t)) return t;
    if (t == 1) break;
    const Token& inside = mentions_.tokens[t - 1];
    const bool is_number = inside.end - inside.begin == 1 && word(t) == ")" && word(t - 2) == "(";
    if (is_number) return t;
  }
  return 0;
}

bool BlockAssembler::opens_clause_with(const Claim& date, std::uint32_t token) const {
  const std::uint32_t at = token_at(date.begin);
  if (at > token || clauses_.clause_of[at] != clauses_.clause_of[token] || date.event != kNone)
    return false;
  const std::uint32_t first = begin_of_sentence(at);
  if (clauses_.segment_of[first] != clauses_.segment_of[at]) return false;
  // "Three days before its loss X12 wore the new roundel".
  const Mention* words = mention_over(MentionKind::kDate, at);
  if (words != nullptr && leans_on_event(*words)) return true;
  return std::any_of(
      mentions_.dates.begin(), mentions_.dates.end(), [&](const DateMention& mention) {
        const bool is_period = mention.first.month != 0 || mention.first.season != 0;
        return mention.begin == date.begin && mention.first.ref == DateRef::kSame && is_period;
      });
}

// "In 1933 (5 on the bow) and in 1938 (LV-E)": the bracket right behind a date.
bool BlockAssembler::is_in_bracket_of(std::uint32_t token, const Claim& date) const {
  const Clause& bracket = clauses_.clauses[clauses_.clause_of[token]];
  const std::uint32_t end = token_at(date.end);
  return bracket.kind == ClauseKind::kBracket && end <= bracket.first && bracket.first - end <= 1;
}

// "X12 was flown past on 4 October 1945": whoever flies on a day is there on it.
bool BlockAssembler::is_said_to_fly(const Claim& machine) const {
  if (machine.negated || machine.attributed || machine.hedged || machine.tense != Tense::kThen)
    return false;
  const std::uint32_t end = token_at(machine.end);
  const std::uint32_t aboard = clause_aboard(end);
  const std::uint32_t clause =
      aboard != kNone ? aboard : clauses_.clause_of[token_at(machine.begin)];
  const ClauseKind kind = clauses_.clauses[clause].kind;
  const bool flies = any_cue("cue_flying", [&](const Mention& verb) { return verb.first == end; });
  if (aboard == kNone && (!flies || (kind != ClauseKind::kMain && kind != ClauseKind::kCoordinate)))
    return false;
  // One day or month, which neither bounds nor is counted, and no other: of what commas set apart,
  // else of the clause.
  const Claim* date = nullptr;
  const std::uint32_t segment = clauses_.segment_of[token_at(machine.begin)];
  bool is_near = false;
  for (std::size_t i = first_claim_; i < out_.size(); ++i) {
    const Claim& other = out_[i];
    if (other.kind != ClaimKind::kDate || other.impossible ||
        clauses_.clause_of[token_at(other.begin)] != clause)
      continue;
    const bool is_here = clauses_.segment_of[token_at(other.begin)] == segment;
    if (is_near && !is_here) continue;
    if (date != nullptr && is_near == is_here) return false;
    date = &other;
    is_near = is_here;
  }
  const bool is_of_it = date != nullptr && (date->of == "event" || aboard != kNone);
  if (!is_of_it || date->event != kNone || date->of == "photograph" || date->negated ||
      date->attributed || date->hedged || date->inherited || is_relative_date(*date))
    return false;
  const auto [first, last] = lexicon_.years();
  constexpr Day kPartOfYear = 124;  // "at the end of 1944"
  const DaySet& days = date->date.days();
  if (days.empty() || days.last() - days.first() >= kPartOfYear) return false;
  const std::int64_t year = to_civil(date->date.days().first()).year;
  return year >= first && year <= last;
}

// "In April she was photographed for the newspapers", "six weeks to the day after it X12 towed a
// target": what takes a machine, whose day it is, in running text.
bool BlockAssembler::is_told_of_use(const Claim& date) const {
  if (is_caption() || date.of != "event" || date.event != kNone || date.turn != Turn::kNone ||
      date.impossible || date.inherited || date.hedged || date.negated || date.attributed ||
      ledger_.airframe(date.subject) == nullptr || is_bound(date))
    return false;
  if (const Mention* words = mention_over(MentionKind::kDate, token_at(date.begin));
      words != nullptr && machine_pictured_on(*words) != nullptr)
    return true;
  std::uint32_t clause = clauses_.clause_of[token_at(date.begin)];
  // "X12 led the escort when the ship was brought in on 1 November": of what it did then.
  const Clause& own = clauses_.clauses[clause];
  if (own.kind == ClauseKind::kSubordinate && office(own.first) == "when") clause = own.parent;
  const ClauseKind kind = clauses_.clauses[clause].kind;
  // "X12, which was flying from the Point in May".
  if (kind == ClauseKind::kRelative)
    return is_which(own.first, date.subject) &&
           (is_doing(own.first + 1) || is_somewhere(own.first + 1));
  if (kind != ClauseKind::kMain && kind != ClauseKind::kCoordinate) return false;
  // "There were two boats at the Point, X12 and X14".
  const std::uint32_t opening = clauses_.clauses[clause].first;
  const bool is_existing = any_cue("cue_existing", [&](const Mention& cue) {
    return clauses_.clause_of[cue.first] == clause && cue.first >= opening;
  });
  return std::any_of(mentions_.items.begin(), mentions_.items.end(), [&](const Mention& name) {
    if (clauses_.clause_of[name.first] != clause) return false;
    const bool is_machine = name.kind == MentionKind::kAirframe && name.value == date.subject;
    const bool is_listed =
        name.first > 0 && (word(name.first - 1) == "," || word(name.first - 1) == ":" ||
                           office(name.first - 1) == "and");
    // "The engine of X12 drove a sawmill".
    const bool is_owner = name.first > 0 && office(name.first - 1) == "of";
    if (is_machine)
      return (is_existing && is_listed) || (!is_owner && is_doing(name.last)) ||
             is_done_to(name.first) || is_doer_behind(name.first);
    const bool is_pronoun = name.kind == MentionKind::kCue && name.role == "cue_pronoun" &&
                            !is_in("possessive_word", name.first);
    // "It fizzled out": whatever "it" is.
    if (!is_pronoun || (!is_doing(name.last, false) && !is_somewhere(name.last))) return false;
    return stands_for(name, date.subject);
  });
}

// "Sinking in Mirk Sound, 23 August": where the event of the date befell, right behind its words.
bool BlockAssembler::is_where_it_befell(const Claim& date, std::uint32_t place) const {
  if (date.event == kNone) return false;
  const std::uint32_t event = token_at(out_[date.event].begin);
  return event < place && clauses_.segment_of[event] == clauses_.segment_of[place] &&
         clauses_.clause_of[token_at(date.begin)] == clauses_.clause_of[place];
}

}  // namespace tailproof
