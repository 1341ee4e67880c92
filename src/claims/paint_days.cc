// When a machine was painted, told of the paint and not of the machine: "the gold centre had gone
// on in July", "the bars were five days old", "two days out of the paint shop".
#include <algorithm>

#include "claims/assembler.h"

namespace tailproof {

class BlockAssembler::PaintDays {
 public:
  explicit PaintDays(BlockAssembler& block) : a_(block), end_(a_.out_.size()) {}

  void add() {
    if (a_.has_word_of("paint_put_on") || a_.has_word_of("paint_given")) {
      for (std::size_t i = a_.first_claim_; i < end_; ++i) add_put_on(i);
    }
    if (!a_.is_caption()) return;
    for (const TimeLead& age : a_.mentions_.ages) add_aged(age);
  }

 private:
  [[nodiscard]] bool has_machine(const Claim& claim) const {
    return !claim.subject.empty() && !a_.ledger_.machine_of(claim.subject).empty();
  }
  // Whether another marking or machine is named among tokens [from, to).
  [[nodiscard]] bool is_parted(std::uint32_t from, std::uint32_t to,
                               const std::string& machine) const {
    const auto is_between = [&](const Mention& other) {
      return other.first >= from && other.last <= to;
    };
    return a_.any_mention(MentionKind::kMarking, is_between) ||
           a_.any_mention(MentionKind::kAirframe, [&](const Mention& other) {
             return is_between(other) && other.value != machine;
           });
  }

  // The token of the verb that puts the marking on, or kNone: "was applied", "has gone on" behind
  // it, "received", "had put" before it.
  [[nodiscard]] std::uint32_t verb_of(std::uint32_t first, std::uint32_t last,
                                      const std::string& machine) const {
    constexpr std::uint32_t kBehind = 8, kBefore = 4;
    const auto count = static_cast<std::uint32_t>(a_.mentions_.tokens.size());
    const std::uint32_t segment = a_.clauses_.segment_of[first];
    for (std::uint32_t t = last; t < std::min(count, last + kBehind); ++t) {
      if (a_.clauses_.segment_of[t] != segment) break;
      const std::string_view way = a_.value_in(a_.lexicon_.grammars().list("paint_put_on"), t);
      if (way.empty()) continue;
      // "Was applied", and "the wheel applied on the 1st" right behind it.
      const bool is_led = t > 0 && (t == last || a_.is_in("event_auxiliary", t - 1) ||
                                    a_.is_in("be_word", t - 1) || a_.is_in("state_adverb", t - 1));
      const bool is_on = a_.office(t + 1) == "on" || a_.word(t + 1) == "back";
      if ((way == "led" ? is_led : is_on) && !is_parted(last, t, machine)) return t;
    }
    for (std::uint32_t t = first; t-- > 0 && first - t <= kBefore;) {
      if (a_.clauses_.segment_of[t] != segment) break;
      if (a_.is_in("paint_given", t)) return is_parted(t, first, machine) ? kNone : t;
    }
    return kNone;
  }

  void add_event(const Claim& like, std::uint32_t first, std::uint32_t last, std::string kind,
                 const When& when) {
    const std::vector<Token>& tokens = a_.mentions_.tokens;
    Claim event;
    event.manuscript = a_.manuscript_index_;
    event.block = a_.block_index_;
    event.begin = tokens[first].begin;
    event.end = tokens[last - 1].end;
    event.span = a_.block_.text_span(event.begin, event.end);
    event.kind = ClaimKind::kEvent;
    event.value = std::move(kind);
    event.subject = like.subject;
    event.text = a_.block_.text.substr(event.begin, event.end - event.begin);
    event.hedged = like.hedged;
    event.attributed = like.attributed;
    event.shown = like.shown;
    event.when = when;
    if (like.kind == ClaimKind::kMarking) event.turned_to = like.value;
    if (a_.finder_.explains()) event.why = "paint told with its day";
    a_.out_.push_back(std::move(event));
  }

  // "The gold centre had gone on in July": the day that the words give the marking.
  void add_put_on(std::size_t index) {
    const Claim& marking = a_.out_[index];
    if (marking.kind != ClaimKind::kMarking || marking.negated || !has_machine(marking) ||
        !marking.known || !marking.when.known || marking.when.date == kNone ||
        marking.when.date < a_.first_claim_)
      return;
    const std::uint32_t dated = marking.when.date;
    const Claim& date = a_.out_[dated];
    if (date.of != "event" || date.subject != marking.subject || date.negated) return;
    const auto words =
        std::find_if(a_.mentions_.dates.begin(), a_.mentions_.dates.end(),
                     [&](const DateMention& one) { return one.begin == date.begin; });
    if (words == a_.mentions_.dates.end() || words->joint != DateJoint::kNone ||
        words->bound != DateBound::kNone)
      return;
    // "April 1944: X12. The disc was put on in the autumn": of the year before, or of another.
    const Claim* picture = a_.is_caption() ? day_of_picture() : nullptr;
    if (picture != nullptr && !words->first.year && !picture->when.days.empty() &&
        marking.when.days.first() > picture->when.days.last())
      return;
    const std::uint32_t first = a_.token_at(marking.begin), last = a_.token_at(marking.end);
    const std::uint32_t verb = verb_of(first, last, marking.subject);
    if (verb == kNone || a_.negated_[verb] != 0 ||
        a_.clauses_.sentence_of[a_.token_at(date.begin)] != a_.clauses_.sentence_of[verb])
      return;
    const bool is_told =
        std::any_of(a_.out_.begin() + static_cast<std::ptrdiff_t>(a_.first_claim_), a_.out_.end(),
                    [&](const Claim& other) {
                      return other.kind == ClaimKind::kEvent && other.value == "repaint" &&
                             other.subject == marking.subject && other.turned_to != marking.value &&
                             (other.turned_to.empty() || a_.token_at(other.begin) == verb);
                    });
    if (is_told) return;
    const Claim like = marking;
    add_event(like, verb, verb + 1, "repaint", like.when);
    Claim& day = a_.out_[dated];
    if (day.event == kNone) day.event = static_cast<std::uint32_t>(a_.out_.size() - 1);
  }

