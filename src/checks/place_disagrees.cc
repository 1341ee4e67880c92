// | situation                                                               | level  |
// | the machine's own row, or its unit's station, puts it elsewhere all day | error  |
// | the unit of which the text speaks was stationed elsewhere               | error  |
// | an event of the caption is recorded at another place                    | error  |
// | a place within the other, either way round                              | silent |
// | a day next to a move, a gap between stations                            | silent |
// | in the air, or near a place: only another theatre counts                | error  |
// | no place known for the machine or its units                             | silent |
#include <algorithm>
#include <string>
#include <vector>

#include "tailproof/claim_index.h"
#include "tailproof/placement.h"

namespace tailproof {
namespace {

constexpr std::string_view kId = "place-disagrees";
constexpr std::size_t kQuoted = 4;

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

// Where the machine's own rows name a place, its unit's station does not count.
void prefer_own_rows(std::vector<Placement>& placements) {
  Certain own;
  for (const Placement& placement : placements) {
    if (placement.is_own && !placement.is_event) own = unite(own, placement.certain);
  }
  const DaySet open = own.narrowed.complement();
  for (Placement& placement : placements) {
    if (placement.is_own) continue;
    placement.possible = {placement.possible.days.intersect(open),
                          placement.possible.widened.intersect(open)};
    placement.certain = {placement.certain.days.intersect(open),
                         placement.certain.narrowed.intersect(open)};
  }
}

// The claimed place belongs to an event of the same machine on the same date.
std::vector<const History*> rows_of_events(const CheckInput& input, const ClaimIndex& index,
                                           const Claim& place) {
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
      if (row->spell.possible().intersects(place.when.days)) rows.push_back(row);
    }
  }
  return rows;
}

// The one unit of the caption that the place can be held against; "" when there are none or more.
std::string_view unit_beside(const ClaimIndex& index, const Claim& place) {
  std::string_view unit;
  for (const std::uint32_t i : index.around(place)) {
    const Claim& claim = index.claim(i);
    if (claim.kind == ClaimKind::kAirframe && claim.subject != place.subject && claim.shown) {
      return {};
    }
    if (claim.kind != ClaimKind::kUnit || !is_affirmed(claim) || claim.hedged) continue;
    if (claim.tense != Tense::kThen || claim.readings.size() > 1) continue;
    // Of a picture without a machine, the unit of the people in it serves as well.
    const bool has_sense = claim.role.empty() || claim.role == "holder" ||
                           claim.role == "operator" || claim.role == "member";
    if (!has_sense || claim.subject != place.subject) continue;
    if (!unit.empty() && unit != claim.value) return {};
    unit = claim.value;
  }
  return unit;
}

std::vector<Placement> known_places(const CheckInput& input, const ClaimIndex& index,
                                    const Claim& claim) {
  const Ledger& ledger = input.ledger;
  if (ledger.unit(claim.subject) != nullptr) return placements_of_unit(ledger, claim.subject);
  if (ledger.person(claim.subject) != nullptr) return {};
  std::vector<Placement> placements = placements_of_machine(ledger, claim.subject);
  prefer_own_rows(placements);
  const bool is_placed =
      std::any_of(placements.begin(), placements.end(), [&](const Placement& placement) {
        return !placement.is_event && placement.possible.widened.intersects(claim.when.widened);
      });
  if (is_placed || !claim.when.known) return placements;
  const std::string_view unit = unit_beside(index, claim);
  return unit.empty() ? placements : placements_of_unit(ledger, unit);
}

}  // namespace

std::vector<Query> check_place_disagrees(const CheckInput& input) {
  const ClaimIndex index(input);
  const Ledger& ledger = input.ledger;
  return judge_claims(input, ClaimKind::kPlace, [&](const Claim& claim) -> std::optional<Query> {
    if (!holds_at_its_date(input, claim) || !claim.known) return std::nullopt;
    if (!claim.role.empty() && claim.role != "approximate") return std::nullopt;
    for (const std::string& reading : readings_of(claim)) {
      if (ledger.place(reading) == nullptr) return std::nullopt;
    }
    const std::vector<Placement> placements = known_places(input, index, claim);
    Allowed there;
    Certain elsewhere;
    std::vector<Evidence> evidence;
    std::string where;
    const auto add_elsewhere = [&](const Certain& certain, std::string_view place,
                                   const Evidence& row) {
      elsewhere = unite(elsewhere, certain);
      if (!certain.days.intersects(claim.when.days) || evidence.size() >= kQuoted) return;
      evidence.push_back(row);
      if (where.find(place) == std::string::npos) {
        where += (where.empty() ? "" : " and ") + std::string(place);
      }
    };
    for (const Placement& placement : placements) {
      if (agrees(ledger, claim, placement.place)) {
        there = unite(there, with_the_days_beside(placement.possible));
      } else if (!placement.is_event) {
        add_elsewhere(placement.certain, placement.place, placement.evidence);
      }
    }
    for (const History* row : rows_of_events(input, index, claim)) {
      if (agrees(ledger, claim, row->place)) continue;
      add_elsewhere(certain_days(row->spell, ledger.settings().margins), row->place,
                    quote_history(*row));
    }
    const Allowed allowed = unite(there, except(elsewhere));
    const std::optional<Level> level = level_of(claim, fit(claim.when, allowed), Level::kError);
    if (!level || evidence.empty()) return std::nullopt;
    const std::string who = claim.subject.empty() ? "the photograph" : claim.subject;
    std::string message = who + " is placed at " + claim.value;
    const std::string date = when_in_words(claim.when);
    if (!date.empty()) message += " " + date;
    message += ", but the ledger has it at " + where;
    Query query = query_at(kId, input, claim, *level, std::move(message));
    query.evidence = std::move(evidence);
    query.suggestion = where;
    return query;
  });
}

}  // namespace tailproof
