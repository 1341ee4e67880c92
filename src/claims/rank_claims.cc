// Claims of ranks and awards: who has them.
#include <algorithm>

#include "claims/assembler.h"
#include "grammars/fold.h"

namespace tailproof {

// The name behind a rank, the names of a list behind a plural; over a bracket with another rank in
// "Sergeant (later Ensign) Wray".
std::vector<const Mention*> NounReading::people_behind(const Mention& rank) const {
  std::vector<const Mention*> people;
  std::uint32_t last = rank.last;
  if (word(last) == "." && rank.role == "short") ++last;
  const bool opens = word(last) == "(";
  if (opens) {
    std::uint32_t close = last;
    bool has_rank = false;
    while (close < mentions_.tokens.size() && close < last + 7 && word(close) != ")") {
      has_rank = has_rank || mention_over(MentionKind::kRank, close) != nullptr;
      ++close;
    }
    if (has_rank && close < mentions_.tokens.size() && word(close) == ")") last = close + 1;
  }
  // "(later Ensign) Wray" itself.
  const bool closes = word(last) == ")" &&
                      clauses_.clauses[clauses_.clause_of[rank.first]].kind == ClauseKind::kBracket;
  const std::uint32_t open = clauses_.clauses[clauses_.clause_of[rank.first]].first;
  if (closes && open > 0 && mention_over(MentionKind::kRank, open - 1) != nullptr) ++last;
  for (const Mention& other : mentions_of(MentionKind::kPerson)) {
    if (other.first < rank.last) continue;
    if (people.empty() && other.first != last && !(opens && other.first == rank.last + 1)) break;
    if (!people.empty() && other.first - people.back()->last > 2) break;
    // "Sergeants Wray and Opie, Major Vane": the next has his own.
    if (!people.empty() && mention_over(MentionKind::kRank, other.first - 1) != nullptr) break;
    people.push_back(&other);
    if (!rank.plural) break;
  }
  return people;
}

bool NounReading::has_word_of_him(std::uint32_t sentence) const {
  for (std::uint32_t t = 0; t < mentions_.tokens.size(); ++t) {
    if (clauses_.sentence_of[t] > sentence) break;
    if (clauses_.sentence_of[t] == sentence && (office(t) == "he" || is_in("his_word", t)))
      return true;
  }
  return false;
}

// Whom "he" before a token stands for: the one person named in the sentence before the word, or in
// the sentence before that, or before sentences that tell of "him" only; nobody where two are.
const Mention* BlockAssembler::person_meant_by_he(std::uint32_t token) const {
  const std::uint32_t sentence = clauses_.sentence_of[token];
  std::uint32_t he = token;
  while (he > 0 && clauses_.sentence_of[he - 1] == sentence && office(he) != "he") --he;
  if (office(he) != "he") return nullptr;
  // "Ovey was a chemist. He was told so, and he laughed. In the spring he ..."; and in a caption
  // "he" is the only person it has named, however many words stand between.
  const auto goes_on_of_him = [&](std::uint32_t back) {
    return back < 2 || is_caption() || has_word_of_him(sentence - back + 1);
  };
  for (std::uint32_t back = 0; back <= std::min(sentence, 3U) && goes_on_of_him(back); ++back) {
    const Mention* named = nullptr;
    bool is_one = true;
    for (const Mention& other : mentions_of(MentionKind::kPerson)) {
      if (other.last > he || clauses_.sentence_of[other.first] + back != sentence) {
        continue;
      }
      is_one = is_one && (named == nullptr || named->value == other.value);
      named = &other;
    }
    if (named != nullptr) return is_one ? named : nullptr;
  }
  return nullptr;
}

// "Carne flew it as a lieutenant": the one person of the clause.
const Mention* NounReading::person_acting_as(const Mention& rank) const {
  if (rank.first < 2 || office(rank.first - 1) != "a" || office(rank.first - 2) != "as")
    return nullptr;
  const std::uint32_t clause = clauses_.clause_of[rank.first];
  if (stands_between(clauses_.clauses[clause].first, rank.first, "likeness_verb")) return nullptr;
  const Mention* only = nullptr;
  for (const Mention& person : mentions_of(MentionKind::kPerson)) {
    if (clauses_.clause_of[person.first] != clause || is_possessive(person)) continue;
    if (only != nullptr || person.last > rank.first) return nullptr;
    only = &person;
  }
  return only;
}

// "Carne, Captain with 9 Squadron", "Carne (kneeling), Captain, 9 Squadron".
bool BlockAssembler::is_behind_name(const Mention& rank) const {
  if (rank.plural || rank.first < 2 || word(rank.first - 1) != "," ||
      !mentions_.tokens[rank.first].capital)
    return false;
  std::uint32_t end = rank.first - 1;
  if (word(end - 1) == ")") {
    while (end > 0 && word(end - 1) != "(") --end;
    if (end > 0) --end;
  }
  const bool goes_on = rank.last >= mentions_.tokens.size() || word(rank.last) == "," ||
                       is_in("object_preposition", rank.last);
  return goes_on && end > 0 && mention_over(MentionKind::kPerson, end - 1) != nullptr &&
         people_behind(rank).empty();
}

// "Carne, by now a Captain", "he himself, then a lieutenant", "Dunmore (promoted Captain)": a rank
// without a name of its own.
const Mention* BlockAssembler::person_told_of(const Mention& rank) const {
  if (rank.first == 0) return nullptr;
  // "Vell (Sergeant when this was taken)".
  const bool is_bracketed = word(rank.first - 1) == "(" && rank.first > 1 &&
                            mention_over(MentionKind::kPerson, rank.first - 2) != nullptr;
  // "A plain sergeant".
  std::uint32_t lead = rank.first;
  while (lead > 1 && is_in("rank_epithet", lead - 1)) --lead;
  const bool is_introduced =
      is_bracketed || is_in_list("rank_introduction", lead - 1) || is_behind_name(rank);
  // "Master Sergeant from May 1943".
  const bool is_dated = is_in_list("rank_since", rank.last) &&
                        (mention_over(MentionKind::kDate, rank.last) != nullptr ||
                         mention_over(MentionKind::kDate, rank.last + 1) != nullptr);
  if (const Mention* person = person_acting_as(rank)) return person;
  if (!is_introduced && !is_dated) return nullptr;
  const Mention* last = nullptr;
  for (const Mention& other : mentions_.items) {
    if (other.kind == MentionKind::kPerson && other.last <= rank.first &&
        clauses_.sentence_of[other.first] == clauses_.sentence_of[rank.first]) {
      last = &other;
    }
  }
  const std::uint32_t clause = clauses_.clause_of[rank.first];
  constexpr std::uint32_t kReach = 4;
  bool has_pronoun = false;
  for (std::uint32_t t = 0; t < rank.first; ++t) {
    const bool near =
        clauses_.clause_of[t] == clause ||
        (t + kReach >= rank.first && clauses_.sentence_of[t] == clauses_.sentence_of[rank.first]);
    has_pronoun = has_pronoun || (near && is_in_list("person_pronoun", t));
  }
  if (last == nullptr) return person_meant_by_he(rank.first);
  if (has_pronoun) return living_of(last);
  for (std::uint32_t t = last->last; t < rank.first; ++t) {
    if (word(t) == ";" || word(t) == ":") return nullptr;
    // "Carne (kneeling), Captain".
    if (clauses_.clauses[clauses_.clause_of[t]].kind == ClauseKind::kBracket &&
        clauses_.clause_of[t] != clause)
      continue;
    if (mentions_.tokens[t].kind == TokenKind::kMark || is_in_list("rank_introduction", t) ||
        is_in("rank_between", t) || is_in("rank_epithet", t) ||
        mention_over(MentionKind::kDate, t) != nullptr ||
        mention_over(MentionKind::kAward, t) != nullptr) {
      continue;
    }
    return nullptr;
  }
  return last;
}

// "Ensign Somebody", "a Fleetman gunner whose name is lost": the rank of somebody in the picture.
bool NounReading::is_of_nobody_named(const Mention& rank) const {
  if (!is_caption() || rank.plural || rank.first == 0 || is_possessive(rank)) return false;
  if (is_in_list("unidentified_word", rank.first - 1)) return true;
  const bool is_written = rank.role == "short" || mentions_.tokens[rank.first].capital;
  if (!is_written) return false;
  return is_in_list("not_a_name", rank.last) || is_in_list("unnamed_article", rank.first - 1);
}

void BlockAssembler::add_ranks() {
  for (const Mention& mention : mentions_of(MentionKind::kRank)) {
    std::vector<const Mention*> persons = people_behind(mention);
    Claim pattern;
    pattern.value = mention.value;
    pattern.readings = mention.readings;
    // "Better known as Captain Merrow": by the rank that he may have got much later.
    if (cue_before(mention, "cue_later", 2) != nullptr ||
        cue_before(mention, "cue_rank_known_by", 2) != nullptr)
      pattern.tense = Tense::kLater;
    // "Who ended with 9 Squadron as a Captain".
    constexpr std::uint32_t kFar = 8;
    const bool is_as = (mention.first > 0 && office(mention.first - 1) == "as") ||
                       (mention.first > 1 && office(mention.first - 2) == "as");
    if (is_as && cue_before(mention, "cue_time_to_come", kFar) != nullptr)
      pattern.tense = Tense::kLater;
    // "A Captain when we met him", "joined as a lieutenant": of the time that the words tell.
    if (is_in_list("when_word", mention.last) ||
        cue_before(mention, "cue_rank_of_then", 2) != nullptr ||
        cue_before(mention, "cue_rank_at_first", 2) != nullptr)
      pattern.tense = Tense::kFormer;
    // "A Captain by the next New Year but here still a Lieutenant".
    const bool is_dated = any_mention(MentionKind::kDate, [&](const Mention& date) {
      return !dates_[date.payload].date.is_unknown() && date.first >= mention.last &&
             clauses_.segment_of[date.first] == clauses_.segment_of[mention.first];
    });
    const bool is_reached =
        mention.first > 0 && office(mention.first - 1) == "a" &&
        mention.last < mentions_.tokens.size() && is_in("reached_by", mention.last) && !is_dated &&
        !any_cue("cue_by_then", [&](const Mention& cue) { return cue.first == mention.last; });
    if (is_reached) pattern.tense = Tense::kLater;
    // "Who as Colonel had had the Regiment", "he had had it as a Sergeant".
    const bool is_told_back =
        (mention.first > 0 && office(mention.first - 1) == "as" && is_past(mention)) ||
        (mention.first > 1 && office(mention.first - 1) == "a" &&
         office(mention.first - 2) == "as" &&
         stands_between(clauses_.clauses[clauses_.clause_of[mention.first]].first, mention.first,
                        "pluperfect_auxiliary"));
    // "Who arrived at the Point as a Cornet", on a day that is not told.
    const std::uint32_t opening = clauses_.clauses[clauses_.clause_of[mention.first]].first;
    const bool is_arriving = is_as && stands_between(opening, mention.first, "arrived_as") &&
                             (is_caption() || !has_date_in_segment(mention.first));
    const bool is_over = is_in("no_word", mention.last) && is_in("more_word", mention.last + 1);
    if (cue_before(mention, "cue_former", 2) != nullptr || is_told_back || is_over || is_arriving)
      pattern.tense = Tense::kFormer;
    if (const Mention* person = person_in_cleft(mention); persons.empty() && person != nullptr) {
      pattern.why = "the person of whom the sentence tells it";
      pattern.tense = Tense::kThen;
      persons.push_back(person);
    }
    if (persons.empty()) {
      const Mention* person = person_identified(mention);
      if (person == nullptr) person = person_behind_opening(mention);
      if (person == nullptr) person = person_with_badges(mention);
      if (person != nullptr) {
        pattern.why = "the person whom the sentence names by it";
        persons.push_back(person);
      }
    }
    if (persons.empty()) {
      if (const Mention* person = person_told_of(mention)) {
        pattern.why = "the person last named";
        // "Promoted soon after": of a time not told.
        const bool is_step = cue_before(mention, "cue_promoted", 1) != nullptr;
        if (is_step && !has_date_in_segment(mention.first)) pattern.tense = Tense::kLater;
        persons.push_back(person);
      } else if (is_of_nobody_named(mention)) {
        pattern.subject = figure_subject();
        pattern.why = "somebody in the picture";
        add_for_subjects(mention, ClaimKind::kRank, {}, pattern);
      }
    }
    const Tense tense = pattern.tense;
    for (const Mention* person : persons) {
      if (is_credit(*person)) continue;
      pattern.tense = tense;
      if (tense == Tense::kThen && person->first >= mention.last)
        pattern.tense = tense_of_title(mention, *person).value_or(tense);
      pattern.subject = person->value;
      const auto index = static_cast<std::size_t>(person - mentions_.items.data());
      pattern.holder_of_rank = claim_of_mention_[index];
      add_for_subjects(mention, ClaimKind::kRank, {}, pattern);
    }
  }
}

// "Captain Thurn's people ..., although he, then a lieutenant": the rank that the words give to the
// time of the picture makes the other one a later one.
void BlockAssembler::settle_ranks() {
  const WordList* then = lexicon_.grammars().list("then_word");
  if (then == nullptr) return;
  constexpr std::uint32_t kBefore = 3, kBehind = 2;
  const auto has_cue_at = [&](CueName list, std::uint32_t first, std::uint32_t last) {
    const auto cues = index_.of(list);
    return std::any_of(cues.begin(), cues.end(), [&](std::uint32_t c) {
      return mentions_.items[c].last == first || mentions_.items[c].first == last;
    });
  };
  const auto is_of_then = [&](const Claim& claim) {
    const std::uint32_t first = token_at(claim.begin), last = token_at(claim.end);
    std::uint32_t before = first;
    while (before > 0 && is_in("rank_adjective", before - 1)) --before;
    if (has_cue_at("cue_rank_at_first", before, kNone)) return true;
    if (has_cue_at("cue_rank_of_then", before, kNone)) return false;
    if (has_cue_at("cue_rank_then", before, last)) return true;
    // "Major Hartrow as a Captain".
    if (before > 1 && office(before - 1) == "as" &&
        mention_over(MentionKind::kPerson, before - 2) != nullptr)
      return true;
    const auto count = static_cast<std::uint32_t>(mentions_.tokens.size());
    for (std::uint32_t t = first > kBefore ? first - kBefore : 0;
         t < std::min(count, last + kBehind); ++t) {
      if (t >= first && t < last) continue;
      // "Commander (then Lieutenant-Commander)": the bracket's word is of the rank within it.
      if (clauses_.clause_of[t] != clauses_.clause_of[first]) continue;
      if (clauses_.sentence_of[t] == clauses_.sentence_of[first] && !value_in(then, t).empty())
        return true;
    }
    return false;
  };
  for (std::size_t i = first_claim_; i < out_.size(); ++i) {
    const Claim& rank = out_[i];
    if (rank.kind != ClaimKind::kRank || !is_of_then(rank)) continue;
    for (std::size_t j = first_claim_; j < out_.size(); ++j) {
      Claim& other = out_[j];
      if (other.kind == ClaimKind::kRank && other.subject == rank.subject &&
          other.value != rank.value && other.tense == Tense::kThen && !is_of_then(other))
        other.tense = Tense::kLater;
    }
  }
}

// "Pins the Star on Captain Merrow", "the Cross to Maj Tresk", "the Cross came in June to Tresk".
const Mention* NounReading::person_given(const Mention& award) const {
  std::uint32_t t = award.last;
  if (is_in("event_auxiliary", t)) ++t;
  if (is_in("award_coming", t)) {
    ++t;
    const auto is_date = [&](std::uint32_t token) {
      return mention_over(MentionKind::kDate, token) != nullptr;
    };
    while (is_in("use_adverb", t) || is_date(t) || (is_in("day_preposition", t) && is_date(t + 1)))
      ++t;
  } else {
    t = award.last;
  }
  // "The ribbon of the Cross can be seen on Tresk's tunic".
  std::uint32_t on = award.last;
  while (is_in("ribbon_seen", on)) ++on;
  if (on > award.last && is_in_list("given_to", on)) {
    const Mention* wearer = mention_over(MentionKind::kPerson, on + 1);
    return wearer != nullptr && is_possessive(*wearer) ? wearer : nullptr;
  }
  if (!is_in_list("given_to", t)) return nullptr;
  ++t;
  while (const Mention* rank = mention_over(MentionKind::kRank, t)) {
    t = rank->last;
    if (word(t) == "." && rank->role == "short") ++t;
  }
  return mention_over(MentionKind::kPerson, t);
}

// "Bar to the Cross", "a Bar to his Cross".
bool BlockAssembler::is_bar_to(const Mention& award) const {
  std::uint32_t t = award.first;
  if (t > 0 && is_in("determiner", t - 1)) --t;
  return t >= 2 && office(t - 1) == "to" && office(t - 2) == "bar";
}

// "Tamblin FC", "Tamblin, FC and Bar", "without the Federal Cross".
void BlockAssembler::add_awards() {
  const WordList* bars = lexicon_.grammars().list("award_bar");
  for (const Mention& mention : mentions_of(MentionKind::kAward)) {
    const Mention* person = nullptr;
    for (const Mention& other : mentions_.items) {
      if (other.kind == MentionKind::kPerson && other.last <= mention.first &&
          clauses_.sentence_of[other.first] == clauses_.sentence_of[mention.first]) {
        person = &other;
      }
    }
    // "Pins the Star on Captain Merrow": whom it is given to.
    if (const Mention* given = person_given(mention)) person = given;
    if (person == nullptr) person = person_meant_by_he(mention.first);
    if (person == nullptr) continue;
    Claim pattern;
    pattern.value = mention.value;
    pattern.readings = mention.readings;
    pattern.subject = person->value;
    pattern.holder_of_rank =
        claim_of_mention_[static_cast<std::size_t>(person - mentions_.items.data())];
    // "Captains Nath and Merrow, after both had been given the Star": each of them.
    std::vector<std::string> holders;
    if (const Mention* all = cue_in_clause(mention.first, "cue_pronoun");
        all != nullptr && all->value.starts_with("all")) {
      for (const Mention& other : mentions_.items) {
        if (other.kind == MentionKind::kPerson && other.last <= all->first &&
            other.readings.empty() &&
            clauses_.sentence_of[other.first] == clauses_.sentence_of[mention.first]) {
          holders.push_back(other.value);
        }
      }
    }
    // Post-nominals stand with the name; an award told of in words may come later.
    pattern.role = mention.first - person->last <= 3 ? "" : "told";
    if (cue_before(mention, "cue_later", 4) != nullptr || is_award_to_come(mention, *person))
      pattern.tense = Tense::kLater;
    // "Captain Ruddock, M.C., had come to them in 1937": letters of the time of the telling.
    const bool is_letters = person->last == mention.first ||
                            (person->last + 1 == mention.first && word(person->last) == ",");
    if (is_letters && pattern.tense == Tense::kThen &&
        tense_of_title(mention, *person) == Tense::kLater)
      pattern.tense = Tense::kLater;
    // "He got his second bar six weeks after this": not yet in the picture, unless it is dated.
    if (is_caption() && cue_before(mention, "cue_award_got", 4) != nullptr &&
        !has_date_in_segment(mention.first)) {
      pattern.tense = Tense::kLater;
    }
    // "He has no ribbon, his Star came only in October".
    if (is_caption() && is_in("coming_verb", mention.last)) pattern.tense = Tense::kLater;
    const bool is_bar = is_bar_to(mention);
    if (is_bar) pattern.value = "Bar to " + std::string(mention.value);
    add_for_subjects(mention, ClaimKind::kAward, holders, pattern);
    if (is_bar || bars == nullptr) continue;
    std::string after;
    for (std::uint32_t t = mention.last;
         t < std::min<std::size_t>(mentions_.tokens.size(), mention.last + 3); ++t) {
      if (!after.empty()) after += ' ';
      after += folded(t);
      if (bars->value_of(after).empty()) continue;
      Mention bar = mention;
      bar.begin = mentions_.tokens[t].begin;
      bar.end = mentions_.tokens[t].end;
      pattern.value = "Bar to " + std::string(mention.value);
      add_for_subjects(bar, ClaimKind::kAward, {}, pattern);
      break;
    }
  }
}

// A day counted from the picture ("six weeks after this") is none: nobody counts weeks to the day.
bool BlockAssembler::has_date_in_segment(std::uint32_t token) const {
  return any_mention(MentionKind::kDate, [&](const Mention& mention) {
    return !dates_[mention.payload].date.is_unknown() &&
           !mentions_.dates[mention.payload].first.is_relative() &&
           clauses_.segment_of[mention.first] == clauses_.segment_of[token];
  });
}

}  // namespace tailproof
