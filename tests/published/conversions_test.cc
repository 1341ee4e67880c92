// Conversions of units through the real program, against the exact published factors of
// conversion_factors.tsv. Each row of conversions.tsv is a caption that is right or wrong by them.
#include <catch2/catch.hpp>
#include <cmath>
#include <cstdlib>
#include <map>
#include <nlohmann/json.hpp>
#include <sstream>
#include <string>
#include <vector>

#include "program.h"

namespace tailproof {
namespace {

const std::string kFolder = TAILPROOF_TOP "/tests/published/";

std::vector<std::vector<std::string>> read_rows(const std::string& file) {
  std::vector<std::vector<std::string>> rows;
  std::istringstream text(read_file(kFolder + file));
  for (std::string line; std::getline(text, line);) {
    if (line.empty() || line.front() == '#') continue;
    std::istringstream cells(line);
    rows.emplace_back();
    for (std::string cell; std::getline(cells, cell, '\t');) rows.back().push_back(cell);
  }
  return rows;
}

double number(const std::string& text) { return std::strtod(text.c_str(), nullptr); }

struct Row {
  bool is_right = false;
  std::string from, to, caption;
  double given = 0, exact = 0, shown = 0, place = 0;
};

std::vector<Row> read_conversions() {
  std::vector<Row> rows;
  for (const auto& cells : read_rows("conversions.tsv")) {
    REQUIRE(cells.size() == 8);
    rows.push_back({cells[0] == "right", cells[1], cells[2], cells[7], number(cells[3]),
                    number(cells[4]), number(cells[5]), number(cells[6])});
  }
  return rows;
}

}  // namespace

TEST_CASE("the table of conversions follows the exact factors") {
  std::map<std::string, double> factors;
  for (const auto& cells : read_rows("conversion_factors.tsv")) {
    REQUIRE(cells.size() == 3);
    factors[cells[0]] = number(cells[1]);
  }
  for (const Row& row : read_conversions()) {
    INFO(row.caption);
    REQUIRE(factors[row.from] > 0);
    REQUIRE(factors[row.to] > 0);
    const double exact = row.given * factors[row.from] / factors[row.to];
    CHECK(row.exact == Approx(exact).epsilon(1e-9));
    CHECK((std::fabs(row.shown - exact) <= row.place) == row.is_right);
  }
}

TEST_CASE("a conversion is queried if and only if it is wrong by the exact factors") {
  const std::vector<Row> rows = read_conversions();
  REQUIRE(rows.size() > 50);
  std::string book;
  for (std::size_t i = 0; i < rows.size(); ++i) {
    const std::string label = std::to_string(i + 1);
    book += "![Fig. " + label + ". " + rows[i].caption + "](print-" + label + ".jpg)\n\n";
  }
  const Folder folder;
  folder.with("book.md", book).with("ledger/ledger.toml", "title = \"Nothing\"\n");
  const Outcome outcome = folder.run(
      "tailproof check --only conversion-wrong --ledger ledger --at-least note --format json "
      "book.md");
  INFO(outcome.err);
  REQUIRE(outcome.status == 1);
  const nlohmann::json report = nlohmann::json::parse(outcome.out, nullptr, false);
  REQUIRE(report.is_object());
  std::map<std::size_t, int> queries;  // by row
  for (const nlohmann::json& query : report["queries"]) {
    CHECK(query["check"] == "conversion-wrong");
    ++queries[(query["line"].get<std::size_t>() - 1) / 2];
  }
  for (std::size_t i = 0; i < rows.size(); ++i) {
    INFO(rows[i].caption);
    CHECK(queries[i] == (rows[i].is_right ? 0 : 1));
  }

  // A right caption is silent because it was understood, not because it was passed over.
  const Outcome claims = folder.run("tailproof claims --ledger ledger --format jsonl book.md");
  std::map<std::size_t, int> measures;
  std::istringstream lines(claims.out);
  for (std::string line; std::getline(lines, line);) {
    const nlohmann::json claim = nlohmann::json::parse(line, nullptr, false);
    REQUIRE(claim.is_object());
    if (claim["kind"] == "measure") ++measures[(claim["line"].get<std::size_t>() - 1) / 2];
  }
  for (std::size_t i = 0; i < rows.size(); ++i) {
    INFO(rows[i].caption);
    CHECK(measures[i] >= 1);
  }
}

}  // namespace tailproof
