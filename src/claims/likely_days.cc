// What the ledger knows of those whom the words around a date name, for a year left unsaid.
#include <algorithm>

#include "claims/assembler.h"

namespace tailproof {
namespace {

constexpr Day kSlack = 31;  // a machine may be told of a little before it came, or after it went

void witness(DateMention& date, const Edtf& told, Precision coarsest) {
  if (told.is_unknown() || told.precision() > coarsest || told.days().empty()) return;
  date.witnessed.push_back({told.days().first(), told.days().last()});
}

// On which days something befell a machine, or began or ended for it.
void witness_machine(DateMention& date, const Ledger& ledger, const Airframe& row,
                     Precision coarsest) {
  witness(date, row.taken_on_charge, coarsest);
  witness(date, row.struck_off_charge, coarsest);
  for (const History* told : ledger.history_of(row.serial)) {
    witness(date, told->spell.from, coarsest);
    witness(date, told->spell.to, told->kind == "repair" ? coarsest : Precision::kDay);
  }
  for (const Photograph* photograph : ledger.photographs_of(row.serial))
    witness(date, photograph->taken, coarsest);
}

}  // namespace

class BlockAssembler::LikelyDays {
 public:
  LikelyDays(const BlockAssembler& block, const Mention& mention, DateMention& date)
      : a_(block), date_(date), first_(mention.first), last_(mention.last) {
    while (first_ > 0 && !starts(first_)) --first_;
    last_ = end_of(mention.last);
    from_ = first_;
    // "X12 had not lived to see it. She flew into a tower on 29 January."
    if (from_ > 0 && a_.is_in("cue_pronoun", first_)) from_ = begin_before(from_);
    to_ = last_;
    look_at_item(mention);
  }

  void tell() {
    tell_machines();
    tell_machine_spoken_of();
    tell_photograph();
    tell_orders();
    tell_ranks();
    tell_units();
    tell_scene();
    tell_people();
    if (date_.likely_first <= date_.likely_last) return;
    date_.likely_first = kFirstDay;
    date_.likely_last = kLastDay;
  }

 private:
  [[nodiscard]] bool starts(std::uint32_t token) const {
    return a_.mentions_.tokens[token].sentence_start;
  }
  [[nodiscard]] std::uint32_t end_of(std::uint32_t token) const {
    while (token < a_.mentions_.tokens.size() && !starts(token)) ++token;
    return token;
  }
  // Where the sentence before begins.
  [[nodiscard]] std::uint32_t begin_before(std::uint32_t token) const {
    do --token;
    while (token > 0 && !starts(token));
    return token;
  }
  [[nodiscard]] const Airframe* machine(const Mention& mention, std::uint32_t from,
                                        std::uint32_t to) const {
    const bool is_there = mention.role.empty() && mention.first >= from && mention.first <= to;
    return is_there ? a_.ledger_.airframe(mention.value) : nullptr;
  }

  // "X12 came in July, X14 in the November after": of a list that gives each its date, those before
  // this one.
  void look_at_item(const Mention& mention) {
    std::uint32_t since = from_;
    for (const Mention& other : a_.mentions_of(MentionKind::kDate)) {
      if (other.last <= mention.first && other.first >= from_) since = other.last;
    }
    const bool is_listed = a_.any_mention(MentionKind::kAirframe, [&](const Mention& named) {
      return named.role.empty() && named.first >= since && named.last <= mention.first;
    });
    if (!is_listed) return;
    from_ = since;
    to_ = mention.first;
  }

  // The life of the machines that the sentence names, where they were in service at once.
  void tell_machines() {
    for (const Mention& mention : a_.mentions_of(MentionKind::kAirframe)) {
      const Airframe* row = mention.last <= to_ ? machine(mention, from_, to_) : nullptr;
      if (row == nullptr) continue;
      witness_machine(date_, a_.ledger_, *row, Precision::kMonth);
      if (!row->taken_on_charge.is_unknown())
        date_.likely_first =
            std::max(date_.likely_first, row->taken_on_charge.days().first() - kSlack);
      if (!row->struck_off_charge.is_unknown())
        date_.likely_last =
            std::min(date_.likely_last, row->struck_off_charge.days().last() + kSlack);
    }
  }

  // "X12 joined them in 1941. Two cartridges to a start. She went down on 5 July": what befell the
  // machine last spoken of, to the very day.
  void tell_machine_spoken_of() {
    constexpr int kSentencesBack = 4;
    const auto names_machine = [&](std::uint32_t begin) {
      return a_.any_mention(MentionKind::kAirframe, [&](const Mention& other) {
        return other.first >= begin && other.first <= last_;
      });
    };
    std::uint32_t end = from_, begin = from_;
    for (int back = 0; back < kSentencesBack && begin > 0 && !names_machine(begin); ++back) {
      end = begin;
      begin = begin_before(begin);
    }
    if (begin == end) return;
    for (const Mention& mention : a_.mentions_of(MentionKind::kAirframe)) {
      if (const Airframe* row = machine(mention, begin, end - 1); row != nullptr)
        witness_machine(date_, a_.ledger_, *row, Precision::kDay);
    }
  }

