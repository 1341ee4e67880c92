// Sentences of a caption that leave its machines for what else is in the picture, or behind it.
#include <algorithm>
#include <set>

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
  return has_shown && !any_cue("cue_pronoun", [&](const Mention& cue) {
           return clauses_.sentence_of[cue.first] == sentence &&
                  (cue.first == 0 || !is_in("object_preposition", cue.first - 1));
         });
}

// "X12. 9 Squadron's Grapnels on the far side have the band": several of another unit, beside the
// one machine that is named.
bool BlockAssembler::has_others_of_its_own(const Mention& unit) const {
  if (!is_caption() || !is_possessive(unit)) return false;
  std::uint32_t owned = unit.last;
  while (owned < unit.last + 2 && owned < mentions_.tokens.size() &&
         (mentions_.tokens[owned].kind == TokenKind::kMark || folded(owned) == "s"))
    ++owned;
  const Mention* type = mention_at(owned);
  const bool is_several = type != nullptr && type->kind == MentionKind::kType && type->plural;
  if (!is_several || (unit.first > 0 && office(unit.first - 1) == "of")) return false;
  std::set<std::string> named;
  for (const Group& group : groups_) named.insert(group.serials.begin(), group.serials.end());
  return named.size() == 1;
}

// Whether what is painted at tokens [first, last) is told to be a ghost, or to have gone.
bool NounReading::is_gone_paint(std::uint32_t first, std::uint32_t last) const {
  constexpr std::uint32_t kReach = 6;
  const std::uint32_t segment = clauses_.segment_of[first];
  for (std::uint32_t t = first; t > 0 && first - t < kReach; --t) {
    if (clauses_.segment_of[t - 1] != segment) break;
    if (is_in("ghost_word", t - 1)) return true;
  }
  const auto count = static_cast<std::uint32_t>(mentions_.tokens.size());
  for (std::uint32_t t = last; t < std::min(count, last + kReach); ++t) {
    if (clauses_.segment_of[t] != segment) break;
    if (is_in("paint_gone", t)) return true;
  }
  return false;
}

// "In front of the Depot's sheds".
bool BlockAssembler::is_behind_landmark(const Mention& unit) const {
  constexpr std::uint32_t kLead = 3;
  if (!is_possessive(unit) || !is_in_list("unit_shed_noun", unit.last)) return false;
  for (std::uint32_t t = unit.first; t > 0 && unit.first - t < kLead; --t) {
    if (is_in("landmark_preposition", t - 1)) return true;
  }
  return false;
}

// "And the wreck was carried, for convenience, to the Depot": nothing flew with that.
bool BlockAssembler::is_behind_remains(std::uint32_t token) const {
  for (std::uint32_t t = token; t-- > 1;) {
    if (clauses_.sentence_of[t] != clauses_.sentence_of[token]) return false;
    const Mention* name = mention_ending_at(t + 1);
    if (name != nullptr && name->kind == MentionKind::kAirframe) return false;
    if (is_in("was_word", t) && is_in("remains_noun", t - 1)) return true;
  }
  return false;
}

