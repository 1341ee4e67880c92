// "The squadron", "the flight": a unit that the text has named before.
#include <algorithm>

#include "claims/assembler.h"

namespace tailproof {

// The kind that the noun stands for, where it names no unit by itself; "" for any other word.
std::string_view BlockAssembler::unit_noun_at(std::uint32_t token) const {
  if (token == 0 || office(token - 1) != "the") return {};
  if (mention_over(MentionKind::kUnit, token) != nullptr) return {};
  const WordList* nouns = lexicon_.grammars().list("unit_word");
  return nouns == nullptr ? std::string_view{} : value_in(nouns, token);
}

bool BlockAssembler::is_of_kind(const Mention& unit, std::string_view kind) const {
  const Unit* row = ledger_.unit(unit.value);
  return row != nullptr && row->kind == kind;
}

// "Lt Bolitho of the squadron": the one unit of that kind that the block has named before.
void BlockAssembler::add_units_by_noun() {
  for (std::size_t i = 0; i < mentions_.items.size(); ++i) {
    const Mention person = mentions_.items[i];
    if (person.kind != MentionKind::kPerson) continue;
    std::uint32_t t = person.last;
    while (t < mentions_.tokens.size() && mention_over(MentionKind::kAward, t) != nullptr) ++t;
    const std::string_view kind = office(t) == "of" ? unit_noun_at(t + 2) : std::string_view{};
    if (kind.empty()) continue;
    const Mention* named = nullptr;
    bool is_one = true;
    for (const Mention& unit : mentions_.items) {
      if (unit.kind != MentionKind::kUnit || unit.last > person.first || !is_of_kind(unit, kind))
        continue;
      is_one = is_one && (named == nullptr || named->value == unit.value);
      named = &unit;
    }
    if (named == nullptr || !is_one) continue;
    Mention noun = *named;
    noun.first = t + 1;
    noun.last = t + 3;
    noun.begin = mentions_.tokens[noun.first].begin;
    noun.end = mentions_.tokens[noun.last - 1].end;
    Claim pattern;
    pattern.value = named->value;
    pattern.readings = named->readings;
    pattern.role = "member";
    pattern.subject = person.value;
    pattern.why = "the noun stands for it";
    add_for_subjects(noun, ClaimKind::kUnit, {}, pattern);
  }
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

}  // namespace tailproof
