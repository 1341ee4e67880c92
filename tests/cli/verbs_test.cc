// What the verbs besides check and claims answer.
#include <catch2/catch.hpp>

#include "small_book.h"

namespace tailproof {

TEST_CASE("history tells what ledger and manuscripts know, in time order") {
  const Folder folder;
  const std::string world = TAILPROOF_TOP "/tests/readme/";
  const std::string command = "tailproof history --ledger " + world + "ledger ";
  const Json report =
      Json::parse(folder.run(command + "--format json 'OB 204' " + world + "chapter.md").out);
  CHECK(keys_of(report) == std::vector<std::string>{"tool", "version", "ledger", "serial",
                                                    "serials", "entries", "schema"});
  CHECK(report["serial"] == "OB204");
  REQUIRE(report["entries"].size() >= 5);
  std::string before;
  bool is_mentioned = false;
  for (const Json& entry : report["entries"]) {
    const std::string earliest = entry["earliest"];
    CHECK((earliest.empty() || before <= earliest));
    before = earliest;
    is_mentioned = is_mentioned || (entry.contains("figure") && entry["figure"] == "Fig. 2");
  }
  CHECK(is_mentioned);
  const Outcome unknown = folder.run(command + "OB999");
  CHECK(unknown.status == 2);
  CHECK(has(unknown.err, "\"OB999\" is not known"));
  const Outcome rows_only = folder.run(command + "OB204");
  CHECK(rows_only.status == 0);
  CHECK(rows_only.out.starts_with("OB204\n1941-05-19 "));
}

TEST_CASE("bracket dates the photographs of captions") {
  const Folder folder;
  const std::string world = TAILPROOF_TOP "/tests/readme/";
  const std::string command = "tailproof bracket --ledger " + world + "ledger ";
  const Json report = Json::parse(folder.run(command + "--format json " + world + "album.md").out);
  CHECK(keys_of(report) ==
        std::vector<std::string>{"tool", "version", "ledger", "photographs", "schema"});
  REQUIRE(report["photographs"].size() == 1);
  const Json& photograph = report["photographs"][0];
  CHECK(keys_of(photograph) ==
        std::vector<std::string>{"file", "line", "column", "end_line", "end_column", "figure",
                                 "name", "earliest", "latest", "days", "gaps", "with_margins",
                                 "usually_earliest", "usually_latest", "clash", "narrowing"});
  CHECK(photograph["earliest"]["day"] == "1943-03-01");
  CHECK(photograph["latest"]["day"] == "1945-06-30");
  REQUIRE(photograph["latest"]["facts"].size() == 1);
  CHECK(photograph["latest"]["facts"][0]["evidence"][0]["table"] == "airframes.csv");
  CHECK(photograph["clash"].empty());
  const Outcome csv = folder.run(command + "--format csv " + world + "album.md");
  CHECK(csv.status == 0);
  const std::vector<std::string> lines = lines_of(csv.out);
  REQUIRE(lines.size() == 2);
  CHECK(lines[0].starts_with("file,line,figure,earliest,latest,"));
  CHECK(has(lines[1], ",1943-03-01,1945-06-30,"));
}

TEST_CASE("bracket takes one caption by its line") {
  const Folder folder;
  const std::string world = TAILPROOF_TOP "/tests/readme/";
  const std::string command = "tailproof bracket --ledger " + world + "ledger " + world;
  const Outcome one = folder.run(command + "chapter.md:11");
  CHECK(one.status == 0);
  CHECK(has(one.out, "Fig. 4: 14 March 1944"));
  CHECK_FALSE(has(one.out, "Fig. 5"));
  const Outcome all = folder.run(command + "chapter.md");
  CHECK(has(all.out, "Fig. 5"));
  const Outcome none = folder.run(command + "chapter.md:1");
  CHECK(none.status == 2);
  CHECK(has(none.err, "chapter.md:1: no caption stands on this line"));
}

TEST_CASE("audit holds the ledger against itself") {
  const Folder folder;
  add_ledger(folder);
  const Outcome sound = folder.run("tailproof audit --ledger ledger");
  CHECK(sound.status == 0);
  CHECK(sound.out ==
        "0 errors, 0 warnings, 1 note in the ledger ledger (--at-least note lists "
        "the notes)\n");
  folder.with("ledger/airframes.csv",
              std::string(kAirframes) + "OB107,Sallow,I,1943-01-01,1942-01-01,Card 107\n");
  const Outcome reversed = folder.run("tailproof audit ledger");
  CHECK(reversed.status == 1);
  CHECK(reversed.out.starts_with("ledger/airframes.csv:4: error: "));
  CHECK(has(reversed.out, "    airframes.csv:4: "));
  CHECK(has(reversed.out, "(Card 107)\n"));
  const Json report = Json::parse(folder.run("tailproof audit --format json ledger").out);
  CHECK(report["totals"]["error"] == 1);
  REQUIRE(report["findings"].size() == 1);
  CHECK(report["findings"][0]["rows"][0]["line"] == 4);
  CHECK(folder.run("tailproof audit gone").status == 2);
}

TEST_CASE("checks are listed, and each has its page") {
  const Folder folder;
  const Outcome list = folder.run("tailproof checks");
  CHECK(list.status == 0);
  CHECK(has(list.out, "date-impossible"));
  const Outcome page = folder.run("tailproof checks date-impossible");
  CHECK(page.status == 0);
  CHECK(page.out.starts_with("# date-impossible\n"));
  const Outcome unknown = folder.run("tailproof checks date-imposible");
  CHECK(unknown.status == 2);
  CHECK(has(unknown.err, "\"date-impossible\" exists"));
}

TEST_CASE("concordance and history are written as text, csv, html, json and docbook") {
  const Folder folder;
  add_ledger(folder);
  folder.with("x.md", std::string("# Days\n\n") + kSound + "\n\nAnd OB101, \"again\".\n");
  const std::string index = "tailproof concordance --ledger ledger x.md ";
  CHECK(folder.run(index).out ==
        "Airframes\n  OB101\n    x.md:3:18: Fig. 2\n    x.md:6:5\n\n"
        "Units: none\n\nPeople: none\n\nPlaces: none\n");
  const std::vector<std::string> rows = lines_of(folder.run(index + "--format csv").out);
  REQUIRE(rows.size() == 3);
  CHECK(rows[1] == "airframes,OB101,OB101,yes,,x.md,3,18,caption,Fig. 2,Days,OB101\r");
  const Json json = Json::parse(folder.run(index + "--format json").out);
  CHECK(keys_of(json) == std::vector<std::string>{"tool", "version", "ledger", "airframes", "units",
                                                  "people", "places", "schema"});
  CHECK(json["airframes"][0]["places"].size() == 2);
  CHECK(has(folder.run(index + "--format html").out, "<dt>OB101</dt>"));
  CHECK(has(folder.run(index + "--format docbook").out,
            "<primaryie>OB101, Fig. 2, <quote>Days</quote></primaryie>"));
  CHECK(folder.run("tailproof concordance").status == 2);

  const std::string history = "tailproof history OB101 --ledger ledger x.md ";
  const std::vector<std::string> happenings = lines_of(folder.run(history + "--format csv").out);
  REQUIRE(happenings.size() >= 4);
  CHECK(happenings[0] ==
        "serial,date,earliest,latest,says,table,row,source,file,line,column,figure,text\r");
  CHECK(happenings[1].starts_with("OB101,1940-03-04,1940-03-04,1940-03-04,"));
  CHECK(has(folder.run(history + "--format html").out, "<td>1940-03-04</td>"));
  CHECK(has(folder.run(history + "--format docbook").out, "<entry>1940-03-04</entry>"));
}

}  // namespace tailproof
