#include "manuscript/entities.h"
#include "manuscript/labels.h"
#include "manuscript/text_builder.h"
#include "reading.h"

namespace tailproof {
namespace {

TEST_CASE("the format comes from the extension, else from the content") {
  CHECK(guess_format("a/b.DBK", "") == Format::kDocBook);
  CHECK(guess_format("b.docbook", "") == Format::kDocBook);
  CHECK(guess_format("b.markdown", "") == Format::kMarkdown);
  CHECK(guess_format("b.txt", "# not") == Format::kText);
  CHECK(guess_format("x.d/list.csv", "") == Format::kCaptionList);
  CHECK(guess_format("-", "\xEF\xBB\xBF<?xml version='1.0'?><a/>") == Format::kDocBook);
  CHECK(guess_format("-", "figure,caption,credit\n1,a,b\n") == Format::kCaptionList);
  CHECK(guess_format("-", "Text.\n\n# Head\n") == Format::kMarkdown);
  CHECK(guess_format("x.d/draft", "Just words.\n") == Format::kText);
  CHECK(format_of_word("captions") == Format::kCaptionList);
  CHECK_FALSE(format_of_word("word").has_value());
}

TEST_CASE("figure labels have one spelling") {
  const auto label = [](std::string_view text) {
    const auto found = leading_figure_label(text);
    return found ? found->label + (found->punctuated ? "!" : "") : "";
  };
  CHECK(label("Fig. 3. Boats") == "Fig. 3!");
  CHECK(label("FIG 3 Boats") == "Fig. 3");
  CHECK(label("fig.3: Boats") == "Fig. 3!");
  CHECK(label("Figure\n 2.1. Boats") == "Figure 2.1!");
  CHECK(label("Plate IV \u2014 Boats") == "Plate IV!");
  CHECK(label("Photograph 12a) Boats") == "Photograph 12a!");
  CHECK(label("[Fig. 4: x") == "Fig. 4!");
  CHECK(label("Caption 5") == "Caption 5!");
  CHECK(label("Figure A.3. Orders") == "Figure A.3!");
  CHECK(label("Figures 3 and 4") == "");
  CHECK(label("Plated 3.") == "");
  CHECK(label("Fig. 1942er.") == "");
  CHECK(begins_table_caption("TABLE 4: Boats"));
  CHECK_FALSE(begins_table_caption("Table 4 gives the boats"));
}

TEST_CASE("references resolve by number and name") {
  CHECK(resolve_reference("#8220") == "\u201C");
  CHECK(resolve_reference("#x2011") == "\u2011");
  CHECK(resolve_reference("#0") == "\uFFFD");
  CHECK(resolve_reference("#xZZ") == "");
  CHECK(resolve_reference("eacute") == "\u00E9");
  CHECK(resolve_reference("zwnj") == "\u200C");
  CHECK(resolve_reference("nosuch") == "");
  CHECK(resolve_references("a &amp; b &c; &#65;") == "a & b &c; A");
}

TEST_CASE("white space folds across pieces and maps back") {
  TextBuilder text;
  text.add(" a ", 10);
  text.add_for(" ", 20, 6);
  text.add("\n b\tc", 30);
  text.add("d  ", 40);
  Block block;
  text.move_into(block);
  CHECK(block.text == "a b cd");
  CHECK(block.text_span(0, 1) == Span{0, 11, 12});
  CHECK(block.text_span(2, 3) == Span{0, 32, 33});
  CHECK(block.text_span(4, 6) == Span{0, 34, 41});
  CHECK(block.text_span(6, 6) == Span{0, 41, 41});
  CHECK(block.text_span(0, 0) == Span{0, 11, 11});
}

TEST_CASE("bad input is one clear line") {
  CHECK(read_text_as("bad.md", "ok\n\xFF").failure.find("bad.md:2: byte 3 (0xff) is not UTF-8") !=
        std::string::npos);
  Reading missing;
  read_into(missing, "no/such/file.md");
  CHECK(missing.failure.find("no/such/file.md: cannot be opened") == 0);
  const Reading converted =
      read_text_as("old.txt", "Caf\xE9 \x96 QX1", {std::nullopt, Encoding::kWindows1252});
  CHECK(converted.outline().at(0) == "body: Caf\u00E9 \u2013 QX1");
}

// Random manuscripts of awkward pieces: whatever comes out keeps what manuscript.h promises.
TEST_CASE("every reader keeps its promises on random input") {
  const std::vector<std::string> pieces = {"QX1001",
                                           " ",
                                           "  ",
                                           "\n",
                                           "\n\n",
                                           "\r\n",
                                           "\t",
                                           "*",
                                           "**",
                                           "_",
                                           "`",
                                           "~~",
                                           "[",
                                           "](a)",
                                           "![",
                                           "](b.jpg \"c\")",
                                           "[^a]",
                                           "[^a]: ",
                                           "<!-- stet x: y -->",
                                           "<!--",
                                           "-->",
                                           "&amp;",
                                           "&eacute;",
                                           "&",
                                           ";",
                                           "&#8220;",
                                           "\u00A0",
                                           "\u00AD",
                                           "\u2011",
                                           "\u2013",
                                           "\u2009",
                                           "é",
                                           "Fig. 1. ",
                                           "Table 1. ",
                                           "| a | b |\n",
                                           "| --- | --- |\n",
                                           "<figure>",
                                           "</figure>",
                                           "<figcaption>",
                                           "<img src=a alt=\"x &amp; y\">",
                                           "<table><tr><td>",
                                           "</td></tr></table>",
                                           "# ",
                                           "> ",
                                           "- ",
                                           "1. ",
                                           "    ",
                                           "-----  ----\n",
                                           "[stet a: b]",
                                           "<para>",
                                           "</para>",
                                           "<title>t</title>",
                                           "<?stet a: b?>",
                                           "<![CDATA[",
                                           "]]>",
                                           "<emphasis>",
                                           "</emphasis>",
                                           "<footnote><para>f</para></footnote>",
                                           "<quote>q</quote>",
                                           "\"",
                                           "\"\"",
                                           ",",
                                           "CAPITALS HERE",
                                           "\f",
                                           "-\n",
                                           "\xEF\xBB\xBF"};
  std::uint32_t state = 12345;
  const auto next = [&state] {
    state = state * 1664525U + 1013904223U;
    return state >> 8U;
  };
  const std::vector<std::pair<std::string, std::string>> frames = {
      {"r.md", ""}, {"r.txt", ""}, {"r.csv", "figure,caption\n"}, {"r.xml", "<article><para>"}};
  std::size_t blocks = 0;
  for (int round = 0; round < 2000; ++round) {
    const auto& [name, start] = frames[static_cast<std::size_t>(round) % frames.size()];
    std::string bytes = start;
    const std::uint32_t count = next() % 60;
    for (std::uint32_t i = 0; i < count; ++i) bytes += pieces[next() % pieces.size()];
    if (name == "r.xml") bytes += "</para></article>";
    const TestFolder folder("random");
    Reading reading;
    read_into(reading, folder.write(name, bytes));
    blocks += reading.manuscript.blocks.size();
    INFO(name << ": " << bytes);
    REQUIRE(broken_promise(reading) == "");
  }
  CHECK(blocks > 2000);
}

}  // namespace
}  // namespace tailproof
