// One table as it is read, row by row: from a CSV file or from SQLite.
#pragma once

#include <cstdint>
#include <memory>
#include <string>
#include <string_view>
#include <vector>

#include "tailproof/result.h"
#include "tailproof/span.h"

namespace tailproof {

/// Contract: header() first; then next() until it returns false; cells live until the next next().
class RowSource {
 public:
  virtual ~RowSource() = default;

  [[nodiscard]] virtual const std::vector<std::string>& header() const = 0;
  /// About how many rows there are, to make room for; 0 when there is no telling.
  [[nodiscard]] virtual std::size_t expected_rows() const = 0;
  /// Goes to the next row that has any text. What cannot be read becomes a complaint.
  virtual bool next(Complaints& complaints) = 0;
  [[nodiscard]] virtual const std::vector<std::string_view>& cells() const = 0;
  /// Line on which the row begins, from 1; of SQLite its rowid.
  [[nodiscard]] virtual std::uint32_t line() const = 0;
  /// Where a cell of this row begins (or the row ends, for a cell that it lacks).
  [[nodiscard]] virtual Position place(std::size_t cell) const = 0;
};

}  // namespace tailproof
