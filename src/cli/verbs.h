// What each verb does. Every function returns the exit status.
#pragma once

#include "cli/command_line.h"

namespace tailproof {

#define TAILPROOF_VERB(word, function, operands, summary) \
  [[nodiscard]] int function(const CommandLine& line);
#include "cli/verbs.inc"
#undef TAILPROOF_VERB

}  // namespace tailproof
