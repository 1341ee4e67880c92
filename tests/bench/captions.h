// Growth of what compares captions with each other, over 1,000, 10,000 and 100,000 captions and one
// ledger.
#pragma once

#include <string>

namespace tailproof::bench {

/// Prints the processor time of the brackets and of each check across captions, and the exponent
/// fitted to them. 0, or 1 when brackets and checks together take more than `most_seconds` for
/// the largest.
[[nodiscard]] int run_captions(const std::string& folder, double most_seconds);

}  // namespace tailproof::bench
