#include "report/html_text.h"

#include <catch2/catch.hpp>

namespace tailproof {

TEST_CASE("markup becomes text, in content and in attributes") {
  CHECK(html("<a href=\"x\" title='y'>&amp;</a>") ==
        "&lt;a href=&quot;x&quot; title=&#39;y&#39;&gt;&amp;amp;&lt;/a&gt;");
  CHECK(html("Ärmel, 9 µm") == "Ärmel, 9 µm");
  CHECK(html("line\nline\tcell") == "line\nline\tcell");
}

TEST_CASE("what would turn or hide the line is shown by its number") {
  CHECK(inert("a\xE2\x80\xAE"
              "b") == "a[U+202E]b");
  CHECK(inert("\xE2\x81\xA6x\xE2\x81\xA9") == "[U+2066]x[U+2069]");
  CHECK(inert(std::string_view("\0x", 2)) == "[U+0000]x");
  CHECK(inert("\x1b[2J") == "[U+001B][2J");
  CHECK(inert("\xC2\x85") == "[U+0085]");
  CHECK(inert("\xF3\xA0\x80\x81") == "[U+E0001]");
  CHECK(inert("<b>") == "<b>");
  // Bytes that are no UTF-8 do no harm.
  CHECK(inert("\xE2\x80") == "\xEF\xBF\xBD\xEF\xBF\xBD");
}

TEST_CASE("JSON in a script element ends neither the element nor a line") {
  const std::string text = script_json(Json{{"x", "</script><!--&\xE2\x80\xA8\xE2\x80\xAE"}});
  CHECK(text.find_first_of("<>&") == std::string::npos);
  for (const char c : text) {
    CHECK(static_cast<unsigned char>(c) < 0x80);
  }
  CHECK(Json::parse(text)["x"] == "</script><!--&\xE2\x80\xA8\xE2\x80\xAE");
}

TEST_CASE("a digest is written as a content security policy has it") {
  // Of the empty text, as the standards that define both print it.
  CHECK(policy_hash("e3b0c44298fc1c149afbf4c8996fb92427ae41e4649b934ca495991b7852b855") ==
        "'sha256-47DEQpj8HBSa+/TImW+5JCeuQeRkm5NMpJWZG3hSuFU='");
}

TEST_CASE("shortened counts code points and keeps what fits") {
  CHECK(shortened("Ärmel", 5) == "Ärmel");
  CHECK(shortened("Ärmels", 5) == "Ärme\xE2\x80\xA6");
  CHECK(shortened("", 5).empty());
}

}  // namespace tailproof
