#include "run/verdicts.h"

#include <algorithm>
#include <set>
#include <string>
#include <string_view>

#include "tailproof/claim_index.h"
#include "tailproof/verdict.h"

namespace tailproof {

namespace {

bool is_same(std::string_view one, std::string_view other) { return bare(one) == bare(other); }

class Jury {
 public:
  explicit Jury(const Run& run) : ledger_(run.ledger), run_(run) {
    for (const Manuscript& manuscript : run.manuscripts) {
      for (const Block& block : manuscript.blocks) {
        if (!block.figure.empty()) {
          figures_.insert(number_of(block.figure));
        }
      }
    }
  }

  [[nodiscard]] bool upholds(const Claim& claim) const {
    switch (claim.kind) {
      case ClaimKind::kAirframe:
        return is_airframe(claim);
      case ClaimKind::kType:
        return is_type(claim);
      case ClaimKind::kUnit:
        return is_unit(claim);
      case ClaimKind::kPlace:
        return is_place(claim);
      case ClaimKind::kRank:
        return is_served(claim, "rank");
      case ClaimKind::kAward:
        return is_served(claim, "award");
      case ClaimKind::kDate:
        return is_date(claim);
      case ClaimKind::kEvent:
        return is_event(claim);
      case ClaimKind::kMarking:
        return is_repaint(claim);
      case ClaimKind::kMeasure:
        return !claim.measure->converted_text.empty();
      case ClaimKind::kReference:
        if (claim.role == "order") return !ledger_.orders_of(claim.turned_to).empty();
        return claim.role == "photograph" ? ledger_.photograph(claim.value) != nullptr
                                          : figures_.contains(number_of(claim.value));
      case ClaimKind::kPerson:
      case ClaimKind::kCount:
      case ClaimKind::kOrderInTime:
      case ClaimKind::kOverpaint:
        return false;
    }
    return false;
  }

 private:
  /// "Fig. 3", "Figure 3" and "3" as one.
  static std::string number_of(std::string_view label) {
    const std::size_t digit = label.find_first_of("0123456789");
    return bare(digit == std::string_view::npos ? label : label.substr(digit));
  }

  /// Whether the row may have held on a day of the claim. A former or later state may have held at
  /// any other time.
  [[nodiscard]] bool overlaps(const Claim& claim, const Spell& spell) const {
    return !claim.when.known || claim.tense != Tense::kThen ||
           claim.when.days.intersects(spell.possible(&ledger_.settings().margins));
  }

  [[nodiscard]] bool is_airframe(const Claim& claim) const {
    if (claim.role.empty() || claim.role == "tail") {
      return !ledger_.machine_of(claim.subject.empty() ? claim.value : claim.subject).empty();
    }
    if (claim.role == "constructor_number") {
      const auto machine = ledger_.machine_of(claim.subject);
      return std::any_of(machine.begin(), machine.end(), [&](const Airframe* row) {
        return is_same(row->constructor_number, claim.value);
      });
    }
    const auto rows = ledger_.identities_of(claim.subject);
    return std::any_of(rows.begin(), rows.end(), [&](const Identity* row) {
      return is_same(row->identity, claim.value) && overlaps(claim, row->spell);
    });
  }

  [[nodiscard]] bool is_type(const Claim& claim) const {
    const auto machine = ledger_.machine_of(claim.subject);
    return std::any_of(machine.begin(), machine.end(), [&](const Airframe* row) {
      return !row->type.empty() && claim.value.substr(0, row->type.size()) == row->type;
    });
  }

  [[nodiscard]] bool is_unit_of(const Claim& claim, std::string_view unit) const {
    const std::span<const std::string> readings = readings_of(claim);
    return std::any_of(readings.begin(), readings.end(), [&](const std::string& reading) {
      return ledger_.is_unit_within(unit, reading);
    });
  }

  [[nodiscard]] bool is_unit(const Claim& claim) const {
    const auto rows = ledger_.history_of(claim.subject);
    const bool is_held = std::any_of(rows.begin(), rows.end(), [&](const History* row) {
      return is_unit_of(claim, row->unit) && overlaps(claim, row->spell);
    });
    const auto services = ledger_.service_of(claim.subject);
    return is_held || std::any_of(services.begin(), services.end(), [&](const Service* row) {
             const bool is_membership = row->kind == "unit" || row->kind == "command";
             return is_membership && is_unit_of(claim, row->value) && overlaps(claim, row->spell);
           });
  }

