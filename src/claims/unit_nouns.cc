// "The squadron", "the flight", "kept it until August": a unit that the text has named before.
#include <algorithm>

#include "claims/assembler.h"
#include "grammars/fold.h"

namespace tailproof {

namespace {

// "Company" of "11 Company", whatever its kind is in the ledger.
bool ends_with_word(std::string_view name, std::string_view folded_word) {
  if (name.size() <= folded_word.size()) return false;
  const std::size_t blank = name.size() - folded_word.size() - 1;
  return name[blank] == ' ' && fold(name.substr(blank + 1)) == folded_word;
}

// The one unit of that kind, by the ledger, that somebody commanded at any time; null when there
// are several.
const Unit* unit_commanded(const Ledger& ledger, std::string_view person, std::string_view kind) {
  const Unit* found = nullptr;
  for (const Service* row : ledger.service_of(person)) {
    const Unit* unit = row->kind == "command" ? ledger.unit(row->value) : nullptr;
    if (unit == nullptr || (unit->kind != kind && !ends_with_word(unit->unit, kind))) continue;
    if (found != nullptr && found->unit != unit->unit) return nullptr;
    found = unit;
  }
  return found;
}

}  // namespace

// The kind that the noun stands for, where it names no unit by itself, or else, with a capital, the
// last word of a unit that the block names; "" for any other word.
std::string_view BlockAssembler::unit_noun_at(std::uint32_t token) const {
  if (token == 0 || office(token - 1) != "the") return {};
  if (mention_over(MentionKind::kUnit, token) != nullptr) return {};
  const WordList* nouns = lexicon_.grammars().list("unit_word");
  const std::string_view kind = nouns == nullptr ? std::string_view{} : value_in(nouns, token);
  if (!kind.empty() || token >= mentions_.tokens.size() || !mentions_.tokens[token].capital)
    return kind;
  const std::string_view noun = folded(token);
  const bool is_last_word =
      any_mention(MentionKind::kUnit, [&](const Mention& unit) { return is_of_kind(unit, noun); });
  return is_last_word ? noun : std::string_view{};
}

bool BlockAssembler::is_of_kind(const Mention& unit, std::string_view kind) const {
  const Unit* row = ledger_.unit(unit.value);
  return row != nullptr && (row->kind == kind || ends_with_word(row->unit, kind));
}

// The one unit of that kind that the block has named before; null when there are several, or none.
const Mention* BlockAssembler::unit_of_noun(std::string_view kind, std::uint32_t before) const {
  const Mention* named = nullptr;
  for (const Mention& unit : mentions_of(MentionKind::kUnit)) {
    if (unit.last > before || !is_of_kind(unit, kind)) continue;
    if (named != nullptr && named->value != unit.value) return nullptr;
    named = &unit;
  }
  return named;
}

// "The squadron" as such a unit, of which somebody was a member or the commander.
void BlockAssembler::add_unit_by_noun(const Mention& named, std::uint32_t article,
                                      const Mention& person, std::string_view role) {
  Mention noun = named;
  noun.first = article;
  noun.last = article + 2;
  noun.begin = mentions_.tokens[noun.first].begin;
  noun.end = mentions_.tokens[noun.last - 1].end;
  Claim pattern;
  pattern.value = named.value;
  pattern.readings = named.readings;
  pattern.role = role;
  pattern.subject = person.value;
  pattern.why = "the noun stands for it";
  add_for_subjects(noun, ClaimKind::kUnit, {}, pattern);
}

// "The Patrol", and no name that the ledger has.
bool BlockReading::is_capital_noun(std::uint32_t token) const {
  return token > 0 && token < mentions_.tokens.size() && office(token - 1) == "the" &&
         mentions_.tokens[token].capital && mention_at(token) == nullptr;
}

// "Led by Crewe himself, who was still in command": whom such a clause is about, where the verb is
// its first.
const Mention* BlockReading::person_before_who(const Mention& cue) const {
  const Clause& clause = clauses_.clauses[clauses_.clause_of[cue.first]];
  if (clause.kind != ClauseKind::kRelative || office(clause.first) != "who") return nullptr;
  for (std::uint32_t t = clause.first + 1; t < cue.first; ++t) {
    if (!is_in("event_auxiliary", t) && !is_in("use_adverb", t)) return nullptr;
  }
  std::uint32_t end = clause.first;
  while (end > 0 && (word(end - 1) == "," || is_in("himself_word", end - 1) ||
                     mention_over(MentionKind::kAward, end - 1) != nullptr))
    --end;
  const Mention* name = end > 0 ? mention_ending_at(end) : nullptr;
  return name != nullptr && name->kind == MentionKind::kPerson && !is_possessive(*name) ? name
                                                                                        : nullptr;
}

// "In 1943 he was still in command of the squadron": of the one that he commanded some time.
void BlockAssembler::add_commands_by_noun() {
  for (const std::uint32_t c : index_.of("cue_unit_command")) {
    const Mention cue = mentions_.items[c];
    // "Had the squadron" has its noun within.
    const bool is_within = !unit_noun_at(cue.last - 1).empty();
    const std::uint32_t noun = is_within ? cue.last - 1 : cue.last + 1;
    std::string_view kind = unit_noun_at(noun);
    // "In command of the Patrol": the last word of the only such unit that he ever had.
    if (kind.empty() && is_capital_noun(noun)) kind = folded(noun);
    const Mention* person = kind.empty() ? nullptr : doer_of(cue);
    if (person == nullptr && !kind.empty()) person = person_before_who(cue);
    if (person == nullptr || !person->known || !person->readings.empty()) continue;
    // "Captain Crewe, commanding the squadron, is in the launch": right behind the name, that of
    // the only unit which the caption names.
    if (is_caption()) {
      const bool is_apposed =
          person->last == cue.first || (person->last + 1 == cue.first && word(person->last) == ",");
      const Mention* only = is_apposed ? unit_of_noun(kind, cue.first) : nullptr;
      const bool is_only = only != nullptr && only->known && only->readings.empty() &&
                           !any_mention(MentionKind::kUnit, [&](const Mention& other) {
                             return other.value != only->value;
                           });
      if (!is_only) continue;
      const Mention unit = *only, doer = *person;
      add_unit_by_noun(unit, noun - 1, doer, "command");
      continue;
    }
    const auto rows = ledger_.service_of(person->value);
    const Mention* named = unit_of_noun(kind, cue.first);
    const Unit* his = named == nullptr ? unit_commanded(ledger_, person->value, kind) : nullptr;
    if (his != nullptr && !any_mention(MentionKind::kUnit, [&](const Mention& other) {
          return is_of_kind(other, kind) && other.value != his->unit;
        })) {
      // "Ambrose had commanded the squadron since the spring", named a page before: his only one.
      Mention unit = words_of(noun - 1, noun + 1);
      unit.kind = MentionKind::kUnit;
      unit.value = finder_.keep(his->unit);
      const Mention doer = *person;
      add_unit_by_noun(unit, noun - 1, doer, "command");
      continue;
    }
    if (named == nullptr) continue;
    const bool is_his = std::any_of(rows.begin(), rows.end(), [&](const Service* row) {
      return row->kind == "command" && row->value == named->value;
    });
    if (!is_his) continue;
    const Mention unit = *named, doer = *person;
    add_unit_by_noun(unit, noun - 1, doer, "command");
  }
}

// "Lt Bolitho of the squadron".
void BlockAssembler::add_units_by_noun() {
  add_commands_by_noun();
  for (std::size_t i = 0; i < mentions_.items.size(); ++i) {
    if (mentions_.items[i].kind != MentionKind::kPerson) continue;
    const Mention person = mentions_.items[i];
    std::uint32_t t = person.last;
    while (t < mentions_.tokens.size() && mention_over(MentionKind::kAward, t) != nullptr) ++t;
    const std::string_view kind = office(t) == "of" ? unit_noun_at(t + 2) : std::string_view{};
    if (kind.empty()) continue;
    const Mention* named = unit_of_noun(kind, person.first);
    if (named == nullptr) continue;
    const Mention unit = *named;
    add_unit_by_noun(unit, t + 1, person, "member");
  }
}

// "X13, of the same squadron": that of the caption before, or of what this one has named already.
void BlockAssembler::add_same_units() {
  if (!is_caption()) return;
  const WordList* nouns = lexicon_.grammars().list("unit_word");
  const auto count = static_cast<std::uint32_t>(mentions_.tokens.size());
  for (std::uint32_t t = 2; t + 1 < count; ++t) {
    if (!is_in("order_same_word", t) || office(t - 1) != "the" || !is_in("same_unit_lead", t - 2))
      continue;
    const bool is_any = is_in("any_unit_noun", t + 1);
    const std::string_view kind = is_any || nouns == nullptr ? "" : value_in(nouns, t + 1);
    // "The same squadron as X12": said of a machine, and not of what was told before.
    if ((kind.empty() && !is_any) || (t + 2 < count && is_in("comparing_as", t + 2))) continue;
    std::vector<std::string> named;
    for (const Mention& unit : mentions_.items) {
      if (unit.kind == MentionKind::kUnit && unit.last <= t && (is_any || is_of_kind(unit, kind)))
        named.assign(1, std::string(unit.value));
    }
    const bool is_here = !named.empty();
    if (!is_here) named = focus_.units;
    const Unit* row = named.size() == 1 ? ledger_.unit(named.front()) : nullptr;
    if (row == nullptr || (!is_any && row->kind != kind && !ends_with_word(row->unit, kind)))
      continue;
    Mention noun;
    noun.kind = MentionKind::kUnit;
    noun.first = t - 1;
    noun.last = t + 2;
    noun.begin = mentions_.tokens[noun.first].begin;
    noun.end = mentions_.tokens[noun.last - 1].end;
    noun.value = finder_.keep(row->unit);
    Claim pattern;
    pattern.value = row->unit;
    pattern.inherited = !is_here;
    pattern.why = is_here ? "the unit named before" : "the unit of the caption before";
    const std::vector<std::string> subjects = machines_of(noun, nullptr);
    if (subjects.empty()) pattern.subject = figure_subject();
    add_for_subjects(noun, ClaimKind::kUnit, subjects, pattern);
  }
}

// The units that this caption's machines are said to be with then: for "the same squadron" in the
// next.
void BlockAssembler::hand_on_units() {
  std::vector<std::string> units;
  for (std::size_t i = first_claim_; i < out_.size(); ++i) {
    const Claim& claim = out_[i];
    const bool is_present =
        claim.role.empty() || claim.role == "holder" || claim.role == "operator";
    if (claim.kind == ClaimKind::kUnit && is_present && claim.tense == Tense::kThen &&
        !claim.negated && !claim.attributed &&
        std::find(units.begin(), units.end(), claim.value) == units.end())
      units.push_back(claim.value);
  }
  if (is_caption() && !units.empty()) focus_.units = std::move(units);
}

// "In February the squadron was at Skerra": whether a clause of running text opens with such a
// noun, and the unit with which the sentence before begins, if it is one of the kind.
bool BlockAssembler::opens_with_unit_noun(std::uint32_t clause, const Mention*& unit) const {
  const Clause& own = clauses_.clauses[clause];
  unit = nullptr;
  std::uint32_t t = own.first;
  if (t < mentions_.tokens.size() && mention_over(MentionKind::kDate, t) == nullptr &&
      t + 1 < mentions_.tokens.size() && mention_over(MentionKind::kDate, t + 1) != nullptr)
    ++t;
  while (t < own.last && (mention_over(MentionKind::kDate, t) != nullptr || word(t) == ",")) ++t;
  if (office(t) != "the") return false;
  const std::string_view kind = unit_noun_at(t + 1);
  if (kind.empty()) return false;
  const std::uint32_t sentence = clauses_.sentence_of[t];
  constexpr std::uint32_t kOpening = 1;  // "The", "No."
  for (const Mention& other : mentions_.items) {
    if (sentence == 0 || clauses_.sentence_of[other.first] + 1 != sentence ||
        other.kind != MentionKind::kUnit)
      continue;
    std::uint32_t first = other.first;
    while (first > 0 && clauses_.sentence_of[first - 1] + 1 == sentence) --first;
    if (other.first - first <= kOpening && is_of_kind(other, kind)) unit = &other;
    break;
  }
  return true;
}

// Whether the words right before a token, and those right behind it where the verb needs them, say
// that somebody has a unit, comes to it or leaves it.
bool BlockReading::is_had_by_somebody(std::uint32_t first, std::uint32_t last) const {
  if (first == 0) return false;
  const WordList* verbs = lexicon_.grammars().list("unit_object_verb");
  if (verbs == nullptr) return false;
  const std::string_view kind = value_in(verbs, first - 1);
  if (kind == "particle") return is_in("unit_verb_particle", last);
  if (kind == "until") return is_in("until_word", last) || is_in("rank_since", last);
  if (!kind.empty()) return true;
  return first > 1 && is_in("unit_object_preposition", first - 1) &&
         is_in("unit_verb_with_preposition", first - 2);
}

// Whether the clause has such words, which `stand_for_units` has found.
bool BlockReading::is_had_in(std::uint32_t clause) const {
  return any_mention(MentionKind::kUnit, [&](const Mention& unit) {
    return unit.role == "object" && clauses_.clause_of[unit.first] == clause;
  });
}

// Who was named last before in the sentence.
const Mention* BlockReading::person_before(const Mention& mention) const {
  const Mention* person = nullptr;
  for (const Mention& other : mentions_of(MentionKind::kPerson)) {
    if (other.last <= mention.first && !is_possessive(other) &&
        clauses_.sentence_of[other.first] == clauses_.sentence_of[mention.first])
      person = &other;
  }
  return person;
}

// The unit named last before such words, in this sentence or the one before, with somebody named
// since or before, and no machine, type or other thing that may be meant.
const Mention* BlockAssembler::unit_stood_for(std::uint32_t token, std::string_view kind) const {
  const std::uint32_t sentence = clauses_.sentence_of[token];
  const Mention* unit = nullptr;
  const Mention* person = nullptr;
  for (const Mention& other : mentions_.items) {
    if (other.last > token) break;
    const std::uint32_t own = clauses_.sentence_of[other.first];
    if (own + 1 < sentence) continue;
    if (other.kind == MentionKind::kPerson) person = &other;
    if (other.kind == MentionKind::kUnit && (kind.empty() || is_of_kind(other, kind)))
      unit = &other;
    const bool is_thing = other.kind == MentionKind::kAirframe ||
                          other.kind == MentionKind::kType || other.kind == MentionKind::kMarking ||
                          other.kind == MentionKind::kAward;
    if (is_thing && kind.empty()) return nullptr;
  }
  if (unit == nullptr || person == nullptr || !unit->known || !unit->readings.empty())
    return nullptr;
  // "The Second had a cat, and Treeve kept it until June."
  for (std::uint32_t t = unit->last; kind.empty() && t < token; ++t) {
    const bool is_other = (is_in("unnamed_article", t) || is_in("his_word", t)) &&
                          mention_over(MentionKind::kRank, t + 1) == nullptr &&
                          mention_over(MentionKind::kDate, t) == nullptr;
    if (is_other) return nullptr;
  }
  const auto rows = ledger_.service_of(person->value);
  const bool is_his = std::any_of(rows.begin(), rows.end(), [&](const Service* row) {
    return (row->kind == "unit" || row->kind == "command") && row->value == unit->value;
  });
  return is_his ? unit : nullptr;
}

void BlockAssembler::stand_for_units() {
  if (is_caption() || index_.of(MentionKind::kUnit).empty() ||
      index_.of(MentionKind::kPerson).empty())
    return;
  if (!has_word_of("unit_object_verb") && !has_word_of("unit_object_preposition")) return;
  std::vector<Mention> found;
  const auto count = static_cast<std::uint32_t>(mentions_.tokens.size());
  for (std::uint32_t t = 1; t < count; ++t) {
    const bool is_it = is_in("unit_it", t);
    const std::string_view kind = office(t) == "the" ? unit_noun_at(t + 1) : std::string_view{};
    if ((!is_it && kind.empty()) || !is_had_by_somebody(t, t + (is_it ? 1 : 2))) continue;
    const Mention* unit = unit_stood_for(t, kind);
    if (unit == nullptr) continue;
    Mention here = words_of(t, t + (is_it ? 1 : 2));
    here.kind = MentionKind::kUnit;
    here.value = unit->value;
    here.role = "object";
    here.why = "the unit named before";
    found.push_back(here);
  }
  for (const Mention& mention : found) {
    std::erase_if(mentions_.items, [&](const Mention& other) {
      return other.role == "cue_pronoun" && other.first == mention.first;
    });
    const auto at =
        std::find_if(mentions_.items.begin(), mentions_.items.end(),
                     [&](const Mention& other) { return other.first >= mention.first; });
    mentions_.items.insert(at, mention);
  }
  if (!found.empty()) index_mentions();
}

}  // namespace tailproof
