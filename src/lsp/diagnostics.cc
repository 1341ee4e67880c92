// Queries, and complaints about files, as diagnostics.
#include <algorithm>
#include <filesystem>

#include "lsp/answers.h"
#include "report/phrases.h"

namespace tailproof::lsp {

namespace {

constexpr int kError = 1, kWarning = 2, kInformation = 3;

int severity_of(Level level) {
  switch (level) {
    case Level::kError:
      return kError;
    case Level::kWarning:
      return kWarning;
    case Level::kNote:
      break;
  }
  return kInformation;
}

Json plain_diagnostic(const Json& range, int severity, std::string_view code,
                      std::string_view message) {
  return Json{{"range", range},
              {"severity", severity},
              {"code", code},
              {"source", "tailproof"},
              {"message", message}};
}

Json related_of(const View& view, const Query& query) {
  Json list = Json::array();
  for (const Evidence& evidence : query.evidence) {
    const Json location = view.location(evidence.table, evidence.line);
    if (location.is_null()) continue;
    list.push_back(Json{{"location", location}, {"message", line_of(evidence)}});
  }
  for (const Related& related : query.related) {
    list.push_back(Json{{"location", view.location(related.span)}, {"message", related.says}});
  }
  return list;
}

/// A stet that still has the words of the action that wrote it.
void add_open_stets(const View& view, std::map<std::string, Json>& all) {
  for (const StetUse& stet : view.run().stets) {
    if (stet.reason != kOpenReason) continue;
    Lines lines = view.lines(stet.span.file);
    all[view.run().sources.path(stet.span.file)].push_back(plain_diagnostic(
        lines.range_of(stet.span.begin, stet.span.end), kInformation, "stet",
        "this stet still needs its reason; write why " + stet.check + " is to stand"));
  }
}

void add_complaints(const View& view, std::map<std::string, Json>& all) {
  const Run& run = view.run();
  for (const Complaint& complaint : run.complaints) {
    // Those without a file are about settings; the server tells them otherwise.
    if (!complaint.file.starts_with('/')) continue;
    std::error_code error;
    // The editor shows files, so what is about a whole ledger stands at its settings.
    const bool is_folder = std::filesystem::is_directory(complaint.file, error);
    const std::string path = is_folder ? complaint.file + "/ledger.toml" : complaint.file;
    const std::uint32_t line = complaint.line == 0 ? 0 : complaint.line - 1;
    Json range = range_json({line, 0}, {line, 0});
    if (const std::optional<FileId> file = run.sources.find(path); file && complaint.column > 0) {
      // Columns are code points; the line is at hand to count them in.
      Lines lines = view.lines(*file);
      const auto& begins = run.sources.line_begins(*file);
      Lines code_points(run.sources.text(*file), begins, PositionEncoding::kUtf32);
      const std::uint32_t at = code_points.offset_of({line, complaint.column - 1});
      range = lines.range_of(at, at);
    }
    all[path].push_back(plain_diagnostic(range, complaint.is_note ? kInformation : kError, "unread",
                                         complaint.message));
  }
}

}  // namespace

Json diagnostic_of(const View& view, Lines& lines, const Query& query) {
  std::string words = query.message;
  Json related = related_of(view, query);
  if (!view.client().shows_related) {
    for (const Evidence& evidence : query.evidence) words += "\n" + line_of(evidence);
    related = Json::array();
  }
  if (!query.suggestion.empty()) words += "\nwould agree: " + query.suggestion;
  Json diagnostic = plain_diagnostic(lines.range_of(query.span.begin, query.span.end),
                                     severity_of(query.level), query.check, words);
  if (!related.empty()) diagnostic["relatedInformation"] = std::move(related);
  return diagnostic;
}

std::map<std::string, Json> diagnostics_of(const View& view) {
  const Run& run = view.run();
  std::map<std::string, Json> all;
  for (const std::string& path : view.collection().files()) all[path] = Json::array();
  for (auto query = run.queries.begin(); query != run.queries.end();) {
    const FileId file = query->span.file;
    Lines lines = view.lines(file);
    Json& list = all.try_emplace(run.sources.path(file), Json::array()).first->second;
    for (; query != run.queries.end() && query->span.file == file; ++query) {
      if (view.is_shown(*query)) list.push_back(diagnostic_of(view, lines, *query));
    }
  }
  add_open_stets(view, all);
  add_complaints(view, all);
  return all;
}

}  // namespace tailproof::lsp
