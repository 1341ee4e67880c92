// Claims of people: who is named, with what rank and what awards.
#include <algorithm>

#include "claims/assembler.h"
#include "grammars/fold.h"

namespace tailproof {

// "Nath album", "Fayle's list": whose print it is, not who is in it.
bool BlockAssembler::is_credit(const Mention& person) const {
  if (cue_before(person, "cue_not_pictured", 4) != nullptr) return true;
  // "(Photo: H. Dool)"
  const std::uint32_t first = begin_of_name(person);
  const bool follows_colon = first >= 3 && word(first - 1) == ":" && word(first - 3) == "(";
  if (follows_colon && is_in("credit_word", first - 2)) return true;
  const WordList* nouns = lexicon_.grammars().list("credit_noun");
  if (nouns == nullptr) return false;
  // "Collection Sergeant Sorn", "(Photo Captain Casp)".
  const bool opens = first > 0 && is_in("credit_word", first - 1) &&
                     (first == 1 || mentions_.tokens[first - 1].sentence_start ||
                      mentions_.tokens[first - 2].kind == TokenKind::kMark);
  if (opens) return true;
  for (const std::uint32_t c : index_.of("cue_lends")) {
    if (mentions_.items[c].first == person.last) return true;
  }
  for (std::uint32_t t = person.last;
       t < std::min<std::size_t>(mentions_.tokens.size(), person.last + 2); ++t) {
    if (!value_in(nouns, t).empty()) return true;
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

// "The younger Tarrent, Jory, ...", "Tarrent (Jory)": the first name says which of the namesakes.
const std::string* BlockReading::told_apart_by(const Mention& name, const Mention& first) const {
  const bool is_pair = name.readings.size() > 1 && first.role == "first name" &&
                       first.first == name.last + 1 &&
                       (word(name.last) == "," || word(name.last) == "(");
  const bool is_closed = first.last >= mentions_.tokens.size() ||
                         mentions_.tokens[first.last].kind == TokenKind::kMark;
  if (!is_pair || !is_closed) return nullptr;
  const auto is_so_named = [&](const std::string& key) {
    if (first.readings.empty()) return first.value == key;
    return std::find(first.readings.begin(), first.readings.end(), key) != first.readings.end();
  };
  const auto one = std::find_if(name.readings.begin(), name.readings.end(), is_so_named);
  if (one == name.readings.end()) return nullptr;
  return std::none_of(one + 1, name.readings.end(), is_so_named) ? &*one : nullptr;
}

// "Nat" is Nat Quillow once the text has named him, and nobody before that.
void BlockAssembler::settle_first_names() {
  auto& items = mentions_.items;
  std::size_t before = items.size();
  for (std::size_t i = 0; i < items.size(); ++i) {
    if (items[i].kind != MentionKind::kPerson) continue;
    const std::string* key = before < i ? told_apart_by(items[before], items[i]) : nullptr;
    if (key == nullptr) {
      before = i;
      continue;
    }
    items[before].value = finder_.keep(*key);
    items[before].readings.clear();
    items.erase(items.begin() + static_cast<std::ptrdiff_t>(i--));
  }
  const auto is_unnamed = [&](Mention& mention) {
    if (mention.kind != MentionKind::kPerson) return false;
    if (mention.role != "first name") {
      if (mention.known && mention.readings.empty()) remember_person(mention.value);
      // "The Tarrent brothers": each of them may go by his first name from there on.
      if (is_in("kin_together", mention.last)) {
        for (const std::string& key : mention.readings) remember_person(key);
      }
      return false;
    }
    // "She called her eldest boy Hanno".
    if (mention.first > 0 && is_in("namesake_word", mention.first - 1)) return true;
    std::vector<std::string> readings = std::move(mention.readings);
    if (readings.empty()) readings.emplace_back(mention.value);
    std::erase_if(readings, [&](const std::string& key) { return !is_named_before(key); });
    if (readings.empty()) return true;
    mention.value = finder_.keep(readings.front());
    mention.readings = readings.size() > 1 ? std::move(readings) : std::vector<std::string>{};
    return false;
  };
  items.erase(std::remove_if(items.begin(), items.end(), is_unnamed), items.end());
}

// "Captain Ruddock": behind a rank a surname means those of whom the ledger tells that they served,
// and nobody's sister, wherever it tells of any.
void BlockAssembler::settle_namesakes() {
  for (Mention& mention : mentions_.items) {
    if (mention.kind != MentionKind::kPerson || mention.readings.size() < 2) continue;
    if (begin_of_name(mention) == mention.first) continue;
    std::vector<std::string> served;
    for (const std::string& key : mention.readings) {
      if (!ledger_.service_of(key).empty()) served.push_back(key);
    }
    if (served.empty() || served.size() == mention.readings.size()) continue;
    mention.value = finder_.keep(served.front());
    mention.readings = served.size() > 1 ? std::move(served) : std::vector<std::string>{};
  }
  // "First Ensign H. Dorta in the cockpit. Dorta was ...": he who has been named by more.
  for (Mention& mention : mentions_.items) {
    if (mention.kind != MentionKind::kPerson || mention.last != mention.first + 1 ||
        begin_of_name(mention) != mention.first)
      continue;
    const Mention* fuller = nullptr;
    for (const Mention& other : mentions_.items) {
      if (other.first >= mention.first) break;
      const bool is_fuller = other.kind == MentionKind::kPerson && other.readings.empty() &&
                             (other.last > other.first + 1 || begin_of_name(other) < other.first) &&
                             folded(other.last - 1) == folded(mention.first);
      if (!is_fuller) continue;
      if (fuller != nullptr && fuller->value != other.value) {
        fuller = nullptr;
        break;
      }
      fuller = &other;
    }
    if (fuller == nullptr || fuller->value == mention.value) continue;
    mention.value = fuller->value;
    mention.readings.clear();
  }
}

// Words that put somebody into the machine: in the same breath, or, for a seat, in the same clause
// with nobody named between.
bool BlockAssembler::is_crew(const Mention& person) const {
  if (has_crew_role(person) || is_owner_of_machine(person)) return true;
  if (is_of_crew_told(person)) return true;
  return any_cue("cue_crew", [&](const Mention& cue) {
    if (clauses_.sentence_of[cue.first] != clauses_.sentence_of[person.first]) return false;
    if (cue.value == "behind") return cue.first == end_of_name(person);
    if (clauses_.segment_of[cue.first] == clauses_.segment_of[person.first]) return true;
    if (cue.value != "seat" || cue.first < person.last) return false;
    return !any_mention(MentionKind::kPerson, [&](const Mention& other) {
      return other.first >= person.last && other.first < cue.first;
    });
  });
}

// "Lieutenant Tansley (pilot)", "Ensign Hale, navigator;": a seat in the aircraft right behind the
// name, and nothing more.
bool BlockAssembler::has_crew_role(const Mention& person) const {
  if (!is_caption()) return false;
  const std::uint32_t last = end_of_name(person);
  if (last >= mentions_.tokens.size() || (word(last) != "(" && word(last) != ",")) return false;
  if (!is_in("crew_role", last + 1)) return false;
  const std::uint32_t next = last + 2;
  const bool ends =
      next >= mentions_.tokens.size() || mentions_.tokens[next].kind == TokenKind::kMark;
  return ends && !groups_.empty();
}

// "G119 was Captain Pask's own", "P305, Sgt Torrel's usual mount".
bool BlockAssembler::is_owner_of_machine(const Mention& person) const {
  if (!is_possessive(person) || !has_machine(clauses_.clause_of[person.first])) return false;
  std::uint32_t t = person.last;
  while (t < mentions_.tokens.size() && mentions_.tokens[t].kind == TokenKind::kMark) ++t;
  if (folded(t) == "s") ++t;
  return is_in("own_machine", t);
}

// "Crew of No. 13 at Inchmoor. Standing: ...": those that such a caption lists.
bool BlockAssembler::is_of_crew_told(const Mention& person) const {
  if (!is_caption() || groups_.empty()) return false;
  constexpr std::uint32_t kOpening = 8;
  const Group& machine = groups_.front();
  if (machine.serials.size() != 1 || machine.first > kOpening || person.first < machine.last)
    return false;
  for (std::uint32_t t = 1; t + 1 < machine.first; ++t) {
    if (is_in("crew_word", t) && office(t + 1) == "of")
      return clauses_.clauses[clauses_.clause_of[person.first]].kind != ClauseKind::kRelative &&
             std::all_of(groups_.begin(), groups_.end(), [&](const Group& group) {
               return group.serials == machine.serials || group.first > person.first;
             });
  }
  return false;
}

// The machine whose crew is named right behind it: "39-105 (Capt Crake, crew of five)", "OR-B
// (AS-305), Clegg; OR-C (AS-307), Rushby".
const Mention* BlockAssembler::machine_beside(const Mention& person) const {
  const std::uint32_t first = begin_of_name(person);
  if (first < 2) return nullptr;
  const auto machine_before = [&](std::uint32_t end) -> const Mention* {
    const Mention* machine = end > 0 ? mention_over(MentionKind::kAirframe, end - 1) : nullptr;
    if (machine == nullptr || machine->value.empty()) return nullptr;
    const auto index = static_cast<std::size_t>(machine - mentions_.items.data());
    return group_of_mention_[index] != kNone ? machine : nullptr;
  };
  if (word(first - 1) == "(") {
    if (const Mention* machine = machine_before(first - 1)) return machine;
    return nullptr;
  }
  const std::uint32_t last = end_of_name(person);
  const bool ends = last >= mentions_.tokens.size() || word(last) == "," || word(last) == ";" ||
                    word(last) == "." || word(last) == ")";
  if (word(first - 1) != "," || !ends) return nullptr;
  // Another name behind the comma makes it a row of people.
  if (last + 1 < mentions_.tokens.size() && word(last) == ",") {
    const std::uint32_t next = last + 1;
    if (mention_over(MentionKind::kPerson, next) != nullptr ||
        mention_over(MentionKind::kRank, next) != nullptr) {
      return nullptr;
    }
  }
  std::uint32_t end = first - 1;
  const bool in_brackets = word(end - 1) == ")";
  return machine_before(in_brackets ? end - 1 : end);
}

// "Captain Brill had crashed the night before": what is told of him happened before the picture.
bool BlockAssembler::is_told_before(const Mention& person) const {
  std::uint32_t t = end_of_name(person);
  if (t >= mentions_.tokens.size() || !is_in("had_word", t)) return false;
  for (++t; t < mentions_.tokens.size() && is_in("event_aside", t);) ++t;
  const auto events = index_.of("cue_event");
  return std::any_of(events.begin(), events.end(), [&](std::uint32_t c) {
    return mentions_.items[c].first == t || mentions_.items[c].first + 1 == t;
  });
}

void BlockAssembler::add_people() {
  for (std::uint32_t i = 0; i < mentions_.items.size(); ++i) {
    const Mention& mention = mentions_.items[i];
    if (mention.kind != MentionKind::kPerson) continue;
    if (is_credit(mention)) continue;
    Claim pattern;
    if (is_caption() && (is_past(mention) || is_told_before(mention)))
      pattern.tense = Tense::kFormer;
    pattern.shown = !is_only_named(mention) && !is_witness(mention);
    pattern.value = mention.value;
    pattern.readings = mention.readings;
    std::vector<std::string> subjects;
    if (is_crew(mention)) subjects = subjects_of(mention);
    if (const Mention* machine = machine_beside(mention)) subjects = {machine->value};
    if (subjects.empty()) pattern.subject = is_caption() ? figure_subject() : "";
    claim_of_mention_[i] = static_cast<std::uint32_t>(out_.size());
    add_for_subjects(mention, ClaimKind::kPerson, subjects, pattern);
    focus_.person = mention.value;
  }
  add_ranks();
  add_awards();
}

}  // namespace tailproof
