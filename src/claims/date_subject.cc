// Whose a date is that is not the picture's: the machine's, the unit's, the person's or the order's
// that its clause speaks of.
#include <algorithm>

#include "claims/assembler.h"
#include "grammars/fold.h"

namespace tailproof {

// What a clause is about: the person or unit named first in it, or, in a relative clause, right
// before it. A unit behind "of", "by", "with" belongs to somebody else's statement.
const Mention* BlockAssembler::topic_of(std::uint32_t clause) const {
  const Clause& own = clauses_.clauses[clause];
  const WordList* prepositions = lexicon_.grammars().list("object_preposition");
  const auto is_topic = [&](const Mention& mention) {
    if (mention.kind == MentionKind::kPerson) return true;
    if (mention.kind != MentionKind::kUnit) return false;
    std::uint32_t before = mention.first;
    if (before > 0 && fold(word(before - 1)) == "the") --before;
    return before == 0 || prepositions == nullptr || before == own.first ||
           prepositions->value_of(fold(word(before - 1))).empty();
  };
  for (const Mention& mention : mentions_.items) {
    if (clauses_.clause_of[mention.first] == clause && is_topic(mention)) return &mention;
  }
  if (own.kind != ClauseKind::kRelative && own.kind != ClauseKind::kBracket) return nullptr;
  constexpr std::uint32_t kReach = 3;  // "Major Edwin Marlock DSC, who"
  const Mention* before = nullptr;
  for (const Mention& mention : mentions_.items) {
    if (mention.last > own.first || own.first - mention.last > kReach) continue;
    if (mention.kind == MentionKind::kPerson || mention.kind == MentionKind::kUnit)
      before = &mention;
  }
  return before;
}

bool BlockAssembler::has_machine(std::uint32_t clause) const {
  return std::any_of(groups_.begin(), groups_.end(),
                     [&](const Group& group) { return group.clause == clause; });
}

// "He", "who": what is told is told of a person.
bool BlockAssembler::is_told_of_person(std::uint32_t clause) const {
  const Clause& own = clauses_.clauses[clause];
  const WordList* pronouns = lexicon_.grammars().list("person_pronoun");
  if (pronouns == nullptr) return false;
  constexpr std::uint32_t kReach = 2;
  for (std::uint32_t t = own.first; t < std::min(own.last, own.first + kReach); ++t) {
    const std::string w = fold(word(t));
    if (w != "she" && w != "they" && !pronouns->value_of(w).empty()) return true;
  }
  return false;
}

std::vector<std::string> BlockAssembler::date_subjects(const Mention& date,
                                                       std::string& owner) const {
  const std::uint32_t clause = clauses_.clause_of[date.first];
  const std::uint32_t sentence = clauses_.sentence_of[date.first];
  if (owner == "order") {
    const Mention* order = nullptr;
    for (const Mention& mention : mentions_.items) {
      if (mention.kind != MentionKind::kOrder || clauses_.sentence_of[mention.first] > sentence)
        continue;
      if (order == nullptr || mention.last <= date.first) order = &mention;
    }
    if (order != nullptr) return {order->value};
    return {is_caption() ? figure_subject() : std::string{}};
  }
  const Mention* topic = topic_of(clause);
  const bool of_person = owner == "person" || is_told_of_person(clause);
  if (of_person && (topic == nullptr || topic->kind != MentionKind::kPerson)) {
    for (const Mention& mention : mentions_.items) {
      if (mention.kind == MentionKind::kPerson && mention.last <= date.first) topic = &mention;
    }
  }
  const bool is_persons = topic != nullptr && topic->kind == MentionKind::kPerson;
  if (owner == "person") return {is_persons ? topic->value : focus_.person};
  if (owner != "event") return {is_caption() ? figure_subject() : std::string{}};
  if (!has_machine(clause) && topic != nullptr) {
    if (is_persons) owner = "person";
    return {topic->value};
  }
  std::vector<std::string> subjects = subjects_of(date);
  if (!subjects.empty()) return subjects;
  return {is_caption() ? figure_subject() : std::string{}};
}

}  // namespace tailproof
