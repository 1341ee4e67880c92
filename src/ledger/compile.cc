// Writes a compiled ledger; compiled.h says what it is for, cards.h how rows stand in it.
#include <fcntl.h>
#include <sys/stat.h>
#include <unistd.h>

#include <algorithm>
#include <cerrno>
#include <cstdio>
#include <cstdlib>
#include <filesystem>
#include <map>
#include <numeric>
#include <set>
#include <span>
#include <system_error>
#include <unordered_map>
#include <utility>

#include "ledger/cards.h"
#include "ledger/compiled.h"
#include "ledger/serial_shapes.h"
#include "ledger/spelling.h"
#include "ledger/sqlite_statement.h"
#include "ledger/table_source.h"
#include "ledger/tables.h"
#include "source/sources.h"

namespace tailproof {
namespace {

namespace fs = std::filesystem;

// Every serial with all rows about it, and what a former or later number ties to it, is one card:
// whatever the whole ledger makes of these rows is made of them alone.
class Cards {
 public:
  explicit Cards(const Ledger& ledger) : ledger_(ledger) {
    join_serials();
    number_cards();
    join_photographs();
  }

  [[nodiscard]] std::uint32_t machine_count() const { return machine_count_; }
  [[nodiscard]] std::uint32_t count() const {
    return machine_count_ + static_cast<std::uint32_t>(ledger_.photographs().size());
  }
  [[nodiscard]] std::uint32_t card_of(std::string_view serial) const {
    return card_of_id_[ids_.at(serial)];
  }
  [[nodiscard]] const std::unordered_map<std::string_view, std::uint32_t>& serials() const {
    return ids_;
  }
  [[nodiscard]] std::uint32_t card_of_id(std::uint32_t id) const { return card_of_id_[id]; }

  /// The card's bytes.
  [[nodiscard]] std::string bytes_of(std::uint32_t card) const {
    std::string bytes;
    const std::vector<std::uint32_t>& links = links_[card];
    put_number(bytes, links.size());
    for (const std::uint32_t link : links) put_number(bytes, link);
    if (card >= machine_count_) {
      add_row(bytes, CardTable::kPhotographs, ledger_.photographs()[card - machine_count_]);
      return bytes;
    }
    for (const std::uint32_t i : airframes_.of(card)) {
      add_row(bytes, CardTable::kAirframes, ledger_.airframes()[i]);
    }
    for (const std::uint32_t i : identities_.of(card)) {
      add_row(bytes, CardTable::kIdentities, ledger_.identities()[i]);
    }
    for (const std::uint32_t i : histories_.of(card)) {
      add_row(bytes, CardTable::kHistories, ledger_.histories()[i]);
    }
    return bytes;
  }

 private:
  /// Rows by card, in order of the table.
  struct RowsOfCards {
    std::vector<std::uint32_t> begin, rows;
    void fill(const std::vector<std::uint32_t>& card_of_row, std::uint32_t cards) {
      begin.assign(cards + 1, 0);
      for (const std::uint32_t card : card_of_row) ++begin[card + 1];
      std::partial_sum(begin.begin(), begin.end(), begin.begin());
      rows.resize(card_of_row.size());
      std::vector<std::uint32_t> next(begin.begin(), begin.end() - 1);
      for (std::uint32_t i = 0; i < card_of_row.size(); ++i) rows[next[card_of_row[i]]++] = i;
    }
    [[nodiscard]] std::span<const std::uint32_t> of(std::uint32_t card) const {
      return std::span(rows).subspan(begin[card], begin[card + 1] - begin[card]);
    }
  };

  template <typename Row>
  static void add_row(std::string& bytes, CardTable table, const Row& row) {
    put_number(bytes, static_cast<std::uint64_t>(table));
    put_number(bytes, row.row.line);
    put_row(bytes, row);
  }

  std::uint32_t id_of(std::string_view serial) {
    const auto [entry, is_new] =
        ids_.try_emplace(serial, static_cast<std::uint32_t>(parents_.size()));
    if (is_new) parents_.push_back(entry->second);
    return entry->second;
  }
  std::uint32_t root(std::uint32_t id) {
    while (parents_[id] != id) id = parents_[id] = parents_[parents_[id]];
    return id;
  }

