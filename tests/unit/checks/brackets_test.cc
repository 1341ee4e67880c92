// Brackets of photographs from claims put down by hand.
#include <catch2/catch.hpp>

#include "desk.h"
#include "tailproof/chronology.h"

using namespace tailproof;
using tailproof::testing::Desk;

namespace {

void fill(Desk& desk) {
  desk.toml(
          "title = \"Invented\"\n[defaults]\ntheatre = \"Home\"\nposition = \"fuselage\"\n"
          "[margins]\nday = \"P3D\"\nmonth = \"P31D\"\nyear = \"P1Y\"\n")
      .table("airframes",
             "serial,type,mark,taken_on_charge,struck_off_charge\n"
             "QX1,Gannage,I,1941-01-10,1944-06-20\n"
             "QX2,Gannage,I,1942-03~,1943-03-31\n"
             "QX3,Tarrin,I,1941-01-01,1945-12-31\n")
      .table("types", "type\nGannage\nTarrin\n")
      .table("units", "unit,kind\n31 Squadron,squadron\n32 Squadron,squadron\n")
      .table("places", "place,theatre\nPelt Strip,North\nMorrow,Home\n")
      .table("histories",
             "serial,from,to,kind,role,unit,place,detail\n"
             "QX1,1941-01-10,1941-12-31,allotted,holder,31 Squadron,Morrow,\n"
             "QX1,1942-01-01,1942-12-31,allotted,holder,32 Squadron,Pelt Strip,\n"
             "QX1,1943-01-01,1943-05-31,allotted,holder,31 Squadron,Morrow,\n"
             "QX1,1943-06-01,1944-06-20,allotted,holder,32 Squadron,Pelt Strip,\n")
      .table("markings", "marking,family\nplain disc,disc\nedged disc,disc\nbars,bars\n")
      .table("orders",
             "order,issued,effective,grace,action,marking,position,theatre\n"
             "O 1,1940-01-01,1940-01-01,,introduces,plain disc,fuselage,\n"
             "O 2,1942-05-10,1942-06-01,,introduces,edged disc,fuselage,North\n"
             "O 3,1943-04-10,1943-04-15,,introduces,edged disc,fuselage,Home\n"
             "O 3,1943-04-10,1943-04-15,P1M,withdraws,plain disc,fuselage,\n")
      .table("sequences",
             "family,earlier,later,position,strength\n"
             "disc,plain disc,edged disc,fuselage,always\n")
      .table("photographs",
             "photograph,depicts,taken,place,session\n"
             "P 1,QX1,1942-07-05,Pelt Strip,landing\nP 2,QX3,,Pelt Strip,landing\n");
}

std::string bracket(Desk& desk, std::size_t which = 0) {
  const Chronology chronology(desk.input());
  const std::vector<Bracket> brackets = chronology.brackets();
  REQUIRE(which < brackets.size());
  const Bracket& found = brackets[which];
  if (!found.clash.empty()) {
    std::string text = "clash";
    for (const std::uint32_t fact : found.clash) {
      text += "; " + chronology.in_words(chronology.facts()[fact]);
    }
    return text;
  }
  return in_words(found.days);
}

std::string usual(Desk& desk) {
  const Chronology chronology(desk.input());
  return in_words(chronology.brackets().at(0).usual);
}

}  // namespace

TEST_CASE("a machine alone gives its life") {
  Desk desk;
  fill(desk);
  desk.caption("QX1.", "Fig. 1");
  desk.add(ClaimKind::kAirframe, "QX1", "QX1");
  CHECK(bracket(desk) == "10 January 1941 to 20 June 1944");
}

TEST_CASE("two tours of a unit stay two") {
  Desk desk;
  fill(desk);
  desk.caption("QX1 of 31 Squadron.", "Fig. 1");
  desk.add(ClaimKind::kAirframe, "QX1", "QX1");
  desk.add(ClaimKind::kUnit, "31 Squadron", "QX1");
  CHECK(bracket(desk) == "10 January 1941 to 31 December 1941 or January to May 1943");
}

TEST_CASE("the caption's date narrows, and with margins widens again") {
  Desk desk;
  fill(desk);
  desk.caption("QX2.", "Fig. 1");
  desk.date("1942");
  desk.add(ClaimKind::kAirframe, "QX2", "QX2");
  CHECK(bracket(desk) == "March to December 1942");
  const Chronology chronology(desk.input());
  CHECK(chronology.brackets().at(0).widened.first() < to_day({1942, 3, 1}));
}

