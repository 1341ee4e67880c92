// Times that a clause takes from what was told before it: "on 22 February, by which time 3 Wing had
// ...", "I had X12 in May 1944. We of 3 Wing were living at the Point."
#include "claims/block_reading.h"

namespace tailproof {

// "By which time", "at which date": where the clause of `token` opens with such words, their first
// token; kNone where it does not.
std::uint32_t BlockReading::time_taken_up(std::uint32_t token) const {
  constexpr std::uint32_t kReach = 8;
  const std::uint32_t sentence = clauses_.sentence_of[token];
  // "At which time 3 Wing was still three weeks away".
  for (std::uint32_t t = token; t < token + kReach && t < mentions_.tokens.size(); ++t) {
    if (clauses_.sentence_of[t] == sentence && is_in("time_to_go", t)) return kNone;
  }
  for (std::uint32_t t = token; t-- > 1 && token - t <= kReach;) {
    if (clauses_.sentence_of[t] != sentence || word(t) == ";") return kNone;
    const bool is_opener =
        office(t) == "which" && is_in("time_taken_up", t + 1) && is_in("day_preposition", t - 1);
    if (is_opener) return t - 1;
  }
  return kNone;
}

// "Were living at the Point", "was still there": what went on while something else was told.
bool BlockReading::is_background(std::uint32_t token) const {
  constexpr std::uint32_t kAdverbs = 2;
  const std::uint32_t clause = clauses_.clause_of[token];
  const Clause& own = clauses_.clauses[clause];
  if (own.kind == ClauseKind::kRelative || own.kind == ClauseKind::kBracket) return false;
  for (std::uint32_t t = own.first; t < own.last; ++t) {
    if (clauses_.clause_of[t] != clause || !is_in("was_word", t)) continue;
    if (t > 0 && is_in("had_word", t - 1)) continue;
    for (std::uint32_t v = t + 1; v < own.last && v <= t + 1 + kAdverbs; ++v) {
      if (is_in("still_word", v)) return true;
      const Spelling verb = folded(v);
      constexpr std::size_t kShortest = 6;  // no "king", no "being"
      if (verb.size() >= kShortest && verb.ends_with("ing") && mention_at(v) == nullptr)
        return true;
      if (!is_in("state_adverb", v)) break;
    }
  }
  return false;
}

// "914 Squadron's when it was young".
bool BlockReading::is_of_youth(const Mention& unit) const {
  constexpr std::uint32_t kReach = 4;
  if (is_unit_of_before(unit)) return true;
  return any_cue("cue_youth", [&](const Mention& cue) {
    return cue.first >= unit.last && cue.first - unit.last <= kReach &&
           clauses_.sentence_of[cue.first] == clauses_.sentence_of[unit.first];
  });
}

// "The Section's old launch", "out of the paint shed of the Second", "until then a Lieutenant of
// the First": of an earlier day than what is told.
bool BlockReading::is_unit_of_before(const Mention& unit) const {
  constexpr std::uint32_t kReach = 4;
  if (is_possessive(unit) && is_in("bygone_adjective", unit.last)) return true;
  std::uint32_t t = unit.first;
  if (t > 0 && office(t - 1) == "the") --t;
  const bool owns_works = is_possessive(unit) && is_in("works_noun", unit.last);
  if (!owns_works && (t < 3 || !is_in("with_preposition", t - 1))) return false;
  if (!owns_works && is_kept_code(t - 1)) return true;
  if (owns_works || is_in("works_noun", t - 2)) {
    for (std::uint32_t back = t; back > 1 && t - back <= kReach; --back) {
      if (office(back - 1) == "of" && is_in("out_word", back - 2)) return true;
    }
    return false;
  }
  const Mention* rank = mention_ending_at(t - 1);
  if (rank == nullptr || rank->kind != MentionKind::kRank) return false;
  std::uint32_t lead = rank->first;
  if (lead > 0 && is_in("unnamed_article", lead - 1)) --lead;
  if (lead > 1 && is_in("then_word", lead - 1) && is_in("until_word", lead - 2)) return true;
  return lead > 0 && is_in("hitherto_word", lead - 1);
}

// "A Tormi A of January 1936": when it was made, whatever is told of next.
bool BlockReading::is_year_of_make(const Mention& date) const {
  const Mention* type = date.first > 1 ? mention_ending_at(date.first - 1) : nullptr;
  return type != nullptr && type->kind == MentionKind::kType && type->first > 0 &&
         is_in("unnamed_article", type->first - 1);
}

// "For the Point", "for the new Fifth": where one goes to, and not what is left for it.
bool BlockReading::is_whither(const Mention& goal) const {
  std::uint32_t t = goal.first;
  if (t > 0 && is_in("unit_age", t - 1)) --t;
  if (t > 0 && office(t - 1) == "the") --t;
  // "Left to form the Fifth".
  if (t > 1 && is_in("purpose_verb", t - 1) && office(t - 2) == "to") return true;
  return t > 0 && office(t - 1) == "for";
}

// "It had gone down to the Point in October": a journey, and no fall.
bool BlockReading::is_journey(const Mention& event) const {
  if (!is_in("journey_end", event.last - 1)) return false;
  std::uint32_t t = event.last;
  if (office(t) != "to") return false;
  if (office(++t) == "the") ++t;
  const Mention* goal = mention_at(t);
  return goal != nullptr && goal->first == t &&
         (goal->kind == MentionKind::kPlace || goal->kind == MentionKind::kUnit);
}

// "The Second vanished: from 1 November it was the Seventh": the unit's new name, and no machine's
// unit.
bool BlockReading::is_what_unit_became(const Mention& unit) const {
  std::uint32_t t = unit.first;
  if (t == 0 || office(t - 1) != "the") return false;
  --t;
  const bool is_said = t > 1 && is_in("been_so", t - 1) && is_in("machine_pronoun", t - 2);
  const auto count = static_cast<std::uint32_t>(mentions_.tokens.size());
  const bool ends = unit.last >= count || mentions_.tokens[unit.last].kind == TokenKind::kMark;
  return is_said && ends && !is_possessive(unit);
}

// "Still in the sooty finish of the Night Flight", from its article.
bool BlockReading::is_of_scheme(std::uint32_t unit) const {
  return unit > 1 && office(unit - 1) == "of" && is_in("scheme_noun", unit - 2) &&
         !is_in("unit_tie", unit - 2);
}

// "The newly formed Squadron".
bool BlockReading::is_only_adjective(const Mention& turn) const {
  const Mention* unit = mention_over(MentionKind::kUnit, turn.last);
  return turn.first > 0 && is_in("just_word", turn.first - 1) && unit != nullptr &&
         unit->first == turn.last;
}

// "The Works shut its doors at the Point on 26 September and opened them at Feyle on the first".
bool BlockReading::is_opened_elsewhere(const Mention& turn) const {
  if (turn.value != "disbanded") return false;
  const auto count = static_cast<std::uint32_t>(mentions_.tokens.size());
  for (std::uint32_t t = turn.last; t + 1 < count; ++t) {
    if (clauses_.sentence_of[t] != clauses_.sentence_of[turn.first]) return false;
    if (is_in("event_conjunction", t) && is_in("opening_again", t + 1)) return true;
  }
  return false;
}

// "Was delivered on 3 June 1940 and flown by the Flight and the Column": with another verb, on days
// that are not told.
bool BlockReading::is_past_passive(std::uint32_t token, std::uint32_t date) const {
  for (std::uint32_t t = date; t + 2 < token; ++t) {
    if (clauses_.sentence_of[t] != clauses_.sentence_of[token]) return false;
    if (is_in("passive_joint", t) && is_in("passing_passive", t + 1) && is_in("by_word", t + 2))
      return true;
  }
  return false;
}

// "It spent three years with the First, passed to the Third on 12 April": the day is that of the
// passing.
bool BlockReading::is_before_next_verb(std::uint32_t token, std::uint32_t date) const {
  for (std::uint32_t t = token; t + 1 < date; ++t) {
    const bool is_joint = word(t) == "," || is_in("passive_joint", t);
    // "It was with the First, and it returned in December".
    const std::uint32_t verb = is_in("machine_pronoun", t + 1) ? t + 2 : t + 1;
    if (is_joint && verb < date && (is_in("onward_verb", verb) || is_in("handing_verb", verb)))
      return clauses_.sentence_of[t] == clauses_.sentence_of[date];
  }
  return false;
}

// "Commanded the Flight for years and was given the Medal in May": the day of what befell him next.
bool BlockReading::is_before_next_honour(std::uint32_t token, std::uint32_t date) const {
  for (std::uint32_t t = token; t + 2 < date; ++t) {
    if (clauses_.sentence_of[t] != clauses_.sentence_of[date]) return false;
    if (is_in("passive_joint", t) && is_in("was_word", t + 1) && is_in("befalling_verb", t + 2))
      return true;
  }
  return false;
}

// "It kept the 38 of the Fifth": another unit's, whose machine it no longer was.
bool BlockReading::is_kept_code(std::uint32_t end) const {
  const Mention* code = mention_ending_at(end);
  if (code == nullptr || code->role != "code" || code->first < 2 ||
      !is_in("determiner", code->first - 1))
    return false;
  std::uint32_t t = code->first - 1;
  if (is_in("bygone_adjective", t - 1)) --t;
  return t > 0 && is_in("kept_over", t - 1);
}

// "First with the Second and, from 1 September 1944, with the Fifth": the token of a day that
// commas set apart before the unit; kNone for none.
std::uint32_t BlockReading::day_set_before(std::uint32_t unit) const {
  std::uint32_t t = unit;
  if (t > 0 && office(t - 1) == "the") --t;
  if (t < 4 || !is_in("with_preposition", t - 1) || word(t - 2) != ",") return kNone;
  const Mention* day = mention_ending_at(t - 2);
  if (day == nullptr || day->kind != MentionKind::kDate || day->first < 2) return kNone;
  const bool is_since = mentions_.dates[day->payload].bound == DateBound::kSince;
  return is_since && word(day->first - 2) == "," ? day->first : kNone;
}

// "Major Fontell commanded it until the end of October": a title need not last as long as the post.
// "A Captain, and from New Year's Day 1944 Major": the day is that of the next rank.
bool BlockReading::is_of_other_rank(std::uint32_t first, std::uint32_t last,
                                    std::uint32_t date) const {
  const Mention* day = mention_over(MentionKind::kDate, date);
  if (day == nullptr || day->first < last) return false;
  const Mention* person = mention_over(MentionKind::kPerson, last);
  const DateBound bound = mentions_.dates[day->payload].bound;
  const bool is_title = person != nullptr && person->first == last;
  if (is_title && (bound == DateBound::kBy || bound == DateBound::kBefore)) return true;
  // "Lieutenant Indart, who was flying it, had been with them since March 1941".
  if (is_title && bound == DateBound::kSince &&
      stands_between(person->last, day->first, "pluperfect_auxiliary"))
    return true;
  std::uint32_t next = day->last;
  if (office(next) == "as") ++next;
  if (is_in("unnamed_article", next)) ++next;
  const Mention* rank = mention_over(MentionKind::kRank, next);
  return rank != nullptr && rank->first == next && rank->first > first;
}

// "The code KU-C proclaimed the Sixteenth", "where the Second had begun to rust": of the unit by
// itself, and not of the machine of the picture.
bool BlockReading::is_unit_apart(const Mention& unit) const {
  std::uint32_t t = unit.first;
  if (t > 0 && office(t - 1) == "the") --t;
  const Mention* code =
      t > 1 && mention_at(t - 1) == nullptr && !is_in("object_preposition", t - 1) &&
              mentions_.tokens[t - 1].kind == TokenKind::kWord && office(t - 1).empty()
          ? mention_ending_at(t - 1)
          : nullptr;
  if (code != nullptr && code->kind == MentionKind::kAirframe && code->role == "code") return true;
  const Clause& own = clauses_.clauses[clauses_.clause_of[unit.first]];
  return office(own.first) == "where" && is_in("had_word", unit.last);
}

// "To 2 Wing on 3 September and so to 12 Wing": some time after.
bool BlockReading::is_reached_later(std::uint32_t unit) const {
  std::uint32_t t = unit;
  if (t > 0 && office(t - 1) == "the") --t;
  return t > 1 && office(t - 1) == "to" && is_in("thence_word", t - 2);
}

// "Andrews, by then of the Sixteenth, found it waiting", "flown by Andrews, then a Captain": of the
// same time.
bool BlockReading::is_then_of(std::uint32_t unit) const {
  std::uint32_t t = unit;
  if (t > 0 && office(t - 1) == "the") --t;
  const bool is_state =
      t > 2 && (is_in("with_preposition", t - 1) || is_in("unnamed_article", t - 1));
  if (!is_state || !is_in("still_word", t - 2)) return false;
  t -= 2;
  if (is_in("by_word", t - 1)) --t;
  const Mention* name = t > 0 && word(t - 1) == "," ? mention_ending_at(t - 1) : nullptr;
  return name != nullptr && name->kind == MentionKind::kPerson;
}

// "It spent eleven years with the Flight and its successor, the Squadron", "the former X12, of the
// First": of a time that is not the picture's.
bool BlockReading::is_of_span(const Mention& unit) const {
  std::uint32_t t = unit.first;
  if (t > 0 && office(t - 1) == "the") --t;
  if (t > 1 && word(t - 1) == "," && is_in("heir_word", t - 2)) return true;
  if (t < 3 || !is_in("with_preposition", t - 1)) return false;
  if (is_in("span_unit", t - 2)) {
    // "After eleven years with it" and "for the last two weeks with it" are told elsewhere.
    constexpr std::uint32_t kReach = 4;
    for (std::uint32_t back = t - 2; back > 0 && t - back <= kReach; --back) {
      if (is_in("span_verb", back - 1)) return true;
    }
    return false;
  }
  std::uint32_t end = t - 1;
  if (word(end - 1) == ",") --end;
  const Mention* serial = mention_ending_at(end);
  return serial != nullptr && serial->role == "previous_serial" && serial->first > 0 &&
         is_in("earlier_adjective", serial->first - 1);
}

// "Which was then held by the Column": of the day that the sentence has told.
// "X12 was photographed in May; it was then still with the Column": so too.
bool BlockReading::is_told_of_then(std::uint32_t token) const {
  const Clause& own = clauses_.clauses[clauses_.clause_of[token]];
  const bool is_main = own.kind == ClauseKind::kMain || own.kind == ClauseKind::kCoordinate;
  std::uint32_t it = own.first;
  if (it < token && word(it) == ";") ++it;
  if (is_main && is_in("machine_pronoun", it) && is_in("was_word", it + 1)) {
    const bool is_then =
        is_in("still_word", it + 2) && (is_in("still_word", it + 3) || is_in("then_state", it + 3));
    return is_then && it + 3 <= token;
  }
  if (own.kind != ClauseKind::kRelative || !is_in("relative_word", own.first)) return false;
  // "Who then commanded the Flight", "who commanded the Flight at that time".
  if (is_in("then_word", own.first + 1) && own.first + 1 < token) return true;
  const bool is_of_that_time = any_cue("cue_that_time", [&](const Mention& cue) {
    return clauses_.clause_of[cue.first] == clauses_.clause_of[token];
  });
  if (is_of_that_time) return true;
  return is_in("event_auxiliary", own.first + 1) && is_in("then_word", own.first + 2) &&
         own.first + 2 < token;
}

// "The Company was formed on 1 June and received its first, X12, one week later": the day counted
// right behind is nearer than that of the clause.
bool BlockReading::is_counted_beside(std::uint32_t token, std::uint32_t date) const {
  if (date > token) return false;
  constexpr std::uint32_t kReach = 4;
  return any_mention(MentionKind::kDate, [&](const Mention& other) {
    return other.first > token && other.first - token <= kReach &&
           mentions_.dates[other.payload].first.is_offset() &&
           mentions_.dates[other.payload].joint == DateJoint::kNone &&
           clauses_.clause_of[other.first] == clauses_.clause_of[token];
  });
}

// "It was repaired at Halvery and passed in April to the Third": of the passing.
bool BlockReading::is_past_next_verb(const Mention& event, const Mention& date) const {
  for (std::uint32_t t = event.last; t + 1 < date.first; ++t) {
    if (clauses_.sentence_of[t] != clauses_.sentence_of[date.first]) return false;
    if (office(t) == "and" && is_in("hand_over_verb", t + 1)) return true;
    // "Went for repair and was back on 21 January".
    if (office(t) == "and" && is_in("was_word", t + 1) && is_in("back_word", t + 2)) return true;
    // "Was passed to the School and was still there two years later".
    if (office(t) == "and" && is_in("was_word", t + 1) && is_in("lasting_word", t + 2)) return true;
  }
  return false;
}

// "They were off again", "the bars were gone": right before the day on which that came about.
bool BlockReading::is_gone_by(std::uint32_t end) const {
  std::uint32_t t = end;
  while (t > 0 && is_in("gone_again", t - 1)) --t;
  if (t == end || t < 2 || !is_in("was_word", t - 1)) return false;
  const Mention* marking = mention_ending_at(t - 1);
  const bool is_marking = marking != nullptr && marking->kind == MentionKind::kMarking;
  return is_in_later_sentence(end) && (is_marking || is_in("plural_pronoun", t - 2));
}

// "With the dark undersides applied on the 1st", "was given a white heart on 7 May": the day of the
// painting, and not of the picture.
bool BlockReading::is_of_painting(const Mention& date) const {
  constexpr std::uint32_t kReach = 6;
  const WordList* put_on = lexicon_.grammars().list("paint_put_on");
  std::uint32_t t = date.first;
  while (t > 0 && is_in("day_preposition", t - 1)) --t;
  if (is_gone_by(t)) return true;
  const Mention* last = t > 0 ? mention_ending_at(t) : nullptr;
  const bool ends_in_marking = last != nullptr && last->kind == MentionKind::kMarking;
  const std::uint32_t verb = ends_in_marking ? last->first : t;
  for (std::uint32_t at = verb; at-- > 0 && verb - at <= kReach;) {
    if (clauses_.sentence_of[at] != clauses_.sentence_of[date.first]) return false;
    if (mentions_.tokens[at].kind == TokenKind::kMark) return false;
    if (ends_in_marking && is_in("given_word", at)) return at > 0 && is_in("was_word", at - 1);
    if (ends_in_marking || put_on == nullptr || value_in(put_on, at) != "led") continue;
    // Right behind the marking, or "that was painted".
    std::uint32_t noun = at;
    while (noun > 0 && (is_in("event_auxiliary", noun - 1) || is_in("relative_word", noun - 1)))
      --noun;
    const Mention* marking = noun > 0 ? mention_ending_at(noun) : nullptr;
    return marking != nullptr && marking->kind == MentionKind::kMarking && at + 1 == t;
  }
  return false;
}

// "Had been with the First (numeral 5)": as long ago as what stands before the bracket.
bool BlockReading::is_in_past_bracket(const Mention& mention) const {
  const std::uint32_t clause = clauses_.clause_of[mention.first];
  if (!is_caption() || clauses_.clauses[clause].kind != ClauseKind::kBracket) return false;
  std::uint32_t t = mention.first;
  while (t > 0 && word(t) != "(") --t;
  const Mention* before = t > 0 ? mention_ending_at(t) : nullptr;
  return before != nullptr && is_past(*before);
}

// "Vane was there when Reeve died; he ...": nobody who is told to have died.
const Mention* BlockReading::living_of(const Mention* last) const {
  if (last == nullptr) return last;
  const std::uint32_t clause = clauses_.clause_of[last->first];
  std::uint32_t end = last->last;
  while (end < mentions_.tokens.size() && clauses_.clause_of[end] == clause) ++end;
  if (!stands_between(last->last, end, "dated_death")) return last;
  const Mention* other = nullptr;
  for (const Mention& person : mentions_of(MentionKind::kPerson)) {
    const bool is_before = person.last <= last->first && person.value != last->value &&
                           clauses_.sentence_of[person.first] == clauses_.sentence_of[last->first];
    if (is_before) other = &person;
  }
  return other != nullptr ? other : last;
}

// "Who had joined in June 1936; ...", and in a caption "with the Second since June 1936, it ..." or
// "the boat, delivered on 3 June 1936, has ...": where the aside with the date ends, or 0.
// "Corrue, a captain since June 1939, stayed".
bool BlockReading::is_between_commas(const Mention& date) const {
  constexpr std::uint32_t kReach = 6;
  if (date.last >= mentions_.tokens.size() || word(date.last) != ",") return false;
  for (std::uint32_t t = date.first; t-- > 0 && date.first - t <= kReach;) {
    if (word(t) == ",") return true;
    if (mentions_.tokens[t].sentence_start || tells_verb(t)) return false;
  }
  return false;
}

std::uint32_t BlockReading::end_of_told_aside(const Mention& date) const {
  constexpr std::uint32_t kReach = 10;
  const DateMention& told = mentions_.dates[date.payload];
  bool is_aside = told.bound == DateBound::kSince && (is_caption() || is_between_commas(date));
  for (std::uint32_t t = date.first; !is_aside && told.is_told_back && t-- > 0;) {
    const bool stops = mentions_.tokens[t + 1].sentence_start || word(t) == "," || word(t) == ";";
    if (stops || date.first - t > kReach) break;
    is_aside = is_in("relative_word", t);
  }
  is_aside = is_aside || (is_caption() && (is_in_participle_aside(date) || told.is_reason));
  if (!is_aside) return 0;
  std::uint32_t t = date.last;
  while (t < mentions_.tokens.size() && mentions_.tokens[t].kind != TokenKind::kMark) ++t;
  return t < mentions_.tokens.size() ? mentions_.tokens[t].begin : 0;
}

// "No bars on the wings, since they were ordered only from the 12th": why it is so, and not when.
bool BlockReading::is_in_reason(const Mention& date) const {
  constexpr std::uint32_t kShortest = 3, kLongest = 14;
  for (std::uint32_t t = date.first; t > 1 && date.first - t <= kLongest; --t) {
    if (mentions_.tokens[t].sentence_start) return false;
    if (mentions_.tokens[t - 1].kind != TokenKind::kMark) continue;
    return word(t - 1) == "," && is_in("reason_opener", t) && date.first - t >= kShortest;
  }
  return false;
}

// The auxiliary of the pluperfect before a date, no comma between; kNone for none.
std::uint32_t BlockReading::had_before(const Mention& date) const {
  constexpr std::uint32_t kReach = 10;
  for (std::uint32_t t = date.first; t-- > 0 && date.first - t <= kReach;) {
    if (mentions_.tokens[t + 1].sentence_start || word(t) == "," || word(t) == ";") return kNone;
    // "The Flight had it from 1 April": its verb.
    if (is_in("pluperfect_auxiliary", t)) return is_in("object_pronoun", t + 1) ? kNone : t;
    // "Had come to them in May and was struck off in July".
    if (t > 0 && office(t - 1) == "and" && is_in("was_word", t)) return kNone;
  }
  return kNone;
}

// "Had been painted in June", and not "had the Cross in June", "had it on loan from June".
bool BlockReading::had_done(const Mention& date) const {
  const std::uint32_t had = had_before(date);
  return had != kNone && !is_in("determiner", had + 1) && !is_in("object_pronoun", had + 1) &&
         !is_in("number", had + 1) && office(had + 1) != "to";
}

// "The boat, delivered on 3 June 1936, has the edged disc": told behind the aside with the date.
bool BlockReading::is_behind_aside(std::uint32_t date, std::uint32_t token) const {
  const Mention* words = mention_over(MentionKind::kDate, date);
  if (words == nullptr) return false;
  const std::uint32_t end = mentions_.dates[words->payload].aside_end;
  return end != 0 && mentions_.tokens[token].begin >= end &&
         clauses_.segment_of[token] != clauses_.segment_of[date];
}

// "The boat, delivered on 3 June 1936, has": between commas, right behind a participle.
bool BlockReading::is_in_participle_aside(const Mention& date) const {
  constexpr std::uint32_t kReach = 8;
  if (word(date.last) != ",") return false;
  for (std::uint32_t t = date.first; t > 1 && date.first - t < kReach; --t) {
    if (mentions_.tokens[t].sentence_start) return false;
    if (mentions_.tokens[t - 1].kind != TokenKind::kMark) continue;
    return word(t - 1) == "," && is_in_event(t);
  }
  return false;
}

}  // namespace tailproof
