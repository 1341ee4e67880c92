// What check writes as SARIF against the schema of the standard: SARIF 2.1.0 (OASIS), as the npm
// package @microsoft/jest-sarif carries it; validated by the npm package ajv.
#include <catch2/catch.hpp>
#include <filesystem>
#include <string>

#include "program.h"

namespace tailproof {
namespace {

const std::string kHere = TAILPROOF_TOP "/tests/published";

bool can_validate() {
  return std::filesystem::exists(kHere + "/node_modules/@microsoft/jest-sarif") &&
         std::filesystem::exists(kHere + "/node_modules/ajv-draft-04") &&
         run_shell("command -v node", "/").status == 0;
}

Outcome validate(const Folder& folder, const std::string& file) {
  return run_shell("node validate.mjs sarif '" + (folder.path() / file).string() + "'", kHere);
}

}  // namespace

TEST_CASE("what check writes as SARIF is valid by the schema of SARIF 2.1.0") {
  if (!can_validate()) {
    WARN("skipped: node or the npm packages of tests/published are not installed (ci/setup)");
    return;
  }
  const Folder folder;
  const std::string demo = TAILPROOF_TOP "/demo_manuscripts";
  CHECK(folder
            .run("cp -r '" + demo + "/book' '" + demo +
                 "/ledger' . && tailproof check --format sarif --at-least note --ledger ledger "
                 "book gone.md --output demo.sarif")
            .status == 2);
  Outcome outcome = validate(folder, "demo.sarif");
  INFO(outcome.out << outcome.err);
  CHECK(outcome.status == 0);

  CHECK(folder
            .run("tailproof check --format sarif --ledger ledger book --since demo.sarif "
                 "--output later.sarif")
            .status == 0);
  outcome = validate(folder, "later.sarif");
  INFO(outcome.out << outcome.err);
  CHECK(outcome.status == 0);

  // The schema does refuse what it ought to: a level that there is not.
  std::string text = read_file(folder.path() / "demo.sarif");
  const std::size_t at = text.find("\"level\": \"error\"");
  REQUIRE(at != std::string::npos);
  folder.with("broken.sarif", text.replace(at, 16, "\"level\": \"fatal\""));
  CHECK(validate(folder, "broken.sarif").status == 1);
}

}  // namespace tailproof
