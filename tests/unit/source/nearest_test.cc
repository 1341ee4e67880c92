#include "source/nearest.h"

#include <catch2/catch.hpp>
#include <vector>

namespace tailproof {

TEST_CASE("the nearest word is the one with the fewest slips") {
  const std::vector<std::string> words = {"rank-disagrees", "type-disagrees", "unit-disagrees"};
  CHECK(nearest("rank-disagrees", words) == "rank-disagrees");
  CHECK(nearest("rnak-disagrees", words) == "rank-disagrees");
  CHECK(nearest("typ-disagree", words) == "type-disagrees");
  CHECK(nearest("disagrees", words) == "rank-disagrees");  // a part; the first of equals
}

TEST_CASE("a word too far from all is nobody's slip") {
  const std::vector<std::string> words = {"check", "claims"};
  CHECK(nearest("frob", words).empty());
  CHECK(nearest("", words).empty());
  CHECK(nearest("x", {}).empty());
}

TEST_CASE("a message ends with the word that was perhaps meant, or as it was") {
  const std::vector<std::string> words = {"position", "theatre"};
  CHECK(perhaps_meant("posiiton", words) == "; \"position\" was perhaps meant");
  CHECK(perhaps_meant("remark", words).empty());
}

}  // namespace tailproof
