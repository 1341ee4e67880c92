// A caption list: one row of a CSV file is one caption.

#include <array>
#include <optional>

#include "manuscript/labels.h"
#include "manuscript/readers.h"
#include "source/csv.h"

namespace tailproof {
namespace {

enum Column : std::size_t { kFigure, kCaption, kCredit, kPage, kPhotograph, kColumnCount };
constexpr std::array<std::string_view, kColumnCount> kColumnNames = {"figure", "caption", "credit",
                                                                     "page", "photograph"};
constexpr std::size_t kMissing = static_cast<std::size_t>(-1);

std::string plain_text(const CsvField& field) {
  TextBuilder text;
  text.add(field.text, 0);
  text.trim();
  return std::string(text.text());
}

std::string column_name(const CsvField& field) {
  std::string name = plain_text(field);
  for (char& c : name) {
    if (c >= 'A' && c <= 'Z') c = static_cast<char>(c - 'A' + 'a');
  }
  return name;
}

// The field's text mapped to its bytes: a doubled quote is the only thing that differs.
void add_field(TextBuilder& text, const CsvField& field, std::string_view bytes) {
  if (!field.quoted) {
    text.add(bytes.substr(field.begin, field.end - field.begin), field.begin);
    return;
  }
  std::uint32_t at = field.begin + 1;
  std::uint32_t end = field.end;
  if (end > at && bytes[end - 1] == '"') --end;
  while (at < end) {
    const std::size_t quote = std::min<std::size_t>(bytes.find('"', at), end);
    text.add(bytes.substr(at, quote - at), at);
    at = static_cast<std::uint32_t>(quote);
    if (at >= end) return;
    const std::uint32_t length = at + 1 < end && bytes[at + 1] == '"' ? 2 : 1;
    if (length == 2) text.add_for("\"", at, length);
    at += length;
  }
}

class CaptionListReader {
 public:
  CaptionListReader(Assembly& assembly, FileId file)
      : assembly_(assembly), file_(file), bytes_(assembly.sources().text(file)) {
    columns_.fill(kMissing);
  }

  std::optional<Failure> read() {
    const std::string& path = assembly_.sources().path(file_);
    CsvRows rows(bytes_, path, assembly_.complaints());
    CsvRow row;
    if (!rows.next(row)) {
      return Failure{
          {path, 0, 0, "a caption list needs a row of column names; the file is empty", false}};
    }
    const std::string found = find_columns(row);
    if (columns_[kCaption] == kMissing) {
      return Failure{{path, row.line, 0,
                      "a caption list needs a column \"caption\"; this one has " + found +
                          "; name the column that holds the captions so",
                      false}};
    }
    const std::size_t expected = row.fields.size();
    while (rows.next(row)) read_row(row, expected);
    return std::nullopt;
  }

 private:
  std::string find_columns(const CsvRow& header) {
    std::string found;
    for (std::size_t i = 0; i < header.fields.size(); ++i) {
      const std::string name = column_name(header.fields[i]);
      for (std::size_t column = 0; column < kColumnCount; ++column) {
        if (name == kColumnNames[column] && columns_[column] == kMissing) columns_[column] = i;
      }
      found += (i == 0 ? "\"" : ", \"") + plain_text(header.fields[i]) + "\"";
    }
    return found;
  }

  void read_row(const CsvRow& row, std::size_t expected) {
    if (row.fields.size() != expected) {
      assembly_.complain(file_, row.fields.front().begin,
                         "this row has " + std::to_string(row.fields.size()) +
                             " cells, the row of column names " + std::to_string(expected) +
                             "; quote a cell that holds a comma or whatever parts the cells");
    }
    if (columns_[kCaption] >= row.fields.size()) return;
    TextBuilder text;
    add_field(text, row.fields[columns_[kCaption]], bytes_);
    text.trim();
    if (text.empty()) return;
    Block block;
    block.kind = BlockKind::kCaption;
    block.span = {file_, row.fields.front().begin, row.fields.back().end};
    block.figure = figure(row, text.text());
    block.credit = cell(row, kCredit);
    block.photograph = cell(row, kPhotograph);
    block.group = assembly_.new_group();
    text.move_into(block);
    assembly_.push(std::move(block));
  }

  [[nodiscard]] std::string cell(const CsvRow& row, Column column) const {
    const std::size_t place = columns_[column];
    return place < row.fields.size() ? plain_text(row.fields[place]) : std::string();
  }

  [[nodiscard]] std::string figure(const CsvRow& row, std::string_view caption) const {
    const std::string written = cell(row, kFigure);
    const auto label = leading_figure_label(written.empty() ? caption : std::string_view(written));
    const bool whole = label && (written.empty() || label->punctuated);
    return whole ? label->label : written;
  }

  Assembly& assembly_;
  FileId file_;
  std::string_view bytes_;
  std::array<std::size_t, kColumnCount> columns_{};
};

}  // namespace

std::optional<Failure> read_caption_list(Assembly& assembly, FileId file) {
  return CaptionListReader(assembly, file).read();
}

}  // namespace tailproof
