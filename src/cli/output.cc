#include "cli/output.h"

#include <fcntl.h>
#include <poll.h>
#include <sys/stat.h>
#include <unistd.h>

#include <algorithm>
#include <cerrno>
#include <cstdio>
#include <filesystem>
#include <system_error>
#include <utility>

#include "source/shown_path.h"

namespace tailproof {

namespace fs = std::filesystem;

namespace {

constexpr int kMostLinks = 40;

/// False with errno set when it cannot be written. Interrupted and short writes are gone on with.
bool write_all(int descriptor, std::string_view text) {
  while (!text.empty()) {
    const ssize_t count = write(descriptor, text.data(), text.size());
    if (count >= 0) {
      text.remove_prefix(static_cast<std::size_t>(count));
    } else if (errno == EAGAIN || errno == EWOULDBLOCK) {
      pollfd wait{descriptor, POLLOUT, 0};
      static_cast<void>(poll(&wait, 1, -1));
    } else if (errno != EINTR) {
      return false;
    }
  }
  return true;
}

/// Where the links of the last name lead: a link stays, the file behind it is written.
fs::path behind_links(fs::path path) {
  std::error_code error;
  for (int left = kMostLinks; left > 0 && fs::is_symlink(path, error); --left) {
    const fs::path target = fs::read_symlink(path, error);
    if (error) break;
    path = path.parent_path() / target;
  }
  return path;
}

/// A file beside the one that is to be written, in whose place it is put when it is whole. What is
/// not put there is gone at the end.
class NewFile {
 public:
  explicit NewFile(fs::path target)
      : target_(std::move(target)),
        folder_(target_.has_parent_path() ? target_.parent_path() : fs::path(".")) {}
  ~NewFile() {
    if (descriptor_ >= 0) close(descriptor_);
    if (is_there_) unlink(path_.c_str());
  }
  NewFile(const NewFile&) = delete;
  NewFile& operator=(const NewFile&) = delete;

  /// Each is false with errno set when it cannot be done.
  bool make() {
    constexpr int kMostNames = 100;
    for (int number = 0; number < kMostNames; ++number) {
      path_ = (folder_ / (".tailproof-" + std::to_string(getpid()) + "-" + std::to_string(number)))
                  .string();
      descriptor_ = open(path_.c_str(), O_WRONLY | O_CREAT | O_EXCL | O_CLOEXEC, 0666);
      if (descriptor_ >= 0) break;
      if (errno != EEXIST && errno != EINTR) return false;
    }
    is_there_ = descriptor_ >= 0;
    return is_there_;
  }
  [[nodiscard]] bool fill(std::string_view text) const {
    return write_all(descriptor_, text) && fsync(descriptor_) == 0;
  }
  /// As the one before: who may read it, and whose it is (only root can give files away).
  void take_after(const struct stat& old) const {
    static_cast<void>(!fchown(descriptor_, old.st_uid, old.st_gid));
    static_cast<void>(!fchmod(descriptor_, old.st_mode & 07777U));
  }
  bool put() {
    const int closed = close(std::exchange(descriptor_, -1));
    if (closed != 0 || rename(path_.c_str(), target_.c_str()) != 0) return false;
    is_there_ = false;
    const int folder = open(folder_.c_str(), O_RDONLY | O_DIRECTORY | O_CLOEXEC);
    if (folder >= 0) {
      static_cast<void>(fsync(folder));
      close(folder);
    }
    return true;
  }

 private:
  fs::path target_;
  fs::path folder_;
  std::string path_;
  int descriptor_ = -1;
  bool is_there_ = false;
};

std::string cannot(const std::string& path) {
  const int fault = errno;
  return shown_path(path) + ": cannot be written: " + std::generic_category().message(fault);
}

/// A pipe, a terminal, a device.
std::string write_stream(const std::string& path, std::string_view text) {
  const int descriptor = open(path.c_str(), O_WRONLY | O_CLOEXEC | O_NOCTTY);
  if (descriptor < 0) return cannot(path);
  const bool is_written = write_all(descriptor, text);
  std::string fault = is_written || errno == EPIPE ? "" : cannot(path);
  close(descriptor);
  return fault;
}

}  // namespace

std::string write_output(const std::string& path, std::string_view text) {
  if (path.empty()) {
    return write_all(STDOUT_FILENO, text) || errno == EPIPE ? "" : cannot("standard output");
  }
  struct stat old {};
  const bool is_there = stat(path.c_str(), &old) == 0;
  if (!is_there && errno != ENOENT) return cannot(path);
  if (is_there && S_ISDIR(old.st_mode)) {
    errno = EISDIR;
    return cannot(path);
  }
  if (is_there && !S_ISREG(old.st_mode)) return write_stream(path, text);
  // Putting another in its place needs no right to write to the file itself, but the user would
  // not expect it.
  if (is_there && access(path.c_str(), W_OK) != 0) return cannot(path);
  NewFile file(behind_links(path));
  if (!file.make()) return cannot(path);
  if (is_there) file.take_after(old);
  return file.fill(text) && file.put() ? "" : cannot(path);
}

bool would_overwrite(const std::string& output, const std::vector<std::string>& inputs) {
  std::error_code error;
  const fs::path target = fs::weakly_canonical(output, error);
  if (error) {
    return false;
  }
  return std::any_of(inputs.begin(), inputs.end(), [&](const std::string& input) {
    std::error_code unknown;
    // Two names of one file (hard links) are one file.
    if (fs::equivalent(output, input, unknown)) {
      return true;
    }
    if (!fs::is_directory(input, unknown)) {
      return false;
    }
    const fs::path folder = fs::weakly_canonical(input, unknown);
    return std::mismatch(folder.begin(), folder.end(), target.begin(), target.end()).first ==
           folder.end();
  });
}

bool print_complaints(const Complaints& complaints) {
  bool is_bad = false;
  for (const Complaint& complaint : complaints) {
    Complaint shown = complaint;
    if (complaint.is_note) {
      shown.message = "note: " + shown.message;
    }
    is_bad = is_bad || !complaint.is_note;
    std::fprintf(stderr, "tailproof: %s\n", to_line(shown).c_str());
  }
  return is_bad;
}

}  // namespace tailproof
