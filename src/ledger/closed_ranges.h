// Closed ranges of serials ("QX1001..QX1400"): the ledger holds every airframe in them.
#pragma once

#include <cstdint>
#include <string>
#include <string_view>
#include <unordered_map>
#include <utility>
#include <vector>

#include "ledger/text.h"
#include "source/text_hash.h"

namespace tailproof {

class ClosedRanges {
 public:
  /// Takes "FIRST..LAST", or one serial alone. Returns "" or what is wrong: both ends must differ
  /// in one run of digits only, the first not after the last.
  [[nodiscard]] std::string add(std::string_view range);
  /// Whether a range holds this serial. Cost: a look-up for each run of digits in it.
  [[nodiscard]] bool contain(std::string_view serial) const;

  /// Both ends of "FIRST..LAST" (twice the same of a single serial).
  [[nodiscard]] static std::pair<std::string, std::string> ends(std::string_view range);

 private:
  struct Interval {
    std::uint64_t first, last;
    std::size_t min_digits, max_digits;
  };
  // By what stands before and after the digits, with a line break between.
  std::unordered_map<std::string, std::vector<Interval>, TextHash, std::equal_to<>> by_shape_;
};

}  // namespace tailproof
