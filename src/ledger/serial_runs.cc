#include "tailproof/serial_runs.h"

#include "source/ascii.h"

namespace tailproof {
namespace {

constexpr std::size_t kMostRunDigits = 9;

}  // namespace

std::string SerialRun::with(std::int64_t other) const {
  std::string digits = std::to_string(other);
  if (digits.size() < width) digits.insert(0, width - digits.size(), '0');
  return before + digits + behind;
}

std::vector<SerialRun> runs_of(std::string_view serial) {
  std::vector<SerialRun> runs;
  for (std::size_t at = 0; at < serial.size(); ++at) {
    if (!is_digit(serial[at])) continue;
    std::size_t end = at;
    std::int64_t number = 0;
    for (; end < serial.size() && is_digit(serial[end]); ++end) {
      if (end - at < kMostRunDigits) number = number * 10 + (serial[end] - '0');
    }
    if (end - at <= kMostRunDigits) {
      runs.push_back(
          {std::string(serial.substr(0, at)), std::string(serial.substr(end)), number, end - at});
    }
    at = end;
  }
  return runs;
}

std::optional<std::pair<SerialRun, SerialRun>> in_one_series(std::string_view serial,
                                                             std::string_view other) {
  std::vector<SerialRun> ours = runs_of(serial), theirs = runs_of(other);
  if (ours.size() != theirs.size()) return std::nullopt;
  for (std::size_t i = 0; i < ours.size(); ++i) {
    if (ours[i].number != theirs[i].number && ours[i].is_of_series(theirs[i]))
      return std::pair(std::move(ours[i]), std::move(theirs[i]));
  }
  return std::nullopt;
}

}  // namespace tailproof
