// Claims of units: whose they are, a machine's, a person's or nobody's, and in which role.
#include <algorithm>

#include "claims/assembler.h"
#include "grammars/fold.h"

namespace tailproof {

// "Crewe of 61 Squadron", "Crewe (61 Sqn)", "Crewe, CC, 61 Sqn", "Crewe (CO, 61 Sqn)": between them
// only marks, ranks, awards and these small words.
bool BlockAssembler::is_unit_of(const Mention& person, const Mention& unit) const {
  const WordList* small = lexicon_.grammars().list("between_person_and_unit");
  if (small == nullptr) return false;
  for (std::uint32_t t = person.last; t < unit.first; ++t) {
    const std::string_view w = word(t);
    if (w == ";" || w == ":") return false;
    if (mentions_.tokens[t].kind == TokenKind::kMark || !small->value_of(fold(w)).empty()) continue;
    const bool inside =
        std::any_of(mentions_.items.begin(), mentions_.items.end(), [&](const Mention& m) {
          return (m.kind == MentionKind::kAward || m.kind == MentionKind::kRank) && m.first <= t &&
                 t < m.last;
        });
    if (!inside) return false;
  }
  return true;
}

// "A pilot of 917 Squadron", "fitters of the 5th": somebody's unit, and not the aircraft's.
bool BlockAssembler::is_of_unnamed_person(const Mention& unit) const {
  const WordList* nouns = lexicon_.grammars().list("person_noun");
  if (nouns == nullptr) return false;
  std::uint32_t t = unit.first;
  while (t > 0 && unit.first - t < 2 && fold(word(t - 1)) == "the") --t;
  if (t < 2) return false;
  const std::string preposition = fold(word(t - 1));
  if (preposition != "of" && preposition != "from") return false;
  return !nouns->value_of(fold(word(t - 2))).empty();
}

// "Captains Nath and Merrow, commanding the 9th and 13th": names and units in the same order, if
// there are as many.
const Mention& BlockAssembler::person_in_order(const Mention& unit, const Mention& last) const {
  const auto list_around = [&](const Mention& member, MentionKind kind) {
    std::vector<const Mention*> list;
    for (const Mention& other : mentions_.items) {
      if (other.kind != kind ||
          clauses_.sentence_of[other.first] != clauses_.sentence_of[member.first])
        continue;
      if (!list.empty() && other.first > list.back()->last + 2) {
        if (list.back()->first >= member.first) break;
        list.clear();
      }
      list.push_back(&other);
    }
    return list;
  };
  const auto persons = list_around(last, MentionKind::kPerson);
  const auto units = list_around(unit, MentionKind::kUnit);
  if (persons.size() < 2 || persons.size() != units.size()) return last;
  for (std::size_t i = 0; i < units.size(); ++i) {
    if (units[i] == &unit) return *persons[i];
  }
  return last;
}

void BlockAssembler::add_units() {
  for (const Mention& mention : mentions_.items) {
    if (mention.kind != MentionKind::kUnit) continue;
    Claim pattern;
    pattern.value = mention.value;
    pattern.readings = mention.readings;
    pattern.known = mention.known;
    // A person's unit: the name stands just before it, or it is commanded.
    const Mention* person = nullptr;
    for (const Mention& other : mentions_.items) {
      if (other.kind == MentionKind::kPerson && other.last <= mention.first &&
          mention.first - other.last <= 9 &&
          clauses_.sentence_of[other.first] == clauses_.sentence_of[mention.first]) {
        person = &other;
      }
    }
    const bool between_is_plain = person != nullptr && is_unit_of(*person, mention);
    const Mention* command = cue_before(mention, "cue_unit_command", 3);
    if (command != nullptr && person == nullptr) {
      for (const Mention& other : mentions_.items) {
        if (other.kind == MentionKind::kPerson &&
            clauses_.sentence_of[other.first] == clauses_.sentence_of[mention.first] &&
            other.last <= command->first) {
          person = &other;
        }
      }
    }
    if (person != nullptr && (between_is_plain || command != nullptr)) {
      pattern.role = command != nullptr ? "command" : "member";
      if (cue_before(mention, "cue_unit_former", 3) != nullptr) pattern.tense = Tense::kFormer;
      if (cue_before(mention, "cue_unit_later", 3) != nullptr) pattern.tense = Tense::kLater;
      pattern.subject = person_in_order(mention, *person).value;
      pattern.why = "the person before it";
      add_for_subjects(mention, ClaimKind::kUnit, {}, pattern);
      continue;
    }
    if (is_in_who_clause(mention)) {
      pattern.tense = Tense::kFormer;
      add_for_subjects(mention, ClaimKind::kUnit, {}, pattern);
      continue;
    }
    if (is_of_unnamed_person(mention)) {
      pattern.role = "member";
      // "Pilots of 15 Company" are in the picture; "photographed by a sergeant of the 4th" is not.
      if (is_caption() && cue_before(mention, "cue_not_pictured", 5) == nullptr)
        pattern.subject = figure_subject();
      add_for_subjects(mention, ClaimKind::kUnit, {}, pattern);
      continue;
    }
    if (cue_before(mention, "cue_unit_operator", 2) != nullptr) pattern.role = "operator";
    if (cue_before(mention, "cue_unit_holder", 2) != nullptr) pattern.role = "holder";
    if (cue_before(mention, "cue_unit_former", 3) != nullptr) pattern.role = "former";
    // "formerly 7Q-C of 61 Sqn": over a code to its unit.
    const std::string before_unit = mention.first > 0 ? fold(word(mention.first - 1)) : "";
    if ((before_unit == "of" || before_unit == "with") &&
        cue_before(mention, "cue_unit_former", 6) != nullptr) {
      pattern.role = "former";
    }
    if (mention.first > 0 && fold(word(mention.first - 1)) == "from") pattern.role = "former";
    // "The Depot issued V/113 to 12 Company": who gives has it no longer.
    const WordList* giving = lexicon_.grammars().list("giving_verb");
    if (giving != nullptr && mention.last < mentions_.tokens.size() &&
        !giving->value_of(fold(word(mention.last))).empty()) {
      pattern.role = "former";
    }
    if (cue_before(mention, "cue_unit_later", 3) != nullptr) pattern.role = "later";
    if (pattern.role == "former" || (is_caption() && is_past(mention)))
      pattern.tense = Tense::kFormer;
    if (pattern.role == "later") pattern.tense = Tense::kLater;
    std::vector<std::string> subjects = subjects_of(mention);
    if (const Group* group = group_for(mention.first, mention.last, &pattern.why)) {
      // "S3001 and S3004 of 911 and 917 Squadrons": one each.
      if (mention.list != 0 && group->serials.size() > 1) {
        std::size_t at = 0, count = 0;
        for (const Mention& other : mentions_.items) {
          if (other.kind != MentionKind::kUnit || other.list != mention.list) continue;
          if (&other == &mention) at = count;
          ++count;
        }
        if (count == group->serials.size()) subjects = {group->serials[at]};
      } else if (mention.list != 0) {
        subjects.clear();
      }
    }
    if (subjects.empty()) pattern.subject = is_caption() ? figure_subject() : "";
    add_for_subjects(mention, ClaimKind::kUnit, subjects, pattern);
  }
}

// "Orrock, who had brought the Magpies up from Dunmerrin": told of the person.
bool BlockAssembler::is_in_who_clause(const Mention& mention) const {
  const Clause& clause = clauses_.clauses[clauses_.clause_of[mention.first]];
  if (clause.kind != ClauseKind::kRelative) return false;
  const std::string opener = fold(word(clause.first));
  return opener == "who" || opener == "whom";
}

}  // namespace tailproof
