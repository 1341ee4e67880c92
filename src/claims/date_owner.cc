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

// A date of a block, and the words in its reach.
class BlockAssembler::DateOwner {
 public:
  DateOwner(const BlockAssembler& block, const Mention& date);

  // What it belongs to, as Claim::of; with an event, which one, by the number of its claim.
  [[nodiscard]] std::string_view find(std::uint32_t& event) const;

 private:
  using Owner = std::optional<std::string_view>;
  static constexpr std::uint32_t kBeside = 2;  // "came in on"

  [[nodiscard]] bool stands_alone() const;
  [[nodiscard]] bool is_in_reach(std::uint32_t token) const;
  [[nodiscard]] const Mention* cue(CueName list) const;
  [[nodiscard]] const DateMention& told() const { return a_.mentions_.dates[date_.payload]; }
  [[nodiscard]] bool is_taken() const { return cue("cue_taken") != nullptr; }
  [[nodiscard]] bool has_own_serial() const;
  [[nodiscard]] std::uint32_t first_of_segment() const;

  [[nodiscard]] Owner by_set_phrase() const;
  [[nodiscard]] bool is_of_drawing() const;
  [[nodiscard]] bool is_said_again() const;
  [[nodiscard]] bool has_order_named() const;
  [[nodiscard]] bool has_person() const;
  [[nodiscard]] bool is_of_person() const;
  [[nodiscard]] bool is_of_turn() const;
  [[nodiscard]] bool can_have_happened_on(const Mention& candidate) const;
  [[nodiscard]] bool has_another_date(const Mention& candidate) const;
  [[nodiscard]] std::uint32_t nearest_event() const;
  [[nodiscard]] bool is_of_unowned_event() const;
  [[nodiscard]] Owner by_order_word() const;
  [[nodiscard]] bool is_deed(const Mention& order) const;
  [[nodiscard]] bool is_of_other_story() const;
  [[nodiscard]] bool is_of_state_told() const;
  [[nodiscard]] Owner by_clause() const;
  [[nodiscard]] bool is_of_other_time() const;
  [[nodiscard]] bool is_end_told() const;
  [[nodiscard]] bool is_bound_of_other_state() const;
  [[nodiscard]] bool tells_in_past() const;
  [[nodiscard]] bool is_of_order_told() const;
  [[nodiscard]] bool is_of_later_story() const;
  [[nodiscard]] bool is_of_transfer() const;
  [[nodiscard]] bool is_dated_behind(const Mention& event) const;
  [[nodiscard]] bool follows_marking(const Mention& order) const;
  [[nodiscard]] bool has_rank_told() const;

  const BlockAssembler& a_;
  const Mention& date_;
  const std::uint32_t segment_, clause_;
  const ClauseKind kind_;
  const bool alone_;   // between commas: it leans on the segment before it
  const bool serial_;  // a serial stands in its clause
};

BlockAssembler::DateOwner::DateOwner(const BlockAssembler& block, const Mention& date)
    : a_(block),
      date_(date),
      segment_(block.clauses_.segment_of[date.first]),
      clause_(block.clauses_.clause_of[date.first]),
      kind_(block.clauses_.clauses[clause_].kind),
      alone_(stands_alone()),
      serial_(has_own_serial()) {}

std::string_view BlockAssembler::DateOwner::find(std::uint32_t& event) const {
  const Mention* here = a_.date_said_here();
  if (here == &date_) return "photograph";
  if (const Owner owner = by_set_phrase()) return *owner;
  if (has_order_named()) return "order";
  if (is_of_person()) return "person";
  if (const Mention* order = cue("cue_order"); order != nullptr && order->last <= date_.first &&
                                               date_.first - order->last <= kBeside &&
                                               follows_marking(*order))
    return "order";
  if (is_of_turn()) return "order";
  if (const std::vector<std::uint32_t> in_turn = a_.events_in_turn(date_); !in_turn.empty()) {
    event = in_turn.front();
    return "event";
  }
  if (const std::uint32_t nearest = nearest_event(); nearest != kNone) {
    if (!a_.is_framing(date_)) event = a_.claim_of_mention_[nearest];
    return "event";
  }
  if (const Mention* set_off = a_.event_set_off(date_); set_off != nullptr) {
    event = a_.claim_of_mention_[static_cast<std::size_t>(set_off - a_.mentions_.items.data())];
    return "event";
  }
  if (is_of_unowned_event()) return "event";
  if (const Owner owner = by_order_word()) return *owner;
  if (is_of_order_told()) return "order";
  if (a_.is_caption() && a_.is_of_painting(date_)) return "event";
  if (!a_.is_caption() || is_of_other_story()) return "event";
  const Owner owner = by_clause();
  if (owner && *owner != "photograph") return *owner;
  return here != nullptr || (!owner && is_of_other_time()) ? "event" : "photograph";
}

