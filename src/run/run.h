// One run over manuscripts and a ledger, station by station, in the one direction of the data.
#pragma once

#include <string>
#include <vector>

#include "manuscript/reader.h"
#include "source/sources.h"
#include "tailproof/check.h"
#include "tailproof/result.h"

namespace tailproof {

struct RunOptions {
  std::vector<std::string> paths;       // files, folders, "-"
  std::string ledger;                   // "" : the empty ledger
  std::vector<std::string> grammars;    // extra grammar folders
  std::vector<std::string> plugins;     // shared objects
  std::vector<std::string> only, skip;  // check ids
  ReadOptions read;
  std::string language = "en";
};

/// Everything that a run found out. Movable; spans and views point into itself.
struct Run {
  Sources sources;
  Ledger ledger;
  std::vector<Manuscript> manuscripts;
  std::vector<Claim> claims;   // by manuscript, block, place
  std::vector<Query> queries;  // by file, position, check id; stetted ones carry their stet
  std::vector<StetUse> stets;
  std::vector<CheckInfo> checks;  // those that ran
  Complaints complaints;
};

/// Reads ledger and manuscripts and extracts the claims; no check runs.
[[nodiscard]] Run extract(const RunOptions& options);
/// extract(), then every selected check, then stets.
[[nodiscard]] Run check(const RunOptions& options);

}  // namespace tailproof
