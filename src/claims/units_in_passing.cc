// Units and machines that are told of in passing: by whom something was flown on a day, whose crew
// sits in it, where a unit spent its first years.
#include <algorithm>
#include <charconv>

#include "claims/assembler.h"

namespace tailproof {

// "Flown that month by 3 Wing", "held at this time by the Depot": what the participle says, past
// the words for the time; "" where nothing stands between.
std::string_view BlockReading::hand_before(const Mention& unit) const {
  constexpr std::uint32_t kReach = 8;
  std::uint32_t by = unit.first;
  if (by > 0 && office(by - 1) == "the") --by;
  if (by < 2 || !is_in("by_word", by - 1)) return {};
  --by;
  std::uint32_t t = by;
  while (t > 0 && by - t <= kReach) {
    const Mention* time = mention_ending_at(t);
    if (time != nullptr && time->kind == MentionKind::kDate) {
      t = time->first;
      while (t > 0 && is_in("day_preposition", t - 1)) --t;
      continue;
    }
    const auto times = index_.of("cue_that_time");
    const auto cue = std::find_if(times.begin(), times.end(),
                                  [&](std::uint32_t c) { return mentions_.items[c].last == t; });
    if (cue != times.end()) {
      t = mentions_.items[*cue].first;
    } else if (is_in("hand_adverb", t - 1)) {
      --t;
    } else {
      break;
    }
  }
  const WordList* hands = lexicon_.grammars().list("hand_verb");
  if (hands == nullptr || t == by || t == 0) return {};
  return value_in(hands, t - 1);
}

// "The crew are from 3 Wing", "with a crew of 3 Wing aboard", "and 3 Wing did the flying": who
// flies the machine that the caption shows.
bool BlockReading::flies_what_is_shown(const Mention& unit) const {
  if (!is_caption() || is_possessive(unit)) return false;
  const bool does_flying =
      any_cue("cue_does_flying", [&](const Mention& cue) { return cue.first == unit.last; });
  if (does_flying) return true;
  // Whoever names another unit tells those who have it from those who fly it.
  const bool has_other = any_mention(
      MentionKind::kUnit, [&](const Mention& other) { return other.value != unit.value; });
  if (has_other) return false;
  std::uint32_t t = unit.first;
  if (t > 0 && office(t - 1) == "the") --t;
  if (t < 3 || (office(t - 1) != "of" && office(t - 1) != "from")) return false;
  if (is_in("being_word", t - 2))
    return is_in("crew_noun", t - 3) && t > 3 && is_in("determiner", t - 4);
  if (!is_in("crew_noun", t - 2)) return false;
  const WordList* aboard = lexicon_.grammars().list("crew_aboard");
  const std::string_view how =
      aboard == nullptr || unit.last >= mentions_.tokens.size() ? "" : value_in(aboard, unit.last);
  if (how == "alone") return true;
  if (how == "object")
    return is_in("object_pronoun", unit.last + 1) || is_in("crewed_object", unit.last + 1);
  return any_cue("cue_crew_aboard", [&](const Mention& cue) { return cue.first == unit.last; });
}

// "The Second was raised in May. It spent its first winter at the Point", "its first three years
// were spent there": the unit that the sentence before opens with, and the most days that this may
// have lasted.
const Mention* BlockReading::unit_in_first_span(std::uint32_t place, Day& days) const {
  if (is_caption()) return nullptr;
  const std::uint32_t begin = begin_of_sentence(place);
  if (begin == 0) return nullptr;
  const WordList* spans = lexicon_.grammars().list("first_span");
  const WordList* numbers = lexicon_.grammars().list("number");
  if (spans == nullptr || numbers == nullptr) return nullptr;
  days = 0;
  std::uint32_t told = begin;  // the token behind the words for the time, and behind "spent"
  for (std::uint32_t t = begin; t + 2 < place && days == 0; ++t) {
    if (!is_in("its_word", t) || !is_in("first_word", t + 1)) continue;
    std::uint32_t noun = t + 2;
    Day many = 1;
    if (const std::string_view number = value_in(numbers, noun); !number.empty()) {
      std::from_chars(number.data(), number.data() + number.size(), many);
      ++noun;
    }
    const std::string_view span = value_in(spans, noun);
    if (span.empty()) return nullptr;
    std::from_chars(span.data(), span.data() + span.size(), days);
    days *= many;
    told = noun + 1;
  }
  const std::uint32_t spent = next_of("spent_word", begin, place);
  if (days == 0 || spent == place) return nullptr;
  // "Its first seven years were spent at Sedge Head and its last two at the Point".
  constexpr std::uint32_t kReach = 2;  // "at the"
  if (place - std::max(told, spent + 1) > kReach) return nullptr;
  // Whatever else the sentence names may be what "its" means.
  const auto is_named = [&](const Mention& name) {
    return name.first >= begin && name.first < place &&
           (name.kind == MentionKind::kUnit || name.kind == MentionKind::kAirframe ||
            name.kind == MentionKind::kType);
  };
  if (std::any_of(mentions_.items.begin(), mentions_.items.end(), is_named)) return nullptr;
  const std::uint32_t before = begin_of_sentence(begin - 1);
  const Mention* unit = nullptr;
  constexpr std::uint32_t kOpening = 1;  // "The", "No."
  for (const Mention& name : mentions_.items) {
    if (name.first < before || name.first >= begin) continue;
    if (name.kind == MentionKind::kAirframe) return nullptr;
    if (name.kind != MentionKind::kUnit || unit != nullptr) continue;
    if (name.first - before > kOpening || is_possessive(name) || !name.readings.empty())
      return nullptr;
    unit = &name;
  }
  const bool is_begun = unit != nullptr && stands_between(unit->last, begin, "unit_beginning");
  return is_begun ? unit : nullptr;
}

// "X12 was the oldest boat of the Second", "X12, by then one of the machines of the Second": the
// machine that is called so.
const Mention* BlockReading::machine_called(const Mention& unit) const {
  constexpr std::uint32_t kAdjectives = 3;
  std::uint32_t of = unit.first;
  if (of > 0 && office(of - 1) == "the") --of;
  if (of < 3 || office(of - 1) != "of") return nullptr;
  if (!is_in_list("machine_noun", of - 2) && !is_in_list("craft_noun", of - 2)) return nullptr;
  std::uint32_t t = of - 2;
  for (std::uint32_t words = 0; words <= kAdjectives && t > 0; ++words) {
    if (office(t - 1) == "the" || is_in("indefinite_article", t - 1)) break;
    if (mentions_.tokens[t - 1].kind != TokenKind::kWord) return nullptr;
    --t;
  }
  if (t == 0 || (office(t - 1) != "the" && !is_in("indefinite_article", t - 1))) return nullptr;
  --t;
  if (t > 1 && office(t - 1) == "of" && is_in("single_word", t - 2)) t -= 2;
  while (t > 0 && (is_in("still_word", t - 1) || is_in("hand_adverb", t - 1))) --t;
  if (t > 0 && is_in("was_word", t - 1)) {
    --t;
  } else {
    const Mention* day = mention_ending_at(t);
    if (day != nullptr && day->kind == MentionKind::kDate) {
      t = day->first;
      while (t > 0 && is_in("day_preposition", t - 1)) --t;
    } else if (t > 0 && folded(t - 1) == "by") {
      --t;  // "by then"
    }
    if (t == 0 || word(t - 1) != ",") return nullptr;
    --t;
  }
  const Mention* machine = mention_ending_at(t);
  const bool is_it = machine != nullptr && machine->kind == MentionKind::kAirframe &&
                     machine->role.empty() && machine->readings.empty();
  if (!is_it || machine->first == 0) return is_it ? machine : nullptr;
  // "X12 and X14 were": of several.
  const std::uint32_t before = machine->first - 1;
  const bool is_listed =
      is_in("day_joint", before) || word(before) == "," || is_in("object_preposition", before);
  const Mention* other = is_listed ? mention_ending_at(before) : nullptr;
  const bool is_of_list = other != nullptr && other->kind == MentionKind::kAirframe;
  return is_of_list || is_in("object_preposition", before) ? nullptr : machine;
}

// "9 Squadron's pilots flew X12 in May", "the crews of 9 Squadron lost X12": their machine. "Flew
// X12 to the Point" may have been a delivery.
const Mention* BlockReading::machine_flown_by_theirs(const Mention& unit) const {
  if (is_caption() || !has_word_of("flyers_noun")) return nullptr;
  std::uint32_t t = unit.last;
  if (is_possessive(unit)) {
    t = begin_of_owned(unit);
    if (!is_in("flyers_noun", t)) return nullptr;
    ++t;
  } else {
    std::uint32_t of = unit.first;
    if (of > 0 && office(of - 1) == "the") --of;
    if (of < 2 || office(of - 1) != "of" || !is_in("flyers_noun", of - 2)) return nullptr;
  }
  while (is_in("use_adverb", t)) ++t;
  if (!is_in("flyers_verb", t)) return nullptr;
  ++t;
  while (is_in("determiner", t) || mention_over(MentionKind::kType, t) != nullptr) ++t;
  const Mention* machine = mention_over(MentionKind::kAirframe, t);
  const bool is_it = machine != nullptr && machine->first == t && machine->readings.empty() &&
                     !is_possessive(*machine) && office(machine->last) != "to" &&
                     !is_in("flown_away", machine->last);
  return is_it ? machine : nullptr;
}

// "The Point was home to the Second".
const Mention* BlockReading::unit_housed_at(const Mention& place) const {
  std::uint32_t t = place.last;
  if (is_in("had_word", t)) ++t;
  if (!is_in("being_word", t) && !is_in("become_word", t)) return nullptr;
  ++t;
  while (is_in("still_word", t) || is_in("hand_adverb", t)) ++t;
  if (is_in("cue_article", t)) ++t;
  if (!is_in("home_noun", t)) return nullptr;
  ++t;
  if (office(t) != "to" && office(t) != "of") return nullptr;
  ++t;
  if (office(t) == "the") ++t;
  const Mention* unit = mention_over(MentionKind::kUnit, t);
  const bool is_it = unit != nullptr && unit->first == t && unit->known && unit->readings.empty();
  return is_it && !is_possessive(*unit) ? unit : nullptr;
}

// Behind a unit's possessive: "9 Squadron's own books", "Flight 5's books", "the Works' books".
std::uint32_t BlockReading::begin_of_owned(const Mention& unit) const {
  std::uint32_t owned = unit.last;
  if (word(owned) == "'" || word(owned) == "\xE2\x80\x99") ++owned;
  if (owned > unit.last && word(owned) == "s") ++owned;
  return is_possessive(unit) && is_in("owned_word", owned) ? owned + 1 : owned;
}

// "On the Depot's own books".
bool BlockReading::is_on_its(const Mention& unit, ListName nouns) const {
  std::uint32_t on = unit.first;
  if (on > 0 && office(on - 1) == "the") --on;
  return on > 0 && is_possessive(unit) && office(on - 1) == "on" &&
         is_in_list(nouns, begin_of_owned(unit));
}

// "The tail nearest the camera belongs to X12": it is in the picture.
bool BlockReading::is_part_in_view(std::uint32_t belongs) const {
  const std::uint32_t first = begin_of_sentence(belongs);
  return is_in("part_belonging", belongs) && is_in("determiner", first) &&
         is_in("part_in_view", first + 1) && stands_between(first + 2, belongs, "view_direction");
}

// "The Third followed a year later, the Park being its holder; the latter was at the Point in
// June": the unit named last before, where nothing else was named since.
const Mention* BlockReading::unit_called_latter(std::uint32_t begin, std::uint32_t before,
                                                std::uint32_t token) const {
  if (office(begin) != "the" || !is_in("latter_word", begin + 1)) return nullptr;
  const Mention* last = nullptr;
  for (const Mention& name : mentions_.items) {
    if (name.first >= token) break;
    const bool may_be_it = name.kind == MentionKind::kAirframe || name.kind == MentionKind::kUnit ||
                           name.kind == MentionKind::kPerson || name.kind == MentionKind::kType ||
                           name.kind == MentionKind::kPlace || name.kind == MentionKind::kMarking;
    if (name.first < before || !may_be_it) continue;
    if (name.first >= begin) return nullptr;
    last = &name;
  }
  const bool is_unit = last != nullptr && last->kind == MentionKind::kUnit && last->known &&
                       last->readings.empty() && !is_possessive(*last);
  return is_unit ? last : nullptr;
}

// "The chequers that were by then the School's alone": a clause about a marking.
bool BlockReading::is_of_marking_told(const Mention& unit) const {
  constexpr std::uint32_t kReach = 9;
  for (std::uint32_t t = unit.first; t-- > 1 && unit.first - t <= kReach;) {
    if (clauses_.sentence_of[t] != clauses_.sentence_of[unit.first]) return false;
    if (!is_in("relative_word", t)) continue;
    const std::uint32_t end = word(t - 1) == "," ? t - 1 : t;
    return any_mention(MentionKind::kMarking,
                       [&](const Mention& marking) { return marking.last == end; });
  }
  return false;
}

// "The album of 7 Squadron", "7 Squadron's diary".
bool NounReading::is_of_papers(const Mention& unit) const {
  if (is_possessive(unit) && is_in_list("credit_noun", unit.last)) return true;
  // "The Depot's book", "the Depot's new notice board".
  constexpr std::uint32_t kAdjectives = 3;
  const std::uint32_t owned = begin_of_owned(unit);
  // "X12 was on 9 Squadron's books": its own.
  if (is_on_its(unit, "strength_noun")) return false;
  for (std::uint32_t t = owned; is_possessive(unit) && t < mentions_.tokens.size(); ++t) {
    const Token& token = mentions_.tokens[t];
    if (t - owned > kAdjectives || token.kind != TokenKind::kWord || token.capital) break;
    if (is_in_list("paper_noun", t)) return true;
  }
  std::uint32_t t = unit.first;
  if (t > 0 && office(t - 1) == "the") --t;
  return t >= 2 && office(t - 1) == "of" && is_in_list("credit_noun", t - 2);
}

}  // namespace tailproof
