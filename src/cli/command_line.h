// The command line: what was asked for.
//
// Verbs and options are the rows of verbs.inc and options.inc; nothing else lists them.
#pragma once

#include <string>
#include <variant>
#include <vector>

#include "run/run.h"

namespace tailproof {

struct CommandLine {
  std::string verb;
  std::vector<std::string> paths;
  std::string name;  // of history the airframe, of checks the check
  std::string ledger, output, since;
  std::string format = "text", format_in, encoding = "utf-8", language = "en";
  std::string at_least = "warning";
  std::vector<std::string> only, skip, grammars, plugins;
  bool stets = false, explain = false;
  unsigned jobs = 0;  // 0: as many as the machine has processors
};

/// What to say and the exit status when there is nothing to run: help, version, or a mistake.
struct Answer {
  std::string text;
  int status = 0;  // 0: text goes to standard output; else to standard error
};

[[nodiscard]] std::variant<CommandLine, Answer> parse_command_line(int count,
                                                                   const char* const* words);

[[nodiscard]] Level level_of_word(std::string_view word);
[[nodiscard]] RunOptions run_options(const CommandLine& line);

}  // namespace tailproof
