// Serials as members of a series: what runs from "F113" to "F120", or from "113-48" to "120-48".
#pragma once

#include <cstddef>
#include <cstdint>
#include <optional>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

namespace tailproof {

/// A serial at one of its runs of digits: "F113" as "F", 113, ""; "113-48" as "", 113, "-48" or as
/// "113-", 48, "".
struct SerialRun {
  std::string before, behind;
  std::int64_t number = -1;
  std::size_t width = 0;  // digits
  [[nodiscard]] bool is_of_series(const SerialRun& other) const {
    return before == other.before && behind == other.behind;
  }
  /// The serial of the same series with another number.
  [[nodiscard]] std::string with(std::int64_t other) const;
};

/// Every run of up to nine digits.
[[nodiscard]] std::vector<SerialRun> runs_of(std::string_view serial);

/// Both serials at the one run of digits in which they differ; nothing where they are the same or
/// of two series.
[[nodiscard]] std::optional<std::pair<SerialRun, SerialRun>> in_one_series(std::string_view serial,
                                                                           std::string_view other);

}  // namespace tailproof
