// Words that stand for one machine of several, told by what it does or where it stands: "one of
// them", "another", "the one on the right", "Tarbot's machine".
//
// Where the words do not settle which one is meant, they stand for a machine that nobody knows, and
// what is said of it is said of none of those named.
#include <algorithm>

#include "claims/assembler.h"
#include "claims/identities.h"

namespace tailproof {

// What is told of somebody or something follows at the token: a verb.
bool BlockReading::tells_at(std::uint32_t token) const {
  if (token >= mentions_.tokens.size()) return false;
  const auto events = index_.of("cue_event");
  return is_in("pick_verb", token) || is_in("story_verb", token) || is_in("told_verb", token) ||
         is_in("event_auxiliary", token) ||
         std::any_of(events.begin(), events.end(),
                     [&](std::uint32_t c) { return mentions_.items[c].first == token; });
}

// Whether nothing stands before the token in what a full stop, a semicolon, a comma or "and" opens.
bool BlockReading::opens_part(std::uint32_t token) const {
  return begin_of_sentence(token) == token ||
         clauses_.clauses[clauses_.clause_of[token]].first == token ||
         mentions_.tokens[token - 1].kind == TokenKind::kMark ||
         is_in("event_conjunction", token - 1);
}

// "One of them", "another": the token behind; 0 when the words are none.
std::uint32_t BlockAssembler::end_of_unknown_one(std::uint32_t token) const {
  const bool is_another = is_in("another_word", token);
  if (!is_another && !is_in("one_of_several", token)) return 0;
  std::uint32_t end = token + 1;
  if (end >= mentions_.tokens.size()) return 0;
  if (office(end) == "of") {
    // "One of the others".
    const std::uint32_t others = is_in("determiner", end + 1) ? end + 2 : end + 1;
    end = is_in("others_word", others) ? others + 1 : end_of_them(end);
  } else if (is_another && is_in("machine_noun", end)) {
    ++end;
  }
  // "One or the other", "one and all".
  return end != 0 && tells_at(end) ? end : 0;
}

// "The newer of the two had come in May": the ledger knows which, and the words do not tell; the
// token behind, 0 when the words are none.
std::uint32_t BlockReading::end_of_aged_one(std::uint32_t age) const {
  if (age == 0 || office(age - 1) != "the" || office(age + 1) != "of") return 0;
  std::uint32_t end = age + 2;
  while (is_in("determiner", end) || is_in("number", end) || is_in("picked_of", end) ||
         is_in("machine_noun", end))
    ++end;
  return end > age + 2 ? end : 0;
}

// "The one on the right", "the machine nearest the camera": the token behind, and the place in the
// picture, a value of machine_pick; 0 when the words are none.
std::uint32_t BlockAssembler::end_of_located_one(std::uint32_t at, std::string_view& place) const {
  const auto count = static_cast<std::uint32_t>(mentions_.tokens.size());
  const WordList* picks = lexicon_.grammars().list("machine_pick");
  if (picks == nullptr || at + 2 >= count || office(at) != "the") return 0;
  const Mention* type = mention_over(MentionKind::kType, at + 1);
  std::uint32_t t = is_in("machine_noun", at + 1)              ? at + 2
                    : type != nullptr && type->first == at + 1 ? type->last
                                                               : 0;
  if (t == 0 || t >= count) return 0;
  if (is_in("object_preposition", t) && value_in(picks, t).empty()) {
    ++t;
    if (t < count && office(t) == "the") ++t;
  }
  if (t >= count) return 0;
  place = value_in(picks, t);
  const bool is_place =
      place == "near" || place == "far" || place == "left" || place == "right" || place == "middle";
  if (!is_place) return 0;
  ++t;
  while (t < count && mentions_.tokens[t].kind == TokenKind::kWord &&
         (office(t) == "the" || is_in("camera_noun", t)))
    ++t;
  return t;
}

// "In 1946 the last Whimbrook was cut up here", "the two youngest machines had gone to the Patrol":
// nobody is told which; the token behind, 0 when the words are none.
std::uint32_t BlockAssembler::end_of_last_one(std::uint32_t token) const {
  if (office(token) != "the" || !is_in_later_sentence(token)) return 0;
  const std::uint32_t pick = token + (is_in("number", token + 1) ? 2 : 1);
  const std::uint32_t noun = pick + 1;
  if (noun >= mentions_.tokens.size()) return 0;
  if (is_in("superlative_some", pick) && is_in("machine_noun", noun))
    return tells_at(noun + 1) ? noun + 1 : 0;
  const Mention* type = mention_over(MentionKind::kType, noun);
  if (type == nullptr || type->first != noun || !tells_at(type->last)) return 0;
  const bool is_last = is_in("superlative_one", pick) && !type->plural && noun == token + 2;
  return is_last || is_in("superlative_some", pick) ? type->last : 0;
}

// "Tarbot's machine": the one that the block has him fly; the token behind, 0 when nobody's.
std::uint32_t BlockAssembler::end_of_owned_one(const Mention& person,
                                               std::vector<std::string>& serials) const {
  if (!is_possessive(person) || !is_in("machine_noun", person.last)) return 0;
  for (const Mention& other : mentions_of(MentionKind::kPerson)) {
    if (other.first >= person.first) break;
    if (other.value != person.value) continue;
    const Mention* machine = machine_beside(other);
    const Group* flown = machine == nullptr && is_crew(other)
                             ? group_for(other.first, other.last, nullptr)
                             : nullptr;
    if (machine != nullptr) serials = {std::string(machine->value)};
    if (flown != nullptr && flown->serials.size() == 1) serials = flown->serials;
  }
  return person.last + 1;
}

// "A Whimbrook of 8 Patrol waits its turn", in a later sentence of a caption that has named its
// machine: another one; the token behind what names it, 0 when the words are none or tell what the
// machine is.
std::uint32_t BlockAssembler::end_of_unnamed_one(std::uint32_t token) const {
  constexpr std::uint32_t kAdjectives = 2;
  const auto count = static_cast<std::uint32_t>(mentions_.tokens.size());
  const std::uint32_t begin = begin_of_sentence(token);
  const bool is_fronted = token - begin <= kAdjectives + 1 && token > begin &&
                          is_in("fronted_place", begin);  // "behind it a"
  if ((begin != token && !is_fronted) || clauses_.sentence_of[token] == 0) return 0;
  std::uint32_t t = token + 1;
  while (t < count && t - token <= kAdjectives && mention_over(MentionKind::kType, t) == nullptr &&
         !is_in("machine_noun", t) && mentions_.tokens[t].kind == TokenKind::kWord)
    ++t;
  const Mention* type = t < count ? mention_over(MentionKind::kType, t) : nullptr;
  if (type == nullptr && (t >= count || !is_in("machine_noun", t))) return 0;
  const std::uint32_t end = type != nullptr ? type->last : t + 1;
  // Over "of 8 Patrol", "from Brinmere" to its verb.
  std::uint32_t verb = end;
  while (verb + 1 < count && is_in("object_preposition", verb)) {
    std::uint32_t object = verb + 1;
    if (office(object) == "the") ++object;
    const Mention* name = object < count ? mention_at(object) : nullptr;
    if (name == nullptr || name->first != object) break;
    verb = name->last;
  }
  if (verb >= count || clauses_.sentence_of[verb] != clauses_.sentence_of[token]) return 0;
  const Spelling w = folded(verb);
  const bool is_present = mentions_.tokens[verb].kind == TokenKind::kWord &&
                          !mentions_.tokens[verb].capital && w.ends_with('s') &&
                          !is_in("function_word", verb) && mention_at(verb) == nullptr;
  return is_present || tells_at(verb) || is_fronted ? end : 0;
}

void BlockAssembler::make_open_picks() {
  if (groups_.empty()) return;
  const auto count = static_cast<std::uint32_t>(mentions_.tokens.size());
  const auto insert = [&](std::uint32_t first, std::uint32_t last,
                          std::vector<std::string> serials) {
    Group pick;
    pick.serials = std::move(serials);
    pick.first = first;
    pick.last = last;
    pick.clause = clauses_.clause_of[first];
    insert_group(std::move(pick));
  };
  for (const ListName list : {ListName("one_of_several"), ListName("another_word")}) {
    if (!has_word_of(list)) continue;
    for (std::uint32_t t = next_of(list, 0, count); t < count; t = next_of(list, t + 1, count)) {
      const bool is_of_others =
          office(t + 1) == "of" && (is_in("others_word", t + 2) || is_in("others_word", t + 3));
      const std::size_t fewest = is_in("another_word", t) || is_of_others ? 1 : 2;
      if (!opens_part(t) || named_before(t).size() < fewest) continue;
      if (const std::uint32_t end = end_of_unknown_one(t); end != 0) insert(t, end, {});
    }
  }
  if (has_word_of("compared_age")) {
    for (std::uint32_t t = next_of("compared_age", 0, count); t < count;
         t = next_of("compared_age", t + 1, count)) {
      const std::uint32_t end = end_of_aged_one(t);
      if (end != 0 && tells_at(end) && named_before(t).size() > 1) insert(t - 1, end, {});
    }
  }
  if (!is_caption()) return;
  if (has_word_of("another_article")) {
    for (std::uint32_t t = next_of("another_article", 0, count); t < count;
         t = next_of("another_article", t + 1, count)) {
      const std::uint32_t end = end_of_unnamed_one(t);
      if (end != 0 && !named_before(t).empty()) insert(t, end, {});
    }
  }
  if (has_word_of("machine_pick") || has_word_of("superlative_some")) {
    for (std::uint32_t t = next_of("pick_article", 0, count); t + 1 < count;
         t = next_of("pick_article", t + 1, count)) {
      if (const std::uint32_t last = end_of_last_one(t); last != 0) {
        insert(t, last, {});
        continue;
      }
      std::string_view place;
      const std::uint32_t end = end_of_located_one(t, place);
      if (end == 0 || !tells_at(end)) continue;
      const std::vector<std::string> among = named_before(t);
      // "The machine on the left is X12": where it stands, and nothing more.
      const bool is_named_behind =
          std::any_of(groups_.begin(), groups_.end(), [&](const Group& group) {
            return group.first >= end && group.first - end <= 2 && !group.members.empty();
          });
      if (among.size() < 2 || is_named_behind) continue;
      const std::string one = picked(place, t, among);
      insert(t, end, one.empty() ? std::vector<std::string>{} : std::vector<std::string>{one});
    }
  }
  for (const Mention& person : mentions_of(MentionKind::kPerson)) {
    std::vector<std::string> serials;
    const std::uint32_t end = end_of_owned_one(person, serials);
    if (end == 0 || named_before(person.first).size() < 2) continue;
    insert(begin_of_name(person), end, std::move(serials));
  }
}

}  // namespace tailproof
