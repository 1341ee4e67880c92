// Words of an event that tell of no machine's fate: of the print, of the paint, of a building, of
// paper that changes hands.
#include <algorithm>

#include "claims/block_reading.h"
#include "mentions/event_words.h"

namespace tailproof {

class BlockReading::NoEvent {
 public:
  NoEvent(const BlockReading& block, const Mention& words) : a_(block), words_(words) {}

  [[nodiscard]] bool holds() const {
    return is_work_done() || is_of_print() || is_of_paint() || is_lack() || is_number_missing() ||
           is_same_way() || is_passed_on() || is_of_building() || is_of_part() ||
           a_.is_act_on_other(words_);
  }

 private:
  [[nodiscard]] bool is_one_word() const { return words_.last == words_.first + 1; }
  [[nodiscard]] bool is_plain() const {
    return (words_.payload & (kEventNoun | kEventObject)) == 0;
  }
  [[nodiscard]] bool is_in_segment(const Mention& other) const {
    return a_.clauses_.segment_of[other.first] == a_.clauses_.segment_of[words_.first];
  }

  // "The rebuilt X12 at Halvery": what it was by then, on no day of its own.
  [[nodiscard]] bool is_work_done() const {
    const bool is_work =
        words_.value == "modified" || words_.value == "repair" || words_.value == "repaint";
    return is_work && is_one_word() && words_.first > 0 &&
           a_.is_in("name_article", words_.first - 1) && a_.is_before_machine(words_) &&
           (words_.payload & kEventNoun) == 0;
  }

  // "Received from the Guard's archive in 1946": the print.
  [[nodiscard]] bool is_of_print() const {
    constexpr std::uint32_t kReach = 8;
    if (words_.value != "taken_on_charge" || !a_.is_caption()) return false;
    for (std::uint32_t t = words_.last; t < a_.mentions_.tokens.size() && t - words_.last < kReach;
         ++t) {
      if (a_.clauses_.segment_of[t] != a_.clauses_.segment_of[words_.first]) return false;
      if (a_.is_in("credit_noun", t) || a_.is_in("archive_noun", t)) return true;
    }
    return false;
  }

  // "The stripes had been repainted": the marking, not the machine. "Repainted as KS-H",
  // "repainted with the number 27": another code.
  [[nodiscard]] bool is_of_paint() const {
    constexpr std::uint32_t kBefore = 3, kBehind = 4;
    if (words_.value != "repaint") return false;
    return a_.any_mention(MentionKind::kMarking, [&](const Mention& marking) {
      return marking.last <= words_.first && words_.first - marking.last <= kBefore &&
             is_in_segment(marking);
    }) || a_.any_mention(MentionKind::kAirframe, [&](const Mention& code) {
      return code.role == "code" && code.first >= words_.last &&
             code.first - words_.last <= kBehind && is_in_segment(code);
    });
  }

  // "P303 was missing" tells of its loss, "was missing its spinner" does not.
  [[nodiscard]] bool is_lack() const {
    return a_.is_in("missing_word", words_.last - 1) &&
           (a_.is_in("determiner", words_.last) || a_.office(words_.last) == "from");
  }

  // "They wore 1 to 6. By that summer 4 was missing": of the row of numbers.
  [[nodiscard]] bool is_number_missing() const {
    std::uint32_t t = words_.first;
    if (!a_.is_in("missing_word", words_.last - 1)) return false;
    while (t > 0 && a_.is_in("was_word", t - 1)) --t;
    return t > 0 && a_.mentions_.tokens[t - 1].kind == TokenKind::kNumber &&
           a_.mention_over(MentionKind::kDate, t - 1) == nullptr;
  }

  // "X12 went to the School, and X14 went the same way": no loss, unless one has been told.
  [[nodiscard]] bool is_same_way() const {
    const bool is_it = words_.last - words_.first > 2 && a_.is_in("same_way", words_.last - 1) &&
                       a_.is_in("order_same_word", words_.last - 2);
    return is_it && !a_.any_cue("cue_event", [&](const Mention& other) {
      return other.last <= words_.first && other.value == "lost" &&
             a_.clauses_.sentence_of[other.first] + 1 >= a_.clauses_.sentence_of[words_.first];
    });
  }

  // "Handed over by the Third the Friday before": from one unit to the next, and not to the air
  // arm.
  [[nodiscard]] bool is_passed_on() const {
    if (words_.value != "taken_on_charge" || !a_.is_in("by_word", words_.last)) return false;
    const std::uint32_t giver = words_.last + (a_.is_in("determiner", words_.last + 1) ? 2U : 1U);
    return a_.mention_over(MentionKind::kUnit, giver) != nullptr ||
           a_.mention_over(MentionKind::kPlace, giver) != nullptr;
  }

  // "The fire-gutted hangar", "wrecked hangar".
  [[nodiscard]] bool is_of_building() const {
    return is_one_word() && a_.is_in("site_noun", words_.last) && is_plain();
  }

  // "X12 burnt its brakes": what it did to a part of itself.
  [[nodiscard]] bool is_of_part() const {
    return is_one_word() && a_.is_in("possessive_word", words_.last) && is_plain() &&
           words_.value != "allotted" &&
           (words_.first == 0 || !a_.is_in("event_auxiliary", words_.first - 1));
  }

  const BlockReading& a_;
  const Mention& words_;
};

// "Captured QX12", "captured Lanner", "captured machine".
bool BlockReading::is_before_machine(const Mention& event) const {
  const Mention* type = mention_over(MentionKind::kType, event.last);
  const Mention* machine = mention_over(MentionKind::kAirframe, event.last);
  return (type != nullptr && type->first == event.last) ||
         (machine != nullptr && machine->first == event.last) || is_in("machine_noun", event.last);
}

bool BlockReading::is_no_event(const Mention& words) const { return NoEvent(*this, words).holds(); }

}  // namespace tailproof