bool BlockAssembler::DateOwner::stands_alone() const {
  for (std::uint32_t t = 0; t < a_.mentions_.tokens.size(); ++t) {
    if (a_.clauses_.segment_of[t] != segment_ || (t >= date_.first && t < date_.last)) continue;
    if (a_.mentions_.tokens[t].kind == TokenKind::kMark) continue;
    const Spelling w = a_.office(t);
    if (w != "on" && w != "in" && w != "about" && w != "at" && w != "and") return false;
  }
  return true;
}

bool BlockAssembler::DateOwner::is_in_reach(std::uint32_t token) const {
  if (a_.clauses_.segment_of[token] == segment_) return true;
  return alone_ && token < date_.first && a_.clauses_.clause_of[token] == clause_ &&
         a_.clauses_.segment_of[token] + 1 >= segment_;
}

// The cue of a list in reach that stands nearest before the date, or else behind it.
const Mention* BlockAssembler::DateOwner::cue(CueName list) const {
  const Mention* nearest = nullptr;
  for (const std::uint32_t c : a_.index_.of(list)) {
    const Mention& candidate = a_.mentions_.items[c];
    if ((!is_in_reach(candidate.first) && !is_in_reach(candidate.last - 1)) ||
        a_.bounds_date(candidate))
      continue;
    if (nearest == nullptr || candidate.last <= date_.first) nearest = &candidate;
  }
  return nearest;
}

bool BlockAssembler::DateOwner::has_own_serial() const {
  return a_.any_mention(MentionKind::kAirframe, [&](const Mention& other) {
    return a_.clauses_.clause_of[other.first] == clause_;
  });
}

std::uint32_t BlockAssembler::DateOwner::first_of_segment() const {
  std::uint32_t first = date_.first;
  while (first > 0 && a_.clauses_.segment_of[first - 1] == segment_) --first;
  return first;
}

// What the words say outright, wherever else the date might go.
auto BlockAssembler::DateOwner::by_set_phrase() const -> Owner {
  if (a_.is_in_bracket_of_order(date_, {})) return "order";
  if (a_.picture_told_of(date_) != nullptr || a_.is_day_of_taking(date_)) return "photograph";
  if (a_.is_span_of_life(date_)) return "person";
  if (a_.is_of_happening(date_, a_.dates_)) return "event";
  if (is_said_again()) return "photograph";
  // "Photographed for the newspapers": for print, and not yet in it.
  const Mention* print = cue("cue_publication");
  const bool is_for_print =
      print != nullptr && print->first > 1 &&
      (a_.office(print->first - 1) == "for" || a_.office(print->first - 2) == "for");
  if ((print != nullptr && !is_for_print) || a_.is_of_recollection(date_) ||
      a_.is_date_of_print(date_) || is_of_drawing())
    return "publication";
  if (cue("cue_type_event") != nullptr || a_.is_year_of_style(date_)) return "type";
  return std::nullopt;
}

// "A month to the day after Fig. 19, which is to say 20 July 1940": the picture's own.
bool BlockAssembler::DateOwner::is_said_again() const {
  if (!a_.is_caption() || date_.first == 0) return false;
  std::uint32_t lead = date_.first - 1;
  if (lead > 0 && a_.is_in("day_preposition", lead)) --lead;
  return a_.is_in("saying_again", lead) &&
         a_.any_mention(MentionKind::kOrderInTime, [&](const Mention& order) {
           return order.last <= date_.first &&
                  a_.clauses_.sentence_of[order.first] == a_.clauses_.sentence_of[date_.first];
         });
}

// "Drawing [M. Vik, 1951] of X12": who made it, and when.
bool BlockAssembler::DateOwner::is_of_drawing() const {
  if (kind_ != ClauseKind::kBracket) return false;
  std::uint32_t t = a_.clauses_.clauses[clause_].first;
  while (t > 0 && a_.clauses_.clause_of[t - 1] == clause_) --t;
  while (t > 0 && a_.mentions_.tokens[t].kind == TokenKind::kMark) --t;
  return a_.is_in("drawing_noun", t);
}

