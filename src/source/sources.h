// The bytes of every file of a run, and where their lines begin. First station: everything later
// points in here.
//
// Lifetime: views handed out live as long as the Sources; a buffer never moves or changes once
// added, unless replace() is called. Threads: add() from one thread only; the rest may run side by
// side with each other. Cost: the line index of a file is built with it, in one pass; position() is
// a binary search plus one line.
#pragma once

#include <cstdint>
#include <deque>
#include <map>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "source/read_bytes.h"
#include "tailproof/result.h"
#include "tailproof/span.h"

namespace tailproof {

enum class Encoding { kUtf8, kWindows1252 };

class Sources {
 public:
  /// Takes over `bytes` (UTF-8, checked; Windows-1252 is converted first when `encoding` says so).
  /// A byte-order mark is kept in the buffer and skipped by the readers. `path` is as shown to the
  /// user. Fails, naming byte and line, when the bytes are not UTF-8, or the file is 4 GiB or more.
  [[nodiscard]] Result<FileId> add(std::string path, std::string bytes,
                                   Encoding encoding = Encoding::kUtf8);
  /// Reads the file at `path`, as read_bytes() does; "-" is standard input. Fails when it cannot be
  /// read.
  [[nodiscard]] Result<FileId> read(const std::string& path, Encoding encoding = Encoding::kUtf8,
                                    Streams streams = Streams::kRefused);

  /// For a program that stays: from now on read() gives a path that is here the number that it has,
  /// without looking at the file again.
  void keep_files() { keeps_files_ = true; }
  /// The first file that was added under exactly this path.
  [[nodiscard]] std::optional<FileId> find(const std::string& path) const;
  /// Another text for a file that is here. Views into the old one end; its spans lose their
  /// meaning. Fails as add() does, and then nothing has changed.
  [[nodiscard]] Result<FileId> replace(FileId file, std::string bytes,
                                       Encoding encoding = Encoding::kUtf8);

  [[nodiscard]] std::string_view text(FileId file) const;
  [[nodiscard]] std::string_view text(const Span& span) const;
  [[nodiscard]] const std::string& path(FileId file) const;
  [[nodiscard]] Position position(FileId file, std::uint32_t offset) const;
  [[nodiscard]] std::size_t size() const { return files_.size(); }
  /// Offsets at which the lines of a file begin, behind its byte-order mark; at least one.
  [[nodiscard]] const std::vector<std::uint32_t>& line_begins(FileId file) const;

 private:
  struct File {
    std::string path;
    std::string bytes;
    std::vector<std::uint32_t> line_begins;
    std::vector<std::uint32_t>
        code_points_before;  // at every 4096th byte, for columns in long lines
  };
  [[nodiscard]] static Result<File> index(std::string path, std::string bytes);

  std::deque<File> files_;
  bool keeps_files_ = false;
  std::map<std::string, FileId> file_of_path_;
};

}  // namespace tailproof
