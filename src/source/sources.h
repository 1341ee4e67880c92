// The bytes of every file of a run, and where their lines begin. First station: everything later
// points in here.
//
// Lifetime: views handed out live as long as the Sources; a buffer never moves or changes once
// added. Threads: add() from one thread only; the rest may run side by side with each other. Cost:
// the line index of a file is built with it, in one pass; position() is a binary search plus one
// line.
#pragma once

#include <cstdint>
#include <deque>
#include <string>
#include <string_view>
#include <vector>

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
  /// Reads the file at `path`; "-" is standard input. Fails when it cannot be read.
  [[nodiscard]] Result<FileId> read(const std::string& path, Encoding encoding = Encoding::kUtf8);

  [[nodiscard]] std::string_view text(FileId file) const;
  [[nodiscard]] std::string_view text(const Span& span) const;
  [[nodiscard]] const std::string& path(FileId file) const;
  [[nodiscard]] Position position(FileId file, std::uint32_t offset) const;
  [[nodiscard]] std::size_t size() const { return files_.size(); }

 private:
  struct File {
    std::string path;
    std::string bytes;
    std::vector<std::uint32_t> line_begins;
    std::vector<std::uint32_t>
        code_points_before;  // at every 4096th byte, for columns in long lines
  };
  std::deque<File> files_;
};

}  // namespace tailproof
