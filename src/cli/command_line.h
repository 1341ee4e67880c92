// The command line: what was asked for.
//
// Verbs and options are the rows of verbs.inc and options.inc; nothing else lists them.
#pragma once

#include <string>
#include <variant>
#include <vector>

#include "run/project.h"
#include "run/run.h"

namespace tailproof {

struct CommandLine {
  std::string verb;
  std::vector<std::string> paths;
  std::string name;  // of history the airframe, of checks the check, of completions the shell
  std::string ledger, output, since, project, compile;
  std::string format = "text", format_in, encoding, language, at_least,
              color;  // "" : not said
  std::vector<std::string> only, skip, grammars, plugins;
  bool stets = false, explain = false, no_project = false, stdio = false;
  unsigned jobs = 0;  // 0: as many as the machine has processors
};

/// What to say and the exit status when there is nothing to run: help, version, or a mistake.
struct Answer {
  std::string text;
  int status = 0;  // 0: text goes to standard output; else to standard error
};

[[nodiscard]] std::variant<CommandLine, Answer> parse_command_line(int count,
                                                                   const char* const* words);

/// "" is a warning.
[[nodiscard]] Level level_of_word(std::string_view word);
/// What was said, without a project.
[[nodiscard]] RunOptions run_options(const CommandLine& line);

/// The project that the command line stands under: the one it names, or the nearest one above its
/// first PATH, or above the folder where it was given. An empty one when there is none.
[[nodiscard]] Result<Project> project_of(const CommandLine& line, Complaints& complaints);

/// Takes from the project what the command line leaves open. Says what is still missing, or "".
[[nodiscard]] std::string complete(CommandLine& line, const Project& project);

}  // namespace tailproof
