#include "cli/progress.h"

#include <unistd.h>

#include <cstdio>
#include <cstdlib>
#include <string_view>
#include <system_error>

namespace tailproof {

namespace {

constexpr auto kPatience = std::chrono::seconds(1);
constexpr auto kBeat = std::chrono::milliseconds(250);

}  // namespace

bool is_able_terminal(int descriptor) {
  const char* term = std::getenv("TERM");
  return isatty(descriptor) == 1 && term != nullptr && std::string_view(term) != "dumb" &&
         *term != '\0';
}

Progress::Progress() : begun_(std::chrono::steady_clock::now()) {
  if (is_able_terminal(STDERR_FILENO)) {
    try {
      thread_ = std::thread([this] { show(); });
    } catch (const std::system_error&) {
      // Without a thread there is no progress to see, and nothing else amiss.
    }
  }
}

Progress::~Progress() {
  {
    const std::lock_guard lock(mutex_);
    is_over_ = true;
  }
  woken_.notify_all();
  if (thread_.joinable()) {
    thread_.join();
  }
}

void Progress::at(const std::string& stage) {
  const std::lock_guard lock(mutex_);
  stage_ = stage;
}

void Progress::show() {
  std::unique_lock lock(mutex_);
  woken_.wait_for(lock, kPatience, [this] { return is_over_; });
  while (!is_over_) {
    const auto seconds =
        std::chrono::duration_cast<std::chrono::seconds>(std::chrono::steady_clock::now() - begun_)
            .count();
    std::fprintf(stderr, "\r\x1b[Ktailproof: %s, %lld s", stage_.c_str(),
                 static_cast<long long>(seconds));
    std::fflush(stderr);
    is_shown_ = true;
    woken_.wait_for(lock, kBeat, [this] { return is_over_; });
  }
  clear();
}

void Progress::clear() {
  if (is_shown_) {
    std::fputs("\r\x1b[K", stderr);
    std::fflush(stderr);
  }
}

}  // namespace tailproof
