#include "ledger/serial_shapes.h"

#include <catch2/catch.hpp>

namespace tailproof {
namespace {

std::string shown(std::string_view serial) {
  const auto shape = shape_of(serial);
  return shape ? shape->letters + shape->joint + std::string(shape->digits, '9') + shape->behind
               : "none";
}

}  // namespace

TEST_CASE("a serial has a shape when little else looks like it") {
  CHECK(shown("K-217") == "K-999");
  CHECK(shown("OB217") == "OB999");
  CHECK(shown("V/104") == "V/999");
  CHECK(shown("QX 2017") == "QX 9999");
  CHECK(shown("1105C") == "9999C");
  CHECK(shown("105RX") == "999RX");
  CHECK(shown("K 217") == "K 999");
  CHECK(shown("A 217") == "none");    // so many of anything
  CHECK(shown("K-21") == "none");     // a road, a page, a code
  CHECK(shown("41-2017") == "none");  // a range, a telephone
  CHECK(shown("217") == "none");
  CHECK(shown("LONG217") == "none");
  CHECK(shown("K-217A") == "none");
  CHECK(shown("-217") == "none");
  CHECK(shown("KQ") == "none");
  CHECK(shown("k-217") == "none");
  CHECK(shown("") == "none");
}

TEST_CASE("the shapes of a ledger are counted in the order of its rows") {
  std::vector<Airframe> rows(4);
  rows[0].serial = "K-217";
  rows[1].serial = "QX1001";
  rows[2].serial = "K-218";
  rows[3].serial = "Lady";
  const std::vector<SerialShape> shapes = serial_shapes(rows);
  REQUIRE(shapes.size() == 2);
  CHECK(shapes[0].example == "K-217");
  CHECK(shapes[0].rows == 2);
  CHECK(shapes[1].example == "QX1001");
}

TEST_CASE("so many shapes that they are no rule teach nothing") {
  std::vector<Airframe> rows;
  for (char a = 'A'; a <= 'Z'; ++a) {
    for (const std::string digits : {"100", "1000", "10000"}) {
      rows.emplace_back().serial = a + digits;
    }
  }
  CHECK(serial_shapes(rows).empty());
}

}  // namespace tailproof
