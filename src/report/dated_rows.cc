#include "report/dated_rows.h"

#include <algorithm>

namespace tailproof {

namespace {

std::string joined(std::string words, std::string_view before, std::string_view more) {
  if (!more.empty()) {
    words += words.empty() ? "" : before;
    words += more;
  }
  return words;
}

/// From the first date to the second, either of which may be unknown.
Spell life(const Edtf& from, const Edtf& to) { return Spell{from, to, false}; }

}  // namespace

DatedRows::DatedRows(const Ledger& ledger) {
  for (const Airframe& row : ledger.airframes()) {
    add(row.row, row.serial + " on charge", life(row.taken_on_charge, row.struck_off_charge));
  }
  for (const Identity& row : ledger.identities()) {
    add(row.row, "as " + row.identity, row.spell);
  }
  for (const History& row : ledger.histories()) {
    const bool is_stay = row.kind == "allotted" || row.kind == "stored" || row.kind == "loaned";
    std::string label = is_stay && !row.unit.empty() ? "" : row.kind;
    label = joined(joined(label, ", ", row.unit), ", ", row.role == "holder" ? "" : row.role);
    add(row.row, joined(label, ", ", row.place), row.spell);
  }
  for (const Unit& row : ledger.units()) {
    add(row.row, row.unit + " in being", life(row.formed, row.disbanded));
  }
  for (const Station& row : ledger.stations()) {
    add(row.row, row.unit + " at " + row.place, row.spell);
  }
  for (const Person& row : ledger.people()) {
    add(row.row, row.person + " living", life(row.born, row.died));
  }
  for (const Service& row : ledger.service()) {
    const std::string kind = row.kind == "rank" || row.kind == "unit" ? "" : row.kind + " ";
    add(row.row, kind + row.value, row.spell);
  }
  for (const Order& row : ledger.orders()) {
    add_order(row);
  }
  for (const Combination& row : ledger.combinations()) {
    add(row.row, row.marking + (row.requires_it ? " with " : " without ") + row.with_marking,
        row.spell);
  }
  for (const Photograph& row : ledger.photographs()) {
    if (!row.taken.is_unknown()) {
      add(row.row, "photograph " + row.photograph, row.taken.days(), row.taken.days());
    }
  }
}

std::optional<DatedRow> DatedRows::find(std::string_view table, std::uint32_t line) const {
  const auto found = rows_.find(Place{table, line});
  return found == rows_.end() ? std::nullopt : std::optional(found->second);
}

void DatedRows::add(const RowPlace& place, std::string label, DaySet possible, DaySet certain) {
  if (!possible.is_all()) {
    rows_.insert_or_assign(Place{place.table, place.line},
                           DatedRow{std::move(label), std::move(possible), std::move(certain)});
  }
}

void DatedRows::add(const RowPlace& place, std::string label, const Spell& spell) {
  add(place, std::move(label), spell.possible(), spell.certain());
}

/// An order is in force from its date on, or up to it and, less surely, through the days of grace.
void DatedRows::add_order(const Order& order) {
  const Edtf& date = order.effective.is_unknown() ? order.issued : order.effective;
  if (date.is_unknown() || date.days().empty()) {
    return;
  }
  const Day first = date.days().first();
  const Day last = date.days().last();
  const std::string label = order.order + ": " + order.marking;
  if (order.action == OrderAction::kIntroduces) {
    add(order.row, label, DaySet{DayRange{first, kLastDay}}, DaySet{DayRange{last, kLastDay}});
    return;
  }
  add(order.row, label + " withdrawn", DaySet{DayRange{kFirstDay, after(last, order.grace)}},
      DaySet{DayRange{kFirstDay, first}});
}

}  // namespace tailproof