  void join_serials() {
    ids_.reserve(ledger_.airframes().size() + ledger_.airframes().size() / 8);
    for (const Airframe& row : ledger_.airframes()) id_of(row.serial);
    for (const Identity& row : ledger_.identities()) {
      const std::uint32_t serial = id_of(row.serial);
      const bool is_link = row.kind == "previous_serial" || row.kind == "later_serial" ||
                           ledger_.airframe(row.identity) != nullptr;
      if (!is_link) continue;
      const std::uint32_t a = root(serial), b = root(id_of(row.identity));
      parents_[std::max(a, b)] = std::min(a, b);
    }
    for (const History& row : ledger_.histories()) id_of(row.serial);
  }

  void number_cards() {
    card_of_id_.resize(parents_.size());
    for (std::uint32_t id = 0; id < parents_.size(); ++id) {
      const std::uint32_t first = root(id);
      card_of_id_[id] = first == id ? machine_count_++ : card_of_id_[first];
    }
    fill(ledger_.airframes(), airframes_);
    fill(ledger_.identities(), identities_);
    fill(ledger_.histories(), histories_);
  }

  template <typename Row>
  void fill(std::span<const Row> rows, RowsOfCards& of_cards) const {
    std::vector<std::uint32_t> cards;
    cards.reserve(rows.size());
    for (const Row& row : rows) cards.push_back(card_of(row.serial));
    of_cards.fill(cards, machine_count_);
  }

  void join_photographs() {
    links_.resize(count());
    std::uint32_t card = machine_count_;
    for (const Photograph& row : ledger_.photographs()) {
      for (const std::string& serial : row.depicts) {
        const auto found = ids_.find(serial);
        if (found == ids_.end()) continue;
        const std::uint32_t machine = card_of_id_[found->second];
        links_[card].push_back(machine);
        links_[machine].push_back(card);
      }
      ++card;
    }
  }

  const Ledger& ledger_;
  std::unordered_map<std::string_view, std::uint32_t> ids_;
  std::vector<std::uint32_t> parents_, card_of_id_;
  std::uint32_t machine_count_ = 0;
  RowsOfCards airframes_, identities_, histories_;
  std::vector<std::vector<std::uint32_t>> links_;  // by card
};

// A card for everything that is gathered from all rows: types with their marks, letters and shapes
// of serials, shapes and words of codes, letters of photograph numbers, the first and the last
// year.
class Witnesses {
 public:
  void see(const Airframe& row, std::uint32_t card) {
    see("type", row.type + '\0' + row.mark, card);
    if (const auto shape = shape_of(row.serial)) {
      see("shape", shape->key(), card);
    }
    see("serial",
        row.serial.substr(0, std::min(row.serial.find_first_not_of(kCapitals), row.serial.size())),
        card);
    for (const Edtf* date : {&row.taken_on_charge, &row.struck_off_charge}) {
      if (date->is_unknown() || date->days().empty()) continue;
      const Day first = date->days().first(), last = date->days().last();
      if (first <= kFirstDay || last >= kLastDay) continue;
      if (first < first_) {
        first_ = first;
        first_card_ = card;
      }
      if (last > last_) {
        last_ = last;
        last_card_ = card;
      }
    }
  }
  void see(const Identity& row, std::uint32_t card) {
    if (row.kind != "code") return;
    see("code", shape(row.identity), card);
    const std::size_t space = row.identity.find(' ');
    if (space != std::string::npos) see("word", row.identity.substr(0, space + 2), card);
  }
  void see(const Photograph& row, std::uint32_t card) {
    see("photograph", row.photograph.substr(0, row.photograph.find_first_of("0123456789")), card);
  }
  [[nodiscard]] std::set<std::uint32_t> cards() const {
    std::set<std::uint32_t> cards;
    for (const auto& [what, card] : seen_) cards.insert(card);
    if (first_ != kLastDay) cards.insert(first_card_);
    if (last_ != kFirstDay) cards.insert(last_card_);
    return cards;
  }

