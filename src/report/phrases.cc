#include "report/phrases.h"

#include <fmt/format.h>

#include "source/shown_path.h"

namespace tailproof {

std::string place_of(const Sources& sources, const Span& span) {
  const Position at = sources.position(span.file, span.begin);
  return fmt::format("{}:{}:{}", shown_path(sources.path(span.file)), at.line, at.column);
}

std::string counted(std::size_t count, std::string_view noun) {
  return fmt::format("{} {}{}", count, noun, count == 1 ? "" : "s");
}

std::string words_of(const Run& run, const Query& query) {
  for (const std::uint32_t index : query.claims) {
    if (run.claims[index].span == query.span) {
      return run.claims[index].text;
    }
  }
  std::string words;
  for (const char c : run.sources.text(query.span)) {
    const bool is_blank = c == ' ' || c == '\t' || c == '\r' || c == '\n';
    if (!is_blank) {
      words += c;
    } else if (!words.empty() && words.back() != ' ') {
      words += ' ';
    }
  }
  return words;
}

bool is_listed(const std::vector<Query>& queries, std::size_t index, const ReportOptions& options) {
  const Query& query = queries[index];
  const bool is_known = index < options.is_known.size() && options.is_known[index];
  return !is_known && query.level >= options.at_least &&
         (query.stet.empty() || options.with_stetted);
}

std::string line_of(const Evidence& evidence) {
  std::string line;
  if (!evidence.table.empty()) {
    line = evidence.line == 0 ? fmt::format("{}: ", evidence.table)
                              : fmt::format("{}:{}: ", evidence.table, evidence.line);
  }
  line += evidence.says;
  if (!evidence.source.empty()) {
    line += fmt::format(" ({})", evidence.source);
  }
  return line;
}

}  // namespace tailproof
