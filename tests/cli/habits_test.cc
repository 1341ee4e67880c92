// What a command of a well-kept system owes: help, completions, manual, colour, progress.
#include <catch2/catch.hpp>
#include <string>

#include "program.h"

namespace tailproof {

namespace {

constexpr const char* kImpossible = "![Fig. 1. Sallow OB101 at Hesk, 31 June 1941.](a.jpg)\n";

bool has(const std::string& text, const std::string& piece) {
  return text.find(piece) != std::string::npos;
}

bool is_installed(const std::string& program) {
  if (run_shell("command -v " + program, "/").status == 0) {
    return true;
  }
  WARN("skipped: " << program << " is not installed");
  return false;
}

}  // namespace

TEST_CASE("the help of every verb ends with an example") {
  const Folder folder;
  const std::string listed = folder.run("tailproof --help").out;
  const std::string all = folder.run("tailproof completions fish").out;
  int verbs = 0;
  const std::string mark = "__fish_use_subcommand -a ";
  for (std::size_t at = all.find(mark); at != std::string::npos; at = all.find(mark, at + 1)) {
    const std::size_t begin = at + mark.size();
    const std::string verb = all.substr(begin, all.find(' ', begin) - begin);
    INFO(verb);
    CHECK(has(listed, verb));
    CHECK(has(folder.run("tailproof " + verb + " --help").out, "Examples:\n  tailproof " + verb));
    ++verbs;
  }
  CHECK(verbs >= 8);
}

TEST_CASE("colour is for terminals, and never against NO_COLOR") {
  const Folder folder;
  folder.with("x.md", kImpossible);
  const std::string escape = "\x1b[";
  CHECK_FALSE(has(folder.run("tailproof check x.md").out, escape));
  CHECK(has(folder.run("tailproof check --color always x.md").out, escape));
  CHECK(has(folder.run("NO_COLOR=1 tailproof check --color always x.md").out, escape));
  CHECK(folder.run("tailproof check --color purple x.md").status == 2);
  if (!is_installed("script")) {
    return;
  }
  const auto on_terminal = [&](const std::string& command) {
    return folder.run("script -qec '" + command + "' /dev/null").out;
  };
  CHECK(has(on_terminal("TERM=xterm tailproof check x.md"), escape + "1;31merror"));
  CHECK_FALSE(has(on_terminal("NO_COLOR=1 TERM=xterm tailproof check x.md"), escape));
  CHECK(has(on_terminal("NO_COLOR= TERM=xterm tailproof check x.md"), escape));
  CHECK_FALSE(has(on_terminal("TERM=dumb tailproof check x.md"), escape));
  CHECK_FALSE(has(on_terminal("TERM=xterm tailproof check --color never x.md"), escape));
  CHECK_FALSE(has(on_terminal("TERM=xterm tailproof check --format json x.md"), escape));
}

TEST_CASE("progress is told on a terminal once work takes more than a second, and wiped") {
  const Folder folder;
  folder.with("x.md", kImpossible);
  if (!is_installed("script") || !is_installed("mkfifo")) {
    return;
  }
  // A manuscript that comes slowly through a pipe is long work on any machine.
  const std::string slow = "(sleep 2; cat x.md) | ";
  const auto on_terminal = [&](const std::string& command) {
    return folder.run("script -qec '" + command + "' /dev/null").out;
  };
  const std::string told =
      on_terminal(slow + "TERM=xterm tailproof check --format-in markdown --output q.txt -");
  CHECK(has(told, "tailproof: reading manuscripts (1 of 1), 1 s"));
  CHECK(told.ends_with("\r\x1b[K"));
  CHECK_FALSE(has(on_terminal(slow + "TERM=dumb tailproof check --output q.txt -"), "reading"));
  CHECK_FALSE(has(on_terminal("TERM=xterm tailproof check --output q.txt x.md"), "reading"));
  CHECK(folder.run(slow + "TERM=xterm tailproof check --format-in markdown -").err.empty());
}

TEST_CASE("bash completes verbs, options, their words and check ids") {
  if (!is_installed("bash")) {
    return;
  }
  const Folder folder;
  folder.with("chapter.md", "");
  CHECK(folder.run("tailproof completions bash > c").status == 0);
  const auto completed = [&](const std::string& words, int at) {
    return folder
        .run("bash -c 'source ./c; COMP_WORDS=(" + words + "); COMP_CWORD=" + std::to_string(at) +
             "; _tailproof; echo \"${COMPREPLY[*]}\"'")
        .out;
  };
  CHECK(completed("tailproof cl", 1) == "claims\n");
  CHECK(completed("tailproof check --at-l", 2) == "--at-least\n");
  CHECK(completed("tailproof check --at-least w", 3) == "warning\n");
  CHECK(completed("tailproof concordance -f d", 3) == "docbook\n");
  CHECK(completed("tailproof check --only rank", 3) == "rank-disagrees\n");
  CHECK(completed("tailproof checks rank", 2) == "rank-disagrees\n");
  CHECK(completed("tailproof completions f", 2) == "fish\n");
  CHECK(completed("tailproof check chap", 2) == "chapter.md\n");
}

TEST_CASE("fish completes verbs, options and their words") {
  if (!is_installed("fish")) {
    return;
  }
  const Folder folder;
  CHECK(folder.run("tailproof completions fish > c").status == 0);
  const auto completed = [&](const std::string& line) {
    return folder.run("HOME=$PWD fish -c 'source c; complete -C \"" + line + "\"'").out;
  };
  CHECK(completed("tailproof cl").starts_with("claims\t"));
  CHECK(completed("tailproof check --at-l").starts_with("--at-least\t"));
  CHECK(has(completed("tailproof check --at-least "), "warning"));
  CHECK(has(completed("tailproof checks rank"), "rank-disagrees"));
}

TEST_CASE("zsh takes the completion script and loads it") {
  if (!is_installed("zsh")) {
    return;
  }
  const Folder folder;
  CHECK(folder.run("mkdir f && tailproof completions zsh > f/_tailproof").status == 0);
  const Outcome loaded = folder.run(
      "HOME=$PWD zsh -fc 'fpath=($PWD/f $fpath); autoload -Uz compinit; compinit -u -d $PWD/d; "
      "print ${_comps[tailproof]}; autoload +X _tailproof && functions _tailproof | grep -c "
      "check'");
  CHECK(loaded.err.empty());
  CHECK(loaded.out.starts_with("_tailproof\n"));
  CHECK(loaded.status == 0);
}

TEST_CASE("an unknown shell is told which there are") {
  const Folder folder;
  for (const char* shell : {"", "tcsh"}) {
    const Outcome outcome = folder.run(std::string("tailproof completions ") + shell);
    CHECK(outcome.status == 2);
    CHECK(outcome.err == "tailproof: completions needs a SHELL, one of bash, zsh, fish\n");
  }
}

TEST_CASE("the manual page names every verb and option, and roff finds nothing wrong") {
  const Folder folder;
  const std::string page = folder.run("tailproof manual").out;
  CHECK(page.starts_with(".TH TAILPROOF 1"));
  for (const char* piece : {"\\-\\-at\\-least", "\\-\\-since", "NO_COLOR", "tailproof.toml",
                            "concordance", ".SH EXIT STATUS"}) {
    CHECK(has(page, piece));
  }
  if (!is_installed("groff")) {
    return;
  }
  const Outcome set = folder.run("tailproof manual | groff -man -Tascii -P-cbu -ww");
  CHECK(set.err.empty());
  CHECK(has(set.out, "EXIT"));
}

}  // namespace tailproof