 private:
  void see(std::string_view what, std::string_view of, std::uint32_t card) {
    key_.assign(what).append(1, '\0').append(of);
    if (seen_.contains(key_)) return;
    seen_.emplace(key_, card);
  }
  // Of codes, any capital is as good as another, and so is any small letter and any digit.
  static std::string shape(std::string_view text) {
    std::string out;
    for (const char c : text) {
      out += c >= 'A' && c <= 'Z'   ? 'A'
             : c >= 'a' && c <= 'z' ? 'a'
             : c >= '0' && c <= '9' ? '9'
                                    : c;
    }
    return out;
  }
  static constexpr const char* kCapitals = "ABCDEFGHIJKLMNOPQRSTUVWXYZ";

  std::unordered_map<std::string, std::uint32_t> seen_;
  std::string key_;
  Day first_ = kLastDay, last_ = kFirstDay;
  std::uint32_t first_card_ = 0, last_card_ = 0;
};

class CompiledFile {
 public:
  explicit CompiledFile(const std::string& path) {
    sqlite3* handle = nullptr;
    is_good_ = sqlite3_open(path.c_str(), &handle) == SQLITE_OK;
    handle_.reset(handle);
    // Nobody reads it before it is whole, and then it bears another name.
    run("PRAGMA journal_mode = OFF; PRAGMA synchronous = OFF; PRAGMA locking_mode = EXCLUSIVE;"
        "PRAGMA application_id = " +
        std::to_string(kCompiledMark) + "; PRAGMA user_version = " + std::to_string(kCompiledForm) +
        "; BEGIN;"
        "CREATE TABLE compiled (name TEXT PRIMARY KEY, value BLOB) WITHOUT ROWID;"
        "CREATE TABLE grammars (name TEXT PRIMARY KEY, text TEXT) WITHOUT ROWID;"
        "CREATE TABLE tables (name TEXT PRIMARY KEY, rows BLOB) WITHOUT ROWID;"
        "CREATE TABLE cards (card INTEGER PRIMARY KEY, rows BLOB);"
        "CREATE TABLE types (type TEXT PRIMARY KEY, cards BLOB) WITHOUT ROWID;"
        "CREATE TABLE spellings (spelling INTEGER, card INTEGER, PRIMARY KEY (spelling, card))"
        " WITHOUT ROWID;");
  }
  void finish() { run("COMMIT"); }
  [[nodiscard]] bool is_good() const { return is_good_; }
  [[nodiscard]] std::string fault() const { return fault_; }

  void add(const std::string& table, std::string_view name, std::string_view value) {
    const Statement row = prepare(handle_.get(), "INSERT INTO " + table + " VALUES (?1, ?2)");
    if (row == nullptr) return fail();
    sqlite3_bind_text(row.get(), 1, name.data(), static_cast<int>(name.size()), SQLITE_STATIC);
    if (table == "grammars") {
      sqlite3_bind_text(row.get(), 2, value.data(), static_cast<int>(value.size()), SQLITE_STATIC);
    } else {
      bind_blob(row.get(), 2, value);
    }
    if (sqlite3_step(row.get()) != SQLITE_DONE) fail();
  }
  void add_cards(const Cards& cards) {
    const Statement row = prepare(handle_.get(), "INSERT INTO cards VALUES (?1, ?2)");
    if (row == nullptr) return fail();
    for (std::uint32_t card = 0; card < cards.count() && is_good_; ++card) {
      const std::string bytes = cards.bytes_of(card);
      sqlite3_bind_int64(row.get(), 1, card);
      bind_blob(row.get(), 2, bytes);
      if (sqlite3_step(row.get()) != SQLITE_DONE) fail();
      sqlite3_reset(row.get());
    }
  }
  void add_spellings(const std::vector<std::pair<std::int64_t, std::uint32_t>>& spellings) {
    const Statement row = prepare(handle_.get(), "INSERT INTO spellings VALUES (?1, ?2)");
    if (row == nullptr) return fail();
    for (const auto& [spelling, card] : spellings) {
      sqlite3_bind_int64(row.get(), 1, spelling);
      sqlite3_bind_int64(row.get(), 2, card);
      if (sqlite3_step(row.get()) != SQLITE_DONE) return fail();
      sqlite3_reset(row.get());
    }
  }

