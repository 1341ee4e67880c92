// Stets: what lets a query stand, and what does not.
#include <catch2/catch.hpp>

#include "small_book.h"

namespace tailproof {

TEST_CASE("a stet lets its query stand, counted and listed on request") {
  const Folder folder;
  const std::string stet = "<!-- stet date-impossible: so the diary has it -->";
  SECTION("before the block") { folder.with("x.md", stet + "\n\n" + kImpossible); }
  SECTION("right after the block") { folder.with("x.md", kImpossible + stet + "\n"); }
  SECTION("after the last block") { folder.with("x.md", std::string(kImpossible) + "\n" + stet); }
  SECTION("by file and figure in stets.csv") {
    folder.with("x.md", kImpossible)
        .with("stets.csv",
              "file,figure,subject,check,reason,by,date\n"
              "x.md,Figure 1,,date-impossible,so the diary has it,EC,1961\n");
  }
  SECTION("by subject in stets.csv") {
    folder.with("x.md", kImpossible)
        .with("stets.csv", "subject,check,reason\nFig. 1,date-impossible,so the diary has it\n");
  }
  SECTION("in plain text") {
    folder.with("x.txt", "[stet date-impossible: so the diary has it]\n\nTaken on 31 June 1941.\n");
  }
  SECTION("in DocBook") {
    folder.with("x.xml",
                "<article xmlns='http://docbook.org/ns/docbook' version='5.0'><title>T</title>\n"
                "<?stet date-impossible: so the diary has it?>\n"
                "<para>Taken on 31 June 1941.</para></article>\n");
  }
  const Outcome usual = folder.run("tailproof check --at-least note .");
  CHECK(usual.status == 0);
  CHECK(usual.err.empty());
  CHECK(has(usual.out, "0 errors, 0 warnings, 0 notes; 1 let stand"));
  CHECK(lines_of(usual.out).size() == 1);
  const Outcome listed = folder.run("tailproof check --stets .");
  CHECK(listed.status == 0);
  CHECK(has(listed.out, "[date-impossible]"));
  CHECK(has(listed.out, "    stet: so the diary has it\n"));
  const Json report = Json::parse(folder.run("tailproof check --stets --format json .").out);
  REQUIRE(report["queries"].size() == 1);
  CHECK(report["queries"][0]["stet"] == "so the diary has it");
  CHECK(report["totals"]["stetted"] == 1);
  CHECK(report["totals"]["error"] == 0);
}

TEST_CASE("a stet reaches no other figure, check, file or folder") {
  const Folder folder;
  SECTION("another block") {
    folder.with("x.md",
                std::string("<!-- stet date-impossible: r -->\n\n") + kSound + "\n" + kImpossible);
  }
  SECTION("another figure") {
    folder.with("x.md", kImpossible)
        .with("stets.csv", "figure,check,reason\nFig. 11,date-impossible,r\n");
  }
  SECTION("another file") {
    folder.with("x.md", kImpossible)
        .with("y.md", kSound)
        .with("stets.csv", "file,check,reason\ny.md,date-impossible,r\n");
  }
  SECTION("another check") {
    folder.with("x.md", kImpossible)
        .with("stets.csv", "figure,check,reason\nFig. 1,weekday-wrong,r\n");
  }
  SECTION("another folder") {
    folder.with("a/x.md", kImpossible)
        .with("b/y.md", kSound)
        .with("b/stets.csv", "figure,check,reason\nFig. 1,date-impossible,r\n");
  }
  const Outcome outcome = folder.run("tailproof check .");
  CHECK(outcome.status == 1);
  CHECK(has(outcome.out, "1 error, 0 warnings, 1 note ("));
}

TEST_CASE("a stet without reason, target or known check is complained of and lets nothing stand") {
  const Folder folder;
  folder.with("x.md", kImpossible);
  const auto complaint = [&](const std::string& row) {
    folder.with("stets.csv", "file,figure,subject,check,reason,by,date\n" + row + "\n");
    const Outcome outcome = folder.run("tailproof check x.md");
    CHECK(outcome.status == 2);
    CHECK(has(outcome.out, "[date-impossible]"));
    return outcome.err;
  };
  CHECK(complaint("x.md,,,date-impossible,,,") ==
        "tailproof: stets.csv:2:1: stet without a reason; write why \"date-impossible\" is to "
        "stand\n");
  CHECK(has(complaint("x.md,,,,r,,"), "stet without a check"));
  CHECK(has(complaint(",,,date-impossible,r,,"), "stet without file, figure or subject"));
  CHECK(has(complaint("x.md,,,date-imposible,r,,"), "\"date-impossible\" does"));
  CHECK(has(complaint("x.md,,,date-impossible,r,,1961-13"), "not an EDTF date"));
}

TEST_CASE("a stet whose check did not run is not called unused") {
  const Folder folder;
  folder.with("x.md", std::string("<!-- stet date-impossible: r -->\n\n") + kSound);
  const Outcome outcome = folder.run("tailproof check --at-least note --skip date-impossible x.md");
  CHECK(outcome.status == 0);
}

}  // namespace tailproof
