// A ledger as it lies on disk, whatever its form: the text of ledger.toml and tables to be read.
#pragma once

#include <memory>
#include <optional>
#include <string>
#include <string_view>

#include "ledger/reader.h"
#include "ledger/row_source.h"
#include "tailproof/ledger.h"
#include "tailproof/result.h"

namespace tailproof {

class LedgerQuestions;

class TableSource {
 public:
  struct Settings {
    std::string file;  // as complaints name it
    std::string text;  // of ledger.toml
  };
  virtual ~TableSource() = default;

  /// Nothing when there are none, which is noted. Fails when they cannot be read.
  [[nodiscard]] virtual Result<std::optional<Settings>> settings() const = 0;
  /// What stands behind a table's name where rows are quoted: ".csv" or "".
  [[nodiscard]] virtual std::string label_end() const = 0;
  /// As complaints name the table.
  [[nodiscard]] virtual std::string file_of(const std::string& table) const = 0;
  /// Nullptr when the table is absent or, after a complaint, cannot be read.
  [[nodiscard]] virtual std::unique_ptr<RowSource> open(const std::string& table,
                                                        Complaints& complaints) const = 0;
  /// Notes what lies among the tables, as a table would, and is none.
  virtual void note_strangers(Complaints& /*complaints*/) const {}
};

/// The source at `path`: a folder or an SQLite file whose tables are those of a ledger. Must not be
/// a compiled ledger.
[[nodiscard]] Result<std::unique_ptr<TableSource>> open_source(const std::string& path);

/// Reads every table of the source. `questions` is where the ledger leaves what it was asked beyond
/// its rows; nullptr when the source gives all there are.
[[nodiscard]] Result<Ledger> read_source(const TableSource& source, const std::string& path,
                                         Complaints& complaints, const MarginChanges& margins,
                                         std::shared_ptr<LedgerQuestions> questions = nullptr);

}  // namespace tailproof
