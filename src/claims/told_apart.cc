// What running text tells of a picture in two sentences: the day in one of its own ("X12 runs up at
// the Point. The date is 12 August 1943", "the month is May", "it was taken in May", "The Point,
// May 1943."), or what is seen in the one behind ("X12 was photographed in May. The man in the
// cockpit is Captain Crewe", "the place is the Point").
//
// So are a unit alone in a bracket behind its machine ("X12 (9 Squadron) at the Point in May"), and
// the next unit of a machine that left one on a day ("left 9 Squadron in May and went to the
// School"), which it may have reached some weeks later.
//
// All of it is inherited, so that it never makes more than a warning. Where the two sentences name
// several machines, or several dates, nothing follows.
#include <algorithm>

#include "claims/assembler.h"
#include "claims/told_day.h"

namespace tailproof {

class BlockAssembler::ToldApart {
 public:
  explicit ToldApart(BlockAssembler& block) : a_(block) {}

  void settle() {
    if (a_.is_caption() || a_.index_.of(MentionKind::kDate).empty()) return;
    for (std::size_t i = a_.first_claim_; i < a_.out_.size(); ++i) {
      if (a_.out_[i].kind == ClaimKind::kDate) dates_.push_back(static_cast<std::uint32_t>(i));
    }
    if (dates_.empty()) return;
    settle_units();
    const auto sentences = static_cast<std::uint32_t>(a_.clauses_.sentence_first.size());
    const bool may_tell_day = a_.has_word_of("day_told_noun") || a_.has_word_of("picture_made") ||
                              a_.has_word_of("day_pronoun");
    const bool may_show = a_.has_word_of("pictured_verb") || a_.has_word_of("picture_made");
    for (std::uint32_t s = 0; s < sentences; ++s) {
      const std::uint32_t first = a_.clauses_.sentence_first[s], last = end_of(s);
      if (may_tell_day && has_mark(";", first, last)) settle_past_semicolon(first, last);
      if (s == 0) continue;
      const std::uint32_t before = a_.clauses_.sentence_first[s - 1];
      settle_by_day(before, first, last);
      if (may_show) settle_seen(before, first, last);
    }
  }

 private:
  [[nodiscard]] std::uint32_t end_of(std::uint32_t sentence) const {
    return sentence + 1 < a_.clauses_.sentence_first.size()
               ? a_.clauses_.sentence_first[sentence + 1]
               : static_cast<std::uint32_t>(a_.mentions_.tokens.size());
  }
  [[nodiscard]] bool has_mark(std::string_view mark, std::uint32_t first,
                              std::uint32_t last) const {
    for (std::uint32_t t = first; t < last; ++t) {
      if (a_.word(t) == mark) return true;
    }
    return false;
  }
  // The only mention of a kind among the tokens; nullptr for none, or for several that differ.
  [[nodiscard]] const Mention* only(MentionKind kind, std::uint32_t first,
                                    std::uint32_t last) const {
    const Mention* found = nullptr;
    for (const Mention& mention : a_.mentions_of(kind)) {
      if (mention.first < first || mention.first >= last) continue;
      if (found != nullptr && found->value != mention.value) return nullptr;
      if (found == nullptr) found = &mention;
    }
    return found;
  }
  [[nodiscard]] bool has(MentionKind kind, std::uint32_t first, std::uint32_t last) const {
    return a_.any_mention(kind, [&](const Mention& mention) {
      return mention.first >= first && mention.first < last;
    });
  }
  // The claim of the only date among the tokens, if the author gives it flatly, as a day or month.
  [[nodiscard]] std::uint32_t only_date(std::uint32_t first, std::uint32_t last) const {
    std::uint32_t found = kNone;
    for (const std::uint32_t i : dates_) {
      const Claim& date = a_.out_[i];
      const std::uint32_t token = a_.token_at(date.begin);
      if (token < first || token >= last) continue;
      const bool is_plain = !date.impossible && !date.negated && !date.attributed &&
                            !date.inherited && date.of != "publication" && date.of != "type" &&
                            date.of != "order" && !a_.is_bound(date) && is_short(date);
      const bool is_same = found != kNone && a_.out_[found].begin == date.begin;
      if (!is_plain || (found != kNone && !is_same)) return kNone;
      if (!is_same) found = i;
    }
    return found;
  }

