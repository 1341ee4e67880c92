// What the serials of a ledger without serial forms look like: "K-217" is a K, a hyphen and three
// figures, and so is K-999, which the ledger has not got to yet.
//
// Only shapes that little else has: one to three capitals, at most one joining mark, and three
// figures or more; or three figures or more and one or two capitals ("1105C"). Serials of other
// shapes are known by their rows alone.
#pragma once

#include <cstddef>
#include <optional>
#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "tailproof/ledger.h"

namespace tailproof {

struct SerialShape {
  std::string letters;     // "K"; "" where the figures come first
  std::string joint;       // between them: "-", "/", ".", " " or ""
  std::size_t digits = 0;  // 3
  std::string behind;      // letters behind the figures: ""
  std::string example;     // the first row's serial
  std::size_t rows = 0;    // that have it

  /// Equal for equal shapes.
  [[nodiscard]] std::string key() const {
    return letters + joint + std::to_string(digits) + behind;
  }
};

/// The shape of one serial; nothing where it is none of those above.
[[nodiscard]] std::optional<SerialShape> shape_of(std::string_view serial);

/// Every shape among these rows once, in the order of the first row of each; none at all where
/// there are so many that they teach nothing.
[[nodiscard]] std::vector<SerialShape> serial_shapes(std::span<const Airframe> airframes);

}  // namespace tailproof
