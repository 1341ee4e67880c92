// Output files are written whole or not at all; standard output may be closed, full or left.
#include <sys/stat.h>

#include <catch2/catch.hpp>
#include <filesystem>
#include <string>

#include "faults.h"

namespace tailproof::hostile {

namespace fs = std::filesystem;

namespace {

/// A folder with a manuscript and a report of yesterday.
class Desk : public Folder {
 public:
  Desk() { with("x.md", kBad).with("out/q.txt", "of yesterday\n"); }
  [[nodiscard]] std::string report() const { return read_file(path() / "out/q.txt"); }
  [[nodiscard]] std::size_t files() const {
    const fs::directory_iterator begin(path() / "out");
    return static_cast<std::size_t>(std::distance(begin, fs::directory_iterator()));
  }
};

const std::string kWrite = "tailproof check --format sarif --output out/q.txt x.md";

}  // namespace

TEST_CASE("an output file that cannot be written whole leaves the old one and nothing else") {
  for (const char* fault : {"FAULT_FULL=1", "FAULT_FULL=4096", "FAULT_FULL=20000", "FAULT_AT=fsync",
                            "FAULT_AT=rename"}) {
    INFO(fault);
    const Desk desk;
    const Outcome outcome = desk.run(with_fault("system", fault) + kWrite);
    CHECK(outcome.status == 2);
    CHECK(has(outcome.err, "tailproof: out/q.txt: cannot be written: "));
    CHECK(desk.report() == "of yesterday\n");
    CHECK(desk.files() == 1);
  }
  // The limit of a shell, with its signal left to the shell's default, and ignored.
  const Desk desk;
  const Outcome limited = desk.run("trap '' XFSZ; ulimit -f 8; " + kWrite);
  CHECK(limited.status == 2);
  CHECK(desk.report() == "of yesterday\n");
  CHECK(desk.files() == 1);
}

TEST_CASE("a process that is killed while it writes leaves the old output file") {
  for (const char* fault : {"FAULT_KILL=fsync", "FAULT_KILL=rename"}) {
    INFO(fault);
    const Desk desk;
    static_cast<void>(desk.run(with_fault("system", fault) + kWrite));
    CHECK(desk.report() == "of yesterday\n");
    // What it leaves behind is hidden, and no obstacle to the next run.
    const Outcome next = desk.run(kWrite);
    CHECK(next.status == 1);
    CHECK(has(desk.report(), "2.1.0"));
  }
}

TEST_CASE("an output file keeps its mode, and a link to it stays a link") {
  const Desk desk;
  CHECK(desk.run("chmod 640 out/q.txt && ln -s out/q.txt link && umask 077 && "
                 "tailproof check --output link x.md; tailproof check --output new x.md")
            .status == 1);
  CHECK(fs::is_symlink(desk.path() / "link"));
  CHECK(has(desk.report(), "31 June 1941"));
  struct stat status {};
  REQUIRE(stat((desk.path() / "out/q.txt").c_str(), &status) == 0);
  CHECK((status.st_mode & 0777U) == 0640U);
  CHECK(desk.run("ln -s out/later forward && tailproof check --output forward x.md").status == 1);
  CHECK(fs::is_symlink(desk.path() / "forward"));
  CHECK(has(read_file(desk.path() / "out/later"), "31 June 1941"));
  CHECK(desk.run("umask 027; tailproof check --output fresh x.md; stat -c %a fresh").out ==
        "640\n");
}

TEST_CASE("an output that is a pipe or a device is written to as it is") {
  const Desk desk;
  CHECK(desk.run("tailproof check --output /dev/null x.md").status == 1);
  CHECK(fs::is_character_file("/dev/null"));
  const Outcome piped = desk.run("mkfifo p; cat p & tailproof check --output p x.md; wait");
  CHECK(has(piped.out, "31 June 1941"));
  CHECK(fs::is_fifo(desk.path() / "p"));
  if (fs::exists("/dev/full")) {
    CHECK(desk.run("tailproof check --output /dev/full x.md").status == 2);
  }
  CHECK(desk.run("tailproof check --output out x.md").err ==
        "tailproof: out: cannot be written: Is a directory\n");
}

TEST_CASE("closed standard output is exit status 2 with a line, in every report") {
  const Desk desk;
  for (const std::string& command : all_reports()) {
    INFO(command);
    const Outcome outcome = desk.run(command + " x.md >&-");
    CHECK(outcome.status == 2);
    CHECK(outcome.err == "tailproof: standard output: cannot be written: Bad file descriptor\n");
  }
  for (const char* command : {"tailproof --help >&-", "tailproof --version >&-",
                              "tailproof checks >&-", "tailproof manual >&-"}) {
    INFO(command);
    CHECK(desk.run(command).status == 2);
  }
}

TEST_CASE("no descriptor that was closed is given to a file") {
  const Desk desk;
  CHECK(desk.run("tailproof check x.md 2>&-").status == 1);
  CHECK(desk.run("tailproof check gone.md 2>&-").status == 2);
  const Outcome no_input = desk.run("tailproof check - <&-");
  CHECK(no_input.status == 2);
  CHECK(has(no_input.err, "-: cannot be read: Bad file descriptor"));
  CHECK(desk.run("tailproof check --output out/q.txt x.md <&- >&- 2>&-").status == 1);
  CHECK(has(desk.report(), "31 June 1941"));
  CHECK(read_file(desk.path() / "x.md") == kBad);
}

TEST_CASE("a reader that leaves early changes neither the exit status nor says anything") {
  const Desk desk;
  for (const std::string& command : all_reports()) {
    INFO(command);
    const std::string whole = std::to_string(desk.run(command + " x.md").status) + "\n";
    const Outcome left =
        desk.run("{ " + command + " x.md; echo $? >status; } | head -c 1 >first; cat status");
    CHECK(left.out == whole);
    CHECK(left.err.empty());
    if (!has(command, "check")) continue;
    const Outcome gone = desk.run("{ sleep 0.05; " + command +
                                  " x.md; echo $? >status; } | true; sleep 0.1; cat status");
    CHECK(gone.out == whole);
  }
}

}  // namespace tailproof::hostile