  [[nodiscard]] bool is_place_of(const Claim& claim, std::string_view place) const {
    const std::span<const std::string> readings = readings_of(claim);
    return !place.empty() &&
           std::any_of(readings.begin(), readings.end(), [&](const std::string& reading) {
             return ledger_.is_place_within(place, reading);
           });
  }

  [[nodiscard]] bool is_place(const Claim& claim) const {
    const auto rows = ledger_.history_of(claim.subject);
    return std::any_of(rows.begin(), rows.end(), [&](const History* row) {
      if (!overlaps(claim, row->spell)) {
        return false;
      }
      if (!row->place.empty()) {
        return is_place_of(claim, row->place);
      }
      const auto stations = ledger_.stations_of(row->unit);
      return std::any_of(stations.begin(), stations.end(), [&](const Station* station) {
        return is_place_of(claim, station->place) && overlaps(claim, station->spell) &&
               station->spell.possible().intersects(row->spell.possible());
      });
    });
  }

  [[nodiscard]] bool is_served(const Claim& claim, std::string_view kind) const {
    const std::span<const std::string> readings = readings_of(claim);
    const auto rows = ledger_.service_of(claim.subject);
    return std::any_of(rows.begin(), rows.end(), [&](const Service* row) {
      return row->kind == kind && overlaps(claim, row->spell) &&
             std::find(readings.begin(), readings.end(), row->value) != readings.end();
    });
  }

  [[nodiscard]] bool is_date(const Claim& claim) const {
    if (claim.event < run_.claims.size()) {
      const Claim& event = run_.claims[claim.event];
      const auto rows = ledger_.history_of(event.subject);
      return std::any_of(rows.begin(), rows.end(), [&](const History* row) {
        return row->kind == event.value &&
               row->spell.from.widened(ledger_.settings().margins).intersects(claim.date.days());
      });
    }
    const Block& block = run_.manuscripts[claim.manuscript].blocks[claim.block];
    if (claim.of != "photograph" || block.photograph.empty()) {
      return false;
    }
    const Photograph* row = ledger_.photograph(block.photograph);
    return row != nullptr && !row->taken.is_unknown() &&
           row->taken.days().intersects(claim.date.days());
  }

  [[nodiscard]] bool is_event(const Claim& claim) const {
    const auto rows = ledger_.history_of(claim.subject);
    if (std::any_of(rows.begin(), rows.end(), [&](const History* row) {
          return row->kind == claim.value && overlaps(claim, row->spell);
        })) {
      return true;
    }
    const auto machine = ledger_.machine_of(claim.subject);
    return std::any_of(machine.begin(), machine.end(), [&](const Airframe* row) {
      const Edtf& date =
          claim.value == "taken_on_charge" ? row->taken_on_charge : row->struck_off_charge;
      return (claim.value == "taken_on_charge" || claim.value == "struck_off_charge") &&
             !date.is_unknown() && (!claim.when.known || claim.when.days.intersects(date.days()));
    });
  }

  /// An order is not a repaint: only a row that names the marking says that it was put on.
  [[nodiscard]] bool is_repaint(const Claim& claim) const {
    const auto rows = ledger_.history_of(claim.subject);
    return std::any_of(rows.begin(), rows.end(), [&](const History* row) {
      return row->kind == "repaint" && row->detail.find(claim.value) != std::string::npos &&
             claim.when.known && !row->spell.from.is_unknown() &&
             row->spell.from.days().first() <= claim.when.days.last();
    });
  }

  const Ledger& ledger_;
  const Run& run_;
  std::set<std::string> figures_;
};

}  // namespace

std::vector<Verdict> verdicts_of(const Run& run) {
  const Jury jury(run);
  std::vector<Verdict> verdicts(run.claims.size(), Verdict::kUnproven);
  for (std::size_t i = 0; i < run.claims.size(); ++i) {
    if (is_affirmed(run.claims[i]) && jury.upholds(run.claims[i])) {
      verdicts[i] = Verdict::kUpheld;
    }
  }
  for (const Query& query : run.queries) {
    if (query.level < Level::kWarning) {
      continue;
    }
    for (const std::uint32_t index : query.claims) {
      if (index < run.claims.size() && run.claims[index].span == query.span) {
        verdicts[index] = Verdict::kContradicted;
      }
    }
  }
  return verdicts;
}

}  // namespace tailproof
