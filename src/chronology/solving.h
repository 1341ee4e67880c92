// Networks made of the facts of a chronology. Not for other stations.
#pragma once

#include <vector>

#include "chronology/chronology_data.h"

namespace tailproof {

/// How much of the facts is taken for granted.
enum class Weight {
  kFirm,         // what is flatly said, at full width
  kFirmWide,     // the same with margins
  kUsual,        // everything, and where the ledger has rows, by these
  kDoubtful,     // flat and hedged facts, at full width
  kDoubtfulWide  // the same with margins
};

/// A network of those facts that count, and the way back from its facts to these.
class Build {
 public:
  Build(const ChronologyData& data, Weight weight);

  void add(std::uint32_t fact);
  /// All but those marked.
  void add_all(const std::vector<bool>& is_out);

  [[nodiscard]] const TimeNetwork& network() const { return network_; }
  [[nodiscard]] std::vector<std::uint32_t> own(std::vector<FactId> facts) const;

 private:
  const ChronologyData& data_;
  Weight weight_;
  TimeNetwork network_;
  std::vector<std::uint32_t> facts_;
};

/// The member without which a clash is soonest gone: what only ties, else what was said last.
[[nodiscard]] std::uint32_t weakest_of(const ChronologyData& data,
                                       const std::vector<std::uint32_t>& clash);

struct Solved {
  Build build;
  TimeSolution solution;
  std::vector<std::vector<std::uint32_t>> clashes;  // facts
};

/// Solves; where facts clash, once more without the weakest of each clash, so that whatever else
/// there is still has its days.
[[nodiscard]] Solved solve(const ChronologyData& data, Weight weight, std::vector<bool> is_out);

}  // namespace tailproof
