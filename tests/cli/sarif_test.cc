// SARIF and what is new since an earlier file of it.
#include <catch2/catch.hpp>
#include <nlohmann/json.hpp>

#include "program.h"

namespace tailproof {

namespace {

using Json = nlohmann::ordered_json;

constexpr const char* kImpossible = "![Fig. 1. Sallow OB101 at Hesk, 31 June 1941.](a.jpg)\n";
constexpr const char* kLedgerToml = R"(
[[serial_form]]
pattern = 'OB[ -]?(\d{3})'
serial = 'OB\1'
closed = ["OB101..OB109"]
)";

void add_ledger(const Folder& folder) {
  folder.with("ledger/ledger.toml", kLedgerToml)
      .with("ledger/airframes.csv",
            "serial,type,mark,source\nOB101,Sallow,I,Card 101\nOB105,Sallow,I,Card 105\n");
}

Json sarif_run(const Folder& folder, const std::string& options) {
  const Outcome outcome = folder.run("tailproof check --format sarif " + options);
  const Json report = Json::parse(outcome.out, nullptr, false);
  REQUIRE(report.is_object());
  CHECK(report["version"] == "2.1.0");
  REQUIRE(report["runs"].size() == 1);
  return report["runs"][0];
}

bool has(const std::string& text, const std::string& piece) {
  return text.find(piece) != std::string::npos;
}

}  // namespace

TEST_CASE("a SARIF result has rule, region in code points, fingerprints, evidence and fixes") {
  const Folder folder;
  add_ledger(folder);
  folder.with("a b/x.md", "![Fig. 1. Für Ä, Sallow OB102 [sic] at Hesk.](a.jpg)\n");
  const Json run = sarif_run(folder, "--ledger ledger './a b'");
  CHECK(run["columnKind"] == "unicodeCodePoints");
  REQUIRE(run["results"].size() == 1);
  const Json& result = run["results"][0];
  CHECK(result["ruleId"] == "serial-unknown");
  const Json& rule = run["tool"]["driver"]["rules"][result["ruleIndex"].get<std::size_t>()];
  CHECK(rule["id"] == "serial-unknown");
  CHECK(has(rule["help"]["markdown"], "# serial-unknown"));
  const Json& place = result["locations"][0]["physicalLocation"];
  CHECK(place["artifactLocation"]["uri"] == "a%20b/x.md");
  CHECK(place["region"]["startLine"] == 1);
  CHECK(place["region"]["startColumn"] == 25);
  CHECK(place["region"]["endColumn"] == 30);
  CHECK(place["region"]["snippet"]["text"] == "OB102");
  CHECK(result["locations"][0]["logicalLocations"][0]["name"] == "Fig. 1");
  CHECK(result["suppressions"] == Json::array());
  CHECK(result["relatedLocations"].size() >= 1);
  CHECK(result["relatedLocations"][0]["physicalLocation"]["artifactLocation"]["uri"] ==
        "ledger/ledger.toml");
  REQUIRE(result["fixes"].size() >= 1);
  const Json& replacement = result["fixes"][0]["artifactChanges"][0]["replacements"][0];
  CHECK(replacement["insertedContent"]["text"] == "OB101");
  CHECK(replacement["deletedRegion"]["startColumn"] == 25);
  CHECK(run["properties"]["totals"]["error"] == 1);
  CHECK(run["properties"]["schema"].is_number());
  CHECK_FALSE(result.contains("baselineState"));
}

TEST_CASE("words that only describe what would agree are no fix") {
  const Folder folder;
  folder.with("x.md", "![Fig. 1. Taken on Sunday 14 March 1944.](a.jpg)\n");
  const Json run = sarif_run(folder, "x.md");
  REQUIRE(run["results"].size() == 1);
  CHECK(run["results"][0]["ruleId"] == "weekday-wrong");
  CHECK_FALSE(run["results"][0]["properties"]["suggestion"].get<std::string>().empty());
  CHECK_FALSE(run["results"][0].contains("fixes"));
}

