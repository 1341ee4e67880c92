// Whether running text tells of a machine doing something, or of something done to it, that takes a
// whole machine: whatever flies, tows, stands or is inspected on a day is there on it.
#include "claims/block_reading.h"
#include "claims/identities.h"
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
// that ends as the regular ones do and tells neither of its end nor of what came after. Behind a
// mere pronoun only those of the lists.
bool BlockReading::is_doing(std::uint32_t end, bool is_named) const {
  std::uint32_t verb = verb_behind(end);
  if (any_cue("cue_flying", [&](const Mention& cue) { return cue.first == verb; })) return true;
  if (verb >= mentions_.tokens.size() || mention_at(verb) != nullptr) return false;
  if (is_in("was_word", verb)) {
    do ++verb;
    while (is_in("use_adverb", verb));
    return is_in("use_state", verb) && mention_at(verb) == nullptr;
  }
  if (is_in("use_verb", verb)) return !is_in("use_not_behind", verb + 1) || is_last_outing(verb);
  constexpr std::size_t kShortest = 5;
  const Spelling w = folded(verb);
  return is_named && w.size() >= kShortest && w.ends_with("ed") && !is_in("use_no_verb", verb) &&
         !is_in_event(verb) && !is_in("use_not_behind", verb + 1);
}

// "X12 shot down a bomber", "had damaged two hangars": what it did to another. "Shot down two days
// later" has a time behind it.
bool BlockReading::is_act_on_other(const Mention& event) const {
  if (is_of_unit_given(event)) return true;
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

// "When Crewe handed over 9 Squadron in May": what he gives is the unit.
bool BlockReading::is_of_unit_given(const Mention& event) const {
  const Mention* doer = mention_ending_at(event.first);
  if (doer == nullptr || doer->kind != MentionKind::kPerson || is_possessive(*doer)) return false;
  const std::uint32_t object = event.last + (office(event.last) == "the" ? 1 : 0);
  const Mention* unit = mention_over(MentionKind::kUnit, object);
  return unit != nullptr && unit->first == object && !is_possessive(*unit);
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

// "It was still there, with 14 Squadron", "she was at the Point".
bool BlockReading::is_somewhere(std::uint32_t verb) const {
  if (!is_in("was_word", verb)) return false;
  std::uint32_t at = verb + 1;
  while (is_in("use_adverb", at) && !is_in("state_preposition", at)) ++at;
  if (!is_in("state_preposition", at)) return false;
  ++at;
  if (is_in("determiner", at)) ++at;
  const Mention* where = mention_at(at);
  return where != nullptr && where->first == at &&
         (where->kind == MentionKind::kPlace || where->kind == MentionKind::kUnit);
}

// "X12, which was flying": a relative clause that is told of this machine.
bool BlockReading::is_which(std::uint32_t which, std::string_view machine) const {
  if (which == 0 || office(which) != "which") return false;
  const Mention* name = mention_ending_at(word(which - 1) == "," ? which - 1 : which);
  return name != nullptr && is_serial(*name) && name->value == machine;
}

// Whether a pronoun in running text is this machine, or "they" are machines of which it is one.
// "The Squadron formed in May. It took X12 and X14": what is named last before it; "X12 went to the
// Squadron. It was in the hangar": or what the sentence before opens with, where that names no
// other machine.
bool BlockReading::stands_for(const Mention& pronoun, std::string_view machine) const {
  const Mention* last = nullptr;
  const Mention* opening = nullptr;
  bool is_only = true, is_one_of = false;
  const std::uint32_t sentence = clauses_.sentence_of[pronoun.first];
  for (const Mention& other : mentions_.items) {
    if (other.first >= pronoun.first) break;
    const bool is_it =
        is_serial(other) || other.kind == MentionKind::kUnit || other.kind == MentionKind::kOrder;
    if (!is_it) continue;
    last = &other;
    if (clauses_.sentence_of[other.first] + 1 != sentence) continue;
    if (opening == nullptr) opening = &other;
    is_only = is_only && (!is_serial(other) || other.value == machine);
    is_one_of = is_one_of || (is_serial(other) && other.value == machine);
  }
  const auto is_machine = [&](const Mention* name) {
    return name != nullptr && is_serial(*name) && name->value == machine;
  };
  if (pronoun.value != "it") return is_one_of && !is_only;
  if (is_machine(last)) return true;
  return is_only && is_machine(opening) && clauses_.sentence_of[last->first] + 1 == sentence;
}

// "The Fourth had got a field of its own. In June it was still at the Point": the sentence before,
// or what a semicolon parts off, tells of a unit first and of no machine, and so does "it".
const Mention* BlockReading::unit_told_of(std::uint32_t token) const {
  const auto begin_of_part = [&](std::uint32_t t) {
    while (t > 0 && !mentions_.tokens[t].sentence_start && word(t - 1) != ";") --t;
    return t;
  };
  const std::uint32_t begin = begin_of_part(token);
  if (begin == 0) return nullptr;
  if (const Mention* unit = unit_called_latter(begin, begin_of_part(begin - 1), token)) return unit;
  std::uint32_t it = begin;
  while (it < token && office(it) != "it") ++it;
  if (it == token) return nullptr;
  // "He joined it in March and left for the Fifth, which opened at the Point": told of others.
  const bool is_of_others =
      std::any_of(mentions_.items.begin(), mentions_.items.end(), [&](const Mention& name) {
        return name.first >= begin && name.first < token &&
               (name.kind == MentionKind::kUnit || name.kind == MentionKind::kPerson);
      });
  if (is_of_others) return nullptr;
  const std::uint32_t before = begin_of_part(begin - 1);
  const Mention* first = nullptr;
  for (const Mention& name : mentions_.items) {
    if (name.first >= it) break;
    const bool may_be_it = is_serial(name) || name.kind == MentionKind::kUnit ||
                           name.kind == MentionKind::kType || name.kind == MentionKind::kMarking ||
                           name.kind == MentionKind::kOrder;
    if (name.first < before || !may_be_it) continue;
    if (name.first >= begin || is_serial(name) || name.kind == MentionKind::kType) return nullptr;
    if (first == nullptr) first = &name;
  }
  if (first == nullptr || first->kind != MentionKind::kUnit || is_possessive(*first))
    return nullptr;
  std::uint32_t lead = first->first;
  while (lead > before && is_in("determiner", lead - 1)) --lead;
  const bool is_object = lead > before && (is_in("object_preposition", lead - 1) ||
                                           office(lead - 1) == "to" || office(lead - 1) == "of");
  return is_object ? nullptr : first;
}

}  // namespace tailproof