 private:
  void run(const std::string& sql) {
    if (is_good_ &&
        sqlite3_exec(handle_.get(), sql.c_str(), nullptr, nullptr, nullptr) != SQLITE_OK) {
      fail();
    }
  }
  void fail() {
    if (fault_.empty()) {
      fault_ = handle_ == nullptr ? "out of memory" : sqlite3_errmsg(handle_.get());
    }
    is_good_ = false;
  }

  std::unique_ptr<sqlite3, CloseDatabase> handle_;
  bool is_good_ = true;
  std::string fault_;
};

// The names of all cards, by spelling.
class Names {
 public:
  void add(std::string_view name, std::uint32_t card) {
    const std::string letters = squashed(name);
    limits_.pieces = std::max(limits_.pieces, pieces_of(name));
    limits_.bytes = std::max(limits_.bytes, letters.size());
    all_.emplace_back(static_cast<std::int64_t>(spelling_of_squashed(letters)), card);
    // A text may leave the possessive out.
    if (const std::size_t at = name.find("'s"); at != std::string_view::npos) {
      add(std::string(name.substr(0, at)).append(name.substr(at + 2)), card);
    }
  }
  void sort() {
    std::sort(all_.begin(), all_.end());
    all_.erase(std::unique(all_.begin(), all_.end()), all_.end());
  }
  [[nodiscard]] const auto& all() const { return all_; }
  [[nodiscard]] SpellingLimits limits() const { return limits_; }

