// Dates as queries word them.
#include "tailproof/verdict.h"

#include <catch2/catch.hpp>

#include "tailproof/edtf.h"

namespace tailproof {
namespace {

When when_of(std::string_view edtf, std::uint8_t season) {
  When when;
  when.known = true;
  const auto date = Edtf::parse(edtf, Hemisphere::kSouth);
  REQUIRE(date);
  when.days = date.value().days();
  when.widened = when.days;
  when.season = season;
  return when;
}

TEST_CASE("a season is told with the months that it has there") {
  CHECK(when_in_words(when_of("1938-21", 1)) == "in the spring (September to November 1938)");
  CHECK(when_in_words(when_of("1938-23", 3)) == "in the autumn (March to May 1938)");
  CHECK(when_in_words(when_of("1938-05", 0)) == "in May 1938");
}

}  // namespace
}  // namespace tailproof
