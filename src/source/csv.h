// Comma-separated values as RFC 4180 has them, with the place of every field in the bytes.
//
// A first line without a comma whose names semicolons or tabs part, as spreadsheets of many
// countries write them, makes that the separator of the whole file.
//
// Contract: rows and fields come in file order. A byte-order mark at the start is skipped; line
// ends are CR LF, LF or CR; a line without any character is no row. A fault (a quote that never
// closes, characters after a closing quote) is one complaint with line and column, and the field is
// still given as well as it can be. The bytes are taken as UTF-8 and are not checked here. Cost:
// one pass over the bytes.
#pragma once

#include <cstdint>
#include <memory>
#include <string>
#include <string_view>
#include <vector>

#include "tailproof/result.h"

namespace tailproof {

/// One field. `text` has doubled quotes made single; bytes [begin, end) hold the field as written,
/// its quotes included, without the separator.
struct CsvField {
  std::string text;
  std::uint32_t begin = 0;
  std::uint32_t end = 0;
  bool quoted = false;
};

/// One row; `line` counts from 1 and is where the row begins.
struct CsvRow {
  std::vector<CsvField> fields;
  std::uint32_t line = 0;
};

/// What parts the fields of this file: a comma, a semicolon or a tab.
[[nodiscard]] char csv_separator(std::string_view bytes);

/// All rows of `bytes`, the header row among them. `path` is for complaints only.
[[nodiscard]] std::vector<CsvRow> parse_csv(std::string_view bytes, const std::string& path,
                                            Complaints& complaints);

/// The same rows one by one, for files of which only one row at a time is needed. `bytes`, `path`
/// and `complaints` must outlive it.
class CsvRows {
 public:
  CsvRows(std::string_view bytes, const std::string& path, Complaints& complaints);
  ~CsvRows();
  /// Fills `row`, whose storage is used again; false when there are no more.
  [[nodiscard]] bool next(CsvRow& row);

 private:
  std::unique_ptr<class CsvScanner> scanner_;
};

}  // namespace tailproof
