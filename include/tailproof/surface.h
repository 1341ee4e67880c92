// Surfaces of an aircraft, and which of them a position names: "wing" is upper and under wing,
// "tail" is fin, rudder and tailplane, "nose" takes in cowling and spinner.
#pragma once

#include <bitset>
#include <string>
#include <string_view>
#include <vector>

namespace tailproof {

inline constexpr std::size_t kSurfaceCount = 8;  // one for each part that is never divided
using Surfaces = std::bitset<kSurfaceCount>;

/// Surfaces of a position; all of them for "", "whole", and for words that it does not know (the
/// permissive reading).
[[nodiscard]] Surfaces surfaces_of(std::string_view position);
/// Surfaces of any of the positions; all of them when the list is empty.
[[nodiscard]] Surfaces surfaces_of(const std::vector<std::string>& positions);
/// "upper wing", by index.
[[nodiscard]] std::string_view surface_name(std::size_t index);

}  // namespace tailproof
