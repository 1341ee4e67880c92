// What a date belongs to.
//
// A date goes, in this order, to a publication, a type's first flight, a person's life, an order,
// or an event, when a word for one of these stands in its segment (or, for a date alone between
// commas, in the segment before); what is left in a caption's own clauses dates the picture.
#include <algorithm>

#include "claims/assembler.h"
#include "claims/marking_turns.h"
#include "mentions/event_words.h"

namespace tailproof {

std::string BlockAssembler::owner_of(const Mention& date, std::uint32_t& event) const {
  const std::uint32_t segment = clauses_.segment_of[date.first];
  const std::uint32_t clause = clauses_.clause_of[date.first];
  const ClauseKind kind = clauses_.clauses[clause].kind;
  // A date alone between commas leans on the segment before it.
  const auto alone = [&] {
    for (std::uint32_t t = 0; t < mentions_.tokens.size(); ++t) {
      if (clauses_.segment_of[t] != segment || (t >= date.first && t < date.last)) continue;
      if (mentions_.tokens[t].kind == TokenKind::kMark) continue;
      const Spelling w = office(t);
      if (w != "on" && w != "in" && w != "about" && w != "at" && w != "and") return false;
    }
    return true;
  }();
  const auto in_reach = [&](std::uint32_t token) {
    if (clauses_.segment_of[token] == segment) return true;
    return alone && token < date.first && clauses_.clause_of[token] == clause &&
           clauses_.segment_of[token] + 1 >= segment;
  };
  const auto cue = [&](CueName list) {
    const Mention* nearest = nullptr;
    for (const std::uint32_t c : index_.of(list)) {
      const Mention& candidate = mentions_.items[c];
      if ((!in_reach(candidate.first) && !in_reach(candidate.last - 1)) || bounds_date(candidate))
        continue;
      if (nearest == nullptr || candidate.last <= date.first) nearest = &candidate;
    }
    return nearest;
  };
  if (is_in_bracket_of_order(date, {})) return "order";
  if (picture_told_of(date) != nullptr || is_day_of_taking(date)) return "photograph";
  if (is_span_of_life(date)) return "person";
  if (cue("cue_publication") != nullptr || is_of_recollection(date) || is_date_of_print(date))
    return "publication";
  if (cue("cue_type_event") != nullptr) return "type";
  if (is_year_of_style(date)) return "type";
  bool has_person = false, has_serial = false;
  for (const Mention& other : mentions_.items) {
    if (clauses_.clause_of[other.first] != clause) continue;
    has_person |= other.kind == MentionKind::kPerson || other.kind == MentionKind::kRank ||
                  other.kind == MentionKind::kAward;
    has_serial |= other.kind == MentionKind::kAirframe;
    if (other.kind == MentionKind::kOrder && in_reach(other.first)) return "order";
  }
  if (kind == ClauseKind::kRelative) {
    // "who had the squadron until September": the person stands before the clause.
    const std::uint32_t first = clauses_.clauses[clause].first;
    has_person |= office(first) == "who";
  }
  for (std::uint32_t t = date.first; t > 0 && clauses_.clause_of[t - 1] == clause; --t)
    has_person |= is_in("person_noun", t - 1);  // "the photographer was killed in 1945"
  // "She was promoted in February".
  has_person = has_person || opens_with_pronoun(clause);
  if (const Mention* found = cue("cue_person_event");
      found != nullptr && has_person && !is_of_machines_end(*found))
    return "person";
  // "Casp, in 1944 a Captain, as a young Lieutenant on the wheel of H-14". Not "crashed on 3 May
  // with a Captain", which dates the crash.
  constexpr std::uint32_t kArticle = 2;
  for (const Mention& other : mentions_of(MentionKind::kRank)) {
    if (other.first > date.last && other.first - date.last <= kArticle &&
        clauses_.segment_of[other.first] == segment && is_in("unnamed_article", other.first - 1) &&
        !is_in("object_preposition", date.last))
      return "person";
  }
  // "five days afterwards he was a Lieutenant": a clause about a rank and no machine.
  if (is_caption() && has_rank_told(segment) && !has_serial) return "person";
  if (const Mention* order = cue("cue_order"); order != nullptr && order->last <= date.first &&
                                               date.first - order->last <= 2 &&
                                               follows_marking(*order)) {
    return "order";
  }
  constexpr std::uint32_t kBesideDate = 2;  // "came in on"
  const bool is_of_turn = any_mention(MentionKind::kMarking, [&](const Mention& marking) {
    const Mention* turn = marking.last <= date.first
                              ? turn_behind(marking, cues_of("cue_turn"), cues_of("cue_order"))
                              : nullptr;
    return turn != nullptr && turn->last <= date.first && date.first - turn->last <= kBesideDate;
  });
  const bool is_of_aside = any_cue("cue_turn", [&](const Mention& turn) {
    return turn.last <= date.first && date.first - turn.last <= kBesideDate &&
           is_turn_of_marking(turn) && marking_before_aside(turn) != nullptr;
  });
  if (is_of_turn || is_of_aside) return "order";
  if (const std::vector<std::uint32_t> in_turn = events_in_turn(date); !in_turn.empty()) {
    event = in_turn.front();
    return "event";
  }
  const std::vector<const Mention*> row = dates_in_row(date);
  const Mention* nearest = nullptr;
  std::uint32_t nearest_index = kNone;
  for (const std::uint32_t c : index_.of("cue_event")) {
    const Mention& candidate = mentions_.items[c];
    if (claim_of_mention_[c] == kNone || (candidate.payload & kEventState) != 0) continue;
    if (!in_reach(candidate.first) && clauses_.clause_of[candidate.first] != clause &&
        !is_told_in_which(candidate, date))
      continue;
    // "X12 was lost, so don't paint it with a 1943 date": a denial that has the date alone.
    if (negated_[date.first] != 0 && negated_[candidate.first] == 0 &&
        clauses_.segment_of[candidate.first] != segment)
      continue;
    // "Passed to the School in April 1943 and was broken up after the war".
    if (candidate.first > date.last && is_in("own_time_word", candidate.last) &&
        is_parted(date.last, candidate.first))
      continue;
    // "Hauled out for repainting, October 1943": still to come, or going on, when it was taken.
    const bool is_purpose = is_caption() && candidate.first > 0 &&
                            (candidate.payload & kEventNoun) != 0 &&
                            is_in("purpose_word", candidate.first - 1);
    if (is_purpose || is_only_spoken_of(candidate, date) ||
        (is_made_from(candidate) && !in_reach(candidate.first)))
      continue;
    // "Three weeks before S3007 was shot down, S3014 came in wheels up": counted from the one
    // event, it dates the other, that of its own clause.
    const bool is_behind = candidate.first > date.first;
    const bool leans = is_behind && leans_on_event(date);
    if (leans && clauses_.clause_of[candidate.first] != clause) continue;
    if (is_behind && !leans && clauses_.segment_of[candidate.first] != segment &&
        !is_told_in_which(candidate, date) && !is_fronted_for(date, candidate))
      continue;
    // Another date in between has it already.
    const bool taken = any_mention(MentionKind::kDate, [&](const Mention& other) {
      return &other != &date && other.first >= candidate.last && other.last <= date.first &&
             !is_restated(other) && !is_framing(other) &&
             std::find(row.begin(), row.end(), &other) == row.end();
    });
    if ((taken && pick_before(date) == kNone) || is_dated_behind(candidate, date) ||
        (candidate.first < date.first && date.first - candidate.last > 12))
      continue;
    if (nearest == nullptr || candidate.last <= date.first) {
      nearest = &candidate;
      nearest_index = c;
    }
  }
  if (nearest != nullptr) {
    if (!is_framing(date)) event = claim_of_mention_[nearest_index];
    return "event";
  }
  if (const Mention* told = event_set_off(date); told != nullptr) {
    event = claim_of_mention_[static_cast<std::size_t>(told - mentions_.items.data())];
    return "event";
  }
  // "The former failed to return on 9 October": an event, whosesoever it is.
  const auto events = index_.of("cue_event");
  const bool has_event = std::any_of(events.begin(), events.end(), [&](std::uint32_t c) {
    const Mention& other = mentions_.items[c];
    return claim_of_mention_[c] == kNone && (other.payload & kEventState) == 0 &&
           other.last <= date.first && date.first - other.last <= 6 &&
           clauses_.segment_of[other.first] == segment;
  });
  if (is_caption() && has_event) return "event";
  if (const Mention* order = cue("cue_order"); order != nullptr) {
    // "Captain Stannard issued the straw": what somebody does to something that is no marking.
    const auto told = [&](MentionKind what, bool is_before) {
      return std::any_of(mentions_.items.begin(), mentions_.items.end(), [&](const Mention& other) {
        return other.kind == what && (!is_before || other.last <= order->first) &&
               clauses_.sentence_of[other.first] == clauses_.sentence_of[order->first];
      });
    };
    // Or "Colonel Quist was still signing its orders".
    const std::uint32_t article = order->first == 0 ? 0 : order->first - 1;
    const bool is_object =
        article > 0 && is_in("determiner", article) && is_in("handing_out_verb", article - 1);
    const bool is_deed =
        told(MentionKind::kPerson, true) && !told(MentionKind::kOrder, false) &&
        !told(MentionKind::kMarking, false) &&
        (is_object || (is_in("handing_out_verb", order->first) &&
                       is_in("determiner", order->last) && !is_in("cue_order", order->last + 1)));
    if (is_deed) return is_caption() ? "event" : "person";
    // "the flash introduced on 1 April": close before its date the word is the order's even beside
    // a serial.
    const bool close = order->last <= date.first && date.first - order->last <= 2;
    if (!has_serial || close) return "order";
  }
  if (is_of_order_told(date)) return "order";
  if (!is_caption()) return "event";
  // "A sergeant still. The promotion and the posting came together, on 1 April": of a person whom
  // the sentence does not name.
  if (is_in_later_sentence(date.first) && !has_serial && cue("cue_person_event") != nullptr)
    return "event";
  if (is_of_transfer(date) || is_of_later_story(date) || is_of_card(date)) return "event";
  if (cue("cue_change") != nullptr || is_told_in_pluperfect(date)) return "event";
  if (const Mention* to_come = cue("cue_to_come");
      to_come != nullptr && to_come->last <= date.first)
    return "event";
  if (is_told_aside(date) && tells_of_other_thing(date.first)) return "event";
  // "The paint, renewed in November, begins to go": between commas, behind a thing that is no
  // machine, what was done to it once. "The machine, seen here in November, wears ..." is not.
  const auto is_of_state_told = [&] {
    std::uint32_t first = date.first;
    while (first > 0 && clauses_.segment_of[first - 1] == segment) --first;
    const auto count = static_cast<std::uint32_t>(mentions_.tokens.size());
    while (first < date.first && mentions_.tokens[first].kind == TokenKind::kMark) ++first;
    if (first < 2 || first >= date.first || date.last >= count) return false;
    if (word(first - 1) != "," || word(date.last) != ",") return false;
    if (clauses_.sentence_of[first - 2] != clauses_.sentence_of[date.first]) return false;
    const bool is_participle =
        folded(first).ends_with("ed") || is_in("irregular_participle", first);
    if (!is_participle || is_in("cue_taken", first)) return false;
    const Token& noun = mentions_.tokens[first - 2];
    if (noun.kind != TokenKind::kWord || noun.capital || is_in("machine_noun", first - 2))
      return false;
    const Mention* name = mention_ending_at(first - 1);
    return name == nullptr || name->kind == MentionKind::kMarking ||
           name->kind == MentionKind::kCue;
  };
  if (is_of_state_told()) return "event";
  if (kind == ClauseKind::kBracket && !alone) {
    // "(from September 1942 No. 12 Squadron)" tells of a change, "(taken 4 May 1942)" does not.
    return cue("cue_taken") != nullptr ? "photograph" : "event";
  }
  if (kind == ClauseKind::kRelative || kind == ClauseKind::kSubordinate) {
    const Spelling opener = office(clauses_.clauses[clause].first);
    if (opener != "when" && opener != "while" && opener != "where") return "event";
  }
  for (const CueName list : {CueName("cue_former"), CueName("cue_later")}) {
    const Mention* other = cue(list);
    if (other != nullptr && !is_in_number_aside(*other, segment)) return "event";
  }
  if (is_in_other_time(date.first)) return "event";
  // A picture is of a day, and lasts until none.
  if (date.first > 0 && is_in_list("until_word", date.first - 1)) return "event";
  // "A thing not to be seen again after March 1941": what came to an end.
  const auto is_end_told = [&] {
    if (mentions_.dates[date.payload].bound != DateBound::kAfter || cue("cue_taken") != nullptr)
      return false;
    std::uint32_t first = date.first;
    while (first > 0 && clauses_.segment_of[first - 1] == segment) --first;
    return stands_between(first, date.first, "direct_denial") &&
           stands_between(first, date.first, "again_word");
  };
  if (is_end_told()) return "event";
  // "At Sorvau in the summer of 1941; by the following summer both were with the School".
  const DateRef ref = mentions_.dates[date.payload].first.ref;
  const bool is_of_other_time = ref == DateRef::kNext || ref == DateRef::kPrevious;
  if (is_of_other_time && !focus_.photograph_dates.empty() && cue("cue_taken") == nullptr)
    return "event";
  if (mentions_.dates[date.payload].is_before_happening) return "event";
  // "KB201 in the sea. Sixteen days later KB202 followed it": told, and no date of the picture.
  const bool is_counted = mentions_.dates[date.payload].first.is_offset();
  if (is_counted && !alone && is_in_later_sentence(date.first) && !leans_on_event(date) &&
      cue("cue_taken") == nullptr && tells_in_past(date)) {
    return "event";
  }
  // "Earlier in the year it was NV-H".
  if (is_in("comparative_of_time", date.first) && is_in_later_sentence(date.first)) return "event";
  // "Painted to represent KB201 in 1941": of the machine that it stands for.
  const Mention* represents = cue("cue_represents");
  if (represents != nullptr && represents->last <= date.first) return "event";
  // "KB201, a year before it burned. The fire was on 7 November": of what the sentence names.
  if (is_in_later_sentence(date.first) && cue("cue_taken") == nullptr && is_day_of_noun(date))
    return "event";
  // "At Gale Head, 18 May 1940. By July it had gone": the bound of another state.
  const DateBound bound = mentions_.dates[date.payload].bound;
  const bool is_bound = bound == DateBound::kBy;
  const bool is_dated_before = std::any_of(
      focus_.photograph_dates.begin(), focus_.photograph_dates.end(), [&](std::uint32_t claim) {
        return claim >= first_claim_ &&
               clauses_.sentence_of[token_at(out_[claim].begin)] < clauses_.sentence_of[date.first];
      });
  const bool is_onward = mentions_.dates[date.payload].is_onward && tells_in_past(date);
  // "It was with the School by 1942", "stood at the Point from June": no day of the picture.
  if ((is_bound || bound == DateBound::kSince) && cue("cue_taken") == nullptr &&
      stands_between(clauses_.clauses[clause].first, date.first, "state_verb"))
    return "event";
  if ((is_bound || is_onward) && is_dated_before && cue("cue_taken") == nullptr) return "event";
  return "photograph";
}

// Whether the sentence tells what somebody or something did: a subject and a verb in the past
// tense.
bool BlockAssembler::tells_in_past(const Mention& date) const {
  const std::uint32_t sentence = clauses_.sentence_of[date.first];
  const auto count = static_cast<std::uint32_t>(mentions_.tokens.size());
  // "The bars came three weeks later".
  for (std::uint32_t t = date.first;
       t-- > 0 && clauses_.clause_of[t] == clauses_.clause_of[date.first];) {
    if (is_in("story_verb", t)) return true;
  }
  for (std::uint32_t t = date.last; t < count && clauses_.sentence_of[t] == sentence; ++t) {
    if (is_in("story_verb", t)) return true;
    if (word(t) == ":" || word(t) == ";") return false;
  }
  return false;
}

// "Order 22/43, signed 30 August, effective 15 September": what was done with an order that the
// sentence has named.
bool BlockAssembler::is_of_order_told(const Mention& date) const {
  const std::uint32_t sentence = clauses_.sentence_of[date.first];
  bool has_order = false, is_act = false;
  for (const Mention& other : mentions_.items) {
    if (other.first >= date.first) break;
    has_order = has_order || (other.kind == MentionKind::kOrder &&
                              clauses_.sentence_of[other.first] == sentence);
    // Another subject in between has the date.
    if (other.kind == MentionKind::kAirframe) has_order = false;
  }
  for (std::uint32_t t = date.first; has_order && t-- > 0;) {
    if (clauses_.segment_of[t] != clauses_.segment_of[date.first]) break;
    is_act = is_act || is_in("order_act", t);
  }
  return has_order && is_act;
}

// "They went that August", "It was back before Christmas": what a later sentence tells in the past
// tense of "it", where the picture has a date or this one is no day of its own.
bool BlockAssembler::is_of_later_story(const Mention& date) const {
  const std::uint32_t sentence = clauses_.sentence_of[date.first];
  if (sentence == 0) return false;
  const std::uint32_t first = begin_of_sentence(date.first);
  if (!is_in("story_subject", first) || !is_in("story_verb", first + 1)) return false;
  for (std::uint32_t t = first; t < date.first; ++t) {
    if (is_in("cue_taken", t) || is_in("story_here", t)) return false;
  }
  const DateMention& told = mentions_.dates[date.payload];
  const bool is_bounded = told.bound != DateBound::kNone || told.first.is_relative();
  const bool has_date = std::any_of(
      focus_.photograph_dates.begin(), focus_.photograph_dates.end(),
      [&](std::uint32_t claim) { return out_[claim].begin < date.begin || claim < first_claim_; });
  return is_bounded || has_date;
}

// "To 24 Sqn 14.12.42": the day of a change of hands.
bool BlockAssembler::is_of_transfer(const Mention& date) const {
  constexpr std::uint32_t kReach = 2;
  return any_mention(MentionKind::kUnit, [&](const Mention& unit) {
    if (unit.last > date.first || date.first - unit.last > kReach || unit.first == 0 ||
        clauses_.segment_of[unit.first] != clauses_.segment_of[date.first])
      return false;
    std::uint32_t before = unit.first - 1;
    if (before > 0 && office(before) == "the") --before;
    return is_in("transfer_word", before);
  });
}

// "Who came in March and was lost on 17 September": an event behind a date that has one of its own
// behind it in its segment, be it told in two words ("was shot down and killed in X12 on the
// 17th").
bool BlockAssembler::is_dated_behind(const Mention& event, const Mention& date) const {
  if (event.first < date.last) return false;
  constexpr std::uint32_t kJoint = 2;  // ", and"
  std::uint32_t next_event = kNone, told_to = event.last, clause = clauses_.clause_of[event.first];
  for (const std::uint32_t c : index_.of("cue_event")) {
    const Mention& other = mentions_.items[c];
    if (other.first < told_to || claim_of_mention_[c] == kNone) continue;
    bool is_same = other.first - told_to <= kJoint && other.value == event.value;
    for (std::uint32_t t = told_to; is_same && t < other.first; ++t)
      is_same = word(t) == "," || office(t) == "and";
    if (!is_same) {
      next_event = other.first;
      break;
    }
    told_to = other.last;
    clause = clauses_.clause_of[other.first];
  }
  return any_mention(MentionKind::kDate, [&](const Mention& other) {
    return other.first >= told_to && other.first < next_event &&
           clauses_.clause_of[other.first] == clause;
  });
}

// "the bands prescribed", "the flash introduced": the word is said of a marking.
bool BlockAssembler::follows_marking(const Mention& order) const {
  return any_mention(MentionKind::kMarking, [&](const Mention& other) {
    return other.last <= order.first && order.first - other.last <= 2;
  });
}

// "that one had hit a mast on 18 April": an auxiliary of the list before the date in its segment.
bool BlockAssembler::is_told_in_pluperfect(const Mention& date) const {
  const WordList* auxiliaries = lexicon_.grammars().list("pluperfect_auxiliary");
  if (auxiliaries == nullptr) return false;
  for (std::uint32_t t = date.first; t > 0;) {
    --t;
    if (clauses_.segment_of[t] != clauses_.segment_of[date.first]) break;
    if (!value_in(auxiliaries, t).empty()) return true;
  }
  return shares_having(date);
}

bool BlockAssembler::has_rank_told(std::uint32_t segment) const {
  for (const Mention& mention : mentions_of(MentionKind::kRank)) {
    if (clauses_.segment_of[mention.first] != segment || mention.first == 0) continue;
    const Spelling before = office(mention.first - 1);
    if (before == "a" || before == "made") return true;
  }
  return false;
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