TEST_CASE("a marking goes by its first order firmly, by that of the theatre usually") {
  Desk desk;
  fill(desk);
  desk.caption("QX1 at Morrow.", "Fig. 1");
  desk.add(ClaimKind::kAirframe, "QX1", "QX1");
  Claim& marking = desk.add(ClaimKind::kMarking, "edged disc", "QX1");
  marking.position = "fuselage";
  CHECK(bracket(desk) == "1 June 1942 to 20 June 1944");
  desk.add(ClaimKind::kUnit, "31 Squadron", "QX1");
  CHECK(bracket(desk) == "January to May 1943");
}

TEST_CASE("a withdrawn marking bounds usually, after its grace") {
  Desk desk;
  fill(desk);
  desk.caption("QX3.", "Fig. 1");
  desk.add(ClaimKind::kAirframe, "QX3", "QX3");
  desk.add(ClaimKind::kMarking, "plain disc", "QX3").position = "fuselage";
  CHECK(bracket(desk) == "1941 to 1945");
  CHECK(usual(desk) == "1 January 1941 to 15 May 1943");
}

TEST_CASE("hedged, denied, mentioned, attributed and former claims leave the bracket alone") {
  const auto with = [](const auto& change) {
    Desk desk;
    fill(desk);
    desk.caption("QX3 and QX2.", "Fig. 1");
    desk.add(ClaimKind::kAirframe, "QX3", "QX3");
    change(desk.add(ClaimKind::kAirframe, "QX2", "QX2"));
    return bracket(desk);
  };
  CHECK(with([](Claim&) {}) == "March 1942 to March 1943");
  CHECK(with([](Claim& claim) { claim.hedged = true; }) == "1941 to 1945");
  CHECK(with([](Claim& claim) { claim.negated = true; }) == "1941 to 1945");
  CHECK(with([](Claim& claim) { claim.shown = false; }) == "1941 to 1945");
  CHECK(with([](Claim& claim) { claim.attributed = true; }) == "1941 to 1945");
  CHECK(with([](Claim& claim) { claim.tense = Tense::kFormer; }) == "1941 to 1945");
  CHECK(with([](Claim& claim) { claim.inherited = true; }) == "1941 to 1945");
}

TEST_CASE("dates that cannot be true together date two photographs") {
  Desk desk;
  fill(desk);
  desk.caption("Left, QX1 in 1941; right, in 1944.", "Fig. 1");
  desk.date("1941-03");
  desk.add(ClaimKind::kAirframe, "QX1", "QX1");
  desk.date("1944-03");
  desk.add(ClaimKind::kAirframe, "QX1", "QX1");
  CHECK(bracket(desk, 0) == "March 1941");
  CHECK(bracket(desk, 1) == "March 1944");
}

TEST_CASE("a stated order carries bounds from one photograph to another") {
  Desk desk;
  fill(desk);
  desk.caption("QX2.", "Fig. 1");
  desk.add(ClaimKind::kAirframe, "QX2", "QX2");
  desk.caption("Three weeks after Fig. 1.", "Fig. 2");
  Claim& order = desk.add(ClaimKind::kOrderInTime, "after Fig. 1", "Fig. 2");
  order.relation.own().photograph = {order.manuscript, order.block};
  order.relation.own().other = {order.manuscript, order.block - 1};
  order.relation.own().least = 20;
  order.relation.own().most = 22;
  CHECK(bracket(desk, 1) == "21 March 1942 to 22 April 1943");
}

TEST_CASE("forms of a marking put the photographs of one machine in order") {
  Desk desk;
  fill(desk);
  desk.caption("QX3.", "Fig. 1");
  desk.date("1943-09");
  desk.add(ClaimKind::kMarking, "plain disc", "QX3").position = "fuselage";
  desk.caption("QX3.", "Fig. 2");
  desk.add(ClaimKind::kAirframe, "QX3", "QX3");
  desk.add(ClaimKind::kMarking, "edged disc", "QX3").position = "fuselage";
  CHECK(bracket(desk, 1) == "September 1943 to December 1945");
}

