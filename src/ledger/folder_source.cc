// The two forms of a ledger that authors write: a folder of CSV tables, and an SQLite file.
#include <algorithm>
#include <array>
#include <filesystem>
#include <system_error>
#include <utility>

#include "ledger/columns.h"
#include "ledger/row_source_csv.h"
#include "ledger/sqlite_file.h"
#include "ledger/table_source.h"
#include "ledger/tables.h"
#include "ledger/text.h"
#include "source/nearest.h"
#include "source/sources.h"

namespace tailproof {
namespace {

namespace fs = std::filesystem;

Failure failure_of(const std::string& file, std::string message) {
  return Failure{{file, 0, 0, std::move(message), false}};
}

using MaybeSettings = std::optional<TableSource::Settings>;

Result<MaybeSettings> settings_in(const std::string& file) {
  Sources sources;
  const Result<FileId> text = sources.read(file);
  if (!text) return Failure{text.error()};
  return MaybeSettings({file, std::string(sources.text(text.value()))});
}

class FolderSource : public TableSource {
 public:
  explicit FolderSource(const std::string& path) : folder_(path) {}

  Result<MaybeSettings> settings() const override {
    const std::string file = (folder_ / "ledger.toml").string();
    std::error_code error;
    if (!fs::exists(file, error)) {
      return failure_of(folder_.string(),
                        "has no ledger.toml; a ledger is a folder of tables with that file, in "
                        "which one line will do: title = \"My ledger\"");
    }
    return settings_in(file);
  }
  std::string label_end() const override { return ".csv"; }
  std::string file_of(const std::string& table) const override {
    return (folder_ / (table + ".csv")).string();
  }
  std::unique_ptr<RowSource> open(const std::string& table, Complaints& complaints) const override {
    const std::string file = file_of(table);
    std::error_code status;
    if (!fs::exists(file, status)) return nullptr;
    return open_csv_table(file, complaints);
  }
  // "aircraft.csv", "Units.CSV", "people.xlsx": somebody believes that it is read.
  void note_strangers(Complaints& complaints) const override {
    const std::vector<std::string> tables = table_names();
    std::vector<std::string> names;
    std::error_code error;
    const fs::directory_iterator end;
    for (fs::directory_iterator entry(folder_, error); !error && entry != end;
         entry.increment(error)) {
      names.push_back(entry->path().filename().string());
    }
    std::sort(names.begin(), names.end());
    for (const std::string& name : names) {
      const std::string stem = folded_name(fs::path(name).stem().string());
      const std::string extension = folded_name(fs::path(name).extension().string());
      const bool is_table = std::find(tables.begin(), tables.end(), stem) != tables.end();
      if (name == stem + ".csv" && is_table) continue;
      std::string what;
      if (is_table && !extension.empty()) {
        what = "; a table of a ledger is a file " + stem + ".csv";
      } else if (extension == ".csv" && !name.starts_with('.')) {
        const std::string meant = nearest(stem, tables);
        what = "; the tables are ";
        for (const std::string& table : tables) {
          what += (&table == &tables.front() ? "" : ", ") + table;
        }
        if (!meant.empty()) what = "; \"" + meant + ".csv\" was perhaps meant";
      } else {
        continue;
      }
      complaints.push_back({(folder_ / name).string(), 0, 0,
                            "is no table of a ledger and is not read" + what, true});
    }
  }

 private:
  fs::path folder_;
};

class DatabaseSource : public TableSource {
 public:
  DatabaseSource(std::string path, SqliteFile file)
      : path_(std::move(path)), file_(std::move(file)) {}

  // In its table `ledger`, or beside it under its own name or as ledger.toml.
  Result<MaybeSettings> settings() const override {
    if (auto text = file_.settings()) {
      return MaybeSettings({path_ + "(ledger)", *std::move(text)});
    }
    const fs::path beside[] = {fs::path(path_).replace_extension(".toml"),
                               fs::path(path_).replace_filename("ledger.toml")};
    for (const fs::path& candidate : beside) {
      std::error_code error;
      if (fs::exists(candidate, error)) return settings_in(candidate.string());
    }
    return MaybeSettings();
  }
  std::string label_end() const override { return ""; }
  std::string file_of(const std::string& table) const override { return path_ + "(" + table + ")"; }
  std::unique_ptr<RowSource> open(const std::string& table, Complaints& complaints) const override {
    return file_.has_table(table) ? file_.open_table(table, complaints) : nullptr;
  }
  [[nodiscard]] bool has_any_table() const {
    LedgerTables tables;
    bool has_any = false;
    for_each_table(tables, [&]<typename Row>(std::vector<Row>&) {
      has_any = has_any || file_.has_table(kTable<Row>.name);
    });
    return has_any;
  }

 private:
  std::string path_;
  SqliteFile file_;
};

}  // namespace

Result<std::unique_ptr<TableSource>> open_source(const std::string& path) {
  std::error_code error;
  const fs::file_status status = fs::status(path, error);
  if (!fs::exists(status))
    return failure_of(path, "no such ledger; name a folder or an SQLite file");
  if (fs::is_directory(status)) {
    return std::unique_ptr<TableSource>(std::make_unique<FolderSource>(path));
  }
  // A pipe would be waited for, and a device has no tables.
  if (!fs::is_regular_file(status)) {
    return failure_of(path, "is no ledger; name a folder with ledger.toml or an SQLite file");
  }
  Result<SqliteFile> file = SqliteFile::open(path);
  if (!file) return Failure{file.error()};
  auto database = std::make_unique<DatabaseSource>(path, std::move(file).value());
  if (!database->has_any_table()) {
    return failure_of(path, "is a database without any table of a ledger; name another file");
  }
  return std::unique_ptr<TableSource>(std::move(database));
}

}  // namespace tailproof
