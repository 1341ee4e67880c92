// The program on captions about real national markings, held against a ledger of what has been
// published on them. national_markings/sources.tsv names the sources; expected.tsv gives for each
// wrong caption the fact that it offends against.
#include <algorithm>
#include <catch2/catch.hpp>
#include <cctype>
#include <fstream>
#include <nlohmann/json.hpp>
#include <set>
#include <sstream>
#include <string>
#include <utility>
#include <vector>

#include "program.h"

namespace tailproof {
namespace {

const std::string kMarkings = TAILPROOF_TOP "/tests/published/national_markings/";

using Place = std::pair<std::size_t, std::string>;  // line, check

std::vector<std::vector<std::string>> read_rows(const std::string& file) {
  std::vector<std::vector<std::string>> rows;
  std::ifstream stream(kMarkings + file);
  for (std::string line; std::getline(stream, line);) {
    if (line.empty() || line.front() == '#') continue;
    std::istringstream cells(line);
    rows.emplace_back();
    for (std::string cell; std::getline(cells, cell, '\t');) rows.back().push_back(cell);
  }
  return rows;
}

// Runs of letters, digits and plus signs.
std::set<std::string> words_of(const std::string& text) {
  std::set<std::string> words;
  std::string word;
  for (const char c : text + " ") {
    if (std::isalnum(static_cast<unsigned char>(c)) != 0 || c == '+') {
      word += c;
    } else {
      words.insert(word);
      word.clear();
    }
  }
  words.erase("");
  return words;
}

std::string in_lines(const std::set<Place>& places, const std::set<Place>& others) {
  std::string text;
  for (const Place& place : places) {
    if (others.count(place) == 0) {
      text += "  line " + std::to_string(place.first) + " " + place.second + "\n";
    }
  }
  return text;
}

}  // namespace

TEST_CASE("the published ledger of national markings agrees with itself") {
  // That nothing in it is closed is a note: it is a chronology, and no register of machines.
  const Outcome outcome = run_shell("tailproof audit ledger", kMarkings);
  INFO(outcome.out << outcome.err);
  CHECK(outcome.status == 0);
}

TEST_CASE("every row of the published ledger names its source and how sure it is") {
  std::set<std::string> known;
  for (const auto& row : read_rows("sources.tsv")) {
    CHECK(row.size() == 3);
    known.insert(row.front());
  }
  const std::set<std::string> sureties = {"P", "P+S", "S1", "S2", "D", "X"};
  std::size_t rows = 0;
  for (const char* table : {"airframes", "awards", "identities", "markings", "orders", "people",
                            "ranks", "sequences", "service", "types", "units"}) {
    std::istringstream text(read_file(kMarkings + "ledger/" + table + ".csv"));
    std::string line;
    std::getline(text, line);
    while (std::getline(text, line)) {
      ++rows;
      INFO(table << ".csv: " << line);
      const std::set<std::string> words = words_of(line.substr(line.rfind(",\"") + 1));
      const auto is_word = [&](const std::string& word) { return words.count(word) != 0; };
      CHECK(std::any_of(known.begin(), known.end(), is_word));
      CHECK(std::any_of(sureties.begin(), sureties.end(), is_word));
    }
  }
  CHECK(rows > 100);
}

TEST_CASE("captions are queried where they offend against published facts, and nowhere else") {
  std::set<Place> expected;
  for (const auto& row : read_rows("expected.tsv")) {
    REQUIRE(row.size() == 4);
    expected.emplace(std::stoul(row[0]), row[1]);
  }
  const std::string captions = read_file(kMarkings + "captions.md");
  std::size_t figures = 0;
  for (std::size_t at = captions.find("![Fig"); at != std::string::npos;
       at = captions.find("![Fig", at + 1)) {
    ++figures;
  }
  REQUIRE(figures >= 90);
  REQUIRE(expected.size() >= 40);

  const Outcome outcome = run_shell(
      "tailproof check --ledger ledger --at-least note --format json captions.md", kMarkings);
  INFO(outcome.err);
  REQUIRE(outcome.status == 1);
  const nlohmann::json report = nlohmann::json::parse(outcome.out, nullptr, false);
  REQUIRE(report.is_object());
  std::set<Place> found;
  for (const nlohmann::json& query : report["queries"]) {
    found.emplace(query["line"].get<std::size_t>(), query["check"].get<std::string>());
    REQUIRE_FALSE(query["evidence"].empty());
    CHECK(query["evidence"][0]["source"] != "");
  }
  INFO("missed:\n" << in_lines(expected, found) << "not expected:\n" << in_lines(found, expected));
  CHECK(found == expected);
}

TEST_CASE("insignia alone date a print as the published chronology does") {
  // Firmly from the day a form was first ordered, usually until it was withdrawn and its grace had
  // run; both from the rows of orders.csv, whose sources stand beside them.
  const struct {
    std::string first, last;
  } kExpected[] = {{"1917-05-19", "1942-07-31"}, {"1918-02-01", "1919-08-31"},
                   {"1942-03-01", "1943-09-29"}, {"1943-06-28", "1943-09-24"},
                   {"1943-08-14", ""},           {"1947-01-14", ""},
                   {"1942-01-05", "1942-05-15"}};
  const Outcome outcome =
      run_shell("tailproof bracket --ledger ledger --format json undated.md", kMarkings);
  INFO(outcome.err);
  REQUIRE(outcome.status == 0);
  const nlohmann::json report = nlohmann::json::parse(outcome.out, nullptr, false);
  REQUIRE(report["photographs"].size() == std::size(kExpected));
  for (std::size_t i = 0; i < std::size(kExpected); ++i) {
    const nlohmann::json& photograph = report["photographs"][i];
    INFO(photograph.dump(1));
    CHECK(photograph["earliest"]["day"] == kExpected[i].first);
    CHECK(photograph["usually_latest"]["day"] == kExpected[i].last);
    REQUIRE_FALSE(photograph["earliest"]["facts"].empty());
    CHECK(photograph["earliest"]["facts"][0]["evidence"][0]["source"] != "");
  }
}

}  // namespace tailproof
