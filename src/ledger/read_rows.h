// Reads one table into its rows, driven by the table of columns.
#pragma once

#include <string>
#include <string_view>
#include <unordered_map>
#include <vector>

#include "ledger/columns.h"
#include "ledger/row_source.h"
#include "ledger/tables.h"
#include "tailproof/result.h"

namespace tailproof {

/// What reading any table needs besides its rows.
struct ReadContext {
  std::string file;              // as complaints name it
  std::string_view table_label;  // as RowPlace names it
  Hemisphere hemisphere = Hemisphere::kNorth;
  TextPool& pool;
  ByText<Edtf>& dates;  // dates seen so far: the same ones return thousands of times
  Complaints& complaints;

  void complain(std::uint32_t line, std::uint32_t column, std::string message) const;
  void remark(std::uint32_t line, std::uint32_t column, std::string message) const;
};

/// Every good row of the table. A bad row is one complaint for each bad cell, and is left out when
/// a key cell is bad; a bad cell elsewhere is taken as unknown.
template <typename Row>
[[nodiscard]] std::vector<Row> read_rows(RowSource& source, const ReadContext& context);

}  // namespace tailproof
