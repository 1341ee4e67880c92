// How many were made, where the kind stands elsewhere than right behind the number: "followed by
// nine of the Mk II", "delivered fifteen of them", "the Mk I to the number of twenty boats", "of
// the Plovers seven were Mk IIIs". Held against the ledger only as more than there ever were.
#include <algorithm>

#include "claims/assembler.h"
#include "claims/counts.h"

namespace tailproof {

// The one type and mark of which the block has spoken before; none where it has of two.
const Mention* BlockAssembler::kind_spoken_of(std::uint32_t token) const {
  const Mention* kind = nullptr;
  for (const Mention& type : mentions_of(MentionKind::kType)) {
    if (type.first >= token) break;
    if (kind != nullptr && (kind->value != type.value || kind->detail != type.detail))
      return nullptr;
    kind = &type;
  }
  return kind != nullptr && kind->readings.empty() && !kind->detail.empty() ? kind : nullptr;
}

// "Was the fifth and last of them, taken on charge in June": of the mark of which the block speaks,
// which is the machine's own.
bool BlockAssembler::is_last_of_them(const Counted& counted, const Airframe& row) const {
  const std::uint32_t t = counted.last;
  if (office(t) != "of" || !is_in("count_repeat", t + 1) || !counted.count.is_place) return false;
  const bool is_made = says_made(t + 2) || (word(t + 2) == "," && end_of_made(t + 3) != kNone);
  const Mention* kind = is_made ? kind_spoken_of(counted.first) : nullptr;
  return kind != nullptr && kind->value == row.type && kind->detail == row.mark;
}

// The mark that stands at a word, with its type, or with the one named last where the mark is that
// of several; a count without a mark where none stands there.
Count BlockAssembler::kind_at(std::uint32_t token) const {
  Count kind;
  const Mention* own = mention_at(token);
  if (own == nullptr || own->kind != MentionKind::kType || own->first != token ||
      own->detail.empty())
    return kind;
  if (own->readings.empty()) {
    kind.type = own->value;
    kind.mark = own->detail;
    return kind;
  }
  const Mention* named = nullptr;
  for (const Mention& type : mentions_of(MentionKind::kType)) {
    if (type.first >= token) break;
    if (type.readings.empty()) named = &type;
  }
  if (named != nullptr && mark_ending(token, named->value, kind.mark) >= own->last)
    kind.type = named->value;
  return kind;
}

// The type and mark of which so many were made; none where the words do not say that they were.
Count BlockAssembler::kind_made(const Counted& counted) const {
  const std::uint32_t sentence = clauses_.sentence_of[counted.first];
  std::uint32_t begin = counted.first;
  bool is_made = false;
  while (begin > 0 && clauses_.sentence_of[begin - 1] == sentence) {
    --begin;
    is_made = is_made || is_in("making_verb", begin);
  }
  const std::uint32_t first = counted.first, last = counted.last;
  const bool is_of = !counted.has_noun() && office(last) == "of";
  // "Sixteen of the Mk I were built, followed by nine of the Mk II".
  if (is_of && office(last + 1) == "the" && is_made) return kind_at(last + 2);
  // "The Plover Mk II was a success. The yard delivered fifteen of them".
  if (is_of && is_in("count_repeat", last + 1) && first > 0 && is_in("making_verb", first - 1)) {
    const Mention* type = kind_spoken_of(first);
    return type == nullptr ? Count{} : kind_at(type->first);
  }
  // "The yard built the Mk I to the number of twenty boats".
  if (is_made && first > 3 && office(first - 1) == "of" && office(first - 2) == "number" &&
      office(first - 3) == "the" && office(first - 4) == "to") {
    const Mention* type = mention_ending_at(first - 4);
    return type == nullptr ? Count{} : kind_at(type->first);
  }
  // "Of the Plovers seven were Mk IIIs".
  const Mention* plural = counted.has_noun() || first == 0 ? nullptr : mention_ending_at(first);
  if (plural == nullptr || plural->kind != MentionKind::kType || !plural->detail.empty() ||
      !is_several(*plural) || plural->first < 2 || office(plural->first - 1) != "the" ||
      office(plural->first - 2) != "of" || !is_in("was_word", last))
    return {};
  Count kind = kind_at(last + 1);
  return kind.type == plural->value ? kind : Count{};
}

bool BlockAssembler::add_made(const Counted& counted) {
  const bool is_number =
      !counted.count.is_place && !counted.count.is_last && counted.count.number > 1;
  if (!is_number || !counted.count.type.empty()) return false;
  const Count kind = kind_made(counted);
  if (kind.type.empty()) return false;
  const std::uint32_t sentence = clauses_.sentence_of[counted.first];
  for (std::uint32_t t = 0; t < mentions_.tokens.size(); ++t) {
    if (clauses_.sentence_of[t] == sentence && is_in("count_unmade", t)) return false;
  }
  Claim& claim = add(words_of(counted.first, counted.last), ClaimKind::kCount);
  claim.count = counted.count;
  claim.count.own().type = kind.type;
  claim.count.own().mark = kind.mark;
  claim.count.own().fate = "taken_on_charge";
  claim.value = std::to_string(counted.count.number) + named(*claim.count);
  claim.subject = is_caption() ? figure_subject() : "";
  return true;
}

}  // namespace tailproof
