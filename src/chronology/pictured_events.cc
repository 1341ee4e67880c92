#include "tailproof/pictured_events.h"

#include <algorithm>
#include <map>
#include <string>
#include <tuple>

#include "tailproof/event_dates.h"
#include "tailproof/figure_key.h"
#include "tailproof/verdict.h"

namespace tailproof {
namespace {

bool is_mishap(const Claim& event) {
  return is_affirmed(event) && !event.subject.empty() &&
         (event.value == "accident" || event.value == "lost");
}

}  // namespace

std::vector<PicturedEvent> events_after_pictures(const CheckInput& input, const ClaimIndex& index) {
  const ClaimsOfKind events(input, ClaimKind::kEvent);
  bool is_any = false;
  for (const Claim& event : events)
    is_any = is_any || (is_mishap(event) && has_own_date(input, event));
  if (!is_any) return {};
  // What figures show: by manuscript, figure and machine, the date of the picture.
  std::map<std::tuple<std::uint32_t, FigureKey, std::string>, const Claim*> shown;
  const FigureSeries series(input.manuscripts);
  for (const Claim& claim : events) {
    const Block& block = index.block_of(claim);
    if (!is_mishap(claim) || block.kind != BlockKind::kCaption || block.figure.empty()) continue;
    if (claim.tense != Tense::kThen || (claim.said & kSaidOtherTime) != 0) continue;
    const std::vector<FigureKey> keys = series.keys_of_caption(block.figure);
    if (keys.size() != 1 || has_own_date(input, claim)) continue;
    const Claim* date = nullptr;
    bool is_one = true;
    for (const std::uint32_t i : index.around(claim)) {
      const Claim& other = index.claim(i);
      if (other.kind != ClaimKind::kDate || other.of != "photograph") continue;
      is_one = date == nullptr && is_affirmed(other) && !other.impossible && !other.inherited;
      date = &other;
    }
    if (date == nullptr || !is_one) continue;
    shown[{claim.manuscript, keys.front(), claim.subject}] = date;
  }
  std::vector<PicturedEvent> found;
  if (shown.empty()) return found;
  for (const Claim& claim : events) {
    if (!is_mishap(claim) || !has_own_date(input, claim) ||
        index.block_of(claim).kind == BlockKind::kCaption)
      continue;
    for (const Claim& reference : index.in_sentence(claim)) {
      if (reference.kind != ClaimKind::kReference || !reference.role.empty()) continue;
      const std::vector<FigureKey> keys = figure_keys(reference.value);
      if (keys.size() != 1) continue;
      const auto at = shown.find({claim.manuscript, keys.front(), claim.subject});
      if (at == shown.end()) continue;
      const DaySet taken = at->second->date.widened(input.ledger.settings().margins);
      if (!taken.empty() && !claim.when.widened.empty() &&
          taken.last() < claim.when.widened.first())
        found.push_back({&claim, at->second});
      break;
    }
  }
  return found;
}

}  // namespace tailproof
