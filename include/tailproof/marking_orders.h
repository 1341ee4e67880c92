// Marking orders and whom they reach: what the checks of markings share.
#pragma once

#include <memory>
#include <optional>
#include <span>
#include <string_view>
#include <vector>

#include "tailproof/claim_index.h"
#include "tailproof/placement.h"
#include "tailproof/surface.h"
#include "tailproof/verdict.h"

namespace tailproof {

/// Whether an order reaches a machine, as far as the ledger tells.
enum class Reach { kInside, kOutside, kUnknown };

/// A machine that wears a marking, and the circumstances that the caption itself states.
struct Wearer {
  std::string_view serial;  // "" when the caption names no machine that the ledger knows
  std::vector<const Airframe*> machine;
  std::vector<const History*> history;
  std::shared_ptr<const MachinePlaces> places;  // none when `serial` is ""

  [[nodiscard]] std::span<const Placement> placements() const {
    return places == nullptr ? std::span<const Placement>() : std::span(places->all);
  }
  std::vector<std::string_view> claimed_theatres;
  std::vector<std::string_view> claimed_units;
};
[[nodiscard]] Wearer wearer_of(const CheckInput& input, const ClaimIndex& index,
                               const Claim& marking);

/// Theatres on these days: by the ledger, with those of the places that the caption names; the
/// ledger's default theatre when neither tells.
[[nodiscard]] std::vector<std::string_view> theatres_of(const Ledger& ledger, const Wearer& wearer,
                                                        const DaySet& days);
[[nodiscard]] Reach type_reach(const Ledger& ledger, const Order& order, const Wearer& wearer);
/// Units that held or flew the machine on any of these days, or that the caption names.
[[nodiscard]] Reach unit_reach(const Ledger& ledger, const Order& order, const Wearer& wearer,
                               const DaySet& days);
[[nodiscard]] bool reaches_theatre(const Order& order, std::string_view theatre);

/// When the order takes effect; its date of issue when no other is given.
[[nodiscard]] const Edtf& effect_of(const Order& order);

/// Surfaces that the claim may mean, of those on which orders introduced the marking; none when it
/// names a surface that no order speaks of.
[[nodiscard]] Surfaces claimed_surfaces(const Ledger& ledger, const Claim& claim,
                                        const std::vector<const Order*>& orders);

/// Surfaces on which orders introduced the marking; all of them when none did.
[[nodiscard]] Surfaces natural_surfaces(const Ledger& ledger, std::string_view marking);
/// Surfaces that a claim of a marking means: where it names none, those of the marking's own that
/// are the ledger's usual position, else all its own.
[[nodiscard]] Surfaces meant_surfaces(const Ledger& ledger, std::string_view marking,
                                      std::string_view position);
/// The two markings of an overpaint claim ("A over B"), where both are keys of the ledger.
struct Coats {
  const Marking* upper = nullptr;
  const Marking* lower = nullptr;
};
[[nodiscard]] std::optional<Coats> coats_of(const Ledger& ledger, const Claim& overpaint);

/// Days on which a repaint recorded for the machine accounts for the marking.
[[nodiscard]] Allowed repainted_days(const Ledger& ledger, const Wearer& wearer,
                                     std::string_view marking, const Surfaces& surfaces);

/// When orders brought a marking in. `days` are those asked about: of them, the theatres and units
/// in which the machine then was decide whom an order reached.
struct Introduction {
  std::vector<const Order*> orders;  // those that may be meant; without any, no day is too early
  Surfaces surfaces;
  Allowed anywhere;  // since some machine wore it, or this one was repainted with it
  Allowed here;      // since this machine may have taken it on
};
[[nodiscard]] Introduction introduction_of(const Ledger& ledger, const Claim& marking_claim,
                                           const Wearer& wearer, std::string_view marking,
                                           const DaySet& days);

/// How long a marking stayed in order, grace included.
struct Currency {
  std::vector<const Order*> withdrawals;  // without any, no day is late
  Allowed allowed;
  bool is_carried_out = false;  // the machine wears it outside the theatres of its orders
};
[[nodiscard]] Currency currency_of(const Ledger& ledger, const Claim& marking_claim,
                                   const Wearer& wearer, std::string_view marking,
                                   const DaySet& days);

/// "FNO 66/43 introduced side-bars (fuselage; Northern, Fleet) with effect from 1 September 1943".
[[nodiscard]] Evidence quote_order(const Order& order);
/// "red disc always before gold disc (fuselage, Home)".
[[nodiscard]] Evidence quote_sequence(const Sequence& row);

}  // namespace tailproof