  // The picture's own day, from the words of its caption.
  [[nodiscard]] const Claim* day_of_picture() const {
    const auto found =
        std::find_if(a_.out_.begin() + static_cast<std::ptrdiff_t>(a_.first_claim_),
                     a_.out_.begin() + static_cast<std::ptrdiff_t>(end_), [](const Claim& claim) {
                       return claim.kind == ClaimKind::kDate && claim.of == "photograph" &&
                              !claim.negated && !claim.impossible;
                     });
    return found == a_.out_.begin() + static_cast<std::ptrdiff_t>(end_) ? nullptr : &*found;
  }

  // What is so old: the marking right before the words or right behind them ("a month in yellow
  // kringles"), else the paint of the picture's machine; nothing where neither is told.
  [[nodiscard]] const Claim* aged(const TimeLead& age, bool& is_machine) const {
    constexpr std::uint32_t kBefore = 8, kBehind = 4;
    const std::uint32_t segment = a_.clauses_.segment_of[age.first];
    const Claim* found = nullptr;
    const Claim* machine = nullptr;
    const bool is_within = a_.is_in("age_within", age.last - 1);
    for (std::size_t i = a_.first_claim_; i < end_; ++i) {
      const Claim& claim = a_.out_[i];
      const std::uint32_t first = a_.token_at(claim.begin), last = a_.token_at(claim.end);
      if (claim.kind == ClaimKind::kAirframe && claim.shown && has_machine(claim)) {
        if (machine != nullptr && machine->subject != claim.subject) return nullptr;
        if (machine == nullptr) machine = &claim;
      }
      if (claim.kind != ClaimKind::kMarking || claim.negated || !claim.known ||
          !has_machine(claim) || claim.tense != Tense::kThen)
        continue;
      const bool is_before = !is_within && last <= age.first && age.first - last <= kBefore &&
                             a_.clauses_.segment_of[first] == segment;
      const bool is_behind = is_within && first >= age.last && first - age.last <= kBehind;
      if (is_before || (is_behind && found == nullptr)) found = &claim;
    }
    if (found != nullptr || machine == nullptr) return found;
    // "The paint is five days old", "two days out of the paint shop", "five days in its white
    // coat".
    std::uint32_t t = is_within ? age.last : age.first;
    for (std::uint32_t step = 0; step < kBehind && t < a_.mentions_.tokens.size(); ++step) {
      if (a_.is_in("age_of_paint", t)) return machine;
      const Mention* unit = a_.mention_over(MentionKind::kUnit, t);
      if (is_within && unit != nullptr) return a_.office(age.last - 1) == "of" ? machine : nullptr;
      if (is_within ? step + 1 >= kBehind : t == 0) break;
      t = is_within ? t + 1 : t - 1;
    }
    // "X12, all of two months old": the machine itself, right before the words; a code as old is
    // younger than that.
    if (machine->role == "code") return nullptr;
    const std::uint32_t end = a_.token_at(machine->end);
    is_machine = !is_within && end <= age.first && age.first - end <= kBehind &&
                 a_.clauses_.sentence_of[end] == a_.clauses_.sentence_of[age.first];
    return is_machine ? machine : nullptr;
  }

  void add_aged(const TimeLead& age) {
    const Claim* picture = day_of_picture();
    bool is_machine = false;
    const Claim* of = picture == nullptr ? nullptr : aged(age, is_machine);
    if (of == nullptr || !picture->when.known) return;
    if (a_.negated_[age.first] != 0 || age.most >= kLastDay) return;
    const auto before = [&](const DaySet& days) {
      return DaySet{DayRange{days.first() - age.most, days.last() - age.least}};
    };
    if (picture->when.days.empty() || picture->when.days.first() <= kFirstDay ||
        picture->when.days.last() >= kLastDay)
      return;
    When when = picture->when;
    when.days = before(picture->when.days);
    when.widened = before(picture->when.widened);
    when.date = kNone;
    const Claim like = *of;
    add_event(like, age.first, age.last, is_machine ? "taken_on_charge" : "repaint", when);
    a_.out_.back().said |= kSaidNear;
  }

  BlockAssembler& a_;
  const std::size_t end_;
};

void BlockAssembler::add_paint_days() { PaintDays(*this).add(); }

}  // namespace tailproof
