// What the words of a block deny: how far a denial reaches, forward and back.
#include <algorithm>

#include "claims/scopes.h"
#include "grammars/fold.h"

namespace tailproof {

// "S3019 and S3020 were never built", "There was never any such aeroplane": denies the serials of
// its sentence, and, where that has none, those of the sentence before. "There is no S3019", "there
// was no Fourth Squadron" deny what follows at once, and nothing else.
void ScopedReading::mark_nonexistent(const Mention& cue) {
  if (cue.value == "next") {
    constexpr std::uint32_t kReach = 3;
    mark_negation(cue);
    std::uint32_t end = cue.last;
    for (const Mention& mention : mentions_.items) {
      if (mention.kind != MentionKind::kAirframe && mention.kind != MentionKind::kUnit) continue;
      if (mention.first < end || mention.first - end > kReach) continue;
      // "There was never an X12 or an X14".
      const bool is_next =
          end == cue.last || (office(end) == "or" && (mention.first == end + 1 ||
                                                      is_in("unnamed_article", mention.first - 1)));
      if (!is_next) continue;
      deny_directly(mention);
      end = mention.last;
    }
    return;
  }
  const std::uint32_t sentence = clauses_.sentence_of[cue.first];
  // "Nor were X14 and X16 ever built", but "two were ever built, X14 and X16".
  if (cue.value == "ever" &&
      !stands_between(begin_of_sentence(cue.first), cue.first, "denying_word"))
    return;
  // "X14 burnt in the works": which those on charge may do as well.
  if (cue.value == "unknown" || cue.value == "ever") {
    if (is_in("until_word", cue.last)) return;  // "not allotted until May"
    for (const Mention& mention : mentions_.items) {
      if (mention.kind == MentionKind::kAirframe && !mention.known && mention.role != "malformed" &&
          clauses_.sentence_of[mention.first] == sentence)
        deny_directly(mention);
    }
    return;
  }
  bool any = false;
  // "He asks of X12 and X14. Nothing became of them. They were never built."
  const std::uint32_t farthest = is_in("machine_pronoun", begin_of_sentence(cue.first)) ? 2 : 1;
  // "X12. Never built; its number went to X14.", but "never built; so were X14 and X16".
  const auto is_in_other_part = [&](const Mention& mention) {
    for (std::uint32_t t = cue.last; t < mention.first; ++t) {
      if (word(t) == ";") return !is_in("likewise_word", t + 1);
    }
    return false;
  };
  for (std::uint32_t back = 0; back <= farthest && !any; ++back) {
    for (const Mention& mention : mentions_of(MentionKind::kAirframe)) {
      const std::uint32_t at = clauses_.sentence_of[mention.first];
      if (at + back != sentence || is_in_other_part(mention)) continue;
      any = true;
      deny_directly(mention);
      // Wherever else the block names it, it is spoken of as a number only.
      for (const Mention& other : mentions_of(MentionKind::kAirframe)) {
        if (other.value != mention.value || other.known) continue;
        deny_directly(other);
      }
    }
  }
}

// "No codes", "without bars": to the end of the segment, or to a word that turns it round. "The
// band is gone": what stands before it in its segment. "Hidden" denies only that it can be seen.
void ScopedReading::mark_negation(const Mention& cue) {
  const auto& segments = clauses_.segment_of;
  const std::uint32_t count = static_cast<std::uint32_t>(segments.size());
  // "The wave has gone grey": another colour, and no denial.
  if (is_in("gone_word", cue.last - 1) && is_in("gone_what", cue.last)) return;
  // "The squadron had lost X12": a loss, and no denial.
  if (is_in("lost_word", cue.last - 1)) {
    std::uint32_t t = cue.last;
    while (t < count && (is_in("determiner", t) || mention_over(MentionKind::kType, t) != nullptr))
      ++t;
    if (mention_over(MentionKind::kAirframe, t) != nullptr) return;
  }
  // "Not before June 1943" bounds a date, and "yet to be painted out" is still there.
  if (bounds_date(cue) || cue.value == "none") return;
  // "No. 3 hangar", "No 417": a number, no denial.
  if (cue.last < count && office(cue.first) == "no" && cue.last == cue.first + 1 &&
      (word(cue.last) == "." || mentions_.tokens[cue.last].kind == TokenKind::kNumber)) {
    return;
  }
  // "No Fourth Squadron existed": the unit itself.
  if (office(cue.first) == "no" && cue.last == cue.first + 1) {
    const Mention* unit = mention_over(MentionKind::kUnit, cue.last);
    if (unit != nullptr && unit->first == cue.last) deny_directly(*unit);
  }
  auto& marks = cue.value.starts_with("hidden") ? hidden_ : negated_;
  if (cue.value == "around") {
    for (std::uint32_t t = 0; t < count; ++t) {
      if (segments[t] == segments[cue.first]) marks[t] = std::max<std::uint8_t>(marks[t], 1);
    }
    return;
  }
  if (cue.value == "before" && takes_object(cue)) {
    for (std::uint32_t t = cue.last; t < count && segments[t] == segments[cue.first]; ++t) {
      if (is_in("event_conjunction", t) || office(t) == "with") break;
      marks[t] = std::max<std::uint8_t>(marks[t], 1);
    }
    return;
  }
  // "Letters off." as the last word of what is said of them.
  if (cue.value == "beside") {
    const Mention* thing =
        cue.first == 0 ? nullptr : mention_over(MentionKind::kMarking, cue.first - 1);
    const bool ends = cue.last >= count || mentions_.tokens[cue.last].kind == TokenKind::kMark;
    if (thing != nullptr && ends) deny_directly(*thing);
    return;
  }
  if (cue.value == "before" || cue.value == "short" || cue.value == "hidden") {
    deny_before(cue, marks);
    return;
  }
  const std::string denier = fold(text_of(cue));
  const WordList* direct = lexicon_.grammars().list("direct_denial");
  const bool is_direct = direct != nullptr && !direct->value_of(denier).empty();
  const WordList* brief = lexicon_.grammars().list("brief_denial");
  // "Instead of going to the Gannets": all that the verb takes.
  const bool is_brief = brief != nullptr && !brief->value_of(denier).empty() &&
                        (cue.last >= count || !folded(cue.last).ends_with("ing"));
  // "Neither X12 nor X14 was held by it".
  const bool are_both_denied =
      is_in("both_denied", cue.first) &&
      std::any_of(mentions_.items.begin(), mentions_.items.end(), [&](const Mention& name) {
        const bool is_named = name.kind == MentionKind::kAirframe ||
                              name.kind == MentionKind::kPerson || name.kind == MentionKind::kUnit;
        return is_named && name.first >= cue.last && name.first - cue.last <= 1;
      });
  constexpr std::uint32_t kDirectTokens = 4, kVerbTokens = 2;
  // "Neither has lost its red hub", "not without its bars": denied twice is said.
  const bool is_said_again = is_in("lacking_word", cue.first) && is_denied_before(cue);
  // "None of the three, curiously, has bars": on past an aside of a word or two.
  const bool is_subject = is_in("denied_subject", cue.first);
  // "And never, so far as is known, the bars": past what commas set apart right behind the denial.
  // Not in "X12 was not, and the bars, still wet, show it".
  const auto past_aside = [&] {
    constexpr std::uint32_t kMostWords = 8;
    const std::uint32_t first = cue.last + 1;
    if (first >= count || word(cue.last) != "," || is_in("event_conjunction", first))
      return cue.last;
    const std::uint32_t end = end_of_aside(first, kMostWords);
    // It names what is told of, and not only what that is held against.
    const bool is_idle =
        end < count && (is_in("aside_of_another", first) || !names_between(first, end - 1));
    return is_idle ? end : cue.last;
  };
  // "Was not taken on charge until 28 March": it was, on that day.
  const bool is_late = is_direct && is_put_off(cue.last);
  const std::uint32_t opens = past_aside();
  std::uint32_t segment = segments[opens == cue.last ? cue.first : opens];
  // "Not X12 at the Point in 1944, but X14": all of it is another's.
  const auto is_given_up = [&] {
    if (!is_direct || begin_of_sentence(cue.first) != cue.first) return false;
    std::uint32_t end = opens;
    while (end < count && segments[end] == segment) ++end;
    while (end < count && word(end) == ",") ++end;
    return end < count && office(end) == "but" && names_between(opens, end);
  };
  const bool is_replaced = is_given_up();
  // "Had not yet gone to the School", "was never at Holmgate with 11 Company": as far as units and
  // places follow the verb one upon another.
  bool is_chain = is_direct;
  const auto leads_to_stay = [&](std::uint32_t preposition) {
    const std::uint32_t next =
        is_in("determiner", preposition + 1) ? preposition + 2 : preposition + 1;
    const Mention* name = next < count ? mention_at(next) : nullptr;
    return is_chain && name != nullptr && name->first == next &&
           (name->kind == MentionKind::kUnit || name->kind == MentionKind::kPlace);
  };
  for (std::uint32_t t = opens; t < count; ++t) {
    const Mention* name = mention_at(t);
    const bool is_stay =
        name != nullptr && (name->kind == MentionKind::kUnit || name->kind == MentionKind::kPlace);
    is_chain =
        is_chain &&
        (is_stay || (name == nullptr && (t - opens < kDirectTokens || is_in("function_word", t) ||
                                         is_in("determiner", t))));
    if (segments[t] != segment) {
      const bool goes_on = is_subject && clauses_.clause_of[t] == clauses_.clause_of[cue.first] &&
                           (segment != segments[cue.first] || is_aside_at(t)) &&
                           segments[t] - segments[cue.first] <= 2;
      if (!goes_on && !is_in_or_list(t)) break;
      segment = segments[t];
    }
    const Spelling w = office(t);
    // "N.109 rather than N.110 wore it in 1942": of the other thing alone.
    if (is_brief && t > opens && (ends_aside(t) || is_in("object_preposition", t))) break;
    if (is_said_again || (is_late && is_happening(t))) {
      marks[t] = 0;
      continue;
    }
    // "No codes, with bars" turns round; "never served with" does not.
    const bool is_of_verb = is_direct && t - cue.last <= kVerbTokens && !names_between(cue.last, t);
    if (w == "but" || (w == "with" && t > cue.last && !is_of_verb && !leads_to_stay(t)) ||
        w == "except" || w == "only" || w == "because" || w == "than" ||
        (t > cue.last && has_own_verb(cue, t)))
      break;
    // "Did not fly until 1949", "the bands do not pass under the letters": what is denied is that
    // it came before, or passes; the day and the letters are there.
    if (is_direct &&
        (w == "until" || (t > cue.last && is_in("passing_preposition", t) && !leads_to_stay(t))))
      break;
    const bool is_close = are_both_denied || is_replaced || (is_chain && is_stay) ||
                          (is_direct && t - opens < kDirectTokens);
    marks[t] = std::max<std::uint8_t>(marks[t], is_close ? kDirectly : 1);
  }
}

// "Did not outlive the war and went to the breakers", "was never repaired and was sold": from the
// conjunction on a statement with a verb of its own; "did not burn and sink" denies both.
bool ScopedReading::has_own_verb(const Mention& cue, std::uint32_t conjunction) const {
  const auto count = static_cast<std::uint32_t>(mentions_.tokens.size());
  if (!is_in("event_conjunction", conjunction) || office(conjunction) == "or") return false;
  std::uint32_t t = conjunction + 1;
  while (t < count && is_in("event_aside", t)) ++t;
  if (t >= count || clauses_.sentence_of[t] != clauses_.sentence_of[cue.first]) return false;
  if (is_in("finite_auxiliary", t) || is_in("gaining_marks", t)) return true;
  const bool is_of_do =
      is_in("do_auxiliary", cue.first) || (cue.first > 0 && is_in("do_auxiliary", cue.first - 1));
  return is_of_do && (is_in("story_verb", t) || folded(t).ends_with("ed"));
}

// Whether what the segment goes on to deny came on the day behind its "until".
bool ScopedReading::is_put_off(std::uint32_t from) const {
  const auto& segments = clauses_.segment_of;
  for (std::uint32_t t = from; t + 1 < segments.size() && segments[t] == segments[from]; ++t) {
    if (!is_in("until_word", t)) continue;
    const Mention* day = mention_over(MentionKind::kDate, t + 1);
    return day != nullptr && mentions_.dates[day->payload].is_put_off_to;
  }
  return false;
}

// Part of an event, or of a unit or rank that one comes to.
bool ScopedReading::is_happening(std::uint32_t token) const {
  return is_in_event(token) || mention_over(MentionKind::kUnit, token) != nullptr ||
         mention_over(MentionKind::kRank, token) != nullptr;
}

// "The gale removed the hangar roof": what the verb takes is gone, and not what did it. Not "the
// band, removed a week later".
bool ScopedReading::takes_object(const Mention& cue) const {
  if (!is_in("removing_verb", cue.last - 1) || !is_in("determiner", cue.last)) return false;
  if (cue.first > 0 && is_in("event_auxiliary", cue.first - 1)) return false;
  return !any_mention(MentionKind::kDate, [&](const Mention& other) {
    return other.last > cue.last && other.first <= cue.last + 1;
  });
}

// Whether a word for "not" stands before the cue in its segment.
bool ScopedReading::is_denied_before(const Mention& cue) const {
  constexpr std::uint32_t kReach = 5;
  for (std::uint32_t t = cue.first; t-- > 0 && cue.first - t <= kReach;) {
    if (clauses_.segment_of[t] != clauses_.segment_of[cue.first]) return false;
    if (office(t) == "not" || is_in("denying_word", t)) return true;
  }
  return false;
}

// "Never knew hoop, open disc or lime": the next of a list of markings whose last stands behind
// "or" or "nor", and so denied like the first.
bool ScopedReading::is_in_or_list(std::uint32_t token) const {
  const auto count = static_cast<std::uint32_t>(mentions_.tokens.size());
  const std::uint32_t first = token < count && word(token) == "," ? token + 1 : token;
  const auto is_marking = [&](std::uint32_t at) {
    return at < count && mention_over(MentionKind::kMarking, at) != nullptr;
  };
  if (first < 2 || word(first - 1) != "," || !is_marking(first - 2)) return false;
  for (std::uint32_t t = first; t < count; ++t) {
    const bool is_joint = office(t) == "or";
    if (is_joint) return is_marking(t + 1) || (is_in("determiner", t + 1) && is_marking(t + 2));
    if (word(t) != "," && !is_marking(t) && !is_in("determiner", t)) return false;
  }
  return false;
}

// "The band (white) not yet applied", "the band, as ordered in May, is absent": back to the comma
// that opens the statement, past a bracket or an insertion between commas right before the denial.
void ScopedReading::deny_before(const Mention& cue, std::vector<std::uint8_t>& marks) const {
  const std::uint32_t sentence = clauses_.sentence_of[cue.first];
  std::uint32_t t = cue.first;
  const auto is_comma = [&](std::uint32_t at) { return word(at) == ","; };
  // "The deck letter, worn at sea, has been painted out".
  std::uint32_t verb = t;
  while (verb > 0 && is_in("denied_auxiliary", verb - 1)) --verb;
  const bool is_behind_aside = (verb < t || is_in("denied_auxiliary", t)) && verb > 0;
  if (is_behind_aside && is_comma(verb - 1)) t = verb;
  if (t > 0 && is_comma(t - 1)) {
    std::uint32_t open = t - 1;
    while (open > 0 && clauses_.sentence_of[open - 1] == sentence && !is_comma(open - 1)) --open;
    const WordList* insertions = lexicon_.grammars().list("insertion_word");
    const bool is_insertion =
        is_behind_aside || (insertions != nullptr && !value_in(insertions, open).empty());
    if (is_insertion && open > 0 && is_comma(open - 1)) {
      // "Its numeral, 52, has made way for letters": a name for the same thing.
      constexpr std::uint32_t kNameTokens = 5;
      for (std::uint32_t name = open; t - open <= kNameTokens && name < t; ++name)
        marks[name] = std::max<std::uint8_t>(marks[name], 1);
      t = open - 1;
    }
  }
  while (t > 0 && clauses_.sentence_of[t - 1] == sentence) {
    --t;
    if (clauses_.clauses[clauses_.clause_of[t]].kind == ClauseKind::kBracket) continue;
    const Spelling w = office(t);
    if (w == "," || w == ";" || w == ":" || w == "with" || w == "but") break;
    if (cue.value == "short" && is_in("short_denial_start", t)) break;
    // "A disc from which the yellow has been washed off": the yellow, and not the disc.
    if (w == "which" && t > 0 && is_in("object_preposition", t - 1) &&
        clauses_.clause_of[t] == clauses_.clause_of[cue.first])
      break;
    // "It burnt and its hulk was removed": what has happened is not denied by what went after.
    if (!is_in_event(t)) marks[t] = std::max<std::uint8_t>(marks[t], 1);
  }
}

}  // namespace tailproof
