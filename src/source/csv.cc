#include "source/csv.h"

#include <array>
#include <utility>

#include "source/utf8.h"

namespace tailproof {
namespace {

bool is_line_end(char c) { return c == '\n' || c == '\r'; }

}  // namespace

char csv_separator(std::string_view bytes) {
  if (bytes.starts_with(kByteOrderMark)) bytes.remove_prefix(kByteOrderMark.size());
  bool is_quoted = false, has_semicolon = false, has_tab = false;
  for (const char c : bytes) {
    if (c == '"') is_quoted = !is_quoted;
    if (is_quoted) continue;
    if (c == ',') return c;
    if (is_line_end(c)) break;
    has_semicolon = has_semicolon || c == ';';
    has_tab = has_tab || c == '\t';
  }
  return has_tab ? '\t' : has_semicolon ? ';' : ',';
}

class CsvScanner {
 public:
  CsvScanner(std::string_view bytes, const std::string& path, Complaints& complaints)
      : bytes_(bytes), path_(path), complaints_(complaints), separator_(csv_separator(bytes)) {
    if (bytes_.starts_with(kByteOrderMark)) at_ = kByteOrderMark.size();
    line_begin_ = at_;
    for (const char c : {separator_, '\n', '\r'}) ends_plain_[static_cast<unsigned char>(c)] = true;
  }

  bool next(CsvRow& row) {
    while (at_ < bytes_.size() && is_line_end(bytes_[at_])) skip_line_end();
    if (at_ >= bytes_.size()) return false;
    row.line = line_;
    std::size_t count = 0;
    while (true) {
      if (count == row.fields.size()) row.fields.emplace_back();
      CsvField& field = row.fields[count++];
      read(field);
      if (at_ == bytes_.size()) break;
      if (bytes_[at_] != separator_) {
        skip_line_end();
        break;
      }
      ++at_;
    }
    row.fields.resize(count);
    return true;
  }

 private:
  void read(CsvField& field) {
    field.begin = static_cast<std::uint32_t>(at_);
    field.quoted = at_ < bytes_.size() && bytes_[at_] == '"';
    if (field.quoted) {
      field.text.clear();
      read_quoted(field.text);
    } else {
      const std::size_t begin = at_;
      at_ = end_of_plain(at_);
      field.text.assign(bytes_.substr(begin, at_ - begin));
    }
    field.end = static_cast<std::uint32_t>(at_);
  }

  void read_quoted(std::string& text) {
    const std::size_t begin = at_;
    const std::uint32_t line = line_;
    const std::size_t line_begin = line_begin_;
    ++at_;
    while (true) {
      std::size_t stop = at_;
      while (stop < bytes_.size() && bytes_[stop] != '"' && !is_line_end(bytes_[stop])) ++stop;
      if (stop == bytes_.size()) {
        text.append(bytes_.substr(at_));
        at_ = bytes_.size();
        complaints_.push_back({path_, line, column_of(line_begin, begin),
                               "this quoted field never closes and takes in the rest of the file; "
                               "add the closing quote, and double a quote inside a field",
                               false});
        return;
      }
      text.append(bytes_.substr(at_, stop - at_));
      at_ = stop;
      if (bytes_[at_] != '"') {
        const std::size_t before = at_;
        skip_line_end();
        text.append(bytes_.substr(before, at_ - before));
        continue;
      }
      ++at_;
      if (at_ < bytes_.size() && bytes_[at_] == '"') {
        text.push_back('"');
        ++at_;
        continue;
      }
      break;
    }
    skip_rest_of_field(text);
  }

  // After a closing quote only a separator or a line end may stand; what stands there is kept.
  void skip_rest_of_field(std::string& text) {
    if (at_ == bytes_.size() || bytes_[at_] == separator_ || is_line_end(bytes_[at_])) return;
    complaints_.push_back({path_, line_, column_of(line_begin_, at_),
                           "characters stand after a closing quote; quote the whole field, and "
                           "double a quote inside it",
                           false});
    const std::size_t stop = end_of_plain(at_);
    text.append(bytes_.substr(at_, stop - at_));
    at_ = stop;
  }

  [[nodiscard]] std::size_t end_of_plain(std::size_t at) const {
    const char* c = bytes_.data() + at;
    const char* const end = bytes_.data() + bytes_.size();
    while (c != end && !ends_plain_[static_cast<unsigned char>(*c)]) ++c;
    return static_cast<std::size_t>(c - bytes_.data());
  }

  void skip_line_end() {
    if (bytes_[at_] == '\r' && at_ + 1 < bytes_.size() && bytes_[at_ + 1] == '\n') ++at_;
    ++at_;
    ++line_;
    line_begin_ = at_;
  }

  // Asked for only when there is something to complain about, so that a long line costs nothing.
  std::uint32_t column_of(std::size_t line_begin, std::size_t offset) const {
    std::uint32_t column = 1;
    for (std::size_t i = line_begin; i < offset; ++i) {
      if ((static_cast<unsigned char>(bytes_[i]) & 0xC0U) != 0x80U) ++column;
    }
    return column;
  }

  std::string_view bytes_;
  const std::string& path_;
  Complaints& complaints_;
  const char separator_;
  std::array<bool, 256> ends_plain_{};  // by byte: whether it ends a field without quotes
  std::size_t at_ = 0;
  std::size_t line_begin_ = 0;
  std::uint32_t line_ = 1;
};

std::vector<CsvRow> parse_csv(std::string_view bytes, const std::string& path,
                              Complaints& complaints) {
  CsvScanner scanner(bytes, path, complaints);
  std::vector<CsvRow> rows;
  for (CsvRow row; scanner.next(row); row = CsvRow{}) rows.push_back(std::move(row));
  return rows;
}

CsvRows::CsvRows(std::string_view bytes, const std::string& path, Complaints& complaints)
    : scanner_(std::make_unique<CsvScanner>(bytes, path, complaints)) {}
CsvRows::~CsvRows() = default;
bool CsvRows::next(CsvRow& row) { return scanner_->next(row); }

}  // namespace tailproof