  // A day, a month, a year, or what stands for a part of one ("the middle of May").
  [[nodiscard]] static bool is_short(const Claim& date) {
    constexpr Day kLongest = 31;
    if (!date.date.is_interval()) return true;
    const DaySet& days = date.date.days();
    return !days.empty() && !days.is_all() && days.last() - days.first() < kLongest;
  }

  // "X12 runs up at the Point; the date is 12 August 1943".
  void settle_past_semicolon(std::uint32_t first, std::uint32_t last) {
    for (std::uint32_t t = first; t < last; ++t) {
      if (a_.word(t) != ";") continue;
      settle_by_day(first, t + 1, last);
      return;
    }
  }
  // What the tokens from `begin` tell is of the day that those from `first` on give by themselves.
  void settle_by_day(std::uint32_t begin, std::uint32_t first, std::uint32_t last) {
    const std::uint32_t date = only_date(first, last);
    if (date == kNone || has(MentionKind::kDate, begin, first)) return;
    const Mention* machine = only(MentionKind::kAirframe, begin, first);
    if (machine == nullptr || !machine->readings.empty()) return;
    const bool is_place_and_day = stands_alone(date, first, last);
    if (!is_place_and_day && !tells_day(date, first, last)) return;
    // A machine that "was lost" is told of in the past; only the day itself says that of a picture.
    settle_states(begin, first, date, machine->value);
    if (is_place_and_day) settle_states(first, last, date, machine->value);
  }
  // Nothing but the date to the end of the sentence.
  [[nodiscard]] bool ends(std::uint32_t date, std::uint32_t last) const {
    return ends_at(a_.token_at(a_.out_[date].end), last);
  }
  [[nodiscard]] bool ends_at(std::uint32_t token, std::uint32_t last) const {
    for (std::uint32_t t = token; t < last; ++t) {
      if (a_.mentions_.tokens[t].kind != TokenKind::kMark) return false;
    }
    return true;
  }
  // "The date is 12 August 1943", "it was taken in May".
  [[nodiscard]] bool tells_day(std::uint32_t date, std::uint32_t first, std::uint32_t last) const {
    std::uint32_t t = a_.token_at(a_.out_[date].begin);
    while (t > first && (a_.office(t - 1) == "the" || a_.is_in("day_preposition", t - 1))) --t;
    if (!ends(date, last) || t < first + 2) return false;
    if (a_.is_in("picture_made", t - 1) || a_.is_in("pictured_verb", t - 1)) --t;
    const bool is_made = a_.is_in("picture_made", t) || a_.is_in("pictured_verb", t);
    const bool is_said = a_.is_in("being_word", t - 1) || a_.office(t - 1) == "is";
    if (!is_said || t < first + 2) return false;
    const std::uint32_t noun = t - 2;
    const std::uint32_t lead = noun > first ? noun - 1 : noun;
    const bool is_whole = noun - first <= 1;
    if (is_made)
      return is_whole && (a_.is_in("day_pronoun", noun) ||
                          (a_.is_in("picture_word", noun) && a_.is_in("determiner", lead)));
    if (a_.is_in("day_told_noun", noun)) return is_whole && a_.office(lead) == "the";
    return noun == first && a_.is_in("day_pronoun", noun) && a_.folded(t - 1) == "is";
  }
  // "The Point, May 1943.": a place and a day, and nothing else.
  [[nodiscard]] bool stands_alone(std::uint32_t date, std::uint32_t first,
                                  std::uint32_t last) const {
    const Mention* place = only(MentionKind::kPlace, first, last);
    if (place == nullptr || !place->readings.empty()) return false;
    // "May 1943, the Point."
    if (a_.token_at(a_.out_[date].begin) == first) {
      std::uint32_t t = a_.token_at(a_.out_[date].end);
      if (a_.word(t) != ",") return false;
      if (a_.office(++t) == "the") ++t;
      return t == place->first && ends_at(place->last, last);
    }
    if (!ends(date, last)) return false;
    const std::uint32_t lead = place->first - first;
    const bool opens = lead == 0 || (lead == 1 && a_.office(first) == "the");
    const std::uint32_t behind = place->last;
    return opens && a_.word(behind) == "," && a_.token_at(a_.out_[date].begin) == behind + 1;
  }

