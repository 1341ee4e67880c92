#include "chronology/event_records.h"

#include <optional>
#include <utility>

#include "chronology/likeness.h"
#include "tailproof/verdict.h"

namespace tailproof {
namespace {

constexpr Day kDeliveryDays = 31;
constexpr Day kPaintDays = 7;  // "the morning it came out of the paint shop"

// Which rows of histories.csv may tell of a claimed event: words of one family.
bool is_same_family(std::string_view claimed, std::string_view row) {
  if (claimed == row) return true;
  if (is_kind_in(claimed, {"lost", "accident"})) return is_kind_in(row, {"lost", "accident"});
  if (is_kind_in(claimed, {"captured", "interned"}))
    return is_kind_in(row, {"captured", "interned"});
  // Rebuilding, overhaul and repair are told in each other's words.
  if (is_kind_in(claimed, {"repair", "modified"})) return is_kind_in(row, {"repair", "modified"});
  if (is_kind_in(claimed, {"allotted", "loaned", "ferried", "stored", "instructional"})) {
    return is_kind_in(row, {"allotted", "loaned", "ferried", "stored", "instructional"});
  }
  return false;
}

// "Went to the depot", where the ledger has it modified there, and held by the depot the while.
bool is_change_of_hands(std::string_view claimed, const History& row) {
  const bool is_holding = row.role == "holder" || row.role == "operator";
  return claimed == "allotted" && is_holding && !row.unit.empty();
}

void add(EventRecord& record, const Allowed& days, Evidence row, std::string words) {
  record.has_rows = true;
  record.days = unite(record.days, days);
  record.rows.push_back({days.days, std::move(row), std::move(words)});
}

// "Collided with a lighter", as the row of the loss has it: that event, and no other.
bool is_in_its_words(const Ledger& ledger, const Claim& claim) {
  constexpr std::size_t kShortest = 16;
  if (claim.text.size() < kShortest) return false;
  const std::vector<const History*> history = ledger.history_of(claim.subject);
  return std::any_of(history.begin(), history.end(), [&](const History* row) {
    return is_end_kind(row->kind) && row->detail.find(claim.text) != std::string::npos;
  });
}

// "On its back, 9 August", of what was lost on the 19th: the same day, but for a digit.
bool is_misprint_of(const DaySet& told, const DaySet& row) {
  if (told.empty() || row.empty() || told.first() != told.last() || row.first() != row.last())
    return false;
  const CivilDate one = to_civil(told.first()), other = to_civil(row.first());
  constexpr Day kNeighbours = 3;
  return one.year == other.year && one.month == other.month &&
         row.first() - told.first() > kNeighbours && is_slip(told.first(), row.first());
}

EventRecord read_histories(const Ledger& ledger, const Claim& claim) {
  EventRecord record;
  bool has_exact = false;
  for (const History* row : ledger.history_of(claim.subject)) {
    if (!is_same_family(claim.value, row->kind) && !is_change_of_hands(claim.value, *row)) continue;
    // "The bars went on in May": when that marking was painted.
    if (!claim.turned_to.empty() && !names_marking(row->detail, claim.turned_to)) continue;
    if (row->spell.from.is_unknown() && row->spell.to.is_unknown()) {
      record.days = Allowed::always();
    }
    has_exact = has_exact || row->kind == claim.value ||
                (claim.value != "accident" && is_end_kind(row->kind));
    Allowed days = possible_days(row->spell, ledger.settings().margins);
    if (claim.value == "repaint" && (claim.said & kSaidNear) != 0) {
      days = {days.days.widened(kPaintDays), days.widened.widened(kPaintDays)};
    }
    add(record, days, quote_history(*row), in_plain(row->kind) + " " + in_words(row->spell));
  }
  // An accident before the loss may have left no row, unless it is told in the words of the loss.
  if (claim.value == "accident" && !has_exact && !is_in_its_words(ledger, claim) &&
      !is_misprint_of(claim.when.days, record.days.days) && record.has_rows &&
      !record.days.days.empty() && claim.when.days.first() < record.days.days.last()) {
    record.has_rows = false;
  }
  // A loss is no mere accident: accidents alone do not tell when a machine was lost, unless the
  // accident was its end.
  if (claim.value == "lost" && !has_exact) {
    const auto life = ledger.life_of(claim.subject, true);
    const bool ended_then = life && !life->empty() && record.days.widened.contains(life->last());
    if (!ended_then) record.has_rows = false;
  }
  return record;
}

EventRecord read_taking_on(const Ledger& ledger, const Claim& claim) {
  const Margins& margins = ledger.settings().margins;
  EventRecord record;
  for (const Airframe* airframe : ledger.machine_of(claim.subject)) {
    const Edtf& date = airframe->taken_on_charge;
    if (date.is_unknown()) {
      record.days = Allowed::always();
      continue;
    }
    const Day slack = (claim.said & kSaidNear) != 0 ? kDeliveryDays : 0;
    const Allowed days{date.days().widened(slack), date.widened(margins).widened(slack)};
    add(record, days, quote(airframe->row, airframe->serial + " taken on charge " + in_words(date)),
        "taken on charge " + in_words(date));
    record.rows.back().days = date.days();
  }
  // A former number's first day, and the first unit's, are a taking on as well.
  for (const Identity* row : ledger.identities_of(claim.subject)) {
    if (row->kind == "previous_serial" && !row->spell.from.is_unknown()) {
      record.days = unite(record.days, {row->spell.from.days(), row->spell.from.widened(margins)});
    }
  }
  for (const History* row : ledger.history_of(claim.subject)) {
    if (is_kind_in(row->kind, {"allotted", "loaned", "instructional"}) &&
        !row->spell.from.is_unknown()) {
      record.days = unite(record.days, {row->spell.from.days(), row->spell.from.widened(margins)});
    }
  }
  return record;
}

// "In an accident on 8 February", and with a unit again from May: no end of it.
bool is_outlived(const Ledger& ledger, const History& mishap) {
  if (mishap.kind != "accident" || mishap.spell.from.days().empty()) return false;
  const std::vector<const History*> rows = ledger.history_of(mishap.serial);
  return std::any_of(rows.begin(), rows.end(), [&](const History* row) {
    return row->kind == "allotted" && !row->spell.from.is_unknown() &&
           !row->spell.from.days().empty() &&
           row->spell.from.days().first() > mishap.spell.from.days().last();
  });
}

EventRecord read_striking_off(const Ledger& ledger, const Claim& claim) {
  const Margins& margins = ledger.settings().margins;
  EventRecord record;
  for (const Airframe* airframe : ledger.machine_of(claim.subject)) {
    const Edtf& date = airframe->struck_off_charge;
    if (date.is_unknown()) {
      record.days = Allowed::always();
      continue;
    }
    add(record, {date.days(), date.widened(margins)},
        quote(airframe->row, airframe->serial + " struck off charge " + in_words(date)),
        "struck off charge " + in_words(date));
    for (const History* row : ledger.history_of(claim.subject)) {
      const bool may_end_it = is_kind_in(
          row->kind, {"lost", "accident", "captured", "interned", "modified", "instructional"});
      if (!may_end_it || row->spell.from.is_unknown() || is_outlived(ledger, *row)) continue;
      // From the loss to the paper date.
      const DayRange between{row->spell.from.days().first(), date.days().last()};
      if (between.first <= between.last) {
        record.days = unite(record.days, {DaySet{between}, DaySet{between}});
      }
    }
  }
  return record;
}

}  // namespace

std::string in_plain(std::string_view kind) {
  if (kind == "taken_on_charge") return "taken on charge";
  if (kind == "struck_off_charge") return "struck off charge";
  if (kind == "accident") return "in an accident";
  if (kind == "repaint") return "repainted";
  if (kind == "repair") return "repaired";
  return std::string(kind);
}

bool names_marking(std::string_view detail, std::string_view marking) {
  while (!detail.empty()) {
    const std::size_t end = std::min(detail.find(';'), detail.size());
    std::string_view item = detail.substr(0, std::min(end, detail.find('@')));
    detail.remove_prefix(std::min(end + 1, detail.size()));
    while (!item.empty() && item.front() == ' ') item.remove_prefix(1);
    while (!item.empty() && item.back() == ' ') item.remove_suffix(1);
    if (item == marking) return true;
  }
  return false;
}

EventRecord record_of(const Ledger& ledger, const Claim& claim) {
  if (claim.value == "taken_on_charge") return read_taking_on(ledger, claim);
  if (claim.value == "struck_off_charge") return read_striking_off(ledger, claim);
  return read_histories(ledger, claim);
}

}  // namespace tailproof
