// Definition: the rows of the ledger that bear on the words under the pointer.
#include "lsp/evidence.h"

#include <algorithm>

#include "lsp/answers.h"

namespace tailproof::lsp {

namespace {

std::string serial_of(const Claim& claim) {
  const bool is_serial = claim.kind == ClaimKind::kAirframe && claim.role.empty();
  return std::string(is_serial ? claim.value : claim.subject);
}

/// Collects rows in the order found, each once.
class Rows {
 public:
  Rows(const Ledger& ledger, const Claim& claim) : ledger_(ledger), claim_(claim) {}

  void add(const RowPlace& row) {
    const bool is_there = std::any_of(rows_.begin(), rows_.end(), [&](const RowPlace& other) {
      return other.table == row.table && other.line == row.line;
    });
    if (!is_there) rows_.push_back(row);
  }
  template <typename Row>
  void add(const Row* row) {
    if (row != nullptr) add(row->row);
  }

  /// Rows of the machine's history for the claim's date that `fits`.
  template <typename Fits>
  void add_history(const Fits& fits) {
    const Margins& margins = ledger_.settings().margins;
    for (const History* row : ledger_.history_of(serial_of(claim_))) {
      const bool is_then =
          !claim_.when.known || row->spell.possible(&margins).intersects(claim_.when.widened);
      if (is_then && fits(*row)) add(row);
    }
  }

  void add_machine() {
    if (!claim_.role.empty() && claim_.kind == ClaimKind::kAirframe) {
      for (const Identity* row : ledger_.bearers_of(claim_.value)) add(row);
    }
    for (const Airframe* row : ledger_.machine_of(serial_of(claim_))) add(row);
  }

  void add_service(std::string_view kind) {
    for (const Service* row : ledger_.service_of(claim_.subject)) {
      if (row->kind == kind && row->value == claim_.value) add(row);
    }
  }

  [[nodiscard]] std::vector<RowPlace> take() { return std::move(rows_); }

 private:
  const Ledger& ledger_;
  const Claim& claim_;
  std::vector<RowPlace> rows_;
};

}  // namespace

std::vector<RowPlace> rows_about(const Ledger& ledger, const Claim& claim) {
  Rows rows(ledger, claim);
  switch (claim.kind) {
    case ClaimKind::kAirframe:
      rows.add_machine();
      break;
    case ClaimKind::kType:
      rows.add_machine();
      rows.add(ledger.type(claim.value));
      break;
    case ClaimKind::kUnit:
      rows.add_history([&](const History& row) { return row.unit == claim.value; });
      rows.add(ledger.unit(claim.value));
      break;
    case ClaimKind::kPlace:
      rows.add_history([&](const History& row) { return row.place == claim.value; });
      rows.add(ledger.place(claim.value));
      break;
    case ClaimKind::kPerson:
      rows.add(ledger.person(claim.value));
      break;
    case ClaimKind::kRank:
      rows.add_service("rank");
      rows.add(ledger.rank(claim.value));
      break;
    case ClaimKind::kAward:
      rows.add_service("award");
      rows.add(ledger.award(claim.value));
      break;
    case ClaimKind::kMarking:
      rows.add(ledger.marking(claim.value));
      for (const Order* row : ledger.orders_of(claim.value)) rows.add(row);
      break;
    case ClaimKind::kEvent:
      rows.add_history([&](const History& row) { return row.kind == claim.value; });
      if (claim.value == "taken_on_charge" || claim.value == "struck_off_charge") {
        rows.add_machine();
      }
      break;
    case ClaimKind::kReference:
      rows.add(ledger.photograph(claim.value));
      break;
    default:
      break;
  }
  return rows.take();
}

Json evidence_at(const View& view, FileId file, std::uint32_t offset) {
  Json locations = Json::array();
  const auto add = [&](std::string_view table, std::uint32_t line) {
    Json location = view.location(table, line);
    const bool is_there =
        std::find(locations.begin(), locations.end(), location) != locations.end();
    if (!location.is_null() && !is_there) locations.push_back(std::move(location));
  };
  for (const Query* query : view.queries_at(file, offset, offset)) {
    for (const Evidence& evidence : query->evidence) add(evidence.table, evidence.line);
  }
  const std::vector<const Claim*> claims = view.claims_at(file, offset);
  // Words that name two things (a photograph and its machine) have the rows of both.
  for (const Claim* claim : claims) {
    if (claim->span != claims.front()->span) break;
    for (const RowPlace& row : rows_about(view.run().ledger, *claim)) add(row.table, row.line);
  }
  return locations;
}

}  // namespace tailproof::lsp
