// Claims of measures: of which marking a size is, and of which of its parts.
#include <algorithm>

#include "claims/assembler.h"
#include "grammars/fold.h"

namespace tailproof {
namespace {

// Name of the ring or part in `rings` that a word names: "blue 6;white 4" has blue and white.
bool is_part(std::string_view rings, std::string_view word_folded) {
  std::size_t at = 0;
  while (at < rings.size()) {
    const std::size_t end = std::min(rings.find(';', at), rings.size());
    const std::string part = fold(rings.substr(at, end - at));
    if (part.starts_with(word_folded) && part.size() > word_folded.size() &&
        part[word_folded.size()] == ' ')
      return true;
    at = end + 1;
  }
  return false;
}

// "maroon" and "white" of "maroon 8;white 4"; nothing where a ring has no name of one word.
std::vector<std::string> named_rings(std::string_view rings) {
  std::vector<std::string> names;
  for (std::size_t at = 0; at < rings.size();) {
    const std::size_t end = std::min(rings.find(';', at), rings.size());
    const std::string part = fold(rings.substr(at, end - at));
    const std::size_t blank = part.find(' ');
    if (blank == std::string::npos || blank != part.rfind(' ')) return {};
    names.push_back(part.substr(0, blank));
    at = end + 1;
  }
  return names;
}

// The part whose name ends in this word: "bar length" for "length"; "" when there is none.
std::string part_ending_in(std::string_view rings, std::string_view noun) {
  std::size_t at = 0;
  while (at < rings.size()) {
    const std::size_t end = std::min(rings.find(';', at), rings.size());
    const std::string part = fold(rings.substr(at, end - at));
    const std::string name = part.substr(0, part.rfind(' '));
    if (name.ends_with(noun)) return name;
    at = end + 1;
  }
  return {};
}

}  // namespace

// "The maroon was 32 in across, the white 20 in and the centre, in ochre, 8 in": no marking named,
// but one whose rings they are, all of them; the one with more rings where two have these.
std::string BlockAssembler::marking_of_rings(const Mention& measure) const {
  const std::uint32_t sentence = clauses_.sentence_of[measure.first];
  // "The hub is red, white and amber; the airscrew has a diameter of 9 ft": one measure is no list.
  const auto measures =
      std::count_if(mentions_.items.begin(), mentions_.items.end(), [&](const Mention& other) {
        return other.kind == MentionKind::kMeasure && clauses_.sentence_of[other.first] == sentence;
      });
  if (measures < 2) return {};
  std::string found;
  std::size_t most = 1;
  for (const Marking& marking : ledger_.markings()) {
    const std::vector<std::string> names = named_rings(marking.rings);
    if (names.size() < most || names.size() < 2) continue;
    const bool has_all = std::all_of(names.begin(), names.end(), [&](const std::string& name) {
      for (std::uint32_t t = 0; t < mentions_.tokens.size(); ++t) {
        if (clauses_.sentence_of[t] == sentence && folded(t) == name) return true;
      }
      return false;
    });
    if (!has_all) continue;
    found = names.size() > most ? marking.marking : std::string{};
    most = names.size();
  }
  return found;
}

// "The centre, in ochre, had a diameter of 8 in": the one ring that its clause names, nothing else
// being there of which it could be the diameter.
std::string BlockAssembler::ring_of_diameter(const Marking& marking, const Mention& measure) const {
  std::string ring;
  for (std::uint32_t t = measure.first; t-- > 0;) {
    if (clauses_.sentence_of[t] != clauses_.sentence_of[measure.first] || word(t) == ";") break;
    const Mention* name = mention_at(t);
    if (name != nullptr && name->kind == MentionKind::kMeasure) break;
    if (name != nullptr && name->kind == MentionKind::kMarking) return {};
    const std::string_view w = folded(t);
    if (w == fold(marking.family) || office(t) == "it" || office(t) == "its" ||
        office(t) == "which")
      return {};
    if (!is_part(marking.rings, w)) continue;
    if (!ring.empty() && ring != w) return {};
    ring = w;
  }
  return ring;
}

// "30 in over the white, 20 in for the red": where the part is named that a preposition behind the
// measure gives it; kNone.
std::uint32_t BlockAssembler::part_named_behind(const Mention& measure) const {
  if (!is_in("size_of_part", measure.last)) return kNone;
  const std::uint32_t next = measure.last + 1;
  return next < mentions_.tokens.size() && office(next) == "the" ? next + 1 : next;
}

void BlockAssembler::add_measures() {
  const std::vector<std::uint32_t> told = add_sizes_in_rows();
  const Mention* marking = nullptr;
  for (const Mention& mention : mentions_.items) {
    if (mention.kind == MentionKind::kMarking) marking = &mention;
    if (mention.kind != MentionKind::kMeasure) continue;
    if (std::find(told.begin(), told.end(), mention.first) != told.end()) continue;
    const Measure& measure = mentions_.measures[mention.payload];
    // A marking named later in the same sentence counts as well.
    std::string subject;
    for (const Mention& other : mentions_.items) {
      if (other.kind == MentionKind::kMarking &&
          clauses_.sentence_of[other.first] == clauses_.sentence_of[mention.first] &&
          subject.empty()) {
        subject = other.value;
      }
    }
    const bool is_named = !subject.empty();
    if (!is_named) subject = marking_of_rings(mention);
    const bool is_by_rings = !is_named && !subject.empty();
    if (subject.empty() && marking != nullptr) subject = marking->value;
    if (subject.empty()) subject = focus_.marking;
    const Marking* row = ledger_.marking(subject);
    std::string part;
    if (row != nullptr && !row->rings.empty()) {
      // The ring named nearest to the measure, in its segment.
      std::uint32_t best = 7;
      const std::uint32_t segment = clauses_.segment_of[mention.first];
      const std::uint32_t named_behind = part_named_behind(mention);
      for (std::uint32_t t = 0; t < mentions_.tokens.size(); ++t) {
        if (clauses_.sentence_of[t] != clauses_.sentence_of[mention.first]) continue;
        if (t >= mention.first && t < mention.last) continue;
        const std::uint32_t gap = t < mention.first ? mention.first - t : t - mention.last + 1;
        // "the white circle was 24 in and the red one": what stands before the measure has the
        // first claim to it.
        // But "a 24 in white circle" is one thing, and so is "24 in over the white".
        const bool is_one_thing = (t == mention.last && mention.first > 0 &&
                                   is_in("indefinite_article", mention.first - 1)) ||
                                  t == named_behind;
        const std::uint32_t distance = t < mention.first ? gap : is_one_thing ? 0 : gap + 3;
        if (distance >= best || (clauses_.segment_of[t] != segment && gap > 2)) continue;
        std::string w = folded_word(block_.text, mentions_.tokens[t]);
        if (t + 1 < mentions_.tokens.size()) {
          const std::string both = w + " " + folded_word(block_.text, mentions_.tokens[t + 1]);
          if (is_part(row->rings, both)) w = both;
        }
        if (is_part(row->rings, w)) {
          part = w;
          best = distance;
        } else if (w == fold(row->family) || office(t) == "across") {
          part = "whole";
          best = distance;
        }
      }
    }
    if (part == "whole") {
      std::string ring = ring_of_diameter(*row, mention);
      // A marking that only its rings tell: "the airscrew had a diameter of 9 ft" is of another.
      if (!ring.empty() || is_by_rings) part = std::move(ring);
    }
    // "each bar 40 cm long by 15 cm deep": the adjective behind the measure names the part.
    if (row != nullptr && mention.last < mentions_.tokens.size()) {
      const WordList* adjectives = lexicon_.grammars().list("part_adjective");
      const auto noun =
          adjectives == nullptr ? std::string_view{} : value_in(adjectives, mention.last);
      if (!noun.empty()) {
        const std::string named = part_ending_in(row->rings, noun);
        if (!named.empty()) part = named;
      }
    }
    if (measure.converted_unit.empty() && part.empty()) continue;
    Claim& claim = add(mention, ClaimKind::kMeasure);
    claim.measure = measure;
    claim.subject = subject;
    if (part.empty()) {
      const std::vector<std::string> machines = subjects_of(mention);
      claim.subject = machines.size() == 1 ? machines.front()
                      : is_caption()       ? figure_subject()
                                           : std::string{};
    }
    claim.part = part;
  }
}

}  // namespace tailproof
