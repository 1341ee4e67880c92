// Elements of DocBook that few manuscripts use.
#include "reading.h"

namespace tailproof {
namespace {

using Lines = std::vector<std::string>;

TEST_CASE("a picture without a figure, an example and a screenshot inside a figure have captions") {
  const Reading reading = read_text_as("p.xml", R"(<article><title>Sheds</title>
<mediaobject><imageobject><imagedata fileref="slip.jpg"/></imageobject>
<caption><para>QX1001 on the slip.</para></caption></mediaobject>
<example><title>A card</title><para>Made out for QX1002.</para></example>
<figure><info><title>The yard</title><othercredit><orgname>Orme Library</orgname></othercredit></info>
<screenshot><mediaobject><imageobject><imagedata fileref="yard.jpg"/></imageobject></mediaobject></screenshot>
</figure></article>)");
  CHECK(reading.complaints.empty());
  CHECK(reading.outline() ==
        Lines{"heading1: Sheds", "caption: QX1001 on the slip.", "caption <Example 1>: A card",
              "caption <Example 1>: Made out for QX1002.", "caption <1>: The yard"});
  CHECK(reading.block(1).image == "slip.jpg");
  CHECK(reading.block(4).image == "yard.jpg");
  CHECK(reading.block(4).credit == "Orme Library");
}

TEST_CASE("subtitles and bridgeheads are headings below their title") {
  const Reading reading = read_text_as("h.xml", R"(<article><title>Gulls</title>
<subtitle>And lanterns</subtitle><section><title>Boats</title><bridgehead>QX1001</bridgehead>
<para>Built in 1940.</para></section></article>)");
  CHECK(reading.complaints.empty());
  CHECK(reading.outline() == Lines{"heading1: Gulls", "heading2: And lanterns", "heading2: Boats",
                                   "heading3: QX1001", "body: Built in 1940."});
}

TEST_CASE("the title of a table may stand in its info; what describes it is read") {
  const Reading reading =
      read_text_as("t.xml", R"(<article><table><info><title>The boats</title></info>
<textobject><para>A list of two.</para></textobject>
<tgroup cols="1"><tbody><row><entry>QX1</entry></row></tbody></tgroup></table></article>)");
  CHECK(reading.complaints.empty());
  CHECK(reading.outline() == Lines{"body: The boats", "body: A list of two.", "table: QX1"});
  REQUIRE(reading.manuscript.tables.size() == 1);
  CHECK(reading.manuscript.tables.front().caption == "The boats");
}

TEST_CASE("a document type may hold more than entities") {
  const Reading reading = read_text_as("d.xml", R"(<!DOCTYPE article [
  <!-- <!ENTITY svc "a comment's"> -->
  <?tool <!ENTITY svc "an instruction's"> ?>
  <!ELEMENT article (para)>
  <!ATTLIST para note CDATA "<!ENTITY svc 'a literal'>">
  <!ENTITY svc "the Coastal Service">
  <!ENTITY svc "a second declaration">
]>
<article><para>Of &svc;.</para></article>)");
  CHECK(reading.outline() == Lines{"body: Of the Coastal Service."});
  CHECK(reading.source_of("the Coastal Service") == "&svc;");
}

TEST_CASE("a file is included by an address with escapes, as text, or by the id of a part") {
  const TestFolder folder("include");
  folder.write("part one.xml",
               R"(<section xml:id="s"><title>Boats</title><para xml:id="p">QX1001.</para>
<para>QX1002.</para></section>)");
  folder.write("note.txt", "a <plain> note");
  const std::string path =
      folder.write("book.xml", R"X(<article xmlns:xi="http://www.w3.org/2001/XInclude">
<xi:include href="part%20one.xml"/>
<xi:include href="part%20one.xml" xpointer="element(p)"/>
<para>So: <xi:include href="note.txt" parse="text"/>.</para>
<para>Then <xi:include href="gone.xml"><xi:fallback>nothing</xi:fallback></xi:include>.</para>
<xi:include href="part%20one.xml" xpointer="q"/>
<xi:include/>
<xi:include href="https://example.org/a.xml"/></article>)X");
  Reading reading;
  read_into(reading, path);
  CHECK(reading.outline() == Lines{"heading2: Boats", "body: QX1001.", "body: QX1002.",
                                   "body: QX1001.", "body: So: a <plain> note.",
                                   "body: Then nothing."});
  REQUIRE(reading.complaints.size() == 3);
  CHECK(reading.complaints[0].message.find("no element with the id \"q\"") != std::string::npos);
  CHECK(reading.complaints[1].message.find("without href") != std::string::npos);
  CHECK(reading.complaints[2].message.find("outside the manuscript's folder") != std::string::npos);
}

TEST_CASE("a term and the first paragraph on it are one block") {
  const Reading reading = read_text_as("v.xml", R"(<article>
<variablelist><varlistentry><term>QX1</term><term>QX2</term>
  <listitem>
    <?stet weekday-wrong: as in the diary?>
    <para>Struck off.<footnote><para>In ink.</para></footnote></para>
    <para>Sold later.</para></listitem></varlistentry>
<varlistentry><term>QX3</term><listitem><itemizedlist><listitem><para>Lost.</para></listitem></itemizedlist>
</listitem></varlistentry></variablelist>
<glosslist><glossentry><glossterm>Boss</glossterm><glossdef><para>A disc.</para></glossdef></glossentry></glosslist>
</article>)");
  CHECK(reading.complaints.empty());
  CHECK(reading.outline() == Lines{"body: QX1, QX2: Struck off.", "body: In ink.",
                                   "body: Sold later.", "body: QX3", "body: Lost.",
                                   "body: Boss: A disc."});
  CHECK(reading.source_of("Struck off") == "Struck off");
  REQUIRE(reading.manuscript.stets.size() == 1);
  CHECK(reading.manuscript.stets[0].block == 0);
}

TEST_CASE("what is deleted or struck through is not read") {
  const Reading reading = read_text_as("x.xml", R"(<article><para>Struck off in
<phrase revisionflag="deleted">May</phrase><phrase revisionflag="added">June</phrase>
<emphasis role="strikethrough">1940</emphasis> 1941.</para>
<para revisionflag="deleted">QX1 was never there.</para></article>)");
  CHECK(reading.outline() == Lines{"body: Struck off in June 1941."});
}

TEST_CASE("body text in a block quotation is another's, a caption there is not") {
  const Reading reading = read_text_as("q.xml", R"(<article><para>He wrote:</para>
<blockquote><attribution>Orme</attribution><para>All gone.</para>
<figure><title>The yard</title></figure></blockquote><para>So he did.</para></article>)");
  std::vector<bool> quoted;
  for (const Block& each : reading.manuscript.blocks) quoted.push_back(each.is_quotation);
  CHECK(reading.outline() == Lines{"body: He wrote:", "body: Orme", "body: All gone.",
                                   "caption <1>: The yard", "body: So he did."});
  CHECK(quoted == std::vector<bool>{false, true, true, false, false});
}

}  // namespace
}  // namespace tailproof
