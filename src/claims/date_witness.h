// What besides the story speaks for one of the years that a date without one may mean.
#pragma once

#include <cstdint>
#include <optional>

#include "mentions/dates.h"

namespace tailproof {

/// What a step back to such a year costs of its usual cost.
inline constexpr double kWitnessedCost = 0.15;
// The very day or month, where no date of its own block tells the year.
inline constexpr double kWitnessedFarCost = 0.02;
// The very day.
inline constexpr double kWitnessedDayCost = 0.004;

/// Whether on these days, by the ledger, something befell the machine that the date's sentence
/// names, or whether the day has the weekday that the text gives it.
[[nodiscard]] bool is_witnessed(const DateMention& mention, const DaySet& days);

/// Whether one of those things, by the ledger, was on that very day.
[[nodiscard]] bool is_witnessed_to_the_day(const DateMention& mention, const DaySet& days);

/// Whether, in that year, the day of the month that the words behind name has the weekday that they
/// give it ("in February: on Friday the 5th"); nothing where they give none.
[[nodiscard]] std::optional<bool> has_weekday_behind(const DateMention& mention, std::int64_t year);

}  // namespace tailproof