bool BlockAssembler::DateOwner::has_order_named() const {
  return a_.any_mention(MentionKind::kOrder, [&](const Mention& other) {
    return a_.clauses_.clause_of[other.first] == clause_ && is_in_reach(other.first);
  });
}

bool BlockAssembler::DateOwner::has_person() const {
  const bool is_named =
      std::any_of(a_.mentions_.items.begin(), a_.mentions_.items.end(), [&](const Mention& other) {
        return a_.clauses_.clause_of[other.first] == clause_ &&
               (other.kind == MentionKind::kPerson || other.kind == MentionKind::kRank ||
                other.kind == MentionKind::kAward);
      });
  if (is_named) return true;
  // "who had the squadron until September": the person stands before the clause.
  if (kind_ == ClauseKind::kRelative && a_.office(a_.clauses_.clauses[clause_].first) == "who")
    return true;
  // "the photographer was killed in 1945"
  for (std::uint32_t t = date_.first; t > 0 && a_.clauses_.clause_of[t - 1] == clause_; --t) {
    if (a_.is_in("person_noun", t - 1)) return true;
  }
  return a_.opens_with_pronoun(clause_);  // "She was promoted in February"
}

bool BlockAssembler::DateOwner::is_of_person() const {
  if (const Mention* found = cue("cue_person_event");
      found != nullptr && (has_person() || (found->value == "rank" && !serial_)) &&
      !a_.is_of_machines_end(*found))
    return true;
  // "Casp, in 1944 a Captain, as a young Lieutenant on the wheel of H-14". Not "crashed on 3 May
  // with a Captain", which dates the crash.
  constexpr std::uint32_t kArticle = 2;
  const bool is_day_of_rank = a_.any_mention(MentionKind::kRank, [&](const Mention& other) {
    return other.first > date_.last && other.first - date_.last <= kArticle &&
           a_.clauses_.segment_of[other.first] == segment_ &&
           a_.is_in("unnamed_article", other.first - 1) &&
           !a_.is_in("object_preposition", date_.last);
  });
  // "five days afterwards he was a Lieutenant": a clause about a rank and no machine.
  return is_day_of_rank || (a_.is_caption() && has_rank_told() && !serial_);
}

// "The red centre, which came in on 3 May": the day on which a marking came or went.
bool BlockAssembler::DateOwner::is_of_turn() const {
  const auto is_beside = [&](const Mention& turn) {
    return turn.last <= date_.first && date_.first - turn.last <= kBeside;
  };
  const bool is_of_marking = a_.any_mention(MentionKind::kMarking, [&](const Mention& marking) {
    const Mention* turn = marking.last <= date_.first ? turn_behind(marking, a_.cues_of("cue_turn"),
                                                                    a_.cues_of("cue_order"))
                                                      : nullptr;
    return turn != nullptr && is_beside(*turn);
  });
  return is_of_marking || a_.any_cue("cue_turn", [&](const Mention& turn) {
    return is_beside(turn) && is_turn_of_marking(turn) && a_.marking_before_aside(turn) != nullptr;
  });
}

