// Whole books of other hands: what was reached on them is not lost again. README.md says where they
// come from.
#include <algorithm>
#include <catch2/catch.hpp>
#include <cstdlib>
#include <nlohmann/json.hpp>
#include <sstream>
#include <string>
#include <vector>

#include "../cli/program.h"

namespace tailproof {
namespace {

using Row = std::vector<std::string>;

std::vector<Row> rows_of(const std::string& path) {
  std::istringstream lines(read_file(path));
  std::vector<Row> rows;
  std::string line;
  std::getline(lines, line);  // the headings
  while (std::getline(lines, line)) {
    std::istringstream cells(line);
    Row row;
    for (std::string cell; std::getline(cells, cell, '\t');) row.push_back(cell);
    rows.push_back(std::move(row));
  }
  return rows;
}

std::vector<std::string> words_of(const std::string& text) {
  std::istringstream words(text);
  std::vector<std::string> found;
  for (std::string word; words >> word;) found.push_back(word);
  return found;
}

struct Place {
  std::string file;
  int first = 0, last = 0;
};

// Where a query stands, and what it names besides.
std::vector<Place> places_of(const nlohmann::json& query) {
  const auto place = [&](const nlohmann::json& one) {
    const std::string path = one.value("file", query["file"].get<std::string>());
    const int line = one["line"];
    return Place{path.substr(path.rfind('/') + 1), line, one.value("end_line", line)};
  };
  std::vector<Place> places = {place(query)};
  for (const auto& related : query["related"]) places.push_back(place(related));
  return places;
}

// A query stands at its claim, which may begin a line or two before the words at fault.
bool is_near(const std::vector<Place>& places, const std::string& file, const std::string& lines) {
  constexpr int kBefore = 2, kBehind = 3;
  const std::vector<std::string> numbers = words_of(lines);
  return std::any_of(places.begin(), places.end(), [&](const Place& place) {
    return place.file == file &&
           std::any_of(numbers.begin(), numbers.end(), [&](const std::string& number) {
             const int line = std::atoi(number.c_str());
             return line >= place.first - kBefore && line <= place.last + kBehind;
           });
  });
}

struct Book {
  const char* folder;
  int found;    // planted contradictions that must be found
  int unfound;  // queries at warning or above that may stand where nothing is planted
  int misled;   // right places that may be queried
};
constexpr Book kBooks[] = {
    {"coast", 61, 0, 0},    {"inland", 55, 0, 0},  {"north", 54, 0, 0},   {"isles", 39, 0, 0},
    {"lagoon", 54, 0, 0},   {"lakes", 57, 0, 0},   {"floats", 54, 0, 0},  {"dunes", 48, 0, 0},
    {"passes", 53, 0, 0},   {"heath", 51, 0, 0},   {"gulf", 59, 0, 0},    {"delta", 52, 0, 0},
    {"coffer", 45, 0, 0},   {"wing", 53, 0, 0},    {"fells", 56, 0, 0},   {"heights", 48, 0, 0},
    {"kilns", 62, 0, 0},    {"exact", 26, 0, 0},   {"moor", 50, 0, 0},    {"weir", 54, 0, 0},
    {"quarry", 40, 0, 0},   {"tarn", 38, 1, 0},    {"ferry", 62, 0, 0},   {"brae", 32, 0, 0},
    {"holm", 29, 0, 0},     {"ridge", 55, 1, 0},   {"balsa", 53, 0, 0},   {"slips", 48, 0, 0},
    {"wheels", 54, 3, 1},   {"regimes", 54, 0, 0}, {"duchy", 58, 0, 0},   {"decks", 57, 0, 0},
    {"letters", 55, 0, 0},  {"oar", 57, 0, 0},     {"sands", 58, 1, 0},   {"skerries", 54, 0, 0},
    {"reserve", 53, 0, 0},  {"hills", 54, 3, 0},   {"halos", 59, 1, 0},   {"jatas", 56, 1, 1},
    {"echelons", 53, 5, 3}, {"estuary", 57, 0, 0}, {"beacons", 55, 1, 2}, {"saltire", 54, 2, 2},
    {"reaches", 56, 0, 0},  {"capes", 58, 0, 1},   {"downs", 53, 1, 1},   {"sheds", 55, 3, 1},
    {"bights", 57, 1, 1},   {"ergs", 48, 5, 2},    {"reefs", 47, 1, 1},   {"cantons", 54, 1, 2},
    {"haven", 54, 0, 0},    {"kelders", 45, 4, 1}};

/// Texts that agree with the ledger of a book, by other hands again: every query is false.
struct Agreeing {
  const char* ledger;
  const char* folder;
  std::size_t unfound;  // queries at warning or above that may stand
};
constexpr Agreeing kAgreeing[] = {{"hills/ledger", "hills/agreeing", 0},
                                  {"halos/ledger", "halos/agreeing", 3},
                                  {"oar/ledger", "oar/agreeing", 1},
                                  {"reserve/ledger", "reserve/agreeing", 5},
                                  {"hills/ledger", "hills/agreeing-second", 2},
                                  {"halos/ledger", "halos/agreeing-second", 2},
                                  {"oar/ledger", "oar/agreeing-second", 2},
                                  {"reserve/ledger", "reserve/agreeing-second", 0},
                                  {"estuary/ledger", "estuary/agreeing", 2},
                                  {"echelons/ledger", "echelons/agreeing", 7},
                                  {"hills/ledger", "hills/agreeing-third", 2},
                                  {"halos/ledger", "halos/agreeing-third", 1},
                                  {"beacons/ledger", "beacons/agreeing", 4},
                                  {"saltire/ledger", "saltire/agreeing", 0},
                                  {"reaches/ledger", "reaches/agreeing", 5},
                                  {"estuary/ledger", "estuary/agreeing-second", 2},
                                  {"capes/ledger", "capes/agreeing", 2},
                                  {"downs/ledger", "downs/agreeing", 4},
                                  {"sheds/ledger", "sheds/agreeing", 4}};

}  // namespace

TEST_CASE("what was reached on whole books is not lost") {
  for (const Book& book : kBooks) {
    INFO(book.folder);
    const std::string top = std::string(TAILPROOF_TOP) + "/tests/books/" + book.folder;
    const Folder folder;
    const Outcome outcome = folder.run("tailproof check --format json --at-least note --ledger " +
                                       top + "/ledger " + top + "/manuscripts");
    CHECK(outcome.err.empty());
    const auto report = nlohmann::json::parse(outcome.out, nullptr, false);
    REQUIRE_FALSE(report.is_discarded());
    const std::vector<Row> planted = rows_of(top + "/planted.tsv");
    const std::vector<Row> right = rows_of(top + "/right.tsv");
    REQUIRE(planted.size() >= 25);
    std::vector<bool> is_found(planted.size(), false);
    int unfound = 0, misled = 0;
    std::string false_queries;
    for (const auto& query : report["queries"]) {
      if (query.contains("stet") && !query["stet"].is_null() && query["stet"] != "") continue;
      const std::vector<Place> places = places_of(query);
      const std::string check = query["check"];
      bool is_on_fault = false;
      for (std::size_t i = 0; i < planted.size(); ++i) {
        if (!is_near(places, planted[i][0], planted[i][1])) continue;
        is_on_fault = true;
        const std::vector<std::string> checks = words_of(planted[i][2]);
        if (std::find(checks.begin(), checks.end(), check) != checks.end()) is_found[i] = true;
      }
      if (query["level"] == "note") continue;
      if (!is_on_fault) {
        ++unfound;
        false_queries += places.front().file + ":" + std::to_string(places.front().first) + " " +
                         query["message"].get<std::string>() + "\n";
      }
      misled += static_cast<int>(!is_on_fault &&
                                 std::any_of(right.begin(), right.end(), [&](const Row& row) {
                                   return row[2] == check && is_near(places, row[0], row[1]);
                                 }));
    }
    std::string missed;
    for (std::size_t i = 0; i < planted.size(); ++i) {
      if (!is_found[i]) missed += planted[i][0] + ":" + planted[i][1] + " " + planted[i][2] + "\n";
    }
    INFO(missed);
    INFO(false_queries);
    CHECK(std::count(is_found.begin(), is_found.end(), true) >= book.found);
    CHECK(unfound <= book.unfound);
    CHECK(misled <= book.misled);
  }
}

TEST_CASE("what agrees with its ledger is not queried more than it was") {
  for (const Agreeing& text : kAgreeing) {
    INFO(text.folder);
    const std::string top = std::string(TAILPROOF_TOP) + "/tests/books/";
    const Folder folder;
    const Outcome outcome =
        folder.run("tailproof check --format json --at-least warning --ledger " + top +
                   text.ledger + " " + top + text.folder);
    CHECK(outcome.err.empty());
    const auto report = nlohmann::json::parse(outcome.out, nullptr, false);
    REQUIRE_FALSE(report.is_discarded());
    CHECK(report["totals"]["claims"].get<std::size_t>() > 600);
    std::string false_queries;
    for (const auto& query : report["queries"]) {
      false_queries += query["file"].get<std::string>() + ":" +
                       std::to_string(query["line"].get<int>()) + " " +
                       query["message"].get<std::string>() + "\n";
    }
    INFO(false_queries);
    CHECK(report["queries"].size() <= text.unfound);
  }
}

}  // namespace tailproof
