#include "tailproof/placement.h"

#include <algorithm>
#include <functional>
#include <utility>

namespace tailproof {
namespace {

bool is_one_of(std::string_view word, std::initializer_list<std::string_view> words) {
  return std::find(words.begin(), words.end(), word) != words.end();
}

// Where the machine's own rows name a place, its unit's station does not count.
void prefer_own_rows(std::vector<Placement>& placements) {
  Certain own;
  for (const Placement& placement : placements) {
    if (placement.is_own && !placement.is_event) own = unite(own, placement.certain);
  }
  const DaySet open = own.narrowed.complement();
  if (open.is_all()) return;
  for (Placement& placement : placements) {
    if (placement.is_own) continue;
    placement.possible = {placement.possible.days.intersect(open),
                          placement.possible.widened.intersect(open)};
    placement.certain = {placement.certain.days.intersect(open),
                         placement.certain.narrowed.intersect(open)};
  }
}

std::shared_ptr<const MachinePlaces> find_places(const Ledger& ledger, std::string_view serial) {
  auto found = std::make_shared<MachinePlaces>();
  found->serial = serial;
  found->all = placements_of_machine(ledger, serial);
  found->own_first = found->all;
  prefer_own_rows(found->own_first);
  return found;
}

bool touches(const Allowed& one, const Allowed& other) {
  return one.widened.intersects(other.widened);
}

}  // namespace

bool is_event_kind(std::string_view kind) {
  return is_one_of(kind,
                   {"lost", "accident", "repaint", "modified", "ferried", "captured", "interned"});
}

bool is_servicing_kind(std::string_view kind) {
  return is_one_of(kind, {"servicing", "depot", "maintenance", "repair", "storage", "yard", "park",
                          "store", "stores", "workshop", "workshops", "salvage", "erection"});
}

// Every service has its own word for who flies: patrol, company, flotilla.
bool is_flying_kind(std::string_view kind) {
  return !kind.empty() && !is_servicing_kind(kind) &&
         !is_one_of(kind, {"wing", "group", "command", "division", "brigade", "regiment", "corps",
                           "headquarters", "staff", "fleet", "air force", "foreign", "station",
                           "works", "maker", "museum"});
}

bool places_agree(const Ledger& ledger, std::string_view one, std::string_view other) {
  return one == other || ledger.is_place_within(one, other) || ledger.is_place_within(other, one);
}

bool units_agree(const Ledger& ledger, std::string_view one, std::string_view other) {
  return one == other || ledger.is_unit_within(one, other) || ledger.is_unit_within(other, one);
}

bool agrees_with_any(const Ledger& ledger, std::string_view unit,
                     std::span<const std::string> readings) {
  return std::any_of(readings.begin(), readings.end(), [&](const std::string& reading) {
    return units_agree(ledger, unit, reading);
  });
}

bool was_ever_with(const Ledger& ledger, const Claim& unit) {
  const std::span<const std::string> units = readings_of(unit);
  const std::vector<const History*> history = ledger.history_of(unit.subject);
  return std::any_of(history.begin(), history.end(), [&](const History* row) {
    return !row->unit.empty() && agrees_with_any(ledger, row->unit, units);
  });
}

Evidence quote_history(const History& history) {
  std::string says = history.serial + " ";
  says += history.kind.empty() ? "recorded" : history.kind;
  if (!history.unit.empty()) {
    says += history.role == "operator" ? ", flown by " + history.unit
            : history.role == "holder" ? ", held by " + history.unit
                                       : ", " + history.unit;
  }
  if (!history.place.empty()) says += " at " + history.place;
  says += " " + in_words(history.spell);
  if (!history.detail.empty()) says += " (" + history.detail + ")";
  return quote(history.row, std::move(says));
}

Evidence Placement::evidence() const {
  if (station == nullptr) return history == nullptr ? Evidence{} : quote_history(*history);
  std::string says = station->unit + " at " + station->place + " " + in_words(station->spell);
  if (history != nullptr) says += ", with " + history->serial;
  return quote(station->row, std::move(says));
}

std::vector<Placement> placements_of_unit(const Ledger& ledger, std::string_view unit) {
  const Margins& margins = ledger.settings().margins;
  std::vector<Placement> placements;
  for (const Station* station : ledger.stations_of(unit)) {
    if (station->place.empty()) continue;
    Placement placement;
    placement.place = station->place;
    placement.possible = possible_days(station->spell, margins);
    placement.certain = certain_days(station->spell, margins);
    placement.station = station;
    placements.push_back(std::move(placement));
  }
  return placements;
}

std::vector<Placement> placements_of_machine(const Ledger& ledger, std::string_view serial) {
  const Margins& margins = ledger.settings().margins;
  std::vector<Placement> placements;
  for (const History* row : ledger.history_of(serial)) {
    const Allowed possible = possible_days(row->spell, margins);
    const Certain certain = certain_days(row->spell, margins);
    if (!row->place.empty()) {
      Placement placement;
      placement.place = row->place;
      placement.possible = possible;
      placement.certain = certain;
      placement.is_event = is_event_kind(row->kind);
      placement.is_own = true;
      placement.history = row;
      placements.push_back(std::move(placement));
      continue;
    }
    // A unit that is only mentioned (who repainted it) does not say where the machine lives.
    if (row->unit.empty() || row->role.empty() || is_event_kind(row->kind)) continue;
    for (const Station* station : ledger.stations_of(row->unit)) {
      if (station->place.empty()) continue;
      const Allowed there = possible_days(station->spell, margins);
      if (!touches(there, possible)) continue;
      Placement placement;
      placement.place = station->place;
      placement.possible = intersect(there, possible);
      placement.certain = intersect(certain_days(station->spell, margins), certain);
      placement.station = station;
      placement.history = row;
      placements.push_back(std::move(placement));
    }
  }
  return placements;
}

std::shared_ptr<const MachinePlaces> Whereabouts::of(std::string_view serial) const {
  const std::size_t slot = std::hash<std::string_view>{}(serial) % kMostKept;
  {
    const std::lock_guard lock(mutex_);
    if (kept_[slot] != nullptr && kept_[slot]->serial == serial) return kept_[slot];
  }
  std::shared_ptr<const MachinePlaces> found = find_places(ledger_, serial);
  const std::lock_guard lock(mutex_);
  kept_[slot] = found;
  return found;
}

std::shared_ptr<const MachinePlaces> places_of(const CheckInput& input, std::string_view serial) {
  return input.whereabouts != nullptr ? input.whereabouts->of(serial)
                                      : find_places(input.ledger, serial);
}

std::vector<std::string_view> theatres_on(const Ledger& ledger,
                                          std::span<const Placement> placements,
                                          const DaySet& days) {
  std::vector<std::string_view> theatres;
  for (const Placement& placement : placements) {
    if (!placement.possible.days.intersects(days)) continue;
    const std::string_view theatre = ledger.theatre_of(placement.place);
    if (theatre.empty()) continue;
    if (std::find(theatres.begin(), theatres.end(), theatre) == theatres.end()) {
      theatres.push_back(theatre);
    }
  }
  return theatres;
}

}  // namespace tailproof