// Whether words and clauses let the date be that of the event.
bool BlockAssembler::DateOwner::can_have_happened_on(const Mention& candidate) const {
  const bool is_in_clause = a_.clauses_.clause_of[candidate.first] == clause_;
  const bool is_in_segment = a_.clauses_.segment_of[candidate.first] == segment_;
  if (!is_in_reach(candidate.first) && !is_in_clause && !a_.is_told_in_which(candidate, date_))
    return false;
  // "X12 was lost, so don't paint it with a 1943 date": a denial that has the date alone.
  if (a_.negated_[date_.first] != 0 && a_.negated_[candidate.first] == 0 && !is_in_segment)
    return false;
  // "What the crash had left of X12, Kazelin, 19 July": before the picture.
  if (a_.is_caption() && alone_ && candidate.last < date_.first &&
      (candidate.payload & kEventNoun) != 0 && a_.is_in("had_word", candidate.last))
    return false;
  // "Passed to the School in April 1943 and was broken up after the war".
  if (candidate.first > date_.last && a_.is_in("own_time_word", candidate.last) &&
      a_.is_parted(date_.last, candidate.first))
    return false;
  // "It went to the Yard and came back in August": of the second verb.
  for (std::uint32_t t = candidate.last; t < date_.first; ++t) {
    const bool is_joint = a_.is_in("event_conjunction", t) && a_.is_in("returning_verb", t + 1) &&
                          a_.clauses_.sentence_of[t] == a_.clauses_.sentence_of[candidate.first];
    if (is_joint) return false;
  }
  // "X12, the last Dunlin to be delivered, at Wenlow in the spring"; but ", on 3 March".
  constexpr std::uint32_t kJoint = 3;
  if (a_.is_caption() && candidate.first > 0 && candidate.last <= date_.first &&
      a_.office(candidate.first - 1) == "to" && !is_in_segment &&
      date_.first - candidate.last > kJoint)
    return false;
  // "Hauled out for repainting, October 1943": still to come, or going on, when it was taken.
  const bool is_purpose = a_.is_caption() && candidate.first > 0 &&
                          (candidate.payload & kEventNoun) != 0 &&
                          a_.is_in("purpose_word", candidate.first - 1);
  if (is_purpose || a_.is_only_spoken_of(candidate, date_) ||
      (a_.is_made_from(candidate) && !is_in_reach(candidate.first)))
    return false;
  if (candidate.first <= date_.first) return true;
  // "Three weeks before S3007 was shot down, S3014 came in wheels up": counted from the one
  // event, it dates the other, that of its own clause.
  if (a_.leans_on_event(date_)) return is_in_clause;
  return is_in_segment || a_.is_told_in_which(candidate, date_) ||
         a_.is_fronted_for(date_, candidate);
}

// Whether the event has a date nearer to it than this one.
bool BlockAssembler::DateOwner::has_another_date(const Mention& candidate) const {
  constexpr std::uint32_t kReach = 12;
  const std::vector<const Mention*> row = a_.dates_in_row(date_);
  const bool is_taken = a_.any_mention(MentionKind::kDate, [&](const Mention& other) {
    return &other != &date_ && other.first >= candidate.last && other.last <= date_.first &&
           !a_.is_restated(other) && !a_.is_framing(other) &&
           std::find(row.begin(), row.end(), &other) == row.end();
  });
  return (is_taken && a_.pick_before(date_) == kNone) || is_dated_behind(candidate) ||
         (candidate.first < date_.first && date_.first - candidate.last > kReach);
}

// The cue of the event that happened on the date: the last before it, or else the first behind.
std::uint32_t BlockAssembler::DateOwner::nearest_event() const {
  std::uint32_t nearest = kNone;
  for (const std::uint32_t c : a_.index_.of("cue_event")) {
    const Mention& candidate = a_.mentions_.items[c];
    if (a_.claim_of_mention_[c] == kNone || (candidate.payload & kEventState) != 0) continue;
    if (!can_have_happened_on(candidate) || has_another_date(candidate)) continue;
    if (a_.is_past_next_verb(candidate, date_)) continue;
    if (nearest == kNone || candidate.last <= date_.first) nearest = c;
  }
  return nearest;
}

// "The former failed to return on 9 October": an event, whosesoever it is.
bool BlockAssembler::DateOwner::is_of_unowned_event() const {
  constexpr std::uint32_t kReach = 6;
  if (!a_.is_caption()) return false;
  const auto events = a_.index_.of("cue_event");
  return std::any_of(events.begin(), events.end(), [&](std::uint32_t c) {
    const Mention& other = a_.mentions_.items[c];
    return a_.claim_of_mention_[c] == kNone && (other.payload & kEventState) == 0 &&
           other.last <= date_.first && date_.first - other.last <= kReach &&
           a_.clauses_.segment_of[other.first] == segment_;
  });
}

auto BlockAssembler::DateOwner::by_order_word() const -> Owner {
  const Mention* order = cue("cue_order");
  if (order == nullptr) return std::nullopt;
  if (is_deed(*order)) return a_.is_caption() ? "event" : "person";
  // "the flash introduced on 1 April": close before its date the word is the order's even beside
  // a serial.
  const bool is_close = order->last <= date_.first && date_.first - order->last <= kBeside;
  if (!serial_ || is_close) return "order";
  return std::nullopt;
}

