// Threads that help, where the system has any to give.
//
// Contract: start() may give no thread; whoever calls it does the work himself then, or what is
// left of it. All have ended when join() returns, and when the group is gone.
#pragma once

#include <system_error>
#include <thread>
#include <utility>
#include <vector>

namespace tailproof {

class ThreadGroup {
 public:
  ThreadGroup() = default;
  ~ThreadGroup() { join(); }
  ThreadGroup(const ThreadGroup&) = delete;
  ThreadGroup& operator=(const ThreadGroup&) = delete;

  /// False when the system gives no more threads; `work` has not begun then.
  template <typename Work>
  [[nodiscard]] bool start(Work work) {
    try {
      threads_.emplace_back(std::move(work));
    } catch (const std::system_error&) {
      return false;
    }
    return true;
  }

  void join() {
    for (std::thread& thread : threads_) thread.join();
    threads_.clear();
  }

 private:
  std::vector<std::thread> threads_;
};

}  // namespace tailproof
