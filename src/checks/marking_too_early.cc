// | situation                                                         | level   |
// | before any order introduced it anywhere on that surface           | error   |
// | introduced, but never in this machine's theatre, unit or type     | warning |
// | ... where the machine had been within the order's reach before    | silent  |
// | a repaint row accounts for it                                     | silent  |
// | a marking without any order                                       | silent  |
// | running text that names no machine, unless several wore it then    | silent  |
// | its sentence says that it was worn before the order, or against it | note    |
#include <algorithm>

#include "tailproof/marking_orders.h"

namespace tailproof {
namespace {

constexpr std::string_view kId = "marking-too-early";

struct Earliness {
  Fit how = Fit::kPossible;
  Level highest = Level::kError;
  bool is_elsewhere = false;  // introduced, though not for this machine
  std::vector<const Order*> orders;
  Surfaces surfaces;
};

std::optional<Earliness> find(const CheckInput& input, const Claim& claim, const Wearer& wearer,
                              std::string_view marking) {
  const Ledger& ledger = input.ledger;
  Introduction introduction = introduction_of(ledger, claim, wearer, marking, claim.when.widened);
  Earliness finding;
  finding.surfaces = introduction.surfaces;
  finding.orders = std::move(introduction.orders);
  if (finding.orders.empty()) return std::nullopt;
  finding.how = fit(claim.when, introduction.anywhere);
  if (finding.how != Fit::kPossible) return finding;
  if (wearer.serial.empty() || !claim.when.known || finding.surfaces.none()) return std::nullopt;
  finding.how = fit(claim.when, introduction.here);
  if (finding.how == Fit::kPossible) return std::nullopt;
  finding.is_elsewhere = true;
  finding.highest = Level::kWarning;
  return finding;
}

std::string message_of(const Ledger& ledger, const Claim& claim, const Earliness& finding,
                       std::string_view marking, const Order& first) {
  std::string text = std::string(marking) + " " + wearer_in_words(ledger, claim.subject);
  if (!claim.position.empty()) text += " (" + claim.position + ")";
  text += " " + when_in_words(claim.when);
  if (finding.is_elsewhere) {
    return text + " is worn where no order had introduced it: " + first.order +
           " did not reach this machine";
  }
  return text + " is too early: " + first.order + " introduced it only from " +
         in_words(effect_of(first));
}

}  // namespace

std::vector<Query> check_marking_too_early(const CheckInput& input) {
  const ClaimIndex index(input);
  return judge_claims(input, ClaimKind::kMarking, [&](const Claim& claim) -> std::optional<Query> {
    if (!claim.when.known || claim.when.days.empty()) return std::nullopt;
    if (!holds_at_its_date(input, claim)) return std::nullopt;
    if (claim.state != MarkingState::kWorn && claim.state != MarkingState::kAdded) {
      return std::nullopt;
    }
    const bool is_machine = !input.ledger.machine_of(claim.subject).empty();
    // Running text that names no machine speaks of orders and customs, not of a picture, unless it
    // says that machines wore it on a day of which it gives the year.
    const bool is_told_of_some = (claim.said & kSaidWornBySome) != 0 && !claim.when.inherited;
    if (!is_machine && !is_told_of_some && index.block_of(claim).kind != BlockKind::kCaption)
      return std::nullopt;
    const Wearer wearer = wearer_of(input, index, claim);
    std::optional<Earliness> mildest;
    std::string marking;
    for (const std::string& reading : readings_of(claim)) {
      std::optional<Earliness> finding = find(input, claim, wearer, reading);
      if (!finding) return std::nullopt;
      if (mildest && mildest->highest <= finding->highest) continue;
      mildest = std::move(finding);
      marking = reading;
    }
    if (!mildest) return std::nullopt;
    std::optional<Level> level = level_of(claim, mildest->how, mildest->highest);
    if (!level) return std::nullopt;
    const bool is_granted = (claim.said & kSaidBeforeOrder) != 0;
    if (is_granted) level = Level::kNote;
    const Order* first = *std::min_element(
        mildest->orders.begin(), mildest->orders.end(), [](const Order* a, const Order* b) {
          return effect_of(*a).days().first() < effect_of(*b).days().first();
        });
    std::string message = message_of(input.ledger, claim, *mildest, marking, *first);
    if (is_granted) message += ", as the text itself says";
    Query query = query_at(kId, input, claim, *level, std::move(message));
    for (const Order* order : mildest->orders) query.evidence.push_back(quote_order(*order));
    if (mildest->is_elsewhere) {
      for (const Placement& placement : wearer.placements()) {
        if (placement.possible.days.intersects(claim.when.days)) {
          query.evidence.push_back(placement.evidence());
        }
      }
    } else {
      query.suggestion = "a date from " + in_words(effect_of(*first)) + " on";
    }
    return query;
  });
}

}  // namespace tailproof