// "Captain Stannard issued the straw": what somebody does to something that is no marking. Or
// "Colonel Quist was still signing its orders".
bool BlockAssembler::DateOwner::is_deed(const Mention& order) const {
  const auto tells_of = [&](MentionKind what, bool is_before) {
    return a_.any_mention(what, [&](const Mention& other) {
      return (!is_before || other.last <= order.first) &&
             a_.clauses_.sentence_of[other.first] == a_.clauses_.sentence_of[order.first];
    });
  };
  const std::uint32_t article = order.first == 0 ? 0 : order.first - 1;
  const bool is_object =
      article > 0 && a_.is_in("determiner", article) && a_.is_in("handing_out_verb", article - 1);
  const bool has_object = a_.is_in("handing_out_verb", order.first) &&
                          a_.is_in("determiner", order.last) &&
                          !a_.is_in("cue_order", order.last + 1);
  return (is_object || has_object) && tells_of(MentionKind::kPerson, true) &&
         !tells_of(MentionKind::kOrder, false) && !tells_of(MentionKind::kMarking, false);
}

// What a caption tells besides its picture.
bool BlockAssembler::DateOwner::is_of_other_story() const {
  // "A sergeant still. The promotion and the posting came together, on 1 April": of a person whom
  // the sentence does not name.
  if (a_.is_in_later_sentence(date_.first) && !serial_ && cue("cue_person_event") != nullptr)
    return true;
  if (is_of_transfer() || is_of_later_story() || a_.is_of_card(date_)) return true;
  if (cue("cue_change") != nullptr || a_.is_told_in_pluperfect(date_)) return true;
  // "The band that a month later will be forbidden".
  if (a_.is_in("future_auxiliary", date_.last)) return true;
  if (const Mention* to_come = cue("cue_to_come");
      to_come != nullptr && to_come->last <= date_.first)
    return true;
  return (a_.is_told_aside(date_) && a_.tells_of_other_thing(date_.first)) || is_of_state_told();
}

// "The paint, renewed in November, begins to go": between commas, behind a thing that is no
// machine, what was done to it once. "The machine, seen here in November, wears ..." is not.
bool BlockAssembler::DateOwner::is_of_state_told() const {
  std::uint32_t first = first_of_segment();
  const auto count = static_cast<std::uint32_t>(a_.mentions_.tokens.size());
  while (first < date_.first && a_.mentions_.tokens[first].kind == TokenKind::kMark) ++first;
  if (first < 2 || first >= date_.first || date_.last >= count) return false;
  if (a_.word(first - 1) != "," || a_.word(date_.last) != ",") return false;
  if (a_.clauses_.sentence_of[first - 2] != a_.clauses_.sentence_of[date_.first]) return false;
  const bool is_participle =
      a_.folded(first).ends_with("ed") || a_.is_in("irregular_participle", first);
  if (!is_participle || a_.is_in("cue_taken", first)) return false;
  const Token& noun = a_.mentions_.tokens[first - 2];
  if (noun.kind != TokenKind::kWord || noun.capital || a_.is_in("machine_noun", first - 2))
    return false;
  const Mention* name = a_.mention_ending_at(first - 1);
  return name == nullptr || name->kind == MentionKind::kMarking || name->kind == MentionKind::kCue;
}

// By the kind of its clause.
auto BlockAssembler::DateOwner::by_clause() const -> Owner {
  // "(from September 1942 No. 12 Squadron)" tells of a change, "(taken 4 May 1942)" does not.
  if (kind_ == ClauseKind::kBracket && !alone_) return is_taken() ? "photograph" : "event";
  if (kind_ == ClauseKind::kRelative || kind_ == ClauseKind::kSubordinate) {
    const Spelling opener = a_.office(a_.clauses_.clauses[clause_].first);
    if (opener != "when" && opener != "while" && opener != "where") return "event";
  }
  return std::nullopt;
}

