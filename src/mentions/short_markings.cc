// A marking by its colour or pattern alone, where no other marking of the ledger has it: "saffron
// on the fuselage", "gold, bars, side numbers", "no saffron".
#include <algorithm>

#include "mentions/finder.h"

namespace tailproof {

// Whether the words behind a token are "on the fuselage", "round its rear fuselage".
bool BlockFinder::is_on_a_part(std::uint32_t token) const {
  constexpr std::uint32_t kReach = 4;
  if (token >= result_.tokens.size() || !is_in("surface_preposition", token)) return false;
  return std::any_of(result_.items.begin(), result_.items.end(), [&](const Mention& other) {
    return other.kind == MentionKind::kCue && other.role == "cue_position" &&
           other.first >= token && other.first - token < kReach;
  });
}

// Whether an item of a row of markings stands on either side of tokens [first, last): "gold, bars",
// "red nose; no saffron".
bool BlockFinder::is_among_markings(std::uint32_t first, std::uint32_t last) const {
  const auto count = static_cast<std::uint32_t>(result_.tokens.size());
  const auto joins = [&](std::uint32_t t) {
    const Spelling w = office(t);
    return w == "," || w == ";" || w == "and";
  };
  constexpr std::uint32_t kReach = 2;  // "with neither", "a small"
  return std::any_of(result_.items.begin(), result_.items.end(), [&](const Mention& other) {
    if (other.kind != MentionKind::kMarking || other.role == "short") return false;
    if (other.last < first) return joins(other.last) && first - other.last <= kReach;
    if (last >= count || other.first <= last || !joins(last)) return false;
    return other.first - last <= kReach + 1;
  });
}

bool BlockFinder::opens_item(std::uint32_t token) const {
  return token == 0 || result_.tokens[token].sentence_start || is_stop(token - 1);
}

bool BlockFinder::is_stop(std::uint32_t token) const {
  return token == result_.tokens.size() ||
         (result_.tokens[token].kind == TokenKind::kMark && word(token) != "-");
}

// "Suns on the sides", "checks, ladders", "the sun is missing".
bool BlockFinder::is_pattern_read(std::uint32_t t) const {
  const bool is_held = t > 0 && (is_in("determiner", t - 1) || is_in("short_marking_lead", t - 1));
  const bool is_item = opens_item(t) || is_held || (t > 0 && office(t - 1) == "and");
  const bool ends = is_stop(t + 1) || office(t + 1) == "and";
  return is_on_a_part(t + 1) ||
         (is_item && ends && is_among_markings(is_held ? t - 1 : t, t + 1)) ||
         (is_held && t + 1 < result_.tokens.size() && is_in("short_marking_verb", t + 1));
}

// A colour is one only as a noun of its own, with what is told of markings: "saffron on the
// fuselage", "Gold, bars", "the saffron has been taken off", and no "saffron sky" or "the blue has
// run".
bool BlockFinder::is_colour_read(std::uint32_t t) const {
  const bool is_denied = t > 0 && is_in("short_marking_denial", t - 1);
  const bool is_first = t == 0 || result_.tokens[t].sentence_start || word(t - 1) == ":";
  const bool is_held = t > 0 && is_in("determiner", t - 1);
  if ((opens_item(t) || is_held) && is_on_a_part(t + 1)) return true;
  if ((is_denied || is_first) && is_stop(t + 1) && is_among_markings(is_denied ? t - 1 : t, t + 1))
    return true;
  constexpr std::uint32_t kReach = 3;
  if (!is_held || t + 1 >= result_.tokens.size() || !is_in("short_marking_verb", t + 1))
    return false;
  for (std::uint32_t verb = t + 2; verb <= t + kReach && verb < result_.tokens.size(); ++verb) {
    if (is_in("taking_off_verb", verb)) return true;
  }
  return false;
}

void BlockFinder::find_short_markings() {
  const auto count = static_cast<std::uint32_t>(result_.tokens.size());
  for (std::uint32_t t = 0; t < count; ++t) {
    const Marking* marking =
        lexicon_.marking_words().only_with(*result_.tokens[t].word, memory_.markings);
    if (marking == nullptr || occupied_[t] != 0) continue;
    if (result_.tokens[t].capital && !opens_item(t)) continue;
    // "Two red rings on the spinner" are none of the roundel.
    if (t > 0 && (is_in("colour_word", t - 1) || is_in("number", t - 1))) continue;
    const bool is_read = is_in("colour_word", t) ? is_colour_read(t) : is_pattern_read(t);
    if (!is_read) continue;
    Mention& mention =
        add_tokens(MentionKind::kMarking, result_.tokens[t].begin, result_.tokens[t].end, t, t + 1);
    mention.value = Spelling(marking->marking);
    mention.role = "short";
    mention.why = "the one marking of that colour or pattern";
  }
}

}  // namespace tailproof
