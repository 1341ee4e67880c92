#include "source/nearest.h"

#include <algorithm>
#include <vector>

namespace tailproof {

namespace {

/// Optimal string alignment distance.
std::size_t distance(std::string_view a, std::string_view b) {
  std::vector<std::size_t> before(b.size() + 1);
  std::vector<std::size_t> last(b.size() + 1);
  std::vector<std::size_t> now(b.size() + 1);
  for (std::size_t j = 0; j <= b.size(); ++j) {
    last[j] = j;
  }
  for (std::size_t i = 1; i <= a.size(); ++i) {
    now[0] = i;
    for (std::size_t j = 1; j <= b.size(); ++j) {
      const std::size_t changed = last[j - 1] + (a[i - 1] == b[j - 1] ? 0 : 1);
      now[j] = std::min({last[j] + 1, now[j - 1] + 1, changed});
      const bool swapped = i > 1 && j > 1 && a[i - 1] == b[j - 2] && a[i - 2] == b[j - 1];
      if (swapped) {
        now[j] = std::min(now[j], before[j - 2] + 1);
      }
    }
    std::swap(before, last);
    std::swap(last, now);
  }
  return last[b.size()];
}

}  // namespace

std::string nearest(std::string_view word, std::span<const std::string> candidates) {
  // More than every third letter wrong is another word; a part of the right one is none.
  std::size_t best = std::max<std::size_t>(word.size() / 3, 1) + 1;
  std::string found;
  for (const std::string& candidate : candidates) {
    const bool is_part = word.size() >= 4 && candidate.find(word) != std::string::npos;
    const std::size_t off = is_part ? 1 : distance(word, candidate);
    if (off < best) {
      best = off;
      found = candidate;
    }
  }
  return found;
}

std::string perhaps_meant(std::string_view word, std::span<const std::string> candidates) {
  const std::string meant = nearest(word, candidates);
  return meant.empty() ? "" : "; \"" + meant + "\" was perhaps meant";
}

}  // namespace tailproof
