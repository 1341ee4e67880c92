// Claims of measures: of which marking a size is, and of which of its parts.
#include <algorithm>
#include <cstdlib>

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

// "black" for "boss" where an alias is "black boss": the ring whose noun this is. "Disc" is the
// whole.
std::string ring_of_noun(const Marking& marking, std::string_view noun) {
  for (const std::string& alias : marking.aliases) {
    const std::string name = fold(alias);
    const std::size_t blank = name.find(' ');
    if (blank == std::string::npos || noun == fold(marking.family)) continue;
    if (std::string_view(name).substr(blank + 1) == noun &&
        is_part(marking.rings, name.substr(0, blank)))
      return name.substr(0, blank);
  }
  return {};
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
std::string SizeReading::marking_of_rings(const Mention& measure) const {
  const std::uint32_t sentence = clauses_.sentence_of[measure.first];
  // "The hub is red, white and amber; the airscrew has a diameter of 9 ft": one measure is no list.
  const auto measures =
      std::count_if(mentions_.items.begin(), mentions_.items.end(), [&](const Mention& other) {
        return other.kind == MentionKind::kMeasure && clauses_.sentence_of[other.first] == sentence;
      });
  const auto is_named = [&](const std::string& name) {
    for (std::uint32_t t = 0; t < mentions_.tokens.size(); ++t) {
      if (clauses_.sentence_of[t] == sentence && folded(t) == name) return true;
    }
    return false;
  };
  // That of which the block has told, where two of its rings are measured.
  const Mention* told = nullptr;
  for (const Mention& other : mentions_of(MentionKind::kMarking)) {
    if (other.last > measure.first) break;
    // "A disc of blue with white inside it and a red hub": the fuller form of one family.
    const Marking* before = told == nullptr ? nullptr : ledger_.marking(told->value);
    const Marking* own = ledger_.marking(other.value);
    const bool is_fuller = before != nullptr && own != nullptr && own->family == before->family &&
                           diameter_names(own->rings).size() > diameter_names(before->rings).size();
    if (other.readings.empty() || is_fuller) told = &other;
  }
  const Marking* last = told == nullptr ? nullptr : ledger_.marking(told->value);
  if (last != nullptr) {
    const std::vector<std::string> names = diameter_names(last->rings);
    if (std::count_if(names.begin(), names.end(), is_named) > 1) return last->marking;
  }
  if (measures < 2) return marking_of_passage(measure);
  std::string found;
  std::size_t most = 1;
  for (const Marking& marking : ledger_.markings()) {
    const std::vector<std::string> names = diameter_names(marking.rings);
    if (names.size() < most || names.size() < 2) continue;
    if (!std::all_of(names.begin(), names.end(), is_named)) continue;
    found = names.size() > most ? marking.marking : std::string{};
    most = names.size();
  }
  return found.empty() ? marking_of_passage(measure) : found;
}

// "The target was 80 cm over the yellow. The green was 60 cm across, the white 50": of a family
// that the block speaks of, the one marking that has every ring that is measured in it.
std::string SizeReading::marking_of_passage(const Mention& measure) const {
  const auto count = static_cast<std::uint32_t>(mentions_.tokens.size());
  std::vector<std::string> words;
  const auto take_beside = [&](std::uint32_t first, std::uint32_t last) {
    std::uint32_t behind = last;
    if (is_in("size_of_part", last)) behind = is_in("determiner", last + 1) ? last + 2 : last + 1;
    for (const std::uint32_t t : {first - 1, first - 2, behind}) {
      if (t < count) words.push_back(folded_word(block_.text, mentions_.tokens[t]));
    }
  };
  const std::uint32_t sentence = clauses_.sentence_of[measure.first];
  for (std::uint32_t t = 0; t < count; ++t) {
    // What is measured in the sentence itself, or right before it.
    if (clauses_.sentence_of[t] > sentence || clauses_.sentence_of[t] + 1 < sentence) continue;
    const Mention* there = mention_at(t);
    if (there != nullptr && there->kind == MentionKind::kMeasure) {
      if (there->first == t) take_beside(t, there->last);
    } else if (there == nullptr && number_told(t) > 0) {
      take_beside(t, t + 1);
    }
  }
  std::string found;
  std::size_t most = 1;
  for (const Marking& marking : ledger_.markings()) {
    const std::vector<std::string> names = diameter_names(marking.rings);
    const bool is_told = names.size() > 1 && names.size() >= most && !marking.family.empty() &&
                         std::all_of(names.begin(), names.end(), [&](const std::string& name) {
                           return std::find(words.begin(), words.end(), name) != words.end();
                         });
    if (!is_told || !speaks_of_family(fold(marking.family), count)) continue;
    found = names.size() > most ? marking.marking : std::string{};
    most = names.size();
  }
  return found;
}

// "The centre, in ochre, had a diameter of 8 in": the one ring that its clause names, nothing else
// being there of which it could be the diameter.
std::string SizeReading::ring_of_diameter(const Marking& marking, const Mention& measure) const {
  std::string ring;
  for (std::uint32_t t = measure.first; t-- > 0;) {
    if (clauses_.sentence_of[t] != clauses_.sentence_of[measure.first] || word(t) == ";") break;
    const Mention* name = mention_at(t);
    if (name != nullptr && name->kind == MentionKind::kMeasure) break;
    if (name != nullptr && name->kind == MentionKind::kMarking) {
      // "The shield of the company badge is 15 in across".
      const std::uint32_t before =
          name->first > 0 && is_in("determiner", name->first - 1) ? name->first - 1 : name->first;
      if (before == 0 || office(before - 1) != "of" || !ring.empty()) return {};
      t = before - 1;
      continue;
    }
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

// The ring that a word names, in the words of `rings`; "" when it names none.
std::string SizeReading::ring_named(const Marking& marking, std::uint32_t token) const {
  std::string w = folded_word(block_.text, mentions_.tokens[token]);
  if (token + 1 < mentions_.tokens.size()) {
    const std::string both = w + " " + folded_word(block_.text, mentions_.tokens[token + 1]);
    if (is_part(marking.rings, both)) return both;
  }
  // "A green and black disc": its name, and no ring.
  const Mention* name = mention_at(token);
  const bool is_in_name = name != nullptr && name->kind == MentionKind::kMarking &&
                          token + 1 < name->last && folded(name->last - 1) == fold(marking.family);
  if (is_in_name) return {};
  const std::string_view one = w.ends_with("s") ? std::string_view(w).substr(0, w.size() - 1) : w;
  for (const std::string_view form : {std::string_view(w), one}) {
    if (is_part(marking.rings, form)) return std::string(form);
    const std::string ring = ring_of_noun(marking, form);
    if (!ring.empty()) return ring;
  }
  // "Over a centre of 30 in": the innermost, where the ledger has no word for it.
  if (is_in("ring_centre", token)) {
    const std::vector<std::string> names = diameter_names(marking.rings);
    if (names.size() > 1) return names.back();
  }
  return {};
}

// "The bordered roundel: on a Lancet the white centre is 20 in": what is called by a part alone, as
// another marking of the family may be, is a part of the one told of before; "" when it is none.
std::string SizeReading::whole_spoken_of(const Mention& measure, const std::string& called) const {
  const Marking* own = ledger_.marking(called);
  if (own == nullptr) return {};
  std::string whole;
  for (const Mention& name : mentions_of(MentionKind::kMarking)) {
    const bool has_family = folded(name.last - 1) == fold(own->family);
    if (name.value == own->marking) {
      if (has_family || whole.empty()) return {};
      const Marking* told = ledger_.marking(whole);
      return ring_named(*told, name.first).empty() ? std::string{} : whole;
    }
    const Marking* other = name.first < measure.first ? ledger_.marking(name.value) : nullptr;
    if (other != nullptr && other->family == own->family && has_family && name.readings.empty())
      whole = other->marking;
  }
  return {};
}

// The part of the marking that a measure is of: the ring or the whole named nearest to it, in its
// segment; "yellow width" for how far a border reaches, "" when nothing tells.
std::string SizeReading::part_measured(const Marking& row, const Mention& mention) const {
  std::string part;
  std::uint32_t best = 7;
  const std::uint32_t segment = clauses_.segment_of[mention.first];
  const auto count = static_cast<std::uint32_t>(mentions_.tokens.size());
  // "30 in over the white, 20 in for the red".
  std::uint32_t named_behind = kNone;
  if (is_in("size_of_part", mention.last))
    named_behind = office(mention.last + 1) == "the" ? mention.last + 2 : mention.last + 1;
  const bool is_beside_ring = mention.first > 0 && (!ring_named(row, mention.first - 1).empty() ||
                                                    is_in("size_lead", mention.first - 1));
  const WordList* pieces = lexicon_.grammars().list("marking_piece");
  const auto is_border = [&](std::uint32_t token) {
    return pieces != nullptr && value_in(pieces, token).starts_with("rim");
  };
  const auto is_family = [&, family = fold(row.family)](std::uint32_t token) {
    const std::string_view w = folded(token);
    return w == family ||
           (w.size() == family.size() + 1 && w.starts_with(family) && w.ends_with("s"));
  };
  const auto has_measure = [&](std::uint32_t from, std::uint32_t to) {
    const auto& measures = mentions_of(MentionKind::kMeasure);
    return std::any_of(measures.begin(), measures.end(), [&](const Mention& other) {
      return from <= other.first && other.last <= to;
    });
  };
  // "The compass disc on Sickle X12 is 40 in": said of the whole, nothing else being spoken of.
  const auto is_said_of_whole = [&] {
    if (mention.first < 2 || !is_in("size_lead", mention.first - 1)) return false;
    const bool is_distance =
        is_in("size_apart", mention.last) ||
        (word(mention.last) != "" && mentions_.tokens[mention.last].kind == TokenKind::kWord &&
         !is_in("measure_way", mention.last) && !is_in("function_word", mention.last));
    if (is_distance) return false;
    for (std::uint32_t t = mention.first - 1; t-- > 0;) {
      if (clauses_.sentence_of[t] != clauses_.sentence_of[mention.first]) return false;
      const Mention* name = mention_at(t);
      if (name != nullptr && name->kind == MentionKind::kMarking) return name->value == row.marking;
      const bool is_circumstance =
          name != nullptr &&
          (name->kind == MentionKind::kAirframe || name->kind == MentionKind::kType ||
           name->kind == MentionKind::kPlace || name->kind == MentionKind::kUnit ||
           name->role == "cue_position");
      if (!is_circumstance && !is_in("function_word", t)) return false;
    }
    return false;
  };
  // "The disc is 20 in from the door".
  if (is_in("size_apart", mention.last) &&
      clauses_.sentence_of[mention.last] == clauses_.sentence_of[mention.first])
    return {};
  for (std::uint32_t t = 0; t < count; ++t) {
    if (clauses_.sentence_of[t] != clauses_.sentence_of[mention.first]) continue;
    if (t >= mention.first && t < mention.last) continue;
    // "The white of the plain disc is 18 in": what it is part of lies between.
    std::uint32_t end = t + 1;
    if (office(end) == "of") {
      const std::uint32_t next = is_in("determiner", end + 1) ? end + 2 : end + 1;
      const Mention* whole = mention_at(next);
      if (whole != nullptr && whole->kind == MentionKind::kMarking && whole->last <= mention.first)
        end = whole->last;
    }
    const std::uint32_t gap = t < mention.first ? mention.first - end + 1 : t - mention.last + 1;
    const bool is_parted =
        t < mention.first ? has_measure(end, mention.first) : has_measure(mention.last, t);
    if (is_parted) continue;
    // "the white circle was 24 in and the red one": what stands before the measure has the
    // first claim to it.
    // But "a 24 in white circle" is one thing, and so is "24 in over the white".
    const bool is_one_thing = (t == mention.last && !is_beside_ring && office(t) != "across") ||
                              (t == named_behind && named_behind != kNone);
    const std::uint32_t distance = t < mention.first ? gap : is_one_thing ? 0 : gap + 3;
    const bool is_near = gap <= 2 || (gap == 3 && (end > t + 1 || word(mention.first - 1) == ":"));
    if (distance >= best || (clauses_.segment_of[t] != segment && !is_near)) continue;
    std::string ring = ring_named(row, t);
    const Mention* name = mention_at(t);
    const bool is_whole_named = is_one_thing && name != nullptr && name->value == row.marking &&
                                ring_named(row, name->last - 1).empty();
    if (!ring.empty()) {
      // "A yellow edge 3 in wide", "a 3 in yellow edge", and not "36 in over the yellow edge".
      const std::uint32_t noun = is_border(t) ? t : t + 1;
      const bool is_width = is_border(noun) && t != named_behind &&
                            office(mention.last) != "across" &&
                            office(mention.last + 1) != "across";
      part = is_width ? ring + " width" : ring;
      best = distance;
    } else if (is_whole_named || is_family(t) || office(t) == "across" || is_in("size_whole", t)) {
      part = "whole";
      best = distance;
    }
  }
  if (part.empty() && is_said_of_whole()) part = "whole";
  return part;
}

// "Green 25, white 15 and black 5 in": the numbers before the last have its unit.
void BlockAssembler::add_sizes_before(const Marking& row, const Mention& last) {
  const Measure& measure = mentions_.measures[last.payload];
  if (!measure.converted_unit.empty()) return;
  for (std::uint32_t t = last.first; t > 3 && !ring_named(row, t - 1).empty();) {
    std::uint32_t end = t - 1;
    while (end > 0 && (word(end - 1) == "," || office(end - 1) == "and")) --end;
    if (end == t - 1 || end < 2 || mentions_.tokens[end - 1].kind != TokenKind::kNumber ||
        mention_at(end - 1) != nullptr)
      return;
    t = end - 1;
    const std::string part = ring_named(row, t - 1);
    if (part.empty()) return;
    add_size(bare_size(mentions_.tokens[t], t, measure.unit), row.marking, {}, part);
  }
}

// Where the number that begins here ends, "thirty-six" as well; its value, 0 where there is none.
std::uint32_t SizeReading::number_end(std::uint32_t first, int& number) const {
  number = number_told(first);
  if (number > 0) return first + 1;
  const WordList* numbers = lexicon_.grammars().list("number");
  const auto value = [&](std::uint32_t at) {
    return std::atoi(std::string(value_in(numbers, at)).c_str());
  };
  const int tens = mention_at(first) == nullptr ? value(first) : 0;
  if (tens < 20 || tens % 10 != 0 || word(first + 1) != "-") return first;
  const int units = value(first + 2);
  if (units <= 0 || units > 9) return first;
  number = tens + units;
  return first + 3;
}

// "30 in across the yellow, 24 across the blue", "the white was 42 in, the blue 36", "a star of 24
// in on a disc of 40": numbers behind the measure have its unit where a ring stands beside them.
void BlockAssembler::add_sizes_behind(const Marking& row, const Mention& first) {
  const Measure& measure = mentions_.measures[first.payload];
  const std::uint32_t sentence = clauses_.sentence_of[first.first];
  const auto count = static_cast<std::uint32_t>(mentions_.tokens.size());
  for (std::uint32_t t = first.last; t < count && clauses_.sentence_of[t] == sentence; ++t) {
    const Mention* there = mention_at(t);
    if (there != nullptr && there->kind == MentionKind::kMeasure) return;
    int told = 0;
    const std::uint32_t end = number_end(t, told);
    if (told <= 0) continue;
    const bool is_counted = end < count && clauses_.sentence_of[end] == sentence &&
                            mentions_.tokens[end].kind == TokenKind::kWord &&
                            !is_in("function_word", end) && !is_in("size_of_part", end);
    if (is_counted) continue;
    std::string part;
    if (is_in("size_of_part", end)) {
      const std::uint32_t noun = is_in("determiner", end + 1) ? end + 2 : end + 1;
      if (noun < count) part = ring_named(row, noun);
    }
    const std::uint32_t lead = is_in("size_lead", t - 1) || office(t - 1) == "of" ? t - 2 : t - 1;
    if (part.empty() && lead >= first.last) {
      part = ring_named(row, lead);
      const bool is_whole = folded(lead) == fold(row.family) || is_in("size_disc", lead);
      if (part.empty() && is_whole && lead + 1 < t) part = "whole";
    }
    if (part.empty()) continue;
    Size size = bare_size(mentions_.tokens[t], t, measure.unit);
    size.words.last = end;
    size.words.end = mentions_.tokens[end - 1].end;
    size.measure.value = size.measure.value_low = size.measure.value_high = told;
    size.measure.value_text = std::to_string(told);
    size.value = size.measure.value_text + " " + measure.unit;
    add_size(size, row.marking, {}, part);
    t = end - 1;
  }
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
    // "The flash is 24 in square and the white tail band 18 in wide": right before it.
    const Mention* right_before = mention_ending_at(mention.first);
    if (right_before != nullptr && right_before->kind == MentionKind::kMarking)
      subject = right_before->value;
    const std::string whole = whole_spoken_of(mention, subject);
    if (!whole.empty()) subject = whole;
    const bool is_named = !subject.empty();
    if (!is_named) subject = marking_of_rings(mention);
    const bool is_by_rings = !is_named && !subject.empty();
    if (subject.empty() && marking != nullptr) subject = marking->value;
    if (subject.empty()) subject = focus_.marking;
    const Marking* row = ledger_.marking(subject);
    std::string part;
    if (row != nullptr && !row->rings.empty()) {
      part = part_measured(*row, mention);
    }
    const Mention* behind = mention_at(mention.last);
    const bool is_named_behind = behind != nullptr && behind->kind == MentionKind::kMarking;
    if (part == "whole" && !is_named_behind) {
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
    if (row == nullptr || part.empty()) continue;
    add_sizes_before(*row, mention);
    add_sizes_behind(*row, mention);
  }
}

}  // namespace tailproof
