// A ledger in one SQLite file: tables of the same names and columns, and the text of ledger.toml in
// table `ledger`, column `toml`.
#pragma once

#include <memory>
#include <optional>
#include <string>
#include <string_view>

#include "ledger/row_source.h"

struct sqlite3;

namespace tailproof {

class SqliteFile {
 public:
  /// Fails when the file is no SQLite database or cannot be read.
  [[nodiscard]] static Result<SqliteFile> open(const std::string& path);

  [[nodiscard]] bool has_table(std::string_view name) const;
  /// Text of ledger.toml; nothing when the file has no such table.
  [[nodiscard]] std::optional<std::string> settings() const;
  /// Nullptr, after a complaint, when the table cannot be read. Must not outlive this object.
  [[nodiscard]] std::unique_ptr<RowSource> open_table(std::string_view name,
                                                      Complaints& complaints) const;

 private:
  struct Close {
    void operator()(sqlite3* handle) const;
  };
  SqliteFile(std::string path, sqlite3* handle) : path_(std::move(path)), handle_(handle) {}
  std::string path_;
  std::unique_ptr<sqlite3, Close> handle_;
};

}  // namespace tailproof
