// Checks that need no ledger or little of it: dates, conversions, references, stets, events.
#include <catch2/catch.hpp>

#include "desk.h"

using namespace tailproof;
using tailproof::testing::Desk;
using tailproof::testing::summary;

TEST_CASE("a date that does not exist is impossible, and nothing rests on it") {
  Desk desk;
  desk.table("airframes",
             "serial,type,taken_on_charge,struck_off_charge\nQX1,Gannage,1941-01-01,1942-01-01\n");
  desk.date("1943-06");
  Claim& date = desk.add(ClaimKind::kDate, "1943-06-31", "Fig. 1");
  date.impossible = true;
  date.text = "31 June 1943";
  const auto queries = desk.run("date-impossible");
  REQUIRE(summary(queries) == "error date-impossible");
  CHECK(queries[0].message.find("30 June 1943") != std::string::npos);
  date.attributed = true;
  CHECK(summary(desk.run("date-impossible")) == "warning date-impossible");
  date.negated = true;
  CHECK(summary(desk.run("date-impossible")).empty());
}

TEST_CASE("a weekday is that of its date") {
  const auto judged = [](std::string_view date, int weekday) {
    Desk desk;
    desk.date(date).weekday = weekday;
    return summary(desk.run("weekday-wrong"));
  };
  CHECK(judged("1943-06-14", 1).empty());  // a Monday
  CHECK(judged("1943-06-14", 2) == "error weekday-wrong");
  CHECK(judged("1943-06-14/1943-06-15", 2).empty());
  CHECK(judged("1943-06", 2).empty());
}

TEST_CASE("a date with a wrong weekday proves nothing else") {
  Desk desk;
  desk.table("airframes",
             "serial,type,taken_on_charge,struck_off_charge\nQX1,Gannage,1941-01-01,1942-01-01\n");
  desk.date("1943-06-14").weekday = 2;
  desk.add(ClaimKind::kAirframe, "QX1", "QX1");
  CHECK(summary(desk.run("outside-service-life")) == "error outside-service-life");
  CHECK(summary(desk.run_all()) == "error weekday-wrong");
}

namespace {

std::string conversion(double value, std::string_view text, std::string_view unit, double other,
                       std::string_view other_text, std::string_view other_unit) {
  Desk desk;
  Claim& claim = desk.add(ClaimKind::kMeasure, "", "band");
  claim.measure.own().value = claim.measure.own().value_low = claim.measure.own().value_high =
      value;
  claim.measure.own().unit = unit;
  claim.measure.own().value_text = text;
  claim.measure.own().converted = other;
  claim.measure.own().converted_unit = other_unit;
  claim.measure.own().converted_text = other_text;
  const auto queries = desk.run("conversion-wrong");
  return queries.empty() ? "" : queries[0].suggestion;
}

}  // namespace

TEST_CASE("a conversion may differ by the rounding that both numbers show") {
  CHECK(conversion(18, "18", "in", 46, "46", "cm").empty());
  CHECK(conversion(18, "18", "in", 64, "64", "cm") == "46 cm");
  CHECK(conversion(36, "36", "in", 91, "91", "cm").empty());
  CHECK(conversion(6500, "6,500", "lb", 2450, "2,450", "kg") == "2950 kg");
  CHECK(conversion(6500, "6,500", "lb", 2950, "2,950", "kg").empty());
  CHECK(conversion(100, "100", "kg", 220, "220", "lb").empty());
  CHECK(conversion(3000, "3,000", "m", 9840, "9,840", "ft").empty());
  CHECK(conversion(10, "10", "nmi", 19, "19", "km").empty());
  CHECK(conversion(2.5, "2.5", "in", 63.5, "63.5", "mm").empty());
  CHECK(conversion(50, "50", "gal", 227, "227", "l").empty());
  CHECK(conversion(50, "50", "gal", 189, "189", "l").empty());
  CHECK(conversion(18, "18", "in", 46, "46", "kg").empty());
}

TEST_CASE("references lead to figures that exist") {
  Desk desk;
  desk.caption("One", "Fig. 1").caption("Two", "Figure 2").caption("A plate", "Plate IV");
  const auto refer = [&](std::string_view value) {
    desk.caption("Text", "", BlockKind::kBody);
    return &desk.add(ClaimKind::kReference, value, "");
  };
  SECTION("one series for both spellings") {
    refer("Figure 1");
    refer("Fig. 2");
    refer("Plate 4");
    refer("Fig. 2a");
    CHECK(summary(desk.run("reference-broken")).empty());
  }
  SECTION("missing") {
    refer("Fig. 3");
    CHECK(summary(desk.run("reference-broken")) == "warning reference-broken");
  }
  SECTION("plates are a series of their own, and pages none") {
    refer("Plate 1");
    refer("p. 45");
    refer("Map 2");
    CHECK(summary(desk.run("reference-broken")) == "warning reference-broken");
  }
  SECTION("somebody else's figure") {
    refer("Fig. 31")->attributed = true;
    CHECK(summary(desk.run("reference-broken")).empty());
  }
  SECTION("a number used twice") {
    desk.caption("Text between.", "", BlockKind::kBody).caption("Two again", "Fig. 2");
    const auto queries = desk.run("reference-broken");
    REQUIRE(summary(queries) == "warning reference-broken");
    CHECK(queries[0].related.size() == 1);
  }
}

