#include "grammars/sieve.h"

#include <algorithm>
#include <functional>

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
  std::size_t bytes = 0;
  for (const std::string_view source : sources) bytes += source.size();
  places_.reserve(std::min(bytes, kMostPlaces));  // mostly each letter is one
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
  first_ = state_of(places, ends);
}

// Adds what can be reached from `place` without a byte.
void PatternSieve::gather(std::uint32_t place, std::vector<std::uint32_t>& places, Mask& ends) {
  open_.assign(1, place);
  while (!open_.empty()) {
    const std::uint32_t at = open_.back();
    open_.pop_back();
    if (seen_[at] == round_) continue;
    seen_[at] = round_;
    const Place& here = places_[at];
    if (here.ends >= 0) ends.set(static_cast<std::size_t>(here.ends));
    if (here.takes.any()) {
      places.push_back(at);
    } else {
      here.next.each([&](std::uint32_t next) { open_.push_back(next); });
    }
  }
}

PatternSieve::StateId PatternSieve::state_of(std::vector<std::uint32_t>& places, const Mask& ends) {
  if (places.empty() && ends.none()) return kDead;
  std::sort(places.begin(), places.end());
  std::uint64_t hash = std::hash<Mask>()(ends);
  for (const std::uint32_t place : places) hash = (hash ^ place) * 0x9E3779B97F4A7C15U;
  const auto [first, last] = known_.equal_range(hash);
  for (auto known = first; known != last; ++known) {
    const State& state = states_[known->second];
    if (state.ends == ends && state.places == places) return known->second;
  }
  const auto added = static_cast<StateId>(states_.size());
  known_.emplace(hash, added);
  State& state = states_.emplace_back();
  state.ends = ends;
  state.places = places;
  return added;
}

PatternSieve::StateId PatternSieve::step(StateId from, unsigned symbol) {
  reached_.clear();
  Mask ends;
  ++round_;
  for (const std::uint32_t at : states_[from].places) {
    const Place& place = places_[at];
    if (!place.takes[symbol]) continue;
    if (symbol == kWide && place.repeats_wide) gather(at, reached_, ends);
    place.next.each([&](std::uint32_t next) { gather(next, reached_, ends); });
  }
  const StateId to = state_of(reached_, ends);
  states_[from].next[symbol] = to;
  return to;
}

PatternSieve::StateId PatternSieve::after(StateId state, char byte) {
  const unsigned symbol = kSymbolOf[static_cast<unsigned char>(byte)];
  const StateId next = states_[state].next[symbol];
  return next != kUnknown ? next : step(state, symbol);
}

PatternSieve::Look PatternSieve::look(std::string_view text, std::size_t begin, std::size_t limit) {
  if (states_.size() > kMostStates) begin_over();
  Look result;
  StateId state = first_;
  result.may_match = states_[state].ends;
  std::size_t at = begin;
  while (at < limit && state != kDead) {
    state = after(state, text[at++]);
    result.may_match |= states_[state].ends;
  }
  result.reach = at;
  result.is_decided = state == kDead;
  return result;
}

PatternSieve::Lengths PatternSieve::longest(std::string_view text, std::size_t begin,
                                            std::size_t limit) {
  Lengths lengths{};
  StateId state = first_;
  for (std::size_t at = begin; at < limit && state != kDead;) {
    state = after(state, text[at++]);
    const Mask& ends = states_[state].ends;
    if (ends.none()) continue;
    for (std::size_t i = 0; i < starts_.size(); ++i) {
      if (ends[i]) lengths[i] = static_cast<std::uint32_t>(at - begin);
    }
  }
  return lengths;
}

}  // namespace tailproof
