// Dates that the words beside them give to the picture, or to what befell a machine.
#include <algorithm>

#include "claims/assembler.h"
#include "mentions/event_words.h"

namespace tailproof {

// "When this was taken in June 1940".
bool BlockAssembler::is_day_of_taking(const Mention& date) const {
  if (!is_caption() || date.first == 0) return false;
  std::uint32_t t = date.first - 1;
  if (t > 0 && is_in("year_preposition", t)) --t;
  if (t > 0 && office(t) == "on") --t;
  if (t == 0 || !is_in("taken_word", t) || !is_in("event_auxiliary", t - 1)) return false;
  return t > 1 && is_in("story_here", t - 2);
}

// "It landed at the Point on 22 May; here, in October, it is with the School": the one date that
// the caption gives to the picture in so many words.
const Mention* BlockReading::date_said_here() const {
  if (block_.kind != BlockKind::kCaption || !has_word_of("here_opener")) return nullptr;
  const Mention* found = nullptr;
  for (const Mention& date : mentions_of(MentionKind::kDate)) {
    std::uint32_t t = date.first;
    while (t > 0 && (word(t - 1) == "," || office(t - 1) == "on" || office(t - 1) == "in" ||
                     is_in("year_preposition", t - 1) || is_in("machine_pronoun", t - 1) ||
                     is_in("event_auxiliary", t - 1)))
      --t;
    if (t == 0 || !is_in("here_opener", t - 1)) continue;
    const bool opens = t == 1 || mentions_.tokens[t - 1].sentence_start || word(t - 2) == ";" ||
                       word(t - 2) == ":" || is_in("event_conjunction", t - 2);
    if (!opens || found != nullptr) return nullptr;
    found = &date;
  }
  return found;
}

// "Vance was killed in this aircraft on 18 April": the person's end is the machine's.
bool BlockAssembler::is_of_machines_end(const Mention& end) const {
  const auto events = index_.of("cue_event");
  return std::any_of(events.begin(), events.end(), [&](std::uint32_t c) {
    const Mention& event = mentions_.items[c];
    return claim_of_mention_[c] != kNone && event.first < end.last && end.first < event.last &&
           clauses_.clause_of[event.first] == clauses_.clause_of[end.first];
  });
}

// "Grey since the day it was delivered, 20 September 1943": the day named behind the comma is that
// of the event.
const Mention* BlockAssembler::event_of_day_told(std::uint32_t comma) const {
  const Mention* event = nullptr;
  for (const std::uint32_t c : index_.of("cue_event")) {
    const Mention& cue = mentions_.items[c];
    if (claim_of_mention_[c] != kNone && cue.last == comma && (cue.payload & kEventState) == 0)
      event = &cue;
  }
  if (event == nullptr) return nullptr;
  std::uint32_t t = event->first;
  while (t > 0 && is_in("event_auxiliary", t - 1)) --t;
  if (t > 0 && is_in("machine_pronoun", t - 1)) --t;
  // "The day on which", "the day that".
  while (t > 0 && (is_in("relative_word", t - 1) || is_in("day_preposition", t - 1))) --t;
  const bool is_day = t > 1 && is_in("time_of_day_noun", t - 1) && office(t - 2) == "the";
  return is_day ? event : nullptr;
}

// "After it was taken through the hedge at Skelding, 11 August": a date set off by a comma from the
// clause of an event that opens with such a word.
const Mention* BlockAssembler::event_set_off(const Mention& date) const {
  std::uint32_t comma = date.first;
  while (comma > 0 && is_in("day_preposition", comma - 1)) --comma;
  if (comma < 2 || word(comma - 1) != ",") return nullptr;
  // "When X12 burnt, on 3 May, X14 took over": in running text only of the same time, and between
  // commas.
  if (!is_caption() && (date.last >= mentions_.tokens.size() || word(date.last) != ","))
    return nullptr;
  if (const Mention* event = event_of_day_told(comma - 1)) return event;
  const std::uint32_t before = comma - 2;
  const std::uint32_t clause = clauses_.clause_of[before];
  if (clause == clauses_.clause_of[date.first] ||
      clauses_.sentence_of[before] != clauses_.sentence_of[date.first])
    return nullptr;
  const Clause& own = clauses_.clauses[clause];
  if (own.kind != ClauseKind::kSubordinate || !is_in("event_clause_opener", own.first) ||
      (!is_caption() && office(own.first) != "when"))
    return nullptr;
  // "Three days after it was lost, 14 February": the day that is counted.
  if (own.first > 0 && mention_over(MentionKind::kDate, own.first) != nullptr) return nullptr;
  const Mention* found = nullptr;
  for (const std::uint32_t c : index_.of("cue_event")) {
    const Mention& event = mentions_.items[c];
    if (claim_of_mention_[c] != kNone && (event.payload & (kEventState | kEventNoun)) == 0 &&
        clauses_.clause_of[event.first] == clause)
      found = &event;
  }
  return found;
}

// "On 9 June 1947 Marl told of the loss of X12", "the crash was looked into again in May": the day
// is that of the telling. "The loss of X12 on 9 June was told of in letters": the day right behind
// it is its own.
bool BlockAssembler::is_only_spoken_of(const Mention& event, const Mention& date) const {
  if ((event.payload & kEventNoun) == 0) return false;
  const std::uint32_t sentence = clauses_.sentence_of[event.first];
  const auto is_telling = [&](std::uint32_t t) {
    return clauses_.sentence_of[t] == sentence && is_in("retelling_word", t);
  };
  const std::uint32_t reach = static_cast<std::uint32_t>(mentions_.tokens.size());
  std::uint32_t t = date.first < event.first ? date.last : event.last;
  const std::uint32_t end = date.first < event.first ? reach : date.first;
  for (; t < end && clauses_.clause_of[t] == clauses_.clause_of[date.first]; ++t) {
    if (is_telling(t)) return true;
  }
  return false;
}

}  // namespace tailproof
