// Dates against what others have published: the EDTF specification's own examples, the npm package
// `edtf`, and the calendar of `date`.
#include <catch2/catch.hpp>
#include <cstdio>
#include <cstdlib>
#include <fstream>
#include <map>
#include <sstream>
#include <string>
#include <vector>

#include "tailproof/edtf.h"

using namespace tailproof;

namespace {

const std::string kFolder = TAILPROOF_TOP "/tests/published/";

std::vector<std::vector<std::string>> rows_of(std::istream& in, char separator) {
  std::vector<std::vector<std::string>> rows;
  for (std::string line; std::getline(in, line);) {
    if (line.empty() || line.front() == '#') continue;
    std::vector<std::string> cells;
    std::istringstream cells_in(line);
    for (std::string cell; std::getline(cells_in, cell, separator);) cells.push_back(cell);
    rows.push_back(cells);
  }
  return rows;
}

// What a command prints; its exit status in `status`.
std::string output_of(const std::string& command, int& status) {
  std::string output;
  FILE* pipe = popen(command.c_str(), "r");
  if (pipe == nullptr) {
    status = -1;
    return output;
  }
  char buffer[4096];
  for (std::size_t size = 0; (size = std::fread(buffer, 1, sizeof buffer, pipe)) > 0;) {
    output.append(buffer, size);
  }
  status = pclose(pipe);
  return output;
}

std::string first_day(const DaySet& days, const char* open) {
  return days.first() <= kFirstDay ? open : iso_day(days.first());
}
std::string last_day(const DaySet& days, const char* open) {
  return days.last() >= kLastDay ? open : iso_day(days.last());
}

// Where the package and this reader differ on purpose.
struct Difference {
  const char* name;
  const char* why;
  bool (*applies)(const std::string& text);
};

bool is_season(const std::string& text, int first, int last) {
  if (text.size() != 7 || text[4] != '-') return false;
  const int code = std::atoi(text.c_str() + 5);
  return code >= first && code <= last;
}
bool is_set(const std::string& text) { return text.front() == '[' || text.front() == '{'; }

const Difference kDifferences[] = {
    {"season", "the package takes calendar quarters; the specification leaves the months open",
     [](const std::string& text) { return is_season(text, 21, 32); }},
    {"quadrimester",
     "the package starts each one three months after the last, so that they overlap",
     [](const std::string& text) { return is_season(text, 37, 39); }},
    {"set ending in a range", "the package loses the end of the range",
     [](const std::string& text) {
       return is_set(text) && text.rfind("..") != std::string::npos &&
              text.rfind("..") + 3 < text.size() && text.rfind("..") > text.rfind(',') &&
              text.rfind(',') != std::string::npos;
     }},
    {"significant digits", "the package reads the year and ignores how many of its digits count",
     [](const std::string& text) { return text.find('S') != std::string::npos; }},
    {"far year", "the package's numbers end with the year 271,821",
     [](const std::string& text) {
       const Result<Edtf> date = Edtf::parse(text);
       return date && date.value().days().last() > to_day({271821, 4, 20});
     }},
    {"29 February of a common year", "the package rolls it over to 1 March",
     [](const std::string& text) {
       return text.size() == 10 && text.compare(4, 6, "-02-29") == 0 && !Edtf::parse(text);
     }},
    {"zone shift", "the package moves the moment to UTC; the day written is the day meant",
     [](const std::string& text) {
       return text.find('T') != std::string::npos && text.find('+') != std::string::npos;
     }},
    {"blank in a set", "the package accepts it; the specification has no blanks",
     [](const std::string& text) { return is_set(text) && text.find(' ') != std::string::npos; }},
};

}  // namespace

TEST_CASE("the examples of the EDTF specification have their days") {
  // Library of Congress, Extended Date/Time Format (EDTF) Specification, 2019-02-04.
  std::ifstream in(kFolder + "edtf_examples.tsv");
  const auto rows = rows_of(in, '\t');
  REQUIRE(rows.size() == 65);
  REQUIRE(rows[0][2] == "string");
  int compared = 0;
  for (std::size_t i = 1; i < rows.size(); ++i) {
    const auto& row = rows[i];
    REQUIRE(row.size() == 6);
    INFO(row[2] << ": " << row[3]);
    const Result<Edtf> date = Edtf::parse(row[2]);
    REQUIRE(date);
    const DaySet& days = date.value().days();
    if (row[4] == "impl") continue;
    CHECK(first_day(days, row[4] == "U" ? "U" : "-inf") == row[4]);
    CHECK(last_day(days, row[5] == "U" ? "U" : "+inf") == row[5]);
    ++compared;
  }
  CHECK(compared == 63);
}

TEST_CASE("generated dates have the days that the npm package edtf gives them") {
  int status = 0;
  std::istringstream in(output_of("node '" + kFolder + "edtf_oracle.mjs' 2>/dev/null", status));
  const auto rows = rows_of(in, '\t');
  if (status != 0 || rows.empty()) {
    WARN("skipped: node or its package edtf is not installed (npm install in tests/published)");
    return;
  }
  REQUIRE(rows.size() >= 500);
  int agreed = 0;
  std::map<std::string, int> differed;
  for (const auto& row : rows) {
    REQUIRE(row.size() == 3);
    const std::string& text = row[0];
    INFO(text << ": the package gives " << row[1] << " to " << row[2]);
    const Result<Edtf> date = Edtf::parse(text);
    const std::string first = date ? first_day(date.value().days(), "..") : "refused";
    const std::string last = date ? last_day(date.value().days(), "..") : "refused";
    // An unknown end and an open one are the same set of days here; the package gives an unknown
    // one no number.
    const bool unknown_first = text.front() == '/' && row[1] == "-";
    const bool unknown_last = text.back() == '/' && row[2] == "-";
    if ((first == row[1] || unknown_first) && (last == row[2] || unknown_last)) {
      ++agreed;
      continue;
    }
    const Difference* found = nullptr;
    for (const Difference& difference : kDifferences) {
      if (difference.applies(text)) found = &difference;
    }
    INFO("here " << first << " to " << last);
    CHECK(found != nullptr);
    if (found != nullptr) ++differed[found->name];
  }
  CHECK(agreed >= 300);
  for (const Difference& difference : kDifferences) {
    INFO(difference.name << ": " << difference.why);
    CHECK(differed[difference.name] > 0);  // else the row above is no longer needed
  }
}

TEST_CASE("weekdays and day numbers from 1900 to 1960 are those of date") {
  const Day first = to_day({1900, 1, 1});
  const Day last = to_day({1960, 12, 31});
  const std::string list = TAILPROOF_BUILD "/days_1900_1960.txt";
  {
    std::ofstream out(list);
    for (Day day = first; day <= last; ++day) out << iso_day(day) << '\n';
  }
  int status = 0;
  std::istringstream in(
      output_of("LC_ALL=C date -u -f '" + list + "' '+%F %w %s' 2>/dev/null", status));
  const auto rows = rows_of(in, ' ');
  if (status != 0) {
    WARN("skipped: no date command that reads a file of dates (GNU coreutils)");
    return;
  }
  REQUIRE(rows.size() == static_cast<std::size_t>(last - first + 1));
  Day day = first;
  for (const auto& row : rows) {
    if (row[0] != iso_day(day) || row[1] != std::to_string(weekday(day)) ||
        row[2] != std::to_string(day * 86400)) {
      FAIL("date says " << row[0] << ' ' << row[1] << ' ' << row[2] << " for day " << day);
    }
    ++day;
  }
}
