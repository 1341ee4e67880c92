// Places of a machine or a unit.
#include <algorithm>
#include <memory>
#include <span>
#include <vector>

#include "tailproof/allowed_days.h"

namespace tailproof {
namespace {

bool is_approximate(const Claim& claim) {
  return claim.position == "approximate" || claim.role == "approximate";
}

bool agrees(const Ledger& ledger, const Claim& claim, std::string_view place) {
  for (const std::string& reading : readings_of(claim)) {
    if (places_agree(ledger, reading, place)) return true;
    if (!is_approximate(claim)) continue;
    const std::string_view one = ledger.theatre_of(reading);
    const std::string_view other = ledger.theatre_of(place);
    if (one.empty() || other.empty() || one == other) return true;
  }
  return false;
}

// A move may take place on the day that either row names as its last or first.
Allowed with_the_days_beside(const Allowed& days) {
  return {days.days.widened(1), days.widened.widened(1)};
}

bool is_mishap(std::string_view event) {
  return event == "accident" || event == "lost" || event == "captured" || event == "interned";
}

bool is_away_from_unit(std::string_view event) {
  constexpr std::string_view kKinds[] = {"struck_off_charge", "stored",   "repair",   "ferried",
                                         "instructional",     "captured", "interned", "accident",
                                         "modified",          "lost"};
  return std::find(std::begin(kKinds), std::end(kKinds), event) != std::end(kKinds);
}

// "SOC 19.5.44, scrapped Orrin": where a dated event took a machine, its unit need not have been.
bool is_place_of_event(const CheckInput& input, const ClaimIndex& index, const Claim& place) {
  if (!place.when.known || place.when.date >= input.claims.size()) return false;
  // What a picture shows of an accident lies where it came down, and not at the unit's station.
  const bool is_of_event = input.claims[place.when.date].of == "event";
  const auto around = index.around(place);
  return std::any_of(around.begin(), around.end(), [&](std::uint32_t i) {
    const Claim& event = index.claim(i);
    return event.kind == ClaimKind::kEvent && event.subject == place.subject && event.when.known &&
           event.when.days == place.when.days && is_affirmed(event) &&
           (is_of_event ? is_away_from_unit(event.value) : is_mishap(event.value));
  });
}

// The claimed place belongs to an event of the same machine on the same date.
std::vector<const History*> rows_of_events(const CheckInput& input, const ClaimIndex& index,
                                           const Claim& place, const When& when) {
  std::vector<const History*> rows;
  if (!place.when.known) return rows;
  for (const std::uint32_t i : index.around(place)) {
    const Claim& event = index.claim(i);
    const bool is_same = event.kind == ClaimKind::kEvent && event.subject == place.subject &&
                         event.when.known && event.when.days == place.when.days &&
                         is_affirmed(event);
    if (!is_same) continue;
    for (const History* row : input.ledger.history_of(place.subject)) {
      const bool is_crash = (row->kind == "lost" || row->kind == "accident") &&
                            (event.value == "lost" || event.value == "accident");
      if (row->place.empty() || (row->kind != event.value && !is_crash)) continue;
      if (row->spell.possible().intersects(when.days)) rows.push_back(row);
    }
  }
  return rows;
}

// A unit of another sentence that is told of another time lends a machine no station ("on the slip
// in May; it went to 9 Squadron on 10 June"), and in running text one that is named only later
// lends none to what is told without a machine.
bool is_told_beside(const ClaimIndex& index, const Claim& place, const Claim& unit) {
  if (index.sentence_of(place).data() == index.sentence_of(unit).data()) return true;
  const bool is_body = index.block_of(place).kind == BlockKind::kBody;
  if (is_body && place.subject.empty()) return unit.begin < place.begin;
  return !unit.when.known || unit.when.widened.intersects(place.when.widened);
}

// The one unit of the caption that the place can be held against; "" when there are none or more.
std::string_view unit_beside(const ClaimIndex& index, const Claim& place) {
  std::string_view unit;
  bool is_beside = false;
  for (const std::uint32_t i : index.around(place)) {
    const Claim& claim = index.claim(i);
    if (claim.kind == ClaimKind::kAirframe && claim.subject != place.subject && claim.shown) {
      return {};
    }
    if (claim.kind != ClaimKind::kUnit || !is_affirmed(claim) || claim.hedged) continue;
    if (claim.tense != Tense::kThen || claim.readings.size() > 1 || !claim.shown) continue;
    // Of a picture without a machine, the unit of the people in it serves as well.
    const bool has_sense = claim.role.empty() || claim.role == "holder" ||
                           claim.role == "operator" || claim.role == "member";
    if (!has_sense || claim.subject != place.subject) continue;
    if (!unit.empty() && unit != claim.value) return {};
    unit = claim.value;
    is_beside = is_beside || is_told_beside(index, place, claim);
  }
  return is_beside ? unit : std::string_view{};
}

// Placements that a claim is held against.
struct KnownPlaces {
  std::shared_ptr<const MachinePlaces> machine;
  std::vector<Placement> unit;
  bool is_own_only = false;

