#include "lsp/stet_edit.h"

#include <algorithm>
#include <filesystem>
#include <set>
#include <utility>
#include <vector>

#include "run/stets.h"
#include "source/csv.h"

namespace tailproof::lsp {

namespace {

constexpr std::string_view kBlanks = " \t";

/// The bytes of one file around a block.
class Around {
 public:
  Around(std::string_view text, const Span& block) : text_(text), block_(block) {
    const std::size_t before = text.find_last_of("\r\n", block.begin == 0 ? 0 : block.begin - 1);
    const bool is_first = block.begin == 0 || before == std::string_view::npos;
    line_begin_ = is_first ? (text.starts_with("\xEF\xBB\xBF") ? 3 : 0)
                           : static_cast<std::uint32_t>(before + 1);
    const std::size_t end = text.find_first_of("\r\n", block.end);
    line_end_ = static_cast<std::uint32_t>(end == std::string_view::npos ? text.size() : end);
    eol_ = text.find("\r\n") != std::string_view::npos ? "\r\n" : "\n";
  }

  /// A line of its own before the line on which the block begins, indented alike. `marks` count as
  /// indentation.
  [[nodiscard]] Insertion line_before(const Span& at, std::string_view words,
                                      std::string_view marks) const {
    std::uint32_t end = line_begin_;
    while (end < block_.begin && marks.find(text_[end]) != std::string_view::npos) ++end;
    return {at.file, line_begin_,
            std::string(text_.substr(line_begin_, end - line_begin_)) + std::string(words) +
                std::string(eol_)};
  }
  [[nodiscard]] Insertion line_after(const Span& at, std::string_view words) const {
    return {at.file, line_end_, std::string(eol_) + std::string(words)};
  }
  /// Whether the block's line begins with a mark of its own: an item of a list, a row of a table.
  [[nodiscard]] bool begins_with_mark() const {
    const std::string_view line = text_.substr(line_begin_, line_end_ - line_begin_);
    const std::size_t first = line.find_first_not_of(" \t>");
    if (first == std::string_view::npos) return false;
    const bool is_number = line[first] >= '0' && line[first] <= '9';
    const bool is_item = std::string_view("-+*").find(line[first]) != std::string_view::npos &&
                         line.substr(first + 1).starts_with(' ');
    return is_number || is_item || line[first] == '|' || line[first] == '#' || line[first] == ':';
  }

