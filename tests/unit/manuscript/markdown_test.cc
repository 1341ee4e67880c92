#include "reading.h"

namespace tailproof {
namespace {

using Lines = std::vector<std::string>;

constexpr std::string_view kChapter = R"(---
title: Gulls QX9999
---

# Chapter One

QX1001 is *a* [Petrel](x.html "t")[^n] &ldquo;here&rdquo; \*now\*,
of `3 Flight` &amp; ~~QX8~~ others.  
Caf&eacute;.

![Fig. 1. QX1002 at *Gull* Point](img/1.jpg "P. Orme")

![A boat on a slip](img/2.jpg)
*Fig. 2. QX1003 on the slip,
May 1941.*

![A hat](img/3.jpg "Album 3")

*The hat of 1941.*

Figure 4.2: QX1004 alone.

Fig. 11 is the only view.

<figure>
<img src="img/5.jpg" alt="A caf&eacute;" title="Q. Dane">
<figcaption>Fig. 5. QX1005 &amp;
<em>QX1006</em>.</figcaption>
</figure>

<!-- stet unit-disagrees: the log says so -->
Kept.<!-- a remark on QX7 -->

Table 3. The boats

| Serial | End |
| --- | --- |
| QX1007 | lost \| sunk |
| | QX1008 |

    QX9998 in code

Setext two
----------

> Quoted
> body.

- item one
- item two

[^n]: The note, QX1009,
    goes on.

