#include <catch2/catch.hpp>

#include "unit/ledger/temp_ledger.h"

namespace tailproof {

TEST_CASE("every table and column is read") {
  TempLedger temp;
  temp.file(
      "airframes.csv",
      "serial,type,mark,constructor_number,taken_on_charge,struck_off_charge,fate,source,note\n"
      "QX1001,Tessel,II,T.7,1941-02-03,1944-05~,scrapped,Card QX1001,rebuilt once\n");
  temp.file("identities.csv",
            "serial,identity,kind,from,to,operator,source\n"
            "QX1001,K7+RB,code,1941-03,1942-01-31,3 Flight,Code list\n");
  temp.file("histories.csv",
            "serial,from,to,kind,role,unit,place,detail,source\n"
            "QX1001,1941-02-03,1942-01-31,allotted,holder,3 Flight,Venn,new,Card QX1001\n");
  temp.file("units.csv",
            "unit,aliases,kind,parent,formed,disbanded,replaced_by,source\n"
            "Coast Wing,,wing,,1939,,,\n"
            "3 Flight,No. 3 Flight ; the Gulls,flight,Coast Wing,1940-06-01,1943-01-31,9 Flight,x\n"
            "9 Flight,,flight,,,,,\n");
  temp.file("stations.csv", "unit,place,from,to\n3 Flight,Venn,1940-06-01,1943-01-31\n");
  temp.file("places.csv", "place,aliases,within,theatre\nOrrin,,,Home\nVenn,Venn Field,Orrin,\n");
  temp.file("people.csv", "person,aliases,born,died\nAda Quill,A. Quill;Quill,1915-04-02,1990\n");
  temp.file("service.csv",
            "person,kind,value,from,to\nAda Quill,rank,Mate,1940-01-01,1942-05-31\n");
  temp.file("ranks.csv", "rank,abbreviations,seniority\nMate,Mt;Mt.,3\n");
  temp.file("awards.csv", "award,abbreviations\nHarbour Star,HS\n");
  temp.file("types.csv", "type,aliases,maker\nTessel,Orrin Tessel,Orrin Yards\n");
  temp.file(
      "markings.csv",
      "marking,family,aliases,rings,description\n"
      "ring-old,ring,old ring;first ring,5:3:1,three rings\nring-new,ring,,blue 5;white 3,\n");
  temp.file("orders.csv",
            "order,issued,effective,grace,action,marking,position,theatre,unit,type,replaced_by\n"
            "CO 5/41,1941-04-01,1941-05-01,P3M,withdraws,ring-old,fuselage;fin,Home;Outer,"
            "3 Flight,Tessel,CO 9/43\n"
            "CO 9/43,1943-04-01,1943-05-01,,introduces,ring-new,,,,,\n");
  temp.file("sequences.csv",
            "family,earlier,later,position,theatre,strength\n"
            "ring,ring-old,ring-new,fuselage,Home,always\n");
  temp.file("combinations.csv",
            "marking,position,with_marking,with_position,relation,from,to\n"
            "ring-old,fuselage,ring-new,wing,excludes,1941-05-01,\n");
  temp.file("photographs.csv",
            "photograph,depicts,taken,place,session,credit\n"
            "OC 12,QX1001 ; QX1002,1941-06,Venn,review,Orrin Archive\n");
  const Ledger ledger = temp.read();
  for (const Complaint& complaint : temp.complaints()) FAIL_CHECK(to_line(complaint));

  const Airframe* airframe = ledger.airframe("QX1001");
  REQUIRE(airframe != nullptr);
  CHECK(airframe->type == "Tessel");
  CHECK(airframe->mark == "II");
  CHECK(airframe->constructor_number == "T.7");
  CHECK(airframe->taken_on_charge.text() == "1941-02-03");
  CHECK(airframe->struck_off_charge.text() == "1944-05~");
  CHECK(airframe->fate == "scrapped");
  CHECK(airframe->row.table == "airframes.csv");
  CHECK(airframe->row.line == 2);
  CHECK(airframe->row.source == "Card QX1001");
  CHECK(airframe->row.note == "rebuilt once");

  REQUIRE(ledger.identities().size() == 1);
  CHECK(ledger.identities()[0].operator_unit == "3 Flight");
  CHECK(ledger.identities()[0].spell.to.text() == "1942-01-31");
  REQUIRE(ledger.histories().size() == 1);
  CHECK(ledger.histories()[0].detail == "new");
  CHECK(ledger.histories()[0].place == "Venn");
  const Unit* unit = ledger.unit("3 Flight");
  REQUIRE(unit != nullptr);
  CHECK(unit->aliases == std::vector<std::string>{"No. 3 Flight", "the Gulls"});
  CHECK(unit->replaced_by == "9 Flight");
  CHECK(unit->row.line == 3);
  CHECK(ledger.stations().size() == 1);
  CHECK(ledger.place("Venn")->within == "Orrin");
  CHECK(ledger.person("Ada Quill")->died.text() == "1990");
  CHECK(ledger.service()[0].value == "Mate");
  CHECK(ledger.rank("Mate")->seniority == 3);
  CHECK(ledger.award("Harbour Star") != nullptr);
  CHECK(ledger.type("Tessel")->maker == "Orrin Yards");
  CHECK(ledger.marking("ring-old")->rings == "5:3:1");
  REQUIRE(ledger.orders().size() == 2);
  const Order& order = ledger.orders()[0];
  CHECK(order.action == OrderAction::kWithdraws);
  CHECK(order.grace.months == 3);
  CHECK(order.grace.days == 0);
  CHECK(order.positions == std::vector<std::string>{"fuselage", "fin"});
  CHECK(order.theatres == std::vector<std::string>{"Home", "Outer"});
  CHECK(order.units == std::vector<std::string>{"3 Flight"});
  CHECK(order.types == std::vector<std::string>{"Tessel"});
  CHECK(order.replaced_by == std::vector<std::string>{"CO 9/43"});
  CHECK(ledger.orders()[1].positions.empty());
  CHECK(ledger.sequences()[0].always);
  CHECK_FALSE(ledger.combinations()[0].requires_it);
  CHECK(ledger.combinations()[0].with_position == "wing");
  CHECK(ledger.photograph("OC 12")->depicts == std::vector<std::string>{"QX1001", "QX1002"});
  CHECK(ledger.has_table("photographs"));
  CHECK(ledger.has_table("photographs.csv"));
}

TEST_CASE("a ledger without any table is no evidence and no fault") {
  TempLedger temp;
  const Ledger ledger = temp.read();
  CHECK(temp.complaints().empty());
  CHECK(ledger.airframes().empty());
  CHECK_FALSE(ledger.has_table("airframes"));
  CHECK(ledger.machine_of("QX1001").empty());
  CHECK_FALSE(ledger.life_of("QX1001", true).has_value());
  CHECK(ledger.path() == temp.path());
  CHECK(empty_ledger().path().empty());
  CHECK(empty_ledger().names().empty());
}

TEST_CASE("columns may stand in any order, with capitals, a byte-order mark and CR LF") {
  TempLedger temp;
  temp.file("airframes.csv",
            "\xEF\xBB\xBFsource, Type ,SERIAL,struck_off_charge,mark\r\n"
            "Card 1,Tessel,QX1001,1944,II\r\n"
            "\"Card\r\n2\",Tessel, QX1002 ,,\"\"\r\n"
            ",,,,\r\n"
            "\r\n"
            "Card 3,Tessel,QX1003,1945,I\r\n");
  const Ledger ledger = temp.read();
  CHECK(temp.complaints().empty());
  REQUIRE(ledger.airframes().size() == 3);
  CHECK(ledger.airframe("QX1001")->mark == "II");
  CHECK(ledger.airframe("QX1001")->row.line == 2);
  CHECK(ledger.airframe("QX1002")->row.line == 3);
  CHECK(ledger.airframe("QX1002")->row.source == "Card\r\n2");
  CHECK(ledger.airframe("QX1003")->row.line == 7);
}

TEST_CASE("an unknown column is a note, the rows count") {
  TempLedger temp;
  temp.file("units.csv", "unit,colour,kind\n3 Flight,red,flight\n");
  const Ledger ledger = temp.read();
  CHECK(temp.complaints().size() == 1);
  CHECK(temp.complaints_with("units.csv:1:6: column \"colour\" is none of this table", true) == 1);
  CHECK(ledger.unit("3 Flight")->kind == "flight");
}

TEST_CASE("a column that stands twice is a complaint, the first counts") {
  TempLedger temp;
  temp.file("units.csv", "unit,kind,kind\n3 Flight,flight,wing\n");
  const Ledger ledger = temp.read();
  CHECK(temp.complaints_with("units.csv:1:11: column \"kind\" stands twice") == 1);
  CHECK(ledger.unit("3 Flight")->kind == "flight");
}

TEST_CASE("a table without its key column is one complaint and empty, the others count") {
  TempLedger temp;
  temp.file("histories.csv", "from,to,unit\n1941,1942,3 Flight\n1942,,3 Flight\n");
  temp.file("units.csv", "unit\n3 Flight\n");
  const Ledger ledger = temp.read();
  CHECK(temp.complaints().size() == 1);
  CHECK(temp.complaints_with("histories.csv:1: has no column serial, kind") == 1);
  CHECK(ledger.histories().empty());
  CHECK(ledger.units().size() == 1);
}

TEST_CASE("a bad cell is one complaint with its place") {
  TempLedger temp;
  temp.file("airframes.csv",
            "serial,type,taken_on_charge\n"
            "QX1001,Tessel,1942-13\n"
            ",Tessel,1942\n"
            "QX1003,Tessel,1942\n"
            "QX1003,Tessel,1943\n"
            "QX1004,Tessel,1942,too,many\n"
            "QX1005\n");
  temp.file("identities.csv", "serial,identity,kind\nQX1003,A,codeword\nQX1003,,code\n");
  temp.file("histories.csv", "serial,kind,role\nQX1003,allotted,owner\nQX1003,sold,holder\n");
  temp.file("ranks.csv", "rank,seniority\nMate,third\nMaster,0\nPilot,2\n");
  temp.file("orders.csv",
            "order,action,grace,effective\nCO 1,introduces,3 months,\nCO 2,repeals,,\n"
            "CO 3,withdraws,P3M,May 1941\n");
  temp.file("sequences.csv", "earlier,later,strength\na,b,often\n,b,always\n");
  temp.file("combinations.csv", "marking,with_marking,relation\na,b,likes\n");
  const Ledger ledger = temp.read();

  CHECK(temp.complaints_with("airframes.csv:2:15: taken_on_charge \"1942-13\" is no EDTF date") ==
        1);
  CHECK(ledger.airframe("QX1001")->taken_on_charge.is_unknown());
  CHECK(temp.complaints_with("airframes.csv:3:1: serial is empty") == 1);
  CHECK(temp.complaints_with("airframes.csv:5:1: \"QX1003\" has a row already, in line 4") == 1);
  CHECK(ledger.airframe("QX1003")->taken_on_charge.text() == "1942");
  CHECK(temp.complaints_with("airframes.csv:6:20: the row has 5 cells, the header 3") == 1);
  CHECK(ledger.airframe("QX1004") == nullptr);
  CHECK(temp.complaints_with("airframes.csv:7: 1 row has fewer cells", true) == 1);
  CHECK(ledger.airframe("QX1005") != nullptr);

  CHECK(temp.complaints_with("identities.csv:2:10: kind \"codeword\" is not known here") == 1);
  CHECK(temp.complaints_with("identities.csv:3:8: identity is empty") == 1);
  CHECK(ledger.identities().empty());
  CHECK(temp.complaints_with("histories.csv:2:17: role \"owner\" is not known here") == 1);
  CHECK(temp.complaints_with("histories.csv:3:8: kind \"sold\" is not known here") == 1);
  REQUIRE(ledger.histories().size() == 1);
  CHECK(ledger.histories()[0].role.empty());
  CHECK(temp.complaints_with("ranks.csv:2:6: seniority \"third\"") == 1);
  CHECK(temp.complaints_with("ranks.csv:3:8: seniority \"0\"") == 1);
  CHECK(ledger.ranks().size() == 3);
  CHECK(temp.complaints_with("orders.csv:2:17: grace \"3 months\"") == 1);
  CHECK(temp.complaints_with("orders.csv:3:6: action \"repeals\"") == 1);
  CHECK(temp.complaints_with("orders.csv:4:20: effective \"May 1941\"") == 1);
  CHECK(ledger.orders().size() == 2);
  CHECK(temp.complaints_with("sequences.csv:2:5: strength \"often\"") == 1);
  CHECK(temp.complaints_with("sequences.csv:3:1: earlier is empty") == 1);
  CHECK(ledger.sequences().size() == 1);
  CHECK(temp.complaints_with("combinations.csv:2:5: relation \"likes\"") == 1);
  CHECK(temp.complaints().size() == 17);
}

TEST_CASE("a row of a million cells is one short complaint") {
  TempLedger temp;
  std::string text = "unit,kind\n3 Flight,flight\n4 Flight";
  for (int i = 0; i < 1000000; ++i) text += ",x";
  temp.file("units.csv", text + "\n5 Flight,flight\n");
  const Ledger ledger = temp.read();
  CHECK(temp.complaints().size() == 1);
  CHECK(temp.complaints_with("units.csv:3:12: the row has 1000001 cells, the header 2") == 1);
  CHECK(temp.complaints()[0].message.size() < 200);
  CHECK(ledger.units().size() == 2);
}

TEST_CASE("a cell of a million letters is quoted short") {
  TempLedger temp;
  temp.file("airframes.csv", "serial,taken_on_charge\nQX1001," + std::string(1000000, '9') + "\n");
  const Ledger ledger = temp.read();
  REQUIRE(temp.complaints_with("taken_on_charge \"999") == 1);
  CHECK(ledger.airframe("QX1001") != nullptr);
}

TEST_CASE("a table that cannot be read is a complaint, the others count") {
  TempLedger temp;
  temp.file("units.csv", "unit\n3 Flight\n");
  temp.file("ledger.toml", "[closed]\ntables = ['people']\n");
  SECTION("not UTF-8") { temp.file("people.csv", "person\nAda \xFF\n"); }
  SECTION("empty") { temp.file("people.csv", ""); }
  SECTION("a folder") { std::filesystem::create_directory(temp.path("people.csv")); }
  const Ledger ledger = temp.read();
  CHECK(temp.complaints_with("people.csv") == 1);
  CHECK(ledger.units().size() == 1);
  CHECK(ledger.people().empty());
  CHECK_FALSE(ledger.is_closed_table("people"));
}

TEST_CASE("the seasons of the southern half are those of its own year") {
  TempLedger temp;
  temp.file("airframes.csv", "serial,taken_on_charge\nQX1001,1942-22\n");
  const Ledger north = temp.read();
  temp.file("ledger.toml", "[defaults]\nhemisphere = 'south'\n");
  const Ledger south = temp.read();
  CHECK(north.airframe("QX1001")->taken_on_charge.days() !=
        south.airframe("QX1001")->taken_on_charge.days());
}

}  // namespace tailproof
