// The recipes for runners and for commits, as they would be used.
#include <catch2/catch.hpp>
#include <filesystem>
#include <nlohmann/json.hpp>
#include <string>

#include "program.h"

namespace tailproof {

namespace {

using Json = nlohmann::ordered_json;

constexpr const char* kImpossible = "![Fig. 1. Sallow OB101 at Hesk, 31 June 1941.](a.jpg)\n";
constexpr const char* kSound = "![Fig. 1. Sallow OB101 at Hesk, 30 June 1941.](a.jpg)\n";
const std::string kRecipes = TAILPROOF_TOP "/ci/recipes/";

}  // namespace

TEST_CASE("on a runner only what is new fails, and the file for the viewer is whole") {
  const Folder folder;
  folder.with("tailproof.toml", "manuscripts = [\"book\"]\n").with("book/x.md", kImpossible);
  const std::string run = "'" + kRecipes + "on_a_runner' ";
  CHECK(folder.run(run + "last.sarif gone.sarif").status == 1);
  CHECK(folder.run(run + "now.sarif last.sarif").status == 0);
  folder.with("book/y.md", "Taken on 31 April 1941.\n");
  const Outcome worse = folder.run(run + "now.sarif last.sarif");
  CHECK(worse.status == 1);
  CHECK(worse.out.find("book/y.md:1:") != std::string::npos);
  CHECK(worse.out.find("book/x.md:1:") == std::string::npos);
  CHECK(Json::parse(read_file(folder.path() / "now.sarif"))["runs"][0]["results"].size() == 2);
  CHECK(folder.run("AT_LEAST=error " + run + "now.sarif").status == 1);
  folder.with("tailproof.toml", "manuscripts = [\"nowhere\"]\n");
  CHECK(folder.run(run + "now.sarif last.sarif").status == 2);
}

TEST_CASE("a commit with an error in what is staged is refused") {
  if (run_shell("command -v git", "/").status != 0) {
    WARN("skipped: git is not installed");
    return;
  }
  const Folder folder;
  folder.with("tailproof.toml", "manuscripts = [\"book\"]\n").with("book/x.md", kSound);
  const std::string git =
      "HOME=$PWD GIT_CONFIG_NOSYSTEM=1 git -c user.name=A -c user.email=a@example.invalid ";
  CHECK(folder.run(git + "init -q . && cp '" + kRecipes + "before_a_commit' .git/hooks/pre-commit")
            .status == 0);
  CHECK(folder.run(git + "add . && " + git + "commit -qm one").status == 0);

  folder.with("book/x.md", kImpossible);
  const Outcome refused = folder.run(git + "add . && " + git + "commit -qm two");
  CHECK(refused.status != 0);
  CHECK(refused.err.find("not committed") != std::string::npos);
  CHECK((refused.out + refused.err).find("book/x.md:1:") != std::string::npos);

  // What is staged counts, not what lies in the folder.
  folder.with("book/x.md", kSound);
  CHECK(folder.run(git + "commit -qm two").status != 0);
  CHECK(folder.run(git + "add .").status == 0);
  folder.with("book/x.md", kImpossible).with("book/z.md", "Nothing.\n");
  CHECK(folder.run(git + "add book/z.md && " + git + "commit -qm three").status == 0);
}

TEST_CASE("a list checked in shards gives the queries of one run, those across captions included") {
  const Folder folder;
  std::string airframes = "serial,type,taken_on_charge,struck_off_charge,source\n";
  std::string list = "figure,caption,photograph\n";
  for (int i = 0; i < 60; ++i) {
    const std::string serial = "QX" + std::to_string(100 + i);
    airframes += serial + ",Orrel,1941-02,1944,Card " + std::to_string(i) + "\n";
  }
  for (int i = 0; i < 240; ++i) {
    // Each machine four times, far from each other; some captions contradict it or each other.
    const std::string serial = "QX" + std::to_string(100 + i % 60);
    const std::string type = i % 7 == 0 ? "Tessel " : "Orrel ";
    const std::string year = i % 11 == 0 ? "1940" : "1942";
    const std::string unit = i % 60 == 5 && i > 120 ? "4" : "3";
    list += "Fig. " + std::to_string(i) + ",\"" + type + serial +
            (i % 5 == 0 ? ",\nwith" : ", with") + " the code K" + std::to_string(i % 13) +
            "-A, of " + unit + " Flight at Orme, 6 June " + year + "\",\n";
  }
  list += "Fig. 900,\"A week after Fig. 12, QX112, in July 1941.\",\n";
  folder
      .with("ledger/ledger.toml",
            "title = \"x\"\n[[serial_form]]\npattern = 'QX\\d{3}'\nclosed = [\"QX100..QX150\"]\n")
      .with("ledger/airframes.csv", airframes)
      .with("ledger/types.csv", "type\nOrrel\nTessel\n")
      .with("ledger/units.csv", "unit,kind\n3 Flight,flight\n4 Flight,flight\n")
      .with("list.csv", list);
  const std::string options = " --no-project --ledger ledger --at-least note ";
  const Outcome one =
      folder.run("tailproof check --format jsonl --format-in captions" + options + "- < list.csv");
  REQUIRE(one.status == 1);
  REQUIRE(one.out.find("\"captions-disagree\"") != std::string::npos);
  for (const std::string count : {"1", "3", "8"}) {
    const Outcome several = folder.run("'" + kRecipes + "in_shards' " + count +
                                       " 'QX[0-9]+|Fig[.] [0-9]+' list.csv" + options);
    INFO(several.err);
    CHECK(several.status == 1);
    CHECK(several.out == one.out);
  }
}

}  // namespace tailproof
