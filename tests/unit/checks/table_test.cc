// What holds for every row of the table of checks.
#include <catch2/catch.hpp>
#include <filesystem>
#include <fstream>
#include <set>
#include <sstream>

#include "desk.h"

using namespace tailproof;
namespace fs = std::filesystem;

namespace {

const std::string kTop = TAILPROOF_TOP;

std::string file_name(std::string_view id) {
  std::string name(id);
  for (char& c : name) c = c == '-' ? '_' : c;
  return name;
}

std::string text_of(const fs::path& path) {
  std::ifstream file(path);
  std::ostringstream text;
  text << file.rdbuf();
  return text.str();
}

}  // namespace

TEST_CASE("the table of checks has rows, each with an id of its own") {
  REQUIRE(builtin_checks().size() >= 21);
  REQUIRE(builtin_checks().size() == builtin_needs().size());
  std::set<std::string_view> ids;
  for (const CheckInfo& check : builtin_checks()) {
    INFO(check.id);
    CHECK(ids.insert(check.id).second);
    CHECK(check.run != nullptr);
    CHECK_FALSE(check.summary.empty());
    CHECK(check.summary.find('\n') == std::string_view::npos);
  }
}

TEST_CASE("every row has its source, page and cases, and the page is in the program") {
  for (const CheckInfo& check : builtin_checks()) {
    INFO(check.id);
    const std::string base = kTop + "/src/checks/" + file_name(check.id);
    CHECK(fs::exists(base + ".cc"));
    CHECK(fs::exists(base + ".md"));
    CHECK(fs::exists(kTop + "/tests/checks/" + std::string(check.id) + ".case"));
    CHECK(check.page == text_of(base + ".md"));
    CHECK_FALSE(check.page.empty());
  }
}

TEST_CASE("no page and no case file is without a row") {
  std::set<std::string> names;
  std::set<std::string> ids;
  for (const CheckInfo& check : builtin_checks()) {
    names.insert(file_name(check.id));
    ids.insert(std::string(check.id));
  }
  for (const auto& entry : fs::directory_iterator(kTop + "/src/checks")) {
    if (entry.path().extension() != ".md") continue;
    INFO(entry.path());
    CHECK(names.count(entry.path().stem().string()) == 1);
  }
  for (const auto& entry : fs::directory_iterator(kTop + "/tests/checks")) {
    if (entry.path().extension() != ".case") continue;
    INFO(entry.path());
    const std::string stem = entry.path().stem().string();
    CHECK((ids.count(stem) == 1 || stem == "one-fault-one-query" || stem == "marking-fates" ||
           stem == "people-beside" || stem == "turns" || stem == "gapped-lists" ||
           stem == "year-serials" || stem == "briefly-told" || stem.starts_with("told-")));
  }
}

TEST_CASE("a check includes the public headers and the standard library alone") {
  for (const CheckInfo& check : builtin_checks()) {
    INFO(check.id);
    std::istringstream lines(text_of(kTop + "/src/checks/" + file_name(check.id) + ".cc"));
    std::string line;
    while (std::getline(lines, line)) {
      if (line.rfind("#include \"", 0) != 0) continue;
      INFO(line);
      // Those that reason about all photographs at once look at the chronology as well.
      const bool is_public = line.rfind("#include \"tailproof/", 0) == 0;
      const bool is_chronology = line.rfind("#include \"chronology/", 0) == 0;
      CHECK((is_public || is_chronology));
    }
  }
}

TEST_CASE("what a row needs is named in words that exist") {
  const std::set<std::string> tables = {
      "ledger",   "airframes", "identities", "histories",    "units",      "stations",
      "places",   "people",    "service",    "ranks",        "awards",     "types",
      "markings", "orders",    "sequences",  "combinations", "photographs"};
  std::set<std::string> kinds;
  for (int kind = 0; kind <= static_cast<int>(ClaimKind::kReference); ++kind) {
    kinds.insert(std::string(to_word(static_cast<ClaimKind>(kind))));
  }
  for (const CheckNeeds& needs : builtin_needs()) {
    std::istringstream of_tables{std::string(needs.tables)};
    for (std::string word; of_tables >> word;) {
      INFO(word);
      CHECK(tables.count(word) == 1);
    }
    std::istringstream of_claims{std::string(needs.claims)};
    for (std::string word; of_claims >> word;) {
      INFO(word);
      CHECK(kinds.count(word) == 1);
    }
  }
}

TEST_CASE("an empty ledger silences every check that needs one") {
  using tailproof::testing::Desk;
  Desk desk;
  desk.date("1943-06-14");
  for (int kind = 0; kind <= static_cast<int>(ClaimKind::kReference); ++kind) {
    if (static_cast<ClaimKind>(kind) == ClaimKind::kDate) continue;
    for (const char* role : {"", "holder", "operator", "command", "code", "malformed"}) {
      desk.add(static_cast<ClaimKind>(kind), "QX1", "QX1", role).known = false;
    }
  }
  for (std::size_t i = 0; i < builtin_checks().size(); ++i) {
    if (builtin_needs()[i].tables.empty()) continue;
    INFO(builtin_checks()[i].id);
    CHECK(desk.run(builtin_checks()[i].id).empty());
  }
}
