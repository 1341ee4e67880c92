// The query sheet in a browser that is not ours: Chromium, as Debian packages it, driven by the npm
// package playwright-core; its accessibility by the rules of the npm package axe-core.
#include <catch2/catch.hpp>
#include <filesystem>
#include <nlohmann/json.hpp>
#include <string>

#include "program.h"

namespace tailproof {
namespace {

using Json = nlohmann::ordered_json;

const std::string kHere = TAILPROOF_TOP "/tests/published";

bool has_browser() {
  return std::filesystem::exists(kHere + "/node_modules/playwright-core") &&
         std::filesystem::exists(kHere + "/node_modules/axe-core") &&
         run_shell("command -v node && (command -v chromium || command -v chromium-browser)", "/")
                 .status == 0;
}

Outcome drive(const std::string& what, const Folder& folder, const std::string& sheet) {
  return run_shell("node sheet.mjs " + what + " '" + (folder.path() / sheet).string() + "' '" +
                       folder.path().string() + "'",
                   kHere);
}

}  // namespace

TEST_CASE("the demo's sheet is worked through in a browser, and its stets are read by check") {
  if (!has_browser()) {
    WARN("skipped: node, chromium or the npm packages of tests/published are missing (ci/setup)");
    return;
  }
  const Folder folder;
  const std::string demo = TAILPROOF_TOP "/demo_manuscripts";
  REQUIRE(folder.run("cp -r '" + demo + "/book' '" + demo + "/ledger' .").status == 0);
  const std::string check = "tailproof check --at-least note --ledger ledger book ";
  REQUIRE(folder.run(check + "--format html --output sheet.html").status == 1);
  const Json before = Json::parse(folder.run(check + "--format json").out);

  const Outcome driven = drive("demo", folder, "sheet.html");
  INFO(driven.out << driven.err);
  REQUIRE(driven.status == 0);
  CHECK(std::filesystem::file_size(folder.path() / "sheet.pdf") > 10000);

  // Two stets have a reason; the third has none and is not in the file. Those that were there are
  // still there.
  REQUIRE(folder.run("mv stets.csv book/stets.csv").status == 0);
  const Outcome again = folder.run(check + "--stets --format json");
  CHECK(again.err.empty());
  const Json after = Json::parse(again.out);
  CHECK(after["totals"]["stetted"] == before["totals"]["stetted"].get<int>() + 2);
  const std::string reason = "the maker's drawing, sheet 4, has it so; \"keep\", said the owner";
  bool is_found = false;
  for (const Json& query : after["queries"]) {
    is_found = is_found || query["stet"] == reason;
  }
  CHECK(is_found);
  const std::string decisions = read_file(folder.path() / "decisions.csv");
  CHECK(decisions.find(",ask,Which of the two?,\"R. \"\"Ruth\"\" Callowhill\",") !=
        std::string::npos);
}

TEST_CASE("a manuscript full of markup, scripts and controls stays text in the sheet") {
  if (!has_browser()) {
    WARN("skipped: node, chromium or the npm packages of tests/published are missing (ci/setup)");
    return;
  }
  const Folder folder;
  const std::string evil =
      "</script><script>window.caught=1</script><img src=x onerror=window.caught=1>";
  folder
      .with("ledger/ledger.toml",
            "title = '''" + evil +
                "'''\n[[serial_form]]\npattern = 'OB(\\d{3})'\nserial = 'OB\\1'\n"
                "closed = [\"OB101..OB109\"]\n")
      .with("ledger/airframes.csv",
            "serial,type,mark,taken_on_charge,struck_off_charge,fate,source\nOB101,Sallow,I,1940,"
            "1941,\"" +
                evil + "\",\"" + evil + "\"\n")
      .with("ledger/people.csv",
            "person,born,died,source\n<img src=x onerror=window.caught=1>,1900,1930," + evil + "\n")
      .with("x'\"<b>.txt",
            "Fig. 1. OB101 with <img src=x onerror=window.caught=1>, June 1943. "
            "<script>window.caught=1</script> \xE2\x80\xAE turned \xE2\x81\xA6 and \x07 rung. "
            "javascript:window.caught=1\n\n[stet type-disagrees: " +
                evil + "]\nFig. 2. OB102 \xD8\x9C, " + evil + ".\n");
  CHECK(folder
            .run("tailproof check --at-least note --format html --ledger ledger --output "
                 "sheet.html x*")
            .status == 1);
  const Outcome driven = drive("hostile", folder, "sheet.html");
  INFO(driven.out << driven.err);
  CHECK(driven.status == 0);
}

}  // namespace tailproof
