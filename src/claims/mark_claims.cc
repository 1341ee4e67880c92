// Claims of markings, events and measures.
#include <algorithm>

#include "claims/assembler.h"
#include "grammars/fold.h"

namespace tailproof {

// Positions named beside a mention: the list of them behind it in its segment, else one just before
// it.
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
  const bool is_anothers =
      std::any_of(mentions_.items.begin(), mentions_.items.end(), [&](const Mention& other) {
        return other.kind == MentionKind::kMarking && other.first >= from &&
               other.last <= position.first;
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
  if (marking.first - position.last > kReach ||
      clauses_.segment_of[position.first] != clauses_.segment_of[marking.first])
    return false;
  bool has_verb = false;
  for (std::uint32_t t = position.last; t < marking.first; ++t) {
    if (is_in("object_preposition", t) || is_in("event_conjunction", t)) return false;
    has_verb = has_verb || is_in("wearing_verb", t);
  }
  return has_verb;
}

// "Can just be made out on the upper wing": so many of these words say no more than that it is
// seen.
std::uint32_t BlockAssembler::words_of_seeing(std::uint32_t from, std::uint32_t to) const {
  std::uint32_t count = 0;
  for (std::uint32_t t = from; t < to; ++t) count += is_in("seeing_word", t) ? 1 : 0;
  return count;
}

std::vector<std::string> BlockAssembler::positions_of(const Mention& mention) const {
  constexpr std::uint32_t kReach = 5;
  std::vector<std::string> positions;
  std::uint32_t end = mention.last;
  for (const std::uint32_t c : cues_by_list_.of("cue_position")) {
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
  for (const std::uint32_t c : cues_by_list_.of("cue_position")) {
    const Mention& cue = mentions_.items[c];
    if (cue.last > mention.first) continue;
    const bool close = mention.first - cue.last <= 2 &&
                       clauses_.segment_of[cue.first] == clauses_.segment_of[mention.first];
    // "under the wings, the gold-centred roundel", "On the fuselage the plain roundel".
    const bool opens = mention.first - cue.last <= 3 &&
                       clauses_.sentence_of[cue.first] == clauses_.sentence_of[mention.first] &&
                       (folded(cue.last) == "," || office(cue.last) == "the");
    // "The wings may still have had the black centre".
    bool is_subject = cue.first > 0 && mention.first - cue.last <= kReach + 1 &&
                      is_in("determiner", cue.first - 1) &&
                      (cue.first == 1 ||
                       clauses_.sentence_of[cue.first - 2] != clauses_.sentence_of[cue.first]) &&
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

// "The port upper wing of KB201, Gale Head": a caption that opens with a part of a machine shows
// that part; nothing else opens it but articles and words that tell one such part from another.
const Mention* BlockAssembler::part_shown() const {
  if (!is_caption()) return nullptr;
  for (const std::uint32_t c : cues_by_list_.of("cue_position")) {
    const Mention& part = mentions_.items[c];
    if (part.last >= mentions_.tokens.size() || office(part.last) != "of") continue;
    const std::uint32_t sentence = clauses_.sentence_of[part.first];
    std::uint32_t t = part.first;
    while (t > 0 && clauses_.sentence_of[t - 1] == sentence &&
           (office(t - 1) == "the" || is_in("part_side", t - 1))) {
      --t;
    }
    const bool opens = t == 0 || clauses_.sentence_of[t - 1] != sentence;
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
  if (end + 1 >= next || office(end) != "and" || word(end + 1) != ",") return false;
  std::uint32_t comma = next;
  while (comma > end + 2 && next - comma < kReach && word(comma - 1) != ",") --comma;
  return comma > end + 2 && word(comma - 1) == ",";
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

// The lower coat stands before "shows through", after "painted over" and "under the paint".
bool BlockAssembler::is_lower_coat(const Mention& mention) const {
  // "A numeral 3 under fresh dope": right behind it or its number.
  constexpr std::uint32_t kReach = 4;
  std::uint32_t under = mention.last;
  const auto count = static_cast<std::uint32_t>(mentions_.tokens.size());
  if (under < count && mentions_.tokens[under].kind != TokenKind::kMark &&
      !is_in("paint_below", under))
    ++under;
  if (under < count && is_in("paint_below", under)) {
    for (std::uint32_t t = under + 1; t < std::min(count, under + kReach); ++t) {
      if (mentions_.tokens[t].kind == TokenKind::kMark) break;
      if (is_in("paint_noun", t)) return true;
    }
  }
  const Mention* beneath = cue_in_segment(mention.first, "cue_beneath");
  if (beneath == nullptr) return false;
  return (beneath->value == "under") == (mention.last <= beneath->first) ||
         beneath->value == "beneath";
}

// "An anchor where the gold disc was", "in place of the band that had been there".
bool BlockAssembler::is_where_it_was(const Mention& marking) const {
  const std::uint32_t clause = clauses_.clause_of[marking.first];
  return office(clauses_.clauses[clause].first) == "where" &&
         is_in_list("former_state", marking.last) && clauses_.clause_of[marking.last] == clause;
}

// "1118, August 1942, beside the model with the yellow band of 1943": a caption that gives the
// marking a date of its own.
bool BlockAssembler::has_other_date(const Mention& marking) const {
  if (!is_caption() || marking.last + 1 >= mentions_.tokens.size() || office(marking.last) != "of")
    return false;
  const Mention* own = mention_over(MentionKind::kDate, marking.last + 1);
  if (own == nullptr || dates_[own->payload].date.is_unknown()) return false;
  // "The band of that summer" may well be seen in it.
  const DaySet& days = dates_[own->payload].date.days();
  bool has_other = false;
  for (const Mention& other : mentions_.items) {
    if (other.kind != MentionKind::kDate || other.begin == own->begin) continue;
    if (dates_[other.payload].date.is_unknown()) continue;
    if (dates_[other.payload].date.days().intersects(days)) return false;
    has_other = true;
  }
  return has_other;
}

void BlockAssembler::add_markings() {
  for (const Mention& mention : mentions_.items) {
    if (mention.kind != MentionKind::kMarking || is_no_marking(mention)) continue;
    if (hidden_[mention.first] != 0) continue;  // that it cannot be seen says nothing of it
    // "What looks like a red centre is a patch", but "what looks like the old one on the wing".
    const bool is_seeming = cue_before(mention, "cue_seeming", 2) != nullptr;
    if (is_seeming && (!is_caption() || has_verb_behind(mention))) continue;
    if (mention.role == "noun" && !is_caption()) continue;
    // "Compare the white nose of Fig. 309": another picture's.
    if (const Mention* other = cue_before(mention, "cue_not_shown", 3);
        other != nullptr && office(other->first) == "compare")
      continue;  // "the bands" of running text may be any
    Claim pattern;
    pattern.value = mention.value;
    pattern.readings = mention.readings;
    pattern.negated = mention.role == "no letters";
    for (std::uint32_t t = mention.first; t < mention.last; ++t)
      pattern.negated = pattern.negated || is_in("direct_denial", t);  // "spinner not yellow"
    pattern.hedged = is_seeming;
    if (cue_before(mention, "cue_former", 4) != nullptr ||
        (is_caption() && is_past(mention) && !is_lasting(mention))) {
      pattern.tense = Tense::kFormer;
      pattern.state = MarkingState::kFormer;
    }
    if (is_where_it_was(mention) || has_other_date(mention)) {
      pattern.tense = Tense::kFormer;
      pattern.state = MarkingState::kFormer;
    }
    if (cue_before(mention, "cue_added", 3) != nullptr) pattern.state = MarkingState::kAdded;
    if (is_lower_coat(mention) || is_ghost(mention) || is_taken_off(mention) ||
        is_changed(mention)) {
      pattern.tense = Tense::kFormer;
      pattern.state = MarkingState::kFormer;
    }
    if (fronted_coat(mention) != nullptr) {
      pattern.tense = Tense::kFormer;
      pattern.state = MarkingState::kFormer;
    }
    // "The order for the bands had been signed on 4 September" says nothing of an aircraft.
    const Mention* order_word = cue_in_segment(mention.first, "cue_order");
    // "the bands prescribed that August" are worn; only the date is the order's.
    const bool is_finite = order_word != nullptr && order_word->first == mention.last + 1 &&
                           is_in("event_auxiliary", mention.last);  // "the bands were ordered"
    if (order_word != nullptr && order_word->first >= mention.last && !is_finite &&
        (order_word->first - mention.last <= 1 ||
         stands_between(mention.last, order_word->first, "manner_word"))) {
      order_word = nullptr;  // "the bands as the order left them", "under the order"
    }
    const bool of_an_order =
        order_word != nullptr ||
        std::any_of(mentions_.items.begin(), mentions_.items.end(), [&](const Mention& other) {
          return other.kind == MentionKind::kOrder &&
                 clauses_.segment_of[other.first] == clauses_.segment_of[mention.first] &&
                 !stands_between(mention.last, other.first, "manner_word");
        });
    if (of_an_order || cue_in_segment(mention.first, "cue_unreal") != nullptr) {
      pattern.state = MarkingState::kPlanned;
    }
    focus_.marking = mention.value;
    // What is only ordered or planned is worn by nobody yet.
    const bool is_ordered = pattern.state == MarkingState::kPlanned && of_an_order;
    if (is_ordered && is_caption()) continue;
    std::vector<std::string> subjects;
    if (!is_ordered) subjects = subjects_of(mention);
    if (is_of_unnamed_other(mention)) {
      subjects.clear();
      pattern.shown = false;
    }
    if (subjects.empty()) {
      // Prose about markings in general is a claim of no machine.
      if (is_caption()) pattern.subject = figure_subject();
    }
    for (const std::string& serial : gapped_behind(mention.last)) subjects.push_back(serial);
    std::vector<std::string> positions = positions_of(mention);
    if (positions.empty()) positions = {usual_position(mention.value)};
    if (positions == std::vector<std::string>{std::string{}}) positions = {surface_shown(mention)};
    for (const std::string& position : positions) {
      pattern.position = position;
      add_for_subjects(mention, ClaimKind::kMarking, subjects, pattern);
    }
  }
}

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
