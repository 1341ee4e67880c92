// | situation                                                             | level   |
// | within the grace period                                               | silent  |
// | after withdrawal and grace, in a theatre where the order ran          | warning |
// | said to have been kept until a day more than a month after that       | warning |
// | carried out of the theatres of its orders, after all withdrew it      | note    |
// | introduced again (from that day on), or a repaint row accounts for it | silent  |
// | its sentence says that it was worn against the order, or after it     | note    |
// | a relic or a restored machine, after the machine's service            | silent  |
// | still in order on any surface or in any theatre that may be meant     | silent  |
#include <algorithm>

#include "tailproof/allowed_days.h"
#include "tailproof/marking_orders.h"
#include "tailproof/told_ends.h"

namespace tailproof {
namespace {

constexpr std::string_view kId = "marking-too-late";

struct Lateness {
  Fit how = Fit::kPossible;
  Level highest = Level::kWarning;
  std::vector<const Order*> withdrawals;
};

std::optional<Lateness> find_lateness(const CheckInput& input, const Claim& claim,
                                      const Wearer& wearer, std::string_view marking) {
  const Ledger& ledger = input.ledger;
  Currency currency = currency_of(ledger, claim, wearer, marking, claim.when.widened);
  Lateness finding;
  if (currency.is_carried_out) finding.highest = Level::kNote;
  finding.withdrawals = std::move(currency.withdrawals);
  finding.how = fit(claim.when, currency.allowed);
  if (finding.how == Fit::kPossible || finding.withdrawals.empty()) return std::nullopt;
  return finding;
}

// "Kept its chequers until May": as it was around that day.
std::optional<Claim> at_its_end(const CheckInput& input, const Claim& told) {
  if ((told.said & kSaidUntil) == 0) return std::nullopt;
  const std::vector<When> ends = told_ends(input, told);
  if (ends.size() != 1) return std::nullopt;
  Claim claim = told;
  claim.when = ends.front();
  return claim;
}

// No order reaches what stands in a museum.
bool is_relic(const CheckInput& input, const Claim& claim) {
  if ((claim.said & kSaidRemains) == 0) return false;
  const std::optional<Allowed> life = days_of_life(input.ledger, claim.subject);
  return life && !life->days.empty() && claim.when.days.first() > life->days.last();
}

}  // namespace

std::vector<Query> check_marking_too_late(const CheckInput& input) {
  const ClaimIndex index(input);
  return judge_claims(input, ClaimKind::kMarking, [&](const Claim& told) -> std::optional<Query> {
    const std::optional<Claim> end_told = at_its_end(input, told);
    const Claim& claim = end_told ? *end_told : told;
    if (!claim.when.known || claim.when.days.empty()) return std::nullopt;
    if (!holds_at_its_date(input, claim)) return std::nullopt;
    if (claim.state != MarkingState::kWorn && claim.state != MarkingState::kAdded) {
      return std::nullopt;
    }
    const bool is_machine = !input.ledger.machine_of(claim.subject).empty();
    if (!is_machine && index.block_of(claim).kind != BlockKind::kCaption) return std::nullopt;
    if (is_relic(input, claim)) return std::nullopt;
    const Wearer wearer = wearer_of(input, index, claim);
    std::optional<Lateness> found;
    std::string marking;
    for (const std::string& reading : readings_of(claim)) {
      std::optional<Lateness> finding = find_lateness(input, claim, wearer, reading);
      if (!finding) return std::nullopt;
      if (found && found->highest <= finding->highest) continue;
      found = std::move(finding);
      marking = reading;
    }
    if (!found) return std::nullopt;
    std::optional<Level> level = level_of(claim, found->how, found->highest);
    if (!level) return std::nullopt;
    const bool is_granted = (claim.said & kSaidAfterOrder) != 0;
    if (is_granted) level = Level::kNote;
    // The last withdrawal before the claim's days is the one that the reader would quote.
    const Order* last = nullptr;
    for (const Order* order : found->withdrawals) {
      if (effect_of(*order).days().first() > claim.when.days.last()) continue;
      if (last == nullptr || effect_of(*last).days().first() < effect_of(*order).days().first()) {
        last = order;
      }
    }
    if (last == nullptr) return std::nullopt;
    std::string message = marking + " " + wearer_in_words(input.ledger, claim.subject) +
                          (claim.position.empty() ? "" : " (" + claim.position + ")") + " " +
                          told_in_words(input, told) + " is late: " + last->order +
                          " withdrew it from " + in_words(effect_of(*last));
    const Day end = after(effect_of(*last).days().last(), last->grace);
    if (!last->grace.is_none()) message += ", with grace until " + in_words(end);
    if (is_granted) message += ", as the text itself says";
    Query query = query_at(kId, input, claim, *level, std::move(message));
    query.evidence.push_back(quote_order(*last));
    for (const Placement& placement : wearer.placements()) {
      if (placement.possible.days.intersects(claim.when.days)) {
        query.evidence.push_back(placement.evidence());
      }
    }
    query.suggestion = "a date until " + in_words(end) + ", or a repaint row in histories.csv";
    return query;
  });
}

}  // namespace tailproof
