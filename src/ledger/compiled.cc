#include "ledger/compiled.h"

#include <algorithm>
#include <array>
#include <deque>
#include <filesystem>
#include <fstream>
#include <optional>
#include <system_error>
#include <utility>

#include "ledger/cards.h"
#include "ledger/questions.h"
#include "ledger/spelling.h"
#include "ledger/sqlite_statement.h"
#include "ledger/table_source.h"

namespace tailproof {
namespace {

Failure failure(const std::string& path, std::string message) {
  return Failure{{path, 0, 0, std::move(message), false}};
}

std::int32_t number_of(sqlite3* handle, const char* pragma) {
  const Statement row = prepare(handle, pragma);
  if (row == nullptr || sqlite3_step(row.get()) != SQLITE_ROW) return 0;
  return sqlite3_column_int(row.get(), 0);
}

constexpr const char* kDamaged =
    "is damaged; compile the ledger again with tailproof audit --compile";

}  // namespace

bool is_compiled_ledger(const std::string& path) {
  // The numbers of the header of an SQLite file, without SQLite: this is asked of every ledger.
  std::error_code error;
  if (!std::filesystem::is_regular_file(path, error)) return false;
  std::array<char, 72> head{};
  std::ifstream file(path, std::ios::binary);
  file.read(head.data(), head.size());
  if (file.gcount() != static_cast<std::streamsize>(head.size())) return false;
  if (std::string_view(head.data(), 15) != "SQLite format 3") return false;
  std::uint32_t mark = 0;
  for (std::size_t i = 68; i < 72; ++i) mark = mark << 8 | static_cast<unsigned char>(head[i]);
  return mark == static_cast<std::uint32_t>(kCompiledMark);
}

struct CompiledLedger::Inside : TableSource {
  std::string path;
  std::unique_ptr<sqlite3, CloseDatabase> handle;
  SpellingLimits limits;
  std::shared_ptr<const SpellingFilter> names;
  std::uint64_t card_count = 0, machine_count = 0;  // cards of machines come before photographs

  SpellingSet answered;                      // spellings that have been looked up
  std::set<std::string, std::less<>> types;  // whose airframes are wanted
  std::vector<std::uint64_t> wanted;         // cards; may repeat
  bool is_all = false;
  std::shared_ptr<LedgerQuestions> questions;

  // Of the last read(): bytes of cards, and where the rows of each table stand in them.
  std::deque<std::string> bytes;
  std::array<std::vector<CardRows::Place>, kCardTables> rows;
  mutable std::deque<std::string> table_bytes;
  std::vector<bool> is_taken;  // by card
  std::size_t cards = 0;
  bool is_damaged = false;

  [[nodiscard]] std::optional<std::string> value(std::string_view name) const {
    const Statement row = prepare(handle.get(), "SELECT value FROM compiled WHERE name = ?1");
    if (row == nullptr) return std::nullopt;
    sqlite3_bind_text(row.get(), 1, name.data(), static_cast<int>(name.size()), SQLITE_STATIC);
    if (sqlite3_step(row.get()) != SQLITE_ROW) return std::nullopt;
    return std::string(blob_of(row.get(), 0));
  }

  bool open_values() {
    const auto numbers = value("numbers");
    auto filter = value("filter");
    const auto witnesses = value("witnesses");
    if (!numbers || !filter || !witnesses) return false;
    CardReader reader(*numbers);
    card_count = reader.number();
    machine_count = reader.number();
    limits.pieces = reader.number();
    limits.bytes = reader.number();
    names = std::make_shared<const SpellingFilter>(*std::move(filter));
    want_list(*witnesses);
    return reader.is_good() && card_count == cards_held();
  }

  [[nodiscard]] std::uint64_t cards_held() const {
    const Statement last = prepare(handle.get(), "SELECT ifnull(max(card) + 1, 0) FROM cards");
    if (last == nullptr || sqlite3_step(last.get()) != SQLITE_ROW) return 0;
    return static_cast<std::uint64_t>(sqlite3_column_int64(last.get(), 0));
  }

  void want_list(std::string_view list) {
    CardReader reader(list);
    while (!reader.at_end()) wanted.push_back(reader.number());
  }

  void look_up(std::vector<Spelling>& spellings) {
    std::erase_if(spellings, [&](Spelling spelling) { return !answered.insert(spelling); });
    std::sort(spellings.begin(), spellings.end());
    const Statement found = prepare(handle.get(), "SELECT card FROM spellings WHERE spelling = ?1");
    if (found == nullptr) {
      is_damaged = true;
      return;
    }
    for (const Spelling spelling : spellings) {
      sqlite3_bind_int64(found.get(), 1, static_cast<sqlite3_int64>(spelling));
      while (sqlite3_step(found.get()) == SQLITE_ROW) {
        wanted.push_back(static_cast<std::uint64_t>(sqlite3_column_int64(found.get(), 0)));
      }
      sqlite3_reset(found.get());
    }
  }