    Second paragraph.
)";

TEST_CASE("a Markdown chapter becomes blocks, captions and rows") {
  for (const bool crlf : {false, true}) {
    const Reading reading =
        read_text_as("c.md", crlf ? with_crlf(kChapter) : std::string(kChapter));
    CHECK(reading.complaints.empty());
    CHECK(reading.outline() ==
          Lines{"heading1: Chapter One",
                "body: QX1001 is a Petrel “here” *now*, of 3 Flight & others. Café.",
                "caption <Fig. 1>: Fig. 1. QX1002 at Gull Point",
                "caption <Fig. 2>: A boat on a slip",
                "caption <Fig. 2>: Fig. 2. QX1003 on the slip, May 1941.",
                "caption: A hat",
                "caption: The hat of 1941.",
                "caption <Figure 4.2>: Figure 4.2: QX1004 alone.",
                "body: Fig. 11 is the only view.",
                "caption <Fig. 5>: A café",
                "caption <Fig. 5>: Fig. 5. QX1005 & QX1006.",
                "body: Kept.",
                "body: Table 3. The boats",
                "table: QX1007 | lost | sunk",
                "table: | QX1008",
                "heading2: Setext two",
                "body: Quoted body.",
                "body: item one",
                "body: item two",
                "body: The note, QX1009, goes on.",
                "body: Second paragraph."});
    CHECK(reading.source_of("QX1001 is a Petrel") == "QX1001 is *a* [Petrel");
    CHECK(reading.source_of("“here”") == "&ldquo;here&rdquo;");
    CHECK(reading.source_of("QX1006") == "QX1006");
    CHECK(reading.source_of("café") == "caf&eacute;");
    CHECK(reading.source_of("Second") == "Second");
    CHECK(reading.source_of("lost | sunk") == "lost \\| sunk");
    CHECK(reading.block(2).credit == "P. Orme");
    CHECK(reading.block(4).image == "img/2.jpg");
    CHECK(reading.block(3).group == reading.block(4).group);
    CHECK(reading.block(6).group == reading.block(5).group);
    CHECK(reading.block(6).credit == "Album 3");
    CHECK(reading.block(10).image == "img/5.jpg");
    CHECK(reading.block(10).credit == "Q. Dane");
    REQUIRE(reading.manuscript.tables.size() == 1);
    CHECK(reading.manuscript.tables[0].caption == "Table 3. The boats");
    CHECK(reading.manuscript.tables[0].headings == Lines{"Serial", "End"});
    CHECK(reading.block(14).cells.at(1).column == 1);
    REQUIRE(reading.manuscript.stets.size() == 1);
    CHECK(reading.manuscript.stets[0].block == 11);
    CHECK(reading.manuscript.sections[16] == 15);
    CHECK(reading.sources.position(0, reading.block(3).span.begin) == Position{13, 1});
  }
}

TEST_CASE("a picture inside prose is a caption of its own, the prose stays one block") {
  const Reading reading = read_text_as("p.md", "The ![gull badge](g.png) of QX1\nis new.\n");
  CHECK(reading.outline() == Lines{"body: The of QX1 is new.", "caption: gull badge"});
}

TEST_CASE("a caption may stand above its picture") {
  const Reading reading = read_text_as("p.md", "Plate 2. QX1 at rest\n![](g.png \"Orme\")\n");
  CHECK(reading.outline() == Lines{"caption <Plate 2>: Plate 2. QX1 at rest"});
  CHECK(reading.block(0).image == "g.png");
  CHECK(reading.block(0).credit == "Orme");
}

TEST_CASE("a table may have its caption behind it") {
  const Reading reading = read_text_as(
      "t.md", "| A |\n| --- |\n| QX1 |\n\n**Table 7.** The boats\n\n| B |\n| --- |\n| QX2 |\n");
  REQUIRE(reading.manuscript.tables.size() == 2);
  CHECK(reading.manuscript.tables[0].caption == "Table 7. The boats");
  CHECK(reading.manuscript.tables[1].caption == "");
}

TEST_CASE("a stet inside a caption stands on the caption") {
  const Reading reading =
      read_text_as("s.md",
                   "![x](a.jpg)\n*Fig. 1. QX1.* <!-- stet weekday-wrong: the diary "
                   "-->\n\nNext.\n\n<!-- stet late: nothing follows -->\n");
  REQUIRE(reading.manuscript.stets.size() == 2);
  CHECK(reading.manuscript.stets[0].block == 1);
  CHECK(reading.manuscript.stets[1].block == kNone);
}

TEST_CASE("raw HTML tables and headings are read") {
  const Reading reading =
      read_text_as("h.md",
                   "<h2>Boats</h2>\n<table><caption>All</caption><tr><th>Serial<th>End</tr>\n"
                   "<tr><td rowspan=2>QX1<td>lost</tr><tr><td>found</td></tr></table>\n<p>Fig. 9. "
                   "Late <b>QX2</b>\n"
                   "<script>QX3</script>\n");
  CHECK(reading.outline() == Lines{"heading2: Boats", "body: All", "table: QX1 | lost",
                                   "table: QX1 | found", "caption <Fig. 9>: Fig. 9. Late QX2"});
  CHECK(reading.manuscript.tables.at(0).headings == Lines{"Serial", "End"});
}

TEST_CASE("tags that never close are text, and cost no more for their number") {
  std::string hostile = "<div>\n";
  for (int i = 0; i < 50000; ++i) hostile += "<a b=\" ";
  const Reading reading = read_text_as("q.md", hostile + "<a b=\"");
  REQUIRE(reading.manuscript.blocks.size() == 1);
  CHECK(reading.block(0).text.starts_with("<a b=\""));
}

TEST_CASE("footnote definitions in the middle keep their place and are not joined") {
  const Reading reading = read_text_as("f.md",
                                       "One.[^a]\n\n[^a]: Note a.\n[^b]: Note b.\n\nTwo.[^b] Not "
                                       "one.[^c]\n\n```\n[^d]: code\n```\n");
  CHECK(reading.outline() ==
        Lines{"body: One.", "body: Note a.", "body: Note b.", "body: Two. Not one.[^c]"});
}

TEST_CASE("columns that a rule of dashes marks are a table, in their place") {
  const Reading reading = read_text_as("a.md",
                                       "Before.\n\nTable 2. Ends\n\n  Serial   End\n"
                                       "  -------  ---------------\n  QX1      lost, 1944\n"
                                       "           off the coast\n  QX2      found\n\n"
                                       "After.\n\n- - -\n\nLast.\n");
  CHECK(reading.outline() == Lines{"body: Before.", "body: Table 2. Ends",
                                   "table: QX1 | lost, 1944 off the coast", "table: QX2 | found",
                                   "body: After.", "body: Last."});
  REQUIRE(reading.manuscript.tables.size() == 1);
  CHECK(reading.manuscript.tables[0].headings == Lines{"Serial", "End"});
  CHECK(reading.source_of("off the coast") == "off the coast");
}

TEST_CASE("a rule of dashes in code, a comment or a footnote makes no table") {
  const Reading reading = read_text_as("n.md",
                                       "```\nA   B\n--- ---\nQX1 lost\n```\n\n"
                                       "<!--\n\nA   B\n--- ---\nQX2 lost\n\n-->\n\nText.[^a]\n\n"
                                       "[^a]: Note.\n\n    --- ---\n    QX3 lost\n");
  CHECK(reading.manuscript.tables.empty());
  CHECK(reading.block(0).text == "Text.");
  CHECK(reading.source_of("QX3") == "QX3");
}

TEST_CASE("body text in a block quotation is another's") {
  const Reading reading =
      read_text_as("b.md", "One.\n\n> Two.\n>\n> > Three.\n>\n> Four.\n\nFive.\n");
  std::vector<bool> quoted;
  for (const Block& each : reading.manuscript.blocks) quoted.push_back(each.is_quotation);
  CHECK(quoted == std::vector<bool>{false, true, true, true, false});
}

}  // namespace
}  // namespace tailproof
