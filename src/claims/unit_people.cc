// Whose unit it is: the person that the words tie it to, in which role and at which time.
#include <algorithm>

#include "claims/assembler.h"

namespace tailproof {

// "Crewe of 61 Squadron", "Crewe (61 Sqn)", "Crewe, CC, 61 Sqn", "Crewe (left) of 61 Sqn": between
// them only marks, ranks, awards, other brackets and small words.
bool BlockAssembler::is_unit_of(const Mention& person, const Mention& unit) const {
  const auto in_bracket = [&](std::uint32_t t) {
    const std::uint32_t clause = clauses_.clause_of[t];
    return clauses_.clauses[clause].kind == ClauseKind::kBracket &&
           clause != clauses_.clause_of[unit.first];
  };
  for (std::uint32_t t = person.last; t < unit.first; ++t) {
    const Spelling w = word(t);
    if (w == ";" || w == ":") return false;
    if (mentions_.tokens[t].kind == TokenKind::kMark || in_bracket(t) ||
        is_in_list("between_person_and_unit", t) ||
        mention_over(MentionKind::kAward, t) != nullptr ||
        mention_over(MentionKind::kRank, t) != nullptr) {
      continue;
    }
    // "Crewe CC, a pilot of 61 Sqn".
    const bool is_noun = is_in_list("person_noun", t) && t > person.last && office(t - 1) == "a";
    if (is_noun || (office(t) == "a" && is_in_list("person_noun", t + 1))) continue;
    return false;
  }
  return true;
}

// "Ottaway (lent by 4 Squadron)": what a bracket right behind a name says is said of it.
const Mention* BlockReading::person_before_bracket(const Mention& unit) const {
  const Clause& clause = clauses_.clauses[clauses_.clause_of[unit.first]];
  if (clause.kind != ClauseKind::kBracket) return nullptr;
  for (std::uint32_t t = clause.first; t < clause.last; ++t) {
    if (mention_over(MentionKind::kAirframe, t) != nullptr) return nullptr;
  }
  std::uint32_t before = clause.first;
  while (before > 0 && mention_over(MentionKind::kAward, before - 1) != nullptr) --before;
  return before > 0 ? mention_over(MentionKind::kPerson, before - 1) : nullptr;
}

// "Orrock FC, who had brought the Magpies up from Dunmerrin": whom the clause is about.
const Mention* BlockReading::person_before_clause(std::uint32_t clause) const {
  std::uint32_t t = clauses_.clauses[clause].first;
  while (t > 0 && (mentions_.tokens[t - 1].kind == TokenKind::kMark ||
                   mention_over(MentionKind::kAward, t - 1) != nullptr)) {
    --t;
  }
  return t > 0 ? mention_over(MentionKind::kPerson, t - 1) : nullptr;
}

// Who does what the words at `cue` say: the name before them in their clause, or whom "he" stands
// for. Nobody when a machine stands between, or where two might be meant.
const Mention* BlockAssembler::doer_of(const Mention& cue) const {
  const std::uint32_t clause = clauses_.clause_of[cue.first];
  std::uint32_t from = clauses_.clauses[clause].first;
  for (const Group& group : groups_) {
    if (group.clause == clause && group.last <= cue.first) from = std::max(from, group.last);
  }
  constexpr std::uint32_t kReach = 8;
  if (cue.first > kReach) from = std::max(from, cue.first - kReach);
  bool is_pronoun = false;
  const Mention* person = nullptr;
  for (std::uint32_t t = from; t < cue.first; ++t) {
    if (clauses_.clause_of[t] != clause) continue;
    const Mention* named = mention_over(MentionKind::kPerson, t);
    if (named != nullptr && named->last <= cue.first && !is_only_compared(*named, cue.first)) {
      person = is_possessive(*named) ? nullptr : named;
      is_pronoun = false;
    } else if (office(t) == "he") {
      is_pronoun = true;
    }
  }
  return is_pronoun ? person_meant_by_he(cue.first) : person;
}

// "61 Squadron pilot Ida Crewe", "the Ninth's Sgt Vardle", "the School's commandant, Crewe": the
// person behind the unit, if nouns for people or a possessive tie them.
const Mention* BlockAssembler::person_after(const Mention& unit) const {
  std::uint32_t t = unit.last;
  bool is_tied = is_possessive(unit);
  while (t < mentions_.tokens.size() && mention_over(MentionKind::kPerson, t) == nullptr) {
    const bool noun = is_in_list("person_noun", t);
    const bool rank = mention_over(MentionKind::kRank, t) != nullptr;
    const bool mark = is_tied && (word(t) == "," || word(t) == "'" || word(t) == ".");
    if (!noun && !rank && !mark) return nullptr;
    is_tied = is_tied || noun || rank;
    ++t;
  }
  return is_tied ? mention_over(MentionKind::kPerson, t) : nullptr;
}

// "As a Boatswain with the First Party": the person of a rank that stands right before the unit
// with an article and no name.
const Mention* BlockAssembler::bearer_of_rank_before(const Mention& unit) const {
  std::uint32_t t = unit.first;
  if (t > 0 && office(t - 1) == "the") --t;
  if (t < 2 || !is_in("object_preposition", t - 1)) return nullptr;
  const Mention* rank = mention_over(MentionKind::kRank, t - 2);
  if (rank == nullptr || rank->first == 0 || !is_in("unnamed_article", rank->first - 1))
    return nullptr;
  for (std::size_t i = first_claim_; i < out_.size(); ++i) {
    const Claim& claim = out_[i];
    if (claim.kind != ClaimKind::kRank || claim.begin != rank->begin ||
        ledger_.person(claim.subject) == nullptr)
      continue;
    for (auto person = mentions_.items.rbegin(); person != mentions_.items.rend(); ++person) {
      if (person->kind == MentionKind::kPerson && person->value == claim.subject &&
          person->last <= rank->first)
        return &*person;
    }
  }
  return nullptr;
}

// "Had 165 Squadron until May", "still had 165 Squadron in May", "ran 165 Squadron in May": not
// "had lent 165 Squadron a cook", nor "had 165 Squadron fed".
bool BlockAssembler::is_had_until(const Mention& unit) const {
  std::uint32_t t = unit.first;
  if (t > 0 && office(t - 1) == "the") --t;
  if (t == 0 || !is_in("unit_keeping", t - 1) || is_possessive(unit)) return false;
  const bool is_kept = !is_in("running_verb", t - 1);
  if (is_kept) return is_in("until_word", unit.last) || is_in("rank_since", unit.last);
  if (unit.last >= mentions_.tokens.size()) return true;
  return mentions_.tokens[unit.last].kind == TokenKind::kMark ||
         is_in("object_preposition", unit.last) || is_in("year_preposition", unit.last) ||
         mention_over(MentionKind::kDate, unit.last) != nullptr;
}

bool BlockAssembler::has_date(std::uint32_t clause) const {
  return any_mention(MentionKind::kDate, [&](const Mention& mention) {
    return !dates_[mention.payload].date.is_unknown() &&
           clauses_.clause_of[mention.first] == clause;
  });
}

// Whose unit it is, in which role and at which time; nobody's when the words tie it to no person.
PersonsUnit BlockAssembler::person_of(const Mention& unit) const {
  PersonsUnit of;
  const std::uint32_t clause = clauses_.clause_of[unit.first];
  const Mention* nearest = nullptr;
  constexpr std::uint32_t kReach = 9;
  for (const Mention& other : mentions_.items) {
    if (other.kind == MentionKind::kPerson && other.last <= unit.first &&
        clauses_.sentence_of[other.first] == clauses_.sentence_of[unit.first] &&
        !is_only_compared(other, unit.first)) {
      nearest = &other;
    }
  }
  if (const Mention* commander = commander_behind(unit)) {
    of.person = commander;
    of.role = "command";
    of.why = "said to command it";
    return of;
  }
  const Mention* command = cue_before(unit, "cue_unit_command", 3);
  const Mention* close =
      nearest != nullptr && unit.first - nearest->last <= kReach ? nearest : nullptr;
  const auto set_tense = [&](std::uint32_t from) {
    for (const std::uint32_t c : cues_) {
      const Mention& cue = mentions_.items[c];
      if (cue.first < from || cue.last > unit.first) continue;
      const std::uint32_t other = clauses_.clause_of[cue.first];
      if (other != clause &&
          (of.role == "command" || clauses_.clauses[other].kind == ClauseKind::kBracket)) {
        continue;
      }
      if (cue.role == "cue_unit_former") of.tense = Tense::kFormer;
      if (cue.role == "cue_unit_later") of.tense = Tense::kLater;
    }
  };
  // "Commanded the 7th during Brandling's leave".
  const auto settle_command = [&] {
    if (of.role != "command") return;
    for (std::uint32_t t = 0; t < mentions_.tokens.size(); ++t) {
      if (clauses_.sentence_of[t] == clauses_.sentence_of[unit.first] && is_in("acting_word", t))
        of.role = "acting";
    }
  };
  if (close != nullptr && is_unit_of(*close, unit)) {
    of.person = &person_in_order(unit, *close);
    of.role = command != nullptr ? "command" : "member";
    // "General Varrick visiting the 9th", "at the 9th": where he is, and not his.
    for (std::uint32_t t = close->last; t < unit.first && command == nullptr; ++t) {
      const bool is_at = office(t) == "at" && t + 2 >= unit.first;
      if (is_at || is_in("visiting_word", t)) of.role = "visitor";
    }
    settle_command();
    of.why = "the person before it";
    set_tense(close->last);
    return of;
  }
  if (command != nullptr && nearest != nullptr && nearest->last <= command->first) {
    of.person = &person_in_order(unit, *nearest);
    of.role = "command";
    settle_command();
    of.why = "the person before it";
    set_tense(nearest->last);
    return of;
  }
  if (const Mention* person = person_before_bracket(unit)) {
    of.person = person;
    of.why = "the bracket hangs on the person";
    set_tense(person->last);
    return of;
  }
  if (const Mention* person = person_after(unit)) {
    of.person = person;
    of.why = "the person behind it";
    if (unit.first > 0 && is_in("former_adjective", unit.first - 1)) of.tense = Tense::kFormer;
    return of;
  }
  if (const Mention* person = named_behind_opening(unit, "posting_word", MentionKind::kPerson)) {
    of.person = person;
    of.role = "member";
    of.why = "the person behind what the sentence opens with";
    return of;
  }
  // "Corporal May Tindall, a rigger of the School".
  if (const Mention* person = person_in_apposition(unit)) {
    of.person = person;
    of.why = "said of the person before the comma";
    set_tense(person->last);
    return of;
  }
  const Spelling opener = office(clauses_.clauses[clause].first);
  const bool is_relative = clauses_.clauses[clause].kind == ClauseKind::kRelative;
  const Mention* told = cue_before(unit, "cue_person_unit", 2);
  if (told != nullptr && clauses_.clause_of[told->first] != clause) told = nullptr;
  if (is_relative &&
      (opener == "who" || (opener == "whose" && told != nullptr && told->value == "term"))) {
    of.person = person_before_clause(clause);
    of.why = "the person whom the clause is about";
    // In a caption what is told of somebody is of another time, unless it is dated.
    of.tense = is_caption() && !has_date(clause) ? Tense::kFormer : Tense::kThen;
    std::uint32_t before = unit.first;
    if (before > 0 && office(before - 1) == "the") --before;
    if (before > 0 && office(before - 1) == "had") of.role = "command";
    if (before > 0 && office(before - 1) == "from") {
      of.role = "former";
      of.tense = Tense::kFormer;
    }
    return of;
  }
  // "Given him as a Boatswain with the First Party": of whoever had the rank.
  if (const Mention* bearer = bearer_of_rank_before(unit); bearer != nullptr) {
    of.person = bearer;
    of.role = "member";
    of.why = "the rank before it is that person's";
    if (is_caption() && !has_date(clause)) of.tense = Tense::kFormer;
    return of;
  }
  if (told == nullptr && command == nullptr && is_had_until(unit)) {
    Mention had = unit;
    had.last = office(unit.first - 1) == "the" ? unit.first - 1 : unit.first;
    had.first = had.last - 1;
    of.person = doer_of(had);
    if (of.person == nullptr && unit.role == "object") of.person = person_before(unit);
    if (of.person != nullptr) {
      of.role = "command";
      of.why = "the person who had it";
      if (is_caption() && !has_date(clause)) of.tense = Tense::kFormer;
      return of;
    }
  }
  if (told == nullptr && command == nullptr && !is_caption()) {
    const Mention* person = person_told_with(unit);
    if (person == nullptr) person = person_told_behind(unit);
    if (person == nullptr) person = person_owning(unit);
    if (person == nullptr) person = person_of_its(unit);
    if (const Mention* left = person == nullptr ? unit_left_for(unit) : nullptr) {
      Mention verb = *left;
      verb.last = office(left->first - 1) == "the" ? left->first - 1 : left->first;
      verb.first = verb.last - 1;
      person = doer_of(verb);
    }
    if (person != nullptr) {
      of.person = person;
      of.role = "member";
      of.why = "the person who is its subject";
      return of;
    }
  }
  if (told == nullptr && command == nullptr) {
    // "He had come to 61 Squadron": of him, where the clause names no machine that he might fly.
    std::uint32_t first = clauses_.clauses[clause].first;
    // "In the spring of 1941 he was a trooper of the Duns".
    const std::uint32_t opening = first;
    while (first < unit.first && office(first) != "he") ++first;
    if (!follows_only_date(opening, first)) first = opening;
    const bool is_his =
        office(first) == "he" &&
        std::none_of(mentions_.items.begin(), mentions_.items.end(), [&](const Mention& other) {
          const bool is_machine = other.kind == MentionKind::kAirframe ||
                                  other.kind == MentionKind::kType || other.role == "cue_pronoun";
          return is_machine && other.first > first && other.last <= unit.first;
        });
    if (!is_his) return of;
    of.person = person_meant_by_he(unit.first);
    of.why = "told of him";
    if (is_caption() && !has_date(clause)) of.tense = Tense::kFormer;
    return of;
  }
  of.person = doer_of(told != nullptr ? *told : *command);
  if (of.person == nullptr && command == nullptr && !is_caption())
    of.person = person_told_with(unit);
  of.why = "the person who is its subject";
  if (told == nullptr) {
    of.role = "command";
    settle_command();
    // "He had commanded the 3rd before it": of another time, unless it is dated.
    if (command->first > 0 && is_in("had_word", command->first - 1) && !has_date(clause))
      of.tense = Tense::kFormer;
    return of;
  }
  const bool is_state = told->value == "was with" || told->value == "term";
  of.role = is_state ? "member" : told->value;
  // "Spent three days with 22 Company": a guest.
  if (told->value == "term" && told->first > 0 && is_in("number", told->first - 1))
    of.role = "visitor";
  // "He had been with 22 Company": before what is told of, unless it is dated.
  const bool is_had =
      office(told->first) == "had" || (told->first > 0 && office(told->first - 1) == "had");
  const bool is_before = is_had && !has_date(clause);
  if (of.role == "former" || is_before || (is_caption() && !is_state && !has_date(clause)))
    of.tense = Tense::kFormer;
  return of;
}

// "Captains Nath and Merrow, commanding the 9th and 13th": names and units in the same order, if
// there are as many.
const Mention& BlockAssembler::person_in_order(const Mention& unit, const Mention& last) const {
  const auto list_around = [&](const Mention& member, MentionKind kind) {
    std::vector<const Mention*> list;
    for (const Mention& other : mentions_.items) {
      if (other.kind != kind ||
          clauses_.sentence_of[other.first] != clauses_.sentence_of[member.first])
        continue;
      if (!list.empty() && other.first > list.back()->last + 2) {
        if (list.back()->first >= member.first) break;
        list.clear();
      }
      list.push_back(&other);
    }
    return list;
  };
  const auto persons = list_around(last, MentionKind::kPerson);
  const auto units = list_around(unit, MentionKind::kUnit);
  if (persons.size() < 2 || persons.size() != units.size()) return last;
  for (std::size_t i = 0; i < units.size(); ++i) {
    if (units[i] == &unit) return *persons[i];
  }
  return last;
}

// "Commanded 61 Squadron from May 1942 and then 62 Squadron": the next unit of somebody's career,
// when nothing but a date and small words stands between.
const Claim* BlockAssembler::career_before(const Mention& unit) const {
  const Mention* before = nullptr;
  for (const Mention& other : mentions_of(MentionKind::kUnit)) {
    if (other.last <= unit.first) before = &other;
  }
  if (before == nullptr || out_.size() == first_claim_) return nullptr;
  for (std::uint32_t t = before->last; t < unit.first; ++t) {
    if (word(t) != "," && !is_in_list("between_units", t) &&
        mention_over(MentionKind::kDate, t) == nullptr) {
      return nullptr;
    }
  }
  const auto claim = std::find_if(out_.rbegin(), out_.rend(), [&](const Claim& other) {
    return other.kind == ClaimKind::kUnit && other.block == block_index_ &&
           other.begin == before->begin;
  });
  const bool is_persons = claim != out_.rend() && !claim->subject.empty() &&
                          ledger_.airframe(claim->subject) == nullptr &&
                          (claim->role == "member" || claim->role == "command") &&
                          claim->subject != figure_subject();
  return is_persons ? &*claim : nullptr;
}

// "Orrock, who had brought the Magpies up from Dunmerrin": told of the person.
bool NounReading::is_in_who_clause(const Mention& mention) const {
  const Clause& clause = clauses_.clauses[clauses_.clause_of[mention.first]];
  if (clause.kind != ClauseKind::kRelative) return false;
  const Spelling opener = office(clause.first);
  return opener == "who";
}

}  // namespace tailproof
