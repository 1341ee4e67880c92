// One run over manuscripts and a ledger, station by station, in the one direction of the data.
//
// Contract: bad input is a complaint and the rest is still done; only when the ledger that was
// asked for cannot be read at all does a run stop there, since every verdict would be wrong.
// Complaints stand in the order found. The outcome depends on the options and on the files alone.
#pragma once

#include <functional>
#include <map>
#include <memory>
#include <string>
#include <vector>

#include "grammars/grammars.h"
#include "ledger/compiled.h"
#include "ledger/reader.h"
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
  std::string language;  // of the grammars; "" is "en"
  // Read once for many runs, in place of all that the options and the ledger name; must outlive
  // the run. nullptr: they are read.
  const Grammars* ready_grammars = nullptr;
  std::map<std::string, std::string> levels;  // check id to the level of its gravest queries, or
                                              // "off"; its other queries move with them
  MarginChanges margins;                      // in place of the ledger's
  bool explain = false;                       // claims tell how they were found
  // Told what the run is about to do, for whoever waits; may be empty.
  std::function<void(const std::string& stage)> at_stage;
  bool whole_ledger = false;  // of a compiled ledger too, for work that walks through all rows
  unsigned jobs = 1;  // threads that read, find claims and check; the outcome is the same for any
};

class MentionFinder;

/// Everything that a run found out. Movable; spans and views point into itself.
struct Run {
  Sources sources;
  Ledger ledger;
  std::vector<Manuscript> manuscripts;
  std::vector<Claim> claims;   // by manuscript, block, place
  std::vector<Query> queries;  // by file, position, check id; stetted ones carry their stet
  std::vector<StetUse> stets;
  std::vector<CheckInfo> checks;             // those that ran
  std::unique_ptr<CompiledLedger> compiled;  // null where the whole ledger is in memory
  // What it was made with: whoever keeps the run to the end need not take that apart.
  std::shared_ptr<const Grammars> grammars;
  std::shared_ptr<const MentionFinder> finder;
  bool stopped = false;  // nothing but the complaints counts
  Complaints complaints;
};

/// Reads ledger and manuscripts and extracts the claims; no check runs.
[[nodiscard]] Run extract(const RunOptions& options);
/// Every check there is, the built-in ones first. A shared object that cannot be loaded, or brings
/// an id that exists, is a complaint.
[[nodiscard]] std::vector<CheckInfo> known_checks(const std::vector<std::string>& plugins,
                                                  Complaints& complaints);
/// extract(), then every selected check, then stets.
[[nodiscard]] Run check(const RunOptions& options);

/// After work with the ledger of a run: whether it was asked for rows that it did not have. They
/// have been read then, the checks have run again, and the work is to be done again.
[[nodiscard]] bool read_more(Run& run, const RunOptions& options);

// The same in parts, for a program that stays and reads again only what has changed.

/// The program's own grammars of the language, those beside the ledger, and those of the options.
[[nodiscard]] Grammars read_grammars(const RunOptions& options, Complaints& complaints);
class KeptChecks;
/// Every selected check over the claims of `run`, then stets: what it has of these is set anew.
/// With `kept`, checks that look at single captions pass over those that have not changed.
void check_claims(Run& run, const RunOptions& options, KeptChecks* kept = nullptr);

}  // namespace tailproof