TEST_CASE("photographs of one session share a day, usually") {
  Desk desk;
  fill(desk);
  desk.caption("P 2.", "Fig. 1");
  desk.add(ClaimKind::kAirframe, "QX3", "QX3");
  desk.add(ClaimKind::kReference, "P 2", "Fig. 1", "photograph");
  desk.caption("P 1.", "Fig. 2");
  desk.add(ClaimKind::kReference, "P 1", "Fig. 2", "photograph");
  CHECK(bracket(desk, 0) == "1941 to 1945");
  CHECK(bracket(desk, 1) == "5 July 1942");
}

TEST_CASE("a clash names the facts, and leaves other photographs their days") {
  Desk desk;
  fill(desk);
  desk.caption("QX2.", "Fig. 1");
  desk.date("1944");
  desk.add(ClaimKind::kAirframe, "QX2", "QX2");
  desk.caption("QX1.", "Fig. 2");
  desk.add(ClaimKind::kAirframe, "QX1", "QX1");
  CHECK(bracket(desk, 0) == "clash; dated 1944; QX2 on charge (March 1942 to March 1943)");
  CHECK(bracket(desk, 1) == "10 January 1941 to 20 June 1944");
}

TEST_CASE("what would narrow a bracket most is reckoned from what is still possible") {
  Desk desk;
  fill(desk);
  desk.caption("QX1.", "Fig. 1");
  desk.add(ClaimKind::kAirframe, "QX1", "QX1");
  Chronology chronology(desk.input());
  const Narrowing narrowing = chronology.narrowing(0, chronology.brackets().at(0));
  CHECK(narrowing.what == "unit");
  CHECK(narrowing.candidates == 2);
  CHECK(narrowing.days_now == 1258);
  // 507 days with one, 751 with the other: (507 * 507 + 751 * 751) / 1258.
  CHECK(narrowing.days_then == 653);
}

TEST_CASE("without a machine its serial would tell most") {
  Desk desk;
  fill(desk);
  desk.caption("A Gannage with bars.", "Fig. 1");
  desk.date("1943");
  desk.add(ClaimKind::kType, "Gannage", "Fig. 1");
  Chronology chronology(desk.input());
  const Narrowing narrowing = chronology.narrowing(0, chronology.brackets().at(0));
  CHECK(narrowing.what == "serial");
  CHECK(narrowing.candidates == 2);
  // QX1 all the year, QX2 until 31 March: (365 * 365 + 90 * 90) / 455.
  CHECK(narrowing.days_then == 311);
}

namespace {

Claim& timed_event(Desk& desk, std::string_view kind, std::string_view serial, Day least,
                   Day most) {
  Claim& event = desk.add(ClaimKind::kEvent, kind, serial);
  event.when = {};
  event.relation.own().photograph = {event.manuscript, event.block};
  event.relation.own().least = least;
  event.relation.own().most = most;
  return event;
}

// QX3 with what befell it, and a little more paint.
void fill_events(Desk& desk) {
  fill(desk);
  desk.table("histories",
             "serial,from,to,kind,role,unit,place,detail\n"
             "QX3,1942-04-10,,accident,,,,\n"
             "QX3,1944-02-20,,accident,,,,\n"
             "QX3,1943-05-02,,modified,,,,\n"
             "QX3,1945-03,,ferried,,,,\n"
             "QX1,1943-07-01,,repaint,,,,edged disc @ fuselage\n"
             "QX1,1944-01-15,,repaint,,,,plain disc\n");
}

std::string worst(Desk& desk) {
  const Chronology chronology(desk.input());
  std::string text;
  for (const TimeClash& clash : chronology.clashes()) {
    text += std::string(to_word(clash.level)) + ": " + chronology.clash_in_words(clash.facts);
    if (clash.outvoted != kNone) {
      text += " | not " + chronology.in_words(chronology.facts()[clash.outvoted]);
    }
  }
  return text;
}

}  // namespace

TEST_CASE("an event of the ledger bounds the photograph that is counted from it") {
  Desk desk;
  fill_events(desk);
  desk.caption("QX3, two days before it was modified.", "Fig. 1");
  desk.add(ClaimKind::kAirframe, "QX3", "QX3");
  timed_event(desk, "modified", "QX3", -2, -2);
  CHECK(bracket(desk) == "30 April 1943");
}

TEST_CASE("of two accidents either may be meant") {
  Desk desk;
  fill_events(desk);
  desk.caption("QX3, at most five days after its accident.", "Fig. 1");
  desk.add(ClaimKind::kAirframe, "QX3", "QX3");
  timed_event(desk, "accident", "QX3", 0, 5);
  CHECK(bracket(desk) == "10 to 15 April 1942 or 20 to 25 February 1944");
}

