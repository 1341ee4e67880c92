// Days that are all but those of a row: "the squadron's lorries rolled into Skarn on 12 May 1943",
// where the ledger has it at Skarn from 12 May 1942. Who moved, was promoted or ordered it is told
// in more verbs than any list holds; that the sentence names whom the row is of, and what it came
// to, and that no other row has that day, tells which row is meant.
//
// Contract: a date becomes a turn of its row only where it has found no other sense, names a day,
// and lies near the day of the row: the same of another year or month, or a slip of a digit; the
// farther, or the commoner the day, the more of the row must be named. Such a turn carries
// kSaidNearARow and makes no more than a warning. A day that any row has is left alone, unless the
// words doubt it: then it is told as that row's, for it needs no doubt.
#include <algorithm>
#include <array>
#include <vector>

#include "claims/assembler.h"

namespace tailproof {

class BlockAssembler::DaysRetold {
 public:
  explicit DaysRetold(BlockAssembler& block) : a_(block) {}

  void add() {
    if (a_.block_.kind == BlockKind::kHeading || a_.block_.kind == BlockKind::kTableRow) return;
    const std::size_t end = a_.out_.size();
    for (std::size_t i = a_.first_claim_; i < end; ++i) {
      if (a_.out_[i].kind == ClaimKind::kDate && may_be_turn(a_.out_[i])) look_at(a_.out_[i]);
    }
  }

 private:
  // How a day may come to stand for that of a row, the likeliest first.
  enum class Nearness : std::uint8_t { kSame, kYear, kMonth, kDigit, kNone };

  struct Turning {
    Turn turn = Turn::kNone;
    std::string_view of, to;
    Nearness nearness = Nearness::kNone;
    Day day = 0;
    bool is_named = false;  // what it turned to
  };

  [[nodiscard]] bool may_be_turn(const Claim& date) {
    constexpr std::array<std::string_view, 3> kOfOthers = {"photograph", "publication", "type"};
    if (date.negated || date.attributed || date.impossible || date.inherited ||
        date.turn != Turn::kNone || date.event != kNone || date.date.is_unknown() ||
        std::find(kOfOthers.begin(), kOfOthers.end(), date.of) != kOfOthers.end())
      return false;
    const Mention* mention = a_.mention_over(MentionKind::kDate, a_.token_at(date.begin));
    if (mention == nullptr) return false;
    const DateMention& words = a_.mentions_.dates[mention->payload];
    // "Until 14 May 1943" is the end of something.
    is_end_ = words.bound == DateBound::kBy;
    plain_ = &a_.dates_[mention->payload].plain;
    const DaySet& days = plain_->days();
    return !plain_->is_unknown() && !days.empty() && days.first() == days.last() &&
           words.joint == DateJoint::kNone && !words.first.is_relative() &&
           words.first.precision == Precision::kDay &&
           (is_end_ || words.bound == DateBound::kNone || words.bound == DateBound::kSince);
  }

  // 12 and 21, 3 and 13, 13 and 14 are all one slip of the hand; but 9 and 10 are not.
  static bool is_slip(unsigned one, unsigned other) {
    constexpr unsigned kTen = 10;
    const bool is_swapped = one / kTen == other % kTen && one % kTen == other / kTen;
    return is_swapped || one % kTen == other % kTen || one / kTen == other / kTen;
  }

  static Nearness nearness(Day told, const Edtf& known) {
    constexpr std::int64_t kYears = 5, kTenYears = 10;
    if (known.is_unknown() || known.precision() != Precision::kDay || known.is_approximate() ||
        known.is_uncertain() || known.is_interval() || known.days().empty() ||
        known.days().first() != known.days().last())
      return Nearness::kNone;
    const Day day = known.days().first();
    if (told == day) return Nearness::kSame;
    const CivilDate one = to_civil(told), other = to_civil(day);
    const std::int64_t years = std::abs(one.year - other.year);
    if (one.month == other.month && one.day == other.day)
      return years <= kYears || years == kTenYears ? Nearness::kYear : Nearness::kNone;
    if (one.year == other.year && one.day == other.day) return Nearness::kMonth;
    if (one.year == other.year && one.month == other.month && is_slip(one.day, other.day))
      return Nearness::kDigit;
    return Nearness::kNone;
  }

