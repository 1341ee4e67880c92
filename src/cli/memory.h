// How the program takes memory from the system.
//
// Contract: to be called once, before anything else of size is made. It changes no outcome, only
// the time that goes into pages: a run takes memory until it ends, so it is taken in large pages
// and not given back in between.
#pragma once

#include <utility>

namespace tailproof {

void prepare_memory();

/// Keeps what a run made until the program ends. The system takes all memory back at once, where
/// taking apart what holds it, piece by piece, is a twentieth of a short run.
template <typename Made>
[[nodiscard]] Made& kept_to_the_end(Made made) {
  static Made* kept = nullptr;
  kept = new Made(std::move(made));
  return *kept;
}

}  // namespace tailproof
