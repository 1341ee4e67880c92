// "R2017 was formerly F106", "F103 became R2018", "R2017 (ex F106)": a serial that the words give
// as the former or later number of the one before it is a name of that machine, though the ledger
// may know it as another's.
//
// A number behind "(ex" hangs on the serial right before it; without brackets the serial must be
// what its sentence is about ("the sister of F103 became R2018" tells of the sister). Words that
// may as well tell of a second machine ("previously", "later") need the brackets or a verb, or a
// ledger in which both were renumbered, each the way that the words say.
#include <algorithm>

#include "claims/assembler.h"

namespace tailproof {

namespace {

bool is_other_number(const Mention& serial) {
  return serial.role == "later_serial" || serial.role == "previous_serial";
}

}  // namespace

// "F103 became R2017 in June and F104 became R2018": behind a machine that was told of so.
bool BlockAssembler::goes_on_behind_number(const Mention& serial) const {
  for (std::uint32_t t = serial.first; t-- > 0;) {
    if (clauses_.sentence_of[t] != clauses_.sentence_of[serial.first]) return false;
    if (const Mention* number = mention_over(MentionKind::kAirframe, t))
      return is_other_number(*number) || stands_behind_own_number(*number);
    const bool is_between = word(t) == "," || word(t) == ";" || office(t) == "and" ||
                            office(t) == "with" || is_in("year_preposition", t) ||
                            office(t) == "on" || mention_over(MentionKind::kDate, t) != nullptr;
    if (!is_between) return false;
  }
  return false;
}

// The second of "F103 became R2017", where the ledger has the first as the former number.
bool BlockAssembler::stands_behind_own_number(const Mention& serial) const {
  return any_mention(MentionKind::kAirframe, [&](const Mention& other) {
    return is_other_number(other) && other.value == serial.value && other.last <= serial.first &&
           clauses_.sentence_of[other.first] == clauses_.sentence_of[serial.first];
  });
}

// Whether the ledger has another number of the machine from before this one (`from_other`), or from
// after it.
bool BlockAssembler::was_renumbered(const Mention& serial, bool from_other) const {
  if (serial.role == "previous_serial") return !from_other;
  if (serial.role == "later_serial") return from_other;
  const auto rows = ledger_.identities_of(serial.value);
  return std::any_of(rows.begin(), rows.end(), [&](const Identity* row) {
    const bool is_previous = row->kind == "previous_serial";
    if (!is_previous && row->kind != "later_serial") return false;
    return is_previous == (row->serial == serial.value) ? from_other : !from_other;
  });
}

// "R2017, for no reason that anybody knows, became F106": past what commas set apart right before
// the verb, where it names no machine, unit or person.
std::uint32_t BlockAssembler::end_of_insertion(std::uint32_t first, std::uint32_t verb) const {
  constexpr std::uint32_t kLongest = 12;
  const bool is_enclosed = first + 1 < verb && verb - first <= kLongest && word(first) == "," &&
                           word(verb - 1) == "," && !is_in("relative_word", first + 1);
  if (!is_enclosed) return first;
  for (std::uint32_t t = first + 1; t + 1 < verb; ++t) {
    if (word(t) == "," || is_in("event_conjunction", t) || mention_at(t) != nullptr) return first;
  }
  return verb;
}

// "Came home to the Bays as": the verb, where only units and places stand between it and the "as"
// right before `end`.
const Mention* BlockAssembler::homing_before(std::uint32_t end, const Mention& before) const {
  if (end < before.last + 2 || !is_in("number_as", end - 1)) return nullptr;
  for (const std::uint32_t c : index_.of("cue_homing")) {
    const Mention& verb = mentions_.items[c];
    if (verb.first < before.last || verb.last >= end) continue;
    bool has_only_names = true;
    for (std::uint32_t t = verb.last; t + 1 < end; ++t) {
      has_only_names = has_only_names &&
                       (is_in("object_preposition", t) || office(t) == "to" ||
                        is_in("determiner", t) || mention_over(MentionKind::kUnit, t) != nullptr ||
                        mention_over(MentionKind::kPlace, t) != nullptr);
    }
    if (has_only_names) return &verb;
  }
  return nullptr;
}

// "The old number of R2017, F106".
bool BlockAssembler::is_number_of(const Mention& owner, const Mention& number) const {
  constexpr std::uint32_t kLead = 3;
  if (owner.first < kLead || number.first <= owner.last || office(owner.first - 1) != "of" ||
      !is_in("number_told", owner.first - 2) || !is_in("number_earlier", owner.first - kLead) ||
      !was_renumbered(owner, true) || !was_renumbered(number, false))
    return false;
  for (std::uint32_t t = owner.last; t < number.first; ++t) {
    const bool is_small =
        word(t) == "," || word(t) == "(" || is_in("being_word", t) || office(t) == "had";
    if (!is_small) return false;
  }
  return true;
}

// The role of `number` beside `before`, or "" where the words give it none.
std::string_view BlockAssembler::told_as_number_of(const Mention& number,
                                                   const Mention& old) const {
  if (clauses_.sentence_of[number.first] != clauses_.sentence_of[old.first] ||
      is_possessive(number))
    return {};
  std::uint32_t end = number.first;
  if (end > old.last && word(end - 1) == "-") --end;
  while (end > old.last &&
         (is_in("determiner", end - 1) || mention_over(MentionKind::kType, end - 1) != nullptr))
    --end;
  const Mention* cue = nullptr;
  for (const CueName list : {CueName("cue_other_number"), CueName("cue_number_was")}) {
    for (const std::uint32_t c : index_.of(list)) {
      const Mention& one = mentions_.items[c];
      // The longest of those that end there.
      if (one.last == end && one.first >= old.last && (cue == nullptr || one.first < cue->first))
        cue = &one;
    }
  }
  if (cue == nullptr) cue = homing_before(end, old);
  // "R2017 was F106 until the renumbering": the words say that it is no other machine.
  const bool is_until = is_in("until_word", number.last) && was_renumbered(old, true);
  if (cue == nullptr && is_until && end == old.last + 1 && is_in("was_word", old.last) &&
      opens_sentence(old) && !is_possessive(old))
    return "previous_serial";
  // "The old number of R2017 was F106", "the first number of R2017, F106, could be read".
  if (cue == nullptr && is_number_of(old, number)) return "previous_serial";
  if (cue == nullptr) return {};
  const std::string_view value = cue->role == "cue_number_was" ? "previous_serial told"
                                 : cue->role == "cue_homing"   ? "later_serial far"
                                                               : cue->value;
  const std::size_t blank = value.find(' ');
  const std::string_view role = value.substr(0, blank);
  const std::string_view way = blank == std::string_view::npos ? "" : value.substr(blank + 1);
  const bool is_former = role == "previous_serial";
  const bool are_both_renumbered =
      was_renumbered(old, is_former) && was_renumbered(number, !is_former);
  // "R2017's former number was F106".
  constexpr std::uint32_t kOfPossessive = 2;
  const bool is_owner = is_possessive(old);
  if (is_owner && way != "told") return {};
  // "Was rebuilt by Tolland and returned as R2017".
  constexpr std::uint32_t kFar = 14;
  const bool is_far = way == "far" && are_both_renumbered && cue->first - old.last <= kFar;
  bool has_bracket = false, has_verb = false;
  const std::uint32_t behind = old.last + (is_owner ? kOfPossessive : 0);
  for (std::uint32_t t = end_of_insertion(behind, cue->first); t < cue->first; ++t) {
    has_bracket = has_bracket || word(t) == "(";
    has_verb = has_verb || is_in("being_word", t);
    const bool is_small =
        word(t) == "," || word(t) == "(" || is_in("being_word", t) || is_in("relative_word", t);
    if (!is_small && !is_far) return {};
  }
  // "Next to it is R2017, formerly F106, on its way": right behind a machine that had a number
  // before.
  const bool is_apposed = is_former && cue->first == old.last + 1 && word(old.last) == "," &&
                          (number.last >= mentions_.tokens.size() ||
                           mentions_.tokens[number.last].kind == TokenKind::kMark) &&
                          was_renumbered(old, true);
  const bool is_told_until = is_former && is_until;
  if (way == "told" && !are_both_renumbered && !is_told_until) return {};
  if (way == "aside" && !has_bracket && !has_verb && !are_both_renumbered && !is_apposed) return {};
  // "What had been F106 became R2017".
  const bool is_led = old.first > 0 && is_in("number_lead", old.first - 1) && are_both_renumbered &&
                      std::none_of(groups_.begin(), groups_.end(), [&](const Group& group) {
                        return group.last <= old.first &&
                               clauses_.sentence_of[group.first] == clauses_.sentence_of[old.first];
                      });
  if (!has_bracket && !is_apposed && !is_led && !opens_sentence(old) && !goes_on_behind_number(old))
    return {};
  return role;
}

void BlockAssembler::name_told_numbers() {
  for (Group& group : groups_) {
    if (group.members.size() != 2) continue;
    Mention& number = mentions_.items[group.members.back()];
    const Mention& owner = mentions_.items[group.members.front()];
    if (number.value == owner.value || !is_number_of(owner, number)) continue;
    if (number.role.empty()) number.detail = number.value;
    number.value = owner.value;
    number.role = finder_.keep("previous_serial");
    group.serials = {std::string(owner.value)};
  }
  for (std::size_t i = 1; i < groups_.size(); ++i) {
    Group& group = groups_[i];
    const Group& before = groups_[i - 1];
    if (group.members.size() != 1 || group.serials.size() != 1 || before.members.empty()) continue;
    Mention& number = mentions_.items[group.members.front()];
    const Mention& owner = mentions_.items[before.members.back()];
    if (number.value == owner.value) continue;
    // "W7 became R2017 and W9 became R2018": no list, each is told of.
    const bool is_alone = before.members.size() == 1 && before.serials.size() == 1;
    if (!is_alone && !goes_on_behind_number(owner)) continue;
    std::string_view role = told_as_number_of(number, owner);
    // "R2017 on the beach. The former F106 has kept her door": of the one machine of the caption.
    const bool opens = number.first > 0 && is_in("former_adjective", number.first - 1) &&
                       number.first - begin_of_sentence(number.first) <= 2;
    if (role.empty() && opens && is_caption() && is_alone && groups_.size() == 2 &&
        !is_beside_in_view(number) && was_renumbered(owner, true) && was_renumbered(number, false))
      role = "previous_serial";
    if (role.empty()) continue;
    if (number.role.empty()) number.detail = number.value;
    number.value = owner.value;
    number.role = finder_.keep(role);
    group.serials = {std::string(owner.value)};
  }
}

}  // namespace tailproof
