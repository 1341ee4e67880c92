// What began or ended on a date, in the life of a unit, a person or an order: "was formed on 1
// April", "moved to Lesk Point in November", "promoted Lieutenant on the 15th".
//
// A date takes the nearest such word before it in its clause; one that opens its clause may take
// the first behind it. A date that only bounds ("by May"), or is one of two, tells of no turn.
#include <algorithm>

#include "claims/assembler.h"
#include "claims/turn_words.h"
#include "grammars/fold.h"

namespace tailproof {
// Another date, turn or event between two places of a clause has the date, or gives another.
bool BlockAssembler::is_turn_cut_off(const Mention& turn, const Mention& date) const {
  const std::uint32_t begin = std::min(turn.last, date.last);
  const std::uint32_t end = std::max(turn.first, date.first);
  // "From 2 February 1920, the day it was formed, to the end of June": formed on the former.
  std::uint32_t day = turn.first;
  while (day > 0 && (is_auxiliary(day - 1) || is_in("unit_pronoun", day - 1))) --day;
  if (date.first > turn.last && day < turn.first && day > 1 && is_in("date_period", day - 1) &&
      office(day - 2) == "the")
    return true;
  // "Awarded the Cross for his work that day": the day of the deed.
  for (std::uint32_t t = begin; t < end; ++t) {
    // "Left Feyle for Thole Harbour", "left the Ninth for the Tenth".
    const bool is_whither = mention_over(MentionKind::kPlace, t + 1) != nullptr ||
                            mention_over(MentionKind::kUnit, t + 1) != nullptr ||
                            mention_over(MentionKind::kUnit, t + 2) != nullptr ||
                            mention_over(MentionKind::kUnit, t + 3) != nullptr;  // "the new"
    const bool is_deed = office(t) == "for" && turn.last <= date.first && !is_whither;
    if (is_deed) return true;
  }
  return std::any_of(mentions_.items.begin(), mentions_.items.end(), [&](const Mention& other) {
    if (&other == &turn || &other == &date || other.first < begin || other.first >= end)
      return false;
    return other.kind == MentionKind::kDate ||
           (other.kind == MentionKind::kCue &&
            (other.role == "cue_turn" || other.role == "cue_event"));
  });
}

// "Was to have been formed in May", "should move in June": planned, and perhaps never done.
bool BlockAssembler::is_unmade(const Mention& turn) const {
  constexpr std::uint32_t kReach = 2;
  if (is_put_off(turn.first)) return false;
  if (turn.first > 0 && office(turn.first - 1) == "not") return true;
  if (is_only_adjective(turn) || is_opened_elsewhere(turn)) return true;
  // "I came to the Works in the autumn and was put under Corporal Bassola".
  if (turn.first > 0 && is_in("narrator_word", turn.first - 1)) return true;
  for (const std::uint32_t c : index_.of("cue_turn_unmade")) {
    const Mention& cue = mentions_.items[c];
    if (cue.last <= turn.first && turn.first - cue.last < kReach) return true;
  }
  return false;
}

const Mention* BlockAssembler::turn_word_of(const Mention& date) const {
  constexpr std::uint32_t kReach = 14, kOpening = 2;
  const std::uint32_t clause = clauses_.clause_of[date.first];
  const Mention* before = nullptr;
  const Mention* behind = nullptr;
  for (const std::uint32_t c : index_.of("cue_turn")) {
    const Mention& cue = mentions_.items[c];
    if (clauses_.clause_of[cue.first] != clause) continue;
    if (cue.last <= date.first) {
      before = &cue;
    } else if (behind == nullptr && cue.first >= date.last) {
      behind = &cue;
    }
  }
  const bool opens = date.first - clauses_.clauses[clause].first <= kOpening;
  const Mention* turn = before != nullptr ? before : opens ? behind : nullptr;
  if (turn == nullptr || is_turn_cut_off(*turn, date) || is_unmade(*turn)) return nullptr;
  if (turn == before && date.first - turn->last > kReach) return nullptr;
  // "In May the squadron moved to the Point, on the 3rd": the nearer date has it; but "on 16 June
  // it was signed, to take effect on the 30th".
  const auto has_own = [&](const Mention& m) {
    const auto turns = index_.of("cue_turn");
    return std::any_of(turns.begin(), turns.end(), [&](std::uint32_t c) {
      return mentions_.items[c].first >= turn->last && mentions_.items[c].last <= m.first;
    });
  };
  const bool has_other =
      turn == behind && any_mention(MentionKind::kDate, [&](const Mention& m) {
        return m.first >= turn->last && clauses_.clause_of[m.first] == clause && !has_own(m);
      });
  return has_other ? nullptr : turn;
}

// "Promoted in July 1943 to Lieutenant": the words of a date right behind do not count.
std::uint32_t BlockAssembler::tokens_of_date_behind(const Mention& turn) const {
  const auto date =
      std::find_if(mentions_.items.begin(), mentions_.items.end(), [&](const Mention& other) {
        return other.kind == MentionKind::kDate && other.first >= turn.last &&
               other.first - turn.last <= 1;
      });
  return date == mentions_.items.end() ? 0 : date->last - turn.last;
}

// The place named last before in the sentence, and nothing since that "it" may stand for.
const Mention* BlockReading::place_left(const Mention& turn) const {
  const Mention* place = nullptr;
  for (const Mention& other : mentions_.items) {
    if (other.last > turn.first) break;
    if (clauses_.sentence_of[other.first] != clauses_.sentence_of[turn.first]) continue;
    if (other.kind == MentionKind::kPlace) place = &other;
    if (other.kind == MentionKind::kAirframe || other.kind == MentionKind::kType) place = nullptr;
  }
  return place;
}

// What the words turn to: right behind them, but for what is left ("from Halvery to the Point").
const Mention* BlockAssembler::turned_to(const Mention& turn, MentionKind kind,
                                         std::uint32_t reach) const {
  bool has_left = false;
  std::uint32_t words_left = 0;  // of a unit that is left
  // "The School moved to the Point; 6 Squadron, which had left it the day before, reached Feyle."
  if (kind == MentionKind::kPlace && is_in("place_pronoun", turn.last)) {
    const std::uint32_t next = turn.last + 1;
    const bool is_whole =
        next >= mentions_.tokens.size() || mentions_.tokens[next].kind == TokenKind::kMark ||
        office(next) == "for" || mention_over(MentionKind::kDate, next) != nullptr ||
        mention_over(MentionKind::kDate, next + 1) != nullptr;
    return is_whole && turn.value.starts_with(kLeaving) ? place_left(turn) : nullptr;
  }
  for (const Mention& other : mentions_.items) {
    if (other.kind != kind || other.first < turn.last) continue;
    if (other.first - turn.last > reach + tokens_of_date_behind(turn) + words_left ||
        clauses_.sentence_of[other.first] != clauses_.sentence_of[turn.first])
      break;
    // "Had left us for the Point", "left it on 20 April for the new Fifth".
    const bool is_left = turn.value.ends_with("|left") || turn.value.starts_with(kLeaving);
    if (is_left && is_whither(other)) return nullptr;
    // "Went east in December; 923 Squadron was formed at Lesk Point": another statement.
    const bool is_parted = kind == MentionKind::kPlace && [&] {
      for (std::uint32_t t = turn.last; t < other.first; ++t) {
        if (word(t) == ";") return true;
      }
      return false;
    }();
    if (is_parted) return nullptr;
    const bool may_leave = kind == MentionKind::kPlace || kind == MentionKind::kRank;
    const std::uint32_t before = other.first - (office(other.first - 1) == "the" ? 2 : 1);
    if (may_leave && before >= turn.last && is_in("from_word", before)) {
      has_left = true;
      continue;
    }
    // "Posted from 8 Squadron to 9 Squadron".
    if (kind == MentionKind::kUnit && before >= turn.last && is_in("from_word", before) &&
        office(other.last) == "to") {
      words_left = other.last - turn.last;
      continue;
    }
    // "Newly arrived from the Point, at Halvery in May": where it is then, whoever arrived there.
    if (has_left && kind == MentionKind::kPlace && office(before) != "to" &&
        office(before) != "for")
      return nullptr;
    // "Exchanged Halvery for the Point": the first is what is left.
    if (turn.value == kExchanged && office(other.last) == "for") continue;
    // "Got the Second's piano".
    if (kind == MentionKind::kUnit && is_possessive(other)) return nullptr;
    // "The promotion of Captain Ruddock to Major": a title is no rank that is reached.
    if (kind == MentionKind::kRank && !people_behind(other).empty()) continue;
    return &other;
  }
  if (kind != MentionKind::kAward) return nullptr;
  // "The Cross was gazetted in May".
  for (const Mention& other : mentions_.items) {
    if (other.kind == kind && other.last <= turn.first && turn.first - other.last <= 2)
      return &other;
  }
  return nullptr;
}

// "Their stay at Halvery ended in May": the place behind such a noun, before the words.
const Mention* NounReading::place_of_stay(const Mention& turn) const {
  constexpr std::uint32_t kNoun = 2;
  const Mention* found = nullptr;
  for (const Mention& place : mentions_.items) {
    if (place.last > turn.first) break;
    if (place.kind != MentionKind::kPlace || place.first < kNoun ||
        clauses_.sentence_of[place.first] != clauses_.sentence_of[turn.first])
      continue;
    found = is_in("stay_noun", place.first - kNoun) ? &place : nullptr;
  }
  // "... and the feast ended in May": something else.
  for (std::uint32_t t = found == nullptr ? turn.first : found->last; t < turn.first; ++t) {
    if (office(t) == "the" || office(t) == "a" || office(t) == "it") return nullptr;
  }
  return found;
}

// "Tarrent fell in May.": he, and nothing behind it; but "fell on 3 May and broke an arm".
bool BlockAssembler::is_fallen(const Mention& turn, const Mention& date) const {
  const Mention* person = mention_ending_at(turn.first);
  const bool is_he = turn.first > 0 && is_in("person_pronoun", turn.first - 1);
  const bool is_named =
      person != nullptr && person->kind == MentionKind::kPerson && !is_possessive(*person);
  const bool is_last =
      date.last >= mentions_.tokens.size() || mentions_.tokens[date.last].kind == TokenKind::kMark;
  return (is_he || is_named) && is_last && date.first >= turn.last && date.first - turn.last <= 1;
}

// "Whose brother had been killed": another than the one named.
bool BlockReading::is_of_kin(const Mention& turn) const {
  constexpr std::uint32_t kReach = 4;
  for (std::uint32_t t = turn.first; t-- > 0 && turn.first - t <= kReach;) {
    if (mentions_.tokens[t].kind == TokenKind::kMark) return false;
    if (is_in("whose_word", t)) return true;
  }
  return false;
}

// "Tarrent, killed in May,": right behind him, and the date right behind that.
bool BlockReading::is_killed_in_aside(const Mention& turn, const Mention& date) const {
  constexpr std::uint32_t kReach = 2;  // "in action on"
  if (turn.first < 2 || word(turn.first - 1) != "," || date.first < turn.last) return false;
  const Mention* person = mention_ending_at(turn.first - 1);
  const std::uint32_t action = stands_between(turn.last, date.first, "killing_manner") ? 2 : 0;
  return person != nullptr && person->kind == MentionKind::kPerson && !is_possessive(*person) &&
         date.first - turn.last <= kReach + action;
}

// "Left Halvery for the Point": the place behind, if the unit ever was at the former.
const Mention* BlockReading::place_left_for(const Mention& left, std::string_view unit,
                                            const Ledger& ledger) const {
  if (office(left.last) != "for") return nullptr;
  const std::uint32_t t = left.last + (office(left.last + 1) == "the" ? 2 : 1);
  const Mention* goal = mention_over(MentionKind::kPlace, t);
  if (goal == nullptr || goal->first != t || !goal->known || !goal->readings.empty())
    return nullptr;
  const auto stations = ledger.stations();
  const bool was_there = std::any_of(stations.begin(), stations.end(), [&](const Station& row) {
    return row.unit == unit && row.place == left.value;
  });
  return was_there ? goal : nullptr;
}

// The unit of which the words of a turn are told, where another stands behind them.
const Mention* BlockAssembler::unit_before(const Mention& turn) const {
  const Mention* unit = nullptr;
  for (const Mention& other : mentions_.items) {
    if (other.last > turn.first) break;
    if (other.kind == MentionKind::kUnit && other.known && other.readings.empty() &&
        clauses_.clause_of[other.first] == clauses_.clause_of[turn.first])
      unit = &other;
  }
  return unit;
}

// Whether the sentence of the date names the person, or its clause opens with a pronoun.
bool BlockAssembler::is_named_or_pronoun(const std::string& person, const Mention& date) const {
  const std::uint32_t clause = clauses_.clause_of[date.first];
  if (opens_with_pronoun(clause) || is_told_of_person(clause)) return true;
  return any_mention(MentionKind::kPerson, [&](const Mention& other) {
    return other.value == person &&
           clauses_.sentence_of[other.first] == clauses_.sentence_of[date.first];
  });
}

// "Sarratt was promoted in March", to whatever rank: the clause names none.
bool BlockAssembler::is_bare_promotion(const Mention& turn, const Mention& date) const {
  if (!is_in("bare_promotion", turn.last - 1)) return false;
  for (std::uint32_t t = turn.last; t < date.first; ++t) {
    if (office(t) != "in" && office(t) != "on") return false;
  }
  return !any_mention(MentionKind::kRank, [&](const Mention& other) {
    return other.first >= turn.last &&
           clauses_.sentence_of[other.first] == clauses_.sentence_of[turn.first];
  });
}

// "F103 became R2017 in 1940": the date right behind the number that the machine was given, or
// opening its clause.
bool BlockAssembler::add_renumbering(const Mention& mention, Claim& claim) const {
  constexpr std::uint32_t kReach = 2;
  const std::uint32_t clause = clauses_.clause_of[mention.first];
  for (const Mention& number : mentions_of(MentionKind::kAirframe)) {
    if (number.role != "later_serial" || clauses_.clause_of[number.first] != clause ||
        number.detail.empty())
      continue;
    const bool is_behind = mention.first >= number.last && mention.first - number.last < kReach;
    const bool opens =
        mention.last <= number.first && mention.first - clauses_.clauses[clause].first < kReach;
    if (!is_behind && !opens) continue;
    for (const std::uint32_t c : index_.of("cue_other_number")) {
      const Mention& verb = mentions_.items[c];
      if (verb.last != number.first || verb.value != "later_serial" ||
          mention_ending_at(verb.first) == nullptr)
        continue;
      claim.turn = Turn::kRenumbered;
      claim.turn_of = number.value;
      claim.turned_to = number.detail;
      return true;
    }
  }
  return false;
}

// "FNO 29/43 (15 March 1943)": nothing but the date in the bracket right behind the order.
bool BlockAssembler::is_in_bracket_of_order(const Mention& date, std::string_view order) const {
  if (date.first < 2 || date.last >= mentions_.tokens.size() || word(date.first - 1) != "(" ||
      word(date.last) != ")")
    return false;
  const Mention* before = mention_over(MentionKind::kOrder, date.first - 2);
  return before != nullptr && (order.empty() || before->value == order);
}

void BlockAssembler::add_turn(const Mention& mention, Claim& claim) const {
  const DateMention& date = mentions_.dates[mention.payload];
  if (is_span_of_life(mention) && !claim.negated) {
    const Mention* person = mention_over(MentionKind::kPerson, mention.first - 2);
    if (person == nullptr || !person->known || !person->readings.empty()) return;
    claim.turn = Turn::kLived;
    claim.turn_of = person->value;
    return;
  }
  if (date.bound == DateBound::kNone && date.joint == DateJoint::kNone && !claim.negated &&
      add_renumbering(mention, claim))
    return;
  const bool is_order = claim.of == "order";
  // "Brought in from 1 July": an order begins to count on one day.
  const bool is_open =
      date.bound != DateBound::kNone && !(is_order && date.bound == DateBound::kSince);
  if (is_open || date.joint != DateJoint::kNone || claim.negated) return;
  claim.turn_of = claim.subject;
  // "923 Squadron moved to Gale Head in May 1942", under a picture of that day.
  if (claim.of == "photograph") {
    const Mention* topic = topic_of(mention);
    // "Formed in July 1942, 923 Squadron flew Grapnels."
    const Mention* turn = topic == nullptr ? nullptr : turn_word_of(mention);
    const bool opens = turn != nullptr && turn->last <= mention.first &&
                       turn->first == clauses_.clauses[clauses_.clause_of[turn->first]].first;
    if (topic == nullptr || (topic->last > mention.first && !opens) || !topic->known ||
        !topic->readings.empty()) {
      return;
    }
    claim.turn_of = topic->value;
  }
  // "Side numbers were introduced in 1943", by whatever order.
  if (const Mention* marking = is_order ? marking_turned(mention) : nullptr)
    claim.turn_of = marking->value;
  const bool is_person = ledger_.person(claim.turn_of) != nullptr;
  const bool is_unit = ledger_.unit(claim.turn_of) != nullptr;
  if (!is_order && !is_person && !is_unit) return;
  // "The photographer was killed in 1945": of nobody whom the sentence names.
  if (is_person && !is_named_or_pronoun(claim.turn_of, mention)) return;
  // The day beside an order's name is that of its signature, unless it took effect then.
  const auto is_effect = [&] {
    const auto orders = ledger_.orders();
    return std::any_of(orders.begin(), orders.end(), [&](const Order& row) {
      return row.order == claim.turn_of && row.effective.days().intersects(claim.date.days());
    });
  };
  // "FNO 7/36 of 2 March".
  if (is_order && mention.first > 1 && office(mention.first - 1) == "of") {
    const bool is_its_day = any_mention(MentionKind::kOrder, [&](const Mention& other) {
      return other.last + 1 == mention.first && other.value == claim.turn_of;
    });
    // "The order of 11 October 1939, FNO 33/39".
    const bool is_before = any_mention(MentionKind::kOrder, [&](const Mention& other) {
      return other.first == mention.last + 1 && word(mention.last) == "," &&
             other.value == claim.turn_of && is_in("order_noun", mention.first - 2);
    });
    if ((is_its_day || is_before) && !is_effect()) claim.turn = Turn::kIssued;
    if (is_its_day || is_before) return;
  }
  // "FNO 29/43 (15 March 1943)".
  if (is_order && is_in_bracket_of_order(mention, claim.turn_of)) {
    if (!is_effect()) claim.turn = Turn::kIssued;
    return;
  }
  const Mention* word = turn_word_of(mention);
  if (word == nullptr) return;
  // "They were abolished with effect from 1 October": the markings, and not the order named before.
  if (is_order && is_in("plural_pronoun", begin_of_sentence(mention.first)) &&
      std::none_of(mentions_.items.begin(), mentions_.items.end(), [&](const Mention& other) {
        return other.kind == MentionKind::kOrder &&
               clauses_.sentence_of[other.first] == clauses_.sentence_of[mention.first];
      }))
    return;
  if (is_in("owned_turn", word->first)) {
    const Mention* owner =
        word->first == 0 ? nullptr : mention_over(MentionKind::kPerson, word->first - 1);
    if (owner == nullptr || owner->value != claim.turn_of) return;
  }
  const Bearer bearer = is_order ? Bearer::kOrder : is_person ? Bearer::kPerson : Bearer::kUnit;
  for (std::string_view rest = word->value; !rest.empty();) {
    const std::string_view name = rest.substr(0, rest.find('|'));
    rest.remove_prefix(std::min(rest.size(), name.size() + 1));
    const auto* const row = std::find_if(
        kTurnWords.begin(), kTurnWords.end(),
        [&](const TurnWord& known) { return known.word == name && known.bearer == bearer; });
    if (row == kTurnWords.end()) continue;
    if (name == kFallen && !is_fallen(*word, mention)) continue;
    // "Tarrent, whose brother was killed in May".
    if (row->turn == Turn::kDied && is_of_kin(*word)) continue;
    // "Tarrent, killed in May, flew it".
    if (name == kKilled && !is_killed_in_aside(*word, mention)) continue;
    // "The School closed in June", and not "the School's range was closed in June".
    const Mention* closing = name == kClosed ? mention_ending_at(word->first) : nullptr;
    if (name == kClosed &&
        (closing == nullptr || closing->kind != MentionKind::kUnit || is_possessive(*closing)))
      continue;
    if (row->object != MentionKind::kCue) {
      const bool is_stay = name == kStayBegan || name == kStayEnded;
      const Mention* object =
          is_stay ? place_of_stay(*word) : turned_to(*word, row->object, row->reach);
      // "Moved to Halvery in May, in June to the Point": what stands right behind the date.
      if (object != nullptr && object->last <= mention.first && office(mention.last) == "to") {
        const std::uint32_t next = mention.last + (office(mention.last + 1) == "the" ? 2 : 1);
        const Mention* later = mention_over(row->object, next);
        if (later != nullptr && later->first <= next) object = later;
      }
      const bool is_bare =
          object == nullptr && row->turn == Turn::kPromoted && is_bare_promotion(*word, mention);
      // "Was made a lieutenant in the spring, and captain in May 1942": that of the date.
      if (row->turn == Turn::kPromoted && object != nullptr) {
        for (const Mention& other : mentions_of(MentionKind::kRank)) {
          if (other.first >= object->last && other.last <= mention.first &&
              people_behind(other).empty())
            object = &other;
        }
      }
      if (!is_bare && (object == nullptr || !object->known)) continue;
      // "Flew to the Point and back": no move.
      if (row->turn == Turn::kMovedIn && object != nullptr && office(object->last) == "and" &&
          is_in("back_word", object->last + 1))
        continue;
      if (is_bare) {
        claim.turn = row->turn;
        return;
      }
      // "The Crew School became the Navigation School": told of the one, and reached by the other.
      if (row->turn == Turn::kRenamed && object->value == claim.turn_of) {
        const Mention* former = unit_before(*word);
        if (former == nullptr) continue;
        claim.turn_of = former->value;
      }
      claim.turned_to = object->value;
      // "Left Halvery for the Point in May", where it was at Halvery: a move to the Point.
      if (row->turn == Turn::kMovedOut) {
        if (const Mention* goal = place_left_for(*object, claim.turn_of, ledger_)) {
          claim.turned_to = goal->value;
          claim.turn = Turn::kMovedIn;
          return;
        }
      }
      if (row->turn == Turn::kAwarded && is_bar_to(*object)) {
        claim.turned_to = "Bar to " + claim.turned_to;
      }
    }
    claim.turn = row->turn;
    if (date.bound == DateBound::kSince) claim.date = dates_[mention.payload].plain;
    const bool is_of_marking = row->turn == Turn::kIntroduced || row->turn == Turn::kWithdrawn;
    if (is_of_marking && claim.turned_to.empty()) {
      constexpr std::uint32_t kReach = 3;  // "introduced a narrow sea band"
      const Mention* marking = turned_to(*word, MentionKind::kMarking, kReach);
      if (marking != nullptr && marking->known) claim.turned_to = marking->value;
    }
    return;
  }
}

}  // namespace tailproof
