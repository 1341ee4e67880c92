// Networks made of the facts of a chronology. Not for other stations.
#pragma once

#include <optional>
#include <span>
#include <unordered_map>
#include <vector>

#include "chronology/chronology_data.h"

namespace tailproof {

/// How much of the facts is taken for granted.
enum class Weight {
  kFirm,         // what is flatly said, at full width
  kLinked,       // the same, without what other rows cut off from the recorded days
  kFirmWide,     // the same with margins
  kUsual,        // everything, and where the ledger has rows, by these
  kDoubtful,     // flat and hedged facts, at full width
  kDoubtfulWide  // the same with margins
};

/// Whether the fact is taken for granted at this weight, and on which days it then leaves.
[[nodiscard]] bool counts(const TimeFact& fact, Weight weight);
[[nodiscard]] DaySet days_of(const TimeFact& fact, Weight weight);

/// The days that facts leave which are of one photograph, none of them a relation; `without` is
/// left out of them.
[[nodiscard]] DaySet days_left(const ChronologyData& data, std::span<const std::uint32_t> facts,
                               Weight weight, std::uint32_t without = kNone);

/// A network of those facts that count, and the way back from its facts to these.
class Build {
 public:
  Build(const ChronologyData& data, Weight weight) : data_(data), weight_(weight) {}

  void add(std::uint32_t fact);
  [[nodiscard]] const TimeNetwork& network() const { return network_; }
  [[nodiscard]] std::vector<std::uint32_t> own(std::vector<FactId> facts) const;
  /// The network's variable of a photograph; nothing when no fact is of it.
  [[nodiscard]] std::optional<VariableId> variable_of(std::uint32_t photograph) const;
  [[nodiscard]] bool is_satisfiable() const;
  /// A minimal clash of all the facts, if they clash.
  [[nodiscard]] std::vector<std::uint32_t> clash() const;

 private:
  VariableId variable(std::uint32_t photograph);

  const ChronologyData& data_;
  Weight weight_;
  TimeNetwork network_;
  std::vector<std::uint32_t> facts_;
  std::unordered_map<std::uint32_t, VariableId> variables_;
};

/// The member without which a clash is soonest gone: what only ties, else what was said last.
[[nodiscard]] std::uint32_t weakest_of(const ChronologyData& data,
                                       const std::vector<std::uint32_t>& clash);

/// Days by photograph, and what clashes.
class Solved {
 public:
  /// Of the facts that are not marked in `is_out`. Where facts clash, solved once more without the
  /// weakest of each clash, so that whatever else there is still has its days. Photographs that
  /// nothing ties to others, as most are, are solved apart and without a network.
  Solved(const ChronologyData& data, Weight weight, std::vector<bool> is_out);

  std::vector<DaySet> days;
  std::vector<std::vector<std::uint32_t>> clashes;  // facts

  /// Why the photograph was taken on none of these days: facts, a minimal set.
  [[nodiscard]] std::vector<std::uint32_t> reasons(std::uint32_t photograph,
                                                   const DaySet& excluded) const;

 private:
  void solve_tied();
  void solve_alone(std::uint32_t photograph);

  const ChronologyData& data_;
  Weight weight_;
  std::vector<bool> is_out_;
  std::optional<Build> tied_;
};

}  // namespace tailproof
