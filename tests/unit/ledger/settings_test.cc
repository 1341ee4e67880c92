#include <catch2/catch.hpp>

#include "unit/ledger/temp_ledger.h"

namespace tailproof {

TEST_CASE("every setting of ledger.toml is read") {
  TempLedger temp;
  temp.file("ledger.toml", R"(
title = "Histories of the Orrin Coast Guard"
air_arm = "Orrin Coast Guard"
[[serial_form]]
pattern = 'QX[ -]?(\d{4})'
serial = 'QX\1'
closed = ["QX1001..QX1400", "QX2001..QX2010"]
[[serial_form]]
pattern = '(\d)(\d{5})'
serial = '4\1-\2'
where = "tail"
[closed]
tables = ["units", "ranks.csv"]
[margins]
day = "P5D"
month = "P2M"
year = "P18M"
[defaults]
position = "fuselage"
theatre = "Home"
hemisphere = "south"
date_order = "mdy"
century = 1800
)");
  temp.file("units.csv", "unit\n3 Flight\n").file("ranks.csv", "rank\n");
  const Ledger ledger = temp.read();
  CHECK(temp.complaints().empty());
  const LedgerSettings& settings = ledger.settings();
  CHECK(settings.title == "Histories of the Orrin Coast Guard");
  CHECK(settings.air_arm == "Orrin Coast Guard");
  REQUIRE(settings.serial_forms.size() == 2);
  CHECK(settings.serial_forms[0].pattern == R"(QX[ -]?(\d{4}))");
  CHECK(settings.serial_forms[0].rewrite == R"(QX\1)");
  CHECK(settings.serial_forms[0].closed.size() == 2);
  CHECK(settings.serial_forms[0].closed[0] ==
        std::pair<std::string, std::string>("QX1001", "QX1400"));
  CHECK_FALSE(settings.serial_forms[0].tail_only);
  CHECK(settings.serial_forms[1].tail_only);
  CHECK(settings.margins.day == 5);
  CHECK(settings.margins.month == 61);
  CHECK(settings.margins.year == 548);
  CHECK(settings.position == "fuselage");
  CHECK(settings.theatre == "Home");
  CHECK(settings.hemisphere == Hemisphere::kSouth);
  CHECK(settings.date_order == DateOrder::kMonthDayYear);
  CHECK(settings.century == 1800);
  CHECK(ledger.is_closed_table("units"));
  CHECK(ledger.is_closed_table("ranks"));
  CHECK_FALSE(ledger.is_closed_table("types"));
  CHECK(ledger.is_in_closed_range("QX2010"));
  CHECK_FALSE(ledger.is_in_closed_range("QX2011"));
}

TEST_CASE("an empty ledger.toml leaves the defaults") {
  TempLedger temp;
  const Ledger ledger = temp.read();
  CHECK(temp.complaints().empty());
  CHECK(ledger.settings().margins.month == 31);
  CHECK(ledger.settings().century == 1900);
  CHECK(ledger.settings().serial_forms.empty());
  CHECK_FALSE(ledger.is_closed_table("units"));
}

TEST_CASE("a serial form that RE2 rejects is left out and the others count") {
  TempLedger temp;
  temp.file("ledger.toml",
            "[[serial_form]]\npattern = 'QX(\\d{4}'\nserial = 'QX\\1'\n"
            "[[serial_form]]\npattern = 'T\\d{3}'\nserial = 'T\\1'\n"
            "[[serial_form]]\nserial = 'T\\1'\n"
            "[[serial_form]]\npattern = 'K(\\d{3})'\nclosed = ['K100..L200', 'K100..K200']\n");
  const Ledger ledger = temp.read();
  REQUIRE(ledger.settings().serial_forms.size() == 1);
  CHECK(ledger.settings().serial_forms[0].pattern == "K(\\d{3})");
  CHECK(ledger.settings().serial_forms[0].rewrite == "\\0");
  CHECK(temp.complaints().size() == 4);
  CHECK(temp.complaints_with("ledger.toml:2:11: serial_form.pattern") == 1);
  CHECK(temp.complaints_with("serial_form.serial 'T\\1' does not fit the pattern") == 1);
  CHECK(temp.complaints_with("serial_form has no pattern") == 1);
  CHECK(temp.complaints_with("\"K100..L200\" has ends of different shapes") == 1);
  CHECK(ledger.is_in_closed_range("K150"));
}

TEST_CASE("each bad setting is one complaint with line and key, and its default stays") {
  TempLedger temp;
  temp.file("ledger.toml",
            "title = 5\n"
            "[closed]\ntables = ['units', 'aeroplanes', 3]\n"
            "[margins]\nday = '3 days'\n"
            "[defaults]\nhemisphere = 'east'\ndate_order = 'dym'\ncentury = 1943\n");
  temp.file("units.csv", "unit\n3 Flight\n");
  const Ledger ledger = temp.read();
  CHECK(temp.complaints().size() == 7);
  CHECK(temp.complaints_with("ledger.toml:1:9: title must be a string") == 1);
  CHECK(temp.complaints_with("closed.tables \"aeroplanes\" is no table") == 1);
  CHECK(temp.complaints_with("closed.tables must hold strings only") == 1);
  CHECK(temp.complaints_with("ledger.toml:5:7: margins.day is \"3 days\"") == 1);
  CHECK(temp.complaints_with("defaults.hemisphere is \"east\"") == 1);
  CHECK(temp.complaints_with("defaults.date_order is \"dym\"") == 1);
  CHECK(temp.complaints_with("defaults.century must be a whole century") == 1);
  CHECK(ledger.settings().margins.day == 3);
  CHECK(ledger.settings().century == 1900);
  CHECK(ledger.is_closed_table("units"));
}

TEST_CASE("serial forms of the wrong kind are complaints, and the others count") {
  TempLedger temp;
  temp.file(
      "ledger.toml",
      "serial_form = ['QX', {pattern = 'K(\\d{3})', where = 'wing'}]\n[closed]\ntables = 7\n");
  const Ledger ledger = temp.read();
  REQUIRE(ledger.settings().serial_forms.size() == 1);
  CHECK(temp.complaints_with("serial_form must hold tables only") == 1);
  CHECK(temp.complaints_with("serial_form.where is \"wing\"") == 1);
  CHECK(temp.complaints_with("closed.tables must be an array of strings") == 1);
  CHECK(temp.complaints().size() == 3);
}

TEST_CASE("a serial form that is no table at all is one complaint") {
  TempLedger temp;
  temp.file("ledger.toml", "serial_form = 'QX'\n");
  CHECK(temp.read().settings().serial_forms.empty());
  CHECK(temp.complaints_with("serial_form must be an array of tables") == 1);
  CHECK(temp.complaints().size() == 1);
}

TEST_CASE("an unknown setting is a note") {
  TempLedger temp;
  temp.file("ledger.toml", "colour = 'red'\n[margins]\nhour = 'P1D'\n");
  const Ledger ledger = temp.read();
  CHECK(temp.complaints_with("colour is no setting", true) == 1);
  CHECK(temp.complaints_with("margins.hour is no setting", true) == 1);
  CHECK(temp.complaints().size() == 2);
}

TEST_CASE("a closed table that the ledger lacks is open, and a note says so") {
  TempLedger temp;
  temp.file("ledger.toml", "[closed]\ntables = ['units']\n");
  const Ledger ledger = temp.read();
  CHECK_FALSE(ledger.is_closed_table("units"));
  CHECK(temp.complaints_with("closed.tables names units", true) == 1);
}

TEST_CASE("what is no ledger fails with one clear line") {
  TempLedger temp;
  Complaints complaints;
  SECTION("no such path") {
    const auto ledger = read_ledger(temp.path("nowhere"), complaints);
    REQUIRE_FALSE(ledger.has_value());
    CHECK(to_line(ledger.error()).find("nowhere: no such ledger") != std::string::npos);
  }
  SECTION("a folder without ledger.toml") {
    temp.without("ledger.toml").file("units.csv", "unit\n3 Flight\n");
    const auto ledger = read_ledger(temp.path(), complaints);
    REQUIRE_FALSE(ledger.has_value());
    CHECK(ledger.error().message.find("has no ledger.toml") != std::string::npos);
  }
  SECTION("TOML that cannot be read") {
    temp.file("ledger.toml", "title = \"x\"\n[closed\n");
    const auto ledger = read_ledger(temp.path(), complaints);
    REQUIRE_FALSE(ledger.has_value());
    CHECK(ledger.error().line == 2);
    CHECK(ledger.error().message.find("is no valid TOML") != std::string::npos);
  }
  SECTION("ledger.toml that is no text") {
    temp.file("ledger.toml", "title = \"\xFF\xFE\"\n");
    CHECK_FALSE(read_ledger(temp.path(), complaints).has_value());
  }
  SECTION("ledger.toml that is a folder") {
    temp.without("ledger.toml");
    std::filesystem::create_directory(temp.path("ledger.toml"));
    CHECK_FALSE(read_ledger(temp.path(), complaints).has_value());
  }
  SECTION("a file that is neither folder nor database") {
    temp.file("book.md", "# A book\n\nwith more text than a database has in its head ..........\n");
    const auto ledger = read_ledger(temp.path("book.md"), complaints);
    REQUIRE_FALSE(ledger.has_value());
    CHECK(ledger.error().message.find("is no ledger") != std::string::npos);
  }
  SECTION("an empty file") {
    temp.file("empty.db", "");
    CHECK_FALSE(read_ledger(temp.path("empty.db"), complaints).has_value());
  }
  CHECK(complaints.empty());
}

}  // namespace tailproof
