// From a pattern's source to the places of a sieve.
#pragma once

#include <cstdint>
#include <string_view>
#include <vector>

#include "grammars/sieve.h"

namespace tailproof {

/// Reads one source into `sieve`; the place to begin at is its `start`, kNoPlace when it has syntax
/// that the sieve does not know.
class SieveParser {
 public:
  static constexpr std::uint32_t kNoPlace = 0xffffffffU;

  SieveParser(PatternSieve& sieve, std::string_view source, int number)
      : sieve_(sieve), source_(source), number_(number) {}
  [[nodiscard]] std::uint32_t read();

 private:
  using Place = PatternSieve::Place;
  using Symbols = PatternSieve::Symbols;
  /// A piece of a pattern: where it begins, and the one place in which all its ways end; that one
  /// may take a byte. An empty one, such as a word boundary, has no place.
  struct Piece {
    std::uint32_t begin = kNoPlace, end = kNoPlace;

    [[nodiscard]] bool is_empty() const { return begin == kNoPlace; }
  };

  [[nodiscard]] bool is_at_end() const { return at_ >= source_.size() || failed_; }
  [[nodiscard]] char peek() const { return source_[at_]; }
  std::uint32_t add_place();
  Piece take(const Symbols& symbols, bool repeats_wide);
  Piece nothing();
  void link(std::uint32_t from, std::uint32_t to);
  Piece fail();

  Piece alternatives();
  Piece sequence();
  Piece repeated();
  Piece atom();
  Piece group();
  Piece escape();
  Piece bracket();
  Piece literal(unsigned char byte);
  Piece copies(Piece first, std::string_view source, unsigned least, unsigned most, bool unlimited);
  bool read_count(unsigned& least, unsigned& most, bool& unlimited);
  bool escaped_class(char letter, Symbols& symbols, bool& wide) const;

  PatternSieve& sieve_;
  std::string_view source_;
  int number_;
  std::size_t at_ = 0;
  bool failed_ = false;
};

}  // namespace tailproof
