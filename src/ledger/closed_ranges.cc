#include "ledger/closed_ranges.h"

#include <algorithm>
#include <optional>

#include "source/ascii.h"

namespace tailproof {
namespace {

// More digits than this are no serial number and would not fit.
constexpr std::size_t kMostRangeDigits = 18;

std::optional<std::uint64_t> number_of(std::string_view digits) {
  if (digits.empty() || digits.size() > kMostRangeDigits) return std::nullopt;
  std::uint64_t number = 0;
  for (char c : digits) {
    if (!is_digit(c)) return std::nullopt;
    number = number * 10 + static_cast<std::uint64_t>(c - '0');
  }
  return number;
}

std::string shape(std::string_view before, std::string_view after) {
  std::string key(before);
  key += '\n';
  key += after;
  return key;
}

}  // namespace

std::pair<std::string, std::string> ClosedRanges::ends(std::string_view range) {
  const std::size_t dots = range.find("..");
  if (dots == std::string_view::npos) {
    return {std::string(trimmed(range)), std::string(trimmed(range))};
  }
  return {std::string(trimmed(range.substr(0, dots))),
          std::string(trimmed(range.substr(dots + 2)))};
}

std::string ClosedRanges::add(std::string_view range) {
  const auto [first, last] = ends(range);
  if (first.empty() || last.empty()) return "has an end missing; write FIRST..LAST";

  // The run of digits in which they differ; of two equal ends, the last run.
  std::size_t begin = static_cast<std::size_t>(
      std::mismatch(first.begin(), first.end(), last.begin(), last.end()).first - first.begin());
  if (first == last) {
    while (begin > 0 && !is_digit(first[begin - 1])) --begin;
    if (begin == 0) return "has no digits in \"" + first + "\"";
  }
  while (begin > 0 && is_digit(first[begin - 1])) --begin;
  std::size_t first_end = begin;
  while (first_end < first.size() && is_digit(first[first_end])) ++first_end;
  std::size_t last_end = begin;
  while (last_end < last.size() && is_digit(last[last_end])) ++last_end;

  const auto low = number_of(std::string_view(first).substr(begin, first_end - begin));
  const auto high = number_of(std::string_view(last).substr(begin, last_end - begin));
  if (std::max(first_end, last_end) - begin > kMostRangeDigits) {
    return "has a number of more than 18 digits, which is no serial; write it shorter";
  }
  if (!low || !high ||
      std::string_view(first).substr(first_end) != std::string_view(last).substr(last_end)) {
    return "has ends of different shapes; \"" + first + "\" and \"" + last +
           "\" must differ in one run of digits only";
  }
  if (*low > *high) return "runs backwards; write the lower serial first";

  Interval interval{*low, *high, first_end - begin, last_end - begin};
  const bool padded = first_end != last_end && (first[begin] == '0' || last[begin] == '0');
  if (padded) return "has ends of different lengths, one with leading zeros; write both alike";
  auto& intervals = by_shape_[shape(std::string_view(first).substr(0, begin),
                                    std::string_view(first).substr(first_end))];
  intervals.push_back(interval);
  return "";
}

bool ClosedRanges::contain(std::string_view serial) const {
  for (std::size_t begin = 0; begin < serial.size(); ++begin) {
    if (!is_digit(serial[begin])) continue;
    std::size_t end = begin;
    while (end < serial.size() && is_digit(serial[end])) ++end;
    const auto number = number_of(serial.substr(begin, end - begin));
    const auto found = by_shape_.find(shape(serial.substr(0, begin), serial.substr(end)));
    const std::size_t digits = end - begin;
    const bool leading_zero = serial[begin] == '0';
    begin = end;
    if (!number || found == by_shape_.end()) continue;
    for (const Interval& interval : found->second) {
      if (*number < interval.first || *number > interval.last) continue;
      if (digits < interval.min_digits || digits > interval.max_digits) continue;
      if (leading_zero && interval.min_digits != interval.max_digits) continue;
      return true;
    }
  }
  return false;
}

}  // namespace tailproof
