#include "source/read_bytes.h"

#include <fcntl.h>
#include <poll.h>
#include <sys/stat.h>
#include <sys/sysmacros.h>
#include <unistd.h>

#include <array>
#include <cerrno>
#include <chrono>
#include <system_error>
#include <thread>
#include <utility>

namespace tailproof {
namespace {

constexpr std::size_t kPieceBytes = 1U << 18U;
constexpr int kMostAttempts = 3;  // at a file that changes while it is read
constexpr std::chrono::milliseconds kRest(20);
constexpr std::chrono::milliseconds kWaitForWriter(2000);

class Descriptor {
 public:
  explicit Descriptor(int number) : number_(number) {}
  ~Descriptor() {
    if (number_ > STDERR_FILENO) close(number_);
  }
  Descriptor(const Descriptor&) = delete;
  Descriptor& operator=(const Descriptor&) = delete;
  [[nodiscard]] int number() const { return number_; }

 private:
  int number_;
};

Failure failure(const std::string& path, std::string message) {
  return {{path, 0, 0, std::move(message), false}};
}

std::string words_of(int fault) { return std::generic_category().message(fault); }

bool stands_alike(const struct stat& a, const struct stat& b) {
  return a.st_size == b.st_size && a.st_ino == b.st_ino && a.st_mtim.tv_sec == b.st_mtim.tv_sec &&
         a.st_mtim.tv_nsec == b.st_mtim.tv_nsec;
}

/// What is wrong with reading this kind of file, or "".
std::string fault_of_kind(const struct stat& status, int descriptor, bool may_stream) {
  switch (status.st_mode & S_IFMT) {
    case S_IFREG:
      return "";
    case S_IFDIR:
      return "is a folder; a file was expected";
    case S_IFIFO:
      return may_stream ? "" : "is a pipe, which is not read here; put a file in its place";
    case S_IFSOCK:
      return descriptor == STDIN_FILENO ? "" : "is a socket; name a file";
    default: {
      const bool is_null = status.st_rdev == makedev(1, 3);
      const bool is_terminal = S_ISCHR(status.st_mode) && isatty(descriptor) != 0;
      return is_null || is_terminal ? "" : "is a device, which has no end; name a file";
    }
  }
}

/// Reads until the end, or one byte more than `most`. A pipe that was opened without waiting is
/// read once somebody writes to it; nothing when nobody does.
class Reading {
 public:
  Reading(int descriptor, bool may_lack_writer)
      : descriptor_(descriptor), has_writer_(!may_lack_writer) {}

  /// 0, or what errno was.
  [[nodiscard]] int read_all(std::string& bytes, std::uint64_t most) {
    const auto end = std::chrono::steady_clock::now() + kWaitForWriter;
    std::array<char, kPieceBytes> piece;
    while (bytes.size() <= most) {
      const ssize_t count = read(descriptor_, piece.data(), piece.size());
      if (count > 0) {
        has_writer_ = true;
        bytes.append(piece.data(), static_cast<std::size_t>(count));
      } else if (count == 0) {
        if (has_writer_ || wait(static_cast<int>(kRest.count()))) return 0;
        if (std::chrono::steady_clock::now() > end) return EPIPE;
      } else if (errno == EAGAIN || errno == EWOULDBLOCK) {
        has_writer_ = true;
        wait(-1);
      } else if (errno != EINTR) {
        return errno;
      }
    }
    return 0;
  }

 private:
  /// True when a writer has been here and is gone, so that nothing more comes.
  bool wait(int milliseconds) const {
    pollfd wait{descriptor_, POLLIN, 0};
    return poll(&wait, 1, milliseconds) > 0 && (wait.revents & POLLHUP) != 0 &&
           (wait.revents & POLLIN) == 0;
  }

  int descriptor_;
  bool has_writer_;
};

enum class Attempt { kDone, kChanged };

Result<Attempt> attempt(const std::string& path, Streams streams, std::string& bytes) {
  const bool is_standard_input = path == "-";
  const bool may_stream = is_standard_input || streams == Streams::kAllowed;
  int opened = STDIN_FILENO;
  while (!is_standard_input) {
    // Not waiting, since the name may be that of a pipe.
    opened = open(path.c_str(), O_RDONLY | O_CLOEXEC | O_NONBLOCK | O_NOCTTY);
    if (opened >= 0 || errno != EINTR) break;
  }
  if (opened < 0) return failure(path, "cannot be opened: " + words_of(errno));
  const Descriptor file(opened);
  struct stat before {};
  if (fstat(opened, &before) != 0) return failure(path, "cannot be read: " + words_of(errno));
  const std::string fault = fault_of_kind(before, opened, may_stream);
  if (!fault.empty()) return failure(path, fault);
  const bool is_file = S_ISREG(before.st_mode);
  const auto size = static_cast<std::uint64_t>(before.st_size);
  if (is_file && size > kMostFileBytes) return failure(path, "has 4 GiB or more; split it");
  // Files of the system's own (/proc) tell no size, and standard input may stand anywhere in one.
  const bool has_size = is_file && size > 0 && !is_standard_input;
  const std::uint64_t most = has_size ? size : is_file ? kMostFileBytes : kMostStreamBytes;
  if (is_file) bytes.reserve(static_cast<std::size_t>(size) + 1);

  const bool may_lack_writer = S_ISFIFO(before.st_mode) && !is_standard_input;
  const int wrong = Reading(opened, may_lack_writer).read_all(bytes, most);
  if (wrong == EPIPE) return failure(path, "is a pipe to which nobody writes");
  if (wrong != 0) return failure(path, "cannot be read: " + words_of(wrong));
  if (bytes.size() > most && !has_size) {
    return failure(path, "gives more than 512 MiB; put it into files, and split it");
  }
  // One that grows may do so for ever; it has been read no further than it was long.
  struct stat after {};
  const bool rests = !has_size || (bytes.size() == size && fstat(opened, &after) == 0 &&
                                   stands_alike(before, after));
  return rests ? Attempt::kDone : Attempt::kChanged;
}

}  // namespace

Result<std::string> read_bytes(const std::string& path, Streams streams) {
  for (int left = kMostAttempts; left > 0; --left) {
    std::string bytes;
    const Result<Attempt> tried = attempt(path, streams, bytes);
    if (!tried) return Failure{tried.error()};
    if (tried.value() == Attempt::kDone) return bytes;
    std::this_thread::sleep_for(kRest);
  }
  return failure(path, "changes while it is read; check again when it is written");
}

}  // namespace tailproof
