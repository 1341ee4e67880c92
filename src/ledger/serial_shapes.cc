#include "ledger/serial_shapes.h"

#include <map>

#include "source/ascii.h"

namespace tailproof {
namespace {

constexpr std::size_t kMostLetters = 3, kMostBehind = 2, kFewestDigits = 3, kMostDigits = 7;
constexpr std::size_t kMostShapes = 64;  // of a ledger; more are no rule

}  // namespace

std::optional<SerialShape> shape_of(std::string_view serial) {
  const auto run = [&](std::size_t from, auto is_of_it) {
    std::size_t end = from;
    while (end < serial.size() && is_of_it(serial[end])) ++end;
    return end;
  };
  const std::size_t letters = run(0, is_upper);
  const bool is_joined = letters > 0 && letters < serial.size() &&
                         std::string_view("-/. ").find(serial[letters]) != std::string_view::npos;
  const std::size_t number = letters + (is_joined ? 1 : 0);
  const std::size_t behind = run(number, is_digit);
  const std::size_t digits = behind - number, last = serial.size() - behind;
  if (letters > kMostLetters || digits < kFewestDigits || digits > kMostDigits ||
      run(behind, is_upper) != serial.size()) {
    return std::nullopt;
  }
  // Letters at one end, and at one only.
  if (letters > 0 ? last > 0 : last == 0 || last > kMostBehind) return std::nullopt;
  // "A 217 men strong", "I 217": words.
  const bool is_word = letters == 1 && (serial[0] == 'A' || serial[0] == 'I');
  if (is_word && is_joined && serial[letters] == ' ') return std::nullopt;
  return SerialShape{std::string(serial.substr(0, letters)),
                     std::string(serial.substr(letters, number - letters)),
                     digits,
                     std::string(serial.substr(behind)),
                     std::string(serial),
                     1};
}

std::vector<SerialShape> serial_shapes(std::span<const Airframe> airframes) {
  std::map<std::string, std::size_t> places;
  std::vector<SerialShape> shapes;
  for (const Airframe& row : airframes) {
    std::optional<SerialShape> shape = shape_of(row.serial);
    if (!shape) continue;
    const auto [place, is_new] = places.try_emplace(shape->key(), shapes.size());
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
