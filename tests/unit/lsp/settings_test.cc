#include "lsp/settings.h"

#include <catch2/catch.hpp>

#include "lsp/uri.h"

using namespace tailproof::lsp;
using tailproof::Level;

TEST_CASE("settings by themselves or under the project's name; what is of another kind is told") {
  std::vector<std::string> faults;
  const Json inner{{"ledger", "evidence"}, {"atLeast", "note"}, {"grammars", Json::array({"g"})}};
  for (const Json& object : {inner, Json{{"tailproof", inner}}}) {
    const Settings settings = with_json({}, object, faults);
    CHECK(settings.ledger == "evidence");
    CHECK(settings.at_least == Level::kNote);
    CHECK(settings.grammars == std::vector<std::string>{"g"});
    CHECK(settings.language.empty());
  }
  CHECK(faults.empty());
  const Json wrong{{"ledger", 3}, {"atLeast", "loud"}, {"skip", "one"}, {"language", "de"}};
  const Settings settings = with_json({}, wrong, faults);
  CHECK(settings.ledger.empty());
  CHECK(settings.language == "de");
  REQUIRE(faults.size() == 3);
  CHECK(faults[0] == "the setting tailproof.ledger is left out; expected a text");
  static_cast<void>(with_json({}, Json("x"), faults));
  CHECK(faults.size() == 4);
}

TEST_CASE("a client cannot name shared objects to load") {
  std::vector<std::string> faults;
  const Settings settings = with_json({}, Json{{"plugins", Json::array({"x.so"})}}, faults);
  CHECK(settings.plugins.empty());
}

TEST_CASE("the ledger is found beside the manuscript or above it") {
  const std::string top = TAILPROOF_TOP "/demo_manuscripts";
  CHECK(find_ledger(top + "/book/02-the-chain.md") == top + "/ledger");
  CHECK(find_ledger(top + "/one.md") == top + "/ledger");
  CHECK(find_ledger(top + "/ledger/one.md") == top + "/ledger");
  CHECK(is_in_ledger(top + "/ledger/grammars/one.toml"));
  CHECK_FALSE(is_in_ledger(top + "/book/plates.csv"));
  CHECK(find_ledger("/no-such-folder/one.md").empty());
}

TEST_CASE("paths and their URIs") {
  const std::string path = "/a folder/caf\xC3\xA9 #1?.md";
  CHECK(uri_of_path(path) == "file:///a%20folder/caf%C3%A9%20%231%3F.md");
  CHECK(path_of_uri(uri_of_path(path)) == path);
  CHECK(path_of_uri("file://localhost/a/./b/../c.md") == "/a/c.md");
  CHECK(path_of_uri("file:///a%2") == "/a%2");
  CHECK_FALSE(path_of_uri("untitled:one"));
  CHECK_FALSE(path_of_uri("file://host/a.md"));
  CHECK_FALSE(path_of_uri("file:///a%00b"));
  CHECK_FALSE(path_of_uri(""));
}
