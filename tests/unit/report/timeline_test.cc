#include "report/timeline.h"

#include <catch2/catch.hpp>

namespace tailproof {

namespace {

DaySet days_of(const char* edtf) { return Edtf::parse(edtf).value().days(); }

Timeline timeline_of(const char* claimed, const char* quoted) {
  Timeline timeline;
  timeline.id = "t";
  timeline.subject = timeline.heading = "OB<1>";
  timeline.claimed = claimed;
  timeline.days = days_of(claimed);
  timeline.lanes = {Lane{DatedRow{"Order & paint", days_of(quoted), days_of(quoted)}, true}};
  return timeline;
}

double attribute(const std::string& svg, const std::string& name, const std::string& attribute) {
  const std::size_t at = svg.find("class=\"" + name + "\"");
  REQUIRE(at != std::string::npos);
  const std::size_t value = svg.find(attribute + "=\"", at);
  return std::stod(svg.substr(value + attribute.size() + 2));
}

}  // namespace

TEST_CASE("there is nothing to draw without an end on both sides") {
  CHECK(is_drawable(timeline_of("1943-06", "1943-09/..")));
  Timeline timeline = timeline_of("1943-06", "1943-09/..");
  timeline.lanes[0].is_quoted = false;
  CHECK_FALSE(is_drawable(timeline));
  timeline = timeline_of("1943-06", "1943-09/..");
  timeline.lanes[0].row.possible = DaySet::all();
  CHECK_FALSE(is_drawable(timeline));
  timeline = timeline_of("1943-06", "1943-09/..");
  timeline.days = DaySet::all();
  CHECK_FALSE(is_drawable(timeline));
}

TEST_CASE("a clash is seen: the claimed days and the evidence lie apart, in order of time") {
  const std::string svg = timeline_svg(timeline_of("1943-06", "1943-09/.."));
  const double claimed = attribute(svg, "claimed", "x");
  const double claimed_end = claimed + attribute(svg, "claimed", "width");
  CHECK(claimed_end < attribute(svg, "certain", "x"));
  const std::string before = timeline_svg(timeline_of("1943-06", "../1943-02"));
  CHECK(attribute(before, "certain", "x") + attribute(before, "certain", "width") <
        attribute(before, "claimed", "x"));
}

TEST_CASE("the drawing says in words what it shows, without markup of the ledger's") {
  const std::string svg = timeline_svg(timeline_of("1943-06", "1943-09/.."));
  CHECK(svg.find("OB&lt;1&gt; in time") != std::string::npos);
  CHECK(svg.find("Order &amp; paint: from 1 September 1943") != std::string::npos);
  CHECK(svg.find("<1>") == std::string::npos);
}

TEST_CASE("a day and a century are both drawn within the picture") {
  for (const char* claimed : {"1943-06-14", "1943", "1850"}) {
    const std::string svg = timeline_svg(timeline_of(claimed, "1943-09-01/1944"));
    for (const char* name : {"claimed", "certain"}) {
      const double x = attribute(svg, name, "x");
      CHECK(x >= 0);
      CHECK(attribute(svg, name, "width") > 0);
      CHECK(x + attribute(svg, name, "width") <= 760);
    }
    CHECK(svg.find("class=\"year\"") != std::string::npos);
  }
}

TEST_CASE("rows of the ledger are found as queries quote them") {
  CHECK_FALSE(DatedRows(Ledger()).find("orders.csv", 2));
}

}  // namespace tailproof
