// Folders that somebody else filled: links that lead round, pipes, devices, names of any bytes,
// files that vanish or change.
#include <unistd.h>

#include <catch2/catch.hpp>
#include <filesystem>
#include <string>

#include "faults.h"

namespace tailproof::hostile {

namespace fs = std::filesystem;

namespace {

const std::string kName = "new\nline\x1b[31m\xff.md";
const std::string kShown = "new\\nline\\x1b[31m\\xff.md";

/// A command as a user who may not do everything, or "" when there is no such user to be had.
std::string as_nobody(const std::string& command, const Folder& folder) {
  if (geteuid() != 0) return command;
  const std::string prefix = "setpriv --reuid=65534 --regid=65534 --clear-groups ";
  fs::permissions(folder.path(), fs::perms::all);
  if (folder.run(prefix + "tailproof --version").status == 0) return prefix + command;
  WARN("skipped: no other user can run the program here");
  return "";
}

}  // namespace

TEST_CASE("a folder of links that lead round, pipes and devices is walked to its end") {
  const Folder folder;
  folder.with("book/good.md", kBad);
  CHECK(folder
            .run("cd book && ln -s loop.md loop.md && ln -s /dev/zero zero.md && "
                 "ln -s gone.md dangling.md && mkfifo pipe.md && ln -s .. up && ln -s . here && "
                 "mkdir sub && ln -s ../../book sub/again && ln -s /dev/full full.txt")
            .status == 0);
  const Outcome outcome = folder.run("timeout 20 tailproof check book");
  CHECK(outcome.status == 2);
  CHECK(has(outcome.out, "book/good.md:1:47: error"));
  CHECK(has(outcome.err, "book/loop.md: cannot be looked at"));
  CHECK(has(outcome.err, "book/dangling.md: leads nowhere"));
  for (const char* name : {"zero.md", "pipe.md", "full.txt"}) {
    CHECK(has(outcome.err, "book/" + std::string(name) + ": has the name of a manuscript but"));
  }
  CHECK(has(outcome.out, "(1 claim in 1 manuscript,") == false);
  CHECK(has(outcome.out, " in 1 manuscript, held against no ledger)"));
}

TEST_CASE("what has no end is not read, whatever names it") {
  const Folder folder;
  folder.with("x.md", kBad);
  folder.with("ledger/ledger.toml", "title = \"t\"\n");
  CHECK(folder
            .run("mkfifo pipe && mkdir g && mkfifo g/g.toml && ln -s /dev/zero zero && "
                 "mkdir l && ln -s /dev/zero l/ledger.toml && mkfifo ledger/airframes.csv")
            .status == 0);
  const auto refused = [&](const std::string& command, const std::string& line) {
    INFO(command);
    const Outcome outcome = folder.run("timeout 20 " + command);
    CHECK(outcome.status == 2);
    CHECK(has(outcome.err, line));
  };
  refused("tailproof check zero", "zero: is a device, which has no end");
  refused("tailproof check - </dev/zero", "-: is a device, which has no end");
  refused("tailproof check pipe", "pipe: is a pipe to which nobody writes");
  refused("tailproof check --ledger zero x.md", "zero: is no ledger");
  refused("tailproof check --ledger pipe x.md", "pipe: is no ledger");
  refused("tailproof check --ledger l x.md", "l/ledger.toml: is a device");
  refused("tailproof check --ledger ledger x.md", "airframes.csv: is a pipe");
  refused("tailproof check --project zero x.md", "zero: is a device");
  refused("tailproof check --project pipe x.md", "pipe: is a pipe");
  refused("tailproof check --since zero x.md", "zero: is a device");
  refused("tailproof check --since pipe x.md", "pipe: is a pipe to which nobody writes");
  refused("tailproof check --grammar g x.md", "g/g.toml: is a pipe");
  refused("tailproof check --plugin pipe x.md", "pipe: cannot load the plugin");
  refused("tailproof check --plugin zero x.md", "zero: cannot load the plugin");
  folder.with("i.xml",
              "<article xmlns:xi=\"http://www.w3.org/2001/XInclude\"><xi:include href=\"pipe\"/>"
              "<xi:include href=\"zero\"/></article>");
  refused("tailproof check i.xml", "\"pipe\" cannot be included: is a pipe");
  // A pipe that somebody writes to is a manuscript as good as any.
  const Outcome piped =
      folder.run("{ sleep 0.2; cat x.md; } >pipe & tailproof check --format-in markdown pipe");
  CHECK(piped.status == 1);
  CHECK(has(piped.out, "pipe:1:47: error"));
}

TEST_CASE("a name of any bytes is one line of UTF-8, in every format") {
  const Folder folder;
  folder.with("book/" + kName, kBad);
  folder.with("book/bad\xfe.txt", "not UTF-8: \xff\n");
  for (const std::string& command : all_reports()) {
    INFO(command);
    const Outcome outcome = folder.run(command + " book");
    CHECK(outcome.status == 2);
    for (const std::string& printed : {outcome.out, outcome.err}) {
      CHECK_FALSE(has(printed, "\xff"));
      CHECK_FALSE(has(printed, "\xfe"));
      CHECK_FALSE(has(printed, "\x1b"));
      CHECK_FALSE(has(printed, "new\nline"));
    }
    CHECK(has(outcome.err, "book/bad\\xfe.txt:1: byte 11 (0xff) is not UTF-8"));
    const bool is_told = has(outcome.out, kShown) ||
                         has(outcome.out, "new\\nline\\u001b[31m\\\\xff.md") ||
                         has(outcome.out, "new%0Aline%1B%5B31m%FF.md");
    const bool names_no_file =
        has(command, "concordance --ledger " + kLedger + " --format docbook");
    CHECK((is_told || names_no_file));
  }
  folder.with("l\nl/ledger.toml", "title = 4\n");
  const Outcome ledger = folder.run("tailproof audit 'l\nl'");
  CHECK(has(ledger.err, "l\\nl/ledger.toml"));
  CHECK_FALSE(has(ledger.out + ledger.err, "l\nl"));
}

TEST_CASE("a text cannot speak to the terminal through any report") {
  const Folder folder;
  folder.with("x.md",
              "![Fig. 1. Sallow OB202\x1b]0;taken\x07 at Hesk, 31\xC2\x9B June 1941.](a.jpg)\n");
  for (const std::string& command : all_reports()) {
    INFO(command);
    const Outcome outcome = folder.run(command + " x.md");
    CHECK_FALSE(has(outcome.out + outcome.err, "\x1b"));
    CHECK_FALSE(has(outcome.out + outcome.err, "\x07"));
  }
}

TEST_CASE("what may not be read is told, and the rest is checked") {
  const Folder folder;
  folder.with("book/a.md", kBad).with("book/b.md", kBad).with("book/sub/c.md", kBad);
  CHECK(folder.run("chmod 0 book/b.md book/sub").status == 0);
  const std::string command = as_nobody("tailproof check book", folder);
  if (command.empty()) return;
  const Outcome outcome = folder.run(command);
  CHECK(outcome.status == 2);
  CHECK(has(outcome.out, "book/a.md:1:47: error"));
  CHECK(has(outcome.err, "book/b.md: cannot be opened: Permission denied"));
  CHECK(has(outcome.err, "book/sub: folder cannot be read: Permission denied"));
  CHECK(folder.run("chmod 700 book/sub").status == 0);
}

TEST_CASE("a file that vanishes before it is opened is told, and the rest is checked") {
  const Folder folder;
  folder.with("book/a.md", kBad).with("book/b.md", kBad);
  const Outcome outcome =
      folder.run(with_fault("system", "FAULT_VANISH=book/b.md") + "tailproof check book");
  CHECK(outcome.status == 2);
  CHECK(has(outcome.out, "book/a.md:1:47: error"));
  CHECK(has(outcome.err, "book/b.md: cannot be opened: No such file or directory"));
}

TEST_CASE("a file that is written to while it is read is read again, or refused") {
  const Folder folder;
  folder.with("a.md", kBad);
  const std::string quiet = folder.run("tailproof check --no-project a.md").out;
  const auto touched = [&](const std::string& times) {
    return folder.run(with_fault("system", "FAULT_TOUCH=a.md FAULT_TIMES=" + times) +
                      "tailproof check --no-project a.md");
  };
  CHECK(touched("1").out == quiet);
  CHECK(touched("1").status == 1);
  const Outcome restless = touched("1000");
  CHECK(restless.status == 2);
  CHECK(has(restless.err, "a.md: changes while it is read; check again when it is written"));
}

TEST_CASE("a ledger that is written to while it is read is read again, or refused") {
  const Folder folder;
  folder.with("a.md", kBad);
  CHECK(folder.run("cp -r " + kLedger + " ledger").status == 0);
  const std::string quiet = folder.run("tailproof check --no-project --ledger ledger a.md").out;
  const auto touched = [&](const std::string& times) {
    return folder.run(with_fault("system", "FAULT_TOUCH=ledger/units.csv FAULT_TIMES=" + times) +
                      "tailproof check --no-project --ledger ledger a.md");
  };
  CHECK(touched("1").out == quiet);
  CHECK(touched("1").status == 1);
  const Outcome restless = touched("100000");
  CHECK(restless.status == 2);
  CHECK(has(restless.err, "while it is read; check again when it"));
}

TEST_CASE("an SQLite ledger that somebody holds is told, not waited for without end") {
  const Folder folder;
  if (folder.run("command -v sqlite3").status != 0) {
    WARN("skipped: sqlite3 is not installed");
    return;
  }
  folder.with("a.md", kBad);
  CHECK(folder.run("sqlite3 l.db 'create table types(type, aliases, maker)'").status == 0);
  const Outcome held = folder.run(
      "mkfifo go; sqlite3 l.db <go & exec 3>go; echo 'begin exclusive;' >&3; sleep 0.5; "
      "timeout 20 tailproof check --ledger l.db a.md; s=$?; exec 3>&-; wait; exit $s");
  CHECK(held.status == 2);
  CHECK(has(held.err, "l.db: is being written to; check again when it rests"));
}

}  // namespace tailproof::hostile
