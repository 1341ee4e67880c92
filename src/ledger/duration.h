// ISO 8601 durations as ledgers write them: margins and periods of grace.
#pragma once

#include <optional>
#include <string_view>

#include "tailproof/day.h"

namespace tailproof {

/// The period of "P3D", "P2W", "P1M", "P1Y6M". Nothing when it is no such duration; hours and
/// fractions are none.
[[nodiscard]] std::optional<Duration> read_duration(std::string_view text);

/// Days of "P3D", "P2W", "P1M", "P1Y6M", rounded up to the longest that such a period can be
/// reckoned on average (P1M is 31 days, P3M 92, P1Y 366), for margins, which have no day to be
/// counted from.
[[nodiscard]] std::optional<Day> duration_days(std::string_view text);

}  // namespace tailproof
