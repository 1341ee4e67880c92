// Statements of SQLite that free themselves. Private to this station.
#pragma once

#include <sqlite3.h>

#include <memory>
#include <string>
#include <string_view>

namespace tailproof {

struct FinalizeStatement {
  void operator()(sqlite3_stmt* statement) const { sqlite3_finalize(statement); }
};
using Statement = std::unique_ptr<sqlite3_stmt, FinalizeStatement>;

struct CloseDatabase {
  void operator()(sqlite3* handle) const { sqlite3_close(handle); }
};

/// Null when the file has nothing of the kind.
inline Statement prepare(sqlite3* handle, const std::string& sql) {
  sqlite3_stmt* statement = nullptr;
  sqlite3_prepare_v2(handle, sql.c_str(), -1, &statement, nullptr);
  return Statement(statement);
}

inline std::string_view text_of(sqlite3_stmt* statement, int column) {
  const auto* text = reinterpret_cast<const char*>(sqlite3_column_text(statement, column));
  if (text == nullptr) return {};
  return {text, static_cast<std::size_t>(sqlite3_column_bytes(statement, column))};
}

inline std::string_view blob_of(sqlite3_stmt* statement, int column) {
  const auto* bytes = static_cast<const char*>(sqlite3_column_blob(statement, column));
  if (bytes == nullptr) return {};
  return {bytes, static_cast<std::size_t>(sqlite3_column_bytes(statement, column))};
}

/// The bytes must stay until the statement has been stepped and reset.
inline void bind_blob(sqlite3_stmt* statement, int at, std::string_view bytes) {
  sqlite3_bind_blob64(statement, at, bytes.data(), bytes.size(), SQLITE_STATIC);
}

}  // namespace tailproof
