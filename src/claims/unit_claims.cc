// Claims of units: whose they are, a machine's, a person's or nobody's, and in which role.
#include <algorithm>

#include "claims/assembler.h"
#include "claims/unit_life.h"
#include "grammars/fold.h"

namespace tailproof {
// "A pilot of 917 Squadron", "fitters of the 5th", "an 11th Company navigator's table": somebody's
// unit, and not the aircraft's.
bool NounReading::is_of_unnamed_person(const Mention& unit) const {
  if (is_in_list("person_noun", unit.last)) return true;
  std::uint32_t t = unit.first;
  if (t > 0 && office(t - 1) == "the") --t;
  if (t < 2) return false;
  const Spelling preposition = office(t - 1);
  if (preposition != "of" && preposition != "from") return false;
  return is_in_list("person_noun", t - 2);
}

// "With 914 Squadron it had no name": so opens a later sentence of a caption, of another's time.
bool BlockAssembler::is_fronted(const Mention& unit) const {
  std::uint32_t t = unit.first;
  if (t > 0 && office(t - 1) == "the") --t;
  if (t == 0 || !is_in("object_preposition", t - 1) || !is_in_later_sentence(unit.first))
    return false;
  if (t > 1 && is_in("while_word", t - 2)) --t;  // "while with the First it was AL/9"
  if (t > 1 && clauses_.sentence_of[t - 2] == clauses_.sentence_of[t]) return false;
  const std::uint32_t subject = unit.last + (word(unit.last) == "," ? 1 : 0);
  return is_in("story_subject", subject) &&
         (is_in("story_verb", subject + 1) || is_in("had_word", subject + 1));
}

// "A paper sketches a 3rd Patrol of nine aircraft": with such an article, and nothing behind it
// that could be its own, a unit that there is not yet.
bool BlockAssembler::is_one_to_come(const Mention& unit) const {
  if (unit.first == 0) return false;
  if (office(unit.first - 1) != "a") return false;
  const char first = std::string_view(word(unit.first)).front();
  if ((first < '0' || first > '9') && !is_in("ordinal", unit.first)) return false;
  if (unit.last >= mentions_.tokens.size() || mentions_.tokens[unit.last].kind == TokenKind::kMark)
    return !is_possessive(unit);
  return is_in("function_word", unit.last) && !is_possessive(unit);
}

// "The band that she wore when 8 Squadron had her": another time than the picture's.
bool BlockAssembler::is_when_it_had(const Mention& unit) const {
  const Clause& own = clauses_.clauses[clauses_.clause_of[unit.first]];
  if (!is_caption() || own.kind != ClauseKind::kSubordinate || !is_in("when_word", own.first))
    return false;
  std::uint32_t t = unit.first;
  if (t > 0 && office(t - 1) == "the") --t;
  const auto count = static_cast<std::uint32_t>(mentions_.tokens.size());
  if (t != own.first + 1 || unit.last + 1 >= count || own.first == 0) return false;
  const bool hangs_on_relative =
      clauses_.clauses[clauses_.clause_of[own.first - 1]].kind == ClauseKind::kRelative;
  const auto pronouns = index_.of("cue_pronoun");
  const bool is_worn_then =
      own.first > 2 && office(own.first - 3) == "that" && is_in("story_subject", own.first - 2);
  return (hangs_on_relative || is_worn_then || is_in_later_sentence(unit.first)) &&
         is_in("holding_verb", unit.last) &&
         std::any_of(pronouns.begin(), pronouns.end(),
                     [&](std::uint32_t c) { return mentions_.items[c].first == unit.last + 1; });
}

// "In formation with a machine of the School", "beside another Grapnel of 12 Squadron": of one that
// is not named, and not of those that are. ("F105, a machine of 12 Squadron" is of one that is.)
bool BlockAssembler::is_of_unnamed_machine(const Mention& unit) const {
  std::uint32_t t = unit.first;
  // "Beside a Heron boat", "with a 9 Squadron machine's crew".
  if (t > 1 && is_in("unnamed_article", t - 1) && unit.last < mentions_.tokens.size()) {
    std::string_view noun = folded(unit.last);
    for (const std::string_view owner :
         {std::string_view("'s"), std::string_view("\xE2\x80\x99s")}) {
      if (noun.ends_with(owner)) noun.remove_suffix(owner.size());
    }
    const WordList* machines = lexicon_.grammars().list("machine_noun");
    const WordList* craft = lexicon_.grammars().list("craft_noun");
    const bool is_machine = is_craft(unit.last) ||
                            (machines != nullptr && !machines->value_of(noun).empty()) ||
                            (craft != nullptr && !craft->value_of(noun).empty());
    if (is_machine) return is_in("companion_word", t - 2) || is_in("object_preposition", t - 2);
  }
  if (t > 0 && office(t - 1) == "the") --t;
  if (t < 3 || (office(t - 1) != "of" && office(t - 1) != "from")) return false;
  std::uint32_t noun = t - 2;
  const Mention* type = mention_over(MentionKind::kType, noun);
  if (type == nullptr && !is_in_list("machine_noun", noun)) return false;
  if (type != nullptr) noun = type->first;
  constexpr std::uint32_t kAdjectives = 3;
  for (std::uint32_t a = noun; a-- > 0 && noun - a <= kAdjectives + 1;) {
    if (is_in_list("unnamed_article", a) || is_in_list("number", a)) {
      if (a > 0 && office(a - 1) == "the") --a;  // "and the two machines of 9 Squadron"
      return a > 0 && is_in_list("companion_word", a - 1);
    }
    if (mentions_.tokens[a].kind != TokenKind::kWord) return false;
  }
  return false;
}

// "Unlike the machines of 9 Squadron it has no band".
bool BlockAssembler::is_compared(const Mention& unit) const {
  constexpr std::uint32_t kReach = 7;
  for (const std::uint32_t c : index_.of("cue_compared")) {
    const Mention& cue = mentions_.items[c];
    if (cue.last <= unit.first && unit.first - cue.last <= kReach &&
        clauses_.segment_of[cue.first] == clauses_.segment_of[unit.first])
      return true;
  }
  return false;
}

// Two or three capitals that no name has taken: the letters of a unit.
bool BlockAssembler::is_code_letters(std::uint32_t token) const {
  const Spelling letters = word(token);
  const std::string_view text = letters;
  return text.size() >= 2 && text.size() <= 3 && mention_ending_at(token + 1) == nullptr &&
         std::all_of(text.begin(), text.end(), [](char c) { return c >= 'A' && c <= 'Z'; });
}

// "Later KS-C of 934 Squadron", "once NP-C with 917 Squadron": of the time of the code right before
// it.
std::optional<Tense> BlockAssembler::tense_of_code_before(const Mention& unit) const {
  const Claim* code = code_right_before(unit);
  return code == nullptr ? std::nullopt : std::optional(code->tense);
}

const Claim* BlockAssembler::code_right_before(const Mention& unit) const {
  std::uint32_t t = unit.first;
  if (t > 0 && office(t - 1) == "the") --t;
  if (t > 1 && office(t - 1) == "a" && office(t - 2) == "as") --t;  // "C+3 as an Otter"
  if (t == 0 || (office(t - 1) != "of" && office(t - 1) != "with" && office(t - 1) != "in" &&
                 office(t - 1) != "as"))
    return nullptr;
  for (std::size_t i = first_claim_; i < out_.size(); ++i) {
    const Claim& code = out_[i];
    if (code.kind != ClaimKind::kAirframe || code.role != "code") continue;
    if (token_at(code.end) + 1 == t || token_at(code.end) == t - 1) return &code;
  }
  return nullptr;
}

// "Within a week of B Flight's arrival", "the return of 12 Squadron".
bool BlockAssembler::is_of_its_story(const Mention& unit) const {
  constexpr ListName kStory = "unit_story_noun";
  if (is_possessive(unit) && (is_in_list(kStory, unit.last) || is_in_list(kStory, unit.last + 1)))
    return true;
  std::uint32_t of = unit.first;
  if (of > 0 && office(of - 1) == "the") --of;
  if (of > 1 && office(of - 1) == "of" && is_in_list(kStory, of - 2)) return true;
  // "Within a year the Flight had become 914 Squadron".
  if (of > 0 && is_in_list("become_word", of - 1)) return true;
  // "The letters were 917 Squadron's".
  return is_possessive(unit) &&
         (unit.last >= mentions_.tokens.size() ||
          mentions_.tokens[unit.last].kind == TokenKind::kMark) &&
         of > 0 && is_in_list("being_word", of - 1);
}

// "The Second gave up Averley", "11 Squadron was formed at Corrant": a unit's own story.
bool BlockAssembler::tells_of_itself(const Mention& unit) const {
  if (is_of_its_story(unit)) return true;
  const std::uint32_t clause = clauses_.clause_of[unit.first];
  bool has_machine = false;
  for (const Group& group : groups_) {
    if (group.clause == clause && group.last <= unit.first) return false;
    has_machine = has_machine || group.clause == clause;
  }
  // "Five days after 1 Patrol itself".
  const Clause& own = clauses_.clauses[clause];
  std::uint32_t first = own.first + 1;
  if (first < unit.first && office(first) == "the") ++first;
  if (own.kind == ClauseKind::kSubordinate && first == unit.first && !has_machine) return true;
  // "The 12th left Holmgate in March and took over X12": its move, not what it had then.
  if (is_in("unit_going_verb", unit.last)) {
    const Mention* place = mention_over(MentionKind::kPlace, unit.last + 1);
    if (place != nullptr && place->first == unit.last + 1) return true;
  }
  return any_cue("cue_unit_story", [&](const Mention& cue) {
    // "The Second took over Averley", but not "took over X12".
    const bool is_of_machine = std::any_of(groups_.begin(), groups_.end(), [&](const Group& group) {
      return group.first == cue.last && !group.members.empty();
    });
    return cue.first >= unit.last && cue.first - unit.last <= 1 && !is_of_machine &&
           clauses_.clause_of[cue.first] == clause;
  });
}

// "X12 went to the School; on 1 May the Bays marched out": in running text a unit that a clause
// without a machine has for its subject tells of itself, whatever machine the sentence has named.
bool BlockAssembler::opens_as_subject(const Mention& unit) const {
  const std::uint32_t clause = clauses_.clause_of[unit.first];
  const Clause& own = clauses_.clauses[clause];
  if (is_caption() || unit.list != 0 || is_possessive(unit)) return false;
  if (own.kind != ClauseKind::kMain && own.kind != ClauseKind::kCoordinate) return false;
  const auto count = static_cast<std::uint32_t>(mentions_.tokens.size());
  if (unit.last + 1 >= count) return false;
  // "The Greys had X12, and the Bays, who came later, two"
  const ClauseKind next = clauses_.clauses[clauses_.clause_of[unit.last + 1]].kind;
  const bool is_told_of = word(unit.last) == "," && next == ClauseKind::kRelative;
  std::uint32_t t = unit.first;
  if (t > own.first && office(t - 1) == "the") --t;
  if (is_told_of && t > own.first + 1 && office(t - 1) == "and" && word(t - 2) == ",") return true;
  if (has_machine(clause)) return false;
  // "Lent them a fourth": to a unit, and no machine.
  const auto has_pronoun = [&](std::uint32_t c) {
    const Mention& cue = mentions_.items[c];
    return clauses_.clause_of[cue.first] == clause && !is_in("determiner", cue.last) &&
           !is_in("unnamed_article", cue.last) && !is_in("number", cue.last);
  };
  const auto pronouns = index_.of("cue_pronoun");
  if (std::any_of(pronouns.begin(), pronouns.end(), has_pronoun)) return false;
  // "The Bays, at Lowmoor, lent it"
  std::uint32_t verb = unit.last;
  if (word(verb) == "," && is_in("object_preposition", verb + 1)) {
    constexpr std::uint32_t kAside = 6;
    std::uint32_t close = verb + 2;
    while (close + 1 < count && close - verb < kAside && word(close) != ",") ++close;
    if (word(close) == "," && clauses_.clause_of[close] == clause) verb = close + 1;
  }
  const Token& behind = mentions_.tokens[std::min(verb, count - 1)];
  const bool has_verb = behind.kind == TokenKind::kWord && !behind.capital &&
                        (is_in("story_verb", verb) || is_in_list("giving_verb", verb) ||
                         (!is_in("function_word", verb) && !is_in("object_preposition", verb)));
  if (!is_told_of && !has_verb) return false;
  if (t > own.first && is_in("object_preposition", t - 1)) return false;
  while (t > own.first) {
    const Mention* name = mention_ending_at(t);
    if (name != nullptr && name->kind == MentionKind::kDate) {
      t = name->first;
    } else if (word(t - 1) == "," || is_in("day_joint", t - 1) || is_in("day_preposition", t - 1)) {
      --t;
    } else {
      return false;
    }
  }
  return true;
}

// The machines of a unit that no person has: whose it is by the words, or by their order.
NameList BlockAssembler::machines_of(const Mention& unit, std::string* why) const {
  // "X12 and X14 went to the School, the rest to 9 Squadron": nobody is told which those are.
  std::uint32_t to = unit.first;
  if (to > 0 && office(to - 1) == "the") --to;
  if (to > 1 && is_in("object_preposition", to - 1) && is_in("remainder_word", to - 2)) return {};
  // "Behind it is TW-G of 9 Squadron": of the machine that the code names.
  if (const Claim* code = code_right_before(unit); code != nullptr && !code->subject.empty()) {
    *why = "the code before it";
    return {code->subject};
  }
  if (const Mention* machine = machine_called(unit)) {
    *why = "it is called so";
    return {std::string(machine->value)};
  }
  // "204 Squadron flew X12 until May, and 207 Squadron had X14": what its verb takes.
  if (!is_possessive(unit) &&
      (is_in("holding_verb", unit.last) || is_in("gaining_verb", unit.last))) {
    std::uint32_t object = unit.last + 1;
    if (is_in("over_word", object)) ++object;
    for (const Group& group : groups_) {
      if (group.first != object || clauses_.clause_of[object] != clauses_.clause_of[unit.first])
        continue;
      *why = "what its verb takes";
      return group.serials;
    }
  }
  // "The search for KB201 of 9 Squadron": of the machine that it stands behind, seen or not.
  std::uint32_t of = unit.first;
  if (of > 0 && office(of - 1) == "the") --of;
  if (of > 0 && unit.list == 0 && office(of - 1) == "of") {
    for (const Group& group : groups_) {
      if (group.last == of - 1 && group.serials.size() == 1 && !group.shown) {
        *why = "the serial before it";
        return group.serials;
      }
    }
  }
  // "The Bays had X12, and the Greys' own, X14 and X15, came in May": of those that it owns.
  if (const Mention* machine = machine_possessed(unit)) {
    *why = "it is said to be its";
    return {std::string(machine->value)};
  }
  if (is_possessive(unit)) {
    constexpr std::uint32_t kReach = 4;
    std::uint32_t owned = unit.last;
    while (owned < mentions_.tokens.size() && owned - unit.last < kReach &&
           (mentions_.tokens[owned].kind == TokenKind::kMark || folded(owned) == "s" ||
            is_in("owned_word", owned) || is_in("number", owned) || is_in("ordinal", owned) ||
            is_in_list("machine_noun", owned)))
      ++owned;
    for (const Group& group : groups_) {
      const bool is_owned = group.first == owned && owned > unit.last && group.shown &&
                            clauses_.sentence_of[owned] == clauses_.sentence_of[unit.first];
      if (!is_owned) continue;
      *why = "what it owns";
      return group.serials;
    }
  }
  std::vector<std::string> subjects = subjects_of(unit);
  const Group* group = group_for(unit.first, unit.last, why);
  if (group == nullptr) return subjects;
  if (is_of_unit_between(unit, group->first)) return {};
  // "S3001 and S3004 of 911 and 917 Squadrons": one each.
  if (unit.list != 0 && group->serials.size() > 1) {
    std::size_t at = 0, count = 0;
    for (const Mention& other : mentions_of(MentionKind::kUnit)) {
      if (other.list != unit.list) continue;
      if (&other == &unit) at = count;
      ++count;
    }
    if (count == group->serials.size()) return {group->serials[at]};
    return subjects;
  }
  // "S3012 served with 917 and 911 Squadrons": with both.
  const bool is_told_of_one = group->serials.size() == 1 && group->last <= unit.first &&
                              group->clause == clauses_.clause_of[unit.first] &&
                              has_state_verb(unit.first);
  if (unit.list != 0 && !is_told_of_one) return {};
  // "One had been given to the School, and 104R was lost": of the one.
  const bool is_past_joint = group->first > unit.last + 1 && office(group->first - 1) == "and" &&
                             word(group->first - 2) == "," && tells_verb(group->last) &&
                             clauses_.segment_of[group->first] != clauses_.segment_of[unit.first];
  if (!is_caption() && is_past_joint) return {};
  // "He flew X12 until May, when he went over to 61 Squadron": where he went, and no machine.
  const std::uint32_t own = clauses_.clause_of[unit.first];
  const std::uint32_t opening = clauses_.clauses[own].first;
  const auto pronouns = index_.of("cue_pronoun");
  const bool is_of_him = !is_caption() && clauses_.clauses[own].kind == ClauseKind::kSubordinate &&
                         group->clause != own && is_in("person_pronoun", opening + 1) &&
                         std::none_of(pronouns.begin(), pronouns.end(), [&](std::uint32_t c) {
                           return clauses_.clause_of[mentions_.items[c].first] == own;
                         });
  if (is_of_him) return {};
  // In running text a machine further on in another clause is another matter.
  if (!is_caption() && group->first >= unit.last && group->clause != clauses_.clause_of[unit.first])
    return {};
  if (opens_for_all(unit)) {
    for (const Group& other : groups_) {
      for (const std::string& serial : other.serials) {
        if (other.shown && attributed_[other.first] == 0 &&
            std::find(subjects.begin(), subjects.end(), serial) == subjects.end())
          subjects.push_back(serial);
      }
    }
  }
  return subjects;
}

// "11 Flotilla, November 1943. Nearest 43-303, beyond it 43-311": the unit that a caption opens
// with, before any machine, is that of all it shows.
bool BlockAssembler::opens_for_all(const Mention& unit) const {
  if (!is_caption() || groups_.size() < 2 || clauses_.sentence_of[unit.first] != 0) return false;
  const bool is_first = std::all_of(groups_.begin(), groups_.end(), [&](const Group& group) {
    return group.first >= unit.last &&
           clauses_.segment_of[group.first] != clauses_.segment_of[unit.first];
  });
  if (!is_first || unit.first > 2) return false;
  for (std::uint32_t t = 0; t < mentions_.tokens.size(); ++t) {
    if (is_in_list("visitor_word", t)) return false;
    const Mention* other = mention_over(MentionKind::kUnit, t);
    if (other != nullptr && other->value != unit.value) return false;
  }
  return true;
}

// "A quartet from 7 Squadron on the flight line", "Plovers from the School": at the beginning of a
// caption "from" tells whose they are.
bool BlockAssembler::is_of_party(std::uint32_t opens) const {
  constexpr std::uint32_t kLongest = 8;
  if (!is_caption() || opens < 2 || opens > kLongest || groups_.empty()) return false;
  if (groups_.front().first < opens) return false;
  // "Machines from 7 Squadron and 9 Squadron": whose is whose is not told.
  const auto units =
      std::count_if(mentions_.items.begin(), mentions_.items.end(),
                    [](const Mention& other) { return other.kind == MentionKind::kUnit; });
  if (units > 1) return false;
  const std::uint32_t noun = opens - 2;
  const Mention* type = mention_over(MentionKind::kType, noun);
  return type != nullptr || is_in_list("party_noun", noun);
}

namespace {

// Of a unit that somebody came from.
void leave(Claim& unit) {
  unit.role = "former";
  unit.tense = Tense::kFormer;
  unit.said |= kSaidWhence;
}

}  // namespace

void BlockAssembler::add_unit(const Mention& mention) {
  // "LV-B, the former No. 2": its own number, and no unit.
  const bool is_own_number =
      mention.first > 0 && is_in("former_adjective", mention.first - 1) &&
      std::any_of(groups_.begin(), groups_.end(), [&](const Group& group) {
        const auto rows = group.serials.size() == 1 ? ledger_.identities_of(group.serials.front())
                                                    : std::vector<const Identity*>{};
        return std::any_of(rows.begin(), rows.end(), [&](const Identity* row) {
          return row->identity == word(mention.last - 1);
        });
      });
  if (is_own_number) return;
  Claim pattern;
  pattern.value = mention.value;
  pattern.readings = mention.readings;
  pattern.known = mention.known;
  // "They may be 6 Flight's or 36 Squadron's": either of the two.
  for (const Mention& other : mentions_of(MentionKind::kUnit)) {
    const bool is_either = (other.last + 1 == mention.first && office(other.last) == "or") ||
                           (mention.last + 1 == other.first && office(mention.last) == "or");
    if (!is_either || other.value == mention.value) continue;
    if (pattern.readings.empty()) pattern.readings.emplace_back(mention.value);
    pattern.readings.emplace_back(other.value);
  }
  const PersonsUnit of = person_of(mention);
  if (of.person != nullptr) {
    pattern.role = of.role;
    pattern.tense = is_unit_of_before(mention) ? Tense::kFormer : of.tense;
    pattern.subject = of.person->value;
    pattern.why = of.why;
    if (is_whence(mention)) leave(pattern);
    add_for_subjects(mention, ClaimKind::kUnit, {}, pattern);
    return;
  }
  if (const Claim* before = career_before(mention)) {
    pattern.role = before->role;
    pattern.tense = before->tense;
    pattern.subject = before->subject;
    pattern.why = "the next unit of the same person";
    if (is_whence(mention)) leave(pattern);
    add_for_subjects(mention, ClaimKind::kUnit, {}, pattern);
    return;
  }
  if (is_in_who_clause(mention)) {
    pattern.tense = Tense::kFormer;
    add_for_subjects(mention, ClaimKind::kUnit, {}, pattern);
    return;
  }
  if (flies_what_is_shown(mention)) {
    const NameList shown = shown_serials();
    if (shown.size() == 1) {
      pattern.role = "operator";
      pattern.why = "it flies what is shown";
      add_for_subjects(mention, ClaimKind::kUnit, shown, pattern);
      return;
    }
  }
  if (is_of_unnamed_person(mention)) {
    pattern.role = "member";
    if (const Mention* flown = machine_flown_by_theirs(mention)) {
      pattern.role = "operator";
      pattern.subject = flown->value;
      pattern.why = "its people flew it";
    }
    if (cue_before(mention, "cue_unit_former", 1) != nullptr) pattern.tense = Tense::kFormer;
    if (cue_before(mention, "cue_unit_later", 1) != nullptr) pattern.tense = Tense::kLater;
    // "Pilots of 15 Company" are in the picture; "photographed by a sergeant of the 4th" is not.
    if (is_caption() && cue_before(mention, "cue_not_pictured", 5) == nullptr)
      pattern.subject = figure_subject();
    add_for_subjects(mention, ClaimKind::kUnit, {}, pattern);
    return;
  }
  // "In the month in which 6 Flight was renumbered": told aside in the sentence itself.
  const ClauseKind kind = clauses_.clauses[clauses_.clause_of[mention.first]].kind;
  const bool is_own_story =
      tells_of_itself(mention) &&
      (!is_caption() || kind == ClauseKind::kRelative || is_told_aside(mention));
  const bool is_possessed =
      machine_possessed(mention) != nullptr || machine_called(mention) != nullptr;
  // "The cross on the cape, put up by No. 12 Unit": a thing is theirs, and not the scene.
  const std::uint32_t article = mention.first > 0 && office(mention.first - 1) == "the" ? 1 : 0;
  const std::uint32_t by = mention.first - article;
  const bool is_maker = is_caption() && groups_.empty() && by > 1 && is_in("unit_agent", by - 1) &&
                        mentions_of(MentionKind::kType).empty() &&
                        !stands_between(begin_of_sentence(by), by, "machine_noun");
  // "The yellow bands were for the School alone", "outside the Works".
  const bool is_beside_it =
      by > 1 && (is_in("landmark_word", by - 1) ||
                 (office(by - 1) == "for" && is_in("event_auxiliary", by - 2)));
  if (is_of_scheme(by) || (by > 0 && is_in("donor_word", by - 1))) pattern.tense = Tense::kFormer;
  // "She left for the School on 9 January".
  if (by > 1 && office(by - 1) == "for" && is_in("unit_leaving", by - 2))
    pattern.tense = Tense::kLater;
  const bool is_aside =
      is_maker || is_beside_it || is_what_unit_became(mention) || is_of_marking_told(mention) ||
      is_of_papers(mention) || is_compared(mention) || is_of_its_story(mention) ||
      is_of_unnamed_machine(mention) || cue_before(mention, "cue_neighbour", 2) != nullptr ||
      is_own_story || is_of_other_thing(mention) || opens_as_subject(mention) ||
      has_verb_of_its_own(mention) || is_tied_elsewhere(mention) ||
      tells_of_other_unit(mention.first);
  if (is_aside && !is_possessed) {
    if (is_caption()) pattern.subject = figure_subject();
    pattern.shown = !is_of_papers(mention) && !is_compared(mention) && !is_maker;
    add_for_subjects(mention, ClaimKind::kUnit, {}, pattern);
    return;
  }
  if (const Mention* flown = cue_before(mention, "cue_unit_operator", 2); flown != nullptr) {
    pattern.role = "operator";
    // A loan leaves the books as they are: only with whom it never was is worth a word.
    if (is_caption() && stands_between(flown->first, flown->last, "loan_word"))
      pattern.tense = Tense::kFormer;
  }
  if (cue_before(mention, "cue_unit_holder", 2) != nullptr) pattern.role = "holder";
  if (is_on_its(mention, "books_noun")) pattern.role = "holder";
  if (const std::string_view hand = hand_before(mention); !hand.empty()) pattern.role = hand;
  if (is_left_by_machine(mention)) pattern.role = "former";
  if (cue_before(mention, "cue_unit_former", 3) != nullptr) pattern.role = "former";
  if (is_possessive(mention) && mention.first > 0 && is_in("lately_word", mention.first - 1))
    pattern.role = "former";
  // "formerly 7Q-C of 61 Sqn": over a code to its unit.
  std::uint32_t opens = mention.first;
  if (opens > 0 && office(opens - 1) == "the") --opens;
  const std::string_view before_unit = opens > 0 ? office(opens - 1) : "";
  if ((before_unit == "of" || before_unit == "with") &&
      cue_before(mention, "cue_unit_former", 8) != nullptr) {
    pattern.role = "former";
  }
  // "The NP-D of 917 Squadron is painted over".
  // "From 7 Squadron and 9 Squadron".
  const Mention* joined = before_unit == "and" ? mention_ending_at(opens - 1) : nullptr;
  const bool is_from =
      before_unit == "from" || (joined != nullptr && joined->kind == MentionKind::kUnit &&
                                joined->first > 0 && office(joined->first - 1) == "from");
  if ((is_from && !is_of_party(opens)) || is_lower_coat(mention)) pattern.role = "former";
  // "The Depot issued V/113 to 12 Company": who gives has it no longer.
  const std::uint32_t verb = mention.last + (is_in("had_word", mention.last) ? 1 : 0);
  const bool gives = is_in_list("giving_verb", verb);
  const bool gives_unnamed = gives && pattern.role.empty() && !is_caption();
  if (gives || gives_as_before(mention)) pattern.role = "former";
  if (cue_before(mention, "cue_unit_later", 3) != nullptr) pattern.role = "later";
  if (!is_caption() && is_one_to_come(mention)) {
    pattern.role = "later";
    pattern.shown = false;
  }
  // "P311, Tamble, 12.42. To 24 Squadron": where it went from there.
  const std::uint32_t to = mention.first > 1 ? mention.first - 1 : 0;
  // On a card that has a day of its own: "To 24 Squadron on 5 March 1943".
  const bool is_dated_entry = !is_caption() && is_entry() && has_date_in_segment(mention.first);
  if (to > 0 && office(to) == "to" && mentions_.tokens[to].sentence_start && !is_dated_entry)
    pattern.role = "later";
  if (pattern.role == "former" ||
      (is_caption() && (is_past(mention) || is_fronted(mention) || is_when_it_had(mention))))
    pattern.tense = Tense::kFormer;
  if (is_of_youth(mention) || (is_caption() && (is_unit_apart(mention) || is_of_span(mention))))
    pattern.tense = Tense::kFormer;
  if (mention.first > 0 && is_in("earlier_adjective", mention.first - 1) &&
      is_in_list("machine_noun", mention.last))
    pattern.tense = Tense::kFormer;
  if (pattern.role == "later") pattern.tense = Tense::kLater;
  // "The yellow undersides of the Flying School": whose they were.
  const Mention* marking =
      opens > 1 && before_unit == "of" ? mention_ending_at(opens - 1) : nullptr;
  if (marking != nullptr && marking->kind == MentionKind::kMarking) pattern.tense = Tense::kFormer;
  // "The KT of 9 Squadron has been painted out", "its Court Flight days".
  const bool is_of_letters = opens > 1 && before_unit == "of" && is_code_letters(opens - 2);
  if (is_of_letters || is_in("days_of_unit", mention.last)) pattern.tense = Tense::kFormer;
  if (const std::optional<Tense> tense = tense_of_code_before(mention);
      tense && pattern.tense == Tense::kThen) {
    pattern.tense = *tense;
  }
  // "Cat. B 3.1.41; 2 RD 10.1.41; 7 Sqn 2.3.41": who mended it did not hold it.
  const Unit* unit = ledger_.unit(mention.value);
  const WordList* mending = lexicon_.grammars().list("mending_unit_kind");
  // And "at the Yard, June 1942" is where it stood, whoever had it.
  if ((is_caption() ? before_unit == "at" || before_unit == "in" : is_entry()) && unit != nullptr &&
      pattern.role.empty() && mending != nullptr && !mending->value_of(unit->kind).empty()) {
    pattern.tense = Tense::kFormer;
  }
  const std::vector<std::string> subjects = machines_of(mention, &pattern.why);
  if (subjects.empty()) pattern.subject = is_caption() ? figure_subject() : "";
  // "In August the School lent its boats": of no machine, and so of its own time.
  if (subjects.empty() && gives_unnamed && pattern.role == "former") {
    pattern.role.clear();
    pattern.tense = Tense::kThen;
  }
  // "It handed its line to the Twelfth": who takes it is told of no more.
  if (subjects.empty() && !is_caption() && before_unit == "to" && pattern.tense == Tense::kThen)
    pattern.tense = Tense::kLater;
  add_for_subjects(mention, ClaimKind::kUnit, subjects, pattern);
}

void BlockAssembler::add_units() {
  for (const Mention& mention : mentions_.items) {
    if (mention.kind == MentionKind::kUnit) add_unit(mention);
  }
  add_commands();
  add_commands_of_spoken();
  add_units_by_noun();
  add_same_units();
}

}  // namespace tailproof