  // "X12 was photographed in May. The man in the cockpit is Captain Crewe."
  void settle_seen(std::uint32_t before, std::uint32_t first, std::uint32_t last) {
    if (has(MentionKind::kDate, first, last) || !shows(first, last)) return;
    const std::uint32_t date = only_date(before, first);
    const Mention* machine = only(MentionKind::kAirframe, before, last);
    if (date == kNone || machine == nullptr || machine->first >= first ||
        !machine->readings.empty() || !is_pictured(before, first, date))
      return;
    settle_states(first, last, date, machine->value);
  }
  // "X12 was photographed in May", "this picture of X12 was taken in May".
  [[nodiscard]] bool is_pictured(std::uint32_t first, std::uint32_t last,
                                 std::uint32_t date) const {
    const std::uint32_t at = a_.token_at(a_.out_[date].begin);
    for (std::uint32_t t = first; t < std::min(at, last); ++t) {
      if (a_.is_in("pictured_verb", t)) return t > first && a_.is_in("was_word", t - 1);
      if (a_.is_in("picture_made", t)) return a_.stands_between(first, t, "picture_word");
    }
    return false;
  }
  // "The man in the cockpit is", "on the wing sits", "the place is".
  [[nodiscard]] bool shows(std::uint32_t first, std::uint32_t last) const {
    constexpr std::uint32_t kReach = 10;
    std::uint32_t noun = first + 1;
    while (a_.is_in("picture_adjective", noun)) ++noun;
    const bool is_told_of_one = a_.office(first) == "the" && (a_.is_in("picture_figure", noun) ||
                                                              a_.is_in("picture_setting", noun));
    if (!is_told_of_one && !a_.is_in("picture_position", first)) return false;
    for (std::uint32_t t = first + 1; t < std::min(last, first + kReach); ++t) {
      if (a_.is_in("had_word", t) || a_.is_in("relative_word", t)) return false;
      if (a_.is_in("picture_being", t)) return true;
    }
    return false;
  }

