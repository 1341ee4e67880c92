// References: every place that names the same airframe, person, unit and so on.
#include <algorithm>
#include <set>

#include "lsp/answers.h"
#include "lsp/evidence.h"

namespace tailproof::lsp {

namespace {

bool is_named(ClaimKind kind) {
  switch (kind) {
    case ClaimKind::kType:
    case ClaimKind::kUnit:
    case ClaimKind::kPlace:
    case ClaimKind::kPerson:
    case ClaimKind::kRank:
    case ClaimKind::kAward:
    case ClaimKind::kMarking:
    case ClaimKind::kReference:
      return true;
    default:
      return false;
  }
}

/// Whether a claim names what another one names.
class Target {
 public:
  Target(const Ledger& ledger, const Claim& claim) : claim_(claim) {
    if (is_named(claim.kind)) return;
    // A date or an event is looked up by its airframe.
    const bool is_serial = claim.kind == ClaimKind::kAirframe && claim.role.empty();
    const std::string serial(is_serial ? claim.value : claim.subject);
    const bool is_airframe = claim.kind == ClaimKind::kAirframe;
    if (serial.empty() || (!is_airframe && ledger.serials_of(serial).empty())) return;
    serials_.insert(serial);
    for (const std::string_view other : ledger.serials_of(serial)) serials_.emplace(other);
  }

  [[nodiscard]] bool is_named_by(const Claim& other) const {
    if (!serials_.empty()) {
      return other.kind == ClaimKind::kAirframe && (serials_.contains(std::string(other.value)) ||
                                                    serials_.contains(std::string(other.subject)));
    }
    return is_named(claim_.kind) && other.kind == claim_.kind && other.value == claim_.value;
  }

 private:
  const Claim& claim_;
  std::set<std::string> serials_;
};

}  // namespace

Json references_at(const View& view, FileId file, std::uint32_t offset, bool with_row) {
  Json locations = Json::array();
  const std::vector<const Claim*> claims = view.claims_at(file, offset);
  if (claims.empty()) return locations;
  const Ledger& ledger = view.run().ledger;
  if (with_row) {
    for (const RowPlace& row : rows_about(ledger, *claims.front())) {
      Json location = view.location(row.table, row.line);
      if (!location.is_null()) locations.push_back(std::move(location));
    }
  }
  const Target target(ledger, *claims.front());
  const Claim* last = nullptr;
  for (const Claim& claim : view.run().claims) {
    if (!target.is_named_by(claim)) continue;
    // One place may make several claims.
    if (last == nullptr || last->span != claim.span) locations.push_back(view.location(claim.span));
    last = &claim;
  }
  return locations;
}

}  // namespace tailproof::lsp
