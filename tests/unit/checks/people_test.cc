// Checks of people: units, ranks, awards, lives.
#include <catch2/catch.hpp>

#include "desk.h"

using namespace tailproof;
using tailproof::testing::Desk;
using tailproof::testing::summary;

namespace {

void fill(Desk& desk) {
  desk.table("people",
             "person,aliases,born,died\n"
             "Ansel Wray,A. Wray;Wray,1915-05-02,1943-08-20\n"
             "Orla Wray,O. Wray;Wray,1918,\n"
             "Hale Brunt,,,\n")
      .table("units", "unit,kind,formed\n31 Squadron,squadron,1940\n32 Squadron,squadron,1940\n")
      .table("ranks",
             "rank,abbreviations,seniority\nSergeant,Sgt,1\nLieutenant,Lt,2\nCaptain,Capt,3\n"
             "Major,Maj,4\n")
      .table("service",
             "person,kind,value,from,to\n"
             "Ansel Wray,rank,Lieutenant,1941-01-01,1942-05-31\n"
             "Ansel Wray,rank,Captain,1942-06-01,1943-08-20\n"
             "Ansel Wray,unit,31 Squadron,1941-01-01,1942-03-31\n"
             "Ansel Wray,unit,32 Squadron,1942-05-01,1943-08-20\n"
             "Ansel Wray,award,Star of Valour,1942-09-09,\n"
             "Hale Brunt,rank,Captain,1942-01-01,\n"
             "Hale Brunt,command,31 Squadron,1942-01-01,1942-10-31\n"
             "Orla Wray,command,31 Squadron,1942-11-01,1943-10-31\n"
             "Orla Wray,rank,Sergeant,1941-01-01~,1942-05-31\n"
             "Orla Wray,rank,Lieutenant,1942-06-01,\n");
}

std::string judged(std::string_view check, ClaimKind kind, std::string_view date,
                   std::string_view value, std::string_view person, std::string_view role = {},
                   Tense tense = Tense::kThen) {
  Desk desk;
  fill(desk);
  desk.date(date);
  desk.add(kind, value, person, role).tense = tense;
  return summary(desk.run(check));
}

std::string rank(std::string_view date, std::string_view value, std::string_view person,
                 Tense tense = Tense::kThen) {
  return judged("rank-disagrees", ClaimKind::kRank, date, value, person, {}, tense);
}

std::string unit(std::string_view date, std::string_view value, std::string_view person,
                 std::string_view role = "member") {
  return judged("person-unit-disagrees", ClaimKind::kUnit, date, value, person, role);
}

}  // namespace

TEST_CASE("a rank is held from its first to its last day") {
  CHECK(rank("1942-06-01", "Captain", "Ansel Wray").empty());
  CHECK(rank("1942-05-31", "Captain", "Ansel Wray") == "error rank-disagrees");
  CHECK(rank("1942-05-31", "Lieutenant", "Ansel Wray").empty());
  CHECK(rank("1942-06-01", "Lieutenant", "Ansel Wray") == "error rank-disagrees");
  CHECK(rank("1942", "Lieutenant", "Ansel Wray").empty());
  CHECK(rank("1943-01", "Major", "Ansel Wray") == "error rank-disagrees");
}

TEST_CASE("seniority tells what an open row leaves open") {
  CHECK(rank("1944", "Captain", "Hale Brunt").empty());
  CHECK(rank("1944", "Major", "Hale Brunt").empty());
  CHECK(rank("1944", "Lieutenant", "Hale Brunt") == "error rank-disagrees");
  CHECK(rank("1941", "Major", "Hale Brunt") == "error rank-disagrees");
  CHECK(rank("1941", "Lieutenant", "Hale Brunt").empty());
  CHECK(rank("1944", "Major", "Nobody").empty());
}

TEST_CASE("later and former ranks are held against the other side of the date") {
  CHECK(rank("1942-01-01", "Captain", "Ansel Wray", Tense::kLater).empty());
  CHECK(rank("1942-09-01", "Lieutenant", "Ansel Wray", Tense::kLater) == "warning rank-disagrees");
  CHECK(rank("1942-09-01", "Lieutenant", "Ansel Wray", Tense::kFormer).empty());
  CHECK(rank("1942-01-01", "Captain", "Ansel Wray", Tense::kFormer) == "warning rank-disagrees");
}

TEST_CASE("a margin alone makes a warning of a rank") {
  CHECK(rank("1940-12-30", "Sergeant", "Orla Wray") == "warning rank-disagrees");
  CHECK(rank("1940-12-20", "Sergeant", "Orla Wray") == "error rank-disagrees");
}

