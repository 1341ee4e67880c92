// Who was with a unit, where other words stand between the two: "Crewe, a Captain since May, was
// flying with 9 Squadron", "among the pilots of 9 Squadron that August was Crewe", "Crewe's
// squadron in August was No. 9", "Crewe left 7 Squadron for 9 Squadron"; and who had a unit that is
// only spoken of: "its commander was Crewe", "Crewe was in charge".
#include <algorithm>

#include "claims/assembler.h"

namespace tailproof {

// The name right before the aside that closes with this comma: "Crewe, who had it from the start,".
const Mention* BlockReading::name_before_aside(std::uint32_t comma) const {
  constexpr std::uint32_t kLongestAside = 18;
  for (std::uint32_t open = comma; open-- > 1 && comma - open <= kLongestAside;) {
    if (clauses_.sentence_of[open] != clauses_.sentence_of[comma]) return nullptr;
    const Mention* name = word(open) == "," ? mention_ending_at(open) : nullptr;
    const bool is_name = name != nullptr && (name->kind == MentionKind::kPerson ||
                                             name->kind == MentionKind::kAirframe);
    if (is_name) return name;
  }
  return nullptr;
}

// Back from the preposition before the unit, over words of being there, times, places and what
// commas set apart right behind the name, to the name with which its clause begins.
const Mention* BlockReading::person_told_with(const Mention& unit) const {
  constexpr std::uint32_t kLongest = 24;
  std::uint32_t t = unit.first;
  if (t > 0 && office(t - 1) == "the") --t;
  if (t < 2 || !is_in("with_preposition", t - 1)) return nullptr;
  --t;
  const std::uint32_t begin = begin_of_sentence(unit.first);
  bool has_verb = false;
  const Mention* person = nullptr;
  while (t > begin && unit.first - t < kLongest) {
    const Mention* over = mention_at(t - 1);
    if (over != nullptr && over->kind == MentionKind::kPerson) {
      person = over;
      break;
    }
    const bool is_passed =
        over != nullptr && (over->kind == MentionKind::kDate || over->kind == MentionKind::kPlace ||
                            over->kind == MentionKind::kAward);
    if (is_passed) {
      t = over->first;
      continue;
    }
    if (word(t - 1) == ",") {
      const Mention* name = name_before_aside(t - 1);
      if (name == nullptr || name->kind != MentionKind::kPerson) return nullptr;
      person = name;
      break;
    }
    const bool is_verb = is_in("being_with", t - 1);
    if (!is_verb && !is_in("with_filler", t - 1) && !is_in_list("person_noun", t - 1))
      return nullptr;
    has_verb = has_verb || is_verb;
    --t;
  }
  if (person == nullptr || !has_verb || is_possessive(*person)) return nullptr;
  // The name is what the clause tells of: a date, a rank or a joint may stand before it, or in
  // "Reeve and Crewe were" another name.
  const std::uint32_t clause = clauses_.clause_of[person->first];
  std::uint32_t first = begin_of_name(*person);
  if (first > 1 && is_in("event_conjunction", first - 1)) {
    const Mention* other = mention_ending_at(first - 1);
    if (other != nullptr && other->kind == MentionKind::kPerson) first = other->first;
  }
  const bool is_first =
      std::none_of(mentions_.items.begin(), mentions_.items.end(), [&](const Mention& other) {
        return other.first < first && clauses_.clause_of[other.first] == clause &&
               (other.kind == MentionKind::kPerson || other.kind == MentionKind::kAirframe ||
                other.kind == MentionKind::kUnit);
      });
  return is_first ? person : nullptr;
}

// "Among the pilots of 9 Squadron in August was Crewe."
const Mention* BlockReading::person_told_behind(const Mention& unit) const {
  std::uint32_t t = unit.first;
  if (t > 0 && office(t - 1) == "the") --t;
  const bool is_of_people = t > 2 && is_in("with_preposition", t - 1) &&
                            is_in_list("person_noun", t - 2) && is_in("among_word", t - 4);
  if (!is_of_people) return nullptr;
  std::uint32_t be = unit.last;
  const auto count = static_cast<std::uint32_t>(mentions_.tokens.size());
  while (be < count && (mention_over(MentionKind::kDate, be) != nullptr || word(be) == "," ||
                        is_in("day_preposition", be) || is_in("year_preposition", be)))
    ++be;
  if (!is_in("being_word", be)) return nullptr;
  constexpr std::uint32_t kReach = 5;
  for (std::uint32_t p = be + 1; p < count && p - be <= kReach; ++p) {
    if (const Mention* person = mention_over(MentionKind::kPerson, p)) return person;
    if (mentions_.tokens[p].kind == TokenKind::kMark && word(p) != ".") return nullptr;
  }
  return nullptr;
}

// "Crewe's squadron in August was No. 9": the one whose it is called.
const Mention* BlockReading::person_owning(const Mention& unit) const {
  if (!has_word_of("own_unit_noun") || is_possessive(unit)) return nullptr;
  std::uint32_t t = unit.first;
  if (t > 0 && office(t - 1) == "the") --t;
  if (t < 3 || !is_in("being_word", t - 1)) return nullptr;
  --t;
  while (t > 0) {
    const Mention* date = mention_ending_at(t);
    if (date != nullptr && date->kind == MentionKind::kDate) {
      t = date->first;
    } else if (is_in("day_preposition", t - 1) || is_in("use_adverb", t - 1)) {
      --t;
    } else {
      break;
    }
  }
  if (t < 2 || !is_in("own_unit_noun", t - 1)) return nullptr;
  const Mention* owner = nullptr;
  for (const Mention& person : mentions_of(MentionKind::kPerson)) {
    if (person.last <= t - 1 && t - 1 - person.last <= 2 && is_possessive(person)) owner = &person;
  }
  return owner;
}

// "In August 9 Squadron's fitter was Crewe": whom the words behind name.
const Mention* BlockReading::person_of_its(const Mention& unit) const {
  if (!is_possessive(unit)) return nullptr;
  std::uint32_t t = unit.last;
  while (t < mentions_.tokens.size() && t - unit.last < 2 &&
         (mentions_.tokens[t].kind == TokenKind::kMark || folded(t) == "s"))
    ++t;
  if (!is_in("person_noun", t) || mention_at(t) != nullptr) return nullptr;
  ++t;
  while (mention_over(MentionKind::kDate, t) != nullptr || is_in("day_preposition", t)) ++t;
  return is_in("was_word", t) ? name_behind(t + 1) : nullptr;
}

// The unit that is left for this one, and the verb before it: "left the Fourth for the Fifth",
// "came from the Fourth to the Fifth".
const Mention* BlockReading::unit_left_for(const Mention& unit) const {
  if (!has_word_of("quitting_verb") && !has_word_of("going_verb")) return nullptr;
  std::uint32_t t = unit.first;
  while (t > 0 && (office(t - 1) == "the" || is_in("goal_adjective", t - 1))) --t;
  if (t < 3 || (office(t - 1) != "for" && office(t - 1) != "to")) return nullptr;
  const bool is_way = office(t - 1) == "to";
  --t;
  // "Left the Fourth in May for the Fifth".
  const Mention* date = mention_ending_at(t);
  if (date != nullptr && date->kind == MentionKind::kDate) {
    t = date->first;
    if (t > 0 && is_in("day_preposition", t - 1)) --t;
  }
  const Mention* left = mention_ending_at(t);
  if (left == nullptr || left->kind != MentionKind::kUnit || is_possessive(*left)) return nullptr;
  std::uint32_t verb = left->first;
  if (verb > 0 && office(verb - 1) == "the") --verb;
  // "Came from the Fourth to the Fifth".
  if (is_way)
    return verb > 1 && is_in("from_word", verb - 1) && is_in("going_verb", verb - 2) ? left
                                                                                     : nullptr;
  return verb > 0 && is_in("quitting_verb", verb - 1) ? left : nullptr;
}

// The person said to command, and where the words for it end: "[Crewe was] its commander", "its
// commander was [Crewe]", "[Crewe was] in command"; nullptr for none.
const Mention* BlockReading::commander_told(std::uint32_t first, std::uint32_t last) const {
  const auto count = static_cast<std::uint32_t>(mentions_.tokens.size());
  std::uint32_t be = last;
  while (be < count && (mention_over(MentionKind::kDate, be) != nullptr ||
                        is_in("day_preposition", be) || is_in("year_preposition", be)))
    ++be;
  const bool is_inverted = is_in("being_word", be) || (be == last && word(be) == ",");
  constexpr std::uint32_t kReach = 6;
  if (is_inverted) {
    for (std::uint32_t p = be + 1; p < count && p - be <= kReach; ++p) {
      const Mention* person = mention_over(MentionKind::kPerson, p);
      if (person != nullptr) return is_possessive(*person) ? nullptr : person;
      const bool is_rank = mention_over(MentionKind::kRank, p) != nullptr || word(p) == "." ||
                           office(p) == "the" || is_in("use_adverb", p);
      if (!is_rank) break;
    }
  }
  std::uint32_t t = first;
  while (t > 0 && (is_in("being_word", t - 1) || is_in("use_adverb", t - 1) ||
                   office(t - 1) == "as" || office(t - 1) == "who" || word(t - 1) == "," ||
                   mention_over(MentionKind::kAward, t - 1) != nullptr))
    --t;
  const Mention* person = t > 0 && t < first ? mention_ending_at(t) : nullptr;
  // "Crewe, who had it from the start, was still its commander".
  if (person == nullptr && t < first && word(t) == ",") person = name_before_aside(t);
  // "He had been with it from the start, and was in command from May".
  const bool is_joined = t > 0 && t < first && is_in("event_conjunction", t - 1);
  const bool is_named = person != nullptr && person->kind == MentionKind::kPerson;
  if (!is_named && t > 0 && t < first && (is_joined || office(t - 1) == "he"))
    person = only_person_before(t);
  const bool is_name = person != nullptr && person->kind == MentionKind::kPerson;
  return is_name && !is_possessive(*person) ? person : nullptr;
}

// The only person whom the sentence has named before the token or, where it has named none, the
// sentence before.
const Mention* BlockReading::only_person_before(std::uint32_t token) const {
  const std::uint32_t sentence = clauses_.sentence_of[token];
  const Mention* found = nullptr;
  for (const Mention& person : mentions_of(MentionKind::kPerson)) {
    if (person.last > token) break;
    const std::uint32_t own = clauses_.sentence_of[person.first];
    if (own + 1 < sentence) continue;
    const bool is_same_sentence = found != nullptr && clauses_.sentence_of[found->first] == own;
    if (is_same_sentence && found->value != person.value) return nullptr;
    found = &person;
  }
  return found;
}

// The unit named last before, in this sentence or the one before; nullptr where several share the
// place.
const Mention* BlockReading::unit_spoken_before(std::uint32_t token) const {
  const std::uint32_t sentence = clauses_.sentence_of[token];
  const Mention* unit = nullptr;
  std::uint32_t in = 0;
  bool is_one = true;
  for (const Mention& other : mentions_of(MentionKind::kUnit)) {
    if (other.last > token) break;
    const std::uint32_t own = clauses_.sentence_of[other.first];
    if (own + 1 < sentence) continue;
    is_one = unit == nullptr || own != in || unit->value == other.value;
    unit = &other;
    in = own;
  }
  return is_one && unit != nullptr && unit->known && unit->readings.empty() ? unit : nullptr;
}

// "Its chief instructor": the words go on to an office of another sort.
bool BlockReading::is_of_other_office(std::uint32_t token) const {
  if (token >= mentions_.tokens.size()) return false;
  const Token& next = mentions_.tokens[token];
  return next.kind == TokenKind::kWord && !next.capital && mention_at(token) == nullptr &&
         !is_in("function_word", token) && !is_in("being_word", token) &&
         !is_in("use_adverb", token);
}

// "The Ninth, lent by the Sixth, had two machines. They were its whole strength. Crewe was in
// command of it": the unit with which the sentence but one before opens, where the one before goes
// on about it, and he ever commanded it.
const Mention* BlockAssembler::unit_gone_on_about(std::uint32_t token,
                                                  const Mention& person) const {
  const std::uint32_t sentence = clauses_.sentence_of[token];
  if (sentence < 2) return nullptr;
  const std::uint32_t middle = clauses_.sentence_first[sentence - 1];
  const std::uint32_t first = clauses_.sentence_first[sentence - 2];
  if (!stands_between(middle, clauses_.sentence_first[sentence], "unit_in_short")) return nullptr;
  const Mention* opening = nullptr;
  for (const Mention& unit : mentions_of(MentionKind::kUnit)) {
    if (unit.first >= middle && unit.first < token) return nullptr;
    if (unit.first >= first && unit.first < middle && opening == nullptr) opening = &unit;
  }
  constexpr std::uint32_t kArticle = 1;
  if (opening == nullptr || opening->first - first > kArticle || !opening->known ||
      !opening->readings.empty())
    return nullptr;
  const auto rows = ledger_.service_of(person.value);
  const bool is_his = std::any_of(rows.begin(), rows.end(), [&](const Service* row) {
    return row->kind == "command" && row->value == opening->value;
  });
  return is_his ? opening : nullptr;
}

// "Its commander was Crewe", "Crewe was in charge": of the unit spoken of, in running text.
void BlockAssembler::add_commands_of_spoken() {
  if (is_caption() || !has_word_of("its_command_word")) return;
  const auto count = static_cast<std::uint32_t>(mentions_.tokens.size());
  for (std::uint32_t t = next_of("its_command_word", 1, count); t < count;
       t = next_of("its_command_word", t + 1, count)) {
    if (mention_at(t) != nullptr) continue;
    const std::string_view lead = value_in(lexicon_.grammars().list("its_command_word"), t);
    std::uint32_t first = t, last = t + 1;
    if (lead == "verb") {
      // "Joined the Fourth in May and commanded it from June".
      if (!is_in("unit_it", last)) continue;
      ++last;
      if (is_in("pluperfect_auxiliary", first - 1)) continue;
    } else if (lead == "office") {
      // "Its commander", "its commanding officer".
      if (is_in("its_command_word", t - 1)) continue;
      if (is_in("its_command_word", last)) ++last;
      first = t - 1;
      if (office(first) != "its" || is_of_other_office(last)) continue;
    } else {
      // "In command", "in charge", "in command of it".
      first = t - 1;
      if (first == 0 || !is_in("in_word", first)) continue;
      if (office(last) == "of" && is_in("unit_it", last + 1)) {
        last += 2;
      } else if (office(last) == "of") {
        continue;
      }
      if (is_in("pluperfect_auxiliary", first - 1)) continue;
    }
    const Mention* unit = unit_spoken_before(first);
    const Mention* person = commander_told(first, last);
    if (person == nullptr || !person->known || !person->readings.empty()) continue;
    if (unit == nullptr) unit = unit_gone_on_about(first, *person);
    if (unit == nullptr) continue;
    Mention here = words_of(first, last);
    here.kind = MentionKind::kUnit;
    here.value = unit->value;
    Claim pattern;
    pattern.value = unit->value;
    pattern.role = "command";
    pattern.subject = person->value;
    pattern.why = "the unit named before";
    add_for_subjects(here, ClaimKind::kUnit, {}, pattern);
  }
}

}  // namespace tailproof
