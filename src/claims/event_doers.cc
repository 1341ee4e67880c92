// Which of several machines of a clause does what its verbs tell.
#include "claims/assembler.h"

namespace tailproof {

// "With F114", "by Grapnel F114".
bool BlockAssembler::is_led_by_preposition(const Group& group) const {
  constexpr std::uint32_t kReach = 4;
  for (std::uint32_t t = group.first; t > 0 && group.first - t < kReach; --t) {
    if (is_in("object_preposition", t - 1)) return true;
    if (!is_in("determiner", t - 1) && mention_over(MentionKind::kType, t - 1) == nullptr)
      return false;
  }
  return false;
}

// "F118 collided with F114 and was lost": a second verb without a subject of its own has that of
// the first, and not the machine that a preposition has brought in between.
const Group* BlockAssembler::doer_before_joint(const Mention& event) const {
  const std::uint32_t clause = clauses_.clause_of[event.first];
  // "X12 after being rammed by X14": what it suffered, not the other.
  const std::uint32_t being =
      is_in("passive_gerund", event.first) || event.first == 0 ? event.first : event.first - 1;
  if (is_in("passive_gerund", being)) {
    const Group* sufferer = nullptr;
    for (const Group& group : groups_) {
      if (group.last <= being &&
          clauses_.sentence_of[group.first] == clauses_.sentence_of[event.first])
        sufferer = &group;
    }
    return sufferer;
  }
  std::uint32_t t = event.first;
  while (t > 0 && !is_in("event_conjunction", t - 1) &&
         (is_in("event_auxiliary", t - 1) || is_in("event_aside", t - 1)))
    --t;
  if (t == 0 || !is_in("event_conjunction", t - 1)) return nullptr;
  const Group* doer = nullptr;
  const Group* last = nullptr;
  for (const Group& group : groups_) {
    if (group.clause != clause || group.last > t - 1) continue;
    if (doer == nullptr && !is_led_by_preposition(group)) doer = &group;
    last = &group;
  }
  return last != nullptr && last != doer && is_led_by_preposition(*last) ? doer : nullptr;
}

// What the words from `first` to `last` are about, by whichever comes first.
Told BlockAssembler::told_first(std::uint32_t first, std::uint32_t last) const {
  for (std::uint32_t t = first; t < last; ++t) {
    const Mention* name = mention_ending_at(t + 1);
    if (is_in("machine_noun", t)) return Told::kMachine;
    if (is_in("person_noun", t)) return Told::kPerson;
    if (name == nullptr) continue;
    if (name->kind == MentionKind::kAirframe || name->kind == MentionKind::kType ||
        name->role == "cue_pronoun")
      return Told::kMachine;
    if (name->kind == MentionKind::kPerson || name->kind == MentionKind::kRank)
      return Told::kPerson;
  }
  return Told::kNothing;
}

}  // namespace tailproof
