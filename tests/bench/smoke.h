// The part of the benchmark that is a test: the cost grows with the input and no faster.
#pragma once

#include <string>

namespace tailproof::bench {

/// Four times the input must cost less than nine times the time, and every total must grow with the
/// input. Returns the number of faults, each told on standard error.
[[nodiscard]] int run_smoke(const std::string& folder);

}  // namespace tailproof::bench
