#include "report/known.h"

#include "report/json_parts.h"
#include "report/query_ids.h"
#include "source/read_bytes.h"

namespace tailproof {

namespace {

std::string text_member(const Json& object, const char* key) {
  const auto found = object.is_object() ? object.find(key) : object.end();
  return found != object.end() && found->is_string() ? found->get<std::string>() : std::string();
}

const Json& member(const Json& object, const char* key) {
  static const Json nothing;
  const auto found = object.is_object() ? object.find(key) : object.end();
  return found == object.end() ? nothing : *found;
}

bool is_suppressed(const Json& result) {
  const Json& suppressions = member(result, "suppressions");
  return suppressions.is_array() && !suppressions.empty();
}

Failure failure(const std::string& path, std::string message) {
  return Failure{Complaint{.file = path, .message = std::move(message)}};
}

}  // namespace

Result<KnownQueries> read_known_queries(const std::string& path) {
  const Result<std::string> bytes = read_bytes(path, Streams::kAllowed);
  if (!bytes) {
    return Failure{bytes.error()};
  }
  const Json report = Json::parse(bytes.value(), nullptr, false);
  const Json& runs = member(report, "runs");
  if (report.is_discarded() || text_member(report, "version") != "2.1.0" || !runs.is_array()) {
    return failure(path, "no SARIF 2.1.0; name a file that tailproof check --format sarif wrote");
  }
  KnownQueries known;
  for (const Json& run : runs) {
    for (const Json& result : member(run, "results")) {
      const Json& prints = member(result, "partialFingerprints");
      const std::string id = text_member(prints, kQueryFingerprint);
      if (id.empty()) {
        return failure(path, "holds a result without the fingerprint " +
                                 std::string(kQueryFingerprint) +
                                 "; name a file that tailproof check --format sarif wrote");
      }
      if (is_suppressed(result) || text_member(result, "baselineState") == "absent") {
        continue;
      }
      known.queries.insert(id);
      ++known.wordings[text_member(prints, kWordingFingerprint)];
    }
  }
  return known;
}

std::vector<bool> mark_known(const Run& run, const KnownQueries& known) {
  const std::vector<std::string> ids = ids_of_queries(run);
  std::map<std::string, unsigned> left = known.wordings;
  std::vector<bool> is_known(run.queries.size(), false);
  std::vector<std::string> wordings;
  for (std::size_t i = 0; i < run.queries.size(); ++i) {
    wordings.push_back(wording_id(run, run.queries[i]));
    if (known.queries.contains(ids[i])) {
      is_known[i] = true;
      const auto found = left.find(wordings[i]);
      if (found != left.end() && found->second > 0) {
        --found->second;
      }
    }
  }
  for (std::size_t i = 0; i < run.queries.size(); ++i) {
    const auto found = left.find(wordings[i]);
    if (!is_known[i] && found != left.end() && found->second > 0) {
      is_known[i] = true;
      --found->second;
    }
  }
  return is_known;
}

}  // namespace tailproof
