// What comes out is a function of what goes in: the bytes of the manuscripts in the order in which
// they are named, the ledger, the grammars and the options, and nothing else.
#include <catch2/catch.hpp>
#include <filesystem>
#include <string>
#include <vector>

#include "faults.h"

namespace tailproof::hostile {

namespace fs = std::filesystem;

namespace {

const std::string kDemoLedger = TAILPROOF_TOP "/demo_manuscripts/ledger";
const std::string kDemoBook = TAILPROOF_TOP "/demo_manuscripts/book";

/// What stands before the command, and must change nothing.
const std::vector<std::string> kSurroundings = {
    "LC_ALL=C",
    "LC_ALL=de_DE.UTF-8 LANG=de_DE.UTF-8",
    "LC_ALL=tr_TR.UTF-8 LANG=tr_TR.UTF-8 LC_NUMERIC=fr_FR.UTF-8",
    "TZ=Pacific/Kiritimati",
    "TZ=:/nowhere LANG=no_such_place",
    "env -i PATH=\"$PATH\"",
    "HOME=/ USER=x TERM=xterm COLUMNS=20 LINES=5 NO_COLOR=1 CLICOLOR_FORCE=1 POSIXLY_CORRECT=1",
    "TMPDIR=/nowhere MALLOC_PERTURB_=77 MALLOC_ARENA_MAX=1",
};

void require_same(const Folder& folder, const std::string& command, const std::string& with,
                  const Outcome& plain) {
  INFO(with << " " << command);
  const Outcome outcome = folder.run(with + " " + command);
  CHECK(outcome.status == plain.status);
  CHECK(outcome.out == plain.out);
  CHECK(outcome.err == plain.err);
}

}  // namespace

TEST_CASE("locale, time zone, environment and memory change no byte of any report") {
  const Folder folder;
  folder.with("chapter.md", read_file(TAILPROOF_TOP "/tests/readme/chapter.md"));
  for (const std::string& command : all_reports()) {
    const std::string whole = command + " chapter.md";
    const Outcome plain = folder.run(whole);
    CHECK(plain.out.size() > 20);
    for (const std::string& with : kSurroundings) require_same(folder, whole, with, plain);
  }
}

TEST_CASE("the number of jobs changes no byte of any format") {
  const Folder folder;
  for (const char* format : {"text", "json", "jsonl", "sarif", "html"}) {
    const std::string command = "tailproof check --ledger " + kDemoLedger + " --stets --format " +
                                format + " " + kDemoBook + " --jobs ";
    const Outcome one = folder.run(command + "1");
    CHECK(one.out.size() > 1000);
    for (const char* jobs : {"2", "3", "8", "256"}) {
      INFO(format << " " << jobs);
      const Outcome many = folder.run(command + jobs);
      CHECK(many.status == one.status);
      CHECK(many.out == one.out);
      CHECK(many.err == one.err);
    }
  }
}

TEST_CASE("where the user stands changes nothing but how relative paths are told") {
  const Folder folder;
  folder.with("book/chapter.md", read_file(TAILPROOF_TOP "/tests/readme/chapter.md"));
  folder.with("else/where/x", "");
  const std::string book = (folder.path() / "book").string();
  for (const std::string& command : all_reports()) {
    INFO(command);
    const Outcome here = folder.run(command + " " + book);
    const Outcome there = folder.run("cd else/where && " + command + " " + book);
    CHECK(there.status == here.status);
    CHECK(there.out == here.out);
  }
}

TEST_CASE("the order in which a folder gives its files, and options their words, means nothing") {
  const Folder forward;
  const Folder backward;
  CHECK(forward.run("mkdir book && cp " + kDemoBook + "/* book && cp -r " + kDemoLedger + " ledger")
            .status == 0);
  CHECK(backward
            .run("mkdir book ledger && for f in $(ls -r " + kDemoBook + "); do cp " + kDemoBook +
                 "/$f book; done && for f in $(ls -r " + kDemoLedger + "); do cp -r " +
                 kDemoLedger + "/$f ledger; done && touch -d 1990-01-01 book/*")
            .status == 0);
  for (const char* verb : {"check --format json", "claims --format json", "bracket --format csv",
                           "concordance", "audit"}) {
    INFO(verb);
    const std::string command =
        std::string("tailproof ") + verb + " --ledger ledger" + (has(verb, "audit") ? "" : " book");
    CHECK(backward.run(command).out == forward.run(command).out);
  }
  const std::string check = "tailproof check --ledger ledger book ";
  CHECK(forward.run(check + "--only rank-disagrees,weekday-wrong").out ==
        forward.run(check + "--only weekday-wrong --only rank-disagrees").out);
  CHECK(forward.run(check + "--skip rank-disagrees,weekday-wrong").out ==
        forward.run(check + "--skip weekday-wrong,rank-disagrees").out);
  // A file that is named again, or by its folder too, is read where it is named first.
  CHECK(forward.run(check + "book/plates.csv book").out == forward.run(check).out);
}

TEST_CASE("the order of the rows of a ledger changes nothing but the lines that are quoted") {
  const Folder folder;
  CHECK(folder
            .run("cp -r " + kDemoLedger +
                 " a && mkdir b && cp a/ledger.toml b && "
                 "if [ -d a/grammars ]; then cp -r a/grammars b; fi && cd a && "
                 "for t in *.csv; do { head -n 1 $t; tail -n +2 $t | tac; } >../b/$t; done")
            .status == 0);
  // Without numbers of lines, and without the ledger's own order of rows that say the same.
  const std::string queries =
      " --format text " + kDemoBook + " | grep -E '^[^ ].*: (error|warning|note): '";
  const Outcome forward = folder.run("tailproof check --ledger a" + queries);
  const Outcome backward = folder.run("tailproof check --ledger b" + queries);
  CHECK(forward.out.size() > 1000);
  CHECK(backward.out == forward.out);
}

TEST_CASE("the order in which manuscripts are named is the order in which they are read") {
  // It is meaningful: a reader of the book meets them so, and what is told in one is known in the
  // next. Which queries there are may then differ, but not from one run to the next.
  const Folder folder;
  CHECK(folder.run("cp " + kDemoBook + "/0* .").status == 0);
  const std::string command = "tailproof check --ledger " + kDemoLedger;
  const Outcome first = folder.run(command + " 02-the-chain.md 03-the-banks.txt");
  const Outcome again = folder.run(command + " 02-the-chain.md 03-the-banks.txt");
  const Outcome turned = folder.run(command + " 03-the-banks.txt 02-the-chain.md");
  CHECK(again.out == first.out);
  CHECK(turned.out.find("03-the-banks.txt") < turned.out.find("02-the-chain.md"));
  CHECK(first.out.find("02-the-chain.md") < first.out.find("03-the-banks.txt"));
}

}  // namespace tailproof::hostile
