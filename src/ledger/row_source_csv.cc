#include "ledger/row_source_csv.h"

#include <algorithm>

#include "source/csv.h"

namespace tailproof {
namespace {

class CsvRowSource : public RowSource {
 public:
  CsvRowSource(Sources sources, FileId file, std::vector<CsvRow> rows)
      : sources_(std::move(sources)), file_(file), rows_(std::move(rows)) {
    for (const CsvField& field : rows_.front().fields) header_.push_back(field.text);
  }

  const std::vector<std::string>& header() const override { return header_; }

  bool next(Complaints&) override {
    while (++at_ < rows_.size()) {
      cells_.clear();
      bool has_text = false;
      for (const CsvField& field : rows_[at_].fields) {
        cells_.push_back(field.text);
        has_text = has_text || !field.text.empty();
      }
      if (has_text) return true;
    }
    return false;
  }

  const std::vector<std::string_view>& cells() const override { return cells_; }
  std::uint32_t line() const override { return rows_[at_].line; }

  Position place(std::size_t cell) const override {
    const auto& fields = rows_[at_].fields;
    return sources_.position(file_, cell < fields.size() ? fields[cell].begin : fields.back().end);
  }

 private:
  Sources sources_;
  FileId file_;
  std::vector<CsvRow> rows_;
  std::vector<std::string> header_;
  std::vector<std::string_view> cells_;
  std::size_t at_ = 0;  // the header, until next()
};

}  // namespace

std::unique_ptr<RowSource> open_csv_table(const std::string& path, Complaints& complaints) {
  Sources sources;
  const Result<FileId> file = sources.read(path);
  if (!file) {
    complaints.push_back(file.error());
    return nullptr;
  }
  std::vector<CsvRow> rows = parse_csv(sources.text(file.value()), path, complaints);
  if (rows.empty() || rows.front().fields.empty()) {
    complaints.push_back({path, 0, 0, "is empty; give it a header row or remove it", false});
    return nullptr;
  }
  return std::make_unique<CsvRowSource>(std::move(sources), file.value(), std::move(rows));
}

}  // namespace tailproof
