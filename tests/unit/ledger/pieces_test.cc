#include <catch2/catch.hpp>

#include "ledger/closed_ranges.h"
#include "ledger/duration.h"
#include "ledger/text.h"

namespace tailproof {

TEST_CASE("durations are reckoned in days, rounded up") {
  CHECK(read_duration("P1Y2M")->months == 14);
  CHECK(read_duration("P2W")->days == 14);
  CHECK_FALSE(read_duration("P1.5M").has_value());
  CHECK(duration_days("P3D") == 3);
  CHECK(duration_days("P2W") == 14);
  CHECK(duration_days("P1M") == 31);
  CHECK(duration_days("P3M") == 92);
  CHECK(duration_days("P1Y") == 366);
  CHECK(duration_days("P1Y6M") == 548);
  CHECK(duration_days("P0D") == 0);
  for (const char* wrong : {"", "P", "3D", "P3", "PD", "P1.5M", "PT3H", "P1M1Y", "P1D1D", "-P1D",
                            "P3d", "P99999999D"}) {
    INFO(wrong);
    CHECK_FALSE(duration_days(wrong).has_value());
  }
}

TEST_CASE("names are compared without case and runs of blanks, and with plain hyphens") {
  CHECK(folded_name("  Lake \t SÉDDA ") == folded_name("lake sédda"));
  CHECK(folded_name("O\xE2\x80\x99Korr") == folded_name("o'korr"));
  CHECK(folded_name("A\xE2\x80\x91"
                    "12") == "a-12");
  CHECK(folded_name("No.\xC2\xA0"
                    "5") == "no. 5");
  CHECK(folded_name("ŽLAB Ÿ") == folded_name("žlab ÿ"));
  CHECK(folded_name("Lesk") != folded_name("Lešk"));
  CHECK(folded_name("\xF0\x9F\x9B\xA9 Kite").ends_with(" kite"));
  CHECK(folded_identity("K7 - rb") == "k7rb");
  CHECK(folded_identity("K7+RB") == "k7+rb");
}

TEST_CASE("a list cell is cut at semicolons and trimmed") {
  CHECK(split_list(" a ; b c;; d") == std::vector<std::string>{"a", "b c", "d"});
  CHECK(split_list("").empty());
  CHECK(split_list(" ; ;").empty());
  CHECK(trimmed("\xC2\xA0 x \r\n") == "x");
}

TEST_CASE("a closed range holds the serials between its ends and no others") {
  ClosedRanges ranges;
  REQUIRE(ranges.add("QX1001..QX1400").empty());
  REQUIRE(ranges.add("C-101..C-140").empty());
  REQUIRE(ranges.add("44-99013..44-99040").empty());
  REQUIRE(ranges.add("F101 .. F130").empty());
  REQUIRE(ranges.add("K98A..K120A").empty());
  REQUIRE(ranges.add("Z007").empty());
  for (const char* inside : {"QX1001", "QX1400", "QX1200", "C-101", "C-140", "44-99013", "44-99040",
                             "F101", "K98A", "K99A", "K100A", "K120A", "Z007"}) {
    INFO(inside);
    CHECK(ranges.contain(inside));
  }
  for (const char* outside :
       {"QX1000", "QX1401", "QX01001",  "QX1001A", "X1001",
        "C101",   "C-0101", "44-99012", "44-9901", "45-99013",
        "F100",   "F131",   "K98",      "K121A",   "K098A",
        "Z008",   "Z7",     "",         "QX",      "QX99999999999999999999999"}) {
    INFO(outside);
    CHECK_FALSE(ranges.contain(outside));
  }
}

TEST_CASE("a range whose ends do not belong together is refused with the reason") {
  ClosedRanges ranges;
  CHECK(ranges.add("QX1001..QY1400").find("different shapes") != std::string::npos);
  CHECK(ranges.add("QX1001..QX1400A").find("different shapes") != std::string::npos);
  CHECK(ranges.add("44-10..45-20").find("different shapes") != std::string::npos);
  CHECK(ranges.add("QX1400..QX1001").find("backwards") != std::string::npos);
  CHECK(ranges.add("QX1001..").find("end missing") != std::string::npos);
  CHECK(ranges.add("QX098..QX1400").find("leading zeros") != std::string::npos);
  CHECK(ranges.add("QX..QX").find("no digits") != std::string::npos);
  CHECK_FALSE(ranges.contain("QX1001"));
}

}  // namespace tailproof
