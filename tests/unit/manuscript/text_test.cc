#include "reading.h"

namespace tailproof {
namespace {

using Lines = std::vector<std::string>;

constexpr std::string_view kText = R"(CHAPTER ONE

THE BOATS

Boats came to Gull Point in 1940, as told in
Fig. 11 and elsewhere, with serials like 44-
99013 and a two-
colour flash; the photo-
graph is lost.

                    12

Fig. 3: QX1001 at the slip, with a photograph of
     it. (CS 12)
     Photograph: P. Orme
Fig. 4. QX1002 behind it.

[stet weekday-wrong: as in
the diary]
PLATE 2 - QX1003.

[Fig. 5: QX1004 [sic] at
rest.] And so on.

40      THE BOATS

Table 4. The boats

  Serial   End
  -------  --------------
  QX1005   lost, 1942
  QX1006   scrapped,
           1943


Notes

[1] Orme, p. 3, on
    QX1007.
[2] Dane.

Underlined
==========

Last words.
[stet unit-disagrees: known]
)";

TEST_CASE("plain text becomes headings, captions, rows and paragraphs") {
  for (const bool crlf : {false, true}) {
    const Reading reading = read_text_as("t.txt", crlf ? with_crlf(kText) : std::string(kText));
    CHECK(reading.complaints.empty());
    CHECK(reading.outline() ==
          Lines{"heading1: CHAPTER ONE", "heading1: THE BOATS",
                ("body: Boats came to Gull Point in 1940, as told in Fig. 11 and elsewhere, with "
                 "serials like 44-99013 and a two-colour flash; the photograph is lost."),
                "caption <Fig. 3>: Fig. 3: QX1001 at the slip, with a photograph of it. (CS 12)",
                "caption <Fig. 4>: Fig. 4. QX1002 behind it.",
                "caption <Plate 2>: PLATE 2 - QX1003.",
                "caption <Fig. 5>: Fig. 5: QX1004 [sic] at rest.", "body: And so on.",
                "body: Table 4. The boats", "table: QX1005 | lost, 1942",
                "table: QX1006 | scrapped, 1943", "heading2: Notes",
                "body: [1] Orme, p. 3, on QX1007.", "body: [2] Dane.", "heading1: Underlined",
                "body: Last words."});
    CHECK(reading.block(3).credit == "P. Orme");
    CHECK(reading.source_of("44-99013") == (crlf ? "44-\r\n99013" : "44-\n99013"));
    CHECK(reading.source_of("photograph is") == (crlf ? "photo-\r\ngraph is" : "photo-\ngraph is"));
    CHECK(reading.manuscript.tables.at(0).caption == "Table 4. The boats");
    CHECK(reading.manuscript.tables.at(0).headings == Lines{"Serial", "End"});
    REQUIRE(reading.manuscript.stets.size() == 2);
    CHECK(reading.manuscript.stets[0].reason == "as in the diary");
    CHECK(reading.manuscript.stets[0].block == 5);
    CHECK(reading.manuscript.stets[1].block == 15);
  }
}

TEST_CASE("a caption may run over a line that begins with another figure's label") {
  for (const char* text : {"Fig. 1. QX1001 at rest. (Compare\nFig. 2.)\n",
                           "Fig. 1. QX1001 at rest. The other side is shown in\nFig. 2.\n"}) {
    const Reading reading = read_text_as("t.txt", text);
    CAPTURE(text);
    REQUIRE(reading.manuscript.blocks.size() == 1);
    CHECK(reading.manuscript.blocks[0].text.find("Fig. 2") != std::string::npos);
  }
  const Reading two = read_text_as("t.txt", "Fig. 1. QX1001 at rest\nFig. 2. QX1002 at rest\n");
  CHECK(two.manuscript.blocks.size() == 2);
}

TEST_CASE("a sentence about a figure is no caption") {
  const Reading reading = read_text_as("t.txt", "Fig. 11 is the only view.\n\nPlate glass, 2.\n");
  CHECK(reading.outline() == Lines{"body: Fig. 11 is the only view.", "body: Plate glass, 2."});
}

TEST_CASE("a year on a line of its own heads what follows, a smaller number is a page's") {
  const Reading reading =
      read_text_as("t.txt", "1918\n\nIn May it left.\n\n212\n\n1919\u201320\n\nIt was sold.\n");
  CHECK(reading.outline() == Lines{"heading2: 1918", "body: In May it left.",
                                   "heading2: 1919\u201320", "body: It was sold."});
}

TEST_CASE("a soft hyphen vanishes, at a line end with the line end") {
  const Reading reading = read_text_as(
      "t.txt", "The QX\u20111001 and the QX\u00A01002 sea\u00ADplane, photo\u00AD\ngraphed.\n");
  CHECK(reading.outline() == Lines{"body: The QX-1001 and the QX 1002 seaplane, photographed."});
  CHECK(reading.source_of("QX-1001") == "QX\u20111001");
  CHECK(reading.source_of("seaplane") == "sea\u00ADplane");
}

TEST_CASE("a picture's own words in brackets stand before its caption") {
  const Reading reading =
      read_text_as("p.txt",
                   "[The corner by\tthe creek] Fig. 33. QX1 after its\nground-loop.\n\n"
                   "[Nobody knows] why.\n");
  CHECK(reading.outline() == Lines{"body: The corner by the creek",
                                   "caption <Fig. 33>: Fig. 33. QX1 after its ground-loop.",
                                   "body: [Nobody knows] why."});
  CHECK(reading.source_of("QX1") == "QX1");
}

}  // namespace
}  // namespace tailproof
