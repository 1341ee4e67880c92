// Stets of a run: those written in the manuscripts and those of stets.csv beside them.
//
// Contract: a stet in a text covers the queries of its check on the block that it stands on or
// directly before, and on every block of the same figure; one that follows the last word of a block
// covers that block too. A row of stets.csv covers the queries of its check, in manuscripts of its
// folder, to which its file, figure and subject (those that are given) apply. Every stet that
// covers a query counts as used.
#pragma once

#include <cstdint>
#include <map>
#include <string>
#include <utility>
#include <vector>

#include "source/sources.h"
#include "tailproof/check.h"
#include "tailproof/result.h"

namespace tailproof {

class Stets {
 public:
  /// Gathers them, reading the stets.csv in the folder of each source file. A row or an instruction
  /// without a reason, or for a check that is not in `check_ids`, is a complaint and covers
  /// nothing.
  [[nodiscard]] static Stets collect(Sources& sources, const std::vector<Manuscript>& manuscripts,
                                     const std::vector<std::string>& check_ids,
                                     Complaints& complaints);

  /// Writes the reason into each query that a stet covers and counts the uses.
  void apply(std::vector<Query>& queries, const Sources& sources,
             const std::vector<Manuscript>& manuscripts, const std::vector<Claim>& claims);

  /// Those of the manuscripts in reading order, then the rows of stets.csv.
  [[nodiscard]] const std::vector<StetUse>& uses() const { return uses_; }

 private:
  /// A row of stets.csv with its paths made comparable.
  struct Row {
    StetRow row;
    std::string folder;  // of its table
    std::string file;    // "" when it names none
  };
  using Place = std::pair<std::uint32_t, std::uint32_t>;  // manuscript; block or group

  void reach(std::size_t use, const Manuscript& manuscript, std::uint32_t block);

  std::vector<StetUse> uses_;
  std::map<Place, std::vector<std::size_t>> on_block_, on_group_;  // indices into uses_
  std::vector<Row> rows_;                                          // the last of uses_, in order
};

}  // namespace tailproof