  // Orders and postings begin on such days.
  static bool is_common(Day day) { return to_civil(day).day == 1 || to_civil(day + 1).day == 1; }

  [[nodiscard]] bool is_named(MentionKind kind, std::string_view value) const {
    return std::any_of(named_.begin(), named_.end(), [&](const Mention* name) {
      return name->kind == kind && name->value == value;
    });
  }

  void weigh(Turn turn, std::string_view of, std::string_view to, const Edtf& known,
             bool is_object_named) {
    constexpr std::array<Turn, 4> kEnds = {Turn::kDisbanded, Turn::kMovedOut, Turn::kLeft,
                                           Turn::kLeftCommand};
    if (is_end_ && std::find(kEnds.begin(), kEnds.end(), turn) == kEnds.end()) return;
    const Nearness near = nearness(told_, known);
    if (near == Nearness::kNone) return;
    // What an order did is done on many days around its own.
    const bool is_of_order = turn == Turn::kIssued || turn == Turn::kEffective ||
                             turn == Turn::kIntroduced || turn == Turn::kWithdrawn;
    if (is_of_order && near > Nearness::kMonth) return;
    const bool is_better =
        near < best_.nearness || (near == best_.nearness && is_object_named && !best_.is_named);
    if (is_better) best_ = {turn, of, to, near, known.days().first(), is_object_named};
  }

  void weigh_unit(std::string_view name) {
    const Unit* unit = a_.ledger_.unit(name);
    if (unit == nullptr) return;
    const bool is_begun = a_.stands_between(first_, last_, "unit_beginning");
    const bool is_ended = a_.stands_between(first_, last_, "unit_ending");
    weigh(Turn::kFormed, unit->unit, {}, unit->formed, is_begun);
    weigh(Turn::kDisbanded, unit->unit, {}, unit->disbanded, is_ended);
    for (const Station* row : a_.ledger_.stations_of(unit->unit)) {
      const bool is_there = is_named(MentionKind::kPlace, row->place);
      weigh(Turn::kMovedIn, row->unit, row->place, row->spell.from, is_there);
      if (!row->spell.ends_by_rule)
        weigh(Turn::kMovedOut, row->unit, row->place, row->spell.to, is_there);
    }
  }

  // "His majority came on 3 May 1943": a rank, whichever.
  [[nodiscard]] bool tells_step(std::string_view kind) const {
    const WordList* words = a_.lexicon_.grammars().list("step_word");
    for (std::uint32_t t = first_; t < last_; ++t) {
      if (a_.value_in(words, t) == kind) return true;
    }
    return false;
  }

  // "The bars went on 3 May 1943", by whatever order.
  void weigh_marking(std::string_view name, bool is_ordered) {
    for (const Order* row : a_.ledger_.orders_of(name)) {
      const bool withdraws = row->action == OrderAction::kWithdraws;
      weigh(withdraws ? Turn::kWithdrawn : Turn::kIntroduced, row->marking, {},
            row->effective.is_unknown() ? row->issued : row->effective, is_ordered);
    }
  }

  void weigh_person(std::string_view name) {
    struct Kind {
      std::string_view kind;
      MentionKind named;
      Turn begin, end;
    };
    static constexpr std::array<Kind, 4> kKinds = {{
        {"rank", MentionKind::kRank, Turn::kPromoted, Turn::kNone},
        {"award", MentionKind::kAward, Turn::kAwarded, Turn::kNone},
        {"command", MentionKind::kUnit, Turn::kCommand, Turn::kLeftCommand},
        {"unit", MentionKind::kUnit, Turn::kJoined, Turn::kLeft},
    }};
    for (const Service* row : a_.ledger_.service_of(name)) {
      const auto* const kind = std::find_if(kKinds.begin(), kKinds.end(),
                                            [&](const Kind& one) { return one.kind == row->kind; });
      if (kind == kKinds.end()) continue;
      const bool is_it = is_named(kind->named, row->value) || tells_step(row->kind);
      weigh(kind->begin, row->person, row->value, row->spell.from, is_it);
      if (kind->end != Turn::kNone && !row->spell.ends_by_rule)
        weigh(kind->end, row->person, row->value, row->spell.to, is_it);
    }
  }

