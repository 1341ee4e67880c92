#include "ledger/audit.h"

#include <algorithm>
#include <catch2/catch.hpp>

#include "unit/ledger/temp_ledger.h"

namespace tailproof {
namespace {

// "histories.csv:3 message", warnings with "?" before the message.
std::vector<std::string> findings_of(TempLedger& temp) {
  const Ledger ledger = temp.read();
  for (const Complaint& complaint : temp.complaints()) FAIL_CHECK(to_line(complaint));
  std::vector<std::string> out;
  for (const AuditFinding& finding : audit(ledger)) {
    if (finding.note_only) continue;  // of what these small ledgers lack
    REQUIRE_FALSE(finding.rows.empty());
    for (const AuditRow& row : finding.rows) {
      CHECK(row.line > 0);
      CHECK_FALSE(row.says.empty());
    }
    CHECK(finding.message.find("; ") != std::string::npos);  // says what to do
    out.push_back(finding.rows[0].table + ":" + std::to_string(finding.rows[0].line) + " " +
                  (finding.warning_only ? "?" : "") + finding.message);
  }
  return out;
}

// Whether there is one finding, at that row, whose message has this text.
bool is_only(const std::vector<std::string>& findings, std::string_view row,
             std::string_view text) {
  std::string all;
  for (const std::string& finding : findings) all += finding + "\n";
  INFO(all);
  CHECK(findings.size() == 1);
  return findings.size() == 1 && findings[0].starts_with(row) &&
         findings[0].find(text) != std::string::npos;
}

}  // namespace

TEST_CASE("two holders on more than one certain day are a finding") {
  TempLedger temp;
  temp.file("airframes.csv", "serial\nQ1\n");
  const std::string head =
      "serial,from,to,kind,role,unit\nQ1,1941-01-01,1942-03-31,allotted,holder,3 Flight\n";
  SECTION("they overlap") {
    temp.file("histories.csv", head + "Q1,1942-03-01,1943-01-01,stored,holder,Yard\n");
    CHECK(is_only(findings_of(temp), "histories.csv:3 Q1 is held by Yard and by 3 Flight (line 2)",
                  "1942-03-01 to 1942-03-31"));
  }
  SECTION("an empty role of a row that puts it in somebody's hands is a holder") {
    temp.file("histories.csv", head + "Q1,1942-03-01,1943-01-01,stored,,Yard\n");
    CHECK(findings_of(temp).size() == 1);
  }
  SECTION("a hand-over on one day is none") {
    temp.file("histories.csv", head + "Q1,1942-03-31,1943-01-01,stored,holder,Yard\n");
    CHECK(findings_of(temp).empty());
  }
  SECTION("an operator is no holder, an event neither") {
    temp.file("histories.csv", head +
                                   "Q1,1942-03-01,1943-01-01,allotted,operator,9 Flight\n"
                                   "Q1,1942-02-01,1942-02-09,loaned,,9 Flight\n"
                                   "Q1,1942-01-01,1942-01-09,repaint,holder,Yard\n");
    CHECK(findings_of(temp).empty());
  }
  SECTION("uncertain dates may fit") {
    temp.file("histories.csv", head + "Q1,1942-03,1943-01-01,stored,holder,Yard\n");
    CHECK(findings_of(temp).empty());
  }
  SECTION("a wing and its flight hold it together") {
    temp.file("units.csv", "unit,parent\nWing,\n3 Flight,Wing\n");
    temp.file("histories.csv", head + "Q1,1942-03-01,1943-01-01,allotted,holder,Wing\n");
    CHECK(findings_of(temp).empty());
  }
  SECTION("an end settled by rule never overlaps") {
    temp.file("histories.csv",
              "serial,from,to,kind,role,unit\nQ1,1941-01-01,,allotted,holder,3 Flight\n"
              "Q1,1942-03-01,,stored,holder,Yard\n");
    CHECK(findings_of(temp).empty());
  }
  SECTION("both numbers of one machine are looked at together") {
    temp.file("airframes.csv", "serial\nQ1\nR1\n");
    temp.file("identities.csv", "serial,identity,kind\nQ1,R1,later_serial\n");
    temp.file("histories.csv", head + "R1,1942-03-01,1943-01-01,stored,holder,Yard\n");
    CHECK(findings_of(temp).size() == 1);
  }
}

TEST_CASE("dates that run backwards are findings, only warnings where a margin saves them") {
  TempLedger temp;
  SECTION("an airframe") {
    temp.file("airframes.csv",
              "serial,taken_on_charge,struck_off_charge\nQ1,1943-05-01,1943-04-01\n"
              "Q2,1943-05,1943-05-01\n");
    CHECK(is_only(findings_of(temp), "airframes.csv:2 Q1 has struck_off_charge (1943-04-01) before",
                  "taken_on_charge (1943-05-01)"));
  }
  SECTION("saved by a margin") {
    temp.file("airframes.csv",
              "serial,taken_on_charge,struck_off_charge\nQ1,1943-05~,1943-04-25\n");
    CHECK(is_only(findings_of(temp), "airframes.csv:2 ?Q1 has", "before"));
  }
  SECTION("every other table") {
    temp.file("airframes.csv", "serial\nQ1\n");
    temp.file("units.csv", "unit,formed,disbanded\n3 Flight,1943,1942\n");
    temp.file("people.csv", "person,born,died\nAda Quill,1943,1942\n");
    temp.file("orders.csv", "order,issued,effective,action,marking\nCO 1,1943,1942,introduces,a\n");
    temp.file("identities.csv", "serial,identity,kind,from,to\nQ1,A,code,1943,1942\n");
    temp.file("histories.csv", "serial,kind,from,to\nQ1,stored,1943,1942\n");
    temp.file("stations.csv", "unit,place,from,to\n9 Flight,Venn,1943,1942\n");
    temp.without("units.csv")
        .file("service.csv", "person,kind,value,from,to\nAda Quill,rank,Mate,1943,1942\n");
    temp.file("combinations.csv",
              "marking,with_marking,relation,from,to\na,b,excludes,1943,1942\n");
    const auto findings = findings_of(temp);
    for (const char* table : {"people.csv:2 Ada", "orders.csv:2 ?CO 1", "identities.csv:2 Q1",
                              "histories.csv:2 Q1", "stations.csv:2 9", "service.csv:2 Ada",
                              "combinations.csv:2 a has to (1942) before from (1943)"}) {
      INFO(table);
      CHECK(std::count_if(findings.begin(), findings.end(), [&](const std::string& finding) {
              return finding.starts_with(table);
            }) == 1);
    }
    CHECK(findings.size() == 7);
  }
}

TEST_CASE("a name that no row defines is told once, with the number of its rows") {
  TempLedger temp;
  temp.file("airframes.csv", "serial,type\nQ1,Tessel\nQ2,Tesel\n");
  temp.file("types.csv", "type\nTessel\n");
  temp.file("units.csv", "unit,aliases\n3 Flight,Birds\n9 Flight,Birds\n");
  SECTION("unknown") {
    CHECK(is_only(findings_of(temp), "airframes.csv:3 type \"Tesel\" has no row in table types",
                  "correct it or add the row"));
  }
  SECTION("no table to define it: no evidence") {
    temp.without("types.csv");
    temp.file("histories.csv", "serial,kind,place\nQ1,stored,Nowhere\n");
    CHECK(findings_of(temp).empty());
  }
  SECTION("often") {
    temp.file("airframes.csv", "serial,type\nQ1,Tesel\nQ2,Tesel\nQ3,Tesel\n");
    CHECK(is_only(findings_of(temp), "airframes.csv:2", "(and in 2 more rows)"));
  }
  SECTION("an alias of two") {
    temp.file("airframes.csv", "serial,type\nQ1,Tessel\n");
    temp.file("histories.csv", "serial,kind,unit\nQ1,stored,Birds\n");
    CHECK(is_only(findings_of(temp), "histories.csv:2 unit \"Birds\" may be 3 Flight or 9 Flight",
                  "write the one that is meant"));
  }
}

TEST_CASE("every kind of key is looked for") {
  TempLedger temp;
  for (const char* table :
       {"units.csv,unit", "places.csv,place", "people.csv,person", "ranks.csv,rank",
        "awards.csv,award", "types.csv,type", "markings.csv,marking", "airframes.csv,serial"}) {
    const std::string text(table);
    const auto comma = text.find(',');
    temp.file(text.substr(0, comma), text.substr(comma + 1) + "\nKnown\n");
  }
  temp.file("ledger.toml", "[[serial_form]]\npattern = 'Z\\d'\nclosed = ['Z1..Z9']\n");
  temp.file("identities.csv",
            "serial,identity,kind,operator\nKnown,A,code,U1\nKnown,B,previous_serial,Foreign\n");
  temp.file("histories.csv",
            "serial,kind,unit,place,detail\nZ2,stored,U2,P1,\nKnown,repaint,,,Known @ fin;M1\n"
            "Known,repaint,,,in new colours; all over\n");
  temp.file("service.csv",
            "person,kind,value\nWho,rank,R1\nKnown,award,Bar to W1\nKnown,award,Bar to Known\n");
  temp.file("orders.csv",
            "order,action,marking,unit,type,replaced_by\nO1,introduces,M2,U3;Known,T1,O1;O9\n");
  temp.file("photographs.csv", "photograph,depicts,place\nOC 1,Q7;Known;B,P2\n");
  std::string all;
  for (const std::string& finding : findings_of(temp)) all += finding + "\n";
  INFO(all);
  for (const char* expected :
       {"operator \"U1\"", "histories.csv:2 serial \"Z2\"", "unit \"U2\"", "place \"P1\"",
        "detail \"M1\"", "person \"Who\"", "value \"R1\"", "value \"Bar to W1\"", "marking \"M2\"",
        "unit \"U3\"", "type \"T1\"", "replaced_by \"O9\"", "photographs.csv:2 ?depicts \"Q7\"",
        "place \"P2\""}) {
    INFO(expected);
    CHECK(all.find(expected) != std::string::npos);
  }
  CHECK(all.find("Foreign") == std::string::npos);
  CHECK(all.find("in new colours") == std::string::npos);
  CHECK(all.find("depicts \"B\"") == std::string::npos);
  CHECK(all.find("Known\" has no row") == std::string::npos);
}

TEST_CASE("a unit at two places on one day is a finding") {
  TempLedger temp;
  temp.file("places.csv", "place,within\nVenn,Orrin\nOrrin,\nLask,\n");
  const std::string head = "unit,place,from,to\n3 Flight,Venn,1941-01-01,1941-06-30\n";
  SECTION("two places") {
    temp.file("stations.csv", head + "3 Flight,Lask,1941-06-01,\n");
    temp.file("units.csv", "unit,disbanded\n3 Flight,1944-01-01\n");
    CHECK(is_only(findings_of(temp), "stations.csv:3 3 Flight is at Lask and at Venn (line 2)",
                  "1941-06-01 to 1941-06-30"));
  }
  SECTION("a place within the other") {
    temp.file("stations.csv", head + "3 Flight,Orrin,1941-06-01,1942-01-01\n");
    CHECK(findings_of(temp).empty());
  }
  SECTION("a move on one day") {
    temp.file("stations.csv", head + "3 Flight,Lask,1941-06-30,1942-01-01\n");
    CHECK(findings_of(temp).empty());
  }
}

TEST_CASE("a rank that goes down without a reason is a warning") {
  TempLedger temp;
  temp.file("ranks.csv", "rank,seniority\nBoy,1\nMate,3\nMaster,5\nCook,\n");
  temp.file("people.csv", "person\nAda Quill\n");
  const std::string head =
      "person,kind,value,from,to,note\nAda Quill,rank,Master,1941-01-01,1942-01-01,\n";
  SECTION("down") {
    temp.file("service.csv", head + "Ada Quill,rank,Mate,1942-01-02,,\n");
    CHECK(is_only(findings_of(temp), "service.csv:3 ?Ada Quill goes down from Master (line 2)",
                  "to Mate on 1942-01-02"));
  }
  SECTION("down with a reason, or to a rank without seniority") {
    temp.file("service.csv", head +
                                 "Ada Quill,rank,Mate,1942-01-02,1942-09,reverted\n"
                                 "Ada Quill,rank,Cook,1943,,\n");
    CHECK(findings_of(temp).empty());
  }
  SECTION("two at a time") {
    temp.file("ranks.csv", "rank,seniority\nMaster,5\nCaptain,6\n");
    temp.file("service.csv", head + "Ada Quill,rank,Captain,1941-06-01,1941-12-01,\n");
    CHECK(
        is_only(findings_of(temp), "service.csv:3 ?Ada Quill is Captain and Master", "1941-06-01"));
  }
}

TEST_CASE("what happens outside a life is a finding") {
  TempLedger temp;
  temp.file("airframes.csv",
            "serial,taken_on_charge,struck_off_charge\nQ1,1941-01-01,1943-06-30\n");
  temp.file("units.csv", "unit,formed,disbanded\n3 Flight,1941-03-01,1943-01-31\n");
  const std::string history = "serial,from,to,kind,role,unit\n";
  SECTION("history after striking off") {
    temp.file("histories.csv", history +
                                   "Q1,1943-01-01,1943-09-01,stored,holder,Yard\n"
                                   "Q1,1943-07-15,,instructional,holder,School\n");
    temp.without("units.csv");
    CHECK(is_only(findings_of(temp), "histories.csv:2 Q1 stored",
                  "goes beyond the end of the airframe, 1943-06-30"));
  }
  SECTION("history before taking on charge is a warning") {
    temp.file("histories.csv", history + "Q1,1940-11-01,,modified,,\n");
    CHECK(is_only(findings_of(temp), "histories.csv:2 ?Q1 modified", "begins before"));
  }
  SECTION("one day late is the day of a hand-over") {
    temp.file("histories.csv", history + "Q1,1943-01-01,1943-07-01,stored,holder,\n");
    CHECK(findings_of(temp).empty());
  }
  SECTION("a unit that was no more") {
    temp.file("histories.csv", history + "Q1,1943-02-15,1943-03-01,allotted,holder,3 Flight\n");
    CHECK(is_only(findings_of(temp), "histories.csv:2 Q1 allotted: 3 Flight",
                  "existed only 1941-03-01 to 1943-01-31"));
  }
  SECTION("a unit whose row is ended only by a later one") {
    temp.file("histories.csv", history +
                                   "Q1,1942-02-15,,allotted,holder,3 Flight\n"
                                   "Q1,1943-05-01,1943-06-30,allotted,holder,9 Flight\n");
    temp.file("units.csv", "unit,disbanded\n3 Flight,1943-01-31\n9 Flight,\n");
    CHECK(findings_of(temp).empty());
  }
  SECTION("an event before the unit was formed") {
    temp.file("histories.csv", history + "Q1,1941-01-05,,accident,,3 Flight\n");
    CHECK(is_only(findings_of(temp), "histories.csv:2 Q1 accident: 3 Flight", "existed only"));
  }
  SECTION("a unit that may still have been") {
    temp.file("histories.csv", history + "Q1,1942-02-15,1943-02,allotted,holder,3 Flight\n");
    CHECK(findings_of(temp).empty());
  }
  SECTION("stations and service of that unit, codes only as warnings") {
    temp.file("stations.csv", "unit,place,from,to\n3 Flight,Venn,1940-01-01,1941-05-01\n");
    temp.file("service.csv",
              "person,kind,value,from,to\nAda Quill,unit,3 Flight,1944-01-01,1944-02-01\n");
    temp.file("identities.csv",
              "serial,identity,kind,from,to,operator\nQ1,A,code,1941-04-01,1943-04-01,3 Flight\n");
    const auto findings = findings_of(temp);
    REQUIRE(findings.size() == 3);
    CHECK(findings[0].starts_with("identities.csv:2 ?Q1 as A: 3 Flight"));
    CHECK(findings[1].starts_with("service.csv:2 Ada Quill unit: 3 Flight"));
    CHECK(findings[2].starts_with("stations.csv:2 at Venn: 3 Flight"));
  }
  SECTION("a person") {
    temp.file("people.csv", "person,born,died\nAda Quill,1915,1942-05-05\n");
    temp.file("service.csv",
              "person,kind,value,from,to\nAda Quill,rank,Mate,1941-01-01,\n"
              "Ada Quill,award,Harbour Star,1943-01-01,\nAda Quill,rank,Master,1944-01-01,\n");
    CHECK(is_only(findings_of(temp), "service.csv:4 Ada Quill: rank Master",
                  "outside their life, 1915-01-01 to 1942-05-05"));
  }
  SECTION("a photograph, as a warning: it may show the wreck") {
    temp.file("photographs.csv", "photograph,depicts,taken\nOC 1,Q1,1944\nOC 2,Q1,1943\n");
    CHECK(is_only(findings_of(temp), "photographs.csv:2 ?OC 1 was taken 1944 and depicts Q1",
                  "on charge 1941-01-01 to 1943-06-30"));
  }
}

TEST_CASE("one code of one operator on two airframes is a warning") {
  TempLedger temp;
  temp.file("airframes.csv", "serial\nQ1\nQ2\n");
  const std::string head = "serial,identity,kind,from,to,operator\n";
  SECTION("on the same days, however it is spelled") {
    temp.file("identities.csv", head +
                                    "Q1,K-A,code,1941-01-01,1942-01-01,3 Flight\n"
                                    "Q2,KA,code,1941-06-01,1941-07-01,3 Flight\n");
    CHECK(is_only(findings_of(temp), "identities.csv:3 ?code KA of 3 Flight is on Q2 and on Q1",
                  "1941-06-01 to 1941-07-01"));
  }
  SECTION("one after the other, or of two operators") {
    temp.file("identities.csv", head +
                                    "Q1,K-A,code,1941-01-01,1942-01-01,3 Flight\n"
                                    "Q2,K-A,code,1942-01-01,1942-07-01,3 Flight\n"
                                    "Q2,K-A,code,1941-01-01,1942-07-01,9 Flight\n"
                                    "Q1,K-B,code,1941-01-01,1942-07-01,\n"
                                    "Q2,K-B,code,1941-01-01,1942-07-01,\n");
    CHECK(findings_of(temp).empty());
  }
  SECTION("one former number of two airframes") {
    temp.file("identities.csv", head + "Q1,22,previous_serial,,,\nQ2,22,previous_serial,,,\n");
    CHECK(is_only(findings_of(temp), "identities.csv:3 ?22 is previous_serial of Q2 and of Q1",
                  "two airframes"));
  }
}

TEST_CASE("rings, twins, orders and sequences that contradict themselves") {
  TempLedger temp;
  SECTION("a ring of parents") {
    temp.file("units.csv", "unit,parent\nA,B\nB,A\nC,A\n");
    CHECK(is_only(findings_of(temp), "units.csv:2 A stands above itself", "parent"));
  }
  SECTION("a place within itself") {
    temp.file("places.csv", "place,within\nVenn,Venn\n");
    CHECK(is_only(findings_of(temp), "places.csv:2 Venn stands above itself", "within"));
  }
  SECTION("a row that stands twice") {
    temp.file("orders.csv",
              "order,effective,action,marking,position\nCO 1,1941,introduces,a,fin\n"
              "CO 1,1941,withdraws,a,fin\nCO 1,1941,introduces,a,fin\n");
    CHECK(is_only(findings_of(temp), "orders.csv:4 ?this row says what line 2 says", "remove"));
  }
  SECTION("one constructor number on two airframes") {
    temp.file("airframes.csv", "serial,type,constructor_number\nQ1,T,7\nQ2,T,7\nQ3,U,7\n");
    CHECK(is_only(findings_of(temp), "airframes.csv:3 ?Q2 has the constructor number of Q1", ""));
  }
  SECTION("an order replaced by an older one") {
    temp.file("orders.csv",
              "order,effective,action,marking,replaced_by\nCO 1,1941,introduces,a,\n"
              "CO 2,1942,introduces,b,CO 1\n");
    CHECK(is_only(findings_of(temp), "orders.csv:3 ?CO 2 is replaced by CO 1", "no newer"));
  }
  SECTION("an order without a marking") {
    temp.file("orders.csv", "order,action\nCO 1,introduces\n");
    CHECK(is_only(findings_of(temp), "orders.csv:2 ?CO 1 names no marking", ""));
  }
  SECTION("a theatre without places") {
    temp.file("places.csv", "place,theatre\nVenn,Home\n");
    temp.file("orders.csv", "order,action,marking,theatre\nCO 1,introduces,a,Home;Hom\n");
    CHECK(is_only(findings_of(temp), "orders.csv:2 ?no place of places.csv is in theatre \"Hom\"",
                  ""));
  }
  SECTION("a sequence both ways") {
    temp.file("sequences.csv", "earlier,later,position\na,b,fin;wing\nb,a,fin\nb,a,nose\nc,c,\n");
    const auto findings = findings_of(temp);
    REQUIRE(findings.size() == 2);
    CHECK(findings[0].starts_with("sequences.csv:3 b stands before a, and after it in line 2"));
    CHECK(findings[1].starts_with("sequences.csv:5 c stands before itself"));
  }
}

TEST_CASE("of an empty ledger there is but a note that says how to begin") {
  const std::vector<AuditFinding> findings = audit(empty_ledger());
  REQUIRE(findings.size() == 1);
  CHECK(findings[0].note_only);
  CHECK(findings[0].message.find("begin with airframes.csv") != std::string::npos);
}

TEST_CASE("a serial that no form makes is a finding; one that a tail shows in part is none") {
  TempLedger temp;
  temp.file("ledger.toml",
            "[[serial_form]]\npattern = 'QX[ -]?(\\d{4})'\nserial = 'QX\\1'\n"
            "[[serial_form]]\npattern = '(\\d)(\\d{4})'\nserial = '4\\1-\\2'\nwhere = \"tail\"\n");
  temp.file("airframes.csv", "serial\nQX1001\n42-1007\nQ7\nQ8\n");
  CHECK(is_only(findings_of(temp), "airframes.csv:4 ?no serial_form of ledger.toml makes serial",
                "\"Q7\" and 1 more"));
}

}  // namespace tailproof
