#include "ledger/serial_shapes.h"

#include <algorithm>
#include <map>
#include <tuple>

namespace tailproof {
namespace {

constexpr std::size_t kMostLetters = 3, kFewestDigits = 3, kMostDigits = 7;
constexpr std::size_t kMostShapes = 64;  // of a ledger; more are no rule

bool is_capital(char c) { return c >= 'A' && c <= 'Z'; }
bool is_digit(char c) { return c >= '0' && c <= '9'; }

}  // namespace

std::optional<SerialShape> shape_of(std::string_view serial) {
  const auto letters = static_cast<std::size_t>(
      std::find_if_not(serial.begin(), serial.end(), is_capital) - serial.begin());
  if (letters == 0 || letters > kMostLetters || letters == serial.size()) return std::nullopt;
  std::size_t at = letters;
  const bool is_joined = std::string_view("-/. ").find(serial[at]) != std::string_view::npos;
  if (is_joined) ++at;
  // "A 217" may be so many of anything.
  if (is_joined && serial[letters] == ' ' && letters == 1) return std::nullopt;
  const std::string_view digits = serial.substr(at);
  const bool is_number = std::all_of(digits.begin(), digits.end(), is_digit);
  if (!is_number || digits.size() < kFewestDigits || digits.size() > kMostDigits) {
    return std::nullopt;
  }
  return SerialShape{std::string(serial.substr(0, letters)),
                     std::string(serial.substr(letters, at - letters)), digits.size(),
                     std::string(serial), 1};
}

std::vector<SerialShape> serial_shapes(std::span<const Airframe> airframes) {
  std::map<std::tuple<std::string, std::string, std::size_t>, std::size_t> places;
  std::vector<SerialShape> shapes;
  for (const Airframe& row : airframes) {
    std::optional<SerialShape> shape = shape_of(row.serial);
    if (!shape) continue;
    const auto [place, is_new] =
        places.try_emplace({shape->letters, shape->joint, shape->digits}, shapes.size());
    if (!is_new) {
      ++shapes[place->second].rows;
      continue;
    }
    if (shapes.size() == kMostShapes) return {};
    shapes.push_back(*std::move(shape));
  }
  return shapes;
}

}  // namespace tailproof
