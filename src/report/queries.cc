// The formats of check: text, json, jsonl.
#include <fmt/format.h>

#include <algorithm>

#include "report/formats.h"
#include "report/html_text.h"
#include "report/json_parts.h"
#include "report/phrases.h"
#include "report/query_ids.h"
#include "source/shown_path.h"

namespace tailproof {

namespace {

/// Colours of a terminal (ECMA-48, select graphic rendition): beside the word, never instead of it.
std::string level_word(Level level, bool is_colored) {
  const std::string word(to_word(level));
  if (!is_colored) {
    return word;
  }
  const std::string_view color =
      level == Level::kError ? "1;31" : (level == Level::kWarning ? "1;33" : "1;36");
  return fmt::format("\x1b[{}m{}\x1b[0m", color, word);
}

/// What comes from texts and ledgers must not speak to the terminal: it is made inert.
std::string text_of(const Run& run, const Query& query, bool is_colored) {
  const std::string place = inert(place_of(run.sources, query.span));
  std::string text =
      fmt::format("{}: {}: {} [{}]\n", is_colored ? fmt::format("\x1b[1m{}\x1b[0m", place) : place,
                  level_word(query.level, is_colored), inert(query.message), query.check);
  for (const Evidence& evidence : query.evidence) {
    text += fmt::format("    {}\n", inert(line_of(evidence)));
  }
  for (const Related& related : query.related) {
    text += fmt::format("    {}: {}\n", inert(place_of(run.sources, related.span)),
                        inert(related.says));
  }
  if (!query.suggestion.empty()) {
    text += fmt::format("    would agree: {}\n", inert(query.suggestion));
  }
  if (!query.stet.empty()) {
    text += fmt::format("    stet: {}\n", inert(query.stet));
  }
  return text;
}

/// That there was no evidence, or none of a machine that the texts name: no query then says little.
std::string_view what_was_not_held(const Run& run) {
  if (run.manuscripts.empty()) {
    return "";
  }
  if (run.ledger.path().empty()) {
    return ", held against no ledger";
  }
  if (run.ledger.airframes_at_hand().empty() || run.claims.empty()) {
    return "";
  }
  const bool is_any_named =
      std::any_of(run.claims.begin(), run.claims.end(), [&](const Claim& claim) {
        return claim.kind == ClaimKind::kAirframe &&
               !run.ledger.serials_of(claim.subject.empty() ? claim.value : claim.subject).empty();
      });
  return is_any_named ? "" : ", none of an airframe of the ledger";
}

std::string totals_line(const Run& run, const ReportOptions& options) {
  const Totals totals = totals_of(run.queries, options.is_known);
  std::string line =
      fmt::format("{}, {}, {}", counted(totals.errors, "error"),
                  counted(totals.warnings, "warning"), counted(totals.notes, "note"));
  if (totals.stetted > 0) {
    line += fmt::format("; {} let stand", totals.stetted);
  }
  if (totals.known > 0) {
    line += fmt::format("; {} known from before", totals.known);
  }
  return line + fmt::format(" ({} in {}{})\n", counted(run.claims.size(), "claim"),
                            counted(run.manuscripts.size(), "manuscript"), what_was_not_held(run));
}

Json object_of(const Run& run, const Query& query, const std::string& id) {
  Json object;
  object["id"] = id;
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

template <typename Take>
void each_listed(const Run& run, const ReportOptions& options, Take take) {
  const std::vector<std::string> ids = ids_of_queries(run);
  for (std::size_t i = 0; i < run.queries.size(); ++i) {
    if (is_listed(run.queries, i, options)) {
      take(object_of(run, run.queries[i], ids[i]));
    }
  }
}

}  // namespace

std::string queries_as_text(const Run& run, const ReportOptions& options) {
  std::string text;
  for (std::size_t i = 0; i < run.queries.size(); ++i) {
    if (is_listed(run.queries, i, options)) {
      text += text_of(run, run.queries[i], options.is_colored) + "\n";
    }
  }
  return text + totals_line(run, options);
}

std::string queries_as_json(const Run& run, const ReportOptions& options) {
  Json report;
  report["tool"] = kTool;
  report["version"] = TAILPROOF_VERSION;
  report["ledger"] = utf8_path(run.ledger.path());
  report["manuscripts"] = Json::array();
  for (const Manuscript& manuscript : run.manuscripts) {
    report["manuscripts"].push_back(utf8_path(manuscript.path));
  }
  report["totals"] = totals_object(run, options);
  report["queries"] = Json::array();
  each_listed(run, options, [&](Json object) { report["queries"].push_back(std::move(object)); });
  report["schema"] = kCheckSchema;
  return indented(report);
}

std::string queries_as_jsonl(const Run& run, const ReportOptions& options) {
  std::string lines;
  each_listed(run, options, [&](const Json& object) { lines += one_line(object) + "\n"; });
  return lines;
}

}  // namespace tailproof
