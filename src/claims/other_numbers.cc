// "R2017 was formerly F106", "F103 became R2018", "R2017 (ex F106)": a serial that the words give
// as the former or later number of the one before it is a name of that machine, though the ledger
// may know it as another's.
//
// A number behind "(ex" hangs on the serial right before it; without brackets the serial must be
// what its sentence is about ("the sister of F103 became R2018" tells of the sister), and words
// that may as well tell of a second machine ("previously", "later") need the brackets or a verb.
#include <algorithm>

#include "claims/assembler.h"

namespace tailproof {

// Whether nothing but dates, types and articles stands before the serial in its sentence.
bool BlockAssembler::opens_sentence(const Mention& serial) const {
  const std::uint32_t sentence = clauses_.sentence_of[serial.first];
  for (std::uint32_t t = serial.first; t > 0 && clauses_.sentence_of[t - 1] == sentence; --t) {
    const std::uint32_t at = t - 1;
    const bool is_aside = mentions_.tokens[at].kind == TokenKind::kMark ||
                          is_in("determiner", at) || is_in("machine_noun", at) ||
                          is_in("year_preposition", at) ||
                          mention_over(MentionKind::kType, at) != nullptr ||
                          mention_over(MentionKind::kDate, at) != nullptr;
    if (!is_aside) return false;
  }
  return true;
}

// The role of `number` beside `before`, or "" where the words give it none.
std::string_view BlockAssembler::told_as_number_of(const Mention& number,
                                                   const Mention& before) const {
  if (clauses_.sentence_of[number.first] != clauses_.sentence_of[before.first] ||
      is_possessive(number) || is_possessive(before))
    return {};
  std::uint32_t end = number.first;
  while (end > before.last &&
         (is_in("determiner", end - 1) || mention_over(MentionKind::kType, end - 1) != nullptr))
    --end;
  const Mention* cue = nullptr;
  for (const std::uint32_t c : cues_by_list_.of("cue_other_number")) {
    const Mention& one = mentions_.items[c];
    // The longest of those that end there.
    if (one.last == end && one.first >= before.last && (cue == nullptr || one.first < cue->first))
      cue = &one;
  }
  if (cue == nullptr) return {};
  bool has_bracket = false, has_verb = false;
  for (std::uint32_t t = before.last; t < cue->first; ++t) {
    has_bracket = has_bracket || word(t) == "(";
    has_verb = has_verb || is_in("being_word", t);
    if (word(t) != "," && word(t) != "(" && !is_in("being_word", t) && !is_in("relative_word", t))
      return {};
  }
  const std::string_view value = cue->value;
  const std::size_t blank = value.find(' ');
  if (blank != std::string_view::npos && !has_bracket && !has_verb) return {};
  if (!has_bracket && !opens_sentence(before)) return {};
  return value.substr(0, blank);
}

void BlockAssembler::name_told_numbers() {
  for (std::size_t i = 1; i < groups_.size(); ++i) {
    Group& group = groups_[i];
    const Group& before = groups_[i - 1];
    if (group.members.size() != 1 || group.serials.size() != 1 || before.members.size() != 1 ||
        before.serials.size() != 1)
      continue;
    Mention& number = mentions_.items[group.members.front()];
    if (number.value == before.serials.front()) continue;
    const std::string_view role =
        told_as_number_of(number, mentions_.items[before.members.front()]);
    if (role.empty()) continue;
    if (number.role.empty()) number.detail = number.value;
    number.value = finder_.keep(before.serials.front());
    number.role = finder_.keep(role);
    group.serials = before.serials;
  }
}

}  // namespace tailproof
