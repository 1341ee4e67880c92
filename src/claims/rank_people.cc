// Whose a rank is that stands apart from the name.
#include <algorithm>

#include "claims/block_reading.h"

namespace tailproof {

// "The staff sergeant on the left is Hugo Braddan": whom the sentence names at last.
const Mention* BlockReading::person_identified(const Mention& rank) const {
  constexpr std::uint32_t kReach = 14;
  constexpr std::uint32_t kEpithets = 2;  // "the tall young sergeant"
  std::uint32_t lead = rank.first;
  while (lead > 0 && rank.first - lead < kEpithets && office(lead - 1) != "the" &&
         mentions_.tokens[lead - 1].kind == TokenKind::kWord && mention_at(lead - 1) == nullptr) {
    // "The station's captain": an office.
    if (folded(lead - 1).ends_with("'s")) return nullptr;
    --lead;
  }
  if (rank.plural || lead == 0 || office(lead - 1) != "the" || is_possessive(rank)) return nullptr;
  const auto count = static_cast<std::uint32_t>(mentions_.tokens.size());
  for (std::uint32_t t = rank.last; t + 1 < std::min(count, rank.last + kReach); ++t) {
    if (clauses_.sentence_of[t] != clauses_.sentence_of[rank.first] || word(t) == ";" ||
        mention_over(MentionKind::kPerson, t) != nullptr)
      return nullptr;
    if (!is_in("naming_verb", t)) continue;
    const Mention* person = mention_over(MentionKind::kPerson, t + 1);
    return person != nullptr && person->first == t + 1 && !is_possessive(*person) ? person
                                                                                  : nullptr;
  }
  return nullptr;
}

// "Still a lieutenant at Christmas 1940, Emeric Voss said": the name behind what opens the
// sentence.
const Mention* BlockReading::person_behind_opening(const Mention& rank) const {
  constexpr std::uint32_t kReach = 12;
  if (rank.plural || is_possessive(rank)) return nullptr;
  for (std::uint32_t t = begin_of_sentence(rank.first); t < rank.first; ++t) {
    if (office(t) != "a" && !is_in("rank_opening", t) && !is_in("rank_epithet", t)) return nullptr;
  }
  if (begin_of_sentence(rank.first) == rank.first) return nullptr;
  const auto count = static_cast<std::uint32_t>(mentions_.tokens.size());
  for (std::uint32_t t = rank.last; t + 1 < std::min(count, rank.last + kReach); ++t) {
    if (clauses_.sentence_of[t] != clauses_.sentence_of[rank.first] || is_in("told_verb", t) ||
        is_in("story_verb", t) || is_in("event_auxiliary", t) ||
        mention_over(MentionKind::kPerson, t) != nullptr)
      return nullptr;
    const Mention* person = word(t) == "," ? mention_over(MentionKind::kPerson, t + 1) : nullptr;
    if (person != nullptr && person->first == t + 1)
      return is_possessive(*person) ? nullptr : person;
  }
  return nullptr;
}

// "It was as a Colonel that Brune took the salute".
const Mention* BlockReading::person_in_cleft(const Mention& rank) const {
  constexpr std::uint32_t kLead = 4;  // "it was as a"
  const std::uint32_t t = rank.first;
  if (t < kLead || !is_in("unnamed_article", t - 1) || office(t - 2) != "as" ||
      !is_in("was_word", t - 3) || office(t - kLead) != "it" || office(rank.last) != "that")
    return nullptr;
  const Mention* person = mention_over(MentionKind::kPerson, rank.last + 1);
  return person != nullptr && person->first == rank.last + 1 ? person : nullptr;
}

// "Posted to 9 Squadron in 1943, Maskell flew home", "based at the Point in May, 9 Squadron had
// six": of what the sentence then names, where it opens with such a word; else nullptr.
const Mention* BlockReading::named_behind_opening(const Mention& told, ListName opener,
                                                  MentionKind kind) const {
  constexpr std::uint32_t kReach = 8;
  const std::uint32_t begin = begin_of_sentence(told.first);
  if (begin == told.first || !is_in(opener, begin)) return nullptr;
  const auto count = static_cast<std::uint32_t>(mentions_.tokens.size());
  for (std::uint32_t t = told.last; t + 1 < std::min(count, told.last + kReach); ++t) {
    const Mention* over = mention_at(t);
    if (over != nullptr && over->kind == kind) return nullptr;
    if (word(t) != ",") continue;
    std::uint32_t name = t + 1;
    if (const Mention* rank = mention_over(MentionKind::kRank, name)) name = rank->last;
    if (word(name) == "." || office(name) == "the") ++name;
    const Mention* found = mention_over(kind, name);
    return found != nullptr && found->first == name && found->known && found->readings.empty() &&
                   !is_possessive(*found)
               ? found
               : nullptr;
  }
  return nullptr;
}

// "Crewe held the rank of captain", "Crewe in the uniform of a captain", "Crewe wears captain's
// stars": whose they are. Nobody's where his clause names another before them.
const Mention* BlockReading::person_with_badges(const Mention& rank) const {
  if (rank.plural || !has_word_of("rank_sign")) return nullptr;
  std::uint32_t first = rank.first;
  if (is_possessive(rank)) {
    std::uint32_t sign = rank.last;
    while (sign < mentions_.tokens.size() && mentions_.tokens[sign].kind == TokenKind::kMark)
      ++sign;
    if (!is_in("rank_sign", sign)) return nullptr;
  } else {
    if (first > 0 && is_in("unnamed_article", first - 1)) --first;
    if (first < 2 || office(first - 1) != "of" || !is_in("rank_sign", first - 2)) return nullptr;
  }
  const std::uint32_t clause = clauses_.clause_of[rank.first];
  const Mention* only = nullptr;
  for (const Mention& person : mentions_of(MentionKind::kPerson)) {
    if (person.last > first || clauses_.clause_of[person.first] != clause) continue;
    if (only != nullptr || is_possessive(person)) return nullptr;
    only = &person;
  }
  // "Crewe met a man with captain's stars", "Crewe's friend had the rank of captain".
  if (only == nullptr) return nullptr;
  for (std::uint32_t t = only->last; t < first; ++t) {
    if (is_in("person_noun", t)) return nullptr;
    if (is_in("sign_verb", t)) return only;
  }
  return nullptr;
}

}  // namespace tailproof
