// An invented air arm of any size and books about it, for benchmarks: the same seed gives the same
// bytes on every machine.
//
// The books keep the measure of real ones: about a fifth of the bytes are captions, the rest prose,
// of which about half names nothing at all. Most statements agree with the ledger; about one
// caption in thirty holds a fault, so that the number of queries grows with the book.
#pragma once

#include <cstddef>
#include <cstdint>
#include <string>
#include <string_view>

namespace tailproof::bench {

/// A small generator of numbers that is the same everywhere.
class Dice {
 public:
  explicit Dice(std::uint64_t seed) : state_(seed) {}
  std::uint64_t next();
  /// From 0 to below `bound`.
  std::size_t below(std::size_t bound) { return static_cast<std::size_t>(next() % bound); }

 private:
  std::uint64_t state_;
};

class World {
 public:
  explicit World(std::size_t airframes) : airframes_(airframes) {}

  /// ledger.toml and all sixteen tables, into a folder that exists.
  void write_ledger(const std::string& folder) const;

  [[nodiscard]] std::string markdown(std::size_t bytes, std::uint64_t seed) const;
  [[nodiscard]] std::string docbook(std::size_t bytes, std::uint64_t seed) const;
  /// One paragraph without an end, with a serial in about every hundred bytes.
  [[nodiscard]] std::string one_paragraph(std::size_t bytes, std::uint64_t seed) const;

  [[nodiscard]] std::size_t airframes() const { return airframes_; }
  [[nodiscard]] std::string serial(std::size_t airframe) const;
  [[nodiscard]] std::string person(std::size_t index) const;
  [[nodiscard]] std::size_t people() const;

 private:
  [[nodiscard]] std::string filled(std::string_view form, Dice& dice, std::size_t airframe) const;
  [[nodiscard]] std::string caption(Dice& dice) const;
  [[nodiscard]] std::string paragraph(Dice& dice) const;

  std::size_t airframes_;
};

}  // namespace tailproof::bench
