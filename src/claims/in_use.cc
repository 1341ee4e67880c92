// Whether running text tells of a machine doing something, or of something done to it, that takes a
// whole machine: whatever flies, tows, stands or is inspected on a day is there on it.
#include "claims/block_reading.h"
#include "mentions/event_words.h"

namespace tailproof {

// "X12 alone", "X12, X13 and X14": behind what else shares its verb.
std::uint32_t BlockReading::verb_behind(std::uint32_t end) const {
  constexpr std::uint32_t kMostSharing = 12;
  for (std::uint32_t i = 0; i < kMostSharing; ++i) {
    std::uint32_t next = end;
    if (word(next) == ",") ++next;
    if (office(next) == "and") ++next;
    const Mention* other = next == end ? nullptr : mention_at(next);
    if (other == nullptr || other->kind != MentionKind::kAirframe || other->first != next) break;
    end = other->last;
  }
  while (is_in("use_adverb", end)) ++end;
  return end;
}

// Behind the machine stands a verb in the past: one of the list, one that needs "was", or any other
// that ends as the regular ones do and tells neither of its end nor of what came after.
bool BlockReading::is_doing(std::uint32_t end) const {
  std::uint32_t verb = verb_behind(end);
  if (any_cue("cue_flying", [&](const Mention& cue) { return cue.first == verb; })) return true;
  if (verb >= mentions_.tokens.size() || mention_at(verb) != nullptr) return false;
  if (is_in("was_word", verb)) {
    do ++verb;
    while (is_in("use_adverb", verb));
    return is_in("use_state", verb) && mention_at(verb) == nullptr;
  }
  if (is_in("use_verb", verb)) return !is_in("use_not_behind", verb + 1);
  constexpr std::size_t kShortest = 5;
  const Spelling w = folded(verb);
  return w.size() >= kShortest && w.ends_with("ed") && !is_in("use_no_verb", verb) &&
         !is_in_event(verb) && !is_in("use_not_behind", verb + 1);
}

// "X12 shot down a bomber", "had damaged two hangars": what it did to another. "Shot down two days
// later" has a time behind it.
bool BlockReading::is_act_on_other(const Mention& event) const {
  if ((event.payload & (kEventNoun | kEventObject | kEventOpener)) != 0 ||
      !is_in("acting_verb", event.last - 1) || event.last >= mentions_.tokens.size())
    return false;
  std::uint32_t before = event.first;
  while (before > 0 && is_in("use_adverb", before - 1)) --before;
  if (before == 0 || is_in("event_auxiliary", before - 1) || is_in("determiner", before - 1))
    return false;
  const Mention* name = mention_ending_at(before);
  const bool is_doer = (name != nullptr && name->kind != MentionKind::kDate) ||
                       is_in("machine_pronoun", before - 1) ||
                       is_in("pluperfect_auxiliary", before - 1) || word(before - 1) == "," ||
                       office(before - 1) == "and";
  const Mention* object = mention_at(event.last);
  if (!is_doer || (object != nullptr && object->kind == MentionKind::kDate)) return false;
  const bool is_time =
      is_in("time_of_day_noun", event.last + 1) || is_in("time_of_day_noun", event.last + 2);
  return !is_time && (object != nullptr || is_in("determiner", event.last) ||
                      is_in("count_number", event.last) || is_in("acted_on", event.last));
}

// "The King inspected X12 on 3 May".
bool BlockReading::is_done_to(std::uint32_t first) const {
  if (const Mention* type = mention_ending_at(first);
      type != nullptr && type->kind == MentionKind::kType)
    first = type->first;
  if (first > 0 && office(first - 1) == "the") --first;
  return first > 1 && is_in("use_object_verb", first - 1) && !is_in("was_word", first - 2) &&
         !is_in("pluperfect_auxiliary", first - 2);
}

// "The mail was flown by X12", "the escort was led by X12".
bool BlockReading::is_doer_behind(std::uint32_t first) const {
  if (const Mention* type = mention_ending_at(first);
      type != nullptr && type->kind == MentionKind::kType)
    first = type->first;
  if (first > 0 && office(first - 1) == "the") --first;
  return first > 2 && is_in("by_word", first - 1) && is_in("use_done", first - 2) &&
         (is_in("was_word", first - 3) || is_in("use_adverb", first - 3));
}

}  // namespace tailproof
