// Checks of units and places.
#include <catch2/catch.hpp>

#include "desk.h"

using namespace tailproof;
using tailproof::testing::Desk;
using tailproof::testing::summary;

namespace {

void fill(Desk& desk) {
  desk.toml(
          "title = \"Invented\"\n[closed]\ntables = [\"units\"]\n[defaults]\ntheatre = \"Home\"\n")
      .table("airframes",
             "serial,type,mark,taken_on_charge,struck_off_charge\n"
             "QX1,Gannage,I,1941-01-01,1944-12-31\n"
             "QX2,Gannage,I,1941-01-01,1944-12-31\n")
      .table("units",
             "unit,aliases,kind,parent,formed,disbanded,replaced_by\n"
             "3 Wing,,wing,,1940-01-01,,\n"
             "31 Squadron,the Owls,squadron,3 Wing,1941-02-01,1943-11-30,71 Squadron\n"
             "32 Squadron,,squadron,3 Wing,1941-02-01~,,\n"
             "71 Squadron,the Owls,squadron,,1943-12-01,,\n"
             "5 Servicing Unit,,servicing,,1941-01-01,,\n"
             "6 Servicing Unit,,servicing,,1941-01-01,,\n")
      .table("places",
             "place,aliases,within,theatre\n"
             "Pelt Island,,,North\nPelt Strip,,Pelt Island,North\nMorrow,,,Home\nTann,,,Home\n")
      .table("stations",
             "unit,place,from,to\n"
             "31 Squadron,Pelt Strip,1942-06-01,1942-12-31\n"
             "32 Squadron,Morrow,1942-06-01,1942-12-31\n"
             "5 Servicing Unit,Pelt Strip,1942-06-01,1942-12-31\n")
      .table("histories",
             "serial,from,to,kind,role,unit,place,detail\n"
             "QX1,1941-02-01,1942-05-31,allotted,holder,32 Squadron,,\n"
             "QX1,1942-06-01,1942-12-31,allotted,holder,5 Servicing Unit,,\n"
             "QX1,1942-06-01,1942-08-31,allotted,operator,31 Squadron,,\n"
             "QX1,1943-02-01,1943-04-30~,stored,holder,6 Servicing Unit,Tann,\n"
             "QX2,1942-06-01,1942-12-31,allotted,holder,5 Servicing Unit,,\n"
             "QX2,1942-10-09,,accident,,,Pelt Strip,\n");
}

std::string unit(std::string_view date, std::string_view unit, std::string_view role = {},
                 std::string_view serial = "QX1") {
  Desk desk;
  fill(desk);
  if (!date.empty()) desk.date(date);
  desk.add(ClaimKind::kUnit, unit, serial, role);
  return summary(desk.run("unit-disagrees"));
}

std::string place(std::string_view date, std::string_view place, std::string_view serial = "QX1",
                  std::string_view position = {}) {
  Desk desk;
  fill(desk);
  if (!date.empty()) desk.date(date);
  desk.add(ClaimKind::kPlace, place, serial).position = position;
  return summary(desk.run("place-disagrees"));
}

}  // namespace

TEST_CASE("holder and operator do not conflict, two holders do") {
  CHECK(unit("1942-07-01", "5 Servicing Unit", "holder").empty());
  CHECK(unit("1942-07-01", "31 Squadron", "operator").empty());
  CHECK(unit("1942-07-01", "31 Squadron").empty());
  CHECK(unit("1942-07-01", "5 Servicing Unit").empty());
  CHECK(unit("1942-07-01", "6 Servicing Unit", "holder") == "error unit-disagrees");
  CHECK(unit("1942-07-01", "6 Servicing Unit") == "error unit-disagrees");
  CHECK(unit("1942-07-01", "32 Squadron", "operator") == "error unit-disagrees");
  CHECK(unit("1942-07-01", "32 Squadron") == "error unit-disagrees");
}

TEST_CASE("a squadron that holds an aircraft flies it too") {
  CHECK(unit("1941-06", "32 Squadron", "operator").empty());
  CHECK(unit("1941-06", "31 Squadron", "operator") == "error unit-disagrees");
}

TEST_CASE("the day of a hand-over fits both, a day before does not") {
  CHECK(unit("1942-06-01", "31 Squadron").empty());
  CHECK(unit("1942-05-31", "31 Squadron") == "error unit-disagrees");
}

TEST_CASE("a parent or a sub-unit agrees") { CHECK(unit("1942-07-01", "3 Wing").empty()); }

TEST_CASE("a gap is unproven, and so is an unknown date") {
  CHECK(unit("1943-01-15", "31 Squadron").empty());
  CHECK(unit("", "31 Squadron").empty());
  CHECK(unit("", "6 Servicing Unit", "holder").empty());
}

TEST_CASE("an operator that was elsewhere conflicts where the place is known") {
  // No operator row after August: 31 Squadron shared the strip, 32 Squadron was at Morrow.
  CHECK(unit("1942-10-01", "31 Squadron", "operator").empty());
  CHECK(unit("1942-10-01", "32 Squadron", "operator") == "error unit-disagrees");
}

TEST_CASE("a margin alone makes a warning") {
  CHECK(unit("1943-04-29", "5 Servicing Unit", "holder") == "warning unit-disagrees");
  CHECK(unit("1943-03-15", "5 Servicing Unit", "holder") == "error unit-disagrees");
}

