// Claims of people: who is named, with what rank and what awards.
#include <algorithm>

#include "claims/assembler.h"
#include "grammars/fold.h"

namespace tailproof {

// "Nath album", "Fayle's list": whose print it is, not who is in it.
bool BlockAssembler::is_credit(const Mention& person) const {
  if (cue_before(person, "cue_not_pictured", 4) != nullptr) return true;
  const WordList* nouns = lexicon_.grammars().list("credit_noun");
  if (nouns == nullptr) return false;
  for (std::uint32_t t = person.last;
       t < std::min<std::size_t>(mentions_.tokens.size(), person.last + 2); ++t) {
    if (!nouns->value_of(fold(word(t))).empty()) return true;
    if (mentions_.tokens[t].kind == TokenKind::kMark) return false;
  }
  return false;
}

bool BlockAssembler::is_named_before(const std::string& person) const {
  return focus_.named_people != nullptr && focus_.named_people->count(person) != 0;
}

void BlockAssembler::remember_person(const std::string& person) {
  if (is_named_before(person)) return;
  std::set<std::string> named;
  if (focus_.named_people != nullptr) named = *focus_.named_people;
  named.insert(person);
  focus_.named_people = std::make_shared<const std::set<std::string>>(std::move(named));
}

// "Nat" is Nat Quillow once the text has named him, and nobody before that.
void BlockAssembler::settle_first_names() {
  auto& items = mentions_.items;
  const auto is_unnamed = [&](Mention& mention) {
    if (mention.kind != MentionKind::kPerson) return false;
    if (mention.role != "first name") {
      if (mention.known && mention.readings.empty()) remember_person(mention.value);
      return false;
    }
    std::vector<std::string> readings = std::move(mention.readings);
    if (readings.empty()) readings.push_back(mention.value);
    std::erase_if(readings, [&](const std::string& key) { return !is_named_before(key); });
    if (readings.empty()) return true;
    mention.value = readings.front();
    mention.readings = readings.size() > 1 ? std::move(readings) : std::vector<std::string>{};
    return false;
  };
  items.erase(std::remove_if(items.begin(), items.end(), is_unnamed), items.end());
}

void BlockAssembler::add_people() {
  for (std::uint32_t i = 0; i < mentions_.items.size(); ++i) {
    const Mention& mention = mentions_.items[i];
    if (mention.kind != MentionKind::kPerson) continue;
    if (is_credit(mention)) continue;
    Claim pattern;
    if (is_caption() && is_past(mention)) pattern.tense = Tense::kFormer;
    pattern.value = mention.value;
    pattern.readings = mention.readings;
    std::vector<std::string> subjects;
    const bool crew = cue_in_segment(mention.first, "cue_crew") != nullptr;
    if (crew) subjects = subjects_of(mention);
    if (subjects.empty()) pattern.subject = is_caption() ? figure_subject() : "";
    claim_of_mention_[i] = static_cast<std::uint32_t>(out_.size());
    add_for_subjects(mention, ClaimKind::kPerson, subjects, pattern);
    focus_.person = mention.value;
  }
  // Ranks belong to the name behind them, the names of a list behind a plural, or, with an article
  // or "then" before them, to the person last named.
  for (const Mention& mention : mentions_.items) {
    if (mention.kind != MentionKind::kRank) continue;
    std::vector<const Mention*> persons;
    for (const Mention& other : mentions_.items) {
      if (other.kind != MentionKind::kPerson || other.first < mention.last) continue;
      if (persons.empty() && other.first - mention.last > 1) break;
      if (!persons.empty() && other.first - persons.back()->last > 2) break;
      if (persons.empty() && other.first > mention.last && word(mention.last) != "." &&
          word(mention.last) != "(")
        break;
      persons.push_back(&other);
      if (!mention.plural) break;
    }
    Claim pattern;
    pattern.value = mention.value;
    pattern.readings = mention.readings;
    if (cue_before(mention, "cue_later", 2) != nullptr) pattern.tense = Tense::kLater;
    if (cue_before(mention, "cue_former", 2) != nullptr) pattern.tense = Tense::kFormer;
    if (persons.empty()) {
      if (mention.first == 0) continue;
      const std::string before = fold(word(mention.first - 1));
      const bool article = before == "a" || before == "an" || before == "then" ||
                           before == "already" || before == "still" || before == "now" ||
                           before == "later" || before == "as";
      // ", a Lieutenant," beside the name, or "he was a Lieutenant".
      bool pronoun = false;
      for (std::uint32_t t = clauses_.clauses[clauses_.clause_of[mention.first]].first;
           t < mention.first; ++t) {
        const WordList* pronouns = lexicon_.grammars().list("person_pronoun");
        pronoun |= pronouns != nullptr && !pronouns->value_of(fold(word(t))).empty() &&
                   clauses_.clause_of[t] == clauses_.clause_of[mention.first];
      }
      const Mention* person = nullptr;
      for (const Mention& other : mentions_.items) {
        if (other.kind == MentionKind::kPerson && other.last <= mention.first &&
            clauses_.sentence_of[other.first] == clauses_.sentence_of[mention.first] &&
            (pronoun || mention.first - other.last <= 3)) {
          person = &other;
        }
      }
      if (!article || person == nullptr) continue;
      pattern.why = "the person last named";
      persons.push_back(person);
    }
    for (const Mention* person : persons) {
      if (is_credit(*person)) continue;
      pattern.subject = person->value;
      const auto index = static_cast<std::size_t>(person - mentions_.items.data());
      pattern.holder_of_rank = claim_of_mention_[index];
      add_for_subjects(mention, ClaimKind::kRank, {}, pattern);
    }
  }
  add_awards();
}

// "Captain Thurn's people ..., although he, then a lieutenant": the rank that the words give to the
// time of the picture makes the other one a later one.
void BlockAssembler::settle_ranks() {
  const WordList* then = lexicon_.grammars().list("then_word");
  if (then == nullptr) return;
  constexpr std::uint32_t kBefore = 3, kBehind = 2;
  const auto is_of_then = [&](const Claim& claim) {
    const std::uint32_t first = token_at(claim.begin), last = token_at(claim.end);
    const auto count = static_cast<std::uint32_t>(mentions_.tokens.size());
    for (std::uint32_t t = first > kBefore ? first - kBefore : 0;
         t < std::min(count, last + kBehind); ++t) {
      if (t >= first && t < last) continue;
      if (clauses_.sentence_of[t] == clauses_.sentence_of[first] &&
          !then->value_of(fold(word(t))).empty())
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

// "Tamblin FC", "Tamblin, FC and Bar", "without the Federal Cross".
void BlockAssembler::add_awards() {
  const WordList* bars = lexicon_.grammars().list("award_bar");
  for (const Mention& mention : mentions_.items) {
    if (mention.kind != MentionKind::kAward) continue;
    const Mention* person = nullptr;
    for (const Mention& other : mentions_.items) {
      if (other.kind == MentionKind::kPerson && other.last <= mention.first &&
          clauses_.sentence_of[other.first] == clauses_.sentence_of[mention.first]) {
        person = &other;
      }
    }
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
    if (cue_before(mention, "cue_later", 4) != nullptr) pattern.tense = Tense::kLater;
    const bool is_bar = mention.first >= 2 && fold(word(mention.first - 1)) == "to" &&
                        fold(word(mention.first - 2)) == "bar";
    if (is_bar) pattern.value = "Bar to " + mention.value;
    add_for_subjects(mention, ClaimKind::kAward, holders, pattern);
    if (is_bar || bars == nullptr) continue;
    std::string after;
    for (std::uint32_t t = mention.last;
         t < std::min<std::size_t>(mentions_.tokens.size(), mention.last + 3); ++t) {
      if (!after.empty()) after += ' ';
      after += fold(word(t));
      if (bars->value_of(after).empty()) continue;
      Mention bar = mention;
      bar.begin = mentions_.tokens[t].begin;
      bar.end = mentions_.tokens[t].end;
      pattern.value = "Bar to " + mention.value;
      add_for_subjects(bar, ClaimKind::kAward, {}, pattern);
      break;
    }
  }
}

}  // namespace tailproof