TEST_CASE("an abbreviation or a name that is shared agrees in any reading") {
  Desk desk;
  fill(desk);
  desk.date("1942-05-01");
  desk.add(ClaimKind::kRank, "Captain", "Ansel Wray").readings = {"Captain", "Lieutenant"};
  CHECK(summary(desk.run("rank-disagrees")).empty());
  desk.caption("Sergeant Wray.");
  desk.date("1942-05-01");
  desk.add(ClaimKind::kPerson, "Ansel Wray", "Ansel Wray").readings = {"Ansel Wray", "Orla Wray"};
  desk.add(ClaimKind::kRank, "Sergeant", "Ansel Wray");
  CHECK(summary(desk.run("rank-disagrees")).empty());
}

TEST_CASE("a hedged rank is reported one level lower, a negated one not at all") {
  Desk desk;
  fill(desk);
  desk.date("1943-01");
  desk.add(ClaimKind::kRank, "Major", "Ansel Wray").hedged = true;
  desk.add(ClaimKind::kRank, "Major", "Ansel Wray").negated = true;
  desk.add(ClaimKind::kRank, "Major", "Ansel Wray").attributed = true;
  CHECK(summary(desk.run("rank-disagrees")) == "warning rank-disagrees");
}

TEST_CASE("a person is with a unit for the spell recorded") {
  CHECK(unit("1942-03-31", "31 Squadron", "Ansel Wray").empty());
  CHECK(unit("1942-04-15", "31 Squadron", "Ansel Wray").empty());
  CHECK(unit("1942-05-02", "31 Squadron", "Ansel Wray") == "error person-unit-disagrees");
  CHECK(unit("1942-05-02", "32 Squadron", "Ansel Wray").empty());
  CHECK(unit("1940-01-01", "31 Squadron", "Ansel Wray") == "error person-unit-disagrees");
  CHECK(unit("1940-01-01", "31 Squadron", "Orla Wray", "former").empty());
}

TEST_CASE("a command ends with its spell, or with another's") {
  CHECK(unit("1942-10-31", "31 Squadron", "Hale Brunt", "command").empty());
  CHECK(unit("1942-12-09", "31 Squadron", "Hale Brunt", "command") ==
        "error person-unit-disagrees");
  CHECK(unit("1943-12-09", "31 Squadron", "Orla Wray", "command") == "error person-unit-disagrees");
}

TEST_CASE("letters after a name count from the day of the award") {
  const auto award = [](std::string_view date, std::string_view value, Tense tense) {
    return judged("award-too-early", ClaimKind::kAward, date, value, "Ansel Wray", {}, tense);
  };
  CHECK(award("1942-09-09", "Star of Valour", Tense::kThen).empty());
  CHECK(award("1942-09-08", "Star of Valour", Tense::kThen) == "error award-too-early");
  CHECK(award("1942-09-08", "Star of Valour", Tense::kLater).empty());
  CHECK(award("1942-09-08", "Bar to Star of Valour", Tense::kThen).empty());
}

TEST_CASE("a person lives from birth to death") {
  const auto person = [](std::string_view date, std::string_view text, std::uint16_t said = 0) {
    Desk desk;
    fill(desk);
    desk.caption(text);
    desk.date(date);
    desk.add(ClaimKind::kPerson, "Ansel Wray", "Ansel Wray").said = said;
    return summary(desk.run("person-not-living"));
  };
  CHECK(person("1943-08-20", "Wray at Morrow").empty());
  CHECK(person("1943-08-21", "Wray at Morrow") == "error person-not-living");
  CHECK(person("1915-05-01", "Wray at Morrow") == "error person-not-living");
  CHECK(person("1943-08-21", "The funeral of Wray", kSaidDeath).empty());
}

TEST_CASE("the dead hold no rank and belong to no unit") {
  Desk desk;
  fill(desk);
  desk.caption("Major Wray of 31 Squadron");
  desk.date("1944-01");
  desk.add(ClaimKind::kPerson, "Ansel Wray", "Ansel Wray");
  desk.add(ClaimKind::kRank, "Lieutenant", "Ansel Wray");
  desk.add(ClaimKind::kUnit, "31 Squadron", "Ansel Wray", "member");
  CHECK(summary(desk.run_all()) == "error person-not-living");
}

TEST_CASE("a promotion told in the same sentence is no wrong rank") {
  Desk desk;
  fill(desk);
  desk.caption("Lieutenant Wray, five days afterwards a Captain.");
  desk.date("1942-05-27");
  desk.add(ClaimKind::kRank, "Lieutenant", "Ansel Wray").said = kSaidRankChange;
  desk.add(ClaimKind::kRank, "Captain", "Ansel Wray").said = kSaidRankChange;
  CHECK(summary(desk.run("rank-disagrees")).empty());
  desk.caption("Lieutenant Wray beside Captain Wray.");
  desk.date("1942-05-27");
  desk.add(ClaimKind::kRank, "Lieutenant", "Ansel Wray");
  desk.add(ClaimKind::kRank, "Captain", "Ansel Wray");
  CHECK(summary(desk.run("rank-disagrees")) == "error rank-disagrees");
}
