// Preloaded, makes calls of the system behave as badly as they may.
//
//   FAULT_SHORT=1     reads and writes move a few bytes, and every third call is interrupted
//   FAULT_FULL=N      the disk is full after N bytes
//   FAULT_AT=CALL     fsync or rename: fails with EIO
//   FAULT_KILL=CALL   fsync or rename: the process is killed there
//   FAULT_VANISH=END  the file whose path ends so is gone when it is opened
//   FAULT_TOUCH=FILE  somebody writes to this file whenever something is read ...
//   FAULT_TIMES=N     ... N times in all
#include <dlfcn.h>
#include <fcntl.h>
#include <poll.h>
#include <unistd.h>

#include <atomic>
#include <cerrno>
#include <csignal>
#include <cstdarg>
#include <cstdlib>
#include <cstring>
#include <string_view>

namespace {

std::atomic<long> calls{0};
std::atomic<long> written{0};
std::atomic<long> touches{0};

const char* word(const char* name) { return std::getenv(name); }
long number(const char* name) { return word(name) == nullptr ? 0 : std::atol(word(name)); }

template <typename Function>
Function* next(const char* name) {
  return reinterpret_cast<Function*>(dlsym(RTLD_NEXT, name));
}

bool is_interrupted() {
  static const bool is_short = number("FAULT_SHORT") != 0;
  if (!is_short || ++calls % 3 != 0) return false;
  errno = EINTR;
  return true;
}

size_t shortened(size_t size) {
  static const bool is_short = number("FAULT_SHORT") != 0;
  const size_t most = 1 + static_cast<size_t>(calls.load()) % 700;
  return is_short && size > most ? most : size;
}

void touch() {
  static const char* const file = word("FAULT_TOUCH");
  static const long times = number("FAULT_TIMES");
  if (file == nullptr || ++touches > times) return;
  static auto* const open_it = next<int(const char*, int, ...)>("open");
  static auto* const write_it = next<ssize_t(int, const void*, size_t)>("write");
  const int descriptor = open_it(file, O_WRONLY | O_APPEND);
  if (descriptor < 0 || write_it(descriptor, "\n", 1) != 1) std::abort();
  close(descriptor);
}

/// Whether the call is to fail; does not come back when the process is to be killed there.
bool fails(const char* call) {
  const char* kill_at = word("FAULT_KILL");
  if (kill_at != nullptr && std::strcmp(kill_at, call) == 0) raise(SIGKILL);
  const char* fail_at = word("FAULT_AT");
  if (fail_at == nullptr || std::strcmp(fail_at, call) != 0) return false;
  errno = EIO;
  return true;
}

}  // namespace

extern "C" {

ssize_t read(int descriptor, void* bytes, size_t size) {
  static auto* const real = next<ssize_t(int, void*, size_t)>("read");
  if (is_interrupted()) return -1;
  touch();
  return real(descriptor, bytes, shortened(size));
}

ssize_t pread64(int descriptor, void* bytes, size_t size, off64_t offset) {
  static auto* const real = next<ssize_t(int, void*, size_t, off64_t)>("pread64");
  if (is_interrupted()) return -1;
  return real(descriptor, bytes, shortened(size), offset);
}

ssize_t write(int descriptor, const void* bytes, size_t size) {
  static auto* const real = next<ssize_t(int, const void*, size_t)>("write");
  static const long full = number("FAULT_FULL");
  if (is_interrupted()) return -1;
  size = shortened(size);
  if (full != 0 && descriptor > STDERR_FILENO) {
    if (written >= full) {
      errno = ENOSPC;
      return -1;
    }
    const auto left = static_cast<size_t>(full - written.load());
    if (size > left) size = left;
    written += static_cast<long>(size);
  }
  return real(descriptor, bytes, size);
}

int poll(pollfd* waits, nfds_t count, int milliseconds) {
  static auto* const real = next<int(pollfd*, nfds_t, int)>("poll");
  return is_interrupted() ? -1 : real(waits, count, milliseconds);
}

int fsync(int descriptor) {
  static auto* const real = next<int(int)>("fsync");
  return fails("fsync") ? -1 : real(descriptor);
}

int rename(const char* from, const char* to) {
  static auto* const real = next<int(const char*, const char*)>("rename");
  return fails("rename") ? -1 : real(from, to);
}

int open(const char* path, int flags, ...) {
  static auto* const real = next<int(const char*, int, ...)>("open");
  static const char* const vanishing = word("FAULT_VANISH");
  mode_t mode = 0;
  if ((flags & O_CREAT) != 0) {
    va_list more;
    va_start(more, flags);
    mode = va_arg(more, mode_t);
    va_end(more);
  }
  if (vanishing != nullptr && std::string_view(path).ends_with(vanishing)) unlink(path);
  return real(path, flags, mode);
}
}
