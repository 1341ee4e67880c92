#include "ledger/row_source_csv.h"

#include <algorithm>

#include "source/csv.h"

namespace tailproof {
namespace {

// A row of a ledger takes no less than this; a file of bare line ends must not ask for the world.
constexpr std::size_t kLeastRowBytes = 16;

class CsvRowSource : public RowSource {
 public:
  CsvRowSource(Sources sources, FileId file, Complaints& complaints)
      : sources_(std::move(sources)),
        file_(file),
        rows_(sources_.text(file), sources_.path(file), complaints) {
    if (!rows_.next(row_)) return;
    for (const CsvField& field : row_.fields) header_.push_back(field.text);
  }

  const std::vector<std::string>& header() const override { return header_; }

  std::size_t expected_rows() const override {
    // As long as the first rows are, the others will be.
    constexpr std::size_t kLookedAt = 1 << 16;
    const std::string_view text = sources_.text(file_);
    const std::string_view head = text.substr(0, kLookedAt);
    const auto lines = static_cast<std::size_t>(std::count(head.begin(), head.end(), '\n')) + 1;
    const std::size_t row_bytes = std::max(head.size() / lines, kLeastRowBytes);
    return text.size() / row_bytes + text.size() / row_bytes / 16 + 1;
  }

  bool next(Complaints&) override {
    while (rows_.next(row_)) {
      cells_.clear();
      bool has_text = false;
      for (const CsvField& field : row_.fields) {
        cells_.push_back(field.text);
        has_text = has_text || !field.text.empty();
      }
      if (has_text) return true;
    }
    return false;
  }

  const std::vector<std::string_view>& cells() const override { return cells_; }
  std::uint32_t line() const override { return row_.line; }

  Position place(std::size_t cell) const override {
    const auto& fields = row_.fields;
    return sources_.position(file_, cell < fields.size() ? fields[cell].begin : fields.back().end);
  }

 private:
  Sources sources_;
  FileId file_;
  CsvRows rows_;
  CsvRow row_;  // the header, until next()
  std::vector<std::string> header_;
  std::vector<std::string_view> cells_;
};

}  // namespace

std::unique_ptr<RowSource> open_csv_table(const std::string& path, Complaints& complaints) {
  Sources sources;
  const Result<FileId> file = sources.read(path);
  if (!file) {
    complaints.push_back(file.error());
    return nullptr;
  }
  auto table = std::make_unique<CsvRowSource>(std::move(sources), file.value(), complaints);
  if (table->header().empty()) {
    complaints.push_back({path, 0, 0, "is empty; give it a header row or remove it", false});
    return nullptr;
  }
  return table;
}

}  // namespace tailproof
