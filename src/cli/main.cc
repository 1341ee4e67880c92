#include <csignal>
#include <cstdio>

#include "cli/command_line.h"
#include "cli/output.h"
#include "cli/verbs.h"

namespace tailproof {

namespace {

int run_verb(const CommandLine& line) {
#define TAILPROOF_VERB(word, function, operands, summary) \
  if (line.verb == #word) {                               \
    return function(line);                                \
  }
#include "cli/verbs.inc"
#undef TAILPROOF_VERB
  return 2;
}

int answer(const Answer& answer) {
  if (answer.status != 0) {
    std::fputs(answer.text.c_str(), stderr);
    return answer.status;
  }
  const std::string fault = write_output("", answer.text);
  if (!fault.empty()) {
    std::fprintf(stderr, "tailproof: %s\n", fault.c_str());
    return 2;
  }
  return 0;
}

}  // namespace

}  // namespace tailproof

int main(int count, char** words) {
  // A reader that closes the pipe early (head) must not kill the program before its exit status.
  std::signal(SIGPIPE, SIG_IGN);
  const auto asked = tailproof::parse_command_line(count, words);
  if (const auto* reply = std::get_if<tailproof::Answer>(&asked)) {
    return tailproof::answer(*reply);
  }
  return tailproof::run_verb(std::get<tailproof::CommandLine>(asked));
}
