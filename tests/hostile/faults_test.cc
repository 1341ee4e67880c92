// Faults of the system: memory that runs out, reads and writes that move a few bytes or are
// interrupted, threads that are not to be had.
#include "faults.h"

#include <catch2/catch.hpp>
#include <cstdlib>
#include <filesystem>
#include <string>

namespace tailproof::hostile {

namespace {

const std::string kBook = TAILPROOF_TOP "/tests/readme/chapter.md";

/// A run with one allocation failing, or all from there on, is the run without a fault (where
/// somebody can do without), or one that says why it ended. A crash is neither.
void require_told(const Folder& folder, const std::string& command, const Outcome& whole, long at,
                  bool goes_on) {
  const std::string fault =
      "FAULT_MEMORY_AT=" + std::to_string(at) + (goes_on ? " FAULT_MEMORY_ON=1" : "");
  INFO(fault << " " << command);
  const Outcome outcome = folder.run(with_fault("memory", fault) + "timeout 60 " + command);
  if (outcome.status == whole.status && outcome.out == whole.out && outcome.err == whole.err)
    return;
  CHECK(outcome.status == 2);
  CHECK(has(outcome.err, "tailproof: "));
}

void require_told_everywhere(const std::string& command) {
  const Folder folder;
  const Outcome whole = folder.run(command);
  CHECK(folder.run(with_fault("memory", "FAULT_MEMORY_TOTAL=total") + command).out == whole.out);
  const long total = std::atol(read_file(folder.path() / "total").c_str());
  REQUIRE(total > 1000);
  // The first ones close together (the loader, the command line), then all along the run.
  constexpr long kSteps = 12;
  for (long step = 0; step < kSteps; ++step) {
    require_told(folder, command, whole, 1 + step * 7, step % 2 == 0);
    require_told(folder, command, whole, total * step / kSteps + step + 1, true);
    require_told(folder, command, whole, total * step / kSteps + 3 * step + 2, false);
  }
}

}  // namespace

TEST_CASE("without memory the program ends with a line and exit status 2, wherever it is") {
  require_told_everywhere("tailproof check --ledger " + kLedger + " --format sarif " + kBook);
  require_told_everywhere("tailproof bracket --ledger " + kLedger + " --format json " + kBook);
}

TEST_CASE("without memory no output file is touched") {
  const Folder folder;
  folder.with("q.txt", "of yesterday\n");
  const std::string command = "tailproof check --output q.txt " + kBook;
  for (const char* at : {"2000", "20000"}) {
    CHECK(folder
              .run(with_fault("memory", std::string("FAULT_MEMORY_ON=1 FAULT_MEMORY_AT=") + at) +
                   command)
              .status == 2);
    CHECK(read_file(folder.path() / "q.txt") == "of yesterday\n");
  }
  // A limit of the system's own.
  const Outcome limited = folder.run(
      "head -c 50000000 /dev/zero | tr '\\0' 'x' >big.txt; "
      "ulimit -v 60000; tailproof check --output q.txt big.txt");
  CHECK(limited.status == 2);
  CHECK(has(limited.err, "tailproof: out of memory; "));
  CHECK(read_file(folder.path() / "q.txt") == "of yesterday\n");
}

TEST_CASE("short and interrupted reads and writes change nothing") {
  const Folder folder;
  const std::string fault = with_fault("system", "FAULT_SHORT=1");
  for (const std::string& command : all_reports()) {
    INFO(command);
    const Outcome whole = folder.run(command + " " + kBook);
    const Outcome pieces = folder.run(fault + command + " " + kBook);
    CHECK(pieces.status == whole.status);
    CHECK(pieces.out == whole.out);
    CHECK(pieces.err == whole.err);
    CHECK(folder.run(fault + command + " --output o " + kBook).status == whole.status);
    CHECK(read_file(folder.path() / "o") == whole.out);
    const Outcome piped =
        folder.run("cat " + kBook + " | " + fault + command + " --format-in markdown -");
    const Outcome direct = folder.run("cat " + kBook + " | " + command + " --format-in markdown -");
    CHECK(piped.out == direct.out);
  }
}

TEST_CASE("an SQLite ledger is read the same in small pieces") {
  const Folder folder;
  if (folder.run("command -v sqlite3").status != 0) {
    WARN("skipped: sqlite3 is not installed");
    return;
  }
  CHECK(folder
            .run("cd " + kLedger +
                 " && for t in *.csv; do echo \".import --csv $t ${t%.csv}\"; done | sqlite3 "
                 "$OLDPWD/l.db && cp ledger.toml $OLDPWD/")
            .status == 0);
  const std::string command = "tailproof check --ledger l.db " + kBook;
  const Outcome whole = folder.run(command);
  CHECK(whole.status == 1);
  const Outcome pieces = folder.run(with_fault("system", "FAULT_SHORT=1") + command);
  CHECK(pieces.out == whole.out);
  CHECK(pieces.err == whole.err);
}

TEST_CASE("where there are no more threads, one does the work") {
  const Folder folder;
  const std::string command = "tailproof check --jobs 64 --ledger " + kLedger + " " + kBook;
  const Outcome whole = folder.run(command);
  // The stack of a thread asks for more than this leaves.
  const Outcome alone = folder.run("ulimit -s 4000000; ulimit -v 3000000; " + command);
  CHECK(alone.status == whole.status);
  CHECK(alone.out == whole.out);
  CHECK(alone.err == whole.err);
}

}  // namespace tailproof::hostile
