#include "reading.h"

namespace tailproof {
namespace {

using Lines = std::vector<std::string>;

TEST_CASE("each row of a caption list is a caption with exact spans") {
  const Reading reading =
      read_text_as("c.csv",
                   "\xEF\xBB\xBF"
                   "Credit,Page,caption,Figure,photograph\r\n"
                   "P. Orme,3,\"QX1001, the \"\"Gull\"\",\r\nat rest\",plate 2,CS 12\r\n"
                   ",4,Fig. 7. QX1002,,\r\n");
  CHECK(reading.complaints.empty());
  CHECK(reading.outline() == Lines{"caption <Plate 2>: QX1001, the \"Gull\", at rest",
                                   "caption <Fig. 7>: Fig. 7. QX1002"});
  CHECK(reading.block(0).credit == "P. Orme");
  CHECK(reading.block(0).photograph == "CS 12");
  CHECK(reading.source_of("QX1001") == "QX1001");
  CHECK(reading.source_of("\"Gull\"") == "\"\"Gull\"\"");
  CHECK(reading.source_of("at rest") == "at rest");
  CHECK(reading.sources.position(0, reading.block(0).text_span(20, 27).begin).line == 3);
}

TEST_CASE("a list without captions fails and names what it has") {
  const Reading reading = read_text_as("c.csv", "figure,text\n1,QX1\n");
  CHECK(reading.failure.find("needs a column \"caption\"; this one has \"figure\", \"text\"") !=
        std::string::npos);
  CHECK(read_text_as("c.csv", "").failure.find("empty") != std::string::npos);
}

TEST_CASE("a row with too many or too few cells is a complaint with its line") {
  const Reading reading =
      read_text_as("c.csv", "figure,caption\n1,QX1\n2,QX2, and QX3\n3\n4,QX4\n");
  REQUIRE(reading.complaints.size() == 2);
  CHECK(reading.complaints[0].line == 3);
  CHECK(reading.complaints[1].line == 4);
  CHECK(reading.outline() == Lines{"caption <1>: QX1", "caption <2>: QX2", "caption <4>: QX4"});
}

}  // namespace
}  // namespace tailproof
