// Checks of markings and of their proportions.
#include <catch2/catch.hpp>

#include "desk.h"

using namespace tailproof;
using tailproof::testing::Desk;
using tailproof::testing::summary;

namespace {

void fill(Desk& desk) {
  desk.toml("title = \"Invented\"\n[defaults]\ntheatre = \"Home\"\nposition = \"fuselage\"\n")
      .table("airframes",
             "serial,type,mark,taken_on_charge,struck_off_charge\n"
             "QX1,Gannage,I,1940-01-01,1946-12-31\n"
             "QX2,Gannage,I,1940-01-01,1946-12-31\n"
             "QX3,Tarrin,I,1940-01-01,1946-12-31\n"
             "QX4,Gannage,I,1940-01-01,1946-12-31\n")
      .table("types", "type\nGannage\nTarrin\n")
      .table(
          "units",
          "unit,kind,parent\n1 Group,wing,\n31 Squadron,squadron,1 Group\n32 Squadron,squadron,\n")
      .table("places", "place,theatre\nPelt Strip,North\nMorrow,Home\n")
      .table("histories",
             "serial,from,to,kind,role,unit,place,detail\n"
             "QX1,1941-01-01,1945-12-31,allotted,holder,31 Squadron,Morrow,\n"
             "QX2,1941-01-01,1943-12-31,allotted,holder,32 Squadron,Pelt Strip,\n"
             "QX2,1944-01-10,1945-12-31,stored,holder,32 Squadron,Morrow,\n"
             "QX4,1941-01-01,1945-12-31,allotted,holder,32 Squadron,Morrow,\n"
             "QX4,1944-11-20,,repaint,,,Morrow,old disc @ fuselage\n")
      .table("markings",
             "marking,family,aliases,rings\n"
             "old disc,disc,,blue 6;white 4;red 2\nnew disc,disc,,8:6:3\nbars,bars,,\n"
             "unit letter,letter,,\nmaker's star,works,,\nband,band,,\n")
      .table("orders",
             "order,issued,effective,grace,action,marking,position,theatre,unit,type\n"
             "O 1/35,1935-01-01,1935-02-01,,introduces,old disc,,,,\n"
             "O 5/42,1942-05-10,1942-06-01,P2M,withdraws,old disc,upper wing;fuselage,North,,\n"
             "O 6/42,1942-12-10,1943-01-01,P3M,withdraws,old disc,fuselage,Home,,\n"
             "O 5/42,1942-05-10,1942-06-01,,introduces,new disc,fuselage,North,,\n"
             "O 9/43,1943-08-10,1943-09-01,,introduces,new disc,under wing,,,\n"
             "O 2/43,1943-02-10,1943-03~,,introduces,bars,fuselage,,,\n"
             "O 3/41,1941-03-10,1941-04-01,,introduces,unit letter,fin,,1 Group,\n"
             "O 4/42,1942-01-10,1942-02-01,P1M,withdraws,unit letter,fin,,,\n"
             "O 7/44,1944-06-10,1944-07-01,,introduces,unit letter,fin,,1 Group,\n"
             "O 8/42,1942-06-10,1942-07-01,,introduces,band,fuselage,North,,\n"
             "O 8/43,1943-06-10,1943-07-01,P1M,withdraws,band,fuselage,North,,\n");
}

std::string judged(std::string_view check, std::string_view date, std::string_view marking,
                   std::string_view position, std::string_view serial,
                   MarkingState state = MarkingState::kWorn) {
  Desk desk;
  fill(desk);
  if (!date.empty()) desk.date(date);
  Claim& claim = desk.add(ClaimKind::kMarking, marking, serial);
  claim.position = position;
  claim.state = state;
  return summary(desk.run(check));
}

std::string early(std::string_view date, std::string_view marking, std::string_view position,
                  std::string_view serial = "QX1") {
  return judged("marking-too-early", date, marking, position, serial);
}

std::string late(std::string_view date, std::string_view marking, std::string_view position,
                 std::string_view serial = "QX1") {
  return judged("marking-too-late", date, marking, position, serial);
}

}  // namespace

TEST_CASE("worn on the first day of the order, and on the day before") {
  CHECK(early("1943-09-01", "new disc", "under wing").empty());
  CHECK(early("1943-08-31", "new disc", "under wing") == "error marking-too-early");
  CHECK(early("1943-08", "new disc", "under wing") == "error marking-too-early");
  CHECK(early("1943", "new disc", "under wing").empty());
  CHECK(early("", "new disc", "under wing").empty());
}

TEST_CASE("a margin on the order makes a warning of too early") {
  CHECK(early("1943-02-15", "bars", "") == "warning marking-too-early");
  CHECK(early("1943-01-15", "bars", "") == "error marking-too-early");
}

