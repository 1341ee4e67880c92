// Shares of what was told of before: "seven of the eighteen were lost before the renumbering", "of
// the twelve, nine were still on charge that day", "the eleven survivors were renumbered". The
// machines are those of a range or a type that are as many.
#include <algorithm>
#include <cstdlib>
#include <set>

#include "claims/assembler.h"
#include "claims/fate_words.h"

namespace tailproof {
namespace {

constexpr const char* kLost = "lost";
constexpr const char* kRenumbered = "later_serial";
constexpr const char* kOnCharge = "on_charge";

std::vector<std::string> kin_of(const Ledger& ledger, std::string_view type,
                                std::string_view mark) {
  std::vector<std::string> serials;
  std::set<std::uint32_t> machines;
  for (const Airframe* row : ledger.airframes_of_type(type)) {
    if (!mark.empty() && row->mark != mark) continue;
    if (machines.insert(row->machine).second) serials.push_back(row->serial);
  }
  return serials;
}

}  // namespace

// "Eighteen", "18"; 0 for anything else, or for a part of something longer.
int BlockReading::number_told(std::uint32_t token) const {
  if (token >= mentions_.tokens.size() || mention_at(token) != nullptr || word(token + 1) == "-" ||
      (token > 0 && (word(token - 1) == "-" || is_in("count_inexact", token - 1))))
    return 0;
  const std::string_view value = value_in(lexicon_.grammars().list("number"), token);
  if (!value.empty()) return std::atoi(std::string(value).c_str());
  constexpr std::size_t kMostDigits = 3;
  const bool is_digits =
      mentions_.tokens[token].kind == TokenKind::kNumber && word(token).size() <= kMostDigits;
  return is_digits ? std::atoi(std::string(word(token)).c_str()) : 0;
}

// "Lost or scrapped", "lost, sold or broken up": whatever became of them.
bool BlockReading::is_lost_or_else(std::uint32_t end) const {
  if (word(end) == ",") return is_in("end_unlost", end + 1);
  return office(end) == "or" && is_in("end_unlost", end + 1);
}

// What the sentence says of so many, behind the number: a kind of Count::fate, or "".
std::string_view BlockReading::fate_told(std::uint32_t first) const {
  const auto count = static_cast<std::uint32_t>(mentions_.tokens.size());
  if (first >= count) return {};
  const std::uint32_t sentence = clauses_.sentence_of[first];
  std::uint32_t end = first;
  constexpr std::uint32_t kLongest = 60;
  // "Three lasted to the end: X12, X14 and X16, the last of which had begun as Y3": of one of them.
  while (end < count && end - first < kLongest && clauses_.sentence_of[end] == sentence &&
         word(end) != ";" && word(end) != ":")
    ++end;
  bool is_alive = false;
  for (std::uint32_t t = first; t < end; ++t) {
    const std::uint32_t lead = t > first && office(t - 1) == "the" ? t - 1 : t;
    const bool is_before = lead > first && is_in("share_before", lead - 1);
    // "Lived to be given new numbers", "came out again with new serials".
    const bool is_new = is_in("share_new", t) && is_in("share_number", t + 1);
    if ((is_in("share_renumbered", t) || is_new) && !is_before) return kRenumbered;
    const Mention* serial = mention_at(t);
    const bool is_turned = serial != nullptr && serial->kind == MentionKind::kAirframe &&
                           t > first && is_in("share_turned", t - 1);
    if (is_turned) return kRenumbered;
    is_alive = is_alive || is_in("share_alive", t);
  }
  for (const Mention& cue : cues_of("cue_event")) {
    if (cue.first < first || cue.last > end || cue.value != kLost || !cue.known) continue;
    constexpr std::uint32_t kReach = 6;
    if (cue.first - first <= kReach && !is_lost_or_else(cue.last)) return kLost;
  }
  return is_alive ? kOnCharge : std::string_view{};
}

// The machines of which there are so many: listed or ranged in the block, of a type that it names,
// or of one mark of that type. With no number, the list or type named last.
std::vector<std::string> BlockAssembler::machines_numbered(std::uint32_t token, int number) const {
  const auto is_it = [&](const std::vector<std::string>& all) {
    return number == 0 ? all.size() > 2 : all.size() == static_cast<std::size_t>(number);
  };
  const std::uint32_t sentence = clauses_.sentence_of[token];
  const auto is_here = [&](std::uint32_t first) {
    return first < token || clauses_.sentence_of[first] == sentence;
  };
  // From the last on, and not for ever: a block may name thousands.
  constexpr std::size_t kMostNames = 64;
  const Group* listed = nullptr;
  for (std::size_t i = groups_.size(), seen = 0; i-- > 0 && seen < kMostNames;) {
    if (!is_here(groups_[i].first)) continue;
    ++seen;
    if (!is_it(groups_[i].serials)) continue;
    listed = &groups_[i];
    break;
  }
  const Mention* type = nullptr;
  std::vector<std::string> of_type;
  const auto kinds = index_.of(MentionKind::kType);
  for (std::size_t i = kinds.size(), seen = 0; i-- > 0 && seen < kMostNames && type == nullptr;) {
    const Mention& other = mentions_.items[kinds[i]];
    if (!is_here(other.first) || !other.readings.empty()) continue;
    ++seen;
    of_type = kin_of(ledger_, other.value, other.detail);
    if (is_it(of_type)) type = &other;
    if (type != nullptr || !other.detail.empty() || number == 0) continue;
    for (const MarkForm& form : lexicon_.marks_of(other.value)) {
      of_type = kin_of(ledger_, other.value, form.mark);
      if (!is_it(of_type)) continue;
      type = &other;
      break;
    }
  }
  if (type == nullptr) of_type.clear();
  if (listed != nullptr && (type == nullptr || listed->first > type->first)) return listed->serials;
  return of_type;
}

// The machine with which the clause begins, where nothing but asides, "was" and small words stand
// between it and its place: "X12, which closed the series, was thus the twentieth".
const Mention* BlockReading::subject_before_place(std::uint32_t first) const {
  std::uint32_t t = first;
  while (t > 0 && (office(t - 1) == "the" || is_in("making_adverb", t - 1) ||
                   is_in("use_adverb", t - 1) || is_in("place_adverb", t - 1)))
    --t;
  if (t < 2 || !is_in("was_word", t - 1)) return nullptr;
  --t;
  const Mention* serial = word(t - 1) == "," ? name_before_aside(t - 1) : mention_ending_at(t);
  return serial != nullptr && serial->kind == MentionKind::kAirframe && serial->role.empty()
             ? serial
             : nullptr;
}

// "Seven of them had failed to return or been shot down": which seven, nobody says.
bool BlockReading::is_told_of_number(std::uint32_t verb) const {
  std::uint32_t t = verb;
  while (t > 0 && (is_auxiliary(t - 1) || is_in("pluperfect_auxiliary", t - 1) ||
                   office(t - 1) == "or" || is_in_event(t - 1)))
    --t;
  if (t > 2 && is_in("unnamed_pronoun", t - 1) && office(t - 2) == "of") t -= 2;
  if (t == 0 || t >= verb || number_told(t - 1) == 0) return false;
  return mentions_.tokens[t - 1].sentence_start ||
         mentions_.tokens[t - 2].kind == TokenKind::kMark || is_in("event_conjunction", t - 2);
}

// "The last of all, X12, arrived on 1 August, the thirty-sixth to be delivered": the one machine
// that the sentence has named.
const Mention* BlockReading::only_machine_before(std::uint32_t token) const {
  const Mention* machine = nullptr;
  for (const Mention& other : mentions_of(MentionKind::kAirframe)) {
    if (other.first >= token) break;
    if (!other.role.empty() || clauses_.sentence_of[other.first] != clauses_.sentence_of[token])
      continue;
    if (machine != nullptr) return nullptr;
    machine = &other;
  }
  return machine;
}

// "Five Grapnels of the first series lived to be renumbered": a type right behind the number, and
// its mark by place.
const Mention* BlockAssembler::type_renumbered(std::uint32_t token, std::string& mark) const {
  const Mention* type = mention_at(token);
  if (type == nullptr || type->kind != MentionKind::kType || !type->readings.empty() ||
      fate_told(type->last) != kRenumbered)
    return nullptr;
  mark = type->detail;
  const std::uint32_t of = type->last;
  if (!mark.empty() || office(of) != "of" || office(of + 1) != "the" || !is_in("mark_noun", of + 3))
    return type;
  const std::string place(value_in(lexicon_.grammars().list("count_ordinal"), of + 2));
  for (const MarkForm& form : lexicon_.marks_of(type->value)) {
    if (form.words == std::vector<std::string>{place}) mark = form.mark;
  }
  return mark.empty() ? nullptr : type;
}

void BlockAssembler::add_told_shares() {
  if (block_.kind == BlockKind::kHeading || block_.kind == BlockKind::kTableRow) return;
  const auto count = static_cast<std::uint32_t>(mentions_.tokens.size());
  for (const std::uint32_t t : numbers_) {
    const int number = t + 1 < count ? number_told(t) : 0;
    if (number < 2) continue;
    const std::uint32_t sentence = clauses_.sentence_of[t];
    int out_of = 0;
    std::uint32_t last = t + 1;
    bool is_survivors = false;
    std::string mark;
    std::vector<std::string> machines;
    const std::uint32_t of = office(last) == "out" ? last + 1 : last;
    if (office(of) == "of" && (office(of + 1) == "the" || is_in("possessive_word", of + 1))) {
      out_of = number_told(of + 2);
      last = of + 3;
    } else if (is_in("survivor_noun", last)) {
      is_survivors = true;
      ++last;
    } else if (const Mention* type =
                   is_in("determiner", t == 0 ? t : t - 1) ? nullptr : type_renumbered(last, mark);
               type != nullptr) {
      last = type->last;
      machines = kin_of(ledger_, type->value, mark);
      out_of = static_cast<int>(machines.size());
      if (out_of < 2) continue;
    } else {
      // "Of the twelve Martlets, nine were still on charge": the sentence opens so.
      const std::uint32_t first = begin_of_sentence(t);
      if (office(first) != "of" || office(first + 1) != "the" || t < first + 4) continue;
      out_of = number_told(first + 2);
    }
    if (!is_survivors && machines.empty() && out_of <= number) continue;
    const bool is_counted = std::any_of(
        out_.begin() + static_cast<std::ptrdiff_t>(first_claim_), out_.end(), [&](const Claim& c) {
          return c.kind == ClaimKind::kCount && c.begin <= mentions_.tokens[t].begin &&
                 c.end > mentions_.tokens[t].begin && c.count->out_of > 0;
        });
    const std::string_view fate = fate_told(last);
    if (is_counted || fate.empty() || (is_survivors && fate != kRenumbered)) continue;
    const bool is_before = fate == kLost && stands_before_renumbering(last, sentence);
    if (fate == kLost && !is_before) continue;
    const bool is_of_type = !machines.empty();
    if (!is_of_type) machines = machines_numbered(t, out_of);
    if (machines.empty() || (!is_of_type && machines.size() < static_cast<std::size_t>(number)))
      continue;
    // What is told already of the number alone gives way.
    const std::uint32_t begin = mentions_.tokens[t].begin;
    const auto told = std::find_if(
        out_.begin() + static_cast<std::ptrdiff_t>(first_claim_), out_.end(), [&](const Claim& c) {
          return c.kind == ClaimKind::kCount && c.begin <= begin && c.end > begin;
        });
    Claim& claim = told != out_.end() ? *told : add(words_of(t, last), ClaimKind::kCount);
    if (told == out_.end()) claim.value = std::string(text_of(words_of(t, last)));
    Count& own = claim.count.own();
    own.number = number;
    own.out_of = out_of > 0 ? out_of : static_cast<int>(machines.size());
    own.is_exact = true;
    own.is_place = own.is_last = false;
    own.fate = fate;
    own.is_before_renumbering = is_before;
    own.machines = std::move(machines);
    claim.negated = false;
  }
}

// "... before the renumbering".
bool BlockReading::stands_before_renumbering(std::uint32_t first, std::uint32_t sentence) const {
  constexpr std::uint32_t kLongest = 60;
  for (std::uint32_t t = first; t + 1 < mentions_.tokens.size() && t - first < kLongest; ++t) {
    if (clauses_.sentence_of[t] != sentence) return false;
    const std::uint32_t noun = office(t + 1) == "the" ? t + 2 : t + 1;
    if (is_in("share_before", t) && is_in("share_renumbered", noun)) return true;
  }
  return false;
}

}  // namespace tailproof