TEST_CASE("a stet is a suppression, in the source or outside it, and is in the file unasked") {
  const Folder folder;
  folder
      .with("in/x.md", std::string("<!-- stet date-impossible: so the diary -->\n\n") + kImpossible)
      .with("out/y.md", "![Fig. 2. Sallow OB101 at Hesk, 31 June 1941.](a.jpg)\n")
      .with("out/stets.csv", "figure,check,reason\nFig. 2,date-impossible,so the log\n");
  const Json run = sarif_run(folder, "in out");
  REQUIRE(run["results"].size() == 2);
  const Json& in_text = run["results"][0]["suppressions"][0];
  CHECK(in_text["kind"] == "inSource");
  CHECK(in_text["justification"] == "so the diary");
  CHECK(in_text["location"]["physicalLocation"]["region"]["startLine"] == 1);
  const Json& outside = run["results"][1]["suppressions"][0];
  CHECK(outside["kind"] == "external");
  CHECK(outside["location"]["physicalLocation"]["artifactLocation"]["uri"] == "out/stets.csv");
  CHECK(outside["location"]["physicalLocation"]["region"]["startLine"] == 2);
}

TEST_CASE("complaints are notifications, and the run was then no success") {
  const Folder folder;
  folder.with("x.md", kImpossible);
  const Json bad = sarif_run(folder, "x.md gone.md");
  CHECK(bad["invocations"][0]["executionSuccessful"] == false);
  CHECK(bad["invocations"][0]["toolExecutionNotifications"][0]["message"]["text"] ==
        "no such file or folder");
  CHECK(sarif_run(folder, "x.md")["invocations"][0]["executionSuccessful"] == true);
}

TEST_CASE("with --since only what is new is reported and counts") {
  const Folder folder;
  folder.with("x.md", kImpossible);
  CHECK(folder.run("tailproof check --format sarif x.md --output before.sarif").status == 1);
  const std::string since = "tailproof check --since before.sarif x.md ";

  SECTION("nothing new") {
    const Outcome outcome = folder.run(since);
    CHECK(outcome.status == 0);
    CHECK(has(outcome.out, "0 errors, 0 warnings, 0 notes; 1 known from before"));
  }
  SECTION("lines moved, the file elsewhere, the figure numbered anew") {
    folder.with("y/x.md",
                "# Title\n\nMore.\n\n![Fig. 2. Sallow OB101 at Hesk, 31 June 1941.](a.jpg)\n");
    CHECK(folder.run("tailproof check --since before.sarif y").status == 0);
  }
  SECTION("one more, of the same words") {
    folder.with("x.md", std::string(kImpossible) +
                            "\n![Fig. 2. Sallow OB101 at Hesk, 31 June 1941.](b.jpg)\n");
    const Outcome outcome = folder.run(since + "--format json");
    CHECK(outcome.status == 1);
    const Json report = Json::parse(outcome.out);
    CHECK(report["totals"]["error"] == 1);
    CHECK(report["totals"]["known"] == 1);
    REQUIRE(report["queries"].size() == 1);
    CHECK(report["queries"][0]["line"] == 3);
    const Json run = sarif_run(folder, "--since before.sarif x.md");
    REQUIRE(run["results"].size() == 1);
    CHECK(run["results"][0]["baselineState"] == "new");
  }
  SECTION("let stand then, but no longer") {
    folder.with("z.md", std::string("<!-- stet date-impossible: r -->\n\n") + kImpossible);
    CHECK(folder.run("tailproof check --format sarif z.md --output z.sarif").status == 0);
    folder.with("z.md", kImpossible);
    CHECK(folder.run("tailproof check --since z.sarif z.md").status == 1);
  }
  SECTION("a file that is no SARIF, or of another program") {
    for (const char* text : {"", "[]", "{\"version\": \"2.1.0\"}",
                             "{\"version\": \"2.1.0\", \"runs\": [{\"results\": [{}]}]}"}) {
      folder.with("odd.sarif", text);
      const Outcome outcome = folder.run("tailproof check --since odd.sarif x.md");
      CHECK(outcome.status == 2);
      CHECK(outcome.err.starts_with("tailproof: odd.sarif: "));
    }
    CHECK(folder.run("tailproof check --since none.sarif x.md").status == 2);
  }
  SECTION("the earlier file is never overwritten") {
    CHECK(folder.run(since + "--format sarif --output before.sarif").status == 2);
  }
}

}  // namespace tailproof
