// What a range of dates states beside its days: its two ends, or that it runs backwards.
#include <algorithm>

#include "claims/assembler.h"

namespace tailproof {

// "Between 14-6-55 and 2-6-55" as the range that runs backwards, both ends being days; else its
// words.
std::string BlockAssembler::impossible_text(const Mention& mention) const {
  const ResolvedDate& resolved = dates_[mention.payload];
  const bool has_ends = !resolved.first.is_unknown() && !resolved.second.is_unknown();
  if (!has_ends) return std::string(text_of(mention));
  return resolved.first.text() + "/" + resolved.second.text();
}

// In running text a range mostly tells when a state began and when it ended: two dates.
void BlockAssembler::add_ends(Claim& claim, const DateMention& date,
                              const ResolvedDate& resolved) const {
  if (resolved.first.is_unknown() || resolved.second.is_unknown()) return;
  if (date.first_end <= date.begin || date.second_begin >= date.end) return;
  const Hemisphere hemisphere = ledger_.settings().hemisphere;
  const auto add_end = [&](std::uint32_t begin, std::uint32_t end, const Edtf& value) {
    claim.ends.push_back({block_.text_span(begin, end), claimed_text(value, hemisphere),
                          block_.text.substr(begin, end - begin)});
  };
  add_end(date.begin, date.first_end, resolved.first);
  add_end(date.second_begin, date.end, resolved.second);
}

// "Six weeks later": nobody counts weeks, months or years to the day, unless he says so.
Day BlockAssembler::slack_of(const Claim& date) const {
  constexpr Day kOfWeeks = 3, kOfMonths = 7, kOfYears = 30;
  constexpr Day kOfAboutMonths = 15;  // "not quite six months later", which is known to a month
  constexpr Day kWithinWeek = 6;      // "in the same week", "the following week": any day of it
  constexpr Day kOfPart = 3;          // "at the end of May" may be the first of June
  const auto of_part = [&](const DateMention& mention) {
    return mention.begin == date.begin && date.of == "person" &&
           mention.bound == DateBound::kNone && mention.first.precision == Precision::kMonth &&
           mention.first.part.starts_with("third");
  };
  if (std::any_of(mentions_.dates.begin(), mentions_.dates.end(), of_part)) return kOfPart;
  const bool is_month = date.date.precision() == Precision::kMonth;
  if ((date.date.precision() != Precision::kDay && !is_month) || date.date.is_interval()) return 0;
  for (const DateMention& mention : mentions_.dates) {
    const DateUnit& unit = mention.first;
    if (is_month) {
      const bool is_about = mention.begin == date.begin && unit.is_offset() && unit.approximate &&
                            unit.offset_period == DatePeriod::kMonth;
      if (is_about) return kOfAboutMonths;
      continue;
    }
    const bool is_of_week = unit.ref_period == DatePeriod::kWeek && unit.ref_weekday < 0;
    if (mention.begin == date.begin && is_of_week) return kWithinWeek;
    if (mention.begin != date.begin || !unit.is_offset() || unit.offset_to_the_day) continue;
    constexpr std::int64_t kFewWeeks = 2;
    const bool is_few = unit.offset >= -kFewWeeks && unit.offset <= kFewWeeks;
    if (unit.offset_period == DatePeriod::kWeek) return is_few ? kOfWeeks : kOfWeeks + 1;
    if (unit.offset_period == DatePeriod::kMonth) return kOfMonths;
    if (unit.offset_period == DatePeriod::kYear) return kOfYears;
  }
  return 0;
}

}  // namespace tailproof
