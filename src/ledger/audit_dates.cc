// Dates of one row that run backwards.
#include "ledger/audit_parts.h"

namespace tailproof {
namespace {

class DatesAudit {
 public:
  DatesAudit(const Ledger& ledger, AuditFindings& findings)
      : margins_(ledger.settings().margins), findings_(findings) {}

  // `early` and `late` name the two dates as the author knows them.
  void look_at(const RowPlace& place, const std::string& who, std::string_view early,
               const Edtf& first, std::string_view late, const Edtf& last,
               bool may_be_right = false) {
    if (first.is_unknown() || last.is_unknown()) return;
    if (first.days().empty() || last.days().empty()) return;
    if (first.days().first() <= last.days().last()) return;
    const bool saved =
        first.widened(margins_).first() <= last.widened(margins_).last() || may_be_right;
    const std::string says =
        std::string(early) + " " + first.text() + ", " + std::string(late) + " " + last.text();
    findings_.push_back({saved,
                         {audit_row(place, who + ": " + says)},
                         who + " has " + std::string(late) + " (" + last.text() + ") before " +
                             std::string(early) + " (" + first.text() +
                             "); correct one of the dates"});
  }

  template <typename Row>
  void look_at_spells(std::span<const Row> rows, std::string Row::*who) {
    for (const Row& row : rows) {
      if (!row.spell.ends_by_rule) {
        look_at(row.row, row.*who, "from", row.spell.from, "to", row.spell.to);
      }
    }
  }

 private:
  const Margins& margins_;
  AuditFindings& findings_;
};

}  // namespace

void audit_dates(const Ledger& ledger, AuditFindings& findings) {
  DatesAudit dates(ledger, findings);
  for (const Airframe& row : ledger.airframes()) {
    dates.look_at(row.row, row.serial, "taken_on_charge", row.taken_on_charge, "struck_off_charge",
                  row.struck_off_charge);
  }
  for (const Unit& row : ledger.units()) {
    dates.look_at(row.row, row.unit, "formed", row.formed, "disbanded", row.disbanded);
  }
  for (const Person& row : ledger.people()) {
    dates.look_at(row.row, row.person, "born", row.born, "died", row.died);
  }
  for (const Order& row : ledger.orders()) {
    // An order may confirm afterwards what has been done already.
    dates.look_at(row.row, row.order, "issued", row.issued, "effective", row.effective, true);
  }
  dates.look_at_spells(ledger.identities(), &Identity::serial);
  dates.look_at_spells(ledger.histories(), &History::serial);
  dates.look_at_spells(ledger.stations(), &Station::unit);
  dates.look_at_spells(ledger.service(), &Service::person);
  dates.look_at_spells(ledger.combinations(), &Combination::marking);
}

}  // namespace tailproof
