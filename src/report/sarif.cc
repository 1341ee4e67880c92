// The format sarif of check: the Static Analysis Results Interchange Format, OASIS standard 2.1.0.
//
// Regions count columns in code points, as everywhere here, and the run says so (columnKind).
// Evidence stands in the message, for viewers that show nothing else, and again as related
// locations, for those that lead there.
#include <fmt/format.h>

#include <algorithm>
#include <filesystem>
#include <map>
#include <set>
#include <system_error>

#include "report/formats.h"
#include "report/json_parts.h"
#include "report/known.h"
#include "report/phrases.h"
#include "report/query_ids.h"
#include "report/replacements.h"
#include "source/shown_path.h"

namespace tailproof {

namespace {

constexpr std::string_view kSchema =
    "https://docs.oasis-open.org/sarif/sarif/v2.1.0/errata01/os/schemas/sarif-schema-2.1.0.json";
constexpr const char* kBase = "%SRCROOT%";

bool is_unreserved(char c) {
  return (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z') || (c >= '0' && c <= '9') ||
         std::string_view("-._~/").find(c) != std::string_view::npos;
}

/// RFC 3986; a relative path stays relative, without "./" at its beginning.
std::string uri_of(const std::string& path) {
  std::string_view rest = path;
  while (rest.starts_with("./")) {
    rest.remove_prefix(2);
  }
  std::string uri = rest.starts_with('/') ? "file://" : "";
  for (const char c : rest) {
    uri += is_unreserved(c) ? std::string(1, c)
                            : fmt::format("%{:02X}", static_cast<unsigned char>(c));
  }
  return uri;
}

/// Square brackets are links in SARIF's messages.
std::string message_text(std::string_view words) {
  std::string text;
  for (const char c : words) {
    text += c == '[' || c == ']' || c == '\\' ? "\\" : "";
    text += c;
  }
  return text;
}

Json message(std::string_view words) { return Json{{"text", message_text(words)}}; }

class SarifRun {
 public:
  SarifRun(const Run& run, const ReportOptions& options) : run_(run), options_(options) {
    for (const Manuscript& manuscript : run.manuscripts) {
      for (const Block& block : manuscript.blocks) {
        targets_.insert(block.span.file);
      }
    }
    for (FileId file = 0; file < run.sources.size(); ++file) {
      artifact(run.sources.path(file));
    }
    for (std::size_t i = 0; i < run.checks.size(); ++i) {
      rules_.emplace(run.checks[i].id, i);
    }
    std::error_code error;
    ledger_is_folder_ = std::filesystem::is_directory(run.ledger.path(), error);
  }

  Json build() {
    Json results = results_of_run();  // they add the tables that they quote to the artifacts
    Json run;
    run["tool"]["driver"] = driver();
    run["invocations"] = Json::array({invocation()});
    run["originalUriBaseIds"][kBase]["description"]["text"] = "the folder in which the check ran";
    run["artifacts"] = artifacts();
    run["columnKind"] = "unicodeCodePoints";
    run["results"] = std::move(results);
    run["properties"]["ledger"] = utf8_path(run_.ledger.path());
    run["properties"]["totals"] = totals_object(run_, options_);
    run["properties"]["schema"] = kCheckSchema;
    return run;
  }

 private:
  std::size_t artifact(const std::string& path) {
    const auto [found, is_new] = artifact_at_.try_emplace(path, artifact_paths_.size());
    if (is_new) {
      artifact_paths_.push_back(path);
    }
    return found->second;
  }

  static Json location_of(const std::string& path) {
    Json location;
    location["uri"] = uri_of(path);
    if (!path.starts_with('/')) {
      location["uriBaseId"] = kBase;
    }
    return location;
  }

  Json artifact_location(const std::string& path) {
    Json location = location_of(path);
    location["index"] = artifact(path);
    return location;
  }

  [[nodiscard]] Json artifacts() const {
    Json list = Json::array();
    for (std::size_t i = 0; i < artifact_paths_.size(); ++i) {
      Json one;
      one["location"] = location_of(artifact_paths_[i]);
      if (i < run_.sources.size()) {
        const auto file = static_cast<FileId>(i);
        one["length"] = run_.sources.text(file).size();
        one["encoding"] = "UTF-8";
        if (targets_.contains(file)) {
          one["roles"] = Json::array({"analysisTarget"});
        }
      }
      list.push_back(std::move(one));
    }
    return list;
  }

  Json driver() {
    Json driver;
    driver["name"] = kTool;
    driver["version"] = TAILPROOF_VERSION;
    driver["semanticVersion"] = TAILPROOF_VERSION;
    driver["rules"] = Json::array();
    for (const CheckInfo& check : run_.checks) {
      Json rule;
      rule["id"] = check.id;
      rule["shortDescription"]["text"] = check.summary;
      const std::string page = page_of_check(check);
      rule["help"]["text"] = page;
      rule["help"]["markdown"] = page;
      rule["defaultConfiguration"]["level"] = to_word(check.highest);
      driver["rules"].push_back(std::move(rule));
    }
    return driver;
  }

  [[nodiscard]] Json invocation() const {
    Json invocation;
    invocation["executionSuccessful"] =
        std::all_of(run_.complaints.begin(), run_.complaints.end(),
                    [](const Complaint& complaint) { return complaint.is_note; });
    invocation["toolExecutionNotifications"] = Json::array();
    for (const Complaint& complaint : run_.complaints) {
      Json notification;
      notification["level"] = complaint.is_note ? "note" : "error";
      notification["message"] = message(complaint.message);
      if (!complaint.file.empty()) {
        Json place;
        place["artifactLocation"] = location_of(complaint.file);
        if (complaint.line != 0) {
          place["region"]["startLine"] = complaint.line;
        }
        if (complaint.line != 0 && complaint.column != 0) {
          place["region"]["startColumn"] = complaint.column;
        }
        notification["locations"] = Json::array({Json{{"physicalLocation", std::move(place)}}});
      }
      invocation["toolExecutionNotifications"].push_back(std::move(notification));
    }
    return invocation;
  }

  [[nodiscard]] Json region(const Span& span) const {
    const Position begin = run_.sources.position(span.file, span.begin);
    const Position end = run_.sources.position(span.file, span.end);
    Json region;
    region["startLine"] = begin.line;
    region["startColumn"] = begin.column;
    region["endLine"] = end.line;
    region["endColumn"] = end.column;
    return region;
  }

  Json physical(const Span& span) {
    Json place;
    place["artifactLocation"] = artifact_location(run_.sources.path(span.file));
    place["region"] = region(span);
    return place;
  }

  Json location_of_query(const Query& query) {
    Json location;
    location["physicalLocation"] = physical(query.span);
    location["physicalLocation"]["region"]["snippet"]["text"] = run_.sources.text(query.span);
    if (query.manuscript < run_.manuscripts.size() &&
        query.block < run_.manuscripts[query.manuscript].blocks.size()) {
      const Block& block = run_.manuscripts[query.manuscript].blocks[query.block];
      location["physicalLocation"]["contextRegion"] = region(block.span);
      if (!block.figure.empty()) {
        location["logicalLocations"] =
            Json::array({Json{{"name", block.figure}, {"kind", "figure"}}});
      }
    }
    return location;
  }

  /// Where the row stands: a line of its table, or the ledger as a whole where it is one file.
  Json location_of_row(const Evidence& evidence) {
    const std::filesystem::path ledger(run_.ledger.path());
    const std::string path =
        ledger_is_folder_ ? (ledger / evidence.table).string() : ledger.string();
    Json location;
    location["physicalLocation"]["artifactLocation"] = artifact_location(path);
    if (ledger_is_folder_ && evidence.line != 0) {
      location["physicalLocation"]["region"]["startLine"] = evidence.line;
    }
    location["message"] = message(line_of(evidence));
    return location;
  }

  Json related_of(const Query& query) {
    Json list = Json::array();
    for (const Related& related : query.related) {
      Json location;
      location["physicalLocation"] = physical(related.span);
      location["message"] = message(related.says);
      list.push_back(std::move(location));
    }
    for (const Evidence& evidence : query.evidence) {
      if (!evidence.table.empty() && !run_.ledger.path().empty()) {
        list.push_back(location_of_row(evidence));
      }
    }
    for (std::size_t i = 0; i < list.size(); ++i) {
      list[i]["id"] = i;
    }
    return list;
  }

  Json suppressions_of(const Query& query) {
    Json list = Json::array();
    if (!query.stet.empty()) {
      const bool is_in_text = targets_.contains(query.stet_at.file);
      Json suppression;
      suppression["kind"] = is_in_text ? "inSource" : "external";
      suppression["status"] = "accepted";
      suppression["justification"] = query.stet;
      suppression["location"]["physicalLocation"] = physical(query.stet_at);
      list.push_back(std::move(suppression));
    }
    return list;
  }

  Json fixes_of(const Query& query) {
    Json list = Json::array();
    for (const std::string& words : replacements_of(run_, query)) {
      Json replacement;
      replacement["deletedRegion"] = region(query.span);
      replacement["insertedContent"]["text"] = words;
      Json change;
      change["artifactLocation"] = artifact_location(run_.sources.path(query.span.file));
      change["replacements"] = Json::array({std::move(replacement)});
      Json fix;
      fix["description"] = message(fmt::format("read \"{}\"", words));
      fix["artifactChanges"] = Json::array({std::move(change)});
      list.push_back(std::move(fix));
    }
    return list;
  }

  Json result_of(const Query& query, const std::string& id) {
    Json result;
    result["ruleId"] = query.check;
    if (const auto rule = rules_.find(query.check); rule != rules_.end()) {
      result["ruleIndex"] = rule->second;
    }
    result["level"] = to_word(query.level);
    std::string words = query.message;
    for (const Evidence& evidence : query.evidence) {
      words += "\n" + line_of(evidence);
    }
    if (!query.suggestion.empty()) {
      words += "\nwould agree: " + query.suggestion;
    }
    result["message"] = message(words);
    result["locations"] = Json::array({location_of_query(query)});
    if (Json related = related_of(query); !related.empty()) {
      result["relatedLocations"] = std::move(related);
    }
    result["partialFingerprints"][kQueryFingerprint] = id;
    result["partialFingerprints"][kWordingFingerprint] = wording_id(run_, query);
    if (!options_.is_known.empty()) {
      result["baselineState"] = "new";
    }
    result["suppressions"] = suppressions_of(query);
    if (Json fixes = fixes_of(query); !fixes.empty()) {
      result["fixes"] = std::move(fixes);
    }
    result["properties"]["subject"] = query.subject;
    result["properties"]["suggestion"] = query.suggestion;
    result["properties"]["evidence"] = Json::array();
    for (const Evidence& evidence : query.evidence) {
      result["properties"]["evidence"].push_back(evidence_object(evidence));
    }
    return result;
  }

  /// Those let stand are in it, as suppressed results, whether they are asked for or not.
  Json results_of_run() {
    ReportOptions options = options_;
    options.with_stetted = true;
    const std::vector<std::string> ids = ids_of_queries(run_);
    Json results = Json::array();
    for (std::size_t i = 0; i < run_.queries.size(); ++i) {
      if (is_listed(run_.queries, i, options)) {
        results.push_back(result_of(run_.queries[i], ids[i]));
      }
    }
    return results;
  }

  const Run& run_;
  const ReportOptions& options_;
  std::map<std::string, std::size_t> artifact_at_;
  std::vector<std::string> artifact_paths_;
  std::map<std::string, std::size_t, std::less<>> rules_;
  std::set<FileId> targets_;
  bool ledger_is_folder_ = false;
};

}  // namespace

std::string queries_as_sarif(const Run& run, const ReportOptions& options) {
  Json report;
  report["$schema"] = kSchema;
  report["version"] = "2.1.0";
  report["runs"] = Json::array({SarifRun(run, options).build()});
  return indented(report);
}

}  // namespace tailproof
