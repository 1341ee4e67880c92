// How far a doubt, a denial or somebody else's statement reaches.
#include "claims/scopes.h"

#include <algorithm>

#include "grammars/fold.h"

namespace tailproof {

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
  // "So any model of X12 with a sprig is wrong": of whatever there may be.
  const auto token_count = static_cast<std::uint32_t>(count);
  for (std::uint32_t t = next_of("any_thing_word", 0, token_count); t < count;
       t = next_of("any_thing_word", t + 1, token_count)) {
    const bool opens = t == 0 || clauses_.segment_of[t - 1] != clauses_.segment_of[t] ||
                       is_in("event_conjunction", t - 1) || is_in("therefore_word", t - 1);
    if (!opens) continue;
    for (std::uint32_t i = t; i < count && clauses_.segment_of[i] == clauses_.segment_of[t]; ++i)
      attributed_[i] = kUnreal;
  }
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
  // "A dachshund whose name nobody wrote down": noted, and nothing said.
  if (is_in("quoting_verb", cue.last - 1) && is_in("noting_word", cue.last)) return;
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
  // "So says the record, and Captain Crewe read it": the author goes on behind the comma.
  std::uint32_t thus = cue.first;
  if (thus > 0 && is_in("thus_word", thus - 1)) --thus;
  const bool is_of_before =
      thus < cue.first && (thus == 0 || begin_of_sentence(thus) == thus ||
                           (mentions_.tokens[thus - 1].kind == TokenKind::kMark &&
                            begin_of_sentence(thus) == thus - 1));
  const std::uint32_t begin = begin_of_letter(cue, end_of_saying());
  for (std::uint32_t t = begin; t < count; ++t) {
    if (clauses_.sentence_of[t] != clauses_.sentence_of[cue.first]) break;
    if (is_bracketed && clauses_.clause_of[t] != clauses_.clause_of[cue.first]) break;
    const Spelling w = office(t);
    if (w == "but" || w == ";" || w == "although" || (is_of_before && w == ",")) break;
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