TEST_CASE("a unit that a closed table does not have") {
  Desk desk;
  fill(desk);
  desk.date("1942-07-01");
  desk.add(ClaimKind::kUnit, "99 Squadron", "QX1").known = false;
  CHECK(summary(desk.run("unit-disagrees")) == "error unit-disagrees");
}

TEST_CASE("negated, attributed, former and later units are not compared") {
  Desk desk;
  fill(desk);
  desk.date("1942-07-01");
  desk.add(ClaimKind::kUnit, "32 Squadron", "QX1").negated = true;
  desk.add(ClaimKind::kUnit, "32 Squadron", "QX1").attributed = true;
  desk.add(ClaimKind::kUnit, "32 Squadron", "QX1", "former");
  desk.add(ClaimKind::kUnit, "32 Squadron", "QX1").tense = Tense::kLater;
  CHECK(summary(desk.run("unit-disagrees")).empty());
}

TEST_CASE("a name that units share agrees while any of them does") {
  Desk desk;
  fill(desk);
  desk.date("1942-07-01");
  desk.add(ClaimKind::kUnit, "71 Squadron", "QX1").readings = {"71 Squadron", "31 Squadron"};
  CHECK(summary(desk.run("unit-disagrees")).empty());
  CHECK(summary(desk.run("unit-not-yet-formed")).empty());
}

TEST_CASE("a unit exists from its first to its last day") {
  const auto judged = [](std::string_view date, std::string_view unit, std::string_view role = {}) {
    Desk desk;
    fill(desk);
    desk.date(date);
    desk.add(ClaimKind::kUnit, unit, "QX1", role);
    return summary(desk.run("unit-not-yet-formed"));
  };
  CHECK(judged("1941-02-01", "31 Squadron").empty());
  CHECK(judged("1941-01-31", "31 Squadron") == "error unit-not-yet-formed");
  CHECK(judged("1943-11-30", "31 Squadron").empty());
  CHECK(judged("1943-12-01", "31 Squadron") == "error unit-not-yet-formed");
  CHECK(judged("1941-01-30", "32 Squadron") == "warning unit-not-yet-formed");
  CHECK(judged("1944", "31 Squadron", "former").empty());
  CHECK(judged("1940", "31 Squadron", "former") == "error unit-not-yet-formed");
  CHECK(judged("1940", "31 Squadron", "later").empty());
}

TEST_CASE("a unit not yet formed takes the place of the wrong unit") {
  Desk desk;
  fill(desk);
  desk.date("1942-07-01");
  desk.add(ClaimKind::kUnit, "71 Squadron", "QX1");
  CHECK(summary(desk.run("unit-disagrees")) == "error unit-disagrees");
  const auto queries = desk.run_all();
  REQUIRE(summary(queries) == "error unit-not-yet-formed");
  CHECK(queries[0].evidence.size() >= 3);
}

TEST_CASE("a machine is where its rows or its unit's stations have it") {
  CHECK(place("1942-07-01", "Pelt Strip").empty());
  CHECK(place("1942-07-01", "Pelt Island").empty());
  CHECK(place("1942-07-01", "Morrow") == "error place-disagrees");
  CHECK(place("1943-03-01", "Tann").empty());
  CHECK(place("1943-03-01", "Morrow") == "error place-disagrees");
  CHECK(place("1943-01-15", "Morrow").empty());
  CHECK(place("1943-03-01", "Nowhere").empty());
}

TEST_CASE("in the air only another theatre counts") {
  CHECK(place("1942-07-01", "Pelt Island", "QX1", "approximate").empty());
  CHECK(place("1943-03-01", "Morrow", "QX1", "approximate").empty());
  CHECK(place("1942-07-01", "Morrow", "QX1", "approximate") == "error place-disagrees");
}

TEST_CASE("a place is held against the unit of which the text speaks") {
  CHECK(place("1942-07-01", "Morrow", "31 Squadron") == "error place-disagrees");
  CHECK(place("1942-07-01", "Pelt Strip", "31 Squadron").empty());
  CHECK(place("1943-07-01", "Morrow", "31 Squadron").empty());
}

TEST_CASE("the place of an event is that of its row") {
  Desk desk;
  fill(desk);
  desk.date("1942-10-09", "event");
  desk.add(ClaimKind::kEvent, "accident", "QX2");
  desk.add(ClaimKind::kPlace, "Tann", "QX2");
  const auto queries = desk.run("place-disagrees");
  CHECK(summary(queries) == "error place-disagrees");
}

TEST_CASE("a sentence that tells of the forming of a unit is no fault") {
  Desk desk;
  fill(desk);
  desk.caption("A few weeks before it went to the newly formed 71 Squadron.");
  desk.date("1943-11-01");
  desk.add(ClaimKind::kUnit, "71 Squadron", "QX1").said = kSaidForming;
  CHECK(summary(desk.run("unit-not-yet-formed")).empty());
}

TEST_CASE("the date of an order says nothing of a machine") {
  Desk desk;
  fill(desk);
  desk.date("1943-03-15", "order");
  desk.add(ClaimKind::kUnit, "5 Servicing Unit", "QX1", "holder");
  CHECK(summary(desk.run("unit-disagrees")).empty());
}
