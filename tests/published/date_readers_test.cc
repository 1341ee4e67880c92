// Dates in war history, found and valued by the program and by two npm packages that know nothing
// of it, on the same bytes in one run. `date_prose/` is ours: invented history, its dates marked
// before anything had read it. Where the texts of an annotated corpus lie beside the project they
// are read as well; TAILPROOF_DATE_TEXTS may name their folder.
#include <catch2/catch.hpp>
#include <cstdlib>
#include <filesystem>
#include <nlohmann/json.hpp>
#include <sstream>
#include <string>
#include <vector>

#include "program.h"

namespace tailproof {
namespace {

using Json = nlohmann::json;

const std::string kHere = TAILPROOF_TOP "/tests/published";

std::vector<Json> readers_on(const std::string& texts, const std::string& options) {
  const Outcome run = run_shell("node date_readers.mjs \"$(command -v tailproof)\" " + options +
                                    " --copies 0 '" + texts + "'",
                                kHere);
  INFO(run.err);
  REQUIRE(run.status == 0);
  std::vector<Json> rows;
  std::istringstream lines(run.out);
  for (std::string line; std::getline(lines, line);) rows.push_back(Json::parse(line));
  return rows;
}

bool has_node() { return run_shell("command -v node", "/").status == 0; }

}  // namespace

TEST_CASE("dates of history prose are found and valued better than by two packages") {
  if (!has_node() || !std::filesystem::exists(kHere + "/node_modules/compromise-dates")) {
    WARN("skipped: node or the npm packages of tests/published are missing (ci/setup)");
    return;
  }
  const std::vector<Json> rows = readers_on(kHere + "/date_prose", "");
  REQUIRE(rows.size() == 5);
  const Json& ours = rows[0];
  CHECK(ours["gold"] == 231);
  CHECK(ours["strict"] >= 0.95);
  CHECK(ours["relaxed"] >= 0.98);
  CHECK(ours["value"] >= 0.97);
  for (std::size_t other = 1; other < rows.size(); ++other) {
    INFO(rows[other].dump());
    CHECK(rows[other]["relaxed"] > 0.5);  // it did run
    for (const char* measure : {"strict", "relaxed", "value"}) {
      CHECK(ours[measure] > rows[other][measure]);
    }
  }
}

TEST_CASE("dates of annotated encyclopedia articles on wars") {
  const char* named = std::getenv("TAILPROOF_DATE_TEXTS");
  const std::string texts =
      named != nullptr ? named : TAILPROOF_TOP "/../shared/reference/dates/war_narrative";
  if (!has_node() || !std::filesystem::exists(texts + "/timex.tsv")) {
    WARN("skipped: node or the annotated texts are missing (TAILPROOF_DATE_TEXTS)");
    return;
  }
  const Json ours = readers_on(texts, "--own")[0];
  INFO(ours.dump());
  CHECK(ours["strict"] >= 0.967);
  CHECK(ours["relaxed"] >= 0.974);
  CHECK(ours["value"] >= 0.938);
}

}  // namespace tailproof