  void look_up_type(const std::string& type) {
    if (!types.insert(type).second) return;
    const Statement found = prepare(handle.get(), "SELECT cards FROM types WHERE type = ?1");
    if (found == nullptr) return;
    sqlite3_bind_text(found.get(), 1, type.data(), static_cast<int>(type.size()), SQLITE_STATIC);
    if (sqlite3_step(found.get()) == SQLITE_ROW) want_list(blob_of(found.get(), 0));
  }

  // Takes in one card and returns the cards that it leads to.
  std::vector<std::uint64_t> take(std::string_view card) {
    const std::string& kept = bytes.emplace_back(card);
    CardReader reader(kept);
    std::vector<std::uint64_t> links(std::min<std::uint64_t>(reader.number(), kept.size()));
    for (std::uint64_t& link : links) link = reader.number();
    while (!reader.at_end()) {
      const std::uint64_t table = reader.number();
      const auto line = static_cast<std::uint32_t>(reader.number());
      if (table >= kCardTables) break;
      const char* end = kept.data() + kept.size();
      rows[table].push_back({line, reader.rest().data(), end});
      for (std::size_t i = 0; i < columns_of(table).size(); ++i) reader.text();
    }
    is_damaged = is_damaged || !reader.is_good();
    ++cards;
    return links;
  }

  static const std::vector<std::string>& columns_of(std::uint64_t table) {
    static const std::array<std::vector<std::string>, kCardTables> kColumns = {
        card_columns<Airframe>(), card_columns<Identity>(), card_columns<History>(),
        card_columns<Photograph>()};
    return kColumns[table];
  }

  void take_wanted() {
    bytes.clear();
    for (auto& of_table : rows) of_table.clear();
    cards = 0;
    if (is_all) {
      const Statement all = prepare(handle.get(), "SELECT rows FROM cards ORDER BY card");
      while (all != nullptr && sqlite3_step(all.get()) == SQLITE_ROW) {
        take(blob_of(all.get(), 0));
      }
      is_damaged = is_damaged || cards != card_count;
      return;
    }
    const Statement one = prepare(handle.get(), "SELECT rows FROM cards WHERE card = ?1");
    if (one == nullptr) {
      is_damaged = true;
      return;
    }
    // A machine comes with its photographs and with the machines in these, which have all their
    // photographs too; there it ends, and whoever wants more asks.
    constexpr int kMachineReach = 2, kPhotographReach = 1;
    is_taken.assign(card_count, false);
    std::vector<std::uint64_t> level = wanted;
    for (int depth = 0; !level.empty(); ++depth) {
      std::sort(level.begin(), level.end());
      std::vector<std::uint64_t> next;
      for (const std::uint64_t card : level) {
        if (card >= card_count || is_taken[card]) continue;
        is_taken[card] = true;
        sqlite3_bind_int64(one.get(), 1, static_cast<sqlite3_int64>(card));
        if (sqlite3_step(one.get()) == SQLITE_ROW) {
          const std::vector<std::uint64_t> links = take(blob_of(one.get(), 0));
          if (depth <= (card < machine_count ? kMachineReach : kPhotographReach)) {
            next.insert(next.end(), links.begin(), links.end());
          }
        } else {
          is_damaged = true;
        }
        sqlite3_reset(one.get());
      }
      level = std::move(next);
    }
  }

