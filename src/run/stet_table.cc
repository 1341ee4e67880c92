#include "run/stet_table.h"

#include <algorithm>
#include <array>

#include "ledger/text.h"
#include "source/csv.h"
#include "tailproof/edtf.h"

namespace tailproof {

namespace {

struct StetColumn {
  std::string_view name;
  std::string StetRow::*field;
};

constexpr std::array<StetColumn, 7> kColumns = {{{"file", &StetRow::file},
                                                 {"figure", &StetRow::figure},
                                                 {"subject", &StetRow::subject},
                                                 {"check", &StetRow::check},
                                                 {"reason", &StetRow::reason},
                                                 {"by", &StetRow::by},
                                                 {"date", &StetRow::date}}};

/// What makes the row worthless, or "".
std::string fault_of(const StetRow& row) {
  if (row.check.empty()) {
    return "stet without a check; write the id of the check that it answers";
  }
  if (row.reason.empty()) {
    return "stet without a reason; write why \"" + row.check + "\" is to stand";
  }
  if (row.file.empty() && row.figure.empty() && row.subject.empty()) {
    return "stet without file, figure or subject; fill in one at least";
  }
  if (!row.date.empty() && !Edtf::parse(row.date)) {
    return "date is \"" + row.date + "\", not an EDTF date; write it like 1943-06-14";
  }
  return "";
}

}  // namespace

std::vector<StetRow> read_stet_table(Sources& sources, const std::string& path,
                                     Complaints& complaints) {
  const Result<FileId> file = sources.read(path);
  if (!file) {
    complaints.push_back(file.error());
    return {};
  }
  const std::vector<CsvRow> table = parse_csv(sources.text(file.value()), path, complaints);
  if (table.empty()) {
    return {};
  }
  std::vector<std::string StetRow::*> fields;
  for (const CsvField& head : table.front().fields) {
    const std::string_view name = trimmed(head.text);
    const auto* column = std::find_if(kColumns.begin(), kColumns.end(),
                                      [&](const StetColumn& c) { return c.name == name; });
    fields.push_back(column == kColumns.end() ? nullptr : column->field);
    if (column == kColumns.end() && name != "note" && name != "source") {
      const Position at = sources.position(file.value(), head.begin);
      complaints.push_back(Complaint{.file = path,
                                     .line = at.line,
                                     .column = at.column,
                                     .message = "unknown column \"" + std::string(name) +
                                                "\" is not read; a stet has file, figure, subject, "
                                                "check, reason, by, date",
                                     .is_note = true});
    }
  }
  std::vector<StetRow> rows;
  for (const CsvRow& line : table) {
    if (&line == &table.front() || line.fields.empty()) {
      continue;
    }
    StetRow row;
    row.span = Span{file.value(), line.fields.front().begin, line.fields.back().end};
    for (std::size_t i = 0; i < std::min(fields.size(), line.fields.size()); ++i) {
      if (fields[i] != nullptr) {
        row.*fields[i] = std::string(trimmed(line.fields[i].text));
      }
    }
    const std::string fault = fault_of(row);
    if (fault.empty()) {
      rows.push_back(std::move(row));
      continue;
    }
    const Position at = sources.position(file.value(), row.span.begin);
    complaints.push_back(
        Complaint{.file = path, .line = at.line, .column = at.column, .message = fault});
  }
  return rows;
}

}  // namespace tailproof
