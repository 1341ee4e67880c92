// The language server with clients that others have written: Neovim's, and the npm packages of the
// protocol. Both open, edit, ask and act behind text beyond ASCII, in UTF-8 and in UTF-16.
#include <algorithm>
#include <catch2/catch.hpp>
#include <filesystem>
#include <nlohmann/json.hpp>
#include <string>
#include <vector>

#include "program.h"

namespace tailproof {
namespace {

using Json = nlohmann::json;

const std::string kHere = TAILPROOF_TOP "/tests/published";
constexpr const char* kText =
    "# Caf\xC3\xA9 \xF0\x9F\x9B\xA9\n"
    "\n"
    "![\xC3\x89t\xC3\xA9 \xF0\x9F\x9B\xA9\xF0\x9F\x9B\xA9](a.jpg)\n"
    "*Fig. 1. \xC3\x89t\xC3\xA9 \xF0\x9F\x9B\xA9\xF0\x9F\x9B\xA9: GD-2103 at Ravel Strip, 30 June "
    "1942, "
    "and behind it GD-3014.*\n";

void write_book(const Folder& folder) {
  const std::string ledger = TAILPROOF_TOP "/demo_manuscripts/ledger";
  REQUIRE(folder.run("cp -r '" + ledger + "' ledger").status == 0);
  folder.with("book.md", kText);
  folder.with("other.txt", "Fig. 7. GD-2103 once more.\n");
}

/// What the session tells; null when it failed, which it then says.
Json session_of(const Outcome& outcome) {
  INFO(outcome.out << outcome.err);
  const Json result = Json::parse(outcome.out, nullptr, false);
  REQUIRE(result.is_object());
  REQUIRE_FALSE(result.contains("failed"));
  return result;
}

std::vector<Json> of_check(const Json& diagnostics, const std::string& check) {
  std::vector<Json> found;
  for (const Json& diagnostic : diagnostics) {
    if (diagnostic.at("code") == check) found.push_back(diagnostic);
  }
  return found;
}

/// What both clients must see.
void require_right(const Json& result, const std::string& encoding) {
  CHECK(result.at("encoding") == encoding);
  CHECK(of_check(result.at("opened"), "date-impossible").empty());
  REQUIRE(of_check(result.at("edited"), "date-impossible").size() == 1);
  CHECK(result.at("restored") == result.at("opened"));

  const auto hover = result.at("hover").at("contents").at("value").get<std::string>();
  CHECK(hover.starts_with("**GD-2103**"));
  CHECK(hover.find("airframes.csv:") != std::string::npos);
  CHECK(hover.find("other.txt:1:9") != std::string::npos);
  REQUIRE_FALSE(result.at("definition").empty());
  CHECK(result.at("definition")[0].at("uri").get<std::string>().ends_with("/ledger/airframes.csv"));
  CHECK(result.at("references").size() == 2);
  REQUIRE(result.at("symbols").size() == 1);
  CHECK(result.at("symbols")[0].at("name") == "Fig. 1");

  REQUIRE(of_check(result.at("restored"), "serial-unknown").size() == 1);
  REQUIRE(result.contains("acted"));
  CHECK(of_check(result.at("acted"), "serial-unknown").empty());
  REQUIRE(result.at("actions").size() >= 2);
  const std::string title = result.at("actions")[0];
  const std::string read = title.substr(6, title.size() - 7);  // read "..."
  std::string text = kText;
  text.replace(text.find("GD-3014"), 7, read);
  CHECK(result.at("text") == text);
  CHECK(result.at("status") == 0);
}

}  // namespace

TEST_CASE("a client on the protocol's npm packages opens, edits, asks and acts") {
  if (!std::filesystem::exists(kHere + "/node_modules/vscode-languageserver-protocol") ||
      run_shell("command -v node", "/").status != 0) {
    WARN("skipped: node or the npm packages of tests/published are not installed (ci/setup)");
    return;
  }
  for (const char* encoding : {"utf-8", "utf-16"}) {
    INFO(encoding);
    const Folder folder;
    write_book(folder);
    const Json result = session_of(run_shell(
        "timeout 120 node lsp_client.mjs '" + folder.path().string() + "' " + encoding, kHere));
    require_right(result, encoding);
    const Json wrong = of_check(result.at("edited"), "date-impossible")[0];
    CHECK(wrong.at("range").at("start") == result.at("begin"));
    CHECK(wrong.at("severity") == 1);
    const std::string cancelled = result.at("cancelled");
    CHECK((cancelled == "answered" || cancelled == "error -32800"));
    CHECK(result.at("unknown") == -32601);
  }
}

TEST_CASE("Neovim's own client opens, edits, asks and acts") {
  if (run_shell("command -v nvim", "/").status != 0) {
    WARN("skipped: Neovim is not installed (ci/setup)");
    return;
  }
  for (const char* encoding : {"utf-8", "utf-16"}) {
    INFO(encoding);
    const Folder folder;
    write_book(folder);
    const Json result = session_of(run_shell(
        "TAILPROOF_FOLDER='" + folder.path().string() + "' TAILPROOF_ENCODING=" + encoding +
            " XDG_STATE_HOME=\"$TAILPROOF_FOLDER\" XDG_CACHE_HOME=\"$TAILPROOF_FOLDER\" "
            "timeout 120 nvim --headless -u NONE -i NONE -n -S lsp_neovim.lua",
        kHere));
    require_right(result, encoding);
    // Neovim counts bytes itself: the place must come out the same from either encoding.
    const Json wrong = of_check(result.at("edited"), "date-impossible")[0];
    CHECK(wrong.at("lnum") == result.at("begin").at("lnum"));
    CHECK(wrong.at("col") == result.at("begin").at("col"));
  }
}

}  // namespace tailproof
