// "19.8.41 | V/104 | Cnt Blythe", "C. Ferrier | Sergeant | 14 Company": who stands in a row, with
// the rank before his name or under a heading for it; of one person alone, the unit as well.
#include <iterator>

#include "claims/table_row.h"

namespace tailproof {

bool BlockAssembler::Row::is_mishap(std::string_view event) {
  return event == "lost" || event == "accident" || event == "captured" || event == "interned";
}

// When they had their ranks: on the day of a mishap, or under a heading that says no more than
// "date"; in a row without dates when the table's caption says.
When BlockAssembler::Row::when_people_stood() const {
  When when;
  std::size_t dates = 0;
  for (const Claim& claim : claims()) {
    if (claim.kind != ClaimKind::kDate) continue;
    ++dates;
    const bool is_day = claim.event == kNone ? column_of(claim.begin) == "date"
                                             : is_mishap(a_.out_[claim.event].value);
    when = is_day && !claim.impossible ? claim.when : When{};
  }
  if (dates > 1) return {};
  const bool has_date = !a_.mentions_of(MentionKind::kDate).empty();
  if (!has_date && a_.block_.table != kNone)
    return caption().when(true, a_.ledger_.settings().margins);
  return when;
}

void BlockAssembler::Row::add_people() {
  const auto people = a_.mentions_of(MentionKind::kPerson);
  const bool is_one = std::distance(people.begin(), people.end()) == 1;
  const When when = when_people_stood();
  for (const Mention& person : people) {
    const auto holder = static_cast<std::uint32_t>(a_.out_.size());
    Claim& claim = a_.add(person, ClaimKind::kPerson);
    claim.subject = subject_;
    claim.readings = person.readings;
    const std::size_t cell = cell_of(person.begin);
    for (const Mention& rank : a_.mentions_of(MentionKind::kRank)) {
      const bool is_title = cell_of(rank.begin) == cell && rank.last <= person.first &&
                            (rank.last == a_.begin_of_name(person) || rank.last == person.first);
      const bool is_column =
          is_one && cell_of(rank.begin) != cell && column_of(rank.begin) == "rank";
      if (!is_title && !is_column) continue;
      Claim& own = a_.add(rank, ClaimKind::kRank);
      own.subject = person.value;
      own.readings = rank.readings;
      own.holder_of_rank = holder;
      own.when = when;
    }
    for (const Mention& unit : a_.mentions_of(MentionKind::kUnit)) {
      const std::string column = column_of(unit.begin);
      if (!is_one || !subject_.empty() || (column != "unit" && column != "units")) continue;
      Claim& own = a_.add(unit, ClaimKind::kUnit);
      own.subject = person.value;
      own.readings = unit.readings;
      own.role = "member";
      own.when = when;
    }
  }
}

}  // namespace tailproof
