// Who is said to command a unit, where the unit is named first ("923 Squadron, commanded by
// Lt-Cdr Sarratt", "the CO of 923 Squadron, Lt-Cdr Sarratt", "923 Squadron's CO, Sarratt"), and
// units to which a machine is said to have gone on a day.
#include <algorithm>

#include "claims/assembler.h"

namespace tailproof {

// Somebody named right there, behind an article, rank or initials.
const Mention* BlockReading::name_behind(std::uint32_t token) const {
  constexpr std::uint32_t kReach = 8;
  const auto count = static_cast<std::uint32_t>(mentions_.tokens.size());
  for (std::uint32_t t = token; t < count && t - token < kReach; ++t) {
    if (const Mention* person = mention_over(MentionKind::kPerson, t))
      return is_possessive(*person) ? nullptr : person;
    const bool is_rank = mention_over(MentionKind::kRank, t) != nullptr;
    const bool is_point = word(t) == "." && t > token;
    if (!is_rank && !is_point && office(t) != "the") return nullptr;
  }
  return nullptr;
}

// "A detachment of 923 Squadron under Lt Fayle": a part, which somebody else may lead. A machine
// is no part that leads itself: "R2014 of 923 Squadron, commanded by Sarratt".
bool BlockReading::is_part_of_unit(const Mention& unit) const {
  std::uint32_t t = unit.first;
  if (t > 0 && office(t - 1) == "the") --t;
  if (t == 0) return false;
  const bool is_of = office(t - 1) == "of" || office(t - 1) == "from" || office(t - 1) == "with";
  if (!is_of) return false;
  return t < 2 || mention_over(MentionKind::kAirframe, t - 2) == nullptr;
}

const Mention* BlockReading::commander_behind(const Mention& unit) const {
  if (unit.list != 0) return nullptr;
  const auto count = static_cast<std::uint32_t>(mentions_.tokens.size());
  const std::uint32_t sentence = clauses_.sentence_of[unit.first];
  const auto is_here = [&](const Mention* person) {
    return person != nullptr && clauses_.sentence_of[person->first] == sentence;
  };
  const auto is_time = [&](std::uint32_t t) {
    return mention_over(MentionKind::kDate, t) != nullptr || is_in("year_preposition", t) ||
           office(t) == "on" || office(t) == "in";
  };
  // "917 Squadron's CO, Lt Hollowell"; "917 Squadron, whose CO, Lt Hollowell, was ill".
  const std::uint32_t whose = unit.last + (unit.last < count && word(unit.last) == "," ? 1 : 0);
  const bool is_whose = whose < count && is_in("whose_word", whose);
  if (is_possessive(unit) || is_whose) {
    const std::uint32_t owner = is_whose ? whose + 1 : unit.last;
    for (const std::uint32_t c : index_.of("cue_its_commander")) {
      const Mention& cue = mentions_.items[c];
      if (cue.first < owner || cue.first - owner > 2) continue;
      const bool is_next =
          std::all_of(mentions_.tokens.begin() + owner, mentions_.tokens.begin() + cue.first,
                      [](const Token& token) {
                        return token.kind == TokenKind::kMark || token.end - token.begin == 1;
                      }) ||
          // "917 Squadron's new CO".
          (cue.first - owner == 1 && is_in("commander_adjective", owner));
      if (!is_next) continue;
      std::uint32_t t = cue.last;
      // "917 Squadron's CO in May 1942 was Hollowell".
      while (t < count && clauses_.sentence_of[t] == sentence && is_time(t)) ++t;
      const bool is_said = t < count && (is_in("being_word", t) || office(t) == "is");
      if (!is_said && t != cue.last) continue;
      if (is_said || (t < count && (word(t) == "," || word(t) == "("))) ++t;
      if (const Mention* person = name_behind(t); is_here(person)) return person;
    }
    return nullptr;
  }
  // "The CO of 923 Squadron, Lt-Cdr Sarratt", "The commander of 940 Squadron in 1945 was Sarratt".
  for (const std::uint32_t c : index_.of("cue_commander_of")) {
    const Mention& cue = mentions_.items[c];
    if (cue.last > unit.first || unit.first - cue.last > 1 || cue.first == 0) continue;
    if (cue.last < unit.first && office(cue.last) != "the") continue;
    // "As commander of 923 Squadron Sarratt signed it".
    const bool is_opening =
        office(cue.first - 1) == "as" && begin_of_sentence(cue.first) == cue.first - 1;
    if (is_opening) {
      const Mention* person = name_behind(unit.last + (word(unit.last) == "," ? 1 : 0));
      if (is_here(person)) return person;
    }
    // "Lt Fayle, the CO of 923 Squadron, Lt Sarratt and ...": a list, and said of the one before.
    if (office(cue.first - 1) != "the") continue;
    std::uint32_t before = cue.first - 1;
    while (before > 0 && (word(before - 1) == "," || word(before - 1) == "(" ||
                          mention_over(MentionKind::kAward, before - 1) != nullptr))
      --before;
    if (before > 0 && mention_over(MentionKind::kPerson, before - 1) != nullptr) continue;
    std::uint32_t t = unit.last;
    while (t < count && clauses_.sentence_of[t] == sentence && is_time(t)) ++t;
    const bool is_said = t < count && (word(t) == "," || word(t) == "(" || office(t) == "is" ||
                                       is_in("being_word", t));
    if (!is_said) continue;
    if (const Mention* person = name_behind(t + 1); is_here(person)) return person;
    // "The CO of 923 Squadron in May, when it had no machines, was Sarratt".
    constexpr std::uint32_t kLongestAside = 12;
    const std::uint32_t past = word(t) == "," ? end_of_aside(t + 1, kLongestAside) : kNone;
    if (past == kNone || !is_in("being_word", past)) continue;
    if (const Mention* person = name_behind(past + 1); is_here(person)) return person;
  }
  if (is_part_of_unit(unit)) return nullptr;
  // "923 Squadron, led in May by Sarratt", past the time.
  std::uint32_t led = unit.last;
  while (led < count && (word(led) == "," || is_in("being_word", led) || is_in("use_adverb", led)))
    ++led;
  if (is_in("leading_participle", led)) {
    std::uint32_t by = led + 1;
    while (by < count && clauses_.sentence_of[by] == sentence && !is_in("by_word", by) &&
           is_time(by))
      ++by;
    const Mention* person = is_in("by_word", by) ? name_behind(by + 1) : nullptr;
    if (is_here(person)) return person;
  }
  for (const std::uint32_t c : index_.of("cue_commanded_by")) {
    const Mention& cue = mentions_.items[c];
    if (cue.first < unit.last || clauses_.sentence_of[cue.first] != sentence) continue;
    bool is_beside = true;
    for (std::uint32_t t = unit.last; t < cue.first && is_beside; ++t) {
      is_beside = word(t) == "," || word(t) == "(" || is_in("being_word", t) || is_time(t) ||
                  office(t) == "at" || mention_over(MentionKind::kPlace, t) != nullptr;
    }
    if (!is_beside) break;
    if (const Mention* person = name_behind(cue.last); is_here(person)) return person;
  }
  return nullptr;
}

// "Officers of 61 Squadron: Sqn Ldr Crewe, commanding, ...": the only unit of the block.
void BlockAssembler::add_commands() {
  const Mention* unit = nullptr;
  for (const Mention& mention : mentions_of(MentionKind::kUnit)) {
    if (unit != nullptr && unit->value != mention.value) return;
    if (unit == nullptr) unit = &mention;
  }
  if (unit == nullptr || !is_of_unnamed_person(*unit)) return;
  for (const std::uint32_t c : index_.of("cue_unit_command")) {
    const Mention& cue = mentions_.items[c];
    if (cue.first < unit->last) continue;
    const bool ends =
        cue.last >= mentions_.tokens.size() || mentions_.tokens[cue.last].kind == TokenKind::kMark;
    if (!ends) continue;
    std::uint32_t t = cue.first;
    while (t > 0 && (word(t - 1) == "," || word(t - 1) == "(" || office(t - 1) == "the" ||
                     mention_over(MentionKind::kAward, t - 1) != nullptr)) {
      --t;
    }
    const Mention* person = t > 0 ? mention_over(MentionKind::kPerson, t - 1) : nullptr;
    if (person == nullptr || t == cue.first) continue;
    Mention here = cue;
    here.value = finder_.keep(unit->value);
    here.readings = unit->readings;
    here.known = unit->known;
    Claim pattern;
    pattern.value = unit->value;
    pattern.readings = unit->readings;
    pattern.known = unit->known;
    pattern.role = "command";
    pattern.subject = person->value;
    pattern.why = "the unit named before";
    add_for_subjects(here, ClaimKind::kUnit, {}, pattern);
  }
}

// "Corporal May Tindall, a rigger of the School", "Tindall, at that time still a rigger of the
// School".
const Mention* BlockReading::person_in_apposition(const Mention& unit) const {
  std::uint32_t t = unit.first;
  if (t > 0 && office(t - 1) == "the") --t;
  if (t < 4) return nullptr;
  const Spelling preposition = office(t - 1);
  if ((preposition != "of" && preposition != "from" && preposition != "with") ||
      !is_in_list("person_noun", t - 2)) {
    return nullptr;
  }
  const Spelling article = office(t - 3);
  if (article != "a" && article != "the") return nullptr;
  std::uint32_t lead = t - 3;
  while (lead > 1 && is_in("of_then_word", lead - 1)) --lead;
  const bool is_apposed = lead > 1 && (word(lead - 1) == "," || (is_in("being_word", lead - 1)));
  return is_apposed ? mention_over(MentionKind::kPerson, lead - 2) : nullptr;
}

// "R2014 left 914 Squadron", and not "R2014 (left), 914 Squadron".
bool BlockReading::is_left_by_machine(const Mention& unit) const {
  std::uint32_t t = unit.first;
  if (t > 0 && office(t - 1) == "the") --t;
  for (const std::uint32_t c : index_.of("cue_leaving")) {
    const Mention& cue = mentions_.items[c];
    if (cue.last != t || cue.first == 0) continue;
    const std::uint32_t before = cue.first - 1;
    return mention_over(MentionKind::kAirframe, before) != nullptr ||
           is_in("story_subject", before) || is_in("pluperfect_auxiliary", before) ||
           is_in("machine_noun", before);
  }
  return false;
}

// "Quillian (1918-1944)": the years of somebody's life, or of his service, alone in brackets behind
// the name.
bool BlockReading::is_span_of_life(const Mention& date) const {
  const DateMention& span = mentions_.dates[date.payload];
  const bool is_range = span.joint == DateJoint::kRange && span.second.month == 0;
  const bool is_years = span.joint == DateJoint::kNone && span.first.last_year.has_value();
  if ((!is_range && !is_years) || span.first.month != 0 || date.first < 2 ||
      date.last >= mentions_.tokens.size() || word(date.first - 1) != "(" || word(date.last) != ")")
    return false;
  return mention_over(MentionKind::kPerson, date.first - 2) != nullptr ||
         mention_over(MentionKind::kAward, date.first - 2) != nullptr;
}

// The marking right before the aside of the turn: "the amber band, which came in", "the band that
// came in", "the band, introduced".
const Mention* BlockReading::marking_before_aside(const Mention& turn) const {
  std::uint32_t t = turn.first;
  while (t > 0 && (is_in("event_auxiliary", t - 1) || is_in("pluperfect_auxiliary", t - 1) ||
                   is_in("event_aside", t - 1)))
    --t;
  const bool is_relative = t > 0 && (office(t - 1) == "which" || office(t - 1) == "that");
  if (is_relative) --t;
  const bool has_comma = t > 0 && word(t - 1) == ",";
  if (has_comma) --t;
  if (!is_relative && !has_comma) return nullptr;
  return t > 0 ? mention_over(MentionKind::kMarking, t - 1) : nullptr;
}

// The marking that is said to have come in or gone out on the date, where its sentence names no
// order, and no machine, unit or place of which alone it may be told.
const Mention* BlockAssembler::marking_turned(const Mention& date) const {
  const std::uint32_t sentence = clauses_.sentence_of[date.first];
  const Mention* marking = nullptr;
  const Mention* turn = turn_word_of(date);
  // "The amber band, which came in on 1 May, was on X12 in June": what stands right behind the
  // marking, between commas, is of the marking, whatever the rest tells of.
  const Mention* own = turn == nullptr ? nullptr : marking_before_aside(*turn);
  if (own != nullptr)
    return own->readings.empty() && turn->last <= date.first &&
                   clauses_.segment_of[date.first] == clauses_.segment_of[turn->first]
               ? own
               : nullptr;
  for (const Mention& other : mentions_.items) {
    if (clauses_.sentence_of[other.first] != sentence) continue;
    switch (other.kind) {
      case MentionKind::kAirframe:
      case MentionKind::kUnit:
      case MentionKind::kPlace:
      case MentionKind::kPerson:
      case MentionKind::kType:
      case MentionKind::kOrder:
        return nullptr;
      case MentionKind::kMarking:
        if (marking != nullptr && marking->value != other.value) return nullptr;
        if (marking == nullptr) marking = &other;
        break;
      default:
        break;
    }
  }
  if (marking == nullptr || turn == nullptr || !marking->readings.empty() ||
      marking->last > turn->first || turn->last > date.first)
    return nullptr;
  // "The collar, which came in on 1 April, was withdrawn in May": past the aside.
  constexpr std::uint32_t kLongestAside = 12;
  const Spelling opener = office(marking->last + 1);
  const bool has_aside = word(marking->last) == "," && (opener == "which" || opener == "that");
  const std::uint32_t past =
      has_aside ? end_of_aside(marking->last + 1, kLongestAside) : marking->last;
  if (past == kNone || past > turn->first) return nullptr;
  for (std::uint32_t t = past; t < turn->first; ++t) {
    if (!is_in("being_word", t) && !is_in("event_auxiliary", t) && !is_in("event_aside", t))
      return nullptr;
  }
  return marking;
}

// "Was transferred to 911 Squadron on 20 March": the day is that on which it was there.
void BlockAssembler::settle_transfers() {
  constexpr std::uint32_t kArticle = 5;
  for (std::size_t i = first_claim_; i < out_.size(); ++i) {
    Claim& unit = out_[i];
    if (unit.kind != ClaimKind::kUnit || unit.tense != Tense::kLater ||
        ledger_.airframe(unit.subject) == nullptr)
      continue;
    const auto event =
        std::find_if(out_.begin() + static_cast<std::ptrdiff_t>(first_claim_), out_.end(),
                     [&](const Claim& other) {
                       return other.kind == ClaimKind::kEvent && other.value == "allotted" &&
                              other.subject == unit.subject && other.end <= unit.begin &&
                              unit.begin - other.end <= kArticle && other.tense == Tense::kThen &&
                              other.relation->photograph.block == kNone;
                     });
    if (event == out_.end() || !event->when.known || event->negated) continue;
    const Claim& date = out_[event->when.date];
    if (date.of != "event" || date.event == kNone) continue;
    // "On 2 March X12 passed to 61 Squadron": so it is where the clause opens with the day.
    const std::uint32_t clause = clauses_.clause_of[token_at(event->begin)];
    const std::uint32_t first = clauses_.clauses[clause].first, at = token_at(date.begin);
    const bool is_fronted = clauses_.clause_of[at] == clause && at <= first + 1;
    if (date.begin < unit.end && !is_fronted) continue;
    unit.when = event->when;
    unit.tense = Tense::kThen;
    unit.role.clear();
  }
}

}  // namespace tailproof
