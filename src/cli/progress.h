// A line on a terminal that tells what long work is at.
//
// Contract: nothing is written unless standard error is a terminal that can take a line back, and
// not before a second has passed. The line is gone when the object is. Threads: at() may be called
// from any.
#pragma once

#include <chrono>
#include <condition_variable>
#include <mutex>
#include <string>
#include <thread>

namespace tailproof {

class Progress {
 public:
  Progress();
  ~Progress();
  Progress(const Progress&) = delete;
  Progress& operator=(const Progress&) = delete;

  /// "reading manuscripts (3 of 40)".
  void at(const std::string& stage);

 private:
  void show();
  void clear();

  std::mutex mutex_;
  std::condition_variable woken_;
  std::string stage_;
  bool is_over_ = false;
  bool is_shown_ = false;
  std::chrono::steady_clock::time_point begun_;
  std::thread thread_;  // the last member: it uses the others
};

/// Whether that stream is a terminal on which colours and lines taken back work.
[[nodiscard]] bool is_able_terminal(int descriptor);

}  // namespace tailproof