 private:
  std::string_view text_;
  Span block_;
  std::uint32_t line_begin_ = 0, line_end_ = 0;
  std::string_view eol_;
};

/// Places in the order in which an author would like them.
std::vector<Insertion> places_for(const Run& run, const Query& query, std::string_view reason) {
  const Manuscript& manuscript = run.manuscripts[query.manuscript];
  const Block& block = manuscript.blocks[query.block];
  const Span& span = block.span;
  const std::string_view text = run.sources.text(span.file);
  const std::string words = "stet " + query.check + ": " + std::string(reason);
  const Around around(text, span);
  const auto size = static_cast<std::uint32_t>(block.text.size());
  const Span inner = block.text_span(0, size);
  const auto root = run.sources.find(manuscript.path);
  switch (guess_format(manuscript.path, root ? run.sources.text(*root) : text)) {
    case Format::kDocBook: {
      const std::string stet = "<?" + words + "?>";
      return {around.line_before(span, stet, kBlanks),
              {span.file, span.begin, stet},
              {inner.file, inner.begin, stet},
              {inner.file, inner.end, stet}};
    }
    case Format::kMarkdown: {
      const std::string stet = "<!-- " + words + " -->";
      std::vector<Insertion> places = {around.line_before(span, stet, " \t>"),
                                       {inner.file, inner.end, " " + stet},
                                       {span.file, span.end, " " + stet},
                                       around.line_after(span, stet)};
      if (around.begins_with_mark()) std::rotate(places.begin(), places.begin() + 1, places.end());
      return places;
    }
    case Format::kText: {
      const std::string stet = "[" + words + "]";
      return {around.line_before(span, stet, kBlanks), around.line_after(span, stet)};
    }
    case Format::kCaptionList:
      break;
  }
  return {};
}

bool has_same_blocks(const Manuscript& one, const Manuscript& other) {
  return std::equal(one.blocks.begin(), one.blocks.end(), other.blocks.begin(), other.blocks.end(),
                    [](const Block& a, const Block& b) {
                      return a.text == b.text && a.kind == b.kind && a.figure == b.figure;
                    });
}

/// The queries of the query's check in its manuscript, which becomes the only one; the query itself
/// comes first.
std::vector<Query> alone(const Run& run, const Query& query) {
  std::vector<Query> queries = {query};
  for (const Query& other : run.queries) {
    if (&other != &query && other.check == query.check && other.manuscript == query.manuscript &&
        other.block != kNone && other.stet.empty()) {
      queries.push_back(other);
    }
  }
  for (Query& one : queries) {
    one.manuscript = 0;
    one.claims.clear();
    one.span = {};
  }
  return queries;
}

bool covers(const Run& run, const Query& query, const Insertion& place, std::string_view reason) {
  const Manuscript& before = run.manuscripts[query.manuscript];
  Sources sources;
  sources.keep_files();
  const std::optional<FileId> root = run.sources.find(before.path);
  if (!root) return false;
  std::set<FileId> files = {*root, place.file};
  for (const Block& block : before.blocks) files.insert(block.span.file);
  for (const FileId file : files) {
    std::string text(run.sources.text(file));
    if (file == place.file) text.insert(place.at, place.words);
    if (!sources.add(run.sources.path(file), std::move(text))) return false;
  }
  Complaints ignored;
  Result<Manuscript> read = read_manuscript(sources, before.path, {}, ignored);
  if (!read || !has_same_blocks(before, read.value())) return false;
  std::vector<Manuscript> manuscripts;
  manuscripts.push_back(std::move(read).value());
  std::vector<Query> queries = alone(run, query);
  Stets stets = Stets::collect(sources, manuscripts, {query.check}, ignored);
  stets.apply(queries, sources, manuscripts, {});
  const std::uint32_t group = before.blocks[query.block].group;
  return queries.front().stet == reason &&
         std::all_of(queries.begin() + 1, queries.end(), [&](const Query& other) {
           const bool is_same_figure = group != kNone && before.blocks[other.block].group == group;
           return other.stet.empty() || other.block == query.block || is_same_figure;
         });
}

std::string field(std::string_view text) {
  if (text.find_first_of(",;\t\"\r\n") == std::string_view::npos) return std::string(text);
  std::string quoted = "\"";
  for (const char c : text) quoted += c == '"' ? std::string("\"\"") : std::string(1, c);
  return quoted + "\"";
}

}  // namespace

std::optional<Insertion> stet_in_text(const Run& run, const Query& query, std::string_view reason) {
  if (query.manuscript >= run.manuscripts.size() ||
      query.block >= run.manuscripts[query.manuscript].blocks.size()) {
    return std::nullopt;
  }
  for (const Insertion& place : places_for(run, query, reason)) {
    if (covers(run, query, place, reason)) return place;
  }
  return std::nullopt;
}

std::string stet_row(const Run& run, const Query& query, std::string_view reason,
                     std::string_view table) {
  const bool has_block = query.manuscript < run.manuscripts.size() &&
                         query.block < run.manuscripts[query.manuscript].blocks.size();
  const std::string figure =
      has_block ? run.manuscripts[query.manuscript].blocks[query.block].figure : "";
  const std::filesystem::path file(run.sources.path(query.span.file));
  const std::vector<std::pair<std::string_view, std::string>> values = {
      {"file", file.filename().string()},
      {"figure", figure},
      {"subject", std::string(query.subject)},
      {"check", query.check},
      {"reason", std::string(reason)}};
  std::string row;
  Complaints ignored;
  const std::vector<CsvRow> rows = parse_csv(table, "stets.csv", ignored);
  std::vector<std::string> columns = {"file", "figure", "subject", "check", "reason", "by", "date"};
  if (rows.empty()) {
    for (const std::string& column : columns) row += (row.empty() ? "" : ",") + column;
    row += "\n";
  } else {
    columns.clear();
    for (const CsvField& head : rows.front().fields) columns.push_back(head.text);
    if (!table.ends_with('\n') && !table.ends_with('\r')) row += "\n";
  }
  const char separator = csv_separator(table);
  for (std::size_t i = 0; i < columns.size(); ++i) {
    const auto found = std::find_if(values.begin(), values.end(),
                                    [&](const auto& value) { return value.first == columns[i]; });
    if (i != 0) row += separator;
    if (found != values.end()) row += field(found->second);
  }
  return row + "\n";
}

}  // namespace tailproof::lsp
