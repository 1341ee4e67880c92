// How far a doubt, a denial or somebody else's statement reaches.
#include "claims/scopes.h"

#include <algorithm>

#include "grammars/fold.h"

namespace tailproof {

namespace {

// In `negated_`: the thing itself is denied, and not only something told of it.
constexpr std::uint8_t kDirectly = 2;

}  // namespace

void ScopedReading::deny_directly(const Mention& mention) {
  for (std::uint32_t t = mention.first; t < mention.last; ++t) negated_[t] = kDirectly;
}

void ScopedReading::mark_scopes() {
  const std::size_t count = mentions_.tokens.size();
  hedged_.assign(count, 0);
  attributed_.assign(count, 0);
  negated_.assign(count, 0);
  hidden_.assign(count, 0);
  for (std::uint32_t t = 0; clauses_.has_quoted && t < count; ++t) {
    if (clauses_.quoted[t]) attributed_[t] = 1;
  }
  if (block_.is_quotation) {
    // "The old girl [V/103] went north": what stands in square brackets is the author's.
    int depth = 0;
    for (std::uint32_t t = 0; t < count; ++t) {
      if (word(t) == "[") ++depth;
      if (depth == 0) attributed_[t] = 1;
      if (word(t) == "]" && depth > 0) --depth;
    }
  }
  // "Had the Magpies waited a month, they might have had bars": what did not come about.
  for (std::uint32_t t = 0; has_word_of("had_word") && t < count; ++t) {
    const Token& first = mentions_.tokens[t];
    if (!first.sentence_start || !first.capital || !is_in("had_word", t)) continue;
    for (std::uint32_t i = t; i < count && clauses_.sentence_of[i] == clauses_.sentence_of[t]; ++i)
      attributed_[i] = 1;
  }
  // "There was no 32 Squadron", whose "no" is none of a number.
  for (const Mention& unit : mentions_of(MentionKind::kUnit)) {
    if (unit.first > 0 && office(unit.first) == "no" && !mentions_.tokens[unit.first].capital &&
        is_in("event_auxiliary", unit.first - 1))
      deny_directly(unit);
  }
  mark_rejected_questions();
  // "Star roundel nowhere".
  for (const Mention& marking : mentions_of(MentionKind::kMarking)) {
    if (is_in("nowhere_word", marking.last)) deny_directly(marking);
  }
  // "A book has it at Gale Head; that is wrong", "The book has it at Gale Head. It is wrong": what
  // the author has told of others before he denies it. "It was at Gale Head, according to a label
  // which is worth nothing": the same, of what is given as somebody's words.
  const auto mark_denied_words = [&](const Mention& cue) {
    const std::uint32_t own = clauses_.sentence_of[cue.first];
    std::uint32_t t = cue.first;
    // "Is Captain Crewe according to the label": what stands before it in its segment.
    if (cue.value == "label") {
      while (t > 0 && clauses_.segment_of[t - 1] == clauses_.segment_of[cue.first])
        attributed_[--t] = 1;
      if (t == cue.first) mark_attribution(cue);
      return;
    }
    if (cue.value == "sentence") {
      for (t = 0; t < count; ++t) {
        if (clauses_.sentence_of[t] == own) attributed_[t] = 1;
      }
      return;
    }
    // "His plate 40, "Turnstone KB108", is of course a Dabchick": whose words the marks enclose.
    if (cue.value == "quote") {
      const auto is_mark = [&](std::uint32_t at) {
        return word(at) == "\"" || word(at) == "\xE2\x80\x9C" || word(at) == "\xE2\x80\x9D";
      };
      while (t > 0 && word(t - 1) == ",") --t;
      if (t == 0 || !is_mark(t - 1)) return;
      for (--t; t > 0 && clauses_.sentence_of[t - 1] == own && !is_mark(t - 1); --t)
        attributed_[t - 1] = 1;
      return;
    }
    if (cue.value == "source") {
      const auto others = index_.of("cue_attribution");
      const bool is_told = std::any_of(others.begin(), others.end(), [&](std::uint32_t c) {
        const Mention& other = mentions_.items[c];
        return clauses_.sentence_of[other.first] == own && other.last <= cue.first;
      });
      if (!is_told) return;
    } else {
      // "Dated 1945, which is a year too late".
      while (t > 0 && (office(t - 1) == "which" || is_in("being_word", t - 1))) --t;
      if (t == 0 || mentions_.tokens[t - 1].kind != TokenKind::kMark) return;
      // "X12 as NB-A: wrong, that was X14".
      if (cue.value == "verdict" && word(t - 1) != ":" && word(t - 1) != "\xE2\x80\x93" &&
          word(t - 1) != "\xE2\x80\x94")
        return;
      while (t > 0 && mentions_.tokens[t - 1].kind == TokenKind::kMark) --t;
    }
    if (t == 0) return;
    const std::uint32_t sentence = clauses_.sentence_of[t - 1];
    while (t > 0 && clauses_.sentence_of[t - 1] == sentence && word(t - 1) != ";")
      attributed_[--t] = 1;
  };
  mark_left_out();
  for (const std::uint32_t c : cues_) {
    const Mention& cue = mentions_.items[c];
    switch (cue.cue) {
      case ListName::number_of("cue_hedge"):
        mark_hedge(cue);
        break;
      case ListName::number_of("cue_negation"):
        mark_negation(cue);
        break;
      case ListName::number_of("cue_attribution"):
      case ListName::number_of("cue_unreal"):
        mark_attribution(cue);
        break;
      case ListName::number_of("cue_nonexistent"):
        mark_nonexistent(cue);
        break;
      case ListName::number_of("cue_rejection"):
        mark_denied_words(cue);
        break;
      case ListName::number_of("cue_number_slip"):
        mark_slip(cue);
        break;
      case ListName::number_of("cue_given_elsewhere"):
        mark_given_elsewhere(cue);
        break;
      default:
        break;
    }
  }
}

// "QX101 to QX124, less QX117": a number that no ledger has, left out of a run of serials.
void ScopedReading::mark_left_out() {
  for (const Mention& number : mentions_of(MentionKind::kAirframe)) {
    if (number.known || number.role == "malformed" || number.first < 2) continue;
    const bool is_left_out =
        is_in("count_except", number.first - 1) ||
        (is_in("exception_first", number.first - 2) && is_in("exception_second", number.first - 1));
    if (!is_left_out) continue;
    std::uint32_t t = number.first - 1;
    while (t > 0 &&
           (mentions_.tokens[t - 1].kind == TokenKind::kMark || is_in("exception_first", t - 1)))
      --t;
    const Mention* last = t > 0 ? mention_over(MentionKind::kAirframe, t - 1) : nullptr;
    if (last != nullptr && last != &number) deny_directly(number);
  }
}

// "Of which the last, QX317, is an error of the typist", "a yellow band, which it never wore": the
// number or marking itself is called wrong.
void ScopedReading::mark_slip(const Mention& cue) {
  std::uint32_t t = cue.first;
  // "QX317 is plainly a slip for QX371".
  while (t > 0 && (mentions_.tokens[t - 1].kind == TokenKind::kMark ||
                   is_in("event_auxiliary", t - 1) || folded(t - 1).ends_with("ly")))
    --t;
  const Mention* number = mention_over(MentionKind::kAirframe, t == 0 ? 0 : t - 1);
  if (number == nullptr) number = mention_over(MentionKind::kMarking, t == 0 ? 0 : t - 1);
  if (number == nullptr || number->role == "malformed" ||
      clauses_.sentence_of[number->first] != clauses_.sentence_of[cue.first])
    return;
  deny_directly(*number);
}

// "The serial QX12, given in Brandreth's index": a number that no ledger has is that book's, and
// not the author's, who may be telling what is wrong with it. What "Table 3" gives is his own.
void ScopedReading::mark_given_elsewhere(const Mention& cue) {
  constexpr std::uint32_t kReach = 2;
  std::uint32_t t = cue.first;
  while (t > 0 && mentions_.tokens[t - 1].kind == TokenKind::kMark) --t;
  const Mention* number = t == 0 ? nullptr : mention_over(MentionKind::kAirframe, t - 1);
  if (number == nullptr || (number->known && number->role != "malformed") ||
      clauses_.sentence_of[number->first] != clauses_.sentence_of[cue.first])
    return;
  for (std::uint32_t i = cue.last; i < cue.last + kReach && i < mentions_.tokens.size(); ++i) {
    if (mention_over(MentionKind::kReference, i) != nullptr || is_in("own_book_word", i)) return;
  }
  for (std::uint32_t i = number->first; i < number->last; ++i) attributed_[i] = 1;
}

// "X12? No: the tail says otherwise": what is asked only to be denied.
void ScopedReading::mark_rejected_questions() {
  if (block_.text.find('?') == std::string::npos) return;
  const auto count = static_cast<std::uint32_t>(mentions_.tokens.size());
  for (std::uint32_t t = 0; t < count; ++t) {
    if (word(t) != "?") continue;
    // "Was X12 with them in 1940?": what is asked is not said. "Tamble, 1940?" is a doubt.
    const std::uint32_t first = begin_of_sentence(t);
    if (is_in("question_opener", first)) {
      for (std::uint32_t i = first; i < t; ++i) attributed_[i] = 1;
    }
    if (t + 1 == count || !is_in("rejecting_answer", t + 1)) continue;
    const bool is_answer = t + 2 >= count || mentions_.tokens[t + 2].kind == TokenKind::kMark ||
                           is_in("rejecting_time", t + 2);  // "Not for a week or two yet."
    if (!is_answer) continue;
    for (std::uint32_t i = t; i-- > 0 && clauses_.sentence_of[i] == clauses_.sentence_of[t];) {
      attributed_[i] = 1;
      negated_[i] = kDirectly;
    }
  }
}

// A doubt reaches to the end of its segment; a parenthetical one (", it is thought,") over the next
// segment.
void ScopedReading::mark_hedge(const Mention& cue) {
  // "The red disc may be seen under it": that it can be seen is no doubt.
  if (is_in("paint_seen", cue.last)) return;
  const auto& segments = clauses_.segment_of;
  const std::uint32_t count = static_cast<std::uint32_t>(segments.size());
  std::uint32_t t = cue.last;
  bool any = false;
  for (; t < count && segments[t] == segments[cue.first]; ++t) {
    hedged_[t] = 1;
    any |= mentions_.tokens[t].kind != TokenKind::kMark;
  }
  if (any || t >= count || clauses_.sentence_of[t] != clauses_.sentence_of[cue.first]) return;
  const std::uint32_t next = segments[t];
  for (; t < count && segments[t] == next; ++t) hedged_[t] = 1;
}

// "S3019 and S3020 were never built", "There was never any such aeroplane": denies the serials of
// its sentence, and, where that has none, those of the sentence before. "There is no S3019", "there
// was no Fourth Squadron" deny what follows at once, and nothing else.
void ScopedReading::mark_nonexistent(const Mention& cue) {
  if (cue.value == "next") {
    constexpr std::uint32_t kReach = 3;
    mark_negation(cue);
    for (const Mention& mention : mentions_.items) {
      if (mention.kind != MentionKind::kAirframe && mention.kind != MentionKind::kUnit) continue;
      if (mention.first < cue.last || mention.first - cue.last > kReach) continue;
      deny_directly(mention);
    }
    return;
  }
  const std::uint32_t sentence = clauses_.sentence_of[cue.first];
  // "X14 burnt in the works": which those on charge may do as well.
  if (cue.value == "unknown") {
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
  for (std::uint32_t back = 0; back <= farthest && !any; ++back) {
    for (const Mention& mention : mentions_of(MentionKind::kAirframe)) {
      const std::uint32_t at = clauses_.sentence_of[mention.first];
      if (at + back != sentence) continue;
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
      if (!goes_on) break;
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

// "What the leaflet says": a column of what others have, which the author puts right in the next.
void ScopedReading::attribute_columns(const std::vector<std::string>& headings) {
  const auto is_of_others = [&](const std::string& heading) {
    const WordList* words = lexicon_.grammars().list("heading_of_others");
    std::size_t from = 0;
    const std::string folded_heading = fold(heading);
    while (words != nullptr && from <= folded_heading.size()) {
      const std::size_t to = std::min(folded_heading.find(' ', from), folded_heading.size());
      if (!words->value_of(folded_heading.substr(from, to - from)).empty()) return true;
      from = to + 1;
    }
    return false;
  };
  for (const Cell& cell : block_.cells) {
    if (cell.column >= headings.size() || !is_of_others(headings[cell.column])) continue;
    for (std::uint32_t t = 0; t < mentions_.tokens.size(); ++t) {
      const Token& token = mentions_.tokens[t];
      if (token.begin >= cell.begin && token.end <= cell.end) attributed_[t] = 1;
    }
  }
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
    if (is_insertion && open > 0 && is_comma(open - 1)) t = open - 1;
  }
  while (t > 0 && clauses_.sentence_of[t - 1] == sentence) {
    --t;
    if (clauses_.clauses[clauses_.clause_of[t]].kind == ClauseKind::kBracket) continue;
    const Spelling w = office(t);
    if (w == "," || w == ";" || w == ":" || w == "with" || w == "but") break;
    if (cue.value == "short" && is_in("short_denial_start", t)) break;
    // "It burnt and its hulk was removed": what has happened is not denied by what went after.
    if (!is_in_event(t)) marks[t] = std::max<std::uint8_t>(marks[t], 1);
  }
}

// "X12, X14 and, so the minute claims, X15", "It burnt in May, so the log says.": what stands
// behind the aside to the next comma, or, where that ends the statement, all that stands before it.
void ScopedReading::attribute_aside(const Mention& cue) {
  const auto count = static_cast<std::uint32_t>(mentions_.tokens.size());
  const std::uint32_t sentence = clauses_.sentence_of[cue.first];
  const auto is_end = [&](std::uint32_t t) {
    return t >= count || clauses_.sentence_of[t] != sentence || word(t) == ";" || word(t) == ".";
  };
  std::uint32_t t = cue.last;
  if (!is_end(t) && word(t) == ",") {
    for (++t; !is_end(t) && word(t) != ","; ++t) attributed_[t] = 1;
    return;
  }
  for (t = cue.first; t-- > 0 && !is_end(t);) attributed_[t] = 1;
}

// What others say: from the word that says so to the end of the sentence, or to a turn ("but",
// ";").
void ScopedReading::mark_attribution(const Mention& cue) {
  // "The plate says, and it is quite right, that", "as Pryce rightly says": the author's own too.
  constexpr std::uint32_t kBeside = 1;
  for (const std::uint32_t c : index_.of("cue_endorsed")) {
    const Mention& other = mentions_.items[c];
    const bool is_beside =
        (other.first >= cue.last && other.first - cue.last <= kBeside) || other.last == cue.first;
    if (cue.value == "reported" && is_beside &&
        clauses_.sentence_of[other.first] == clauses_.sentence_of[cue.first])
      return;
  }
  const bool is_bracketed =
      clauses_.clauses[clauses_.clause_of[cue.first]].kind == ClauseKind::kBracket;
  const std::uint32_t count = static_cast<std::uint32_t>(mentions_.tokens.size());
  if (cue.value == "aside") return attribute_aside(cue);
  // "The School had it from 21 April": had the machine.
  const Mention* behind = mention_over(MentionKind::kDate, cue.last);
  if (behind != nullptr && office(cue.last - 1) == "from") return;
  // "Major Crewe wrote in the autumn of 1937 that": when he wrote is told by the author, and what
  // he wrote begins behind the date.
  const auto end_of_saying = [&] {
    constexpr std::uint32_t kNear = 1, kPastName = 6;  // "in", "to his sister in"
    if (!is_in("quoting_verb", cue.last - 1)) return cue.last;
    const std::uint32_t reach = office(cue.last) == "to" ? kPastName : kNear;
    for (const Mention& date : mentions_.items) {
      if (date.first < cue.last || date.kind == MentionKind::kCue ||
          date.kind == MentionKind::kPerson || date.kind == MentionKind::kRank)
        continue;
      if (date.kind != MentionKind::kDate || date.first - cue.last > reach) break;
      // "One author gives July 1943, when": what he gives.
      const bool is_object = date.first == cue.last && date.last < count && word(date.last) == ",";
      const bool is_near =
          !is_object && (date.first == cue.last || is_in("object_preposition", date.first - 1));
      const bool goes_on = date.last < count && is_in("saying_opener", date.last);
      return is_near && goes_on ? date.last : cue.last;
    }
    return cue.last;
  };
  const std::uint32_t begin = begin_of_letter(cue, end_of_saying());
  for (std::uint32_t t = begin; t < count; ++t) {
    if (clauses_.sentence_of[t] != clauses_.sentence_of[cue.first]) break;
    if (is_bracketed && clauses_.clause_of[t] != clauses_.clause_of[cue.first]) break;
    const Spelling w = office(t);
    if (w == "but" || w == ";" || w == "although") break;
    if (cue.role == "cue_unreal" && clauses_.segment_of[t] != clauses_.segment_of[cue.first]) break;
    // "Long taken for KB201, this is KB202", "Mistaken for KB201 by many, KB202 is seen": what is
    // given up ends where the author goes on.
    // Not where "asserted, last in an article of 1952, that" goes on with what was asserted.
    const bool opens = begin_of_sentence(cue.first) == cue.first;
    if (cue.value == "rejected" && w == "," && t + 1 < count && !is_in("saying_opener", t + 1) &&
        (is_in("author_resumes", t + 1) || (opens && names_between(cue.last, t))))
      break;
    attributed_[t] |= cue.role == "cue_unreal" ? kUnreal : kSaidByOthers;
  }
}

}  // namespace tailproof
