// Days in the life of a unit from which another is counted: "a month to the day after the Fourth
// was raised", "a week before 3 Wing moved to the Point", "the morning when 4 Wing became 11 Wing".
#include <algorithm>

#include "claims/assembler.h"

namespace tailproof {
namespace {

// From when the unit was at the place, or until when; nothing where it was there twice.
DaySet day_at_place(const Ledger& ledger, std::string_view unit, std::string_view place,
                    bool is_end) {
  const Station* only = nullptr;
  for (const Station* row : ledger.stations_of(unit)) {
    if (row->place != place) continue;
    if (only != nullptr) return {};
    only = row;
  }
  if (only == nullptr) return {};
  const Edtf& day = is_end ? only->spell.to : only->spell.from;
  return day.is_unknown() ? DaySet{} : day.days();
}

}  // namespace

// Of the clause [first, end) that names the unit: its forming, its end, a move or a new number.
DaySet BlockReading::day_of_unit(const Mention& unit, std::uint32_t first, std::uint32_t end,
                                 const Ledger& ledger) const {
  const Unit* row = unit.readings.empty() && unit.known ? ledger.unit(unit.value) : nullptr;
  if (row == nullptr) return {};
  const auto days_of = [](const Edtf& date) { return date.is_unknown() ? DaySet{} : date.days(); };
  for (std::uint32_t t = unit.last; t < end; ++t) {
    const Mention* other = mention_over(MentionKind::kUnit, t);
    if (other == nullptr || other->value == unit.value) continue;
    const Unit* next = row->replaced_by == other->value ? ledger.unit(other->value) : nullptr;
    return next == nullptr ? DaySet{} : days_of(next->formed);
  }
  for (std::uint32_t t = first; t < end; ++t) {
    const Mention* place = mention_over(MentionKind::kPlace, t);
    if (place == nullptr) continue;
    const bool is_end = stands_between(unit.last, place->first, "unit_leaving");
    return day_at_place(ledger, unit.value, place->value, is_end);
  }
  if (stands_between(unit.last, end, "unit_ending")) return days_of(row->disbanded);
  if (stands_between(unit.last, end, "unit_beginning")) return days_of(row->formed);
  return {};
}

// "The morning when the Fourth became the Eleventh", where the caption has no date.
void BlockAssembler::time_picture_by_spans() {
  if (!is_caption() || mentions_.leads.empty()) return;
  const bool is_dated = std::any_of(
      out_.begin() + static_cast<std::ptrdiff_t>(first_claim_), out_.end(), [](const Claim& claim) {
        return claim.kind == ClaimKind::kDate && claim.of == "photograph" && !claim.negated;
      });
  if (is_dated) return;
  for (const TimeLead& span : mentions_.leads) {
    if (span.least != -span.most || span.is_bare || span.most >= kLastDay || !is_of_picture(span))
      continue;
    const DaySet days = days_told_from(span.last, false, ledger_);
    if (days.empty() || days.is_all() || days.first() <= kFirstDay || days.last() >= kLastDay)
      continue;
    Mention words;
    words.kind = MentionKind::kDate;
    words.first = span.first;
    words.last = span.last;
    words.begin = mentions_.tokens[span.first].begin;
    words.end = mentions_.tokens[span.last - 1].end;
    Claim& claim = add(words, ClaimKind::kDate);
    claim.date =
        Edtf::of_days(DaySet{DayRange{days.first() + span.least, days.last() + span.most}});
    claim.value = claim.date.text();
    claim.of = "photograph";
    claim.subject = figure_subject();
    claim.known = claim.inherited = true;
    if (finder_.explains()) claim.why = "the day in the life of a unit, by the ledger";
    focus_.photograph_dates.push_back(static_cast<std::uint32_t>(out_.size() - 1));
    return;
  }
}

}  // namespace tailproof
