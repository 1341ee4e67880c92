// What running text tells without saying each thing in full: a verb once for two givers, a marking
// of several machines that it does not name.
#include <algorithm>

#include "claims/block_reading.h"

namespace tailproof {

// "The Depot sent them X12 in February, and the Bays X14": the verb is said once, and who gives has
// it no longer.
bool BlockReading::gives_as_before(const Mention& unit) const {
  const bool has_machine_behind = any_mention(
      MentionKind::kAirframe, [&](const Mention& machine) { return machine.first == unit.last; });
  if (!has_machine_behind || is_possessive(unit)) return false;
  std::uint32_t before = unit.first;
  if (before > 0 && office(before - 1) == "the") --before;
  if (before == 0) return false;
  const Spelling joint = office(before - 1);
  if (joint != "and" && joint != "but" && joint != "," && joint != ";") return false;
  return any_mention(MentionKind::kUnit, [&](const Mention& other) {
    return other.last < before &&
           clauses_.sentence_of[other.first] == clauses_.sentence_of[unit.first] &&
           is_in_list("giving_verb", other.last);
  });
}

// "The boss gave way to the plain disc in May", "in May the panel replaced the chequers": the
// marking that machines wore from then on, whichever they were.
bool BlockReading::is_worn_in_place(const Mention& marking) const {
  const std::uint32_t clause = clauses_.clause_of[marking.first];
  const auto is_other = [&](const Mention& other) {
    return &other != &marking && other.value != marking.value &&
           clauses_.clause_of[other.first] == clause;
  };
  std::uint32_t before = marking.first;
  while (before > 0 && is_in("determiner", before - 1)) --before;
  const bool is_heir = any_cue("cue_gave_way", [&](const Mention& cue) {
    return cue.last == before && any_mention(MentionKind::kMarking, [&](const Mention& other) {
             return is_other(other) && other.last == cue.first;
           });
  });
  if (is_heir) return true;
  return any_cue("cue_took_place", [&](const Mention& cue) {
    return cue.first == marking.last &&
           any_mention(MentionKind::kMarking, [&](const Mention& other) {
             std::uint32_t first = other.first;
             while (first > cue.last && is_in("determiner", first - 1)) --first;
             return is_other(other) && first == cue.last;
           });
  });
}

// "The numeral had given way to the letters": no longer worn then.
bool BlockReading::is_given_up_for(const Mention& marking) const {
  return any_cue("cue_gave_way", [&](const Mention& cue) { return cue.first == marking.last; });
}

// "By Christmas several of the Bays had the edged disc", "half the machines wore the band":
// machines that the words do not name, though they count them, wore it.
bool BlockReading::is_worn_by_some(const Mention& marking) const {
  constexpr std::uint32_t kReach = 6;
  const std::uint32_t clause = clauses_.clause_of[marking.first];
  const ClauseKind kind = clauses_.clauses[clause].kind;
  if (kind != ClauseKind::kMain && kind != ClauseKind::kCoordinate) return false;
  if (is_worn_in_place(marking)) return true;
  const std::uint32_t opening = clauses_.clauses[clause].first;
  std::uint32_t verb = marking.first;
  do {
    if (verb == opening || marking.first - verb == kReach) return false;
    --verb;
  } while (!is_in("wearing_verb", verb));
  // "Had to wear it", "would have it", "had orders for it".
  if (office(verb + 1) == "to" || verb == opening || is_in("would_word", verb - 1) ||
      is_in("order_noun", verb + 1))
    return false;
  const auto is_wearer = [&](std::uint32_t t) {
    return is_in_list("machine_noun", t) || mention_over(MentionKind::kType, t) != nullptr ||
           mention_over(MentionKind::kUnit, t) != nullptr;
  };
  bool has_wearer = false;
  for (std::uint32_t t = verb; t-- > opening;) {
    if (clauses_.clause_of[t] != clause) continue;
    if (tells_verb(t) && mention_at(t) == nullptr) return false;
    if (has_wearer && is_in("some_of_several", t)) return true;
    has_wearer = has_wearer || is_wearer(t);
  }
  return false;
}

// "Delivered to 14 Squadron on 3 May, it passed", "after six weeks with the School it went": the
// first token of the phrase that opens the pronoun's sentence, in which nothing has a subject of
// its own; kNone where there is none.
std::uint32_t BlockReading::phrase_before(std::uint32_t pronoun) const {
  constexpr std::uint32_t kReach = 30;
  if (!tells_verb(pronoun + 1)) return kNone;
  const std::uint32_t sentence = clauses_.sentence_of[pronoun];
  std::uint32_t begin = pronoun;
  while (begin > 0 && pronoun - begin < kReach && clauses_.sentence_of[begin - 1] == sentence)
    --begin;
  const bool is_participle = is_in("opening_participle", begin);
  if (pronoun <= begin + 1 || (!is_participle && !is_in("opening_preposition", begin)) ||
      (is_participle && word(pronoun - 1) != ","))
    return kNone;
  for (std::uint32_t t = begin + 1; t < pronoun; ++t) {
    const bool opens_clause = is_in("cue_clause", t) && !is_in("opening_preposition", t);
    if (word(t) == ";" || word(t) == ":" || opens_clause || is_in("event_auxiliary", t) ||
        is_in("person_pronoun", t) || is_in("pluperfect_auxiliary", t))
      return kNone;
    if (mention_at(t) != nullptr && mention_at(t)->kind != MentionKind::kCue) continue;
    const bool is_past = folded(t).ends_with("ed") || is_in("story_verb", t);
    if (is_past && !is_participle) return kNone;
  }
  return begin;
}

// Whether such a phrase is told of what came before the date behind its pronoun.
bool BlockReading::is_before_pronoun(std::uint32_t token, std::uint32_t date) const {
  return any_cue("cue_pronoun", [&](const Mention& cue) {
    if (cue.value != "it" || cue.first <= token || cue.first >= date) return false;
    const std::uint32_t begin = phrase_before(cue.first);
    return begin != kNone && begin <= token &&
           (is_in("opening_participle", begin) || is_in("phrase_of_before", begin));
  });
}

// "The letters, in this case TS-O, had disappeared": the comma of an aside to a marking, which has
// no verb.
bool BlockReading::ends_aside_of_marking(std::uint32_t first, std::uint32_t comma) const {
  if (word(comma) != ",") return false;
  std::uint32_t open = comma;
  while (open > first && word(open - 1) != ",") --open;
  const Mention* owner = open > first + 1 ? mention_ending_at(open - 1) : nullptr;
  if (owner == nullptr || owner->kind != MentionKind::kMarking) return false;
  for (std::uint32_t t = open; t < comma; ++t) {
    if (mention_at(t) == nullptr && tells_verb(t)) return false;
  }
  return true;
}

// "Mark IIs and IIIs", "Mark IIs and Mark IIIs": the other marks that a joint puts beside this one.
NameList BlockReading::marks_beside(const Mention& type) const {
  constexpr std::size_t kLongest = 5;  // "XVIIs" without its "s"
  NameList marks;
  const auto count = static_cast<std::uint32_t>(mentions_.tokens.size());
  const auto is_joint = [&](std::uint32_t t) {
    return t < count && (word(t) == "," || office(t) == "and" || office(t) == "or");
  };
  const auto is_numeral = [](std::string_view text) {
    return !text.empty() && text.size() <= kLongest &&
           text.find_first_not_of("IVX0123456789") == std::string_view::npos;
  };
  for (std::uint32_t t = type.last; is_joint(t); ++t) {
    const Mention* other = mention_over(MentionKind::kType, t + 1);
    if (other != nullptr && other->first == t + 1 && other->plural && !other->detail.empty()) {
      marks.emplace_back(other->detail);
      t = other->last - 1;
      continue;
    }
    std::string_view text = t + 1 < count ? word(t + 1) : std::string_view{};
    if (text.empty() || text.back() != 's') break;
    text.remove_suffix(1);
    if (!is_numeral(text)) break;
    marks.emplace_back(text);
    ++t;
  }
  if (type.first > 0 && is_joint(type.first - 1)) {
    const Mention* other = mention_ending_at(type.first - 1);
    if (other != nullptr && other->kind == MentionKind::kType && other->plural &&
        !other->detail.empty())
      marks.emplace_back(other->detail);
  }
  return marks;
}

// "They say that X12 was ours. It was not; it was lost on 5 July": a pronoun of a later sentence is
// the machine that others have named.
bool BlockReading::goes_on_by_pronoun(std::uint32_t named, std::uint32_t token) const {
  return clauses_.sentence_of[named] < clauses_.sentence_of[token] &&
         pronoun_opens(clauses_.clause_of[token]);
}

// "Who was by then a Captain", "already a Sergeant": of the day told of before.
bool BlockReading::is_had_by_then(std::uint32_t rank) const {
  std::uint32_t t = rank;
  if (t > 0 && is_in("unnamed_article", t - 1)) --t;
  return any_cue("cue_by_then", [&](const Mention& cue) { return cue.last == t; });
}

// "A Sergeant when he won it that autumn": the clause that opens right behind the words has the
// date.
bool BlockReading::is_of_when(std::uint32_t end, std::uint32_t date) const {
  const std::uint32_t when = is_in("possessed_adverb", end) ? end + 1 : end;  // "already when"
  // "A Volunteer when we came and a Sergeant from May": of the other rank.
  const bool has_other = any_mention(MentionKind::kRank, [&](const Mention& rank) {
    return rank.first > when && rank.last <= date;
  });
  return office(when) == "when" && date > when && !has_other &&
         clauses_.clause_of[date] == clauses_.clause_of[when];
}

// "X12, in which they flew the choir home in May": the clause behind a machine in which somebody
// travels; kNone where there is none.
std::uint32_t BlockReading::clause_aboard(std::uint32_t end) const {
  if (word(end) != "," || !is_in("aboard_word", end + 1) || office(end + 2) != "which")
    return kNone;
  const std::uint32_t clause = clauses_.clause_of[end + 2];
  const Clause& own = clauses_.clauses[clause];
  const bool travels = stands_between(own.first, own.last, "travel_verb") &&
                       !stands_between(own.first, own.last, "would_word");
  return travels ? clause : kNone;
}

// "He wrote to the next of kin in February himself" does not tell what he wrote; "he wrote to her
// that ..." does, behind the "that". kNone where nothing is quoted.
std::uint32_t BlockReading::begin_of_letter(const Mention& saying, std::uint32_t first) const {
  if (!is_in("letter_verb", saying.last - 1) || office(saying.last) != "to") return first;
  const auto count = static_cast<std::uint32_t>(mentions_.tokens.size());
  for (std::uint32_t t = saying.last; t < count; ++t) {
    if (clauses_.sentence_of[t] != clauses_.sentence_of[saying.first]) break;
    if (is_in("letter_opener", t) || clauses_.quoted[t]) return std::max(first, t);
  }
  return kNone;
}

// "When Carne got his Cross, in the July of 1941, they rang the bells": the date between commas is
// that of the clause before as well.
bool BlockReading::is_right_behind_when(std::uint32_t clause, const Mention& date) const {
  constexpr std::uint32_t kLead = 3;  // ", in the"
  const Clause& own = clauses_.clauses[clause];
  if (own.kind != ClauseKind::kSubordinate || office(own.first) != "when" ||
      date.first < own.first + 1)
    return false;
  std::uint32_t comma = date.first;
  while (comma > own.first && date.first - comma < kLead && word(comma) != ",") --comma;
  if (word(comma) != "," || word(date.last) != ",") return false;
  for (std::uint32_t t = comma + 1; t < date.first; ++t) {
    if (!is_in("day_preposition", t) && office(t) != "the") return false;
  }
  return comma > 0 && clauses_.clause_of[comma - 1] == clause;
}

// "X12 was still the Bays' that winter": the machine before, where nothing of theirs is named.
const Mention* BlockReading::machine_possessed(const Mention& unit) const {
  constexpr std::uint32_t kReach = 4;
  if (!is_possessive(unit) || unit.first == 0) return nullptr;
  std::uint32_t behind = unit.last;
  while (mentions_.tokens.size() > behind &&
         (word(behind) == "'" || word(behind) == "\xE2\x80\x99" || folded(behind) == "s"))
    ++behind;
  const bool is_whole =
      behind >= mentions_.tokens.size() || mentions_.tokens[behind].kind == TokenKind::kMark ||
      is_in("day_preposition", behind) || is_in("until_word", behind) ||
      is_in("event_conjunction", behind) || mention_over(MentionKind::kDate, behind) != nullptr;
  if (!is_whole) return nullptr;
  bool has_verb = false;
  for (std::uint32_t t = unit.first; t-- > 0 && unit.first - t <= kReach;) {
    const Mention* machine = mention_ending_at(t + 1);
    if (machine != nullptr && machine->kind == MentionKind::kAirframe)
      return has_verb && machine->role.empty() ? machine : nullptr;
    has_verb = has_verb || is_in("was_word", t);
    const bool is_small =
        is_in("was_word", t) || office(t) == "the" || is_in("possessed_adverb", t);
    if (!is_small) return nullptr;
  }
  return nullptr;
}

// "At the Point until 3 May, and from the next day at the Strip": told to the day.
bool BlockReading::goes_on_next_day(const DateMention& date) const {
  constexpr std::uint32_t kReach = 12;  // characters: ", and from "
  return std::any_of(mentions_.dates.begin(), mentions_.dates.end(), [&](const DateMention& next) {
    const DateUnit& unit = next.first;
    const bool is_next = (unit.ref == DateRef::kNext && unit.ref_period == DatePeriod::kDay) ||
                         (unit.offset == 1 && unit.offset_period == DatePeriod::kDay);
    return is_next && next.begin >= date.end && next.begin - date.end <= kReach &&
           next.sentence == date.sentence && next.bound == DateBound::kSince;
  });
}

// "The Third guarded the bridge for two years. In May they moved to the Point": the one unit that
// the sentences before tell of, where the verb's subject is a pronoun.
const Mention* BlockReading::unit_spoken_of(std::uint32_t verb) const {
  std::uint32_t t = verb;
  while (t > 0 && is_in("had_word", t - 1)) --t;
  if (t == 0 || !is_in("unit_pronoun", t - 1)) return nullptr;
  const bool may_be_machine = office(t - 1) == "it";
  const std::uint32_t own = clauses_.sentence_of[verb];
  for (std::uint32_t sentence = own; sentence-- > 0;) {
    const Mention* unit = nullptr;
    bool is_other = false;
    for (const Mention& name : mentions_.items) {
      if (clauses_.sentence_of[name.first] != sentence) continue;
      is_other = is_other || (may_be_machine && name.kind == MentionKind::kAirframe);
      if (name.kind != MentionKind::kUnit) continue;
      std::uint32_t before = name.first;
      while (before > 0 && is_in("determiner", before - 1)) --before;
      const bool is_object =
          before > begin_of_sentence(name.first) &&
          (is_in("object_preposition", before - 1) || office(before - 1) == "to");
      if (is_object || (unit != nullptr && unit->value == name.value)) continue;
      is_other = is_other || unit != nullptr;
      unit = &name;
    }
    if (is_other) return nullptr;
    if (unit != nullptr) return unit;
  }
  return nullptr;
}

// "3 May was the day on which X12 burnt", "..., 3 May, the day X12 burnt", "3 May is underlined, as
// that was the day when X12 burnt": the date that the words call the day of the event.
const Mention* BlockReading::day_called(std::uint32_t event) const {
  constexpr std::uint32_t kReach = 8;
  const std::uint32_t sentence = clauses_.sentence_of[event];
  std::uint32_t day = event;
  while (day > 1 && event - day < kReach && !is_in("date_period", day - 1)) {
    --day;
    const bool is_between = is_in("day_link", day) || is_in("determiner", day) ||
                            is_in("event_auxiliary", day) || is_in("pluperfect_auxiliary", day) ||
                            mention_over(MentionKind::kAirframe, day) != nullptr ||
                            mention_over(MentionKind::kType, day) != nullptr || day == event;
    if (!is_between || clauses_.sentence_of[day] != sentence) return nullptr;
  }
  if (day < 3 || !is_in("date_period", day - 1) || office(day - 2) != "the") return nullptr;
  const std::uint32_t before = day - 3;  // ", the day", "was the day"
  const bool is_apposed = word(before) == ",";
  if (!is_apposed && !is_in("being_word", before)) return nullptr;
  const Mention* date = nullptr;
  for (const Mention& other : mentions_.items) {
    if (other.kind != MentionKind::kDate || other.last > before ||
        clauses_.sentence_of[other.first] != sentence)
      continue;
    date = &other;
  }
  if (date == nullptr) return nullptr;
  const bool is_of_word = !is_apposed && before > 0 && is_in("day_pronoun", before - 1);
  return date->last == before || is_of_word ? date : nullptr;
}

// "The wreck of X12", "what was left of the Tansy X12", "X12's remains", "X12 was a heap of ash":
// not the machine, but what had become of it.
bool BlockReading::is_of_remains(std::uint32_t first, std::uint32_t last) const {
  std::uint32_t t = first;
  if (const Mention* type = mention_ending_at(t);
      type != nullptr && type->kind == MentionKind::kType)
    t = type->first;
  if (t > 0 && office(t - 1) == "the") --t;
  constexpr std::uint32_t kLead = 5;  // "looking for the burnt wreck"
  if (t > 1 && office(t - 1) == "of" && is_in("wreck_noun", t - 2)) {
    const std::uint32_t noun = t - 2;
    // "On the left of X12", "what would be left of it".
    if (is_in("left_of_it", noun) && (noun == 0 || !is_in("was_word", noun - 1))) return false;
    for (std::uint32_t n = noun; n > 0 && noun - n < kLead; --n) {
      if (mentions_.tokens[n - 1].kind == TokenKind::kMark) break;
      if (is_in("wreck_unseen", n - 1)) return false;
    }
    return true;
  }
  // "X12's remains".
  const std::uint32_t owned = folded(last) == "s" ? last + 1 : last;
  const Spelling own = last > 0 ? word(last - 1) : Spelling{};
  const bool is_owner = owned != last || own.ends_with("'s") || own.ends_with("\xE2\x80\x99s");
  if (is_owner && is_in("wreck_noun", owned)) return true;
  constexpr std::uint32_t kReach = 4;  // "was by then a burnt-out wreck"
  if (!is_in("was_word", last)) return false;
  for (std::uint32_t n = last + 1; n < mentions_.tokens.size() && n - last <= kReach; ++n) {
    if (mentions_.tokens[n].kind == TokenKind::kMark) return false;
    if (is_in("wreck_state", n)) return is_in("unnamed_article", n - 1) || n - last > 1;
  }
  return false;
}

// "Had only just been delivered", "newly delivered": the words right before those of an event.
bool BlockReading::is_just_done(std::uint32_t event) const {
  std::uint32_t t = event;
  while (t > 0 && is_in("event_auxiliary", t - 1)) --t;
  return t > 0 && is_in("just_word", t - 1);
}

// "Came to the Seventh from the Second", "joined it in June, from the Fourth": the unit that
// somebody leaves for another; but "had a letter from the Second".
bool BlockReading::is_whence(const Mention& unit) const {
  std::uint32_t t = unit.first;
  if (t > 0 && office(t - 1) == "the") --t;
  if (t < 2 || !is_in("from_word", t - 1)) return false;
  const std::uint32_t lead = t - 2;
  const Mention* before = mention_ending_at(lead + 1);
  const bool is_lead = word(lead) == "," || is_in("whence_lead", lead) ||
                       (before != nullptr &&
                        (before->kind == MentionKind::kUnit || before->kind == MentionKind::kDate ||
                         before->kind == MentionKind::kPerson));
  return is_lead && stands_between(begin_of_sentence(t), t, "whence_verb");
}

}  // namespace tailproof
