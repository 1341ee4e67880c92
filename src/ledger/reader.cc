#include "ledger/reader.h"

#include <chrono>
#include <filesystem>
#include <system_error>
#include <thread>

#include "ledger/builder.h"
#include "ledger/folder_state.h"
#include "ledger/read_rows.h"
#include "ledger/row_source_csv.h"
#include "ledger/settings.h"
#include "ledger/sqlite_file.h"
#include "source/sources.h"

namespace tailproof {
namespace {

namespace fs = std::filesystem;

constexpr int kMostAttempts = 3;  // at a ledger that is being written
constexpr std::chrono::milliseconds kRest(50);

Failure failure(const std::string& file, std::string message) {
  return Failure{{file, 0, 0, std::move(message), false}};
}

// Reads every table that `open` finds; `open` returns nullptr for one that is absent or, complained
// of, unreadable.
template <typename Open>
void read_tables(LedgerTables& tables, Complaints& complaints, std::string_view label_end,
                 const Open& open) {
  ByText<Edtf> dates;
  for_each_table(tables, [&]<typename Row>(std::vector<Row>& rows) {
    const std::string name(kTable<Row>.name);
    std::string file;
    const std::unique_ptr<RowSource> source = open(name, file);
    if (source == nullptr) return;
    tables.present.insert(name);
    const ReadContext context{file,
                              tables.pool.keep(name + std::string(label_end)),
                              tables.settings.hemisphere,
                              tables.pool,
                              dates,
                              complaints};
    rows = read_rows<Row>(*source, context);
  });
}

void note_closed_but_absent(const LedgerTables& tables, const std::string& settings_file,
                            Complaints& complaints) {
  for (const std::string& name : tables.settings.closed_tables) {
    if (tables.present.contains(name)) continue;
    complaints.push_back(
        {settings_file, 0, 0,
         "closed.tables names " + name + ", which the ledger does not have; it is taken as open",
         true});
  }
}

void change(Margins& margins, const MarginChanges& changes) {
  margins.day = changes.day.value_or(margins.day);
  margins.month = changes.month.value_or(margins.month);
  margins.year = changes.year.value_or(margins.year);
}

Result<Ledger> read_folder(const std::string& path, const MarginChanges& margins,
                           Complaints& complaints) {
  const fs::path folder(path);
  const std::string settings_file = (folder / "ledger.toml").string();
  std::error_code error;
  if (!fs::exists(settings_file, error)) {
    return failure(path, "has no ledger.toml; a ledger is a folder with ledger.toml and tables");
  }
  Sources sources;
  const Result<FileId> text = sources.read(settings_file);
  if (!text) return Failure{text.error()};

  LedgerBuilder builder;
  LedgerTables& tables = builder.tables();
  tables.path = path;
  const Result<bool> settings =
      read_settings(settings_file, sources.text(text.value()), tables, complaints);
  if (!settings) return Failure{settings.error()};
  change(tables.settings.margins, margins);

  read_tables(tables, complaints, ".csv",
              [&](const std::string& name, std::string& file) -> std::unique_ptr<RowSource> {
                file = (folder / (name + ".csv")).string();
                std::error_code status;
                if (!fs::exists(file, status)) return nullptr;
                return open_csv_table(file, complaints);
              });
  note_closed_but_absent(tables, settings_file, complaints);
  return builder.finish();
}

// ledger.toml of a database: in its table `ledger`, or beside it under its own name or as
// ledger.toml.
Result<bool> read_database_settings(const SqliteFile& database, const std::string& path,
                                    LedgerTables& tables, Complaints& complaints) {
  if (const auto text = database.settings()) {
    return read_settings(path + "(ledger)", *text, tables, complaints);
  }
  const fs::path beside[] = {fs::path(path).replace_extension(".toml"),
                             fs::path(path).replace_filename("ledger.toml")};
  for (const fs::path& candidate : beside) {
    std::error_code error;
    if (!fs::exists(candidate, error)) continue;
    Sources sources;
    const Result<FileId> text = sources.read(candidate.string());
    if (!text) return Failure{text.error()};
    return read_settings(candidate.string(), sources.text(text.value()), tables, complaints);
  }
  complaints.push_back({path, 0, 0,
                        "has no settings; put the text of ledger.toml into table ledger, column "
                        "toml, or beside the file",
                        true});
  return true;
}

Result<Ledger> read_database(const std::string& path, const MarginChanges& margins,
                             Complaints& complaints) {
  const Result<SqliteFile> database = SqliteFile::open(path);
  if (!database) return Failure{database.error()};

  LedgerBuilder builder;
  LedgerTables& tables = builder.tables();
  tables.path = path;
  const Result<bool> settings = read_database_settings(database.value(), path, tables, complaints);
  if (!settings) return Failure{settings.error()};
  change(tables.settings.margins, margins);

  read_tables(tables, complaints, "",
              [&](const std::string& name, std::string& file) -> std::unique_ptr<RowSource> {
                file = path + "(" + name + ")";
                if (!database.value().has_table(name)) return nullptr;
                return database.value().open_table(name, complaints);
              });
  if (tables.present.empty()) {
    return failure(path, "is a database without any table of a ledger; name another file");
  }
  note_closed_but_absent(tables, path, complaints);
  return builder.finish();
}

}  // namespace

Result<Ledger> read_ledger(const std::string& path, Complaints& complaints,
                           const MarginChanges& margins) {
  std::error_code error;
  const fs::file_status status = fs::status(path, error);
  if (!fs::exists(status)) return failure(path, "no such ledger; name a folder or an SQLite file");
  if (!fs::is_directory(status)) {
    // A pipe would be waited for, and a device has no tables.
    if (!fs::is_regular_file(status)) {
      return failure(path, "is no ledger; name a folder with ledger.toml or an SQLite file");
    }
    return read_database(path, margins, complaints);
  }
  for (int left = kMostAttempts; left > 0; --left) {
    const std::string state = folder_state(path);
    Complaints told;
    Result<Ledger> ledger = read_folder(path, margins, told);
    if (folder_state(path) == state) {
      complaints.insert(complaints.end(), told.begin(), told.end());
      return ledger;
    }
    std::this_thread::sleep_for(kRest);
  }
  return failure(path, "is written to while it is read; check again when it rests");
}

Ledger empty_ledger() { return LedgerBuilder().finish(); }

}  // namespace tailproof