// Whether the words set the date apart from that of the picture.
bool BlockAssembler::DateOwner::is_of_other_time() const {
  for (const CueName list : {CueName("cue_former"), CueName("cue_later")}) {
    const Mention* other = cue(list);
    if (other != nullptr && !a_.is_in_number_aside(*other, segment_)) return true;
  }
  if (a_.is_in_other_time(date_.first)) return true;
  // A picture is of a day, and lasts until none.
  if (date_.first > 0 && a_.is_in_list("until_word", date_.first - 1)) return true;
  if (is_end_told()) return true;
  // "At Sorvau in the summer of 1941; by the following summer both were with the School".
  const DateRef ref = told().first.ref;
  const bool is_of_next = ref == DateRef::kNext || ref == DateRef::kPrevious;
  if (is_of_next && !a_.focus_.photograph_dates.empty() && !is_taken()) return true;
  if (told().is_before_happening) return true;
  const bool is_later = a_.is_in_later_sentence(date_.first);
  // "KB201 in the sea. Sixteen days later KB202 followed it": told, and no date of the picture.
  if ((told().first.is_offset() || ref == DateRef::kNext) && !alone_ && is_later &&
      !a_.leans_on_event(date_) && !is_taken() && tells_in_past())
    return true;
  // "Earlier in the year it was NV-H".
  if (a_.is_in("comparative_of_time", date_.first) && is_later) return true;
  // "Painted to represent KB201 in 1941": of the machine that it stands for.
  const Mention* represents = cue("cue_represents");
  if (represents != nullptr && represents->last <= date_.first) return true;
  // "KB201, a year before it burned. The fire was on 7 November": of what the sentence names.
  return (is_later && !is_taken() && a_.is_day_of_noun(date_)) || is_bound_of_other_state();
}

// "A thing not to be seen again after March 1941": what came to an end.
bool BlockAssembler::DateOwner::is_end_told() const {
  if (told().bound != DateBound::kAfter || is_taken()) return false;
  const std::uint32_t first = first_of_segment();
  return a_.stands_between(first, date_.first, "direct_denial") &&
         a_.stands_between(first, date_.first, "again_word");
}

// "At Gale Head, 18 May 1940. By July it had gone": the bound of another state.
bool BlockAssembler::DateOwner::is_bound_of_other_state() const {
  if (is_taken()) return false;
  const bool is_bound = told().bound == DateBound::kBy;
  // "Wing tips that haven't seen a brush since the spring".
  if (told().bound == DateBound::kSince && first_of_segment() < date_.first &&
      a_.stands_between(first_of_segment(), date_.first, "perfect_denial"))
    return true;
  // "It was with the School by 1942", "stood at the Point from June": no day of the picture.
  if ((is_bound || told().bound == DateBound::kSince) &&
      a_.stands_between(a_.clauses_.clauses[clause_].first, date_.first, "state_verb"))
    return true;
  if (!is_bound && !(told().is_onward && tells_in_past())) return false;
  const auto& dates = a_.focus_.photograph_dates;
  return std::any_of(dates.begin(), dates.end(), [&](std::uint32_t claim) {
    return claim >= a_.first_claim_ && a_.clauses_.sentence_of[a_.token_at(a_.out_[claim].begin)] <
                                           a_.clauses_.sentence_of[date_.first];
  });
}

// Whether the sentence tells what somebody or something did: a subject and a verb in the past
// tense.
bool BlockAssembler::DateOwner::tells_in_past() const {
  const std::uint32_t sentence = a_.clauses_.sentence_of[date_.first];
  const auto count = static_cast<std::uint32_t>(a_.mentions_.tokens.size());
  // "The bars came three weeks later".
  for (std::uint32_t t = date_.first; t-- > 0 && a_.clauses_.clause_of[t] == clause_;) {
    if (a_.is_in("story_verb", t)) return true;
  }
  for (std::uint32_t t = date_.last; t < count && a_.clauses_.sentence_of[t] == sentence; ++t) {
    if (a_.is_in("story_verb", t)) return true;
    if (a_.word(t) == ":" || a_.word(t) == ";") return false;
  }
  return false;
}

// "Order 22/43, signed 30 August, effective 15 September": what was done with an order that the
// sentence has named.
bool BlockAssembler::DateOwner::is_of_order_told() const {
  const std::uint32_t sentence = a_.clauses_.sentence_of[date_.first];
  bool has_order = false, is_act = false;
  for (const Mention& other : a_.mentions_.items) {
    if (other.first >= date_.first) break;
    has_order = has_order || (other.kind == MentionKind::kOrder &&
                              a_.clauses_.sentence_of[other.first] == sentence);
    // Another subject in between has the date_.
    if (other.kind == MentionKind::kAirframe) has_order = false;
  }
  for (std::uint32_t t = date_.first; has_order && t-- > 0;) {
    if (a_.clauses_.segment_of[t] != segment_) break;
    is_act = is_act || a_.is_in("order_act", t);
  }
  return has_order && is_act;
}

