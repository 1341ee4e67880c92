// What the ledger knows of those whom the words around a date name, for a year left unsaid.
#include <algorithm>

#include "claims/assembler.h"

namespace tailproof {
namespace {

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

// The life of the machines that the sentence of a date names, where they were in service at once.
void BlockAssembler::set_likely_days(const Mention& mention, DateMention& date) const {
  constexpr Day kSlack = 31;
  std::uint32_t first = mention.first, last = mention.last;
  while (first > 0 && !mentions_.tokens[first].sentence_start) --first;
  while (last < mentions_.tokens.size() && !mentions_.tokens[last].sentence_start) ++last;
  // "X12 had not lived to see it. She flew into a tower on 29 January."
  std::uint32_t from = first;
  if (from > 0 && is_in("cue_pronoun", first)) {
    do --from;
    while (from > 0 && !mentions_.tokens[from].sentence_start);
  }
  // "X12 came in July, X14 in the November after": of a list that gives each its date, those before
  // this one.
  std::uint32_t to = last, since = from;
  for (const Mention& other : mentions_of(MentionKind::kDate)) {
    if (other.last <= mention.first && other.first >= from) since = other.last;
  }
  const bool is_listed = any_mention(MentionKind::kAirframe, [&](const Mention& machine) {
    return machine.role.empty() && machine.first >= since && machine.last <= mention.first;
  });
  if (is_listed) {
    from = since;
    to = mention.first;
  }
  for (const Mention& machine : mentions_of(MentionKind::kAirframe)) {
    if (!machine.role.empty() || machine.first < from || machine.last > to) continue;
    const Airframe* row = ledger_.airframe(machine.value);
    if (row == nullptr) continue;
    witness_machine(date, ledger_, *row, Precision::kMonth);
    if (!row->taken_on_charge.is_unknown())
      date.likely_first = std::max(date.likely_first, row->taken_on_charge.days().first() - kSlack);
    if (!row->struck_off_charge.is_unknown())
      date.likely_last = std::min(date.likely_last, row->struck_off_charge.days().last() + kSlack);
  }
  // "X12 joined them in 1941. Two cartridges to a start. She went down on 5 July": what befell the
  // machine last spoken of, to the very day.
  constexpr int kSentencesBack = 4;
  const auto is_machine = [&](const Mention& machine, std::uint32_t begin, std::uint32_t end) {
    return machine.first >= begin && machine.first <= end;
  };
  const auto names_machine = [&](std::uint32_t begin, std::uint32_t end) {
    return any_mention(MentionKind::kAirframe,
                       [&](const Mention& machine) { return is_machine(machine, begin, end); });
  };
  std::uint32_t spoken_end = from, spoken = from;
  for (int back = 0; back < kSentencesBack && spoken > 0 && !names_machine(spoken, last); ++back) {
    spoken_end = spoken;
    do --spoken;
    while (spoken > 0 && !mentions_.tokens[spoken].sentence_start);
  }
  for (const Mention& machine : mentions_of(MentionKind::kAirframe)) {
    if (spoken_end == spoken || !machine.role.empty()) continue;
    const Airframe* row =
        is_machine(machine, spoken, spoken_end - 1) ? ledger_.airframe(machine.value) : nullptr;
    if (row != nullptr) witness_machine(date, ledger_, *row, Precision::kDay);
  }
  // "Order 17/43, signed on 6 September": the year in which it was.
  for (const Mention& order : mentions_of(MentionKind::kOrder)) {
    if (order.last <= first || order.first >= last) continue;
    for (const Order& row : ledger_.orders()) {
      if (row.order != order.value) continue;
      for (const Edtf& told : {row.issued, row.effective}) {
        if (!told.is_unknown() && told.precision() == Precision::kDay && !told.days().empty())
          date.witnessed.push_back({told.days().first(), told.days().last()});
      }
    }
  }
  // "They made him Captain in September": the day on which he was, by the ledger.
  for (const Mention& rank : mentions_of(MentionKind::kRank)) {
    if (rank.first < first || rank.last > last ||
        mention_over(MentionKind::kPerson, rank.last) != nullptr)
      continue;
    for (const Mention& person : mentions_of(MentionKind::kPerson)) {
      if (person.first < from || person.last > last || !person.readings.empty()) continue;
      for (const Service* step : ledger_.service_of(person.value)) {
        const Edtf& day = step->spell.from;
        const bool is_it = step->kind == "rank" && step->value == rank.value && !day.is_unknown() &&
                           day.precision() <= Precision::kMonth && !day.days().empty();
        if (is_it) date.witnessed.push_back({day.days().first(), day.days().last()});
      }
    }
  }
  // "Was posted to 923 Squadron that October": no October in which there was no such unit.
  for (const Mention& unit : mentions_of(MentionKind::kUnit)) {
    if (unit.first < first || unit.last > last) continue;
    const Unit* row = unit.readings.size() > 1 ? nullptr : ledger_.unit(unit.value);
    if (row == nullptr) continue;
    if (date.first.precision == Precision::kDay) {
      witness(date, row->formed, Precision::kDay);
      witness(date, row->disbanded, Precision::kDay);
      for (const Station* station : ledger_.stations_of(row->unit)) {
        witness(date, station->spell.from, Precision::kDay);
        witness(date, station->spell.to, Precision::kDay);
      }
    }
    if (!row->formed.is_unknown())
      date.unit_first = std::max(date.unit_first, row->formed.days().first() - kSlack);
    if (!row->disbanded.is_unknown())
      date.unit_last = std::min(date.unit_last, row->disbanded.days().last() + kSlack);
  }
  // "There was a night in December. X12 did not come back": the scene is told before the machine.
  const auto names_in = [&](std::uint32_t begin, std::uint32_t end) {
    return std::any_of(mentions_.items.begin(), mentions_.items.end(), [&](const Mention& other) {
      return other.first >= begin && other.last <= end &&
             (other.kind == MentionKind::kAirframe || other.kind == MentionKind::kUnit ||
              other.kind == MentionKind::kPerson);
    });
  };
  std::uint32_t next = last;
  while (next < mentions_.tokens.size() && (next == last || !mentions_.tokens[next].sentence_start))
    ++next;
  const bool has_own_date = any_mention(MentionKind::kDate, [&](const Mention& other) {
    const DateUnit& unit = mentions_.dates[other.payload].first;
    return other.first >= last && other.last <= next && (unit.month != 0 || unit.season != 0);
  });
  const bool is_scene = !is_caption() && date.joint == DateJoint::kNone && next > last &&
                        !has_own_date && !names_in(first, last);
  for (const Mention& machine : mentions_of(MentionKind::kAirframe)) {
    if (!is_scene || !machine.role.empty() || machine.first < last || machine.last > next) continue;
    for (const History* told : ledger_.history_of(machine.value)) {
      const Edtf& day = told->spell.from;
      if (!day.is_unknown() && day.precision() == Precision::kDay && !day.days().empty())
        date.witnessed.push_back({day.days().first(), day.days().last()});
    }
  }
  // "He did not come back on 3 May": the year in which something befell him then.
  const bool opens_with_he = first > 0 && office(first) == "he";
  std::uint32_t before = first;
  while (opens_with_he && before > 0) {
    --before;
    if (mentions_.tokens[before].sentence_start) break;
  }
  for (const Mention& person : mentions_of(MentionKind::kPerson)) {
    if (person.first < before || person.last > last || person.readings.size() > 1 ||
        date.joint != DateJoint::kNone)
      continue;
    const Person* row = ledger_.person(person.value);
    if (row == nullptr) continue;
    if (date.first.precision > Precision::kMonth) continue;
    witness(date, row->died, Precision::kDay);
    for (const Service* service : ledger_.service_of(row->person)) {
      witness(date, service->spell.from, Precision::kDay);
      witness(date, service->spell.to, Precision::kDay);
    }
  }
  if (date.likely_first <= date.likely_last) return;
  date.likely_first = kFirstDay;
  date.likely_last = kLastDay;
}

}  // namespace tailproof
