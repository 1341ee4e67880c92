// A compiled ledger that is not as it was written. The first byte says what the rest takes the
// place of: bytes of the file (two of a place, one of a value, over and over), one of the values of
// our own form within it, or, past those, the file as a whole.
#include "ledger/compiled.h"

#include <sqlite3.h>

#include <filesystem>
#include <fstream>
#include <iterator>

#include "fuzz.h"
#include "ledger/reader.h"

using namespace tailproof;

namespace {

namespace fs = std::filesystem;

constexpr const char* kValues[] = {
    "UPDATE compiled SET value = ?1 WHERE name = 'numbers'",
    "UPDATE compiled SET value = ?1 WHERE name = 'filter'",
    "UPDATE compiled SET value = ?1 WHERE name = 'witnesses'",
    "UPDATE compiled SET value = ?1 WHERE name = 'ledger.toml'",
    "UPDATE cards SET rows = ?1 WHERE card = 0",
    "UPDATE cards SET rows = ?1 WHERE card = 2",
    "UPDATE tables SET rows = ?1 WHERE name = 'units'",
    "UPDATE tables SET rows = ?1 WHERE name = 'orders'",
    "UPDATE types SET cards = ?1",
    "UPDATE spellings SET card = ?1",
};

/// A compiled ledger in a folder of its own, written anew for each input.
class Written {
 public:
  Written() {
    folder_ = (fs::temp_directory_path() / "tailproof-fuzz-XXXXXX").string();
    fuzz::require(mkdtemp(folder_.data()) != nullptr, "there is a folder to write to");
    Complaints complaints;
    const std::string from = TAILPROOF_TOP "/tests/readme/ledger";
    const Result<Ledger> ledger = read_ledger(from, complaints);
    fuzz::require(ledger.has_value(), "the small ledger can be read");
    fuzz::require(compile_ledger(from, ledger.value(), path(), complaints).has_value(),
                  "the small ledger can be compiled");
    std::ifstream in(path(), std::ios::binary);
    whole_.assign(std::istreambuf_iterator<char>(in), std::istreambuf_iterator<char>());
  }
  ~Written() {
    std::error_code error;
    fs::remove_all(folder_, error);
  }
  Written(const Written&) = delete;
  Written& operator=(const Written&) = delete;

  [[nodiscard]] std::string path() const { return folder_ + "/small.ledger"; }

  void change(unsigned char what, std::string_view by) const {
    std::string bytes = whole_;
    if (what == 0) {
      for (std::size_t i = 0; i + 2 < by.size(); i += 3) {
        const std::size_t at =
            static_cast<unsigned char>(by[i]) * 256U + static_cast<unsigned char>(by[i + 1]);
        bytes[at % bytes.size()] = by[i + 2];
      }
    } else if (what > std::size(kValues)) {
      bytes = by;
    }
    std::ofstream(path(), std::ios::binary | std::ios::trunc) << bytes;
    if (what >= 1 && what <= std::size(kValues)) put(kValues[what - 1], by);
  }

 private:
  void put(const char* change, std::string_view value) const {
    sqlite3* handle = nullptr;
    fuzz::require(sqlite3_open(path().c_str(), &handle) == SQLITE_OK, "the file can be opened");
    sqlite3_exec(handle, "PRAGMA journal_mode = OFF; PRAGMA synchronous = OFF", nullptr, nullptr,
                 nullptr);
    sqlite3_stmt* row = nullptr;
    fuzz::require(sqlite3_prepare_v2(handle, change, -1, &row, nullptr) == SQLITE_OK,
                  "a value can be changed");
    sqlite3_bind_blob64(row, 1, value.data(), value.size(), SQLITE_STATIC);
    sqlite3_step(row);
    sqlite3_finalize(row);
    sqlite3_close(handle);
  }

  std::string folder_;
  std::string whole_;
};

void ask(const Ledger& ledger) {
  for (const Airframe* row : ledger.machine_of("OB204")) {
    for (const History* spell : ledger.history_of(row->serial)) {
      fuzz::require(spell != nullptr, "a row that is found is there");
    }
  }
  static_cast<void>(ledger.photographs_of("OB202"));
  static_cast<void>(ledger.resolve(NameKind::kUnit, "2 Squadron"));
}

}  // namespace

int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  static const Written kWritten;
  if (size == 0) return 0;
  kWritten.change(data[0], fuzz::as_text(data + 1, size - 1));
  const std::string path = kWritten.path();
  if (is_compiled_ledger(path)) static_cast<void>(compiled_grammars(path));
  Result<CompiledLedger> compiled = CompiledLedger::open(path);
  if (!compiled) {
    fuzz::require(!compiled.error().message.empty(), "what is refused is refused with a word");
    return 0;
  }
  compiled.value().want("OB204 and OB202 of No. 2 Squadron at Hesk, 1943");
  // Each reading has more rows than the one before, or there is no other.
  for (std::size_t before = 0, round = 0;; ++round) {
    Complaints complaints;
    const Result<Ledger> ledger = compiled.value().read(complaints, {});
    if (!ledger) break;
    ask(ledger.value());
    const std::size_t read = compiled.value().cards_read();
    if (!compiled.value().has_more()) break;
    fuzz::require(round == 0 || read > before, "there is an end of readings");
    before = read;
  }
  compiled.value().want_all();
  Complaints complaints;
  const Result<Ledger> all = compiled.value().read(complaints, {});
  if (all) ask(all.value());
  return 0;
}
