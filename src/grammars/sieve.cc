#include "grammars/sieve.h"

#include <algorithm>
#include <utility>

#include "grammars/sieve_parser.h"

namespace tailproof {
namespace {

// Past these the sieve begins over, so that no text can make it grow without end.
constexpr std::size_t kMostStates = 6000;

constexpr std::array<std::uint8_t, 256> make_symbols() {
  std::array<std::uint8_t, 256> symbols{};
  for (unsigned c = 0; c < 256; ++c) {
    symbols[c] = static_cast<std::uint8_t>(c >= 0x7F              ? 127
                                           : c >= 'A' && c <= 'Z' ? c - 'A' + 'a'
                                                                  : c);
  }
  return symbols;
}

constexpr auto kSymbolOf = make_symbols();

}  // namespace

PatternSieve::PatternSieve(const std::vector<std::string_view>& sources) {
  is_whole_ = sources.size() <= kMostPatterns;
  for (std::size_t i = 0; i < sources.size() && is_whole_; ++i) {
    const std::uint32_t start = SieveParser(*this, sources[i], static_cast<int>(i)).read();
    is_whole_ = start != SieveParser::kNoPlace;
    starts_.push_back(start);
  }
  if (!is_whole_) {
    places_.clear();
    return;
  }
  seen_.assign(places_.size(), 0);
  begin_over();
}

void PatternSieve::begin_over() {
  known_.clear();
  states_.clear();
  states_.resize(2);  // kUnknown and kDead
  std::vector<std::uint32_t> places;
  Mask ends;
  ++round_;
  for (const std::uint32_t start : starts_) gather(start, places, ends);
  first_ = state_of(std::move(places), ends);
}

// Adds what can be reached from `place` without a byte.
void PatternSieve::gather(std::uint32_t place, std::vector<std::uint32_t>& places, Mask& ends) {
  std::vector<std::uint32_t> open = {place};
  while (!open.empty()) {
    const std::uint32_t at = open.back();
    open.pop_back();
    if (seen_[at] == round_) continue;
    seen_[at] = round_;
    const Place& here = places_[at];
    if (here.ends >= 0) ends.set(static_cast<std::size_t>(here.ends));
    if (here.takes.any()) {
      places.push_back(at);
    } else {
      open.insert(open.end(), here.next.begin(), here.next.end());
    }
  }
}

PatternSieve::StateId PatternSieve::state_of(std::vector<std::uint32_t> places, const Mask& ends) {
  if (places.empty() && ends.none()) return kDead;
  std::sort(places.begin(), places.end());
  std::string ends_text;
  for (std::size_t i = 0; i < kMostPatterns; ++i) {
    if (ends[i]) ends_text += static_cast<char>(i);
  }
  auto key = std::pair(places, std::move(ends_text));
  const auto [found, is_new] =
      known_.try_emplace(std::move(key), static_cast<StateId>(states_.size()));
  if (is_new) {
    State& state = states_.emplace_back();
    state.ends = ends;
    state.places = std::move(places);
  }
  return found->second;
}

PatternSieve::StateId PatternSieve::step(StateId from, unsigned symbol) {
  std::vector<std::uint32_t> places;
  Mask ends;
  ++round_;
  for (const std::uint32_t at : states_[from].places) {
    const Place& place = places_[at];
    if (!place.takes[symbol]) continue;
    if (symbol == kWide && place.repeats_wide) gather(at, places, ends);
    for (const std::uint32_t next : place.next) gather(next, places, ends);
  }
  const StateId to = state_of(std::move(places), ends);
  states_[from].next[symbol] = to;
  return to;
}

PatternSieve::Look PatternSieve::look(std::string_view text, std::size_t begin, std::size_t limit) {
  if (states_.size() > kMostStates) begin_over();
  Look result;
  StateId state = first_;
  result.may_match = states_[state].ends;
  std::size_t at = begin;
  while (at < limit && state != kDead) {
    const unsigned symbol = kSymbolOf[static_cast<unsigned char>(text[at++])];
    const StateId next = states_[state].next[symbol];
    state = next != kUnknown ? next : step(state, symbol);
    result.may_match |= states_[state].ends;
  }
  result.reach = at;
  result.is_decided = state == kDead;
  return result;
}

}  // namespace tailproof
