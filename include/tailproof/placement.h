// Where the ledger has a machine on which days, with which unit, and in which theatre.
#pragma once

#include <array>
#include <memory>
#include <mutex>
#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "tailproof/verdict.h"

namespace tailproof {

/// A row that puts a machine, or a unit, at a place.
struct Placement {
  std::string_view place;
  Allowed possible;
  Certain certain;
  bool is_event = false;  // an accident, a ferry flight: it may have been elsewhere the same day
  bool is_own = false;  // the machine's own row names the place; else its unit was stationed there
  const History* history = nullptr;  // the machine's row
  const Station* station = nullptr;  // of its unit, unless its own row names the place

  [[nodiscard]] Evidence evidence() const;
};

/// Every row that puts the machine somewhere: its own rows with a place, and the stations of the
/// units that held or flew it for as long as they did.
[[nodiscard]] std::vector<Placement> placements_of_machine(const Ledger& ledger,
                                                           std::string_view serial);
[[nodiscard]] std::vector<Placement> placements_of_unit(const Ledger& ledger,
                                                        std::string_view unit);

/// Placements of a machine.
struct MachinePlaces {
  std::string serial;
  std::vector<Placement> all;  // as placements_of_machine
  std::vector<Placement>
      own_first;  // where its own rows name a place, no station of a unit's counts
};
/// Those of the machines asked for last: many checks ask for the same. Threads may ask side by
/// side.
class Whereabouts {
 public:
  explicit Whereabouts(const Ledger& ledger) : ledger_(ledger) {}
  [[nodiscard]] std::shared_ptr<const MachinePlaces> of(std::string_view serial) const;

 private:
  static constexpr std::size_t kMostKept = 4096;
  const Ledger& ledger_;
  mutable std::mutex mutex_;
  mutable std::array<std::shared_ptr<const MachinePlaces>, kMostKept> kept_;
};
[[nodiscard]] std::shared_ptr<const MachinePlaces> places_of(const CheckInput& input,
                                                             std::string_view serial);
/// Theatres in which the machine may have been on any of these days; empty when nothing tells.
[[nodiscard]] std::vector<std::string_view> theatres_on(const Ledger& ledger,
                                                        std::span<const Placement> placements,
                                                        const DaySet& days);

/// One lies within the other, or they are the same.
[[nodiscard]] bool places_agree(const Ledger& ledger, std::string_view one, std::string_view other);
/// One stands below the other, or they are the same.
[[nodiscard]] bool units_agree(const Ledger& ledger, std::string_view one, std::string_view other);
[[nodiscard]] bool agrees_with_any(const Ledger& ledger, std::string_view unit,
                                   std::span<const std::string> readings);
/// Whether the ledger ever has the machine of the claim with its unit, on whatever days.
[[nodiscard]] bool was_ever_with(const Ledger& ledger, const Claim& unit);

/// lost, accident, repaint, modified, ferried, captured, interned: things of one day.
[[nodiscard]] bool is_event_kind(std::string_view history_kind);
/// Whether a unit of this kind flies what it holds. A servicing unit or depot only holds.
[[nodiscard]] bool is_flying_kind(std::string_view unit_kind);
[[nodiscard]] bool is_servicing_kind(std::string_view unit_kind);

/// "F104 with 3 Flight (holder) at Halvery from 15 April 1935 to 31 March 1936".
[[nodiscard]] Evidence quote_history(const History& history);

}  // namespace tailproof
