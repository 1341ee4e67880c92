#include <catch2/catch.hpp>

#include "unit/ledger/temp_ledger.h"

namespace tailproof {
namespace {

Day day(std::int64_t year, unsigned month, unsigned of_month) {
  return to_day({year, month, of_month});
}

}  // namespace

TEST_CASE("rows that identities.csv links are one machine, whichever row says so") {
  TempLedger temp;
  temp.file("airframes.csv",
            "serial,taken_on_charge,struck_off_charge,fate\n"
            "R201,1940-07-19,1943-09-20,scrapped\n"
            "F103,1935-05-02,1940-02-12,rebuilt as R201\n"
            "F104,1935-07-01,1937-11-22,lost\n");
  temp.file("histories.csv",
            "serial,from,to,kind,role,unit\n"
            "R201,1941-01-01,1943-09-20,allotted,holder,9 Flight\n"
            "F103,1935-05-06,1940-02-11,allotted,holder,3 Flight\n");
  temp.file("photographs.csv", "photograph,depicts\nOC 1,F103;F104\nOC 2,R201;F103\n");
  const char* link = GENERATE("F103,R201,later_serial\n", "R201,F103,previous_serial\n",
                              "R201,f103,previous_serial\n",
                              "F103,R201,later_serial\nR201,F103,previous_serial\n");
  temp.file("identities.csv", std::string("serial,identity,kind\n") + link);
  const Ledger ledger = temp.read();
  CHECK(temp.complaints().empty());

  CHECK(ledger.airframe("F103")->machine == ledger.airframe("R201")->machine);
  CHECK(ledger.airframe("F103")->machine != ledger.airframe("F104")->machine);
  for (const char* serial : {"F103", "R201"}) {
    const auto rows = ledger.machine_of(serial);
    REQUIRE(rows.size() == 2);
    CHECK(rows[0]->serial == "F103");
    CHECK(rows[1]->serial == "R201");
    CHECK(ledger.serials_of(serial).size() == 2);
    const auto history = ledger.history_of(serial);
    REQUIRE(history.size() == 2);
    CHECK(history[0]->unit == "3 Flight");
    CHECK(history[1]->unit == "9 Flight");
    const auto life = ledger.life_of(serial, false);
    REQUIRE(life.has_value());
    CHECK(life->first() == day(1935, 5, 2));
    CHECK(life->last() == day(1943, 9, 20));
    CHECK(life->ranges().size() == 1);
    CHECK(ledger.photographs_of(serial).size() == 2);
  }
  CHECK(ledger.machine_of("F104").size() == 1);
  CHECK(ledger.photographs_of("F104").size() == 1);
}

TEST_CASE("a former or later number without a row of its own leads to the machine") {
  TempLedger temp;
  temp.file("airframes.csv",
            "serial,taken_on_charge,struck_off_charge\n"
            "T401,1938-06-01,1943-08-27\n"
            "B521,1940-03-12,1941-06-19\n"
            "B522,1940-03-12,1941-06-19\n"
            "A401,1943-04-02,1945-05-22\n");
  temp.file("identities.csv",
            "serial,identity,kind,from,to\n"
            "T401,F121,previous_serial,1937-05-10,1938-05-31\n"
            "B521,A216,later_serial,1941-06-19,1945-04-09\n"
            "B522,A217,later_serial,1941-06-20,\n"
            "A401,LP 318,previous_serial,,1943-04-02\n");
  const Ledger ledger = temp.read();
  REQUIRE(ledger.machine_of("F121").size() == 1);
  CHECK(ledger.machine_of("F121")[0]->serial == "T401");
  CHECK(ledger.machine_of("A216")[0]->serial == "B521");
  CHECK(ledger.identities_of("F121").size() == 1);

  // The days under the former number count, and those under the later one.
  CHECK(ledger.life_of("F121", false)->first() == day(1937, 5, 10));
  CHECK(ledger.life_of("A216", false)->last() == day(1945, 4, 9));
  // Nobody knows until when the later number was carried, or since when the foreign one.
  CHECK(ledger.life_of("A217", false)->last() == kLastDay);
  CHECK(ledger.life_of("A401", false)->first() == kFirstDay);
  CHECK(ledger.life_of("A401", false)->last() == day(1945, 5, 22));
}

TEST_CASE("one number used twice by another service makes two machines no one") {
  TempLedger temp;
  temp.file("airframes.csv", "serial,taken_on_charge\nA401,1943\nA402,1944\n");
  temp.file("identities.csv",
            "serial,identity,kind\nA401,22,previous_serial\nA402,22,previous_serial\n");
  const Ledger ledger = temp.read();
  CHECK(ledger.machine_of("A401").size() == 1);
  CHECK(ledger.machine_of("A402").size() == 1);
  CHECK(ledger.machine_of("22").size() == 1);
}

TEST_CASE("a chain of three numbers is one machine") {
  TempLedger temp;
  temp.file("airframes.csv", "serial,taken_on_charge\nC3,\nC1,\nC2,\n");
  temp.file("identities.csv",
            "serial,identity,kind\nC1,X9,later_serial\nC2,X9,previous_serial\n"
            "C3,C2,previous_serial\n");
  const Ledger ledger = temp.read();
  const auto rows = ledger.machine_of("X9");
  REQUIRE(rows.size() == 3);
  CHECK(rows.back()->serial == "C3");
  CHECK(ledger.serials_of("C1").size() == 4);
}

TEST_CASE("a life is as wide as its dates allow, and wider with margins") {
  TempLedger temp;
  temp.file("airframes.csv",
            "serial,taken_on_charge,struck_off_charge\n"
            "Q1,1941-02,1943-11-30~\nQ2,,1944\nQ3,1942-01-05,\nQ4,,\nQ5,1944-01-01,1943-01-01\n");
  const Ledger ledger = temp.read();
  CHECK(ledger.life_of("Q1", false)->first() == day(1941, 2, 1));
  CHECK(ledger.life_of("Q1", false)->last() == day(1943, 11, 30));
  CHECK(ledger.life_of("Q1", true)->last() == day(1943, 12, 3));
  CHECK(ledger.life_of("Q2", false)->first() == kFirstDay);
  CHECK(ledger.life_of("Q2", false)->last() == day(1944, 12, 31));
  CHECK(ledger.life_of("Q3", false)->last() == kLastDay);
  CHECK(ledger.life_of("Q4", false)->is_all());
  CHECK_FALSE(ledger.life_of("Q5", false)->empty());
  CHECK_FALSE(ledger.life_of("Q6", false).has_value());
}

TEST_CASE("history rows of a serial that has no airframe row are found, but make no airframe") {
  TempLedger temp;
  temp.file("histories.csv", "serial,kind\nQ9,lost\n");
  const Ledger ledger = temp.read();
  CHECK(ledger.history_of("Q9").size() == 1);
  CHECK(ledger.machine_of("Q9").empty());
  CHECK_FALSE(ledger.life_of("Q9", false).has_value());
}

}  // namespace tailproof