  // "The same machine on 2 November. (KW 1219)": the day of the one photograph that a caption
  // names.
  void tell_photograph() {
    const auto named = a_.mentions_of(MentionKind::kPhotograph);
    if (!a_.is_caption() || std::distance(named.begin(), named.end()) != 1) return;
    const Photograph* row = a_.ledger_.photograph((*named.begin()).value);
    if (row != nullptr) witness(date_, row->taken, Precision::kDay);
  }

  // "Order 17/43, signed on 6 September": the year in which it was.
  void tell_orders() {
    for (const Mention& order : a_.mentions_of(MentionKind::kOrder)) {
      if (order.last <= first_ || order.first >= last_) continue;
      for (const Order& row : a_.ledger_.orders()) {
        if (row.order != order.value) continue;
        witness(date_, row.issued, Precision::kDay);
        witness(date_, row.effective, Precision::kDay);
      }
    }
  }

  // "They made him Captain in September": the day on which he was, by the ledger.
  void tell_ranks() {
    for (const Mention& rank : a_.mentions_of(MentionKind::kRank)) {
      if (rank.first < first_ || rank.last > last_ ||
          a_.mention_over(MentionKind::kPerson, rank.last) != nullptr)
        continue;
      for (const Mention& person : a_.mentions_of(MentionKind::kPerson)) {
        if (person.first < from_ || person.last > last_ || !person.readings.empty()) continue;
        for (const Service* step : a_.ledger_.service_of(person.value)) {
          if (step->kind == "rank" && step->value == rank.value)
            witness(date_, step->spell.from, Precision::kMonth);
        }
      }
    }
  }

  // "Was posted to 923 Squadron that October": no October in which there was no such unit.
  void tell_units() {
    for (const Mention& unit : a_.mentions_of(MentionKind::kUnit)) {
      if (unit.first < first_ || unit.last > last_) continue;
      const Unit* row = unit.readings.size() > 1 ? nullptr : a_.ledger_.unit(unit.value);
      if (row == nullptr) continue;
      if (date_.first.precision == Precision::kDay) {
        witness(date_, row->formed, Precision::kDay);
        witness(date_, row->disbanded, Precision::kDay);
        for (const Station* station : a_.ledger_.stations_of(row->unit)) {
          witness(date_, station->spell.from, Precision::kDay);
          witness(date_, station->spell.to, Precision::kDay);
        }
      }
      if (!row->formed.is_unknown())
        date_.unit_first = std::max(date_.unit_first, row->formed.days().first() - kSlack);
      if (!row->disbanded.is_unknown())
        date_.unit_last = std::min(date_.unit_last, row->disbanded.days().last() + kSlack);
    }
  }

  // "There was a night in December. X12 did not come back": the scene is told before the machine.
  void tell_scene() {
    if (a_.is_caption() || date_.joint != DateJoint::kNone) return;
    const std::uint32_t next = end_of(std::min<std::uint32_t>(last_ + 1, count()));
    const bool has_own_date = a_.any_mention(MentionKind::kDate, [&](const Mention& other) {
      const DateUnit& unit = a_.mentions_.dates[other.payload].first;
      return other.first >= last_ && other.last <= next && (unit.month != 0 || unit.season != 0);
    });
    const auto& items = a_.mentions_.items;
    const bool names_any = std::any_of(items.begin(), items.end(), [&](const Mention& other) {
      return other.first >= first_ && other.last <= last_ &&
             (other.kind == MentionKind::kAirframe || other.kind == MentionKind::kUnit ||
              other.kind == MentionKind::kPerson);
    });
    if (next <= last_ || has_own_date || names_any) return;
    for (const Mention& mention : a_.mentions_of(MentionKind::kAirframe)) {
      if (!mention.role.empty() || mention.first < last_ || mention.last > next) continue;
      for (const History* told : a_.ledger_.history_of(mention.value))
        witness(date_, told->spell.from, Precision::kDay);
    }
  }

  // "He did not come back on 3 May": the year in which something befell him then.
  void tell_people() {
    if (date_.joint != DateJoint::kNone || date_.first.precision > Precision::kMonth) return;
    const bool opens_with_he = first_ > 0 && a_.office(first_) == "he";
    const std::uint32_t before = opens_with_he ? begin_before(first_) : first_;
    for (const Mention& person : a_.mentions_of(MentionKind::kPerson)) {
      if (person.first < before || person.last > last_ || person.readings.size() > 1) continue;
      const Person* row = a_.ledger_.person(person.value);
      if (row == nullptr) continue;
      witness(date_, row->died, Precision::kDay);
      for (const Service* service : a_.ledger_.service_of(row->person)) {
        witness(date_, service->spell.from, Precision::kDay);
        witness(date_, service->spell.to, Precision::kDay);
      }
    }
  }

  [[nodiscard]] std::uint32_t count() const {
    return static_cast<std::uint32_t>(a_.mentions_.tokens.size());
  }

  const BlockAssembler& a_;
  DateMention& date_;
  std::uint32_t first_, last_;  // of its sentence
  std::uint32_t from_, to_;     // of the words whose machines the date may be of
};

void BlockAssembler::set_likely_days(const Mention& mention, DateMention& date) const {
  LikelyDays(*this, mention, date).tell();
}

}  // namespace tailproof