 private:
  std::vector<std::pair<std::int64_t, std::uint32_t>> all_;
  SpellingLimits limits_;
};

std::string numbers_in(const std::vector<std::uint32_t>& numbers) {
  std::string bytes;
  for (const std::uint32_t number : numbers) put_number(bytes, number);
  return bytes;
}

void write_cards(const Ledger& ledger, CompiledFile& file) {
  const Cards cards(ledger);
  file.add_cards(cards);
  Names names;
  Witnesses witnesses;
  std::map<std::string, std::vector<std::uint32_t>> types;
  for (const auto& [serial, id] : cards.serials()) names.add(serial, cards.card_of_id(id));
  for (const Airframe& row : ledger.airframes()) {
    const std::uint32_t card = cards.card_of(row.serial);
    witnesses.see(row, card);
    types[row.type].push_back(card);
  }
  for (const Identity& row : ledger.identities()) {
    const std::uint32_t card = cards.card_of(row.serial);
    witnesses.see(row, card);
    names.add(row.identity, card);
  }
  std::uint32_t card = cards.machine_count();
  for (const Photograph& row : ledger.photographs()) {
    witnesses.see(row, card);
    names.add(row.photograph, card++);
  }
  names.sort();
  file.add_spellings(names.all());
  for (const auto& [type, of_type] : types) file.add("types", type, numbers_in(of_type));

  SpellingFilter filter(names.all().size());
  for (const auto& name : names.all()) filter.insert(static_cast<Spelling>(name.first));
  file.add("compiled", "filter", filter.bytes());
  const std::set<std::uint32_t> seen = witnesses.cards();
  file.add("compiled", "witnesses", numbers_in({seen.begin(), seen.end()}));
  std::string numbers;
  put_number(numbers, cards.count());
  put_number(numbers, cards.machine_count());
  put_number(numbers, names.limits().pieces);
  put_number(numbers, names.limits().bytes);
  file.add("compiled", "numbers", numbers);
}

/// A table as it stands, its own columns only.
template <typename Row>
std::string table_bytes(RowSource& source, Complaints& complaints) {
  const std::vector<std::string> known = card_columns<Row>();
  std::vector<std::size_t> kept;
  std::vector<std::string> names;
  for (std::size_t i = 0; i < source.header().size(); ++i) {
    const std::string name = folded_name(source.header()[i]);
    if (std::find(known.begin(), known.end(), name) == known.end()) continue;
    kept.push_back(i);
    names.push_back(name);
  }
  std::string bytes;
  put_number(bytes, names.size());
  for (const std::string& name : names) put_text(bytes, name);
  while (source.next(complaints)) {
    put_number(bytes, source.line());
    const auto& cells = source.cells();
    for (const std::size_t i : kept) {
      put_text(bytes, i < cells.size() ? cells[i] : std::string_view());
    }
  }
  return bytes;
}

void write_tables(const TableSource& source, CompiledFile& file, Complaints& complaints) {
  LedgerTables tables;
  for_each_table(tables, [&]<typename Row>(std::vector<Row>&) {
    const std::string name(kTable<Row>.name);
    const std::unique_ptr<RowSource> rows = source.open(name, complaints);
    if (rows == nullptr) return;
    const bool is_on_cards =
        std::find(kCardTableNames.begin(), kCardTableNames.end(), name) != kCardTableNames.end();
    file.add("tables", name, is_on_cards ? "" : table_bytes<Row>(*rows, complaints));
  });
}

void write_grammars(const std::string& path, CompiledFile& file, Complaints& complaints) {
  std::error_code error;
  const fs::path ledger(path);
  const fs::path folder =
      (fs::is_directory(ledger, error) ? ledger : ledger.parent_path()) / "grammars";
  std::vector<fs::path> found;
  for (fs::directory_iterator entry(folder, error), end; !error && entry != end;
       entry.increment(error)) {
    if (entry->path().extension() == ".toml") found.push_back(entry->path());
  }
  for (const fs::path& grammar : found) {
    Sources sources;
    const Result<FileId> text = sources.read(grammar.string());
    if (text) {
      file.add("grammars", grammar.filename().string(), sources.text(text.value()));
    } else {
      complaints.push_back(text.error());
    }
  }
}

/// A file that is gone at the end unless it has been given its name.
class TemporaryFile {
 public:
  explicit TemporaryFile(const std::string& wanted) : wanted_(wanted), path_(wanted + ".XXXXXX") {
    const int made = mkstemp(path_.data());
    if (made < 0) {
      path_.clear();
      return;
    }
    // As any program makes a file, not for its owner alone.
    const mode_t mask = umask(0);
    umask(mask);
    fchmod(made, 0666 & ~mask);
    close(made);
  }
  ~TemporaryFile() {
    if (!path_.empty()) unlink(path_.c_str());
  }
  TemporaryFile(const TemporaryFile&) = delete;
  TemporaryFile& operator=(const TemporaryFile&) = delete;
  [[nodiscard]] const std::string& path() const { return path_; }
  bool take_its_name() {
    const int file = ::open(path_.c_str(), O_RDONLY);
    const bool is_on_disk = file >= 0 && fsync(file) == 0;
    if (file >= 0) close(file);
    if (!is_on_disk || rename(path_.c_str(), wanted_.c_str()) != 0) return false;
    path_.clear();
    return true;
  }

 private:
  std::string wanted_, path_;
};

Failure not_written(const std::string& output, const std::string& why) {
  return Failure{
      {output, 0, 0, "cannot be written: " + why + "; what was there is unchanged", false}};
}

}  // namespace

Result<bool> compile_ledger(const std::string& path, const Ledger& ledger,
                            const std::string& output, Complaints& complaints) {
  const Result<std::unique_ptr<TableSource>> source = open_source(path);
  if (!source) return Failure{source.error()};
  TemporaryFile temporary(output);
  if (temporary.path().empty()) {
    return not_written(output, std::error_code(errno, std::generic_category()).message());
  }
  {
    CompiledFile file(temporary.path());
    const Result<std::optional<TableSource::Settings>> settings = source.value()->settings();
    if (!settings) return Failure{settings.error()};
    if (settings.value()) file.add("compiled", "ledger.toml", settings.value()->text);
    file.add("compiled", "label_end", source.value()->label_end());
    Complaints known;  // the ledger's reader has made them
    write_tables(*source.value(), file, known);
    write_grammars(path, file, complaints);
    write_cards(ledger, file);
    file.finish();
    if (!file.is_good()) return not_written(output, file.fault());
  }
  if (!temporary.take_its_name()) {
    return not_written(output, std::error_code(errno, std::generic_category()).message());
  }
  return true;
}

}  // namespace tailproof
