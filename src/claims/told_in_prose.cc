// What running text tells beside the main thing: the day of what it has just told, a machine's last
// flight, a photograph that it speaks of.
#include "claims/block_reading.h"
#include "claims/identities.h"

namespace tailproof {

// The pronoun of "it was on 12 November", "that was the twelfth of November"; kNone for other
// words.
std::uint32_t BlockReading::opening_of_day_told(const Mention& date) const {
  std::uint32_t t = date.first;
  if (t > 0 && is_in("day_preposition", t - 1)) --t;
  if (t < 2 || !is_in("was_word", t - 1) || !is_in("day_pronoun", t - 2)) return kNone;
  return t - 2;
}

// "It was on 12 November." and no more: "it was on 12 November that X14 was lost" tells of what
// stands behind, and "it was in May at the Point" of the machine.
bool BlockReading::is_day_told(const Mention& date) const {
  const bool ends =
      date.last >= mentions_.tokens.size() || mentions_.tokens[date.last].kind == TokenKind::kMark;
  return ends && opening_of_day_told(date) != kNone;
}

// "Goes on as if nothing had been said": of no earlier time.
bool BlockReading::is_unreal_past(std::uint32_t had) const {
  constexpr std::uint32_t kReach = 4;
  for (std::uint32_t t = had; t > 1 && had - t < kReach; --t) {
    if (mentions_.tokens[t - 1].kind == TokenKind::kMark) return false;
    if (is_in("unreal_opener", t - 1)) return office(t - 2) == "as";
  }
  return false;
}

// "Her bars are as bright as in May": as bright now as they were then.
bool BlockReading::is_only_likened(const Mention& date) const {
  constexpr std::uint32_t kReach = 3;  // "as fresh and bright as"
  if (date.first < 4 || !is_in("day_preposition", date.first - 1) || office(date.first - 2) != "as")
    return false;
  for (std::uint32_t t = date.first - 3; t > 0 && date.first - 3 - t < kReach; --t) {
    if (mentions_.tokens[t].kind == TokenKind::kMark) return false;
    if (office(t - 1) == "as") return true;
  }
  return false;
}

// "Made its last flight", "gave her final passenger hop": though "made its way" and "found its last
// resting place" tell of no flight.
bool BlockReading::is_last_outing(std::uint32_t verb) const {
  constexpr std::uint32_t kReach = 3;
  const std::uint32_t order = verb + 2;
  if (!is_in("possessive_word", verb + 1) || !is_in("outing_order", order)) return false;
  for (std::uint32_t t = order + 1; t <= order + kReach && t < mentions_.tokens.size(); ++t) {
    if (mentions_.tokens[t].kind == TokenKind::kMark || is_in("function_word", t)) return false;
    if (is_in("outing_noun", t)) return true;
  }
  return false;
}

// "Went into store", "retired to the Yard as an instructional airframe": the first day of a state.
bool BlockReading::tells_beginning(const Mention& event) const {
  constexpr std::uint32_t kReach = 10;
  const bool is_state = event.value == "stored" || event.value == "instructional";
  if (!is_state || !has_word_of("state_entering")) return false;
  const std::uint32_t segment = clauses_.segment_of[event.first];
  for (std::uint32_t t = event.last; t-- > 0 && event.last - t <= kReach;) {
    if (clauses_.segment_of[t] != segment || is_in("state_left", t)) return false;
    if (is_in("state_entering", t)) return true;
  }
  return false;
}

// "A photograph of X12 was taken in May", "the print, taken in May, shows X12", "a photograph,
// taken in May, of X12 over the bay": the whole machine, and no part of it or man of its crew.
const Mention* BlockReading::machine_pictured_on(const Mention& date) const {
  if (!has_word_of("picture_made") || !has_word_of("picture_word")) return nullptr;
  const std::uint32_t sentence = clauses_.sentence_of[date.first];
  std::uint32_t made = date.first;
  if (made > 0 && is_in("day_preposition", made - 1)) --made;
  if (made == 0 || !is_in("picture_made", made - 1)) return nullptr;
  // The picture before the words, and nothing else that anybody could have taken.
  constexpr std::uint32_t kReach = 9;  // "photograph of the Wimbrel X12 over the bay was"
  std::uint32_t noun = made - 1;
  while (noun > 0 && !is_in("picture_word", noun)) {
    if (made - noun > kReach || clauses_.sentence_of[noun - 1] != sentence) return nullptr;
    --noun;
  }
  if (!is_in("picture_word", noun)) return nullptr;
  const Mention* found = nullptr;
  for (const Mention& name : mentions_of(MentionKind::kAirframe)) {
    if (clauses_.sentence_of[name.first] != sentence) continue;
    if (found != nullptr || !is_serial(name) || !name.readings.empty()) return nullptr;
    found = &name;
  }
  if (found == nullptr || found->first < noun || is_possessive(*found)) return nullptr;
  std::uint32_t lead = found->first;
  if (const Mention* type = mention_ending_at(lead);
      type != nullptr && type->kind == MentionKind::kType)
    lead = type->first;
  while (lead > 0 && is_in("determiner", lead - 1)) --lead;
  if (lead < noun + 2 || !is_in("picture_showing", lead - 1)) return nullptr;
  // "A photograph of the crew of X12".
  const std::uint32_t before = lead - 2;
  const bool is_its = before == noun || before + 1 == date.last || word(before) == ",";
  return is_its ? found : nullptr;
}

}  // namespace tailproof