  [[nodiscard]] std::span<const Placement> placements() const {
    return machine != nullptr ? std::span(machine->own_first) : std::span(unit);
  }
};

KnownPlaces known_places(const CheckInput& input, const ClaimIndex& index, const Claim& claim,
                         const When& when) {
  const Ledger& ledger = input.ledger;
  KnownPlaces known;
  if (ledger.unit(claim.subject) != nullptr) {
    known.unit = placements_of_unit(ledger, claim.subject);
    return known;
  }
  if (ledger.person(claim.subject) != nullptr) return known;
  known.machine = places_of(input, claim.subject);
  known.is_own_only = is_place_of_event(input, index, claim);
  if (known.is_own_only) return known;
  const auto placements = known.placements();
  const bool is_placed =
      std::any_of(placements.begin(), placements.end(), [&](const Placement& placement) {
        return !placement.is_event && placement.possible.widened.intersects(when.widened);
      });
  if (is_placed || !when.known) return known;
  const std::string_view unit = unit_beside(index, claim);
  if (unit.empty()) return known;
  known.machine = nullptr;
  known.unit = placements_of_unit(ledger, unit);
  return known;
}

// "Until June at Holmgate", "between June and January": told of a stay, and no mere visit.
bool is_stay(const CheckInput& input, const Claim& place) {
  if ((place.said & kSaidStretch) != 0) return true;
  return place.when.known && place.when.date < input.claims.size() &&
         input.claims[place.when.date].ends.size() == 2;
}

// Whether the caption says that the machine, or what it shows, is of this unit.
bool names_unit(const CheckInput& input, const ClaimIndex& index, const Claim& place,
                std::string_view unit) {
  const auto around = index.around(place);
  return std::any_of(around.begin(), around.end(), [&](std::uint32_t i) {
    const Claim& claim = index.claim(i);
    if (claim.kind != ClaimKind::kUnit || !is_affirmed(claim) || claim.hedged) return false;
    const bool is_then = claim.tense == Tense::kThen && claim.role != "former" &&
                         claim.role != "later" && claim.shown;
    return is_then && agrees_with_any(input.ledger, unit, readings_of(claim));
  });
}

// "At 2 Repair Shop, Brannet": a yard in which the text has the machine stand lends it its
// stations, whoever held it meanwhile.
Allowed days_at_yard(const CheckInput& input, const ClaimIndex& index, const Claim& place) {
  Allowed days = Allowed::none();
  for (const std::uint32_t i : index.around(place)) {
    const Claim& claim = index.claim(i);
    const bool is_of_it = claim.kind == ClaimKind::kUnit && claim.subject == place.subject &&
                          claim.role.empty() && is_affirmed(claim);
    const Unit* unit = is_of_it ? input.ledger.unit(claim.value) : nullptr;
    if (unit == nullptr || !is_servicing_kind(unit->kind)) continue;
    for (const Placement& placement : placements_of_unit(input.ledger, unit->unit)) {
      if (agrees(input.ledger, place, placement.place)) days = unite(days, placement.possible);
    }
  }
  return days;
}

}  // namespace

std::optional<Allowed> days_at_place(const CheckInput& input, const ClaimIndex& index,
                                     const Claim& claim, const When& when, Stations stations,
                                     Grounds* grounds) {
  const Ledger& ledger = input.ledger;
  for (const std::string& reading : readings_of(claim)) {
    if (ledger.place(reading) == nullptr) return std::nullopt;
  }
  Allowed there;
  Certain elsewhere;
  const KnownPlaces known = known_places(input, index, claim, when);
  for (const Placement& placement : known.placements()) {
    if (known.is_own_only && !placement.is_own) continue;
    const bool is_station = placement.station != nullptr;
    if (is_station && stations == Stations::kOfNamedUnits &&
        !names_unit(input, index, claim, placement.station->unit)) {
      continue;
    }
    const bool is_there = agrees(ledger, claim, placement.place);
    if (is_there) {
      there = unite(there, with_the_days_beside(placement.possible));
    } else if (!placement.is_event) {
      elsewhere = unite(elsewhere, placement.certain);
    }
    if (grounds == nullptr || (placement.is_event && !is_there)) continue;
    grounds->add(
        is_there ? placement.possible.days : placement.certain.days, !is_there, placement.place,
        [&] { return placement.evidence(); },
        is_station ? std::string_view(placement.station->unit) : std::string_view{});
  }
  if (ledger.airframe(claim.subject) != nullptr)
    there = unite(there, days_at_yard(input, index, claim));
  for (const History* row : rows_of_events(input, index, claim, when)) {
    if (agrees(ledger, claim, row->place)) continue;
    const Certain certain = certain_days(row->spell, ledger.settings().margins);
    elsewhere = unite(elsewhere, certain);
    if (grounds != nullptr) {
      grounds->add(certain.days, true, row->place, [&] { return quote_history(*row); });
    }
  }
  Allowed free = except(elsewhere);
  // On the way from one station elsewhere to the next it does not stay at this place either.
  if (ledger.unit(claim.subject) != nullptr && is_stay(input, claim)) {
    free = without_short_gaps(free);
  }
  const Allowed in_life = only_in_life(ledger, claim.subject, when, free);
  // To ask what a long paragraph tells is dear, and only seldom decides.
  const bool decides = free.widened.intersects(when.widened) &&
                       !in_life.widened.intersects(when.widened) && !tells_of_end(index, claim);
  return unite(there, decides ? in_life : free);
}

}  // namespace tailproof
