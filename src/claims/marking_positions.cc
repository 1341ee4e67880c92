// Where on a machine a marking is: the parts named beside it, or that the caption shows.
#include <algorithm>

#include "claims/assembler.h"

namespace tailproof {
namespace {

bool surface_of_wing(std::string_view position) {
  return position == "upper wing" || position == "under wing";
}

}  // namespace

// "On the hull and the wing", "on hull, wing and fin", but not "on the hull; the wings keep the old
// one", "on the hull, the wings having none": whether a position goes on a list.
bool BlockAssembler::goes_on_to(std::uint32_t from, const Mention& position) const {
  bool has_and = false, is_bare_comma = false;
  for (std::uint32_t t = from; t < position.first; ++t) {
    const Spelling w = office(t);
    if (w == ";" || w == ":" || w == "." || w == "\xE2\x80\x94" || w == "but") return false;
    if (is_in("absent_place", t)) return false;  // "on the wing, not on the fuselage"
    has_and = has_and || w == "and" || w == "or" || is_in("object_preposition", t);
    is_bare_comma = is_bare_comma || w == ",";
  }
  const bool is_anothers = any_mention(MentionKind::kMarking, [&](const Mention& other) {
    return other.first >= from && other.last <= position.first;
  });
  if (is_anothers) return false;
  // "The stripes on the rudder and the M on the fin": the place of another thing.
  const bool has_noun = position.first >= from + 2 &&
                        is_in("surface_preposition", position.first) &&
                        is_in("determiner", position.first - 2) &&
                        mentions_.tokens[position.first - 1].kind != TokenKind::kMark;
  if (has_noun) return false;
  if (has_and || !is_bare_comma || position.last >= mentions_.tokens.size()) return true;
  const Spelling next = office(position.last);
  return mentions_.tokens[position.last].kind == TokenKind::kMark || next == "and" || next == "or";
}

// "On the upper wing it has the plain roundel": a part before the verb, and only small words and
// names around that.
bool BlockAssembler::is_fronted(const Mention& position, const Mention& marking) const {
  constexpr std::uint32_t kReach = 6;
  // "On the fuselage" may be the words for the part, or "upper wing" of "on the upper wing".
  std::uint32_t lead = position.first;
  if (!is_in("surface_preposition", lead)) {
    if (lead > 0 && is_in("determiner", lead - 1)) --lead;
    if (lead == 0 || !is_in("surface_preposition", lead - 1)) return false;
  }
  // "The disc upon the upper wing, of which a corner is seen, has its red boss": past the aside.
  std::uint32_t from = position.last;
  if (from + 2 < marking.first && word(from) == "," &&
      (is_in("relative_word", from + 1) || is_in("relative_word", from + 2))) {
    constexpr std::uint32_t kMostWords = 12;
    const std::uint32_t end = end_of_aside(from + 1, kMostWords);
    if (end < marking.first) from = end;
  }
  if (marking.first - from > kReach ||
      (from == position.last &&
       clauses_.segment_of[position.first] != clauses_.segment_of[marking.first]))
    return false;
  bool has_verb = words_of_seeing(from, marking.first) > 0;  // "can be seen the star"
  for (std::uint32_t t = from; t < marking.first; ++t) {
    if (is_in("object_preposition", t) || is_in("event_conjunction", t)) return false;
    has_verb = has_verb || is_in("wearing_verb", t);
  }
  return has_verb;
}

// "Plain roundels above, gold ones below", "on the upper wing plain roundels, gold ones beneath
// it": words that are a surface of the wing only where the other surface is told of as well.
NameList BlockAssembler::bare_surfaces(const Mention& marking) const {
  const WordList* words = lexicon_.grammars().list("bare_surface");
  const auto count = static_cast<std::uint32_t>(mentions_.tokens.size());
  const auto surface_at = [&](std::uint32_t t) -> std::string_view {
    return words == nullptr || t >= count ? std::string_view{} : value_in(words, t);
  };
  const std::string_view own = surface_at(marking.last);
  if (own.empty()) return {};
  // "A shield above, and stripes on the rudder below it": of what no order puts on a wing.
  const auto orders = ledger_.orders_of(marking.value);
  const bool is_on_wings = std::any_of(orders.begin(), orders.end(), [](const Order* order) {
    return std::any_of(order->positions.begin(), order->positions.end(), surface_of_wing);
  });
  if (!is_on_wings) return {};
  const std::uint32_t next = marking.last + 1;
  // "Above and below".
  if (office(next) == "and") {
    const std::string_view second = surface_at(next + 1);
    if (!second.empty() && second != own) return {std::string(own), std::string(second)};
  }
  const bool ends = next >= count || mentions_.tokens[next].kind == TokenKind::kMark ||
                    is_in("event_conjunction", next) || is_in("surface_pronoun", next);
  if (!ends) return {};
  const std::uint32_t sentence = clauses_.sentence_of[marking.first];
  const bool has_other =
      std::any_of(mentions_.items.begin(), mentions_.items.end(), [&](const Mention& other) {
        if (clauses_.sentence_of[other.first] != sentence || &other == &marking) return false;
        if (other.kind == MentionKind::kCue && other.role == "cue_position")
          return other.value != own && (surface_of_wing(other.value) || other.value == "fuselage");
        if (other.kind != MentionKind::kMarking) return false;
        // "Black centre and bars on the side; plain roundels below": two of a family are on two.
        const Marking* here = ledger_.marking(marking.value);
        const Marking* there = ledger_.marking(other.value);
        if (here != nullptr && there != nullptr && other.value != marking.value &&
            !here->family.empty() && here->family == there->family)
          return true;
        const std::string_view surface = surface_at(other.last);
        return !surface.empty() && surface != own;
      });
  return has_other ? std::vector<std::string>{std::string(own)} : std::vector<std::string>{};
}

// "The panel is on the fin, and the rudder is still in its bands", "the undersides are black from
// nose to tail": the part with which the words for a marking begin and of which they say the rest.
// Cues for parts give way to the names of markings, so it is the words that tell; else "".
std::string_view BlockReading::part_told(const Mention& mention) const {
  const WordList* parts = lexicon_.grammars().list("cue_position");
  constexpr std::uint32_t kLongest = 2;  // "upper wing"
  if (parts == nullptr) return {};
  std::string words;
  for (std::uint32_t t = mention.first; t + 1 < mention.last && t < mention.first + kLongest; ++t) {
    words += (words.empty() ? "" : " ") + std::string(folded(t));
    const std::string_view part = parts->value_of(words);
    const std::uint32_t next = t + 1;
    const bool is_told = is_in("being_word", next) || is_in("wearing_verb", next) ||
                         office(next) == "in" || word(next) == ",";
    if (!part.empty() && is_told) return part;
  }
  return {};
}

// Positions named beside a mention: the list of them behind it in its segment, else one just before
// it.
NameList BlockAssembler::positions_of(const Mention& mention) const {
  constexpr std::uint32_t kReach = 5;
  std::vector<std::string> positions;
  std::uint32_t end = mention.last;
  if (const std::string_view own = part_told(mention); !own.empty()) {
    const auto parts = parts_of_position(own);
    return {parts.begin(), parts.end()};
  }
  for (const std::uint32_t c : index_.of("cue_position")) {
    const Mention& cue = mentions_.items[c];
    if (cue.first < mention.last) continue;
    if (clauses_.sentence_of[cue.first] != clauses_.sentence_of[mention.first]) break;
    const std::uint32_t gap = cue.first - end;
    if (positions.empty()) {
      const std::uint32_t reach = kReach + words_of_seeing(mention.last, cue.first);
      if (gap > reach || clauses_.segment_of[cue.first] != clauses_.segment_of[mention.first])
        break;
      // Another marking or machine in between takes the position for itself.
      const bool taken =
          std::any_of(mentions_.items.begin(), mentions_.items.end(), [&](const Mention& other) {
            return (other.kind == MentionKind::kMarking || other.kind == MentionKind::kAirframe) &&
                   other.first >= mention.last && other.last <= cue.first;
          });
      if (taken) break;
    } else if ((gap > 3 || !goes_on_to(end, cue)) && !is_joined_past_aside(end, cue.first)) {
      break;
    }
    // "Below the wings and, on the nose, a name": the place of what comes next.
    const bool is_of_next = !positions.empty() && cue.first >= 2 && word(cue.first - 1) == "," &&
                            office(cue.first - 2) == "and" && cue.last < mentions_.tokens.size() &&
                            word(cue.last) == ",";
    if (is_of_next) break;
    for (const std::string_view position : parts_of_position(cue.value)) {
      if (std::find(positions.begin(), positions.end(), position) == positions.end())
        positions.emplace_back(position);
    }
    end = cue.last;
    // "Gold-centred fuselage roundel and plain underwing roundel": each its own.
    const Marking* own = ledger_.marking(mention.value);
    if (own != nullptr && cue.last < mentions_.tokens.size() && cue.first == mention.last &&
        folded(cue.last) == fold(own->family))
      break;
  }
  if (!positions.empty()) return positions;
  if (auto bare = bare_surfaces(mention); !bare.empty()) return bare;
  for (const std::uint32_t c : index_.of("cue_position")) {
    const Mention& cue = mentions_.items[c];
    if (cue.last > mention.first) continue;
    const bool close = mention.first - cue.last <= 2 &&
                       clauses_.segment_of[cue.first] == clauses_.segment_of[mention.first];
    // "under the wings, the gold-centred roundel", "On the fuselage the plain roundel".
    // "On the upper wing, tip to tip, the star": past the aside.
    constexpr std::uint32_t kShortAside = 5;
    const std::uint32_t past =
        word(cue.last) == "," ? end_of_aside(cue.last + 1, kShortAside) : kNone;
    const bool is_past_aside =
        past != kNone && past <= mention.first && mention.first - past <= 2 &&
        clauses_.sentence_of[cue.first] == clauses_.sentence_of[mention.first] &&
        !names_between(cue.last, mention.first);
    const bool opens = (is_past_aside || mention.first - cue.last <= 3) &&
                       clauses_.sentence_of[cue.first] == clauses_.sentence_of[mention.first] &&
                       (folded(cue.last) == "," || folded(cue.last) == "(" ||
                        folded(cue.last) == ":" || office(cue.last) == "the") &&
                       // "Its shield is upon the fin, and the stripes are sharp".
                       office(cue.last + 1) != "and" && !stands_behind_marking(cue);
    // "The wings may still have had the black centre".
    bool is_subject = cue.first > 0 && mention.first - cue.last <= kReach + 1 &&
                      is_in("determiner", cue.first - 1) && opens_past_phrase(cue.first - 1) &&
                      clauses_.segment_of[cue.first] == clauses_.segment_of[mention.first];
    for (std::uint32_t t = cue.last; is_subject && t < mention.first; ++t) {
      if (is_in("wearing_verb", t)) break;
      is_subject = t + 1 < mention.first;
    }
    if (close || opens || is_subject || is_fronted(cue, mention)) {
      const auto parts = parts_of_position(cue.value);
      positions.assign(parts.begin(), parts.end());
    }
  }
  return positions;
}

// "Roundels on the wing, stripes beyond": the place of what stands before it in its segment.
bool BlockAssembler::stands_behind_marking(const Mention& position) const {
  constexpr std::uint32_t kReach = 3;
  return std::any_of(mentions_.items.begin(), mentions_.items.end(), [&](const Mention& other) {
    return other.kind == MentionKind::kMarking && other.last <= position.first &&
           position.first - other.last <= kReach &&
           clauses_.segment_of[other.first] == clauses_.segment_of[position.first];
  });
}

// "The port upper wing of KB201, Gale Head": a caption that opens with a part of a machine shows
// that part; nothing else opens it but articles and words that tell one such part from another.
const Mention* BlockAssembler::part_shown() const {
  if (!is_caption()) return nullptr;
  for (const std::uint32_t c : index_.of("cue_position")) {
    const Mention& part = mentions_.items[c];
    if (part.last >= mentions_.tokens.size() || office(part.last) != "of") continue;
    const std::uint32_t sentence = clauses_.sentence_of[part.first];
    std::uint32_t t = part.first;
    while (t > 0 && clauses_.sentence_of[t - 1] == sentence &&
           (office(t - 1) == "the" || is_in("part_side", t - 1))) {
      --t;
    }
    const bool opens = begin_of_sentence(t) == t;
    const bool is_first = std::none_of(groups_.begin(), groups_.end(), [&](const Group& group) {
      return clauses_.sentence_of[group.first] < sentence;
    });
    if (opens && is_first) return &part;
    return nullptr;
  }
  return nullptr;
}

// Where a marking without any position is seen: on the part that the caption shows.
std::string BlockAssembler::surface_shown(const Mention& marking) const {
  const Mention* part = part_shown();
  return part != nullptr && part->last <= marking.first ? part->value : std::string{};
}

// "On the fuselage and, because of the low sun, above both wings": a list that goes on past what
// commas set apart.
bool BlockAssembler::is_joined_past_aside(std::uint32_t end, std::uint32_t next) const {
  constexpr std::uint32_t kReach = 3;
  if (end + 2 >= next || office(end) != "and" || word(end + 1) != ",") return false;
  const std::uint32_t past = end_of_aside(end + 2, next - end);
  return past <= next && next - past <= kReach;
}

// A marking that orders know in one place only, and that not the fuselage, is meant there.
std::string BlockAssembler::usual_position(std::string_view marking) const {
  std::string only;
  for (const Order* order : ledger_.orders_of(marking)) {
    if (order->positions.empty()) return {};
    for (const std::string& position : order->positions) {
      if (!only.empty() && only != position) return {};
      only = position;
    }
  }
  return only == "fuselage" ? std::string{} : only;
}

}  // namespace tailproof