TEST_CASE("an event without a day still parts what lies before it from what lies after") {
  Desk desk;
  fill_events(desk);
  desk.caption("QX3, before it was converted.", "Fig. 1");
  desk.add(ClaimKind::kAirframe, "QX3", "QX3");
  timed_event(desk, "repaint", "QX3", kFirstDay, 0);
  desk.caption("QX3, May 1942, after that.", "Fig. 2");
  desk.date("1942-05");
  desk.add(ClaimKind::kAirframe, "QX3", "QX3");
  timed_event(desk, "repaint", "QX3", 0, kLastDay);
  CHECK(bracket(desk) == "January 1941 to May 1942");
}

TEST_CASE("an event known to a month parts photographs within that month") {
  Desk desk;
  fill_events(desk);
  desk.caption("QX3, after it was ferried.", "Fig. 1");
  desk.add(ClaimKind::kAirframe, "QX3", "QX3");
  timed_event(desk, "ferried", "QX3", 0, kLastDay);
  CHECK(bracket(desk) == "March to December 1945");
  desk.caption("QX3, 20 March 1945, before it was ferried.", "Fig. 2");
  desk.date("1945-03-20");
  desk.add(ClaimKind::kAirframe, "QX3", "QX3");
  timed_event(desk, "ferried", "QX3", kFirstDay, 0);
  CHECK(bracket(desk) == "20 March 1945 to 31 December 1945");
}

TEST_CASE("a date against an event that may have befallen it twice is a warning") {
  Desk desk;
  fill_events(desk);
  desk.caption("QX3, June 1944, before it was modified.", "Fig. 1");
  desk.date("1944-06");
  desk.add(ClaimKind::kAirframe, "QX3", "QX3");
  timed_event(desk, "modified", "QX3", kFirstDay, 0);
  CHECK(worst(desk) ==
        "warning: dated June 1944; taken before QX3 was modified (until 2 May 1943)");
}

TEST_CASE("a form that a repaint covered is gone until another repaint may bring it back") {
  Desk desk;
  fill_events(desk);
  desk.caption("QX1.", "Fig. 1");
  desk.add(ClaimKind::kAirframe, "QX1", "QX1");
  desk.add(ClaimKind::kMarking, "plain disc", "QX1").position = "fuselage";
  CHECK(bracket(desk) == "10 January 1941 to 1 July 1943 or 15 January 1944 to 20 June 1944");
}

TEST_CASE("a marking without a surface is taken to be on the ledger's usual one") {
  Desk desk;
  fill(desk);
  desk.caption("QX3.", "Fig. 1");
  desk.date("1943-09");
  desk.add(ClaimKind::kMarking, "plain disc", "QX3");
  desk.caption("QX3.", "Fig. 2");
  desk.add(ClaimKind::kAirframe, "QX3", "QX3");
  desk.add(ClaimKind::kMarking, "edged disc", "QX3");
  CHECK(bracket(desk, 1) == "September 1943 to December 1945");
}

TEST_CASE("after the form was brought back, its order with the later one counts anew") {
  Desk desk;
  fill_events(desk);
  desk.caption("QX1.", "Fig. 1");
  desk.date("1944-05");
  desk.add(ClaimKind::kMarking, "plain disc", "QX1").position = "fuselage";
  desk.caption("QX1.", "Fig. 2");
  desk.date("1943-05");
  desk.add(ClaimKind::kMarking, "edged disc", "QX1").position = "fuselage";
  CHECK(worst(desk).empty());
  desk.caption("QX1.", "Fig. 3");
  desk.date("1944-02");
  desk.add(ClaimKind::kMarking, "edged disc", "QX1").position = "fuselage";
  CHECK(worst(desk) ==
        "error: Fig. 1 dated May 1944; Fig. 3 dated February 1944; Fig. 1 still with plain disc; "
        "Fig. 3 with edged disc, which always came after plain disc");
}

