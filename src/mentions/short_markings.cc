// A marking by its colour or pattern alone, where no other marking of the ledger has it: "saffron
// on the fuselage", "gold, bars, side numbers", "no saffron".
#include <algorithm>

#include "mentions/finder.h"

namespace tailproof {

// "The rudder of X12 is banded": the tokens of what stands between "of" and a form of "be" and is
// written as a serial is.
std::vector<bool> BlockFinder::owners_passed() const {
  constexpr std::uint32_t kReach = 4;
  const auto count = static_cast<std::uint32_t>(result_.tokens.size());
  std::vector<bool> passed;
  if ((hints_here_ & kHasDigit) == 0) return passed;
  for (std::uint32_t t = 0; t + 2 < count; ++t) {
    if (office(t) != "of") continue;
    std::uint32_t end = t + 1;
    bool has_number = false;
    for (; end < count && end - t <= kReach; ++end) {
      const Token& token = result_.tokens[end];
      const bool is_number = token.kind == TokenKind::kNumber || token.kind == TokenKind::kMixed;
      const Spelling w = folded(end);
      has_number = has_number || is_number;
      if (!is_number && !token.all_capitals && w != "-" && w != "/") break;
    }
    if (!has_number || end >= count || !is_in("being_word", end)) continue;
    passed.resize(count);
    std::fill(passed.begin() + t + 1, passed.begin() + end, true);
  }
  return passed;
}

// A name of the ledger in the same words says it better; but "two amber bands" are no amber band,
// where another marking is of two.
void BlockFinder::find_described_markings() {
  const std::vector<bool> passed = owners_passed();
  for (MarkingWords::Match match :
       lexicon_.marking_words().find(result_.tokens, memory_.markings, passed)) {
    // What is said of the machine stands behind it.
    for (std::uint32_t t = match.last; !passed.empty() && t-- > match.first;) {
      if (!passed[t]) continue;
      match.first = t + 1;
      break;
    }
    const std::uint32_t begin = result_.tokens[match.first].begin;
    const std::uint32_t end = result_.tokens[match.last - 1].end;
    const bool counts = is_in("number", match.first);
    const bool is_named =
        std::any_of(result_.items.begin(), result_.items.end(), [&](const Mention& other) {
          if (counts && other.begin > begin && other.end <= end && other.plural) return false;
          // "The flash at half size", where another is "the flash" alone.
          if (match.stems > 2 && begin <= other.begin && other.end <= end &&
              other.first + 1 == other.last)
            return false;
          return other.kind == MentionKind::kMarking && other.role != "noun" && other.begin < end &&
                 begin < other.end &&
                 (other.value != *match.marking || (other.begin <= begin && end <= other.end));
        });
    if (is_named) continue;
    Mention& mention = add(MentionKind::kMarking, begin, end);
    mention.value = Spelling(*match.marking);
    mention.why = "words of the marking's names";
  }
}

// "The disc had lost its white": where no name of the ledger stands in those words.
void BlockFinder::find_markings_by_look() {
  for (const MarkingLooks::Match& match :
       lexicon_.marking_looks().find(result_.tokens, memory_.looks)) {
    const std::uint32_t begin = result_.tokens[match.first].begin;
    const std::uint32_t end = result_.tokens[match.last - 1].end;
    const bool is_named =
        std::any_of(result_.items.begin(), result_.items.end(), [&](const Mention& other) {
          return other.kind == MentionKind::kMarking && other.role != "noun" && other.begin < end &&
                 begin < other.end;
        });
    if (is_named) continue;
    Mention& mention = add_tokens(MentionKind::kMarking, begin, end, match.first, match.last);
    mention.value = Spelling(match.markings.front()->marking);
    for (const Marking* marking : match.markings) {
      if (match.markings.size() > 1) mention.readings.push_back(marking->marking);
    }
    mention.role = "look";
    mention.why = "the look of the marking";
  }
}

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
