// What besides the story speaks for one of the years that a date without one may mean.
#pragma once

#include "mentions/dates.h"

namespace tailproof {

/// What a step back to such a year costs of its usual cost.
inline constexpr double kWitnessedCost = 0.25;

/// Whether on these days, by the ledger, something befell the machine that the date's sentence
/// names, or whether the day has the weekday that the text gives it.
[[nodiscard]] bool is_witnessed(const DateMention& mention, const DaySet& days);

}  // namespace tailproof
