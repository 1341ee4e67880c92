// Rows of the ledger as stretches of time, for drawing.
#pragma once

#include <cstdint>
#include <map>
#include <optional>
#include <string>
#include <string_view>
#include <utility>

#include "tailproof/day.h"
#include "tailproof/ledger.h"

namespace tailproof {

/// What a row says, and when it held.
struct DatedRow {
  std::string label;  // short: "12 Company, holder"
  DaySet possible;    // the widest reading
  DaySet certain;     // the narrowest; within `possible`
};

/// Look-up by table and line, as queries quote rows. Lifetime: the ledger must outlive it. Cost:
/// built once, in the number of rows.
class DatedRows {
 public:
  explicit DatedRows(const Ledger& ledger);

  /// Nothing when there is no such row, or it gives no date at all.
  [[nodiscard]] std::optional<DatedRow> find(std::string_view table, std::uint32_t line) const;

 private:
  using Place = std::pair<std::string_view, std::uint32_t>;
  void add(const RowPlace& place, std::string label, DaySet possible, DaySet certain);
  void add(const RowPlace& place, std::string label, const Spell& spell);
  void add_order(const Order& order);

  std::map<Place, DatedRow> rows_;
};

}  // namespace tailproof