// "The hangar belongs to 9 Squadron", "9 Squadron's tents", "a Lanner of 14 Squadron stands
// behind", "aircraft of 9 Squadron usually stood there", "the photographer was with 9 Squadron":
// the unit of somebody, or something, else than the machine shown.
bool BlockAssembler::is_of_other_thing(const Mention& unit) const {
  if (is_possessive(unit) && is_in_list("site_noun", unit.last)) return true;
  if (is_behind_landmark(unit)) return true;
  if (has_others_of_its_own(unit)) return true;
  // "9 Squadron's machine, 4 Squadron's code": of two owners, what is only painted on it.
  std::uint32_t owned = unit.last;  // "No. 4's" may have its ending outside
  while (is_possessive(unit) && owned < unit.last + 2 && owned < mentions_.tokens.size() &&
         (mentions_.tokens[owned].kind == TokenKind::kMark || folded(owned) == "s"))
    ++owned;
  const bool is_painted = is_possessive(unit) && is_in("painted_noun", owned);
  // "Ghosts of 9 Squadron's letters", "where 9 Squadron's number has been dissolved away".
  if (is_painted && is_gone_paint(unit.first, owned + 1)) return true;
  if (is_painted && any_mention(MentionKind::kUnit, [&](const Mention& other) {
        return &other != &unit && is_possessive(other) &&
               clauses_.sentence_of[other.first] == clauses_.sentence_of[unit.first];
      }))
    return true;
  std::uint32_t t = unit.first;
  if (t > 0 && office(t - 1) == "the") --t;
  if (t < 2 || !is_in("object_preposition", t - 1)) return false;
  if (is_behind_remains(t)) return true;
  const bool is_of = office(t - 1) == "of";
  if (is_of && is_in_list("site_noun", t - 2)) return true;
  // "Those of the Shore Group had side numbers": machines that are not in the picture.
  if (is_of && is_caption() && is_in("pointing_plural", t - 2) && is_in_later_sentence(t) &&
      begin_of_statement(t) == t - 2)
    return true;
  // "In the doorway of the Workshops": where somebody stands.
  if (is_of && is_caption() && is_in_list("spot_noun", t - 2)) return true;
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

// "The crest of 9 Squadron", "mails for 9 Squadron", "escorted in by 9 Squadron": the unit of what
// a preposition ties it to, where that is no aircraft and nothing done with one.
bool BlockAssembler::is_tied_elsewhere(const Mention& unit) const {
  std::uint32_t t = unit.first;
  if (t > 0 && office(t - 1) == "the") --t;
  if (unit.list != 0 || t < 2 || is_possessive(unit)) return false;
  const std::string_view preposition = office(t - 1);
  if (preposition == "for") return is_plain_word(t - 2) && !is_in("serving_verb", t - 2);
  std::uint32_t noun = t - 2;
  if (is_in("by_word", t - 1)) {
    if (is_in("verb_particle", noun) && noun > 0) --noun;
    const bool is_participle = folded(noun).ends_with("ed") || is_in("irregular_participle", noun);
    return is_in("loan_word", noun) ||
           (is_plain_word(noun) && is_participle && !is_in("unit_by_verb", noun));
  }
  if (preposition != "of" || !is_plain_word(noun)) return false;
  const bool is_tie = is_in("machine_noun", noun) || is_in("unit_tie", noun) ||
                      is_in("person_noun", noun) || is_in("number", noun) ||
                      is_in("quantifier_word", noun) || is_in("machine_pick", noun);
  const Spelling w = folded(noun);
  return !is_tie && !w.ends_with("ed") && !w.ends_with("ly");  // "probably of 9 Squadron"
}

// "On the day on which 8 Squadron came to dinner", "8 Squadron asked for it": a unit that does
// something of its own, and does not fly, hold or take the machine.
bool BlockAssembler::has_verb_of_its_own(const Mention& unit) const {
  if (is_possessive(unit) || unit.list != 0) return false;
  const auto count = static_cast<std::uint32_t>(mentions_.tokens.size());
  if (unit.last >= count) return false;
  std::uint32_t verb = unit.last;
  // "8 Squadron, at the Point by then, had asked for it".
  constexpr std::uint32_t kAside = 8;
  if (word(verb) == "," && is_in("object_preposition", verb + 1)) {
    const std::uint32_t end = end_of_aside(verb + 1, kAside);
    if (end >= count || !is_in("had_word", end)) return false;
    verb = end;
  }
  // "The Yard had a stencil cut".
  const bool has_had = is_in("had_word", verb) && verb + 2 < count;
  const bool is_of_thing = has_had && office(verb + 1) == "a" && is_plain_word(verb + 2) &&
                           !is_craft(verb + 2) && !is_in("machine_noun", verb + 2) &&
                           mention_at(verb + 3) == nullptr;
  if (has_had) ++verb;
  const bool is_past = is_plain_word(verb) && folded(verb).ends_with("ed");
  if (!is_past && !is_of_thing && !tells_at(verb)) return false;
  for (const ListName list : {ListName("holding_verb"), ListName("gaining_verb"),
                              ListName("giving_verb"), ListName("being_word")}) {
    if (is_in(list, verb)) return false;
  }
  std::uint32_t t = unit.first;
  if (t > 0 && office(t - 1) == "the") --t;
  if (t == 0) return false;
  // "Of 8 Squadron", "X12 8 Squadron": what stands before makes it no subject.
  const Mention* before = mention_at(t - 1);
  return !is_in("object_preposition", t - 1) &&
         (before == nullptr || before->kind == MentionKind::kDate);
}

// A word of the text's own: no name, mark, number or small word.
bool NounReading::is_plain_word(std::uint32_t token) const {
  const Token& word = mentions_.tokens[token];
  return word.kind == TokenKind::kWord && !word.capital && mention_at(token) == nullptr &&
         office(token).empty() && !is_in("function_word", token) && !is_in("determiner", token);
}

// "The buoy is that of 9 Squadron", "the tents belonged to 9 Squadron": the unit of what the
// sentence opens with, when that is no aircraft.
bool NounReading::is_owned_thing(std::uint32_t unit) const {
  const bool is_that_of = office(unit - 1) == "of" && is_in("pointing_word", unit - 2);
  const bool belongs = office(unit - 1) == "to" && is_in("belonging_word", unit - 2);
  // "The specks are machines of 9 Squadron".
  const bool are_machines = office(unit - 1) == "of" && unit > 2 &&
                            is_in("others_subject", unit - 2) && is_in("being_word", unit - 3);
  if (!is_that_of && !belongs && !are_machines) return false;
  const std::uint32_t first = begin_of_sentence(unit);
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

bool NounReading::is_craft(std::uint32_t token) const {
  const Mention* type = mention_over(MentionKind::kType, token);
  return (type != nullptr && type->first == token && type->role != "mark alone") ||
         is_in("machine_noun", token) || is_in("craft_noun", token) || is_in("others_noun", token);
}

// "The rest of the squadron still wore it", "older boats had the band", "northern squadrons had
// bars", "machines of the Fleet had none": of many that are not in the picture.
bool BlockAssembler::is_told_of_others(std::uint32_t token) const {
  constexpr std::uint32_t kReach = 5, kSubject = 3;
  const std::uint32_t segment = clauses_.segment_of[token];
  std::uint32_t first = token;
  while (first > 0 && clauses_.segment_of[first - 1] == segment) --first;
  bool is_bare = true;
  for (std::uint32_t t = first; t < token && t - first < kReach; ++t) {
    if (is_in("others_word", t)) return true;
    const Mention* place = mention_over(MentionKind::kPlace, t);
    if (place != nullptr && place->first == t && has_other_place(*place)) return true;
    if (t > first && is_in("others_noun", t) && is_in("others_adjective", t - 1)) return true;
    // Many without an article, and no more than a word or two before them.
    is_bare = is_bare && !is_in("determiner", t) && !is_in("quantifier_word", t) &&
              !is_in("object_preposition", t) && !is_in("story_subject", t) &&
              mentions_.tokens[t].kind == TokenKind::kWord;
    const bool is_many =
        std::string_view(folded(t)).ends_with("s") || is_in("object_preposition", t + 1);
    if (is_bare && is_many && t - first < kSubject && is_in("others_subject", t)) return true;
    // "Those of the Shore Group".
    if (t == first && is_in("pointing_plural", t) && is_in("object_preposition", t + 1) &&
        mention_over(MentionKind::kUnit, t + 3) != nullptr)
      return true;
  }
  return false;
}

// "The gold centre was worn by most of the squadron", "the chevrons of the older boats", "it was
// still official at home".
bool NounReading::is_of_others_behind(const Mention& marking) const {
  constexpr std::uint32_t kReach = 12, kPhrase = 4;
  const auto count = static_cast<std::uint32_t>(mentions_.tokens.size());
  // "Gold centres, bars and numbers were for those who came after": a list is one subject.
  const auto is_here = [&](std::uint32_t t) {
    return t < count && clauses_.clause_of[t] == clauses_.clause_of[marking.first];
  };
  for (std::uint32_t t = marking.last; is_here(t) && t - marking.last < kReach; ++t) {
    if (!is_in("object_preposition", t)) continue;
    for (std::uint32_t u = t + 1; is_here(u) && u - t <= kPhrase; ++u) {
      if (is_in("object_preposition", u)) break;
      if (is_in("others_word", u) || is_in("pointing_plural", u)) return true;
      if (u > t + 1 && is_in("others_noun", u) && is_in("others_adjective", u - 1)) return true;
    }
  }
  const auto cues = index_.of("cue_elsewhere");
  return std::any_of(cues.begin(), cues.end(), [&](std::uint32_t c) {
    const Mention& cue = mentions_.items[c];
    return clauses_.segment_of[cue.first] == clauses_.segment_of[marking.first] &&
           cue.first >= marking.last;
  });
}

// "The preserved Marlin wears the anchor", "Behind it is a machine with the old roundel", "the boat
// behind has it": a later sentence about an aircraft that is none of those named.
bool BlockAssembler::is_of_unnamed_other(const Mention& marking) const {
  const std::uint32_t token = marking.first;
  if (!is_caption() || !is_in_later_sentence(token)) return false;
  const std::uint32_t first = begin_of_statement(token);
  const std::uint32_t end = end_of_statement(token);
  for (const Group& group : groups_) {
    if (group.first >= first && group.first < end) return false;
  }
  if (is_told_of_others(token) || is_of_others_behind(marking) || tells_of_other_unit(token))
    return true;
  const Mention* unit = mention_at(first);
  if (unit != nullptr && unit->kind == MentionKind::kUnit && has_others_of_its_own(*unit))
    return true;
  for (std::uint32_t t = first + 1; t < token; ++t) {
    // "A plain one beneath the wing": a marking.
    if (!is_craft(t) || mention_over(MentionKind::kMarking, t) != nullptr) continue;
    if (is_in("preserved_word", t - 1)) return true;
    const bool is_indefinite =
        is_in("indefinite_article", t - 1) || (t > first + 1 && is_in("indefinite_article", t - 2));
    // "It is a Grapnel", "a machine of its kind": said of the one named.
    const bool is_said_of_it = t > first + 2 && is_in("story_subject", first);
    if (is_indefinite && !is_said_of_it && t - first <= 5) return true;
    // "The second machine", where the caption names one.
    if (t == first + 2 && is_in("determiner", first) && is_in("other_ordinal", first + 1) &&
        shown_serials().size() == 1)
      return true;
    // "The boat behind", where the caption names no other that it could be.
    if (t == first + 1 && is_in("determiner", first) && is_in("beside_word", t + 1) &&
        shown_serials().size() < 2)
      return true;
  }
  return false;
}

// "KB201 of 9 Squadron, June 1942. 8 Squadron had the new disc already", "... The machines of 8
// Squadron were at Gale Head": a later statement whose subject is another unit than the one before,
// and which names no machine.
bool BlockAssembler::tells_of_other_unit(std::uint32_t token) const {
  if (!is_caption() || !is_in_later_sentence(token)) return false;
  const std::uint32_t first = begin_of_statement(token);
  // "165 had been grey for a year; its tails were white": goes on about it.
  if (first > 1 && office(first) == "its" && word(first - 1) == ";")
    return tells_of_other_unit(first - 2);
  const std::uint32_t end = end_of_statement(token);
  const auto subject =
      std::find_if(mentions_.items.begin(), mentions_.items.end(), [&](const Mention& other) {
        return other.kind == MentionKind::kUnit && other.first >= first && other.first < end;
      });
  if (subject == mentions_.items.end() || !opens_statement(*subject, first)) return false;
  const auto names_machine = [&](const Mention& other) {
    if (other.first < first || other.first >= end) return false;
    // "The machines of 8 Squadron" stand for none of those before.
    const bool is_pronoun =
        other.role == "cue_pronoun" && other.first > subject->first && office(other.first) != "its";
    return is_pronoun || other.kind == MentionKind::kAirframe;
  };
  if (std::any_of(mentions_.items.begin(), mentions_.items.end(), names_machine)) return false;
  bool has_other = false, is_known = false;
  for (const Mention& other : mentions_of(MentionKind::kUnit)) {
    if (other.last > first) continue;
    (other.value == subject->value ? is_known : has_other) = true;
  }
  return has_other && !is_known;
}

// "8 Squadron had", "in May the machines of 8 Squadron were", "8 Squadron, at home, had".
bool BlockAssembler::opens_statement(const Mention& unit, std::uint32_t first) const {
  const auto count = static_cast<std::uint32_t>(mentions_.tokens.size());
  constexpr std::uint32_t kReach = 8;
  if (unit.first - first > kReach || unit.last + 1 >= count) return false;
  bool is_of_many = false;
  for (std::uint32_t t = first; t < unit.first; ++t) {
    const bool is_many = is_craft(t) || is_in("person_noun", t) || is_in("others_noun", t);
    is_of_many |= is_many;
    const bool is_passed = is_many || is_in("determiner", t) || word(t) == "," ||
                           is_in("day_preposition", t) || office(t) == "of" ||
                           mention_over(MentionKind::kDate, t) != nullptr ||
                           mention_over(MentionKind::kPlace, t) != nullptr;
    if (!is_passed) return false;
  }
  std::uint32_t verb = unit.last;
  if (is_possessive(unit)) {
    if (!is_in("machine_noun", verb) && !is_in("craft_noun", verb)) return false;
    // "161's aircraft in the Straits had the band".
    constexpr std::uint32_t kWhere = 4;
    std::uint32_t t = verb + 1;
    while (t < count && t - verb <= kWhere &&
           (is_in("object_preposition", t) || is_in("determiner", t) ||
            mention_over(MentionKind::kPlace, t) != nullptr))
      ++t;
    return is_verb_of_story(t);
  }
  if (word(verb) == ",") return !is_of_many;
  if (is_in("event_aside", verb)) ++verb;
  return is_verb_of_story(verb);
}

bool NounReading::is_verb_of_story(std::uint32_t token) const {
  if (token >= mentions_.tokens.size() || mentions_.tokens[token].capital) return false;
  return is_in("story_verb", token) || is_in("being_word", token) || is_in("holding_verb", token) ||
         folded(token).ends_with("ed");
}

// Whether a noun for somebody, or something, else than an aircraft opens the sentence as its
// subject: "The hangar was built in 1939".
bool NounReading::tells_of_other_thing(std::uint32_t token) const {
  const std::uint32_t first = begin_of_sentence(token);
  if (first + 1 >= token || !is_in("determiner", first)) return false;
  // "The negative was given away in 1953", and not "the photograph was taken in June 1943".
  if (is_in_list("credit_noun", first + 1) && cue_in_clause(first + 1, "cue_taken") == nullptr)
    return true;
  return (is_in_list("site_noun", first + 1) || is_in_list("person_noun", first + 1));
}

}  // namespace tailproof
