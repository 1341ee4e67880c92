// Sentences of a caption that leave its machines for what else is in the picture, or behind it.
#include <algorithm>

#include "claims/assembler.h"
#include "grammars/fold.h"

namespace tailproof {

// Whether a sentence of a caption names no machine, while one before it has shown some.
bool BlockAssembler::is_told_aside(const Mention& mention) const {
  const std::uint32_t sentence = clauses_.sentence_of[mention.first];
  bool has_shown = false;
  for (const Group& group : groups_) {
    const std::uint32_t own = clauses_.sentence_of[group.first];
    if (own == sentence) return false;
    has_shown = has_shown || (own < sentence && group.shown);
  }
  return has_shown && std::none_of(cues_.begin(), cues_.end(), [&](std::uint32_t c) {
           const Mention& cue = mentions_.items[c];
           return cue.role == "cue_pronoun" && clauses_.sentence_of[cue.first] == sentence &&
                  (cue.first == 0 || !is_in("object_preposition", cue.first - 1));
         });
}

// "The hangar belongs to 9 Squadron", "9 Squadron's tents", "a Lanner of 14 Squadron stands
// behind", "aircraft of 9 Squadron usually stood there", "the photographer was with 9 Squadron":
// the unit of somebody, or something, else than the machine shown.
bool BlockAssembler::is_of_other_thing(const Mention& unit) const {
  if (is_possessive(unit) && is_in_list("site_noun", unit.last)) return true;
  std::uint32_t t = unit.first;
  if (t > 0 && office(t - 1) == "the") --t;
  if (t < 2 || !is_in("object_preposition", t - 1)) return false;
  const bool is_of = office(t - 1) == "of";
  if (is_of && is_in_list("site_noun", t - 2)) return true;
  if (!is_caption() || !is_told_aside(unit)) return false;
  if (is_owned_thing(t)) return true;
  if (is_of && t >= 3) {
    const Mention* type = mention_over(MentionKind::kType, t - 2);
    const std::uint32_t first = type != nullptr ? type->first : t - 2;
    const bool is_some = first > 0 && is_in_list("indefinite_article", first - 1);
    const bool opens = clauses_.sentence_of[first] != clauses_.sentence_of[first - 1];
    if (type != nullptr && (is_some || (opens && type->plural))) return true;
    if (is_in("machine_noun", first) && (is_some || opens)) return true;
  }
  return tells_of_other_thing(t);
}

// "The buoy is that of 9 Squadron", "the tents belonged to 9 Squadron": the unit of what the
// sentence opens with, when that is no aircraft.
bool BlockAssembler::is_owned_thing(std::uint32_t unit) const {
  const bool is_that_of = office(unit - 1) == "of" && is_in("pointing_word", unit - 2);
  const bool belongs = office(unit - 1) == "to" && is_in("belonging_word", unit - 2);
  if (!is_that_of && !belongs) return false;
  const std::uint32_t sentence = clauses_.sentence_of[unit];
  std::uint32_t first = unit;
  while (first > 0 && clauses_.sentence_of[first - 1] == sentence) --first;
  if (!is_in("determiner", first)) return false;
  for (std::uint32_t t = first; t + 2 < unit; ++t) {
    const bool is_machine = is_in("machine_noun", t) ||
                            mention_over(MentionKind::kAirframe, t) != nullptr ||
                            mention_over(MentionKind::kType, t) != nullptr ||
                            mention_over(MentionKind::kMarking, t) != nullptr;
    if (is_machine) return false;
  }
  return true;
}

// "The rest of the squadron still wore it", "older boats had the band", "northern squadrons had
// bars": of many that are not in the picture.
bool BlockAssembler::is_told_of_others(std::uint32_t token) const {
  constexpr std::uint32_t kReach = 5;
  const std::uint32_t segment = clauses_.segment_of[token];
  std::uint32_t first = token;
  while (first > 0 && clauses_.segment_of[first - 1] == segment) --first;
  for (std::uint32_t t = first; t < token && t - first < kReach; ++t) {
    if (is_in("others_word", t)) return true;
    const Mention* place = mention_over(MentionKind::kPlace, t);
    if (place != nullptr && place->first == t && has_other_place(*place)) return true;
    if (t > first && is_in("others_noun", t) && is_in("others_adjective", t - 1)) return true;
  }
  return false;
}

// "The preserved Marlin wears the anchor", "Behind it is a machine with the old roundel": a later
// sentence about an aircraft that is none of those named.
bool BlockAssembler::is_of_unnamed_other(std::uint32_t token) const {
  const std::uint32_t sentence = clauses_.sentence_of[token];
  if (!is_caption() || !is_in_later_sentence(token)) return false;
  for (const Group& group : groups_) {
    if (clauses_.sentence_of[group.first] == sentence) return false;
  }
  std::uint32_t first = token;
  while (first > 0 && clauses_.sentence_of[first - 1] == sentence) --first;
  if (is_told_of_others(token)) return true;
  for (std::uint32_t t = first + 1; t < token; ++t) {
    const Mention* type = mention_over(MentionKind::kType, t);
    const bool is_machine = (type != nullptr && type->first == t) || is_in("machine_noun", t);
    if (!is_machine || (type != nullptr && type->role == "mark alone")) continue;
    if (is_in("preserved_word", t - 1)) return true;
    const bool is_indefinite =
        is_in("indefinite_article", t - 1) || (t > first + 1 && is_in("indefinite_article", t - 2));
    // "It is a Grapnel", "a machine of its kind": said of the one named.
    const bool is_said_of_it = t > first + 2 && is_in("story_subject", first);
    if (is_indefinite && !is_said_of_it && t - first <= 5) return true;
  }
  return false;
}

// Whether a noun for somebody, or something, else than an aircraft opens the sentence as its
// subject: "The hangar was built in 1939".
bool BlockAssembler::tells_of_other_thing(std::uint32_t token) const {
  const std::uint32_t sentence = clauses_.sentence_of[token];
  std::uint32_t first = token;
  while (first > 0 && clauses_.sentence_of[first - 1] == sentence) --first;
  if (first + 1 >= token || !is_in("determiner", first)) return false;
  // "The negative was given away in 1953", and not "the photograph was taken in June 1943".
  if (is_in_list("credit_noun", first + 1) && cue_in_clause(first + 1, "cue_taken") == nullptr)
    return true;
  return (is_in_list("site_noun", first + 1) || is_in_list("person_noun", first + 1));
}

}  // namespace tailproof