TEST_CASE("surfaces change on dates of their own") {
  CHECK(early("1942-07-01", "new disc", "under wing", "QX2") == "error marking-too-early");
  CHECK(early("1942-07-01", "new disc", "fuselage", "QX2").empty());
  CHECK(early("1942-07-01", "new disc", "", "QX2").empty());
  CHECK(early("1943-09-01", "new disc", "wing", "QX2").empty());
}

TEST_CASE("introduced in another theatre only is a warning, unless the machine had been there") {
  CHECK(early("1942-07-01", "new disc", "fuselage", "QX1") == "warning marking-too-early");
  CHECK(early("1944-06-01", "new disc", "fuselage", "QX2").empty());
}

TEST_CASE("outside the order's unit is a warning, below it none") {
  CHECK(early("1941-06-01", "unit letter", "fin", "QX1").empty());
  CHECK(early("1941-06-01", "unit letter", "fin", "QX2") == "warning marking-too-early");
}

TEST_CASE("a marking without orders is never early or late") {
  CHECK(early("1930", "maker's star", "fin").empty());
  CHECK(late("1950", "maker's star", "fin").empty());
}

TEST_CASE("withdrawal, grace, and the day after it") {
  // Three months from 1 January 1943.
  CHECK(late("1943-03-31", "old disc", "fuselage").empty());
  CHECK(late("1943-04-15", "old disc", "fuselage") == "warning marking-too-late");
  CHECK(late("1943-04-15", "old disc", "").find("warning") == 0);
  CHECK(late("1943-04-15", "old disc", "under wing").empty());
  CHECK(late("1943-04-15", "old disc", "upper wing").empty());
  CHECK(late("1942-09-01", "old disc", "upper wing", "QX2") == "warning marking-too-late");
  CHECK(late("1942-09-01", "old disc", "wing", "QX2").empty());
  // At home nothing withdrew it yet.
  CHECK(late("1942-09-01", "old disc", "fuselage", "QX1").empty());
}

TEST_CASE("carried out of its theatre a marking is at most late, by a note") {
  CHECK(late("1944-06-01", "band", "fuselage", "QX2") == "note marking-too-late");
}

TEST_CASE("withdrawn and introduced again: late in between, right afterwards") {
  CHECK(late("1943-01-01", "unit letter", "fin") == "warning marking-too-late");
  CHECK(late("1944-06-30", "unit letter", "fin") == "warning marking-too-late");
  CHECK(late("1944-07-01", "unit letter", "fin").empty());
}

TEST_CASE("a repaint overrides orders from its date on") {
  CHECK(late("1944-11-19", "old disc", "fuselage", "QX4") == "warning marking-too-late");
  CHECK(late("1944-11-20", "old disc", "fuselage", "QX4").empty());
}

TEST_CASE("removed, former and planned markings are not worn") {
  for (const MarkingState state :
       {MarkingState::kRemoved, MarkingState::kFormer, MarkingState::kPlanned}) {
    CHECK(judged("marking-too-early", "1941", "bars", "", "QX1", state).empty());
    CHECK(judged("marking-too-late", "1945", "old disc", "fuselage", "QX1", state).empty());
  }
  CHECK(judged("marking-too-early", "1941", "bars", "", "QX1", MarkingState::kAdded) ==
        "error marking-too-early");
}

namespace {

std::string proportion(std::initializer_list<std::pair<std::string_view, double>> parts,
                       std::string_view marking = "old disc") {
  Desk desk;
  fill(desk);
  for (const auto& [part, value] : parts) {
    Claim& claim = desk.add(ClaimKind::kMeasure, "", marking);
    claim.part = part;
    claim.measure.own().value = claim.measure.own().value_low = claim.measure.own().value_high =
        value;
    claim.measure.own().unit = "in";
    claim.measure.own().value_text = std::to_string(static_cast<int>(value));
  }
  const auto queries = desk.run("insignia-proportion");
  return queries.empty() ? "" : queries[0].suggestion;
}

}  // namespace

TEST_CASE("stated diameters have the proportions of the marking") {
  CHECK(proportion({{"", 36}, {"white", 24}, {"red", 12}}).empty());
  CHECK(proportion({{"", 36}, {"white", 24}, {"red", 16}}) == "12 in");
  CHECK(proportion({{"", 36}, {"red", 18}}) == "12 in");
  CHECK(proportion({{"", 37}, {"white", 25}}).empty());
  CHECK(proportion({{"1", 32}, {"2", 24}, {"3", 12}}, "new disc").empty());
  CHECK(proportion({{"1", 32}, {"2", 24}, {"3", 16}}, "new disc") == "12 in");
  CHECK(proportion({{"", 36}}).empty());
  CHECK(proportion({{"", 36}, {"", 18}, {"red", 6}}).empty());
  CHECK(proportion({{"", 36}, {"handle", 18}}).empty());
}
