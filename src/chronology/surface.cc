#include "tailproof/surface.h"

#include <array>
#include <utility>

namespace tailproof {
namespace {

constexpr std::array<std::string_view, kSurfaceCount> kNames = {
    "fuselage", "nose", "upper wing", "under wing", "fin", "rudder", "tailplane", "canopy"};

struct Word {
  std::string_view word;
  unsigned long surfaces;  // bits in the order of kNames
};
constexpr Word kWords[] = {
    {"fuselage", 0b00000001},   {"nose", 0b00000010},        {"cowling", 0b00000010},
    {"spinner", 0b00000010},    {"upper wing", 0b00000100},  {"upper wings", 0b00000100},
    {"under wing", 0b00001000}, {"under wings", 0b00001000}, {"lower wing", 0b00001000},
    {"wing", 0b00001100},       {"wings", 0b00001100},       {"fin", 0b00010000},
    {"rudder", 0b00100000},     {"tailplane", 0b01000000},   {"tail", 0b01110000},
    {"canopy", 0b10000000},
};

}  // namespace

Surfaces surfaces_of(std::string_view position) {
  for (const Word& word : kWords) {
    if (word.word == position) return Surfaces(word.surfaces);
  }
  return Surfaces().set();
}

Surfaces surfaces_of(const std::vector<std::string>& positions) {
  if (positions.empty()) return Surfaces().set();
  Surfaces all;
  for (const std::string& position : positions) all |= surfaces_of(position);
  return all;
}

std::string_view surface_name(std::size_t index) { return kNames[index]; }

}  // namespace tailproof
