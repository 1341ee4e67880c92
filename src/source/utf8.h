// UTF-8, looked at sequence by sequence.
#pragma once

#include <cstddef>
#include <string_view>

namespace tailproof {

inline constexpr std::string_view kByteOrderMark = "\xEF\xBB\xBF";

/// Length of the well-formed sequence with which `bytes` begin; 0 when there is none (Unicode 15,
/// table 3-7).
[[nodiscard]] std::size_t utf8_length(std::string_view bytes);

}  // namespace tailproof
