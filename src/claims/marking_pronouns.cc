// Markings that a pronoun stands for, and machines of whom a statement goes on without its verb:
// "P305 had it in August, P313 and P314 a month later; P302 never received one".
#include <algorithm>

#include "claims/assembler.h"
#include "grammars/fold.h"

namespace tailproof {

// "..., P313 and P314 a month later": machines behind a comma with nothing but a date of their own.
NameList BlockAssembler::gapped_behind(std::uint32_t token) const {
  std::vector<std::string> serials;
  if (token >= mentions_.tokens.size()) return serials;
  const std::uint32_t sentence = clauses_.sentence_of[token];
  for (const Group& group : groups_) {
    if (group.first < token || clauses_.sentence_of[group.first] != sentence) continue;
    const Spelling before = office(group.first - 1);
    const bool is_joined = before == "," || before == ";" || before == "and";
    std::uint32_t next = group.last;
    if (is_in("gap_preposition", next)) ++next;
    const bool is_dated = any_mention(MentionKind::kDate, [&](const Mention& other) {
      return other.first >= group.last && other.first <= next + 1 && other.last > next;
    });
    const Mention* date = mention_over(MentionKind::kDate, next);
    const Mention* led = mention_over(MentionKind::kDate, next + 1);
    const Mention* own = date != nullptr ? date : led;
    if (!is_joined || !is_dated || own == nullptr) break;
    const bool ends = own->last >= mentions_.tokens.size() ||
                      mentions_.tokens[own->last].kind == TokenKind::kMark ||
                      office(own->last) == "and" || office(own->last) == "but";
    if (!ends) break;
    serials.insert(serials.end(), group.serials.begin(), group.serials.end());
  }
  return serials;
}

// The marking that "it", "them" or "one" at a token stands for: the last one told of, in this
// sentence or the one before.
const Mention* BlockAssembler::marking_meant(std::uint32_t token) const {
  const std::uint32_t sentence = clauses_.sentence_of[token];
  constexpr std::uint32_t kMostSentences = 2;
  const Mention* found = nullptr;
  for (const Mention& mention : mentions_of(MentionKind::kMarking)) {
    if (mention.last > token) continue;
    if (is_no_marking(mention)) continue;
    if (sentence - clauses_.sentence_of[mention.first] <= kMostSentences) found = &mention;
  }
  return found;
}

// "Above and below the wings" is two places, with "|" between them.
std::vector<std::string_view> BlockAssembler::parts_of_position(std::string_view value) {
  std::vector<std::string_view> parts;
  for (std::size_t at = 0; at <= value.size();) {
    const std::size_t end = std::min(value.find('|', at), value.size());
    parts.push_back(value.substr(at, end - at));
    at = end + 1;
  }
  return parts;
}

// "The plain roundel above and below the wings but none on the fuselage", "bands on the fin, not on
// the fuselage": the marking told of before is not there.
void BlockAssembler::add_absent_places() {
  constexpr std::uint32_t kReach = 2;  // "on the"
  const auto count = static_cast<std::uint32_t>(mentions_.tokens.size());
  for (const std::uint32_t c : index_.of("cue_position")) {
    const Mention& part = mentions_.items[c];
    std::uint32_t t = part.first;
    while (t > 0 && part.first - t < kReach &&
           (is_in("determiner", t - 1) || is_in("day_preposition", t - 1)) && office(t - 1) != "no")
      --t;
    if (t < 2 || !is_in("absent_place", t - 1)) continue;
    const bool is_joined = mentions_.tokens[t - 2].kind == TokenKind::kMark ||
                           office(t - 2) == "but" || office(t - 2) == "and" ||
                           is_in("absolute_participle", t - 2);
    const bool ends = part.last >= count || mentions_.tokens[part.last].kind == TokenKind::kMark ||
                      is_in("function_word", part.last);
    if (!is_joined || !ends) continue;
    const Mention* meant = marking_meant(t - 1);
    if (meant == nullptr || clauses_.sentence_of[meant->first] != clauses_.sentence_of[part.first])
      continue;
    add_elsewhere(*meant, part, true);
  }
}

// The marking in another place than where it was named: worn there, or not.
void BlockAssembler::add_elsewhere(const Mention& marking, const Mention& place, bool is_absent) {
  Mention here = place;
  here.why = "the marking named before";
  Claim pattern;
  pattern.value = marking.value;
  pattern.readings = marking.readings;
  pattern.negated = is_absent;
  const std::vector<std::string> subjects = subjects_of(marking);
  if (subjects.empty() && is_caption()) pattern.subject = figure_subject();
  for (const std::string_view position : parts_of_position(place.value)) {
    pattern.position = position;
    add_for_subjects(here, ClaimKind::kMarking, subjects, pattern);
  }
}

// "P305 had it", "Number 17 has none", "never received one": only of a machine, since a unit that
// had it may have had the machine.
void BlockAssembler::add_marking_pronouns() {
  // "The square is carried on the fuselage and repeated above the wing", "the border has reached
  // the upper wing too": the marking told of before, in another place.
  for (const std::uint32_t c : index_.of("cue_position")) {
    const Mention& part = mentions_.items[c];
    std::uint32_t verb = part.first;
    // "Another each side of the upper wing".
    while (verb > 0 && (is_in("determiner", verb - 1) || is_in("day_preposition", verb - 1) ||
                        is_in("side_word", verb - 1) || is_in("each_word", verb - 1) ||
                        office(verb - 1) == "of"))
      --verb;
    // "Beneath her wings they remain".
    const bool remains =
        is_in("thing_pronoun", part.last) && is_in("remaining_verb", part.last + 1);
    // "Has been put on the fuselage and also on the upper wing".
    std::uint32_t also = verb;
    if (also > 0 && office(also - 1) == "to") --also;
    const bool is_added =
        also > 1 && is_in("also_word", also - 1) && is_in("event_conjunction", also - 2);
    if (is_added) verb = also;
    if (!remains && !is_added && (verb == 0 || !is_in("marking_repeated", verb - 1))) continue;
    const Mention* meant = marking_meant(remains ? part.last : verb - 1);
    if (meant == nullptr || clauses_.sentence_of[meant->first] != clauses_.sentence_of[part.first])
      continue;
    add_elsewhere(*meant, part, false);
  }
  if (has_word_of("absent_place")) add_absent_places();
  if (!has_word_of("marking_verb") || !has_word_of("marking_pronoun")) return;
  const auto count = static_cast<std::uint32_t>(mentions_.tokens.size());
  constexpr std::uint32_t kReach = 4;
  for (std::uint32_t t = next_of("marking_verb", 0, count); t + 1 < count;
       t = next_of("marking_verb", t + 1, count)) {
    const std::string_view kind = value_in(lexicon_.grammars().list("marking_pronoun"), t + 1);
    if (kind.empty()) continue;
    const std::uint32_t next = t + 2;
    const bool ends = next >= count || mentions_.tokens[next].kind == TokenKind::kMark ||
                      is_in("function_word", next) || is_in("marking_pronoun_end", next) ||
                      mention_over(MentionKind::kDate, next) != nullptr;
    if (!ends) continue;
    const std::uint32_t clause = clauses_.clause_of[t];
    const Group* machine = nullptr;
    for (const Group& group : groups_) {
      if (group.last <= t && (group.clause == clause || clauses_.clause_of[group.first] == clause))
        machine = &group;
    }
    // "P302, which spent that autumn with 6 RU, never received one"
    const bool is_near = machine != nullptr && t - machine->last <= kReach;
    if (machine == nullptr || machine->serials.empty()) continue;
    const bool other_subject =
        !is_near &&
        std::any_of(mentions_.items.begin(), mentions_.items.end(), [&](const Mention& other) {
          return (other.kind == MentionKind::kPerson || other.kind == MentionKind::kUnit) &&
                 other.first >= machine->last && other.last <= t &&
                 clauses_.clause_of[other.first] == clause;
        });
    const Mention* meant = other_subject ? nullptr : marking_meant(t);
    if (meant == nullptr) continue;
    Mention here = *meant;
    here.first = t + 1;
    here.last = t + 2;
    here.begin = mentions_.tokens[t + 1].begin;
    here.end = mentions_.tokens[t + 1].end;
    here.why = "the marking last named";
    Claim pattern;
    pattern.value = meant->value;
    pattern.readings = meant->readings;
    pattern.negated = kind == "none";
    pattern.position = usual_position(meant->value);
    std::vector<std::string> subjects = machine->serials;
    for (const std::string& serial : gapped_behind(t + 2)) subjects.push_back(serial);
    add_for_subjects(here, ClaimKind::kMarking, subjects, pattern);
  }
}

}  // namespace tailproof
