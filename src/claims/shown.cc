// Which machines a caption names without showing them.
#include <algorithm>

#include "claims/assembler.h"
#include "grammars/fold.h"
#include "mentions/event_words.h"

namespace tailproof {

// "The third, 42-503, followed on the 21st and is not shown."
// "The missing 4, X12, had stayed behind".
bool BlockReading::is_missing_one(std::uint32_t first) const {
  std::uint32_t t = first;
  if (t > 1 && word(t - 1) == ",") --t;
  const Mention* code = t == 0 ? nullptr : mention_ending_at(t);
  if (code != nullptr && code->kind == MentionKind::kAirframe) t = code->first;
  return t > 1 && is_in("absent_adjective", t - 1) && is_in("determiner", t - 2);
}

bool BlockAssembler::is_said_absent(const Group& group) const {
  if (is_missing_one(group.first)) return true;
  if (groups_.size() < 2) return false;
  return any_cue("cue_absent", [&](const Mention& cue) {
    if (cue.first < group.last ||
        clauses_.sentence_of[cue.first] != clauses_.sentence_of[group.first]) {
      return false;
    }
    return std::none_of(groups_.begin(), groups_.end(), [&](const Group& other) {
      return other.first >= group.last && other.first < cue.first;
    });
  });
}

// "From 41-210: WG-A over the Sound", "From a Courser, 41-210, June 1942": the picture was taken
// from it.
bool BlockReading::is_camera_ship(const Mention& serial) const {
  // "X12, from which the picture was taken, alighted beside it".
  const auto count = static_cast<std::uint32_t>(mentions_.tokens.size());
  constexpr std::uint32_t kRelative = 8;
  const std::uint32_t aside = serial.last + 1;
  if (aside + 2 < count && word(serial.last) == "," && office(aside) == "from" &&
      is_in("relative_word", aside + 1) &&
      says_taken(aside + 2, std::min(end_of_aside(aside, kRelative), count)))
    return true;
  if (serial.first == 0 || serial.last >= mentions_.tokens.size()) return false;
  std::uint32_t before = serial.first - 1;
  bool has_type = false;
  if (word(before) == "," && before > 0) --before;
  if (const Mention* type = mention_over(MentionKind::kType, before);
      type != nullptr && type->first > 1 && is_in("indefinite_article", type->first - 1)) {
    has_type = true;
    before = type->first - 2;
  }
  std::uint32_t opening = begin_of_sentence(before);
  while (opening < before && mentions_.tokens[opening].kind == TokenKind::kMark) ++opening;
  const bool ends =
      has_type ? mentions_.tokens[serial.last].kind == TokenKind::kMark : word(serial.last) == ":";
  return opening == before && is_in("camera_word", before) && ends;
}

// "Snow is swept from the wings of X12", "three men sit on the wing of X12": of the machine as it
// stands there.
bool BlockReading::is_place_on_machine(const Mention& part) const {
  if (office(part.last - 1) != "of") return false;
  std::uint32_t t = part.first;
  while (t > 0 && (is_in("determiner", t - 1) || is_in("side_of_machine", t - 1))) --t;
  if (t == 0 || !is_in("place_on_part", t - 1)) return false;
  // "Seated on the wheel of X12": but "fabric from the rudder of X12" is all that is left of it.
  const bool is_away = office(t - 1) == "from" || office(t - 1) == "off";
  return is_in("standing_part", part.first) || (!is_away && is_in("resting_part", part.first));
}

// "The rudder of X12 is banded": what is painted on a part that is told of is seen on the machine.
bool BlockAssembler::is_painted_part(const Mention& part, const Group& group) const {
  const std::uint32_t opening = begin_of_sentence(part.first);
  if (office(part.last - 1) != "of" || !is_in("part_in_view", part.first)) return false;
  if (opening + 1 != part.first || !is_in("determiner", opening)) return false;
  if (group.members.size() != 1 || group.last >= mentions_.tokens.size() ||
      !is_in("being_word", group.last))
    return false;
  return any_mention(MentionKind::kMarking, [&](const Mention& marking) {
    return marking.first > group.last &&
           clauses_.clause_of[marking.first] == clauses_.clause_of[group.last];
  });
}

// "From QX12: QX14", "photographed from the hatch of QX12".
bool BlockReading::carries_camera(const Mention& serial) const {
  if (is_camera_ship(serial)) return true;
  const Mention* unseen = cue_before(serial, "cue_not_shown", 3);
  if (unseen == nullptr) return false;
  for (std::uint32_t t = unseen->first; t < serial.first; ++t) {
    if (office(t) == "from") return true;
  }
  return false;
}

// "By the time the next ship was ready, S3004 had inherited the letters": not what the picture
// shows, unless it is the time of the picture that is meant.
bool BlockReading::is_in_other_time(std::uint32_t token) const {
  const std::uint32_t first = begin_of_sentence(token);
  if (first == 0) return false;
  // "Later it went to the School", "Later, with the School", and not "later photographs show it".
  const bool goes_on = is_in("later_opening", first) && !says_taken(first, token) &&
                       (is_in("story_subject", first + 1) || word(first + 1) == ",");
  if (goes_on) return true;
  const auto opens = index_.of("cue_opens_other_time");
  return !says_taken(first, token) && std::any_of(opens.begin(), opens.end(), [&](std::uint32_t c) {
    return mentions_.items[c].first == first;
  });
}

// "The previous NP-A was S3007", "P312 was to wear the same letters later", "the roundel of P312 in
// Fig. 3": told in a later sentence of another time, or of another picture.
bool BlockAssembler::is_other_bearer(const Group& group) const {
  constexpr std::uint32_t kReach = 6;
  const auto count = static_cast<std::uint32_t>(mentions_.tokens.size());
  const std::uint32_t sentence = clauses_.sentence_of[group.first];
  for (const CueName list :
       {CueName("cue_time_to_come"), CueName("cue_to_come"), CueName("cue_time_later"),
        CueName("cue_later"), CueName("cue_time_former")}) {
    for (const std::uint32_t c : index_.of(list)) {
      if (mentions_.items[c].first == group.last) return true;
    }
  }
  const bool is_in_figure =
      group.last < count && (office(group.last) == "in" || office(group.last) == "on") &&
      any_mention(MentionKind::kReference,
                  [&](const Mention& figure) { return figure.first == group.last + 1; });
  if (is_in_figure) return true;
  std::uint32_t t = group.first;
  bool is_said = false;
  while (t > 0 && clauses_.sentence_of[t - 1] == sentence && group.first - t < kReach) {
    --t;
    is_said = is_said || is_in("being_word", t) || is_in("was_word", t);
    if (is_said && is_in("succession_word", t)) {
      return any_mention(MentionKind::kAirframe, [&](const Mention& code) {
        return !code.role.empty() && code.first > t && code.last < group.first;
      });
    }
  }
  return false;
}

// "KR-2 had once been KB202": who bore the letters before.
bool BlockReading::is_former_bearer(std::uint32_t serial) const {
  std::uint32_t t = serial;
  if (t < 3 || !is_in("been_word", t - 1)) return false;
  for (--t; t > 0 && is_in("use_adverb", t - 1);) --t;
  if (t < 2 || !is_in("pluperfect_auxiliary", t - 1)) return false;
  const Mention* code = mention_ending_at(t - 1);
  return code != nullptr && code->kind == MentionKind::kAirframe && code->role == "code";
}

// "The cairn on the hill, August 1949. KB202 struck the slope below it": what befell the one
// machine that the caption names, in a sentence of its own, and not what it shows.
bool BlockReading::is_only_told_of(const Mention& serial) const {
  if (!is_in_later_sentence(serial.first) || !opens_sentence(serial)) return false;
  const bool is_mishap =
      is_in("mishap_verb", serial.last) || any_cue("cue_event", [&](const Mention& cue) {
        return cue.first == serial.last && (cue.value == "lost" || cue.value == "accident") &&
               (cue.payload & (kEventState | kEventNoun | kEventObject)) == 0;
      });
  const std::uint32_t sentence = clauses_.sentence_of[serial.first];
  return is_mishap && !any_mention(MentionKind::kDate, [&](const Mention& date) {
           return clauses_.sentence_of[date.first] == sentence;
         });
}

// "Its crew owed their lives to KB202 two months later": counted on from the picture.
bool BlockAssembler::is_told_after(const Group& group) const {
  if (groups_.size() < 2) return false;
  return any_mention(MentionKind::kDate, [&](const Mention& date) {
    if (date.first < group.last ||
        clauses_.segment_of[date.first] != clauses_.segment_of[group.first])
      return false;
    const DateUnit& unit = mentions_.dates[date.payload].first;
    // "KB202 was lost the month after".
    const bool is_next = unit.ref == DateRef::kNext && unit.ref_period != DatePeriod::kNone;
    return (unit.is_offset() && unit.offset > 0) || is_next;
  });
}

// "She burnt on 7 November, and N111 took over the letter": brought in by a sentence that tells
// what befell the machine of the picture.
bool BlockAssembler::is_in_sequel(const Group& group) const {
  if (!is_in_later_sentence(group.first) || !pronoun_opens(group.clause)) return false;
  const auto events = index_.of("cue_event");
  return std::any_of(events.begin(), events.end(), [&](std::uint32_t c) {
    const Mention& event = mentions_.items[c];
    return (event.payload & (kEventState | kEventNoun)) == 0 && event.last <= group.first &&
           clauses_.clause_of[event.first] == group.clause &&
           is_told_of_pronoun(event.first, group.first);
  });
}

// "The launch that had pulled KB202 out of the harbour is tied up behind": what something had done
// before, and with which machine.
bool BlockReading::is_object_of_before(const Mention& serial) const {
  constexpr std::uint32_t kReach = 6;
  for (std::uint32_t t = serial.first; t-- > 1 && serial.first - t <= kReach;) {
    if (mentions_.tokens[t].kind == TokenKind::kMark) return false;
    if (is_in("had_word", t))
      return is_in("relative_word", t - 1) && serial.first > t + 1 && office(t + 1) != "just";
  }
  return false;
}

// In a caption, a machine that only dates or explains another ("after S3007 was shot down", "the
// engine went to F109") is not in the picture. The first machine named is, unless the words say
// otherwise.
void BlockAssembler::decide_shown() {
  if (!is_caption()) return;
  const auto count = static_cast<std::uint32_t>(mentions_.tokens.size());
  // "KB201 to KB204 were never together. Here are two of them, KB203 and KB204".
  std::uint32_t here = 0;
  for (const Group& group : groups_) {
    const std::uint32_t opening = begin_of_sentence(group.first);
    const auto says_here = [&](std::uint32_t t) {
      return is_in("here_word", t) && (is_in("being_word", t + 1) || is_in("was_word", t + 1));
    };
    // "Nobody saw KB201 sink. I think this is KB202", "...; this is August, and KB202".
    bool is_here = says_here(opening);
    for (std::uint32_t t = opening; t + 1 < group.first && !is_here; ++t) {
      is_here = says_here(t) && t > 0 && office(t) == "this" &&
                (word(t - 1) == ";" || word(t - 1) == ":" || hedged_[t] != 0);
    }
    if (is_here) here = clauses_.sentence_of[group.first];
  }
  for (std::size_t g = 0; g < groups_.size(); ++g) {
    Group& group = groups_[g];
    if (group.members.empty()) continue;
    if (clauses_.sentence_of[group.first] < here) group.shown = false;
    const Mention& head = mentions_.items[group.members.front()];
    // "The port wing of KB201" shows at least that, "with the wing of KB201" does not.
    const Mention* part = part_shown();
    const bool is_in_part =
        part != nullptr && part->last < head.first && head.first - part->last <= 2;
    // "Still not done: P305 with the old bands": what stands before the colon is of another matter.
    const Mention* unseen = cue_before(head, "cue_not_shown", 3);
    const bool is_unseen = unseen != nullptr && !is_parted_by_colon(unseen->last, head.first) &&
                           !is_part_in_view(unseen->first);
    const bool is_place =
        is_unseen && (is_place_on_machine(*unseen) || is_painted_part(*unseen, group));
    if ((is_unseen && !is_in_part && !is_place) || is_camera_ship(head)) group.shown = false;
    const bool is_alone = groups_.size() == 1 && group.serials.size() == 1;
    if (is_former_bearer(group.first) || (is_alone && is_only_told_of(head))) group.shown = false;
    if (is_said_absent(group) || is_in_other_time(group.first) || is_stood_for(group.first) ||
        is_anothers_own(group.first) || is_excepted(group.first))
      group.shown = false;
    // "It took the letters over from KB202, which had gone to the School".
    const bool is_giver = head.first > 0 && office(head.first - 1) == "from" &&
                          group.last + 2 < count && word(group.last) == "," &&
                          is_in("relative_word", group.last + 1) &&
                          is_in("had_word", group.last + 2);
    // "The letters were vacated by KB202".
    const bool has_vacated =
        head.first > 1 && folded(head.first - 1) == "by" && is_in("vacating_verb", head.first - 2);
    if ((is_giver || has_vacated) && groups_.size() > 1) group.shown = false;
    // "The same letters had gone over the edge on KB202 a year before".
    const bool is_told_of_before = groups_.size() > 1 && is_in_later_sentence(group.first) &&
                                   head.first > 0 && is_in("object_preposition", head.first - 1) &&
                                   stands_behind_having_done(head.first);
    if (is_told_of_before || is_object_of_before(head)) group.shown = false;
    // "Not shown: the lost boat, KB202".
    const std::uint32_t first = begin_of_sentence(group.first);
    if (any_cue("cue_unseen_opener", [&](const Mention& cue) {
          return cue.first == first && cue.last < group.first && word(cue.last) == ":";
        }))
      group.shown = false;
    // "Compare the gold centre of KB202", "whereas KB202 had it already".
    const bool is_told_then =
        group.last < mentions_.tokens.size() &&
        (is_in("had_word", group.last) ||
         (is_in("had_aside", group.last) && group.last + 1 < mentions_.tokens.size() &&
          is_in("had_word", group.last + 1)));
    const bool is_seen_on =
        head.first > 1 && office(head.first - 1) == "on" && is_in("seen_word", head.first - 2);
    const std::uint32_t opening = begin_of_sentence(group.first);
    // "Compare the Herons' A, on KB202".
    const bool is_held_beside = is_compared(head) || is_in("comparing_verb", opening);
    // "KB201 at Sorvau, July 1941; KB202 was lost the month after".
    bool is_in_later_part = false;
    for (std::uint32_t t = 0; t < group.first && g > 0; ++t)
      is_in_later_part = is_in_later_part || word(t) == ";";
    if (is_in_later_part && (is_told_then || is_told_after(group))) group.shown = false;
    if (is_in_later_sentence(group.first) &&
        (is_held_beside || is_told_then || is_seen_on || is_other_bearer(group) ||
         is_told_after(group) || is_in_sequel(group)))
      group.shown = false;
    // "41-8804's successor, 43-7705": the owner is not what is seen.
    if (head.last < mentions_.tokens.size() && mentions_.tokens[head.last].begin == head.end &&
        groups_.size() > 1 && (word(head.last) == "'" || word(head.last) == "\xE2\x80\x99")) {
      group.shown = false;
    }
    // "KB201's wheel": what may be left of it when it is gone.
    std::uint32_t owned = head.last;
    while (is_possessive(head) && owned < mentions_.tokens.size() && owned - head.last < 2 &&
           (mentions_.tokens[owned].kind == TokenKind::kMark || folded(owned) == "s"))
      ++owned;
    if (owned > head.last && is_in("loose_part", owned)) group.shown = false;
    // "KB201's fin, or rather the trestle on which it stood".
    constexpr std::uint32_t kNounAndComma = 3;
    for (std::uint32_t t = head.last; t < owned + kNounAndComma; ++t) {
      const bool is_corrected = t + 2 < mentions_.tokens.size() && word(t) == "," &&
                                office(t + 1) == "or" && is_in("correcting_word", t + 2);
      if (is_corrected) group.shown = false;
    }
    // "Here it is, with bars. KB202's nose can be made out behind": another than what the caption
    // has told of, though it alone has a number.
    if (owned > head.last && groups_.size() == 1 && is_in_later_sentence(group.first)) {
      constexpr std::uint32_t kReach = 6;
      const bool is_told_of_it = any_cue("cue_pronoun", [&](const Mention& it) {
        return it.value == "it" && it.last < begin_of_sentence(group.first);
      });
      for (std::uint32_t t = owned; is_told_of_it && t < owned + kReach && t < count; ++t) {
        const bool is_seen = is_in("paint_seen", t) ||
                             (t + 1 < count && office(t) == "made" && office(t + 1) == "out");
        if (is_seen && clauses_.segment_of[t] == clauses_.segment_of[head.first])
          group.shown = false;
      }
    }
    const Clause& clause = clauses_.clauses[group.clause];
    const bool other_shown = std::any_of(groups_.begin(), groups_.end(), [&](const Group& other) {
      return &other != &group && clauses_.clauses[other.clause].kind != ClauseKind::kSubordinate;
    });
    // "Tresk's funeral, Port Ambry. He died when M-202 was lost": told of another day.
    const bool is_of_story =
        clauses_.sentence_of[group.first] > 0 && groups_.size() == 1 &&
        any_cue("cue_event", [&](const Mention& cue) {
          return cue.first >= group.last && clauses_.clause_of[cue.first] == group.clause;
        });
    if (clause.kind == ClauseKind::kSubordinate && (other_shown || is_of_story) &&
        office(clause.first) != "while" && office(clause.first) != "where") {
      group.shown = false;
    }
  }
  // "With his KB201. KB201 was gone before this was taken": wherever the caption names it.
  for (const Mention& cue : cues_of("cue_absent")) {
    if (cue.value != "gone") continue;
    for (const Group& gone : groups_) {
      const bool is_its_own = gone.last <= cue.first && cue.first - gone.last <= 1 &&
                              clauses_.sentence_of[gone.first] == clauses_.sentence_of[cue.first];
      if (!is_its_own) continue;
      for (Group& group : groups_) {
        if (group.serials == gone.serials) group.shown = false;
      }
    }
  }
}

}  // namespace tailproof
