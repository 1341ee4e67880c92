#include "reading.h"

namespace tailproof {
namespace {

using Lines = std::vector<std::string>;

constexpr std::string_view kBook = R"(<?xml version="1.0"?>
<!DOCTYPE book [
  <!ENTITY svc "the Coastal Service">
  <!ENTITY note "<para>Note by <emphasis>P. Orme</emphasis>.</para>">
]>
<book xmlns="http://docbook.org/ns/docbook">
<info><title>Gulls and Lanterns</title><author><personname>P. Orme</personname></author>
<pubdate>1951</pubdate></info>
<chapter><title>First &amp; last</title>
<para>A &#8220;Petrel&#8221; of &svc;, serial<indexterm><primary>QX1001</primary></indexterm>
<emphasis>QX1002</emphasis><!-- not QX1003 -->, at Caf&eacute; Point.<footnote><para>See
<quote>the log</quote>.</para></footnote> Then <![CDATA[a <b> & c]]>.</para>
&note;
<programlisting>QX9999</programlisting>
<section><title>Boats</title>
<figure><title>At the slip</title><mediaobject>
<imageobject><imagedata fileref="img/one.jpg"/></imageobject>
<textobject><phrase>A flying boat on a slip</phrase></textobject>
<caption><para>QX1004 in May 1941.<footnote><para>Or June.</para></footnote></para></caption>
</mediaobject></figure>
<figure label="9a"><title>Second</title></figure>
<informalfigure><mediaobject><imageobject><imagedata fileref="two.jpg"/></imageobject>
<caption><para>Plate 4. A hat.</para></caption></mediaobject></informalfigure>
<figure><title>Third</title></figure>
</section></chapter>
<chapter><title>Second chapter</title><figure><title>Fourth</title></figure></chapter>
</book>
)";

TEST_CASE("a DocBook book becomes blocks with levels, figures and sections") {
  for (const bool crlf : {false, true}) {
    const Reading reading = read_text_as("b.xml", crlf ? with_crlf(kBook) : std::string(kBook));
    CHECK(reading.complaints.empty());
    CHECK(reading.outline() ==
          Lines{"heading0: Gulls and Lanterns", "heading1: First & last",
                "body: A “Petrel” of the Coastal Service, serial QX1002, at Café Point. Then a <b> "
                "& c.",
                "body: See “the log”.", "body: Note by P. Orme.", "heading2: Boats",
                "caption <1.1>: At the slip", "caption <1.1>: A flying boat on a slip",
                "caption <1.1>: QX1004 in May 1941.", "caption <1.1>: Or June.",
                "caption <9a>: Second", "caption <Plate 4>: Plate 4. A hat.",
                "caption <1.3>: Third", "heading1: Second chapter", "caption <2.1>: Fourth"});
    CHECK(reading.source_of("QX1002") == "QX1002");
    CHECK(reading.source_of("“Petrel”") == "&#8220;Petrel&#8221;");
    CHECK(reading.source_of("the Coastal Service") == "&svc;");
    CHECK(reading.source_of("Coastal") == "&svc;");
    CHECK(reading.source_of("Orme") == "&note;");
    CHECK(reading.source_of("Café Point") == "Caf&eacute; Point");
    CHECK(reading.source_of("“the log”") == "<quote>the log</quote>");
    CHECK(reading.source_of("<b> & c") == "<b> & c");
    CHECK(reading.block(6).image == "img/one.jpg");
    CHECK(reading.block(9).group == reading.block(6).group);
    CHECK(reading.block(10).group != reading.block(6).group);
    CHECK(reading.manuscript.sections[9] == 5);
    CHECK(reading.manuscript.sections[5] == 1);
    CHECK(reading.manuscript.sections[14] == 13);
    const Span span = reading.block(2).span;
    CHECK(reading.source(span).substr(0, 6) == "<para>");
    CHECK(reading.source(span).substr(span.size() - 7) == "</para>");
  }
}

TEST_CASE("a DocBook table gives rows, headings, spans and its title") {
  const Reading reading = read_text_as("t.xml", R"(<article><table><title>The boats</title>
<tgroup cols="3"><colspec colname="a"/><colspec colname="b"/><colspec colname="c"/>
<spanspec spanname="all" namest="a" nameend="c"/>
<thead><row><entry>Serial</entry><entry namest="b" nameend="c">Life</entry></row>
<row><entry/><entry>From</entry><entry>To</entry></row></thead>
<tbody><row><entry morerows="1">QX1</entry><entry>1940</entry><entry><para>1941</para></entry></row>
<row><entry>1942</entry><entry>1943</entry></row>
<row><entry colname="c">1944</entry></row>
<row><entry spanname="all">none later</entry></row></tbody></tgroup></table>
<informaltable><tr><th>Code</th><th>Unit</th></tr><tr><td rowspan="2">A</td><td>1 Flight</td></tr>
<tr><td>2 Flight</td></tr></informaltable></article>)");
  CHECK(reading.outline() == Lines{"body: The boats", "table: QX1 | 1940 | 1941",
                                   "table: QX1 | 1942 | 1943", "table: 1944", "table: none later",
                                   "table: A | 1 Flight", "table: A | 2 Flight"});
  REQUIRE(reading.manuscript.tables.size() == 2);
  CHECK(reading.manuscript.tables[0].caption == "The boats");
  CHECK(reading.manuscript.tables[0].headings == Lines{"Serial", "Life From", "Life To"});
  CHECK(reading.manuscript.tables[1].headings == Lines{"Code", "Unit"});
  CHECK(reading.block(3).cells.at(0).column == 2);
  CHECK(reading.block(2).cells.at(1).column == 1);
  CHECK(reading.source(reading.block(2).text_span(0, 3)) == "QX1");
  CHECK(reading.source(reading.block(2).text_span(6, 10)) == "1942");
}

TEST_CASE("a stet stands on its block or before it, and needs a reason") {
  const Reading reading = read_text_as("s.xml", R"(<article><title>T</title>
<?stet unit-disagrees: the log says so?>
<para>One.</para>
<para>Two.<?stet weekday-wrong: as in the diary?></para>
<figure><title>F</title><?stet serial-unknown?><mediaobject><caption><para>C</para></caption></mediaobject>
<?stet date-impossible: printed so?></figure>
<para>Three.</para></article>)");
  REQUIRE(reading.manuscript.stets.size() == 3);
  CHECK(reading.manuscript.stets[0].check == "unit-disagrees");
  CHECK(reading.manuscript.stets[0].reason == "the log says so");
  CHECK(reading.manuscript.stets[0].block == 1);
  CHECK(reading.source(reading.manuscript.stets[0].span) ==
        "<?stet unit-disagrees: the log says so?>");
  CHECK(reading.manuscript.stets[1].block == 2);
  CHECK(reading.manuscript.stets[2].block == 4);
  REQUIRE(reading.complaints.size() == 1);
  CHECK(reading.complaints[0].line == 5);
}

TEST_CASE("inclusions are read in their place, inside the folder only") {
  const TestFolder folder("inclusions");
  folder.write("outside.xml", "<chapter><title>Outside</title></chapter>");
  folder.write("book/parts/one.xml",
               "<chapter><title>One</title><xi:include xmlns:xi='x' href='two.xml'/></chapter>");
  folder.write("book/parts/two.xml",
               "<section><title>Two</title><para xml:id='p'>Text.</para></section>");
  folder.write("book/loop.xml", "<chapter><title>Loop</title><include href='book.xml'/></chapter>");
  folder.write("book/words.txt", "ten  gulls");
  folder.write("book/old.xml", "<para>Old style.</para><para>Twice.</para>");
  const std::string path = folder.write("book/book.xml", R"(<!DOCTYPE book [
<!ENTITY old SYSTEM "old.xml">]>
<book xmlns:xi="http://www.w3.org/2001/XInclude"><title>B</title>
<xi:include href="parts/one.xml"/>
<xi:include href="loop.xml"/>
<xi:include href="../outside.xml"/>
<xi:include href="http://books.invalid/x.xml"/>
<xi:include href="missing.xml"/>
<xi:include href="missing.xml"><xi:fallback><para>Instead.</para></xi:fallback></xi:include>
<chapter><title>Last</title><para>Saw <xi:include href="words.txt" parse="text"/>.</para>
&old;<xi:include href="parts/two.xml" xpointer="p"/></chapter></book>)");
  Reading reading;
  read_into(reading, path);
  CHECK(broken_promise(reading) == "");
  CHECK(reading.outline() == Lines{"heading0: B", "heading1: One", "heading2: Two", "body: Text.",
                                   "heading1: Loop", "body: Instead.", "heading1: Last",
                                   "body: Saw ten gulls.", "body: Old style.", "body: Twice.",
                                   "body: Text."});
  REQUIRE(reading.complaints.size() == 4);
  CHECK(reading.complaints[0].message.find("includes itself") != std::string::npos);
  CHECK(reading.complaints[0].file.ends_with("loop.xml"));
  CHECK(reading.complaints[1].message.find("outside the manuscript's folder") != std::string::npos);
  CHECK(reading.complaints[1].line == 6);
  CHECK(reading.complaints[2].line == 7);
  CHECK(reading.complaints[3].message.find("cannot be included") != std::string::npos);
  CHECK(reading.source_of("ten gulls") == "<xi:include href=\"words.txt\" parse=\"text\"/>");
  CHECK(reading.sources.path(reading.block(8).span.file).ends_with("old.xml"));
  CHECK(reading.included.size() == 5);
}

