#include <catch2/catch.hpp>

#include "unit/ledger/temp_ledger.h"

namespace tailproof {
namespace {

// "from to", a "*" behind when `to` was settled by rule.
std::string ends_of(const Spell& spell) {
  return spell.from.text() + " " + spell.to.text() + (spell.ends_by_rule ? "*" : "");
}

}  // namespace

TEST_CASE("an open history row ends where the next of its role begins") {
  TempLedger temp;
  temp.file("airframes.csv", "serial,struck_off_charge\nQ1,1945-06\n");
  temp.file("histories.csv",
            "serial,from,to,kind,role,unit\n"
            "Q1,1941-01-01,,allotted,holder,3 Flight\n"    // until line 4
            "Q1,1941-03-01,,loaned,,9 Flight\n"            // operator: until line 6
            "Q1,1942-02~,1942-12-31,stored,holder,Yard\n"  //
            "Q1,1941-06-05,,repaint,holder,Yard\n"         // an event, ends nothing
            "Q1,1943-01-01,,allotted,operator,3 Flight\n"  // until struck off
            "Q1,1943-01-01,,allotted,,9 Flight\n"          // holder: until line 8
            "Q1,1944-03-04,,repair,holder,Yard\n"          // an event that ends line 7
            "Q1,,1940-12,accident,,\n"                     // its one date is both
            "Q1,1944-04-01,1944-05-01,allotted,holder,3 Flight\n"
            "Q1,1945-01-01,,instructional,holder,School\n");  // until struck off
  const Ledger ledger = temp.read();
  CHECK(temp.complaints().empty());
  const auto rows = ledger.histories();
  CHECK(ends_of(rows[0].spell) == "1941-01-01 1942-02~*");
  CHECK(ends_of(rows[1].spell) == "1941-03-01 1943-01-01*");
  CHECK(ends_of(rows[2].spell) == "1942-02~ 1942-12-31");
  CHECK(ends_of(rows[3].spell) == "1941-06-05 1941-06-05*");
  CHECK(ends_of(rows[4].spell) == "1943-01-01 1945-06*");
  CHECK(ends_of(rows[5].spell) == "1943-01-01 1944-03-04*");
  CHECK(ends_of(rows[6].spell) == "1944-03-04 1944-03-04*");
  CHECK(ends_of(rows[7].spell) == "1940-12 1940-12");
  CHECK(ends_of(rows[8].spell) == "1944-04-01 1944-05-01");
  CHECK(ends_of(rows[9].spell) == "1945-01-01 1945-06*");
}

TEST_CASE("a loss ends what is open, unless the machine was found again") {
  TempLedger temp;
  temp.file("airframes.csv", "serial,struck_off_charge\nQ1,1945\nQ2,1945\nQ3,\n");
  temp.file("histories.csv",
            "serial,from,to,kind,role,unit\n"
            "Q1,1941-01-01,,allotted,holder,3 Flight\n"
            "Q1,1942-05-05,,lost,,3 Flight\n"
            "Q2,1941-01-01,,allotted,operator,3 Flight\n"
            "Q2,1942-05-05,,lost,,3 Flight\n"
            "Q2,1943-05-05,,stored,holder,Yard\n"
            "Q3,1941-01-01,,allotted,holder,3 Flight\n");
  const Ledger ledger = temp.read();
  CHECK(ends_of(ledger.histories()[0].spell) == "1941-01-01 1942-05-05*");
  CHECK(ends_of(ledger.histories()[2].spell) == "1941-01-01 1945*");
  CHECK(ends_of(ledger.histories()[4].spell) == "1943-05-05 1945*");
  CHECK(ends_of(ledger.histories()[5].spell) == "1941-01-01 ");
  CHECK(ledger.histories()[5].spell.possible().last() == kLastDay);
}

TEST_CASE("history goes on under the other number") {
  TempLedger temp;
  temp.file("airframes.csv",
            "serial,taken_on_charge,struck_off_charge\nF1,1935,1940-02-12\nR1,1940-07-19,1943\n");
  temp.file("identities.csv", "serial,identity,kind\nR1,F1,previous_serial\nF1,R1,later_serial\n");
  temp.file("histories.csv",
            "serial,from,to,kind,role,unit\n"
            "F1,1939-01-01,,allotted,holder,3 Flight\n"
            "R1,1940-10-07,,allotted,holder,9 Flight\n");
  const Ledger ledger = temp.read();
  CHECK(ends_of(ledger.histories()[0].spell) == "1939-01-01 1940-10-07*");
  CHECK(ends_of(ledger.histories()[1].spell) == "1940-10-07 1943*");
  CHECK(ends_of(ledger.identities()[0].spell) == " 1940-07-19*");
  CHECK(ends_of(ledger.identities()[1].spell) == " 1943*");
}

TEST_CASE("open codes end at the next code, nicknames with the machine") {
  TempLedger temp;
  temp.file("airframes.csv", "serial,struck_off_charge\nQ1,1945-01-31\n");
  temp.file("identities.csv",
            "serial,identity,kind,from,to\n"
            "Q1,Old Tin,nickname,1941-01,\n"
            "Q1,K-A,code,1941-02,\n"
            "Q1,Tin Hat,nickname,1942-01,\n"
            "Q1,K-B,code,1943-02-01,\n");
  const Ledger ledger = temp.read();
  CHECK(ends_of(ledger.identities()[0].spell) == "1941-01 1945-01-31*");
  CHECK(ends_of(ledger.identities()[1].spell) == "1941-02 1943-02-01*");
  CHECK(ends_of(ledger.identities()[2].spell) == "1942-01 1945-01-31*");
  CHECK(ends_of(ledger.identities()[3].spell) == "1943-02-01 1945-01-31*");
}

TEST_CASE("open stations end at the next or when the unit is disbanded; service at the next") {
  TempLedger temp;
  temp.file("units.csv", "unit,disbanded\n3 Flight,1944-12\n");
  temp.file("stations.csv",
            "unit,place,from,to\n3 Flight,Venn,1943-01-01,\n3 Flight,Lask,1941-01-01,\n"
            "9 Flight,Lask,1941-01-01,\n");
  temp.file("service.csv",
            "person,kind,value,from,to\n"
            "Ada Quill,rank,Mate,1940,\nAda Quill,unit,3 Flight,1940-02,\n"
            "Ada Quill,rank,Master,1942-01-01,\nAda Quill,award,Harbour Star,1941-06-01,\n"
            "Ada Quill,award,Harbour Star,1942-06-01,\n");
  const Ledger ledger = temp.read();
  CHECK(ends_of(ledger.stations()[0].spell) == "1943-01-01 1944-12*");
  CHECK(ends_of(ledger.stations()[1].spell) == "1941-01-01 1943-01-01*");
  CHECK(ends_of(ledger.stations()[2].spell) == "1941-01-01 ");
  CHECK(ledger.stations_of("3 Flight")[0]->place == "Lask");
  CHECK(ends_of(ledger.service()[0].spell) == "1940 1942-01-01*");
  CHECK(ends_of(ledger.service()[1].spell) == "1940-02 ");
  CHECK(ends_of(ledger.service()[2].spell) == "1942-01-01 ");
  CHECK(ends_of(ledger.service()[3].spell) == "1941-06-01 ");
}

TEST_CASE("an uncertain beginning makes an uncertain end") {
  TempLedger temp;
  temp.file("airframes.csv", "serial\nQ1\n");
  temp.file("histories.csv",
            "serial,from,to,kind,role,unit\n"
            "Q1,1942,,allotted,holder,3 Flight\nQ1,1942-06,,allotted,holder,9 Flight\n"
            "Q1,1942-06,,allotted,holder,Yard\n");
  const Ledger ledger = temp.read();
  CHECK(ends_of(ledger.histories()[0].spell) == "1942 1942-06*");
  CHECK(ledger.histories()[0].spell.certain().empty());
  // Two that begin alike do not end each other.
  CHECK(ends_of(ledger.histories()[1].spell) == "1942-06 ");
  CHECK(ends_of(ledger.histories()[2].spell) == "1942-06 ");
}

}  // namespace tailproof
