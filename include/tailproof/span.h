// Positions in source files.
//
// Contract: a Span names bytes [begin, end) of one immutable source buffer; it owns nothing and
// stays meaningful for as long as the Sources that issued its file number live. Files are limited
// to 4 GiB - 1.
#pragma once

#include <cstdint>

namespace tailproof {

/// Number of a source file within one run, issued by Sources::add in the order of reading.
using FileId = std::uint32_t;

/// Bytes [begin, end) of one source file.
struct Span {
  FileId file = 0;
  std::uint32_t begin = 0;
  std::uint32_t end = 0;

  [[nodiscard]] constexpr std::uint32_t size() const { return end - begin; }
  friend constexpr bool operator==(const Span&, const Span&) = default;
};

/// A place as a person reads it: line and column count from 1, columns count Unicode code points.
struct Position {
  std::uint32_t line = 1;
  std::uint32_t column = 1;

  friend constexpr bool operator==(const Position&, const Position&) = default;
};

}  // namespace tailproof
