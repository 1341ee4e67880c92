// On which days orders, and the machine's own repaints, let it wear a marking.
#include <algorithm>
#include <utility>

#include "tailproof/marking_orders.h"

namespace tailproof {
namespace {

// Days on which the machine may have taken the marking on under this order and kept it since.
Allowed days_in_reach(const Ledger& ledger, const Order& order, const Wearer& wearer,
                      const DaySet& days) {
  const Margins& margins = ledger.settings().margins;
  const Allowed since = from_days(effect_of(order), margins);
  if (type_reach(ledger, order, wearer) == Reach::kOutside) return {};
  const DaySet so_far = since.widened.intersect(DaySet{DayRange{kFirstDay, days.last()}});
  if (unit_reach(ledger, order, wearer, so_far) == Reach::kOutside) return {};
  if (order.theatres.empty()) return since;

  for (const std::string_view theatre : theatres_of(ledger, wearer, days)) {
    if (reaches_theatre(order, theatre)) return since;
  }
  Allowed reached;
  for (const Placement& placement : wearer.placements()) {
    if (!reaches_theatre(order, ledger.theatre_of(placement.place))) continue;
    const DaySet there = placement.possible.widened.intersect(since.widened);
    if (there.empty()) continue;
    const DaySet after{DayRange{there.first(), kLastDay}};
    reached = unite(reached, Allowed{after, after});
  }
  return reached;
}

struct Scope {
  const Ledger& ledger;
  const Wearer& wearer;
  const std::vector<const Order*>& orders;
  const DaySet& days;  // of the claim
};

bool covers(const Order& order, std::size_t surface, std::string_view theatre) {
  return surfaces_of(order.positions).test(surface) && reaches_theatre(order, theatre);
}

bool is_introduced(const Scope& scope, std::size_t surface, std::string_view theatre) {
  return std::any_of(scope.orders.begin(), scope.orders.end(), [&](const Order* order) {
    return order->action == OrderAction::kIntroduces && covers(*order, surface, theatre);
  });
}

// First day of the next order that brings the marking back; kLastDay when none does.
Day next_introduction(const Scope& scope, const Order& withdrawal, std::size_t surface,
                      std::string_view theatre) {
  Day next = kLastDay;
  const Day gone = effect_of(withdrawal).days().first();
  for (const Order* order : scope.orders) {
    if (order->action != OrderAction::kIntroduces || !covers(*order, surface, theatre)) continue;
    const Day back = effect_of(*order).days().first();
    if (back > gone) next = std::min(next, back);
  }
  return next;
}

// Days on which the marking was in order, or still within grace.
Allowed days_in_order(const Scope& scope, std::size_t surface, std::string_view theatre,
                      std::vector<const Order*>& withdrawals) {
  Allowed allowed = Allowed::always();
  for (const Order* order : scope.orders) {
    if (order->action != OrderAction::kWithdraws || !covers(*order, surface, theatre)) continue;
    const Edtf& effect = effect_of(*order);
    if (effect.is_unknown() || effect.days().empty()) continue;
    // What is not known to have been reached by the order was not told to stop.
    if (type_reach(scope.ledger, *order, scope.wearer) != Reach::kInside) continue;
    if (unit_reach(scope.ledger, *order, scope.wearer, scope.days) != Reach::kInside) continue;
    const Day back = next_introduction(scope, *order, surface, theatre);
    const auto late_after = [&](Day last) {
      const Day end = back == kLastDay ? kLastDay : back - 1;
      return DaySet(std::vector<DayRange>{{after(last, order->grace) + 1, end}}).complement();
    };
    const Day widest = effect.widened(scope.ledger.settings().margins).last();
    const Allowed before{late_after(effect.days().last()), late_after(widest)};
    allowed = intersect(allowed, before);
    if (std::find(withdrawals.begin(), withdrawals.end(), order) == withdrawals.end()) {
      withdrawals.push_back(order);
    }
  }
  return allowed;
}

// Theatres that the introductions of this surface name; they name at least one.
std::vector<std::string_view> theatres_of_introductions(const Scope& scope, std::size_t surface) {
  std::vector<std::string_view> theatres;
  for (const Order* order : scope.orders) {
    if (order->action != OrderAction::kIntroduces) continue;
    if (!surfaces_of(order->positions).test(surface)) continue;
    theatres.insert(theatres.end(), order->theatres.begin(), order->theatres.end());
  }
  return theatres;
}

}  // namespace

Introduction introduction_of(const Ledger& ledger, const Claim& claim, const Wearer& wearer,
                             std::string_view marking, const DaySet& days) {
  const std::vector<const Order*> orders = ledger.orders_of(marking);
  Introduction found;
  found.surfaces = claimed_surfaces(ledger, claim, orders);
  found.anywhere = repainted_days(ledger, wearer, marking, found.surfaces);
  found.here = found.anywhere;
  for (const Order* order : orders) {
    if (order->action != OrderAction::kIntroduces) continue;
    const bool covers = (surfaces_of(order->positions) & found.surfaces).any();
    // On a surface that no order speaks of, the marking is too early only before all of them.
    if (!covers && found.surfaces.any()) continue;
    found.orders.push_back(order);
    found.anywhere = unite(found.anywhere, from_days(effect_of(*order), ledger.settings().margins));
    found.here = unite(found.here, days_in_reach(ledger, *order, wearer, days));
  }
  return found;
}

Currency currency_of(const Ledger& ledger, const Claim& claim, const Wearer& wearer,
                     std::string_view marking, const DaySet& days) {
  const std::vector<const Order*> orders = ledger.orders_of(marking);
  const Scope scope{ledger, wearer, orders, days};
  const Surfaces surfaces = claimed_surfaces(ledger, claim, orders);
  const std::vector<std::string_view> theatres = theatres_of(ledger, wearer, days);
  Currency found;
  if (surfaces.none() || theatres.empty()) return found;
  found.allowed = repainted_days(ledger, wearer, marking, surfaces);
  for (std::size_t surface = 0; surface < kSurfaceCount; ++surface) {
    if (!surfaces.test(surface)) continue;
    for (const std::string_view theatre : theatres) {
      if (is_introduced(scope, surface, theatre)) {
        found.allowed =
            unite(found.allowed, days_in_order(scope, surface, theatre, found.withdrawals));
        continue;
      }
      // Carried out of the theatre in which it was ordered: at most late.
      found.is_carried_out = true;
      for (const std::string_view home : theatres_of_introductions(scope, surface)) {
        found.allowed =
            unite(found.allowed, days_in_order(scope, surface, home, found.withdrawals));
      }
    }
  }
  return found;
}

}  // namespace tailproof