// "They went that August", "On the 24th she found another gun": what a later sentence tells in the
// past tense of "it", where the picture has a date or this one is no day of its own.
bool BlockAssembler::DateOwner::is_of_later_story() const {
  const std::uint32_t sentence = a_.clauses_.sentence_of[date_.first];
  if (sentence == 0) return false;
  const std::uint32_t first = a_.begin_of_sentence(date_.first);
  const auto count = static_cast<std::uint32_t>(a_.mentions_.tokens.size());
  std::uint32_t subject = first;
  while (subject < date_.first &&
         (a_.is_in("day_preposition", subject) || a_.is_in("determiner", subject)))
    ++subject;
  const bool is_fronted = subject == date_.first;
  if (is_fronted) subject = date_.last + (date_.last < count && a_.word(date_.last) == "," ? 1 : 0);
  if (subject + 1 >= count || !a_.is_in("story_subject", subject) ||
      !a_.is_in("story_verb", subject + 1))
    return false;
  for (std::uint32_t t = first; t < count && a_.clauses_.sentence_of[t] == sentence; ++t) {
    if (!is_fronted && t >= date_.first) break;
    if (a_.is_in("cue_taken", t) || a_.is_in("story_here", t)) return false;
  }
  // "It was at the Works from 14 December until 20 March".
  const bool is_stay = told().joint == DateJoint::kRange && !told().is_somewhere_within;
  const bool is_bounded = is_stay || told().bound != DateBound::kNone || told().first.is_relative();
  const bool has_date =
      std::any_of(a_.focus_.photograph_dates.begin(), a_.focus_.photograph_dates.end(),
                  [&](std::uint32_t claim) {
                    return a_.out_[claim].begin < date_.begin || claim < a_.first_claim_;
                  });
  return is_bounded || has_date;
}

// "To 24 Sqn 14.12.42": the day of a change of hands.
bool BlockAssembler::DateOwner::is_of_transfer() const {
  constexpr std::uint32_t kReach = 2;
  return a_.any_mention(MentionKind::kUnit, [&](const Mention& unit) {
    if (unit.last > date_.first || date_.first - unit.last > kReach || unit.first == 0 ||
        a_.clauses_.segment_of[unit.first] != a_.clauses_.segment_of[date_.first])
      return false;
    std::uint32_t before = unit.first - 1;
    if (before > 0 && a_.office(before) == "the") --before;
    return a_.is_in("transfer_word", before);
  });
}

// "Who came in March and was lost on 17 September": an event behind a date that has one of its own
// behind it in its segment, be it told in two words ("was shot down and killed in X12 on the
// 17th").
bool BlockAssembler::DateOwner::is_dated_behind(const Mention& event) const {
  if (event.first < date_.last) return false;
  constexpr std::uint32_t kJoint = 2;  // ", and"
  std::uint32_t next_event = kNone, told_to = event.last,
                clause = a_.clauses_.clause_of[event.first];
  for (const std::uint32_t c : a_.index_.of("cue_event")) {
    const Mention& other = a_.mentions_.items[c];
    if (other.first < told_to || a_.claim_of_mention_[c] == kNone) continue;
    bool is_same = other.first - told_to <= kJoint && other.value == event.value;
    for (std::uint32_t t = told_to; is_same && t < other.first; ++t)
      is_same = a_.word(t) == "," || a_.office(t) == "and";
    if (!is_same) {
      next_event = other.first;
      break;
    }
    told_to = other.last;
    clause = a_.clauses_.clause_of[other.first];
  }
  return a_.any_mention(MentionKind::kDate, [&](const Mention& other) {
    return other.first >= told_to && other.first < next_event &&
           a_.clauses_.clause_of[other.first] == clause;
  });
}

// "the bands prescribed", "the flash introduced": the word is said of a marking.
bool BlockAssembler::DateOwner::follows_marking(const Mention& order) const {
  return a_.any_mention(MentionKind::kMarking, [&](const Mention& other) {
    return other.last <= order.first && order.first - other.last <= 2;
  });
}

bool BlockAssembler::DateOwner::has_rank_told() const {
  for (const Mention& mention : a_.mentions_of(MentionKind::kRank)) {
    if (a_.clauses_.segment_of[mention.first] != segment_ || mention.first == 0) continue;
    const Spelling before = a_.office(mention.first - 1);
    if (before == "a" || before == "made") return true;
  }
  return false;
}

std::string_view BlockAssembler::owner_of(const Mention& date, std::uint32_t& event) const {
  return DateOwner(*this, date).find(event);
}

}  // namespace tailproof