  Result<std::optional<Settings>> settings() const override {
    auto text = value("ledger.toml");
    if (!text) return std::optional<Settings>();
    return std::optional<Settings>({path + "(ledger.toml)", *std::move(text)});
  }
  std::string label_end() const override { return value("label_end").value_or(""); }
  std::string file_of(const std::string& table) const override { return path + "(" + table + ")"; }
  std::unique_ptr<RowSource> open(const std::string& table, Complaints&) const override {
    const Statement found = prepare(handle.get(), "SELECT rows FROM tables WHERE name = ?1");
    if (found == nullptr) return nullptr;
    sqlite3_bind_text(found.get(), 1, table.data(), static_cast<int>(table.size()), SQLITE_STATIC);
    if (sqlite3_step(found.get()) != SQLITE_ROW) return nullptr;
    for (std::size_t i = 0; i < kCardTables; ++i) {
      if (table == kCardTableNames[i]) {
        return std::make_unique<CardRows>(columns_of(i), rows[i]);
      }
    }
    const std::string& kept = table_bytes.emplace_back(blob_of(found.get(), 0));
    CardReader reader(kept);
    std::vector<std::string> header(std::min<std::uint64_t>(reader.number(), kept.size()));
    for (std::string& name : header) name = reader.text();
    std::vector<CardRows::Place> places;
    while (!reader.at_end()) {
      const auto line = static_cast<std::uint32_t>(reader.number());
      places.push_back({line, reader.rest().data(), kept.data() + kept.size()});
      for (std::size_t i = 0; i < header.size(); ++i) reader.text();
    }
    return std::make_unique<CardRows>(std::move(header), std::move(places));
  }
};

CompiledLedger::CompiledLedger(std::unique_ptr<Inside> inside) : inside_(std::move(inside)) {}
CompiledLedger::CompiledLedger(CompiledLedger&&) noexcept = default;
CompiledLedger::~CompiledLedger() = default;

Result<CompiledLedger> CompiledLedger::open(const std::string& path) {
  auto inside = std::make_unique<Inside>();
  inside->path = path;
  sqlite3* handle = nullptr;
  const int status = sqlite3_open_v2(path.c_str(), &handle, SQLITE_OPEN_READONLY, nullptr);
  inside->handle.reset(handle);
  if (status != SQLITE_OK || number_of(handle, "PRAGMA application_id") != kCompiledMark) {
    return failure(path, "is no compiled ledger; make one with tailproof audit --compile");
  }
  const std::int32_t form = number_of(handle, "PRAGMA user_version");
  if (form != kCompiledForm) {
    return failure(path, "is a compiled ledger of form " + std::to_string(form) +
                             ", and this program reads form " + std::to_string(kCompiledForm) +
                             "; compile the ledger again with tailproof audit --compile");
  }
  if (!inside->open_values()) return failure(path, kDamaged);
  return CompiledLedger(std::move(inside));
}

std::vector<CompiledGrammar> compiled_grammars(const std::string& path) {
  std::vector<CompiledGrammar> found;
  sqlite3* handle = nullptr;
  const int status = sqlite3_open_v2(path.c_str(), &handle, SQLITE_OPEN_READONLY, nullptr);
  const std::unique_ptr<sqlite3, CloseDatabase> file(handle);
  if (status != SQLITE_OK) return found;
  const Statement rows = prepare(handle, "SELECT name, text FROM grammars ORDER BY name");
  while (rows != nullptr && sqlite3_step(rows.get()) == SQLITE_ROW) {
    found.push_back({std::string(text_of(rows.get(), 0)), std::string(text_of(rows.get(), 1))});
  }
  return found;
}

void CompiledLedger::want(std::string_view text) {
  std::vector<Spelling> spellings;
  find_spellings(text, inside_->limits, *inside_->names, spellings);
  if (!spellings.empty()) inside_->look_up(spellings);
}

void CompiledLedger::want_all() { inside_->is_all = true; }

Result<Ledger> CompiledLedger::read(Complaints& complaints, const MarginChanges& margins) {
  Inside& inside = *inside_;
  inside.take_wanted();
  inside.questions = inside.is_all ? nullptr
                                   : std::make_shared<LedgerQuestions>(
                                         inside.names, inside.answered, inside.types);
  Result<Ledger> ledger =
      inside.is_damaged ? Result<Ledger>(failure(inside.path, kDamaged))
                        : read_source(inside, inside.path, complaints, margins, inside.questions);
  // The ledger has texts of its own.
  inside.bytes.clear();
  inside.table_bytes.clear();
  for (auto& of_table : inside.rows) of_table = {};
  return ledger;
}

bool CompiledLedger::has_more() {
  Inside& inside = *inside_;
  if (inside.is_all || inside.questions == nullptr) return false;
  if (inside.questions->wants_all()) {
    inside.is_all = true;
    return true;
  }
  const std::size_t before = inside.wanted.size();
  std::vector<Spelling> asked(inside.questions->asked().begin(), inside.questions->asked().end());
  inside.look_up(asked);
  for (const std::string& type : inside.questions->asked_types()) inside.look_up_type(type);
  return std::any_of(
      inside.wanted.begin() + static_cast<std::ptrdiff_t>(before), inside.wanted.end(),
      [&](std::uint64_t card) { return card < inside.card_count && !inside.is_taken[card]; });
}

std::size_t CompiledLedger::cards_read() const { return inside_->cards; }

}  // namespace tailproof
