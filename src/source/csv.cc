#include "source/csv.h"

#include <utility>

namespace tailproof {
namespace {

constexpr std::string_view kByteOrderMark = "\xEF\xBB\xBF";

bool is_line_end(char c) { return c == '\n' || c == '\r'; }

class CsvScanner {
 public:
  CsvScanner(std::string_view bytes, const std::string& path, Complaints& complaints)
      : bytes_(bytes), path_(path), complaints_(complaints) {
    if (bytes_.starts_with(kByteOrderMark)) at_ = kByteOrderMark.size();
    line_begin_ = at_;
  }

  std::vector<CsvRow> rows() {
    std::vector<CsvRow> rows;
    while (at_ < bytes_.size()) {
      if (is_line_end(bytes_[at_])) {
        skip_line_end();
        continue;
      }
      rows.push_back(row());
    }
    return rows;
  }

 private:
  CsvRow row() {
    CsvRow row;
    row.line = line_;
    while (true) {
      row.fields.push_back(at_ < bytes_.size() && bytes_[at_] == '"' ? quoted_field()
                                                                     : plain_field());
      if (at_ == bytes_.size()) return row;
      if (bytes_[at_] != ',') {
        skip_line_end();
        return row;
      }
      ++at_;
    }
  }

  CsvField plain_field() {
    const std::size_t begin = at_;
    at_ = end_of_plain(at_);
    return field(begin, std::string(bytes_.substr(begin, at_ - begin)), false);
  }

  CsvField quoted_field() {
    const std::size_t begin = at_;
    const std::uint32_t line = line_;
    const std::size_t line_begin = line_begin_;
    std::string text;
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
        return field(begin, std::move(text), true);
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
    return field(begin, std::move(text), true);
  }

  // After a closing quote only a comma or a line end may stand; what stands there is kept.
  void skip_rest_of_field(std::string& text) {
    if (at_ == bytes_.size() || bytes_[at_] == ',' || is_line_end(bytes_[at_])) return;
    complaints_.push_back({path_, line_, column_of(line_begin_, at_),
                           "characters stand after a closing quote; quote the whole field, and "
                           "double a quote inside it",
                           false});
    const std::size_t stop = end_of_plain(at_);
    text.append(bytes_.substr(at_, stop - at_));
    at_ = stop;
  }

  CsvField field(std::size_t begin, std::string text, bool quoted) const {
    return {std::move(text), static_cast<std::uint32_t>(begin), static_cast<std::uint32_t>(at_),
            quoted};
  }

  [[nodiscard]] std::size_t end_of_plain(std::size_t at) const {
    while (at < bytes_.size() && bytes_[at] != ',' && !is_line_end(bytes_[at])) ++at;
    return at;
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
  std::size_t at_ = 0;
  std::size_t line_begin_ = 0;
  std::uint32_t line_ = 1;
};

}  // namespace

std::vector<CsvRow> parse_csv(std::string_view bytes, const std::string& path,
                              Complaints& complaints) {
  return CsvScanner(bytes, path, complaints).rows();
}

}  // namespace tailproof
