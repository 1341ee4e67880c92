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

}  // namespace tailproof
