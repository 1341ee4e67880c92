#include "ledger/reader.h"

#include <chrono>
#include <filesystem>
#include <system_error>
#include <thread>

#include "ledger/builder.h"
#include "ledger/compiled.h"
#include "ledger/folder_state.h"
#include "ledger/read_rows.h"
#include "ledger/settings.h"
#include "ledger/table_source.h"

namespace tailproof {
namespace {

constexpr int kMostAttempts = 3;  // at a ledger that is being written
constexpr std::chrono::milliseconds kRest(50);

void read_tables(LedgerTables& tables, const TableSource& from, Complaints& complaints) {
  ByText<Edtf> dates;
  for_each_table(tables, [&]<typename Row>(std::vector<Row>& rows) {
    const std::string name(kTable<Row>.name);
    const std::unique_ptr<RowSource> source = from.open(name, complaints);
    if (source == nullptr) return;
    tables.present.insert(name);
    const ReadContext context{from.file_of(name),
                              tables.pool.keep(name + from.label_end()),
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

}  // namespace

Result<Ledger> read_source(const TableSource& source, const std::string& path,
                           Complaints& complaints, const MarginChanges& margins,
                           std::shared_ptr<LedgerQuestions> questions) {
  const Result<std::optional<TableSource::Settings>> found = source.settings();
  if (!found) return Failure{found.error()};
  LedgerBuilder builder;
  LedgerTables& tables = builder.tables();
  tables.path = path;
  if (const auto& text = found.value()) {
    const Result<bool> settings = read_settings(text->file, text->text, tables, complaints);
    if (!settings) return Failure{settings.error()};
  } else {
    complaints.push_back({path, 0, 0,
                          "has no settings; put the text of ledger.toml into table ledger, column "
                          "toml, or beside the file",
                          true});
  }
  change(tables.settings.margins, margins);
  read_tables(tables, source, complaints);
  source.note_strangers(complaints);
  note_closed_but_absent(tables, found.value() ? found.value()->file : path, complaints);
  return builder.finish(std::move(questions));
}

Result<Ledger> read_ledger(const std::string& path, Complaints& complaints,
                           const MarginChanges& margins) {
  if (is_compiled_ledger(path)) {
    Result<CompiledLedger> compiled = CompiledLedger::open(path);
    if (!compiled) return Failure{compiled.error()};
    compiled.value().want_all();
    return compiled.value().read(complaints, margins);
  }
  const Result<std::unique_ptr<TableSource>> source = open_source(path);
  if (!source) return Failure{source.error()};
  std::error_code error;
  if (!std::filesystem::is_directory(path, error)) {
    return read_source(*source.value(), path, complaints, margins);
  }
  for (int left = kMostAttempts; left > 0; --left) {
    const std::string state = folder_state(path);
    Complaints told;
    Result<Ledger> ledger = read_source(*source.value(), path, told, margins);
    if (folder_state(path) == state) {
      complaints.insert(complaints.end(), told.begin(), told.end());
      return ledger;
    }
    std::this_thread::sleep_for(kRest);
  }
  return Failure{{path, 0, 0, "is written to while it is read; check again when it rests", false}};
}

Ledger empty_ledger() { return LedgerBuilder().finish(); }

}  // namespace tailproof
