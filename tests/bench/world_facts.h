// What is true in the world of the benchmarks, counted from the number of an airframe alone: the
// ledger and the books are both written from here.
#pragma once

#include <array>
#include <cstddef>
#include <cstdint>
#include <string>
#include <string_view>

namespace tailproof::bench {

inline constexpr std::size_t kUnits = 24;
inline constexpr std::size_t kPlaces = 16;

inline constexpr std::array<std::string_view, 4> kTypes = {"Tarsel", "Brindle", "Oxgang",
                                                           "Wherrit"};
inline constexpr std::array<std::string_view, 2> kMarks = {"Mk I", "Mk II"};
inline constexpr std::array<std::string_view, kPlaces> kPlaceNames = {
    "Harl Bay",    "Dunmarrow",  "Sallit Point", "Corrick Strip", "Eddering",     "Vane Hollow",
    "Mossel Quay", "Tarn Ridge", "Ulverness",    "Brack Landing", "Pellow Sands", "Hask Common",
    "Orrin Field", "Quarl Moss", "Linnet Cay",   "Stade Rock"};
inline constexpr std::array<std::string_view, 6> kRanks = {"Flight Warden",  "Flight Bailiff",
                                                           "Flight Reeve",   "Flight Thane",
                                                           "Flight Marcher", "Flight Warder"};
inline constexpr std::array<std::string_view, 6> kMarkings = {
    "barred lozenge", "plain lozenge",   "edged lozenge",
    "sea stripes",    "white tail band", "chequered cowling"};

inline std::string unit_name(std::size_t unit) { return std::to_string(301 + unit) + " Flotilla"; }
inline std::string unit_letters(std::size_t unit) {
  return {static_cast<char>('A' + unit), static_cast<char>('Z' - unit / 2)};
}
inline std::size_t unit_of(std::size_t airframe) { return airframe % kUnits; }
inline std::size_t place_of_unit(std::size_t unit) { return unit % kPlaces; }
inline std::size_t type_of(std::size_t airframe) { return airframe % kTypes.size(); }
inline std::size_t mark_of(std::size_t airframe) { return airframe / 4 % kMarks.size(); }
inline std::string code_of(std::size_t airframe) {
  return unit_letters(unit_of(airframe)) + "-" + std::to_string(airframe / kUnits + 1);
}
/// Months of 1942 in which it was taken on charge and sent to its unit.
inline unsigned month_taken(std::size_t airframe) {
  return 1 + static_cast<unsigned>(airframe % 4);
}
inline unsigned month_allotted(std::size_t airframe) { return month_taken(airframe) + 2; }

}  // namespace tailproof::bench