TEST_CASE("malformed XML is one complaint with its place, and what stands before it is read") {
  const Reading reading = read_text_as(
      "m.xml", "<article><title>T</title>\n<para>One.</para>\n<para>Two.</title>\n</article>");
  REQUIRE(reading.complaints.size() == 1);
  CHECK(reading.complaints[0].line == 3);
  CHECK(reading.complaints[0].message.find("</title>") != std::string::npos);
  CHECK(reading.outline() == Lines{"heading1: T", "body: One.", "body: Two."});
  const Reading cut = read_text_as("c.xml", "<article><para>One.</para><para>Tw");
  CHECK(cut.complaints.size() == 1);
  CHECK(cut.outline().at(0) == "body: One.");
  CHECK(read_text_as("e.xml", "  ").complaints.size() == 1);
  const Reading bare =
      read_text_as("a.xml", "<article><para>Cox & Dane &nosuch; &nosuch;</para></article>");
  CHECK(bare.complaints.size() == 2);
  CHECK(bare.outline().at(0) == "body: Cox & Dane &nosuch; &nosuch;");
}

TEST_CASE("entities that swell or contain themselves stop with one complaint") {
  std::string bomb = "<!DOCTYPE a [<!ENTITY e0 \"gull\">";
  for (int i = 1; i < 12; ++i) {
    bomb += "<!ENTITY e" + std::to_string(i) + " \"";
    for (int k = 0; k < 10; ++k) bomb += "&e" + std::to_string(i - 1) + ";";
    bomb += "\">";
  }
  bomb += "]><article><para>A &e11; b &e11;</para><para>Still read.</para></article>";
  const Reading swollen = read_text_as("bomb.xml", bomb);
  REQUIRE(swollen.complaints.size() == 2);
  CHECK(swollen.complaints[0].message.find("8 MiB") != std::string::npos);
  // What came of them by then is longer than any paragraph.
  CHECK(swollen.complaints[1].message.find("more than 1 MiB of text") != std::string::npos);
  CHECK(swollen.outline().back() == "body: Still read.");
  const Reading loop = read_text_as("loop.xml",
                                    "<!DOCTYPE a [<!ENTITY a \"x &b;\"><!ENTITY b "
                                    "\"&a;\">]><article><para>A &a;.</para></article>");
  REQUIRE(loop.complaints.size() == 1);
  CHECK(loop.complaints[0].message.find("contains itself") != std::string::npos);
}

