#include <fcntl.h>
#include <unistd.h>

#include <cerrno>
#include <csignal>
#include <cstdio>
#include <new>

#include "cli/command_line.h"
#include "cli/memory.h"
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

/// A descriptor that is closed would be given to the next file that is opened, and a report written
/// into it, or a manuscript read as the user's input. What stands in its place can do neither.
void keep_descriptors_apart() {
  for (const int number : {STDIN_FILENO, STDOUT_FILENO, STDERR_FILENO}) {
    if (fcntl(number, F_GETFD) == -1 && errno == EBADF) {
      static_cast<void>(open("/dev/null", number == STDIN_FILENO ? O_WRONLY : O_RDONLY));
    }
  }
}

/// Nothing can be mended without memory, and nothing is half done: output is written whole or not
/// at all. So the program ends here, wherever it is, and nobody else need think of it.
void end_without_memory() {
  constexpr char kLine[] =
      "tailproof: out of memory; check fewer files at a time, or give the program more\n";
  static_cast<void>(!write(STDERR_FILENO, kLine, sizeof kLine - 1));
  _exit(2);
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
  std::set_new_handler(tailproof::end_without_memory);
  tailproof::prepare_memory();
  tailproof::keep_descriptors_apart();
  // A reader that closes the pipe early (head) must not kill the program before its exit status.
  std::signal(SIGPIPE, SIG_IGN);
  const auto asked = tailproof::parse_command_line(count, words);
  if (const auto* reply = std::get_if<tailproof::Answer>(&asked)) {
    return tailproof::answer(*reply);
  }
  return tailproof::run_verb(std::get<tailproof::CommandLine>(asked));
}
