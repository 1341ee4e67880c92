// The JSON formats against the schemas of tests/schemas (JSON Schema, draft 2020-12), by the npm
// package ajv.
#include <catch2/catch.hpp>
#include <filesystem>
#include <string>

#include "program.h"

namespace tailproof {
namespace {

const std::string kHere = TAILPROOF_TOP "/tests/published";

Outcome validate(const Folder& folder, const std::string& schema, const std::string& file) {
  return run_shell("node validate.mjs '" TAILPROOF_TOP "/tests/schemas/" + schema +
                       ".schema.json' '" + (folder.path() / file).string() + "'",
                   kHere);
}

}  // namespace

TEST_CASE("every JSON format is as its schema says, on the demo and on odd input") {
  if (!std::filesystem::exists(kHere + "/node_modules/ajv") ||
      run_shell("command -v node", "/").status != 0) {
    WARN("skipped: node or the npm packages of tests/published are not installed (ci/setup)");
    return;
  }
  const Folder folder;
  const std::string demo = TAILPROOF_TOP "/demo_manuscripts";
  const std::string on_demo = " --format json --ledger '" + demo + "/ledger' ";
  const std::string book = " '" + demo + "/book' ";
  folder.with("odd.txt", "Fig. 1. <b>OB101</b> \x07 taken on 31 June 1941, \xE2\x80\xAE Fig. 9.\n");
  const struct {
    std::string schema, command;
  } kRuns[] = {{"check", "check --at-least note --stets" + on_demo + book},
               {"check", "check --format json odd.txt"},
               {"claims", "claims" + on_demo + book},
               {"claims", "claims --explain --format json odd.txt"},
               {"history", "history GD-2109" + on_demo + book},
               {"bracket", "bracket" + on_demo + book},
               {"bracket", "bracket --format json odd.txt"},
               {"concordance", "concordance" + on_demo + book},
               {"concordance", "concordance --format json odd.txt"},
               {"audit", "audit" + on_demo}};
  for (const auto& run : kRuns) {
    CHECK(folder.run("tailproof " + run.command + " --output out.json").status <= 1);
    const Outcome outcome = validate(folder, run.schema, "out.json");
    INFO(run.command << ": " << outcome.out << outcome.err);
    CHECK(outcome.status == 0);
  }
  // The schemas do refuse what they ought to.
  std::string text = read_file(folder.path() / "out.json");
  folder.with("broken.json", "{\"more\": 1, " + text.substr(1));
  CHECK(validate(folder, "audit", "broken.json").status == 1);
  folder.with("broken.json", text.replace(text.find("\"tailproof\""), 11, "\"other\""));
  CHECK(validate(folder, "audit", "broken.json").status == 1);
}

}  // namespace tailproof
