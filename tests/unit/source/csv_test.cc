#include "source/csv.h"

#include <catch2/catch.hpp>
#include <string>
#include <string_view>

namespace tailproof {
namespace {

TEST_CASE("csv fields carry their text and the bytes they came from") {
  const std::string bytes = "\xEF\xBB\xBFname,\"a \"\"b\"\"\",\r\n\"x\r\ny\",z\r\n\r\nlast,";
  Complaints complaints;
  const auto rows = parse_csv(bytes, "t.csv", complaints);
  CHECK(complaints.empty());
  REQUIRE(rows.size() == 3);
  REQUIRE(rows[0].fields.size() == 3);
  CHECK(rows[0].fields[0].text == "name");
  CHECK(rows[0].fields[0].begin == 3);
  CHECK(rows[0].fields[1].text == "a \"b\"");
  CHECK(rows[0].fields[1].quoted);
  CHECK(bytes.substr(rows[0].fields[1].begin, rows[0].fields[1].end - rows[0].fields[1].begin) ==
        "\"a \"\"b\"\"\"");
  CHECK(rows[0].fields[2].text.empty());
  CHECK(rows[0].line == 1);
  CHECK(rows[1].fields[0].text == "x\r\ny");
  CHECK(rows[1].line == 2);
  CHECK(rows[2].line == 5);
  CHECK(rows[2].fields.size() == 2);
}

TEST_CASE("csv line ends may be LF, CR LF or CR") {
  for (const std::string_view end : {"\n", "\r\n", "\r"}) {
    Complaints complaints;
    std::string bytes = "a,b";
    bytes.append(end).append("c,d").append(end);
    const auto rows = parse_csv(bytes, "t.csv", complaints);
    REQUIRE(rows.size() == 2);
    CHECK(rows[1].fields[1].text == "d");
    CHECK(rows[1].line == 2);
  }
}

TEST_CASE("a first line without a comma may part its fields by semicolons or tabs") {
  CHECK(csv_separator("figure;caption\n1;\"a, b; c\"\n") == ';');
  CHECK(csv_separator("figure\tcaption;note\n") == '\t');
  CHECK(csv_separator("\"a;b\",c\n") == ',');
  CHECK(csv_separator("caption\na;b\n") == ',');
  Complaints complaints;
  const auto rows = parse_csv(
      "\xEF\xBB\xBF"
      "figure;caption\r\n1;\"a, b; c\"\r\n",
      "t.csv", complaints);
  CHECK(complaints.empty());
  REQUIRE(rows.size() == 2);
  REQUIRE(rows[1].fields.size() == 2);
  CHECK(rows[1].fields[1].text == "a, b; c");
}

TEST_CASE("a quote that never closes is one complaint where it opens") {
  Complaints complaints;
  const auto rows = parse_csv("a,b\nc,\"d\ne", "t.csv", complaints);
  REQUIRE(complaints.size() == 1);
  CHECK(complaints[0].line == 2);
  CHECK(complaints[0].column == 3);
  REQUIRE(rows.size() == 2);
  CHECK(rows[1].fields[1].text == "d\ne");
}

TEST_CASE("characters after a closing quote are a complaint and are kept") {
  Complaints complaints;
  const auto rows = parse_csv("\"a\"b,c\n", "t.csv", complaints);
  REQUIRE(complaints.size() == 1);
  CHECK(complaints[0].column == 4);
  REQUIRE(rows.size() == 1);
  CHECK(rows[0].fields[0].text == "ab");
  CHECK(rows[0].fields[1].text == "c");
}

}  // namespace
}  // namespace tailproof