TEST_CASE("a cross reference reads as it is printed") {
  const Reading reading = read_text_as(
      "x.xml",
      "<book><chapter id='c'><title>C</title><para>See <xref linkend='f'/>, <xref linkend='t'/> "
      "and "
      "<xref linkend='elsewhere'/>.</para><table id='t'><title>T</title><tr><td><xref "
      "linkend='f'/></td><td>QX1</td></tr></table><figure id='f' label='7'><title>In <xref "
      "linkend='c'/></title></figure></chapter></book>");
  CHECK(reading.outline() == Lines{"heading1: C", "body: See Figure 7, Table 1.1 and ….", "body: T",
                                   "table: Figure 7 | QX1", "caption <7>: In Chapter 1"});
  CHECK(reading.source_of("Figure 7") == "<xref linkend='f'/>");
  const Block& row = reading.block(3);
  CHECK(row.text.substr(row.cells.at(1).begin) == "QX1");
}

TEST_CASE("a screenshot belongs to the figure around it") {
  const Reading reading =
      read_text_as("f.xml",
                   "<article><figure><title>F</title><screenshot><mediaobject><caption><para>QX1</"
                   "para></caption>"
                   "</mediaobject></screenshot></figure></article>");
  CHECK(reading.outline() == Lines{"caption <1>: F", "caption <1>: QX1"});
  CHECK(reading.block(0).group == reading.block(1).group);
}

TEST_CASE("an entity that an unread DTD may declare is a note") {
  const Reading reading = read_text_as(
      "d.xml", "<!DOCTYPE article SYSTEM 'our.dtd'><article><para>A &gull;.</para></article>");
  REQUIRE(reading.complaints.size() == 1);
  CHECK(reading.complaints[0].is_note);
}

TEST_CASE("nesting without end is not followed down") {
  std::string deep = "<article>";
  for (int i = 0; i < 100000; ++i) deep += "<para>";
  deep += "x";
  for (int i = 0; i < 100000; ++i) deep += "</para>";
  const Reading reading = read_text_as("deep.xml", deep + "<para>After.</para></article>");
  REQUIRE(reading.complaints.size() == 1);
  CHECK(reading.outline() == Lines{"body: After."});
}

}  // namespace
}  // namespace tailproof
