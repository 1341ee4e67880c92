// Claims of types and marks: which machines are said to be of one.
#include <algorithm>
#include <cstdlib>

#include "claims/assembler.h"
#include "grammars/fold.h"

namespace tailproof {

// "KB203, a Sandmartin", "Sandmartin KB203".
const Group* BlockAssembler::group_beside(const Mention& type) const {
  // "X12 was a Mk 1, X14 a Mk 2": what the verb says of the one before it.
  std::uint32_t verb = type.first;
  if (verb > 0 && office(verb - 1) == "a") --verb;
  if (verb > 0 && word(type.last) == "," && is_in("being_word", verb - 1)) {
    const auto told = std::find_if(groups_.begin(), groups_.end(),
                                   [&](const Group& group) { return group.last == verb - 1; });
    if (told != groups_.end()) return &*told;
  }
  const Group* found = nullptr;
  for (const Group& group : groups_) {
    // "X12 is a Mk 2, the other a Mk 1": what stands for a machine and opens a part of its own.
    const bool is_of_next = group.members.empty() && word(type.last) == ",";
    if (is_close(type.last, group.first) && !is_of_next) return &group;
    if (is_close(group.last, type.first)) found = &group;
  }
  // "Lanner RK-D (QC417)": over the code to the serial in brackets.
  for (const Mention& code : mentions_.items) {
    if (found != nullptr || code.first > type.last) break;
    if (code.first != type.last || code.kind != MentionKind::kAirframe || code.role != "code")
      continue;
    for (const Group& group : groups_) {
      const bool is_bracketed =
          code.last < group.first && group.first - code.last == 1 && word(code.last) == "(";
      if (is_bracketed) return &group;
    }
  }
  if (found != nullptr || type.first == 0 || !is_in_list("type_apposition", type.first - 1))
    return found;
  // "The last Mk II of all, Q2018".
  constexpr std::uint32_t kReach = 4;
  std::uint32_t tail = type.last;
  while (tail - type.last < kReach && is_in("type_tail", tail)) ++tail;
  if (tail == type.last || is_several(type) || word(tail) != ",") return nullptr;
  const auto behind = std::find_if(groups_.begin(), groups_.end(),
                                   [&](const Group& group) { return is_close(tail, group.first); });
  return behind == groups_.end() ? nullptr : &*behind;
}

// "X12 of the Mk 2, X14 of the larger Lanner", "of the Mk 2 just two, X12 and X14".
const Group* BlockAssembler::group_of_the(const Mention& type) const {
  constexpr std::uint32_t kAdjectives = 2, kWords = 4;
  std::uint32_t the = type.first;
  while (the > 0 && type.first - the < kAdjectives && office(the - 1) != "the" &&
         is_plain_word(the - 1))
    --the;
  if (the < 2 || office(the - 1) != "the" || office(the - 2) != "of") return nullptr;
  std::uint32_t behind = type.last, count = 0;
  for (; behind < type.last + kWords && word(behind) != "," && word(behind) != ":"; ++behind) {
    const int number = number_told(behind);
    if (number > 0) count = static_cast<std::uint32_t>(number);
  }
  for (const Group& group : groups_) {
    if (group.last == the - 2) return &group;
    if (count > 1 && group.first == behind + 1 && group.serials.size() == count) return &group;
  }
  return nullptr;
}

// "Q2017 and Q2018, the first Mk IIs", "41-201, first of sixteen Mk 1", "M-201, the first of the
// two Droghers": what is said of a machine behind its comma.
const Group* BlockAssembler::group_before_apposition(const Mention& type) const {
  constexpr std::uint32_t kReach = 8;
  std::uint32_t t = type.first;
  // "Q2017, a captured Teasel".
  if (t > 1 && is_in("event_participle", t - 1) && office(t - 2) == "a") --t;
  while (t > 0 && type.first - t < kReach && is_in_list("type_apposition", t - 1)) --t;
  if (t == type.first || t < 2) return nullptr;
  // "R2014 was one of the Marlinspikes", but "behind R2014 was one of them".
  bool is_one_of = is_in("being_word", t - 1) && is_several(type) && !is_possessive(type);
  if (is_one_of) {
    is_one_of = false;
    for (std::uint32_t of = t; of < type.first; ++of) is_one_of = is_one_of || office(of) == "of";
  }
  if (word(t - 1) != "," && !is_one_of) return nullptr;
  for (const Group& group : groups_) {
    if (group.last != t - 1) continue;
    const bool is_subject = opens_sentence(mentions_.items[group.members.front()]);
    return is_one_of && !is_subject ? nullptr : &group;
  }
  return nullptr;
}

// "The first four are Mk IIs", "all three were Marlinspikes", "the former is a Mk I".
const Group* BlockAssembler::group_being(const Mention& type) const {
  if (type.first < 2 || is_possessive(type)) return nullptr;
  const bool is_one = office(type.first - 1) == "a" && !type.plural;
  if (!is_one && !is_several(type)) return nullptr;
  std::uint32_t t = is_one ? type.first - 1 : type.first;
  while (!is_one && t > 1 && is_in("each_word", t - 1)) --t;
  if (t == 0 || !is_in("being_word", t - 1)) return nullptr;
  for (const Group& group : groups_) {
    if (group.last == t - 1 && (group.serials.size() > 1) != is_one) return &group;
  }
  return nullptr;
}

// "The Marlinspikes of 923 Squadron included R2014".
const Group* BlockAssembler::group_included(const Mention& type) const {
  const std::uint32_t sentence = clauses_.sentence_of[type.first];
  if (!is_several(type) || is_possessive(type)) return nullptr;
  // What the sentence is about: "the Marlinspikes", "his nine Marlinspikes".
  std::uint32_t begin = type.first;
  while (begin > 0 && clauses_.sentence_of[begin - 1] == sentence &&
         (is_in("determiner", begin - 1) || is_in_list("type_apposition", begin - 1)))
    --begin;
  if (begin_of_sentence(begin) != begin) return nullptr;
  for (const Mention& other : mentions_.items) {
    const bool is_other = other.kind == MentionKind::kType && other.value != type.value;
    if (is_other && clauses_.sentence_of[other.first] == sentence) return nullptr;
  }
  for (const Group& group : groups_) {
    if (clauses_.sentence_of[group.first] != sentence) continue;
    const bool is_included = group.first > type.last && is_in("including_word", group.first - 1) &&
                             clauses_.clause_of[group.first] == clauses_.clause_of[type.first];
    return is_included ? &group : nullptr;
  }
  return nullptr;
}

// "Three Teasels over Dunmarrow: AS-305, AS-307 and AS-314", "the two Fledgers are 36 and 38": the
// list behind a plural, if it is the only one of its sentence.
const Group* BlockAssembler::list_behind(const Mention& type) const {
  if (const Group* company = company_for(type.first, type.last)) return company;
  const Group* found = nullptr;
  for (const Group& group : groups_) {
    if (clauses_.sentence_of[group.first] != clauses_.sentence_of[type.first] || !group.shown)
      continue;
    if (found != nullptr || group.first < type.last || group.serials.size() < 2) return nullptr;
    found = &group;
  }
  return found;
}

// "KB203 was a Sandmartin".
const Group* BlockAssembler::group_of_predicate(const Mention& type, std::string* why) const {
  std::uint32_t begin = type.first;
  if (begin > 0 && is_in("event_participle", begin - 1)) --begin;  // "a captured Sandmartin"
  const std::string_view article = begin > 0 ? office(begin - 1) : "";
  if (article != "a") return nullptr;
  // "Lost in a collision with a Corlan", "landed beside a Corlan": another machine.
  if (begin > 1 && is_in("object_preposition", begin - 2)) return nullptr;
  // "KB203, KB205 and a Corlan": one more in the list.
  const bool is_listed = begin > 2 && office(begin - 2) == "and" &&
                         std::any_of(groups_.begin(), groups_.end(), [&](const Group& group) {
                           return group.last == begin - 2 || group.last == begin - 3;
                         });
  if (is_listed) return nullptr;
  const Group* near = group_for(type.first, type.last, why);
  const bool same_clause = near != nullptr && near->clause == clauses_.clause_of[type.first];
  // "KB203 once more: a Sandmartin".
  const bool is_told_of = near != nullptr && !same_clause && is_caption() && begin > 1 &&
                          word(begin - 2) == ":" && near->last < begin &&
                          near->serials.size() == 1 && !near->members.empty() &&
                          clauses_.sentence_of[near->first] == clauses_.sentence_of[type.first] &&
                          opens_sentence(mentions_.items[near->members.front()]);
  if (is_told_of) return near;
  // "X12, X14 and X15, the first a Mk I, the others Mk IIs": of one of them, and not "each a Mk I".
  const bool is_of_one = near != nullptr && near->serials.size() > 1 && begin > 1 &&
                         !is_in("each_word", begin - 2) && !is_in("being_word", begin - 2);
  return same_clause && near->last <= type.first && !is_of_one ? near : nullptr;
}

// "Three old Grapnels (P301, P302 and P305) and the first Mk IIs": the sentence has told of what
// mark the group is, and goes on to others.
bool BlockAssembler::has_other_type(const Group& group, const Mention& type) const {
  if (type.detail.empty() || type.first < group.last) return false;
  const std::uint32_t sentence = clauses_.sentence_of[type.first];
  if (clauses_.sentence_of[group.first] != sentence) return false;
  return any_mention(MentionKind::kType, [&](const Mention& other) {
    if (other.detail == type.detail) return false;
    if (other.last > type.first || clauses_.sentence_of[other.first] != sentence) return false;
    if (group_beside(other) == &group || list_behind(other) == &group) return true;
    return other.plural && other.last <= group.first && group_of_type(other.value) == &group;
  });
}

// "Four Tinkers", and "Tinker IIs", of which the mark has the ending.
bool BlockAssembler::is_several(const Mention& type) const {
  return type.plural || text_of(type).ends_with('s');
}

const Group* BlockAssembler::group_of_type_words(const Mention& type, std::string* why) const {
  // "The trestle beside it belongs to an Ossil I".
  if (type.first > 2 && office(type.first - 1) == "a" && is_in("belonging_verb", type.first - 3))
    return nullptr;
  // "KB201 and a Sandmartin": another machine.
  if (type.first > 2 && office(type.first - 1) == "a" && office(type.first - 2) == "and") {
    const Mention* other = mention_ending_at(type.first - 2);
    if (other == nullptr && word(type.first - 3) == ")") other = mention_ending_at(type.first - 3);
    if (other != nullptr && other->kind == MentionKind::kAirframe && group_beside(type) == nullptr)
      return nullptr;
  }
  if (const Group* group = group_of_the(type)) {
    *why = "said to be of it";
    return group;
  }
  if (const Group* group = group_beside(type)) {
    *why = "beside the serial";
    return group;
  }
  if (const Group* group = group_before_apposition(type)) {
    *why = "said behind the comma";
    return group;
  }
  if (const Group* group = group_being(type)) {
    *why = "said to be of it";
    return group;
  }
  // "P305 of 7 Squadron at Murrow. A Mk 1, and the last of them": of the one machine of the
  // caption.
  const bool is_fragment = type.role == "mark alone" && is_caption() && type.first > 0 &&
                           office(type.first - 1) == "a" &&
                           mentions_.tokens[type.first - 1].sentence_start;
  if (is_fragment && groups_.size() == 1 && groups_.front().serials.size() == 1 &&
      groups_.front().shown && groups_.front().last < type.first) {
    *why = "the caption is about it";
    return &groups_.front();
  }
  if (const Group* group = group_included(type)) {
    *why = "included among them";
    return group;
  }
  if (type.plural) {
    if (const Group* group = list_behind(type)) {
      *why = "the list behind a plural";
      return group;
    }
  }
  // "The Grapnel": the machine of that type that is spoken of, if there is one. Not "a Grapnel
  // costs", nor several for one.
  const std::string_view article = type.first > 0 ? office(type.first - 1) : "";
  const bool is_any = article == "a" && !is_caption();
  const Group* spoken_of = group_of_type(type.value);
  if (spoken_of != nullptr && has_other_type(*spoken_of, type)) spoken_of = nullptr;
  // "They numbered the T2 from 221": of another mark than the machine last named, and not said of
  // it.
  if (spoken_of != nullptr && !is_caption() && !type.detail.empty() &&
      spoken_of->serials.size() == 1) {
    const Airframe* row = ledger_.airframe(spoken_of->serials.front());
    if (row != nullptr && !row->mark.empty() && type.detail != row->mark) spoken_of = nullptr;
  }
  // "Mk III: square windows. X12 is a good one": of the mark, before any machine is named.
  const bool is_of_mark = type.role == "mark alone" && article != "the" && !is_caption();
  if (spoken_of != nullptr && is_of_mark && spoken_of->first >= type.last) spoken_of = nullptr;
  // "X12 and X14. The nearer is the old Mk I": of one of them.
  if (spoken_of != nullptr && type.role == "mark alone" && spoken_of->serials.size() > 1 &&
      !is_several(type))
    spoken_of = nullptr;
  // "X1 to X22 came in turn. On that day it had three Mk Is": another number than that of the list.
  const int counted = type.first > 0 ? number_told(type.first - 1) : 0;
  if (spoken_of != nullptr && is_several(type) && counted > 1 &&
      spoken_of->serials.size() != static_cast<std::size_t>(counted))
    spoken_of = nullptr;
  if (spoken_of != nullptr && !is_any && (!is_several(type) || spoken_of->serials.size() > 1)) {
    *why = "the machine of that type";
    return spoken_of;
  }
  return group_of_predicate(type, why);
}

// A mark that several types have ("an Mk II") is that of the machine, or else of the type that the
// block has named before.
std::string BlockAssembler::type_of_mark(const Mention& mark, const Group* group) const {
  const auto is_reading = [&](std::string_view type) {
    return std::find(mark.readings.begin(), mark.readings.end(), type) != mark.readings.end();
  };
  if (group != nullptr) {
    for (const std::string& serial : group->serials) {
      const Airframe* row = ledger_.airframe(serial);
      if (row != nullptr && is_reading(row->type)) return row->type;
    }
  }
  const Mention* named = nullptr;
  for (const Mention& other : mentions_of(MentionKind::kType)) {
    if (other.role == "mark alone") continue;
    if ((other.last <= mark.first || named == nullptr) && is_reading(other.value)) named = &other;
  }
  return named != nullptr ? named->value : mark.value;
}

// "Mark III" of a type whose mark the ledger writes "III", where another's is "3".
std::string BlockAssembler::mark_as_written(const std::string& type,
                                            const std::string& mark) const {
  const std::vector<std::string> words = mark_words(mark, lexicon_.grammars());
  for (const MarkForm& form : lexicon_.marks_of(type)) {
    if (form.words == words) return form.mark;
  }
  return mark;
}

// "It had once been KB201, a Mk I", "as KB201 it had been a Mk I": of the time of that number.
bool BlockAssembler::is_of_former_number(const Mention& type) const {
  constexpr std::uint32_t kReach = 2;
  if (cue_in_segment(type.first, "cue_pluperfect") != nullptr ||
      cue_in_segment(type.first, "cue_had") != nullptr) {
    return true;
  }
  return any_mention(MentionKind::kAirframe, [&](const Mention& other) {
    return other.role == "previous_serial" && other.last <= type.first &&
           type.first - other.last <= kReach;
  });
}

// "Two Sandmartins and a Tern: KB201, KB202 and KB205": of the list behind them those of this type
// by the ledger, and, where these are too few, the first of those that are of none of the types
// told.
NameList BlockAssembler::share_of(const Mention& type, const Group& list) const {
  struct Share {
    const Mention* type;
    std::size_t count;
    NameList serials;
  };
  std::vector<Share> shares;
  std::size_t all = 0;
  for (const Mention& other : mentions_of(MentionKind::kType)) {
    if (clauses_.sentence_of[other.first] != clauses_.sentence_of[list.first] ||
        other.last > list.first || other.first == 0)
      continue;
    const std::string_view number = value_in(lexicon_.grammars().list("number"), other.first - 1);
    const std::size_t count = office(other.first - 1) == "a" ? 1
                              : number.empty()
                                  ? 0
                                  : std::strtoul(std::string(number).c_str(), nullptr, 10);
    shares.push_back({&other, count, {}});
    all += count;
  }
  if (shares.size() < 2 || all != list.serials.size()) return list.serials;
  std::vector<bool> is_taken(list.serials.size(), false);
  const auto is_of = [&](const std::string& serial, const Mention& told) {
    const Airframe* row = ledger_.airframe(serial);
    return row != nullptr && row->type == told.value;
  };
  for (const bool is_by_ledger : {true, false}) {
    for (Share& share : shares) {
      for (std::size_t i = 0; i < list.serials.size() && share.serials.size() < share.count; ++i) {
        if (is_taken[i] || (is_by_ledger && !is_of(list.serials[i], *share.type))) continue;
        is_taken[i] = true;
        share.serials.push_back(list.serials[i]);
      }
    }
  }
  const auto own = std::find_if(shares.begin(), shares.end(),
                                [&](const Share& share) { return share.type == &type; });
  return own == shares.end() ? list.serials : own->serials;
}

// "Behind it is a Gimlet I": another machine, which has no name here.
bool BlockReading::is_beyond_it(const Mention& type) const {
  constexpr std::uint32_t kReach = 8;  // "a second, unmarked"
  if (type.plural || mention_over(MentionKind::kAirframe, type.last) != nullptr) return false;
  for (std::uint32_t t = type.first; t > 1 && type.first - t < kReach; --t) {
    if (clauses_.sentence_of[t - 1] != clauses_.sentence_of[type.first]) return false;
    const bool is_verb = is_in("being_word", t - 1) || is_in("was_word", t - 1) ||
                         is_in("view_standing_verb", t - 1);
    if (!is_verb || !is_in("unnamed_article", t)) continue;
    // "Behind it", "beyond the machine": the sentence, or a part of it, opens so.
    std::uint32_t place = t - 1;
    while (place > 0 && (is_in("story_object", place - 1) || is_in("machine_noun", place - 1) ||
                         is_in("determiner", place - 1)))
      --place;
    return place > 0 && is_in("view_beyond_word", place - 1) &&
           (begin_of_statement(place) == place - 1 || word(place - 2) == ",");
  }
  return false;
}

void BlockAssembler::add_types() {
  for (const Mention& mention : mentions_of(MentionKind::kType)) {
    // "two feet longer than the F.1", "unlike the Grapnel": another machine's type.
    if (cue_before(mention, "cue_not_shown", 2) != nullptr || is_beyond_it(mention)) continue;
    Claim pattern;
    const Group* group = group_of_type_words(mention, &pattern.why);
    const std::string type = mention.role == "mark alone" && !mention.readings.empty()
                                 ? type_of_mark(mention, group)
                                 : mention.value;
    pattern.value =
        mention.detail.empty() ? type : type + " " + mark_as_written(type, mention.detail);
    for (const std::string& reading : mention.readings) {
      pattern.readings.push_back(mention.detail.empty() || mention.role != "mark alone"
                                     ? reading
                                     : reading + " " + std::string(mention.detail));
    }
    // "The Mark IIs and IIIs that got there were X12 and X14": each is one or the other.
    if (mention.plural && !mention.detail.empty() && pattern.readings.empty()) {
      pattern.readings.push_back(pattern.value);
      for (const std::string& mark : marks_beside(mention))
        pattern.readings.push_back(type + " " + mark_as_written(type, mark));
      if (pattern.readings.size() == 1) pattern.readings.clear();
    }
    std::vector<std::string> subjects;
    if (group != nullptr && !tells_of_other_unit(mention.first))
      subjects = group->first > mention.first ? share_of(mention, *group) : group->serials;
    // "A3012, A3020 and A3031, the only Mark II": one behind several is of the last.
    if (subjects.size() > 1 && !is_several(mention) && group == group_before_apposition(mention) &&
        !stands_between(group->last, mention.first, "each_word"))
      subjects = {subjects.back()};
    // "Gimlet I and II compared", over the caption of a Mark II: the one that it is.
    const auto is_kind_of = [&](const std::string& serial, const Mention& told) {
      const Airframe* row = ledger_.airframe(serial);
      return row != nullptr && row->type == told.value &&
             (told.detail.empty() || told.detail == row->mark);
    };
    const bool has_fitter =
        !serials_ahead_.empty() && subjects.size() == 1 && !is_kind_of(subjects.front(), mention) &&
        any_mention(MentionKind::kType, [&](const Mention& other) {
          return other.first != mention.first && is_kind_of(subjects.front(), other);
        });
    if (has_fitter) subjects.clear();
    // "The Gadfly", over a caption of that one and another: of those that are one by the ledger.
    if (subjects.size() > 1 && !is_several(mention)) {
      const auto is_other = [&](const std::string& serial) {
        const Airframe* row = ledger_.airframe(serial);
        if (row == nullptr) return false;
        return serials_ahead_.empty() ? row->type != type : !is_kind_of(serial, mention);
      };
      const bool is_mixed = !std::all_of(subjects.begin(), subjects.end(), is_other);
      if (is_mixed) std::erase_if(subjects, is_other);
    }
    // "It was a Marlinspike", "they were Marlinspikes".
    const bool is_one = mention.first > 0 && office(mention.first - 1) == "a";
    const std::uint32_t verb = mention.first - (is_one ? 2 : 1);
    const bool is_of_pronoun = mention.first > 2 && (is_one || is_several(mention)) &&
                               is_in("being_word", verb) && is_in("machine_pronoun", verb - 1) &&
                               is_in_later_sentence(mention.first);
    if (group == nullptr && is_of_pronoun) subjects = subjects_of(mention);
    if (is_of_former_number(mention)) pattern.tense = Tense::kFormer;
    // The subject of a chapter states nothing.
    if (subjects.empty() && block_.kind == BlockKind::kHeading) continue;
    if (subjects.empty() && is_caption()) pattern.subject = figure_subject();
    add_for_subjects(mention, ClaimKind::kType, subjects, pattern);
  }
}

}  // namespace tailproof