  void weigh_order(std::string_view name) {
    for (const Order& row : a_.ledger_.orders()) {
      if (row.order != name) continue;
      weigh(Turn::kIssued, row.order, {}, row.issued, true);
      weigh(Turn::kEffective, row.order, {}, row.effective, true);
    }
  }

  [[nodiscard]] bool is_in_block(MentionKind kind, std::string_view key) const {
    return a_.any_mention(kind, [&](const Mention& name) { return name.value == key; });
  }

  // Whether any row of the ledger that the words may tell of has that day.
  [[nodiscard]] bool is_of_another() const {
    const auto is_it = [&](const Edtf& known) {
      return !known.is_unknown() && known.precision() == Precision::kDay &&
             known.days().contains(told_);
    };
    const auto any = [](const auto& rows, const auto& is) {
      return std::any_of(rows.begin(), rows.end(), is);
    };
    const Ledger& ledger = a_.ledger_;
    // A common day is that of many rows, of which only those count that the block may tell of.
    const bool is_any = !is_common(told_);
    const auto is_at_hand = [&](MentionKind kind, std::string_view key) {
      return is_any || key == best_.of || is_in_block(kind, key);
    };
    constexpr MentionKind kUnit = MentionKind::kUnit, kPerson = MentionKind::kPerson;
    if (any(ledger.units(),
            [&](const Unit& row) {
              return (is_it(row.formed) || is_it(row.disbanded)) && is_at_hand(kUnit, row.unit);
            }) ||
        any(ledger.stations(),
            [&](const Station& row) {
              return (is_it(row.spell.from) || is_it(row.spell.to)) && is_at_hand(kUnit, row.unit);
            }) ||
        any(ledger.orders(),
            [&](const Order& row) { return is_it(row.issued) || is_it(row.effective); }) ||
        any(ledger.service(),
            [&](const Service& row) {
              return (is_it(row.spell.from) || is_it(row.spell.to)) &&
                     is_at_hand(kPerson, row.person);
            }) ||
        any(ledger.people(), [&](const Person& row) {
          return (is_it(row.born) || is_it(row.died)) && is_at_hand(kPerson, row.person);
        }))
      return true;
    // Of a machine that the block names.
    for (const Mention& name : a_.mentions_of(MentionKind::kAirframe)) {
      for (const History* row : ledger.history_of(name.value)) {
        if (is_it(row->spell.from) || is_it(row->spell.to)) return true;
      }
      for (const Airframe* row : ledger.machine_of(name.value)) {
        if (is_it(row->taken_on_charge) || is_it(row->struck_off_charge)) return true;
      }
    }
    return false;
  }

  // Whether the block tells the row's own day as well: then this one is of something else.
  [[nodiscard]] bool is_told_rightly() const {
    for (std::size_t i = a_.first_claim_; i < a_.out_.size(); ++i) {
      const Claim& other = a_.out_[i];
      if (other.kind == ClaimKind::kDate && !other.date.is_unknown() &&
          other.date.days().first() == best_.day && other.date.days().last() == best_.day)
        return true;
    }
    return false;
  }

  void gather(const Claim& date, std::uint32_t token) {
    first_ = a_.begin_of_sentence(token);
    last_ = token;
    const auto count = static_cast<std::uint32_t>(a_.mentions_.tokens.size());
    while (last_ < count && a_.clauses_.sentence_of[last_] == a_.clauses_.sentence_of[token])
      ++last_;
    named_.clear();
    subjects_.clear();
    machines_ = dates_ = 0;
    for (const Mention& name : a_.mentions_.items) {
      if (name.first < first_ || name.first >= last_) continue;
      dates_ += name.kind == MentionKind::kDate ? 1 : 0;
      machines_ += name.kind == MentionKind::kAirframe ? 1 : 0;
      if (!name.known || !name.readings.empty()) continue;
      named_.push_back(&name);
      if (name.kind != MentionKind::kUnit && name.kind != MentionKind::kPerson &&
          name.kind != MentionKind::kOrder)
        continue;
      if (std::find(subjects_.begin(), subjects_.end(), name.value) != subjects_.end()) continue;
      subjects_.push_back(name.value);
    }
    if (std::find(subjects_.begin(), subjects_.end(), date.subject) == subjects_.end())
      subjects_.push_back(date.subject);
  }