  void settle_units() {
    for (std::size_t i = a_.first_claim_; i < a_.out_.size(); ++i) {
      Claim& unit = a_.out_[i];
      const bool is_open = unit.kind == ClaimKind::kUnit && !unit.when.known &&
                           unit.tense == Tense::kThen && !unit.negated && !unit.attributed &&
                           unit.role != "former" && unit.role != "later" &&
                           a_.ledger_.airframe(unit.subject) != nullptr;
      if (!is_open || settle_in_bracket(unit)) continue;
      settle_next(unit);
    }
  }
  // "X12 (9 Squadron) was at the Point in May 1943".
  [[nodiscard]] bool settle_in_bracket(Claim& unit) const {
    const std::uint32_t first = a_.token_at(unit.begin), last = a_.token_at(unit.end);
    if (first < 2 || a_.word(first - 1) != "(" || a_.word(last) != ")") return false;
    const Mention* machine = a_.mention_ending_at(first - 1);
    if (machine == nullptr || machine->kind != MentionKind::kAirframe) return false;
    const std::uint32_t sentence = a_.clauses_.sentence_of[first];
    const std::uint32_t date = only_date(a_.clauses_.sentence_first[sentence], end_of(sentence));
    if (date == kNone) return false;
    // "X12 (9 Squadron) was delivered in May": the unit with which it is known.
    const std::uint32_t event = a_.out_[date].event;
    if (event != kNone && a_.out_[event].value != "lost" && a_.out_[event].value != "accident")
      return false;
    set(unit, date);
    return true;
  }
  // "Left 9 Squadron in May 1943 and went to the School": with it within three months.
  void settle_next(Claim& unit) const {
    if (!a_.has_word_of("quitting_verb")) return;
    constexpr Day kLongestWay = 92;
    const std::uint32_t first = a_.token_at(unit.begin);
    const Claim* going = event_right_before(unit);
    if (going == nullptr) return;
    std::uint32_t joint = a_.token_at(going->begin);
    while (joint > 0 && a_.is_in("use_adverb", joint - 1)) --joint;
    if (joint < 2 || !a_.is_in("event_conjunction", joint - 1)) return;
    const std::uint32_t begin = a_.begin_of_sentence(first);
    const std::uint32_t date = only_date(begin, joint);
    const Mention* day = date == kNone ? nullptr : a_.mention_ending_at(joint - 1);
    if (day == nullptr || day->kind != MentionKind::kDate || has_date_behind(first)) return;
    const std::uint32_t event = a_.out_[date].event;
    const bool is_leaving = event != kNone && a_.out_[event].value == "allotted" &&
                            a_.out_[event].subject == unit.subject &&
                            a_.is_in("quitting_verb", a_.token_at(a_.out_[event].begin));
    const DaySet& days = a_.out_[date].date.days();
    if (!is_leaving || days.empty() || days.is_all()) return;
    set(unit, date);
    unit.when.days = DaySet{{days.first(), days.last() + kLongestWay}};
    unit.when.widened = unit.when.widened.unite(unit.when.days);
  }
  [[nodiscard]] const Claim* event_right_before(const Claim& unit) const {
    constexpr std::uint32_t kReach = 3;  // "went to the new"
    for (std::size_t i = a_.first_claim_; i < a_.out_.size(); ++i) {
      const Claim& event = a_.out_[i];
      if (event.kind == ClaimKind::kEvent && event.value == "allotted" &&
          event.subject == unit.subject && event.end <= unit.begin && !event.when.known &&
          a_.token_at(unit.begin) - a_.token_at(event.end) < kReach)
        return &event;
    }
    return nullptr;
  }
  [[nodiscard]] bool has_date_behind(std::uint32_t token) const {
    return has(MentionKind::kDate, token, end_of(a_.clauses_.sentence_of[token]));
  }

  void settle_states(std::uint32_t first, std::uint32_t last, std::uint32_t date,
                     std::string_view machine) {
    for (std::size_t i = a_.first_claim_; i < a_.out_.size(); ++i) {
      Claim& claim = a_.out_[i];
      const std::uint32_t token = a_.token_at(claim.begin);
      if (token < first || token >= last || !is_state(claim) || is_of_other_time(claim, token))
        continue;
      // "Sedgeway, March 1943." has a place of nobody's, and its own day already.
      const bool is_nobodys = claim.kind == ClaimKind::kPlace && claim.subject.empty();
      if (is_nobodys) claim.subject = machine;
      if (claim.when.known) continue;
      set(claim, date);
    }
  }
  void set(Claim& claim, std::uint32_t date) const {
    claim.when = when_of_told_day(a_.out_[date], date, a_.ledger_.settings().margins);
  }
  [[nodiscard]] static bool is_state(const Claim& claim) {
    if (claim.negated || claim.attributed || claim.tense != Tense::kThen) return false;
    switch (claim.kind) {
      case ClaimKind::kUnit:
        return claim.role != "former" && claim.role != "later";
      case ClaimKind::kAward:
        return claim.role.empty();
      case ClaimKind::kPlace:
      case ClaimKind::kRank:
      case ClaimKind::kPerson:
      case ClaimKind::kMarking:
        return true;
      default:
        return false;
    }
  }
  // "Which had been at the Point".
  [[nodiscard]] bool is_of_other_time(const Claim& claim, std::uint32_t token) const {
    const Clause& clause = a_.clauses_.clauses[a_.clauses_.clause_of[token]];
    const bool is_main = clause.kind == ClauseKind::kMain || clause.kind == ClauseKind::kCoordinate;
    return !is_main || a_.stands_between(clause.first, clause.last, "had_word") ||
           (claim.kind == ClaimKind::kPerson && !claim.shown);
  }

  BlockAssembler& a_;
  std::vector<std::uint32_t> dates_;  // claims
};

void BlockAssembler::settle_told_apart() { ToldApart(*this).settle(); }

}  // namespace tailproof
