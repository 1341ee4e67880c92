// Which of many patterns may match at a place: one quick look before RE2 is asked.
//
// The sieve reads each byte once, whatever the number of patterns, and stops where none can go on.
// It may let a pattern through that does not match and never holds one back that does: word
// boundaries are taken for granted, case is folded, and letters beyond ASCII are all alike. Its
// automaton is made as texts need it, so that an object serves one thread.
#pragma once

#include <array>
#include <bitset>
#include <cstddef>
#include <cstdint>
#include <string_view>
#include <unordered_map>
#include <vector>

namespace tailproof {

class PatternSieve {
 public:
  static constexpr std::size_t kMostPatterns = 128;
  using Mask = std::bitset<kMostPatterns>;

  /// Sources in RE2's syntax. `is_whole` is false when there are too many of them, or one has
  /// syntax that the sieve does not know: then it is of no use.
  explicit PatternSieve(const std::vector<std::string_view>& sources);
  [[nodiscard]] bool is_whole() const { return is_whole_; }

  struct Look {
    Mask may_match;           // by number of the source
    std::size_t reach = 0;    // how far the text was read
    bool is_decided = false;  // nothing behind `reach` has any part in what matches
  };
  [[nodiscard]] Look look(std::string_view text, std::size_t begin, std::size_t limit);
  /// By number of the source, how long a match of it may be at most; 0 where there is none.
  using Lengths = std::array<std::uint32_t, kMostPatterns>;
  [[nodiscard]] Lengths longest(std::string_view text, std::size_t begin, std::size_t limit);

 private:
  friend class SieveParser;
  static constexpr std::size_t kMostPlaces = 400000;
  static constexpr unsigned kSymbols = 128;  // ASCII in lower case; kWide for all other bytes
  static constexpr unsigned kWide = 127;
  using Symbols = std::bitset<kSymbols>;
  using StateId = std::uint16_t;
  static constexpr StateId kUnknown = 0, kDead = 1;

  // Where a place leads on to: mostly one other place, which then needs no memory of its own.
  class Ways {
   public:
    void push_back(std::uint32_t to) {
      if (first_ == kNone) {
        first_ = to;
      } else {
        more_.push_back(to);
      }
    }
    template <typename Visit>
    void each(const Visit& visit) const {
      if (first_ == kNone) return;
      visit(first_);
      for (const std::uint32_t to : more_) visit(to);
    }

   private:
    static constexpr std::uint32_t kNone = 0xffffffffU;
    std::uint32_t first_ = kNone;
    std::vector<std::uint32_t> more_;
  };

  // A place in a pattern. One that takes a byte has `takes`, one that ends a pattern `ends`, any
  // other leads on without a byte.
  struct Place {
    Symbols takes;
    bool repeats_wide = false;  // a letter beyond ASCII is several bytes
    int ends = -1;
    Ways next;
  };
  struct State {
    std::array<StateId, kSymbols> next{};
    Mask ends;
    std::vector<std::uint32_t> places;  // those that take a byte
  };

  void gather(std::uint32_t place, std::vector<std::uint32_t>& places, Mask& ends);
  StateId state_of(std::vector<std::uint32_t>& places, const Mask& ends);
  StateId step(StateId from, unsigned symbol);
  StateId after(StateId state, char byte);
  void begin_over();

  bool is_whole_ = true;
  std::vector<Place> places_;
  std::vector<std::uint32_t> starts_;
  std::vector<State> states_;
  std::unordered_multimap<std::uint64_t, StateId> known_;  // by a hash of places and ends
  StateId first_ = kDead;
  std::vector<std::uint32_t> open_, reached_;  // room of gather() and step()
  std::vector<std::uint32_t> seen_;            // by place: the round in which it was gathered
  std::uint32_t round_ = 0;
};

}  // namespace tailproof