  // "The squadron moved to the Point on 3 May 1943": the one named last before the sentence.
  void weigh_carried() {
    for (const MentionKind kind : {MentionKind::kUnit, MentionKind::kPerson}) {
      const bool is_here = std::any_of(named_.begin(), named_.end(),
                                       [&](const Mention* name) { return name->kind == kind; });
      const Mention* last = nullptr;
      for (const Mention& name : a_.mentions_of(kind)) {
        if (name.first < first_ && name.known && name.readings.empty()) last = &name;
      }
      if (is_here || last == nullptr) continue;
      kind == MentionKind::kUnit ? weigh_unit(last->value) : weigh_person(last->value);
    }
    if (!best_.is_named || best_.nearness > Nearness::kYear) best_ = {};
  }

  // "In May 1943 it went to the Point", whichever unit it is: no other may be meant.
  void weigh_place() {
    if (is_common(told_)) return;
    for (const Mention* place : named_) {
      if (place->kind != MentionKind::kPlace) continue;
      for (const Station& row : a_.ledger_.stations()) {
        if (row.place == place->value && nearness(told_, row.spell.from) == Nearness::kYear)
          weigh(Turn::kMovedIn, row.unit, row.place, row.spell.from, true);
      }
    }
  }

  [[nodiscard]] bool is_enough(const Claim& date) const {
    switch (best_.nearness) {
      case Nearness::kSame:
        return best_.is_named || !is_common(told_);
      case Nearness::kYear:
        return best_.is_named || (!is_common(told_) && machines_ == 0 && !a_.is_caption());
      case Nearness::kMonth:
      case Nearness::kDigit:
        return best_.is_named && !is_common(told_) && date.of == "event" && dates_ == 1 &&
               machines_ == 0;
      case Nearness::kNone:
        break;
    }
    return false;
  }

  void look_at(Claim& date) {
    told_ = plain_->days().first();
    best_ = {};
    gather(date, a_.token_at(date.begin));
    for (const std::string_view name : subjects_) {
      if (name.empty()) continue;
      weigh_unit(name);
      weigh_person(name);
      weigh_order(name);
    }
    if (machines_ == 0) {
      for (const Mention* name : named_) {
        if (name->kind == MentionKind::kMarking) weigh_marking(name->value, date.of == "order");
      }
      if (best_.turn == Turn::kNone) weigh_carried();
      if (best_.turn == Turn::kNone) weigh_place();
    }
    const bool is_same = best_.nearness == Nearness::kSame;
    if (best_.turn == Turn::kNone || !is_enough(date) || (is_same && !date.hedged)) return;
    if (!is_same && (is_of_another() || is_told_rightly())) return;
    date.turn = best_.turn;
    date.turn_of = best_.of;
    date.turned_to = best_.to;
    date.date = *plain_;
    date.when.known = true;
    date.when.days = date.date.days();
    date.when.widened = date.date.widened(a_.ledger_.settings().margins);
    if (!is_same) date.said |= kSaidNearARow;
  }

  BlockAssembler& a_;
  Day told_ = 0;
  Turning best_;
  const Edtf* plain_ = nullptr;         // the date without its bound
  bool is_end_ = false;                 // something lasted until it
  std::uint32_t first_ = 0, last_ = 0;  // tokens of the date's sentence
  std::vector<const Mention*> named_;   // in it, of the ledger
  std::vector<std::string_view> subjects_;
  int machines_ = 0, dates_ = 0;
};

void BlockAssembler::add_days_retold() { DaysRetold(*this).add(); }

}  // namespace tailproof
