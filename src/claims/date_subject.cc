// Whose a date is that is not the picture's: the machine's, the unit's, the person's or the order's
// that its clause speaks of.
#include <algorithm>

#include "claims/assembler.h"
#include "grammars/fold.h"
#include "mentions/event_words.h"

namespace tailproof {

// What a statement is about: the person or unit named last before it in its clause, or first behind
// it there, or, in a relative clause, right before that. A unit behind "of", "by", "with" belongs
// to somebody else's statement.
const Mention* BlockAssembler::topic_of(const Mention& statement) const {
  const std::uint32_t clause = clauses_.clause_of[statement.first];
  const Clause& own = clauses_.clauses[clause];
  const WordList* prepositions = lexicon_.grammars().list("object_preposition");
  const auto is_topic = [&](const Mention& mention) {
    // "In Tarrent's boxes is a print of X12, in May 1940, with a band": a day of the machine.
    if (mention.kind == MentionKind::kPerson) {
      // "Yorke took the Second over from Carne in March": told of the one, and not of the other.
      const std::uint32_t name = begin_of_name(mention);
      const bool is_other_party =
          name > own.first && is_in("party_preposition", name - 1) &&
          std::any_of(mentions_.items.begin(), mentions_.items.end(), [&](const Mention& other) {
            return other.kind == MentionKind::kPerson && other.last < name &&
                   clauses_.clause_of[other.first] == clause;
          });
      if (is_other_party) return false;
      return statement.kind != MentionKind::kDate || !is_possessive(mention) ||
             opens_turn(mention) || groups_.empty();
    }
    if (mention.kind != MentionKind::kUnit || mention.role == "object") return false;
    std::uint32_t before = mention.first;
    if (before > own.first + 1 && is_in("owned_word", before - 1)) --before;  // "the new"
    if (before > 0 && office(before - 1) == "the") --before;
    // "It handed its line to the Twelfth, and was at Cawsey in May": who takes it is not told of.
    if (before > own.first && (office(before - 1) == "to" || office(before - 1) == "from"))
      return false;
    // "6 Squadron, the former Lapwings, left": the other name of it.
    if (mention.first > 0 && is_in("former_adjective", mention.first - 1)) return false;
    // "Hoskyn had 4 Flight from May and handed it over in June": told of him.
    if (before > own.first + 1 && is_in("unit_keeping", before - 1) &&
        names_between(own.first, before - 1))
      return false;
    // "The Park followed 6 Squadron to the Point, and went back in September": told of the Park.
    if (before > own.first + 1 && is_in("unit_taking_verb", before - 1) &&
        names_between(own.first, before - 1))
      return false;
    return before == 0 || prepositions == nullptr || before == own.first ||
           (value_in(prepositions, before - 1).empty() && !is_turned_to(before, own.first));
  };
  const Mention* topic = nullptr;
  for (const Mention& mention : mentions_.items) {
    if (clauses_.clause_of[mention.first] != clause || !is_topic(mention)) continue;
    if (is_only_compared(mention, statement.first)) continue;
    if (mention.last <= statement.first) topic = &mention;
    // Behind it a person may be what is told of, "In May 1943 Rushby joined", and a unit of which
    // the next words tell: "On 4 October 1942 the 11th moved to the Strip", or those before:
    // "Formed in July, 923 Squadron".
    // "He left it in April, with Winter already gone": told of him.
    const bool is_his = mention.kind == MentionKind::kPerson && is_told_of_person(clause);
    if (topic == nullptr && !is_his &&
        (mention.kind == MentionKind::kPerson ||
         (statement.kind == MentionKind::kDate && opens_turn(mention)) ||
         is_subject_behind(mention, statement)))
      topic = &mention;
  }
  if (topic != nullptr) return topic;
  // "Took 2 Flight over in May and kept it until July": of whoever the sentence told of before.
  if (own.kind == ClauseKind::kCoordinate && is_had_in(clause)) return person_before(statement);
  if (own.kind != ClauseKind::kRelative && own.kind != ClauseKind::kBracket) return nullptr;
  constexpr std::uint32_t kReach = 3;  // "Major Edwin Marlock DSC, who"
  const Mention* before = nullptr;
  for (const Mention& mention : mentions_.items) {
    if (mention.last > own.first || own.first - mention.last > kReach) continue;
    if (mention.kind == MentionKind::kPerson || mention.kind == MentionKind::kUnit)
      before = &mention;
  }
  // "4 Wing, which it had joined in June": told of whatever "it" is.
  const bool is_object = before != nullptr && before->kind == MentionKind::kUnit &&
                         is_in("relative_word", own.first) &&
                         is_in("machine_pronoun", own.first + 1);
  return is_object ? nullptr : before;
}

// Whether the words right behind a name tell what began or ended for it.
bool BlockAssembler::opens_turn(const Mention& name) const {
  constexpr std::uint32_t kReach = 2;  // "was formed", "itself moved"
  for (const std::uint32_t c : index_.of("cue_turn")) {
    const Mention& cue = mentions_.items[c];
    if (cue.first >= name.last && cue.first - name.last < kReach &&
        clauses_.clause_of[cue.first] == clauses_.clause_of[name.first])
      return true;
  }
  return false;
}

// "Lidgate left 914 Squadron in March": told of him, and not of what he left.
bool BlockAssembler::is_turned_to(std::uint32_t token, std::uint32_t opening) const {
  const auto turns = index_.of("cue_turn");
  return std::any_of(turns.begin(), turns.end(), [&](std::uint32_t c) {
    const Mention& cue = mentions_.items[c];
    if (cue.last != token || cue.first <= opening) return false;
    return std::any_of(mentions_.items.begin(), mentions_.items.end(), [&](const Mention& other) {
      const bool may_turn = other.kind == MentionKind::kPerson || other.kind == MentionKind::kUnit;
      return may_turn && other.first >= opening && other.last <= cue.first;
    });
  });
}

bool BlockAssembler::is_subject_behind(const Mention& unit, const Mention& date) const {
  constexpr std::uint32_t kOpening = 3;
  const Clause& own = clauses_.clauses[clauses_.clause_of[date.first]];
  if (date.kind != MentionKind::kDate || unit.first < date.last ||
      date.first - own.first > kOpening)
    return false;
  // "Formed in July, 923 Squadron".
  const auto turns = index_.of("cue_turn");
  const bool opens_with_turn = std::any_of(turns.begin(), turns.end(), [&](std::uint32_t c) {
    return mentions_.items[c].first == own.first && mentions_.items[c].last <= date.first;
  });
  if (!opens_with_turn && !tells_of_itself(unit)) return false;
  for (std::uint32_t t = date.last; t < unit.first; ++t) {
    if (word(t) != "," && office(t) != "the") return false;
  }
  return true;
}

bool BlockAssembler::has_machine(std::uint32_t clause) const {
  return std::any_of(groups_.begin(), groups_.end(),
                     [&](const Group& group) { return group.clause == clause; });
}

// "He", "who": what is told is told of a person.
bool BlockAssembler::is_told_of_person(std::uint32_t clause) const {
  const Clause& own = clauses_.clauses[clause];
  if (!has_word_of("person_pronoun")) return false;
  constexpr std::uint32_t kReach = 2;
  std::uint32_t first = own.first;
  // "In March 1942 he left it".
  for (std::uint32_t t = own.first; t < own.last; ++t) {
    if (is_in("person_pronoun", t)) {
      if (follows_only_date(own.first, t)) first = t;
      break;
    }
  }
  for (std::uint32_t t = first; t < std::min(own.last, first + kReach); ++t) {
    if (is_in("person_pronoun", t) && office(t) != "she" && office(t) != "they") return true;
  }
  return false;
}

// "Figure 2, which was taken at Oskerry in November 1942, is the only view of her": the figure of
// which running text tells where and when it was taken.
const Mention* BlockAssembler::picture_told_of(const Mention& what) const {
  if (is_caption()) return nullptr;
  const Mention* picture = nullptr;
  for (const Mention& other : mentions_.items) {
    if (other.first >= what.first) break;
    if (clauses_.sentence_of[other.first] != clauses_.sentence_of[what.first]) continue;
    if (other.kind == MentionKind::kReference) {
      picture = &other;
    } else if (other.kind == MentionKind::kAirframe || other.kind == MentionKind::kPerson ||
               other.kind == MentionKind::kUnit || other.role == kEventCue) {
      picture = nullptr;
    }
  }
  if (picture == nullptr || attributed_[picture->first] != 0) return nullptr;
  return stands_between(picture->last, what.first, "picture_taken") ? picture : nullptr;
}

NameList BlockAssembler::date_subjects(const Mention& date, std::string& owner) const {
  const std::uint32_t sentence = clauses_.sentence_of[date.first];
  if (owner == "order") {
    const Mention* order = nullptr;
    for (const Mention& mention : mentions_of(MentionKind::kOrder)) {
      if (clauses_.sentence_of[mention.first] > sentence) continue;
      // "Withdrawn in 1939, but kept above the wing until 1942, when FNO 14/42 replaced it".
      const std::uint32_t clause = clauses_.clause_of[mention.first];
      const bool is_aside = clauses_.clauses[clause].kind == ClauseKind::kSubordinate ||
                            clauses_.clauses[clause].kind == ClauseKind::kRelative;
      if (mention.first > date.first && is_aside && clause != clauses_.clause_of[date.first])
        continue;
      if (order == nullptr || mention.last <= date.first) order = &mention;
    }
    if (order != nullptr) return {order->value};
    return {is_caption() ? figure_subject() : std::string{}};
  }
  if (owner == "photograph") {
    if (const Mention* picture = picture_told_of(date)) return {picture->value};
  }
  if (owner != "event" && owner != "person")
    return {is_caption() ? figure_subject() : std::string{}};
  if (!card_.empty() && owner == "event") return {card_};
  if (const Mention* pictured = is_caption() ? nullptr : machine_pictured_on(date);
      pictured != nullptr && owner == "event")
    return {std::string(pictured->value)};
  bool is_persons = owner == "person";
  std::vector<std::string> subjects = statement_subjects(date, is_persons);
  if (is_persons) owner = "person";
  if (subjects.empty()) subjects = {is_caption() ? figure_subject() : std::string{}};
  return subjects;
}

// Of whom the clause of a mention tells: the machine, else the person or unit that it is about,
// else whoever the sentence or a pronoun stands for.
NameList BlockAssembler::statement_subjects(const Mention& mention, bool& is_persons) const {
  const std::uint32_t clause = clauses_.clause_of[mention.first];
  const Mention* topic = topic_of(mention);
  if (const Mention* unit = nullptr; topic == nullptr && opens_with_unit_noun(clause, unit)) {
    return unit == nullptr ? std::vector<std::string>{} : std::vector<std::string>{unit->value};
  }
  if (topic == nullptr && mention.kind == MentionKind::kDate && !is_persons) {
    const Mention* turn = turn_word_of(mention);
    const Mention* unit = turn == nullptr ? nullptr : unit_spoken_of(turn->first);
    if (unit != nullptr) return {unit->value};
  }
  const bool of_person = is_persons || is_told_of_person(clause);
  if (of_person && (topic == nullptr || topic->kind != MentionKind::kPerson)) {
    for (const Mention& other : mentions_of(MentionKind::kPerson)) {
      if (other.last <= mention.first && !is_only_compared(other, mention.first)) topic = &other;
    }
  }
  const bool has_person = topic != nullptr && topic->kind == MentionKind::kPerson;
  if (is_persons) {
    if (has_person) return {topic->value};
    return focus_.person.empty() ? std::vector<std::string>{}
                                 : std::vector<std::string>{focus_.person};
  }
  // "47 Squadron was formed on 15 April and received KD501": told of the unit before any machine is
  // named.
  const bool is_of_unit = topic != nullptr && topic->kind == MentionKind::kUnit &&
                          topic->last <= mention.first && tells_of_itself(*topic) &&
                          std::none_of(groups_.begin(), groups_.end(), [&](const Group& group) {
                            return group.clause == clause && group.first < mention.first;
                          });
  // "Who came in March 1943 and was lost with P306": of the person, before any machine is named.
  const bool is_before_machine =
      of_person && has_person && mention.kind == MentionKind::kDate &&
      clauses_.clauses[clause].kind == ClauseKind::kRelative &&
      std::none_of(groups_.begin(), groups_.end(), [&](const Group& group) {
        return group.clause == clause && group.first < mention.first;
      });
  if ((!has_machine(clause) || is_of_unit || is_before_machine) && topic != nullptr) {
    is_persons = has_person;
    return {topic->value};
  }
  return subjects_of(mention);
}

bool BlockAssembler::is_year_of_style(const Mention& date) const {
  // "In the colours of 1934", "in 1934 colours".
  if (is_in_list("scheme_noun", date.last)) return true;
  if (date.first < 2 || office(date.first - 1) != "of") return false;
  if (is_in_list("scheme_noun", date.first - 2)) return true;
  // "A Corlan of 1937": the year of the type or of its making; "the silver of 1939 has given way to
  // two greys": that of a marking.
  return std::any_of(mentions_.items.begin(), mentions_.items.end(), [&](const Mention& other) {
    return (other.kind == MentionKind::kType || other.kind == MentionKind::kMarking) &&
           other.last + 1 == date.first;
  });
}

// "KB101, later KB201, in 1935": the number is told aside, and not the date.
bool BlockAssembler::is_in_number_aside(const Mention& cue, std::uint32_t segment) const {
  const std::uint32_t own = clauses_.segment_of[cue.first];
  if (own == segment) return false;
  return any_mention(MentionKind::kAirframe, [&](const Mention& number) {
    return number.first == cue.last && clauses_.segment_of[number.first] == own &&
           (number.role == "later_serial" || number.role == "previous_serial");
  });
}

// "Rebuilt from KB101": what it was made of, and no event of the day.
bool NounReading::is_made_from(const Mention& event) const {
  if (event.last >= mentions_.tokens.size() || office(event.last) != "from") return false;
  const Mention* number = mention_over(MentionKind::kAirframe, event.last + 1);
  return number != nullptr && number->first == event.last + 1;
}

// "The fire of 20 February, in which KB201 burnt out": what befell on the day of what it names.
bool BlockAssembler::is_told_in_which(const Mention& event, const Mention& date) const {
  const Clause& clause = clauses_.clauses[clauses_.clause_of[event.first]];
  constexpr std::uint32_t kReach = 2;  // ", in"
  return clause.kind == ClauseKind::kRelative && clause.first >= date.last &&
         clause.first - date.last <= kReach && office(clause.first) == "which" &&
         clause.first > date.last && is_in("object_preposition", clause.first - 1);
}

}  // namespace tailproof