TEST_CASE("what lies under a coat was seen bare before") {
  Desk desk;
  fill(desk);
  desk.table("markings",
             "marking,family\nplain disc,disc\nedged disc,disc\nbars,bars\nstar,nose art\n"
             "arrow,nose art\n");
  desk.caption("QX3 with the arrow painted over the star.", "Fig. 1");
  desk.date("1942-05");
  desk.add(ClaimKind::kAirframe, "QX3", "QX3");
  desk.add(ClaimKind::kMarking, "arrow", "QX3");
  desk.add(ClaimKind::kOverpaint, "arrow over star", "QX3");
  desk.caption("QX3 with the star.", "Fig. 2");
  desk.add(ClaimKind::kAirframe, "QX3", "QX3");
  desk.add(ClaimKind::kMarking, "star", "QX3");
  CHECK(bracket(desk, 1) == "January 1941 to May 1942");
}

TEST_CASE("a lower coat was introduced before it was painted over") {
  Desk desk;
  fill(desk);
  desk.caption("QX3 with bars over the edged disc.", "Fig. 1");
  desk.add(ClaimKind::kAirframe, "QX3", "QX3");
  desk.add(ClaimKind::kOverpaint, "bars over edged disc", "QX3");
  Claim& lower = desk.add(ClaimKind::kMarking, "edged disc", "QX3");
  lower.state = MarkingState::kFormer;
  lower.tense = Tense::kFormer;
  CHECK(bracket(desk) == "June 1942 to December 1945");
}

TEST_CASE("a silence of the ledger prolongs a spell, but not beyond another one") {
  Desk desk;
  fill(desk);
  desk.table("identities",
             "serial,identity,kind,from,to\nQX3,R-1,code,1941-02-01,1942-06-30\n"
             "QX3,H-9,code,1942-07-01,1945-10-31\n");
  desk.caption("QX3, R-1.", "Fig. 1");
  desk.add(ClaimKind::kAirframe, "QX3", "QX3");
  desk.add(ClaimKind::kAirframe, "R-1", "QX3", "code");
  CHECK(bracket(desk) == "January 1941 to June 1942");
}

TEST_CASE("a clash stands at the member that all else outvotes") {
  Desk desk;
  fill(desk);
  desk.table("people", "person,born,died\nPiet Sarn,1915-01-20,1941-08-21\n");
  desk.caption("Sarn with QX1 and QX2, with the edged disc.", "Fig. 1");
  desk.add(ClaimKind::kAirframe, "QX1", "QX1");
  desk.add(ClaimKind::kPerson, "Piet Sarn", "Piet Sarn");
  desk.add(ClaimKind::kMarking, "edged disc", "QX1").position = "fuselage";
  desk.add(ClaimKind::kAirframe, "QX2", "QX2");
  const std::string told = worst(desk);
  CAPTURE(told);
  CHECK(told.ends_with("| not Piet Sarn alive (20 January 1915 to 21 August 1941)"));
}

TEST_CASE("the former owner's insignia were there before the new owner's, usually") {
  Desk desk;
  fill(desk);
  desk.table("markings", "marking,family\nplain disc,disc\nedged disc,disc\nOssar star,other\n")
      .table("identities",
             "serial,identity,kind,from,to,operator\n"
             "QX3,S 77,previous_serial,1940-02-01,1940-12-31,Ossar\n");
  desk.caption("QX3 with the Ossar star.", "Fig. 1");
  desk.add(ClaimKind::kAirframe, "QX3", "QX3");
  desk.add(ClaimKind::kMarking, "Ossar star", "QX3");
  CHECK(usual(desk) == "February to December 1940");
  desk.caption("QX3 with the plain disc.", "Fig. 2");
  desk.date("1940-06");
  desk.add(ClaimKind::kMarking, "plain disc", "QX3");
  CHECK(usual(desk) == "February to June 1940");
}

TEST_CASE("a caption that tells of a repaint accounts for an old form itself") {
  Desk desk;
  fill(desk);
  desk.caption("QX3, repainted with the plain disc.", "Fig. 1");
  desk.date("1944-05");
  desk.add(ClaimKind::kMarking, "plain disc", "QX3");
  desk.add(ClaimKind::kEvent, "repaint", "QX3").when = {};
  desk.caption("QX3.", "Fig. 2");
  desk.date("1943-05");
  desk.add(ClaimKind::kMarking, "edged disc", "QX3");
  CHECK(worst(desk).empty());
}

TEST_CASE("an accident long before the end leaves the life its end") {
  Desk desk;
  fill_events(desk);
  desk.caption("QX3 after its accident.", "Fig. 1");
  desk.add(ClaimKind::kAirframe, "QX3", "QX3");
  desk.add(ClaimKind::kEvent, "accident", "QX3").when = {};
  CHECK(bracket(desk) == "1941 to 1945");
}
