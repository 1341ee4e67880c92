#include <algorithm>
#include <catch2/catch.hpp>

#include "unit/ledger/temp_ledger.h"

namespace tailproof {

TEST_CASE("names in cells become the keys that they stand for") {
  TempLedger temp;
  temp.file("units.csv",
            "unit,aliases,parent\n3 Flight,the Gulls,coast wing\n9 Flight,the Terns;Birds,\n"
            "13 Flight,Birds,\nCoast Wing,,\n");
  temp.file("places.csv", "place,aliases,within,theatre\nOrrin,Big Isle,,Home\nVenn,,big isle,\n");
  temp.file("people.csv", "person,aliases\nAda Quill,A. Quill\n");
  temp.file("ranks.csv", "rank,abbreviations\nMate,Mt.\n");
  temp.file("awards.csv", "award,abbreviations\nHarbour Star,HS\n");
  temp.file("types.csv", "type,aliases\nTessel,Orrin Tessel\n");
  temp.file("markings.csv", "marking,aliases\nring-old,old ring\n");
  temp.file("airframes.csv", "serial,type\nQX1001,ORRIN  tessel\n");
  temp.file("histories.csv",
            "serial,kind,unit,place\nqx1001,allotted,The Gulls,VENN\n"
            "QX1001,allotted,Birds,Far Rock\n");
  temp.file("service.csv",
            "person,kind,value\nA. Quill,rank,mt.\nA. Quill,award,Bar to HS\n"
            "A. Quill,unit,the terns\n");
  temp.file(
      "orders.csv",
      "order,action,marking,unit,type\nCO 1,introduces,Old Ring,the gulls;Birds,orrin tessel\n");
  const Ledger ledger = temp.read();
  CHECK(temp.complaints().empty());
  CHECK(ledger.airframe("QX1001")->type == "Tessel");
  CHECK(ledger.histories()[0].serial == "QX1001");
  CHECK(ledger.histories()[0].unit == "3 Flight");
  CHECK(ledger.histories()[0].place == "Venn");
  CHECK(ledger.histories()[1].unit == "Birds");  // of two units: stays
  CHECK(ledger.histories()[1].place == "Far Rock");
  CHECK(ledger.unit("3 Flight")->parent == "Coast Wing");
  CHECK(ledger.place("Venn")->within == "Orrin");
  CHECK(ledger.service()[0].person == "Ada Quill");
  CHECK(ledger.service()[0].value == "Mate");
  CHECK(ledger.service()[1].value == "Bar to Harbour Star");
  CHECK(ledger.service()[2].value == "9 Flight");
  CHECK(ledger.orders()[0].marking == "ring-old");
  CHECK(ledger.orders()[0].units == std::vector<std::string>{"3 Flight", "Birds"});
  CHECK(ledger.orders()[0].types == std::vector<std::string>{"Tessel"});
  CHECK(ledger.orders_of("ring-old").size() == 1);
  CHECK(ledger.service_of("Ada Quill").size() == 3);

  CHECK(ledger.resolve(NameKind::kUnit, "birds").size() == 2);
  CHECK(ledger.resolve(NameKind::kUnit, "the  GULLS") == std::vector<std::string_view>{"3 Flight"});
  CHECK(ledger.resolve(NameKind::kUnit, "nobody").empty());
  CHECK(ledger.resolve(NameKind::kAirframe, "qx1001") == std::vector<std::string_view>{"QX1001"});
  CHECK(ledger.resolve(NameKind::kOrder, "co 1") == std::vector<std::string_view>{"CO 1"});
  CHECK(ledger.award("Bar to Harbour Star") == ledger.award("Harbour Star"));
  CHECK(ledger.award("Second Bar to the Harbour Star") == ledger.award("Harbour Star"));
  CHECK(ledger.award("Harbour Star") != nullptr);
  CHECK(ledger.award("Bar to Nothing") == nullptr);
}

TEST_CASE("names are every key, alias and abbreviation, serials left to the serial forms") {
  TempLedger temp;
  temp.file("ledger.toml", "[[serial_form]]\npattern = 'QX\\d{4}'\n");
  temp.file("airframes.csv", "serial\nQX1001\n");
  temp.file("identities.csv", "serial,identity,kind\nQX1001,Old Tin,nickname\n");
  temp.file("ranks.csv", "rank,abbreviations\nMate,Mt;Mt.;Mate\n");
  temp.file("orders.csv", "order,action,marking\nCO 1,introduces,a\nCO 1,withdraws,b\n");
  const Ledger ledger = temp.read();
  std::vector<std::string> names;
  for (const Name& name : ledger.names()) {
    names.push_back(std::string(name.text) + "=" + std::string(name.key));
  }
  CHECK(names == std::vector<std::string>{"Old Tin=QX1001", "Mate=Mate", "Mt=Mate", "Mt.=Mate",
                                          "CO 1=CO 1"});
}

TEST_CASE("identities are found without regard to case, blanks and hyphens") {
  TempLedger temp;
  temp.file(
      "identities.csv",
      "serial,identity,kind\nQX1001,K7-RB,code\nQX1002,k7 rb,code\nQX1002,Old Tin,nickname\n");
  const Ledger ledger = temp.read();
  CHECK(ledger.bearers_of("K7RB").size() == 2);
  CHECK(ledger.bearers_of("oldtin").size() == 1);
  CHECK(ledger.bearers_of("K7").empty());
  CHECK(ledger.resolve(NameKind::kIdentity, "k7-rb") ==
        std::vector<std::string_view>{"QX1001", "QX1002"});
}

TEST_CASE("units stand below units, places within places, at any depth and in rings") {
  TempLedger temp;
  temp.file("units.csv", "unit,parent\nA,B\nB,C\nC,\nX,Y\nY,X\nZ,Nobody\n");
  temp.file("places.csv", "place,within,theatre\nField,Town,\nTown,Isle,\nIsle,,Home\nR,R,\n");
  const Ledger ledger = temp.read();
  CHECK(ledger.is_unit_within("A", "A"));
  CHECK(ledger.is_unit_within("A", "C"));
  CHECK_FALSE(ledger.is_unit_within("C", "A"));
  CHECK_FALSE(ledger.is_unit_within("X", "A"));
  CHECK(ledger.is_unit_within("Z", "Nobody"));
  CHECK_FALSE(ledger.is_unit_within("", ""));
  CHECK(ledger.is_place_within("Field", "Isle"));
  CHECK_FALSE(ledger.is_place_within("Isle", "Field"));
  CHECK(ledger.theatre_of("Field") == "Home");
  CHECK(ledger.theatre_of("R").empty());
  CHECK(ledger.theatre_of("Nowhere").empty());
}

TEST_CASE("the order of rows changes nothing but their lines") {
  TempLedger temp;
  std::vector<std::string> rows = {"Q1,1941,,allotted,holder,3 Flight\n",
                                   "Q1,1942,,allotted,holder,9 Flight\n",
                                   "Q2,1943,,stored,holder,Yard\n"};
  std::sort(rows.begin(), rows.end());
  do {
    temp.file("histories.csv", "serial,from,to,kind,role,unit\n" + rows[0] + rows[1] + rows[2]);
    const Ledger ledger = temp.read();
    const auto history = ledger.history_of("Q1");
    REQUIRE(history.size() == 2);
    CHECK(history[0]->unit == "3 Flight");
    CHECK(history[0]->spell.to.text() == "1942");
    CHECK(history[1]->unit == "9 Flight");
  } while (std::next_permutation(rows.begin(), rows.end()));
}

}  // namespace tailproof
