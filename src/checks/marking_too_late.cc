// | situation                                                             | level   |
// | within the grace period                                               | silent  |
// | after withdrawal and grace, in a theatre where the order ran          | warning |
// | carried out of the theatres of its orders, after all withdrew it      | note    |
// | introduced again (from that day on), or a repaint row accounts for it | silent  |
// | still in order on any surface or in any theatre that may be meant     | silent  |
#include <algorithm>

#include "tailproof/marking_orders.h"

namespace tailproof {
namespace {

constexpr std::string_view kId = "marking-too-late";

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
      return DaySet(std::vector<DayRange>{{last + order->grace_days + 1, end}}).complement();
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

struct Finding {
  Fit how = Fit::kPossible;
  Level highest = Level::kWarning;
  std::vector<const Order*> withdrawals;
};

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

std::optional<Finding> find(const CheckInput& input, const Claim& claim, const Wearer& wearer,
                            std::string_view marking) {
  const Ledger& ledger = input.ledger;
  const std::vector<const Order*> orders = ledger.orders_of(marking);
  const Scope scope{ledger, wearer, orders, claim.when.widened};
  const Surfaces surfaces = claimed_surfaces(ledger, claim, orders);
  const std::vector<std::string_view> theatres = theatres_of(ledger, wearer, claim.when.widened);
  if (surfaces.none() || theatres.empty()) return std::nullopt;
  Finding finding;
  Allowed allowed = repainted_days(ledger, wearer, marking, surfaces);
  for (std::size_t surface = 0; surface < kSurfaceCount; ++surface) {
    if (!surfaces.test(surface)) continue;
    for (const std::string_view theatre : theatres) {
      if (is_introduced(scope, surface, theatre)) {
        allowed = unite(allowed, days_in_order(scope, surface, theatre, finding.withdrawals));
        continue;
      }
      // Carried out of the theatre in which it was ordered: at most late.
      finding.highest = Level::kNote;
      for (const std::string_view home : theatres_of_introductions(scope, surface)) {
        allowed = unite(allowed, days_in_order(scope, surface, home, finding.withdrawals));
      }
    }
  }
  finding.how = fit(claim.when, allowed);
  if (finding.how == Fit::kPossible || finding.withdrawals.empty()) return std::nullopt;
  return finding;
}

}  // namespace

std::vector<Query> check_marking_too_late(const CheckInput& input) {
  const ClaimIndex index(input);
  return judge_claims(input, ClaimKind::kMarking, [&](const Claim& claim) -> std::optional<Query> {
    if (!claim.when.known || claim.when.days.empty()) return std::nullopt;
    if (!holds_at_its_date(input, claim)) return std::nullopt;
    if (claim.state != MarkingState::kWorn && claim.state != MarkingState::kAdded) {
      return std::nullopt;
    }
    const bool is_machine = !input.ledger.machine_of(claim.subject).empty();
    if (!is_machine && index.block_of(claim).kind != BlockKind::kCaption) return std::nullopt;
    const Wearer wearer = wearer_of(input, index, claim);
    std::optional<Finding> found;
    std::string marking;
    for (const std::string& reading : readings_of(claim)) {
      std::optional<Finding> finding = find(input, claim, wearer, reading);
      if (!finding) return std::nullopt;
      if (found && found->highest <= finding->highest) continue;
      found = std::move(finding);
      marking = reading;
    }
    if (!found) return std::nullopt;
    const std::optional<Level> level = level_of(claim, found->how, found->highest);
    if (!level) return std::nullopt;
    // The last withdrawal before the claim's days is the one that the reader would quote.
    const Order* last = nullptr;
    for (const Order* order : found->withdrawals) {
      if (effect_of(*order).days().first() > claim.when.days.last()) continue;
      if (last == nullptr || effect_of(*last).days().first() < effect_of(*order).days().first()) {
        last = order;
      }
    }
    if (last == nullptr) return std::nullopt;
    std::string message = marking + " on " +
                          (claim.subject.empty() ? "the photograph" : claim.subject) +
                          (claim.position.empty() ? "" : " (" + claim.position + ")") + " " +
                          when_in_words(claim.when) + " is late: " + last->order +
                          " withdrew it from " + in_words(effect_of(*last));
    const Day end = effect_of(*last).days().last() + last->grace_days;
    if (last->grace_days > 0) message += ", with grace until " + in_words(end);
    Query query = query_at(kId, input, claim, *level, std::move(message));
    query.evidence.push_back(quote_order(*last));
    for (const Placement& placement : wearer.placements) {
      if (placement.possible.days.intersects(claim.when.days)) {
        query.evidence.push_back(placement.evidence);
      }
    }
    query.suggestion = "a date until " + in_words(end) + ", or a repaint row in histories.csv";
    return query;
  });
}

}  // namespace tailproof
