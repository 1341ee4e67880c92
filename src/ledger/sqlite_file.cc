#include "ledger/sqlite_file.h"

#include <sqlite3.h>

#include <algorithm>

#include "ledger/sqlite_statement.h"

namespace tailproof {
namespace {

// Whatever a program put into the file as text: nothing but this looks at it.
bool is_utf8(std::string_view text) {
  for (std::size_t i = 0; i < text.size();) {
    const auto lead = static_cast<unsigned char>(text[i]);
    const std::size_t length = lead < 0x80                   ? 1
                               : lead >= 0xC2 && lead < 0xE0 ? 2
                               : lead >= 0xE0 && lead < 0xF0 ? 3
                               : lead >= 0xF0 && lead < 0xF5 ? 4
                                                             : 0;
    if (length == 0 || i + length > text.size()) return false;
    for (std::size_t k = 1; k < length; ++k) {
      if ((static_cast<unsigned char>(text[i + k]) & 0xC0u) != 0x80u) return false;
    }
    if (length > 2) {
      const auto second = static_cast<unsigned char>(text[i + 1]);
      if ((lead == 0xE0 && second < 0xA0) || (lead == 0xED && second >= 0xA0) ||
          (lead == 0xF0 && second < 0x90) || (lead == 0xF4 && second >= 0x90)) {
        return false;
      }
    }
    i += length;
  }
  return true;
}

class SqliteRowSource : public RowSource {
 public:
  SqliteRowSource(std::string file, sqlite3* handle, Statement rows, bool has_rowid)
      : file_(std::move(file)), handle_(handle), rows_(std::move(rows)), first_(has_rowid ? 1 : 0) {
    const int count = sqlite3_column_count(rows_.get());
    for (int i = first_; i < count; ++i) header_.emplace_back(sqlite3_column_name(rows_.get(), i));
  }

  const std::vector<std::string>& header() const override { return header_; }
  std::size_t expected_rows() const override { return 0; }

  bool next(Complaints& complaints) override {
    while (true) {
      const int status = sqlite3_step(rows_.get());
      if (status == SQLITE_DONE) return false;
      ++count_;
      if (status != SQLITE_ROW) {
        complaints.push_back({file_, line_, 0,
                              "cannot be read further: " + std::string(sqlite3_errmsg(handle_)) +
                                  "; restore the file",
                              false});
        return false;
      }
      line_ =
          first_ == 1 ? static_cast<std::uint32_t>(sqlite3_column_int64(rows_.get(), 0)) : count_;
      cells_.clear();
      for (std::size_t i = 0; i < header_.size(); ++i) {
        std::string_view cell = text_of(rows_.get(), first_ + static_cast<int>(i));
        if (!is_utf8(cell)) {
          complaints.push_back({file_, line_, static_cast<std::uint32_t>(i + 1),
                                header_[i] + " is no UTF-8 text and is taken as empty", false});
          cell = {};
        }
        cells_.push_back(cell);
      }
      if (std::any_of(cells_.begin(), cells_.end(), [](auto cell) { return !cell.empty(); })) {
        return true;
      }
    }
  }

  const std::vector<std::string_view>& cells() const override { return cells_; }
  std::uint32_t line() const override { return line_; }
  Position place(std::size_t cell) const override {
    return {line_, static_cast<std::uint32_t>(cell + 1)};
  }

 private:
  std::string file_;
  sqlite3* handle_;
  Statement rows_;
  int first_;  // the rowid, when there is one, comes before the columns
  std::vector<std::string> header_;
  std::vector<std::string_view> cells_;
  std::uint32_t line_ = 0;
  std::uint32_t count_ = 0;
};

}  // namespace

void SqliteFile::Close::operator()(sqlite3* handle) const { sqlite3_close(handle); }

Result<SqliteFile> SqliteFile::open(const std::string& path) {
  sqlite3* handle = nullptr;
  int status = sqlite3_open_v2(path.c_str(), &handle, SQLITE_OPEN_READONLY, nullptr);
  SqliteFile file(path, handle);
  // Opening looks at nothing yet; the first question does. All questions are asked of one state of
  // the file, whoever writes to it meanwhile.
  constexpr int kPatienceMilliseconds = 2000;
  if (status == SQLITE_OK) {
    sqlite3_busy_timeout(handle, kPatienceMilliseconds);
    status = sqlite3_exec(handle, "BEGIN; SELECT count(*) FROM sqlite_master", nullptr, nullptr,
                          nullptr);
  }
  if (status == SQLITE_BUSY || status == SQLITE_LOCKED) {
    return Failure{{path, 0, 0, "is being written to; check again when it rests", false}};
  }
  if (status == SQLITE_OK) return file;
  const std::string reason = handle != nullptr ? sqlite3_errmsg(handle) : "out of memory";
  return Failure{{path, 0, 0,
                  "is no ledger (" + reason + "); name a folder with ledger.toml or an SQLite file",
                  false}};
}

bool SqliteFile::has_table(std::string_view name) const {
  const Statement found = prepare(
      handle_.get(), "SELECT 1 FROM sqlite_master WHERE type IN ('table', 'view') AND name = ?1");
  if (found == nullptr) return false;
  sqlite3_bind_text(found.get(), 1, name.data(), static_cast<int>(name.size()), SQLITE_TRANSIENT);
  return sqlite3_step(found.get()) == SQLITE_ROW;
}

std::optional<std::string> SqliteFile::settings() const {
  if (!has_table("ledger")) return std::nullopt;
  const Statement rows = prepare(handle_.get(), "SELECT toml FROM ledger");
  if (rows == nullptr || sqlite3_step(rows.get()) != SQLITE_ROW) return std::nullopt;
  return std::string(text_of(rows.get(), 0));
}

std::unique_ptr<RowSource> SqliteFile::open_table(std::string_view name,
                                                  Complaints& complaints) const {
  // A view and a table WITHOUT ROWID have no rowid: their rows are counted. Names are those of the
  // table of columns, so that none needs quoting beyond this.
  const std::string from = " FROM \"" + std::string(name) + "\"";
  bool has_rowid = true;
  Statement rows = prepare(handle_.get(), "SELECT rowid, *" + from + " ORDER BY rowid");
  if (rows != nullptr && sqlite3_column_count(rows.get()) > 0) {
    // In a view, "rowid" is NULL in every row instead of an error.
    const Statement view =
        prepare(handle_.get(), "SELECT 1 FROM sqlite_master WHERE type = 'view' AND name = '" +
                                   std::string(name) + "'");
    if (view != nullptr && sqlite3_step(view.get()) == SQLITE_ROW) rows = nullptr;
  }
  if (rows == nullptr) {
    has_rowid = false;
    rows = prepare(handle_.get(), "SELECT *" + from);
  }
  const std::string file = path_ + "(" + std::string(name) + ")";
  if (rows == nullptr) {
    complaints.push_back(
        {file, 0, 0, "cannot be read: " + std::string(sqlite3_errmsg(handle_.get())), false});
    return nullptr;
  }
  return std::make_unique<SqliteRowSource>(file, handle_.get(), std::move(rows), has_rowid);
}

}  // namespace tailproof
