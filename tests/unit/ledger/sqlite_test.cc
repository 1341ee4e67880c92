#include <sqlite3.h>

#include <catch2/catch.hpp>

#include "unit/ledger/temp_ledger.h"

namespace tailproof {
namespace {

void make_database(const std::string& path, const std::string& sql) {
  sqlite3* handle = nullptr;
  REQUIRE(sqlite3_open(path.c_str(), &handle) == SQLITE_OK);
  char* error = nullptr;
  const int status = sqlite3_exec(handle, sql.c_str(), nullptr, nullptr, &error);
  INFO((error != nullptr ? error : ""));
  CHECK(status == SQLITE_OK);
  sqlite3_free(error);
  sqlite3_close(handle);
}

const char* const kTables = R"(
CREATE TABLE airframes (source TEXT, serial TEXT, type TEXT, taken_on_charge TEXT);
INSERT INTO airframes (rowid, source, serial, type, taken_on_charge) VALUES
  (7, 'Card', 'QX1001', 'Tessel', '1941-02-03'), (9, NULL, 'QX1002', 'Tessel', 1942),
  (11, NULL, 'QX1003', NULL, 'spring');
CREATE TABLE ranks (rank TEXT PRIMARY KEY, seniority INTEGER) WITHOUT ROWID;
INSERT INTO ranks VALUES ('Mate', 3), ('Boy', 1);
CREATE TABLE all_units (name TEXT);
INSERT INTO all_units VALUES ('3 Flight');
CREATE VIEW units AS SELECT name AS unit, 'flight' AS kind FROM all_units;
)";

}  // namespace

TEST_CASE("a database holds the same tables, its rowid stands for the line") {
  TempLedger temp;
  temp.without("ledger.toml");
  make_database(temp.path("book.db"),
                std::string(kTables) +
                    "CREATE TABLE ledger (toml TEXT);"
                    "INSERT INTO ledger VALUES ('title = \"In a database\"');");
  Complaints complaints;
  const auto read = read_ledger(temp.path("book.db"), complaints);
  REQUIRE(read.has_value());
  const Ledger& ledger = read.value();
  CHECK(ledger.settings().title == "In a database");
  CHECK(ledger.path() == temp.path("book.db"));
  REQUIRE(ledger.airframes().size() == 3);
  const Airframe* airframe = ledger.airframe("QX1001");
  REQUIRE(airframe != nullptr);
  CHECK(airframe->row.table == "airframes");
  CHECK(airframe->row.line == 7);
  CHECK(airframe->row.source == "Card");
  CHECK(ledger.airframe("QX1002")->taken_on_charge.text() == "1942");
  CHECK(ledger.airframe("QX1002")->row.line == 9);
  CHECK(ledger.rank("Mate")->seniority == 3);
  CHECK(ledger.unit("3 Flight")->kind == "flight");
  CHECK_FALSE(ledger.has_table("people"));
  REQUIRE(complaints.size() == 1);
  CHECK(to_line(complaints[0]).find("book.db(airframes):11:4: taken_on_charge \"spring\"") !=
        std::string::npos);
}

TEST_CASE("the settings of a database may stand beside it") {
  TempLedger temp;
  temp.without("ledger.toml");
  make_database(temp.path("book.db"), kTables);
  Complaints complaints;
  SECTION("under its own name") {
    temp.file("book.toml", "title = 'beside'\n");
    CHECK(read_ledger(temp.path("book.db"), complaints).value().settings().title == "beside");
    CHECK(complaints.size() == 1);
  }
  SECTION("as ledger.toml") {
    temp.file("ledger.toml", "title = 'beside'\n");
    CHECK(read_ledger(temp.path("book.db"), complaints).value().settings().title == "beside");
  }
  SECTION("nowhere, which a note tells") {
    const auto ledger = read_ledger(temp.path("book.db"), complaints);
    REQUIRE(ledger.has_value());
    REQUIRE_FALSE(complaints.empty());
    CHECK(complaints[0].is_note);
    CHECK(complaints[0].message.find("has no settings") != std::string::npos);
    // Without a serial form, serials are known by their spelling.
    CHECK(ledger.value().names().front().text == "QX1001");
  }
}

TEST_CASE("a database without ledger tables, or cut short, is no ledger") {
  TempLedger temp;
  Complaints complaints;
  make_database(temp.path("other.db"), "CREATE TABLE letters (sender TEXT);");
  CHECK_FALSE(read_ledger(temp.path("other.db"), complaints).has_value());
  temp.file("cut.db", std::string("SQLite format 3\0", 16) + "and no more");
  CHECK_FALSE(read_ledger(temp.path("cut.db"), complaints).has_value());
}

TEST_CASE("text in a database that is not UTF-8 is one complaint, the cell is empty") {
  TempLedger temp;
  make_database(temp.path("book.db"),
                "CREATE TABLE units (unit TEXT, kind TEXT);"
                "INSERT INTO units VALUES ('3 Flight', CAST(x'66FF' AS TEXT));");
  Complaints complaints;
  const auto ledger = read_ledger(temp.path("book.db"), complaints);
  REQUIRE(ledger.has_value());
  CHECK(ledger.value().unit("3 Flight")->kind.empty());
  REQUIRE(complaints.size() == 1);
  CHECK(complaints[0].message.find("no UTF-8") != std::string::npos);
}

}  // namespace tailproof
