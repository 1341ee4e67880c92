// Who is named without being there, whose rank is told of another day, and which of the dates of a
// career is which unit's.
#include <algorithm>

#include "claims/assembler.h"

namespace tailproof {

// "Captain Casp, who succeeded Merrow", "a brother of Captain Merrow", "without Merrow", "Mrs
// Merrow", "Merrow's mechanic", "the Merrow hangar".
bool BlockAssembler::is_only_named(const Mention& person) const {
  std::uint32_t first = begin_of_name(person);
  if (first > 0) {
    const std::uint32_t title = first > 1 && word(first - 1) == "." ? first - 2 : first - 1;
    if (is_in("title_of_kin", title)) return true;
  }
  if (first == person.first && first > 0 && is_in("article_of_name", first - 1) &&
      is_in("named_after_noun", person.last)) {
    return true;
  }
  while (first > 0 && is_in("before_one_named", first - 1)) --first;
  for (const std::uint32_t c : index_.of("cue_only_named")) {
    if (mentions_.items[c].last == first) return true;
  }
  if (!is_possessive(person) || is_owner_of_machine(person)) return false;
  std::uint32_t t = person.last;
  if (t < mentions_.tokens.size() && mentions_.tokens[t].begin == person.end) ++t;  // the mark
  if (folded(t) == "s") ++t;
  return !is_in("possession_there", t) && mention_over(MentionKind::kAirframe, t) == nullptr &&
         mention_over(MentionKind::kType, t) == nullptr;
}

// "It was later the mount of Major Ruddock", "in which Major Ruddock was later killed", "Major
// Hartrow was to die in it": what a later sentence, or a clause, looks ahead to.
bool BlockAssembler::is_of_later_day(const Mention& person) const {
  const std::uint32_t clause = clauses_.clause_of[person.first];
  const std::uint32_t segment = clauses_.segment_of[person.first];
  const bool is_relative = clauses_.clauses[clause].kind == ClauseKind::kRelative;
  if (!is_caption() || (!is_relative && !is_in_later_sentence(person.first))) return false;
  const auto is_here = [&](const Mention& cue) {
    return clauses_.clause_of[cue.first] == clause && clauses_.segment_of[cue.first] == segment;
  };
  constexpr std::uint32_t kReach = 2;
  for (const std::uint32_t c : index_.of("cue_to_come")) {
    const Mention& cue = mentions_.items[c];
    if (is_here(cue) && cue.first >= person.last && cue.first - person.last <= kReach) return true;
  }
  const auto later = index_.of("cue_person_later");
  return std::any_of(later.begin(), later.end(), [&](std::uint32_t c) {
    const Mention& cue = mentions_.items[c];
    // "A week later": a date.
    return is_here(cue) && mention_over(MentionKind::kDate, cue.first) == nullptr;
  });
}

// "Major Hartrow later recalled", "Ost told the author": a witness of another day.
bool BlockAssembler::is_witness(const Mention& person) const {
  const std::uint32_t last = end_of_name(person);
  const auto verbs = index_.of("cue_recollection");
  constexpr std::uint32_t kReach = 2;
  return std::any_of(verbs.begin(), verbs.end(), [&](std::uint32_t c) {
    const Mention& cue = mentions_.items[c];
    return cue.first >= last && cue.first - last < kReach &&
           clauses_.segment_of[cue.first] == clauses_.segment_of[person.first];
  });
}

// "Ost recalled in 1962 that", "In 1962 Ost remembered that": when it was told. ("Was recalled in
// May" is another thing.)
bool BlockAssembler::is_of_recollection(const Mention& date) const {
  const std::uint32_t sentence = clauses_.sentence_of[date.first];
  constexpr std::uint32_t kPreposition = 1, kName = 4;
  const bool opens =
      date.first <= kPreposition || clauses_.sentence_of[date.first - kPreposition - 1] != sentence;
  const auto verbs = index_.of("cue_recollection");
  return std::any_of(verbs.begin(), verbs.end(), [&](std::uint32_t c) {
    const Mention& verb = mentions_.items[c];
    if (clauses_.sentence_of[verb.first] != sentence ||
        (verb.first > 0 && is_in("being_word", verb.first - 1)))
      return false;
    if (opens && verb.first >= date.last && verb.first - date.last <= kName) return true;
    return date.first >= verb.last && date.first - verb.last <= kPreposition;
  });
}

// "General Varrick was born in 1886", "Captain Ruddock became a Major in May": the date is of a day
// on which the title before the name was not the bearer's yet, or is to be given up.
std::optional<Tense> BlockAssembler::tense_of_title(const Mention& rank,
                                                    const Mention& person) const {
  constexpr std::uint32_t kToVerb = 6;  // ", M.C.,"
  const std::uint32_t sentence = clauses_.sentence_of[person.first];
  for (const std::uint32_t c : index_.of("cue_early_life")) {
    const Mention& cue = mentions_.items[c];
    if (clauses_.sentence_of[cue.first] == sentence && cue.first >= person.last)
      return Tense::kLater;
  }
  if (is_of_later_day(person) || is_witness(person)) return Tense::kLater;
  // "Captain Ruddock's report tells no more": as he was when he wrote it.
  const bool has_date = any_mention(MentionKind::kDate, [&](const Mention& date) {
    return clauses_.sentence_of[date.first] == sentence;
  });
  const bool is_of_paper =
      is_in_list("paper_noun", person.last) || is_in_list("paper_noun", person.last + 1);
  if (is_possessive(person) && is_of_paper && !has_date) return Tense::kLater;
  // "The late Captain Ruddock, M.C.": as he was at his death.
  const std::uint32_t name = begin_of_name(person);
  if (name > 1 && is_in("deceased_word", name - 1) && is_in("determiner", name - 2))
    return Tense::kLater;
  // "Captain Ruddock had come to them in 1937": the title is that of the time of the telling. Not
  // "As early as 1937 Colonel Ruddock had come", where the day is told first.
  const bool is_dated_before = any_mention(MentionKind::kDate, [&](const Mention& date) {
    return date.last <= person.first && clauses_.sentence_of[date.first] == sentence;
  });
  for (std::uint32_t t = end_of_name(person), last = t + kToVerb;
       !is_caption() && !is_dated_before &&
       t < std::min<std::size_t>(last, mentions_.tokens.size());
       ++t) {
    if (clauses_.clause_of[t] != clauses_.clause_of[person.first]) break;
    if (is_in("had_word", t) && !is_in("determiner", t + 1)) return Tense::kLater;
    if (tells_verb(t)) break;
  }
  // "Sergeant Ost, who had been there from the first day, was commissioned in June": the title is
  // that which he had till then, if it is not that which he got.
  const auto count = static_cast<std::uint32_t>(mentions_.tokens.size());
  for (std::uint32_t t = person.last + 1; t < count && clauses_.sentence_of[t] == sentence; ++t) {
    const Mention* other = mention_over(MentionKind::kPerson, t);
    if (other != nullptr && other->value != person.value) break;
    if (!is_in("bare_promotion", t) || !is_in("event_auxiliary", t - 1) || negated_[t] != 0)
      continue;
    const bool names_rank = mention_over(MentionKind::kRank, t + 1) != nullptr ||
                            mention_over(MentionKind::kRank, t + 2) != nullptr ||
                            mention_over(MentionKind::kRank, t + 3) != nullptr;
    // "Had been promoted that month": to what the title says.
    if (!names_rank && t > 1 && is_in("pluperfect_auxiliary", t - 2)) return Tense::kThen;
    if (!names_rank) return Tense::kFormer;
  }
  for (const std::uint32_t c : index_.of("cue_rank_gained")) {
    const Mention& cue = mentions_.items[c];
    if (clauses_.clause_of[cue.first] != clauses_.clause_of[person.first] ||
        cue.first < person.last)
      continue;
    // "Became a Major": another rank right behind the words.
    const Mention* other = mention_over(MentionKind::kRank, cue.last);
    if (other == nullptr && is_in("unnamed_article", cue.last))
      other = mention_over(MentionKind::kRank, cue.last + 1);
    if (other != nullptr && other->value != rank.value && people_behind(*other).empty())
      return Tense::kFormer;
  }
  return std::nullopt;
}

// "Soon to receive the Star", "recommended for the Star", "later adjutant and holder of the Medal
// and the Star": an award that the words put into the future.
bool BlockAssembler::is_award_to_come(const Mention& award, const Mention& person) const {
  constexpr std::uint32_t kReach = 2, kLaterReach = 8;
  if (cue_before(award, "cue_award_to_come", kReach) != nullptr) return true;
  const Mention* later = cue_before(award, "cue_later", kLaterReach);
  const bool is_between = later != nullptr && later->first >= person.last &&
                          clauses_.segment_of[later->first] == clauses_.segment_of[award.first];
  if (is_between) return true;
  // The second of two: "won the Medal and the Star".
  std::uint32_t t = award.first;
  while (t > person.last && is_in("between_awards", t - 1)) --t;
  if (t == award.first || t <= person.last) return false;
  const Mention* before = mention_over(MentionKind::kAward, t - 1);
  return before != nullptr &&
         (cue_before(*before, "cue_later", 4) != nullptr || is_award_to_come(*before, person));
}

// The units of one career in a sentence with a date among them: each has the
// date that no "and" or other unit parts from it.
bool BlockAssembler::has_dated_career(const Claim& unit) const {
  if (unit.kind != ClaimKind::kUnit || ledger_.person(unit.subject) == nullptr) return false;
  const std::uint32_t sentence = clauses_.sentence_of[token_at(unit.begin)];
  std::uint32_t first = kNone, last = 0;
  for (std::size_t i = first_claim_; i < out_.size(); ++i) {
    const Claim& other = out_[i];
    if (other.kind != ClaimKind::kUnit || other.subject != unit.subject) continue;
    const std::uint32_t t = token_at(other.begin);
    if (clauses_.sentence_of[t] != sentence) continue;
    first = std::min(first, t);
    last = std::max(last, t);
  }
  if (first == last) return false;
  return std::any_of(out_.begin() + static_cast<std::ptrdiff_t>(first_claim_), out_.end(),
                     [&](const Claim& date) {
                       if (date.kind != ClaimKind::kDate || date.of == "photograph") return false;
                       const std::uint32_t t = token_at(date.begin);
                       return t > first && t < last;
                     });
}

bool BlockAssembler::is_date_of_career(const Claim& unit, const Claim& date) const {
  const bool is_behind = date.begin >= unit.end;
  const std::uint32_t from = token_at(is_behind ? unit.end : date.end);
  const std::uint32_t to = token_at(is_behind ? date.begin : unit.begin);
  for (std::uint32_t t = from; t < to; ++t) {
    if (is_in("career_divider", t) || mention_over(MentionKind::kUnit, t) != nullptr) return false;
  }
  return true;
}

// "Captain Sorn of the 5th, who went across in July 1943, ...": he was with them when he did,
// unless the clause tells of what he had done, or came to, elsewhere.
bool BlockAssembler::is_dated_by_clause(const Claim& unit, const Claim& date) const {
  if (unit.role != "member" || date.of != "person" || is_relative_date(date)) return false;
  const std::uint32_t at = token_at(date.begin), end = token_at(unit.end);
  const std::uint32_t own = clauses_.clause_of[at];
  const Clause& clause = clauses_.clauses[own];
  if (clause.kind != ClauseKind::kRelative || end > clause.first || clause.first - end > 1 ||
      office(clause.first) != "who")
    return false;
  const std::uint32_t verb = clause.first + 1;
  if (office(verb) == "had") return false;
  static constexpr std::string_view kOfOtherDays[] = {
      "cue_turn",       "cue_promoted", "cue_award_got",  "cue_person_event", "cue_to_come",
      "cue_former",     "cue_later",    "cue_had",        "cue_pluperfect",   "cue_person_unit",
      "cue_unit_story", "cue_event",    "cue_publication"};
  return std::none_of(mentions_.items.begin(), mentions_.items.end(), [&](const Mention& other) {
    if (clauses_.clause_of[other.first] != own) return false;
    if (other.kind == MentionKind::kUnit) return true;
    // "Went across" is no change of unit by itself.
    if (other.role == "cue_turn" && other.value == "moved_in") return false;
    return other.kind == MentionKind::kCue &&
           std::find(std::begin(kOfOtherDays), std::end(kOfOtherDays), other.role) !=
               std::end(kOfOtherDays);
  });
}

// "At the Yard between 14 March and 2 March, and went out in May": its own date is none, and the
// next is that of something else.
bool BlockAssembler::has_impossible_between(const Claim& claim, const Claim& date) const {
  const std::uint32_t from = std::min(claim.end, date.end), to = std::max(claim.begin, date.begin);
  return std::any_of(out_.begin() + static_cast<std::ptrdiff_t>(first_claim_), out_.end(),
                     [&](const Claim& other) {
                       return other.kind == ClaimKind::kDate && other.impossible &&
                              other.begin >= from && other.end <= to;
                     });
}

}  // namespace tailproof