TEST_CASE("numbers that carry a chapter are compared as they stand") {
  Desk desk;
  desk.caption("One", "2.1").caption("Text", "", BlockKind::kBody);
  desk.add(ClaimKind::kReference, "Figure 2.1", "");
  desk.add(ClaimKind::kReference, "Fig. 1", "");
  CHECK(summary(desk.run("reference-broken")).empty());
  desk.add(ClaimKind::kReference, "Figure 2.25", "");
  CHECK(summary(desk.run("reference-broken")) == "warning reference-broken");
}

TEST_CASE("a stet that nothing needs, and one for no check") {
  Desk desk;
  StetUse used;
  used.check = "weekday-wrong";
  used.uses = 1;
  StetUse unused = used;
  unused.uses = 0;
  StetUse unknown = unused;
  unknown.check = "weekday-wrongs";
  const auto queries = desk.run_stets({used, unused, unknown}, {"weekday-wrong"});
  REQUIRE(summary(queries) == "note stet-unused; note stet-unused");
  CHECK(queries[1].suggestion == "weekday-wrong");
}

namespace {

std::string event(std::string_view date, std::string_view kind, std::string_view serial = "QX1",
                  std::string_view text = {}) {
  Desk desk;
  desk.table("airframes",
             "serial,type,taken_on_charge,struck_off_charge,fate\n"
             "QX1,Gannage,1941-03-01,1943-09-30,lost\nQX2,Gannage,1941-03-01,1944-01-31,scrapped\n")
      .table("histories",
             "serial,from,to,kind,role,unit,place,detail\n"
             "QX1,1942-02-02,,accident,,,Morrow,\nQX1,1943-08-20,,lost,,,Morrow,\n"
             "QX1,1942-02~,,repaint,,,Morrow,\n"
             "QX2,1942-02-02,,accident,,,Morrow,\nQX2,1943-08-20,,captured,,,Morrow,\n");
  desk.date(date, "event");
  Claim& claim = desk.add(ClaimKind::kEvent, kind, serial);
  if (!text.empty()) claim.text = text;
  if (text == "delivered") claim.said = kSaidNear;
  return summary(desk.run("event-disagrees"));
}

}  // namespace

TEST_CASE("an event has a day that its row allows") {
  CHECK(event("1943-08-20", "lost").empty());
  CHECK(event("1943-08-21", "lost") == "error event-disagrees");
  CHECK(event("1943-08", "lost").empty());
  CHECK(event("1943-08-20", "accident").empty());
  CHECK(event("1942-02-03", "accident") == "error event-disagrees");
  CHECK(event("1942-02-15", "repaint").empty());
  CHECK(event("1942-03-15", "repaint") == "note event-disagrees");
  CHECK(event("1942-05-15", "repaint") == "warning event-disagrees");
  CHECK(event("1942-05-15", "modified").empty());
}

TEST_CASE("taking on and striking off have their paper dates") {
  CHECK(event("1941-03-20", "taken_on_charge", "QX1", "delivered").empty());
  CHECK(event("1941-03-20", "taken_on_charge", "QX1", "taken on charge") ==
        "error event-disagrees");
  CHECK(event("1941-06-20", "taken_on_charge", "QX1", "delivered") == "error event-disagrees");
  CHECK(event("1943-09-01", "struck_off_charge").empty());
  CHECK(event("1943-10-01", "struck_off_charge") == "error event-disagrees");
}

TEST_CASE("an accident does not date a loss, and a capture is no loss") {
  CHECK(event("1943-01-01", "lost", "QX2").empty());
  CHECK(event("1943-08-20", "lost", "QX2") == "error event-disagrees");
  CHECK(event("1943-01-01", "captured", "QX2") == "error event-disagrees");
}

TEST_CASE("a wrong date of an event is not also a date outside the life") {
  Desk desk;
  desk.table("airframes",
             "serial,type,taken_on_charge,struck_off_charge,fate\nQX1,Gannage,1941-03-01,"
             "1943-08-20,lost\n")
      .table("histories", "serial,from,to,kind\nQX1,1943-08-20,,lost\n");
  desk.date("1944-08-20", "event");
  desk.add(ClaimKind::kAirframe, "QX1", "QX1");
  desk.add(ClaimKind::kEvent, "lost", "QX1");
  CHECK(summary(desk.run_all()) == "error event-disagrees");
}
