// Claims of markings, and whether what is named is the lower of two coats or of another time.
#include <algorithm>

#include "claims/assembler.h"
#include "claims/marking_turns.h"

namespace tailproof {

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
  for (const Mention& other : mentions_of(MentionKind::kDate)) {
    if (other.begin == own->begin) continue;
    if (dates_[other.payload].date.is_unknown()) continue;
    if (dates_[other.payload].date.days().intersects(days)) return false;
    has_other = true;
  }
  return has_other;
}

void BlockAssembler::add_markings() {
  for (const Mention& mention : mentions_of(MentionKind::kMarking)) {
    if (is_no_marking(mention) || is_size_of_lettering(mention)) continue;
    if (hidden_[mention.first] != 0) continue;  // that it cannot be seen says nothing of it
    // "What looks like a red centre is a patch", but "what looks like the old one on the wing".
    const bool is_seeming = cue_before(mention, "cue_seeming", 2) != nullptr;
    if (is_seeming && (!is_caption() || has_verb_behind(mention))) continue;
    const bool is_short = mention.role == "noun" || mention.role == "short";
    if (is_short && !is_caption()) continue;  // "the bands" of running text may be any
    // "The old ring makes a darker disc": what is seen of another marking.
    if (mention.role == "noun" && mention.first > 0 && is_in("shade_word", mention.first - 1))
      continue;
    // "Compare the white nose of Fig. 309": another picture's.
    if (const Mention* other = cue_before(mention, "cue_not_shown", 3);
        other != nullptr && office(other->first) == "compare")
      continue;
    Claim pattern;
    pattern.value = mention.value;
    pattern.readings = mention.readings;
    pattern.negated = mention.role == "no letters";
    // "Spinner not yellow"; but "without its red" is how the form without red looks.
    for (std::uint32_t t = mention.first; t < mention.last && mention.role != "look"; ++t)
      pattern.negated = pattern.negated || is_in("direct_denial", t);
    pattern.hedged = is_seeming;
    if (cue_before(mention, "cue_former", 4) != nullptr ||
        (is_caption() && is_past(mention) && !is_lasting(mention)) || is_in_past_bracket(mention)) {
      pattern.tense = Tense::kFormer;
      pattern.state = MarkingState::kFormer;
    }
    if (is_where_it_was(mention) || has_other_date(mention)) {
      pattern.tense = Tense::kFormer;
      pattern.state = MarkingState::kFormer;
    }
    if (cue_before(mention, "cue_added", 3) != nullptr) pattern.state = MarkingState::kAdded;
    if (is_lower_coat(mention) || is_ghost(mention) || is_taken_off(mention) ||
        is_changed(mention) || is_given_up_for(mention)) {
      pattern.tense = Tense::kFormer;
      pattern.state = MarkingState::kFormer;
    }
    if (fronted_coat(mention) != nullptr) {
      pattern.tense = Tense::kFormer;
      pattern.state = MarkingState::kFormer;
    }
    // "The order for the bands had been signed on 4 September" says nothing of an aircraft.
    const Mention* order_word = cue_in_segment(mention.first, "cue_order");
    // "The flash and the band are in order", "in good order": no order that anybody gave.
    if (order_word != nullptr && order_word->first > 1 &&
        is_in("order_in_manner", order_word->first)) {
      const std::uint32_t t = order_word->first - 1;
      if (office(t) == "in" || (is_in("manner_of_order", t) && office(t - 1) == "in"))
        order_word = nullptr;
    }
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
        turn_behind(mention, cues_of("cue_turn"), cues_of("cue_order")) != nullptr ||
        any_mention(MentionKind::kOrder, [&](const Mention& other) {
          return clauses_.segment_of[other.first] == clauses_.segment_of[mention.first] &&
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
      if (!is_caption() && is_worn_by_some(mention)) pattern.said |= kSaidWornBySome;
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

}  // namespace tailproof
