// The formats of check: text, json, jsonl.
#include <fmt/format.h>

#include <map>

#include "report/formats.h"
#include "report/json_parts.h"
#include "report/phrases.h"

namespace tailproof {

namespace {

std::string text_of(const Run& run, const Query& query) {
  std::string text = fmt::format("{}: {}: {} [{}]\n", place_of(run.sources, query.span),
                                 to_word(query.level), query.message, query.check);
  for (const Evidence& evidence : query.evidence) {
    text += fmt::format("    {}\n", line_of(evidence));
  }
  for (const Related& related : query.related) {
    text += fmt::format("    {}: {}\n", place_of(run.sources, related.span), related.says);
  }
  if (!query.suggestion.empty()) {
    text += fmt::format("    would agree: {}\n", query.suggestion);
  }
  if (!query.stet.empty()) {
    text += fmt::format("    stet: {}\n", query.stet);
  }
  return text;
}

std::string totals_line(const Run& run) {
  const Totals totals = totals_of(run.queries);
  std::string line =
      fmt::format("{}, {}, {}", counted(totals.errors, "error"),
                  counted(totals.warnings, "warning"), counted(totals.notes, "note"));
  if (totals.stetted > 0) {
    line += fmt::format("; {} let stand", totals.stetted);
  }
  return line + fmt::format(" ({} in {})\n", counted(run.claims.size(), "claim"),
                            counted(run.manuscripts.size(), "manuscript"));
}

/// Ids that stay the same while the query does, though lines move: made of the check, the file's
/// name, figure, subject and words, and of a number where all these are equal.
class QueryIds {
 public:
  std::string next(const Run& run, const Query& query) {
    const std::string& path = run.sources.path(query.span.file);
    std::string key{path.substr(path.find_last_of('/') + 1)};
    const Manuscript* manuscript =
        query.manuscript < run.manuscripts.size() ? &run.manuscripts[query.manuscript] : nullptr;
    if (manuscript != nullptr && query.block < manuscript->blocks.size()) {
      key += '\n' + manuscript->blocks[query.block].figure;
    }
    key += '\n' + query.subject + '\n' + words_of(run, query);
    const unsigned number = ++seen_[query.check + '\n' + key];
    return fmt::format("{}-{:08x}{}", query.check, hash_of(key),
                       number == 1 ? "" : fmt::format("-{}", number));
  }

 private:
  /// FNV-1a of 32 bits: the same on every machine.
  static std::uint32_t hash_of(std::string_view key) {
    std::uint32_t hash = 2166136261U;
    for (const char c : key) {
      hash = (hash ^ static_cast<unsigned char>(c)) * 16777619U;
    }
    return hash;
  }

  std::map<std::string, unsigned> seen_;
};

Json object_of(const Run& run, const Query& query, QueryIds& ids) {
  Json object;
  object["id"] = ids.next(run, query);
  object["check"] = query.check;
  object["level"] = to_word(query.level);
  add_place(object, run.sources, query.span);
  object["text"] = words_of(run, query);
  object["message"] = query.message;
  object["subject"] = query.subject;
  object["claims"] = Json::array();
  for (const std::uint32_t index : query.claims) {
    object["claims"].push_back(claim_object(run, run.claims[index]));
  }
  object["evidence"] = Json::array();
  for (const Evidence& evidence : query.evidence) {
    object["evidence"].push_back(evidence_object(evidence));
  }
  object["related"] = Json::array();
  for (const Related& related : query.related) {
    Json place;
    add_place(place, run.sources, related.span);
    place["says"] = related.says;
    object["related"].push_back(std::move(place));
  }
  object["suggestion"] = query.suggestion;
  object["stet"] = query.stet;
  return object;
}

/// Ids are given to every query, listed or not, so that options do not change them.
template <typename Take>
void each_listed(const Run& run, const ReportOptions& options, Take take) {
  QueryIds ids;
  for (const Query& query : run.queries) {
    Json object = object_of(run, query, ids);
    if (is_listed(query, options)) {
      take(std::move(object));
    }
  }
}

}  // namespace

std::string queries_as_text(const Run& run, const ReportOptions& options) {
  std::string text;
  for (const Query& query : run.queries) {
    if (is_listed(query, options)) {
      text += text_of(run, query) + "\n";
    }
  }
  return text + totals_line(run);
}

std::string queries_as_json(const Run& run, const ReportOptions& options) {
  const Totals totals = totals_of(run.queries);
  Json report;
  report["tool"] = kTool;
  report["version"] = TAILPROOF_VERSION;
  report["ledger"] = run.ledger.path();
  report["manuscripts"] = Json::array();
  for (const Manuscript& manuscript : run.manuscripts) {
    report["manuscripts"].push_back(manuscript.path);
  }
  Json& counts = report["totals"];
  counts["error"] = totals.errors;
  counts["warning"] = totals.warnings;
  counts["note"] = totals.notes;
  counts["stetted"] = totals.stetted;
  counts["claims"] = run.claims.size();
  report["queries"] = Json::array();
  each_listed(run, options, [&](Json object) { report["queries"].push_back(std::move(object)); });
  return indented(report);
}

std::string queries_as_jsonl(const Run& run, const ReportOptions& options) {
  std::string lines;
  each_listed(run, options, [&](const Json& object) { lines += one_line(object) + "\n"; });
  return lines;
}

}  // namespace tailproof
