#include <algorithm>
#include <string>

#include "tailproof/marking_orders.h"
#include "tailproof/turns.h"

namespace tailproof {
namespace {

constexpr std::size_t kQuoted = 4;

bool withdraws(const Order& row) { return row.action == OrderAction::kWithdraws; }

// "FNO 18/42;FNO 22/42": the orders that took a marking away again.
bool is_replaced_by(const Order& row, std::string_view order) {
  return std::any_of(row.replaced_by.begin(), row.replaced_by.end(),
                     [&](const std::string& other) { return other == order; });
}

}  // namespace

std::vector<Query> judge_order_contents(const CheckInput& input, std::string_view id) {
  const Ledger& ledger = input.ledger;
  return judge_claims(
      input, ClaimKind::kReference, [&](const Claim& claim) -> std::optional<Query> {
        if (claim.role != "order" || !is_affirmed(claim)) return std::nullopt;
        const bool is_withdrawal = claim.turn == Turn::kWithdrawn;
        std::string elsewhere, own;
        std::vector<Evidence> evidence;
        for (const Order* about : ledger.orders_of(claim.turned_to)) {
          const Order& row = *about;
          const bool is_own = row.order == claim.turn_of;
          if (is_withdrawal && !withdraws(row) && is_replaced_by(row, claim.turn_of))
            return std::nullopt;
          if (withdraws(row) != is_withdrawal) {
            if (is_own) own = withdraws(row) ? "withdrew it" : "introduced it";
            if (is_own && evidence.size() < kQuoted) evidence.push_back(quote_order(row));
            continue;
          }
          if (is_own) return std::nullopt;
          if (elsewhere.find(row.order) != std::string::npos) continue;
          elsewhere += (elsewhere.empty() ? "" : " and ") + row.order;
          if (evidence.size() < kQuoted) evidence.push_back(quote_order(row));
        }
        const std::span<const Order> orders = ledger.orders();
        const bool is_known =
            !evidence.empty() && std::any_of(orders.begin(), orders.end(), [&](const Order& row) {
              return row.order == claim.turn_of;
            });
        if (!is_known) return std::nullopt;
        const std::string verb = is_withdrawal ? "withdrawn" : "introduced";
        std::string message =
            claim.turn_of + " is said to have " + verb + " the " + claim.turned_to + ", but ";
        message += !own.empty() ? "by the ledger " + own
                                : "in the ledger it was " + verb + " by " + elsewhere;
        Query query =
            query_at(id, input, claim, tempered(claim, Level::kWarning), std::move(message));
        query.subject = claim.turn_of;
        query.evidence = std::move(evidence);
        query.suggestion = elsewhere;
        return query;
      });
}

}  // namespace tailproof
