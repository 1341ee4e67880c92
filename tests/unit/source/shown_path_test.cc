#include "source/shown_path.h"

#include <catch2/catch.hpp>

#include "source/utf8.h"
#include "tailproof/result.h"

namespace tailproof {

TEST_CASE("a name is shown on one line of UTF-8") {
  CHECK(shown_path("book/chapter 1.md") == "book/chapter 1.md");
  CHECK(shown_path("b\\c.md") == "b\\c.md");
  CHECK(shown_path("Kaf\u00E9 \U0001F6E9.md") == "Kaf\u00E9 \U0001F6E9.md");
  CHECK(shown_path("a\nb\tc\r") == "a\\nb\\tc\\r");
  CHECK(shown_path("\x1b[31m\x7f") == "\\x1b[31m\\x7f");
  CHECK(shown_path("a\\b\n") == "a\\\\b\\n");
  CHECK(shown_path("\xff\xc3") == "\\xff\\xc3");
  CHECK(shown_path("\u009b1m") == "\\xc2\\x9b1m");
  CHECK(shown_path("x\u202Edm.exe") == "x\\xe2\\x80\\xaedm.exe");
  CHECK(shown_path("").empty());
}

TEST_CASE("formats with an escape of their own get what is UTF-8 as it is") {
  CHECK(utf8_path("a\nb\u202E") == "a\nb\u202E");
  CHECK(utf8_path("a\nb\xfe") == "a\nb\\xfe");
}

TEST_CASE("a sequence of UTF-8 is whole, shortest and no surrogate") {
  CHECK(utf8_length("") == 0);
  CHECK(utf8_length("a\xff") == 1);
  CHECK(utf8_length("\xC2\x80") == 2);
  CHECK(utf8_length("\xE0\xA0\x80") == 3);
  CHECK(utf8_length("\xF4\x8F\xBF\xBF") == 4);
  for (const char* bad : {"\x80", "\xC1\x80", "\xC2", "\xE0\x9F\x80", "\xED\xA0\x80",
                          "\xF0\x8F\x80\x80", "\xF4\x90\x80\x80", "\xF5\x80\x80\x80", "\xE2\x82"}) {
    CHECK(utf8_length(bad) == 0);
  }
}

TEST_CASE("a complaint is one line, whatever the name and the text that it quotes") {
  const std::string line = to_line({"a\nb.md", 3, 0, "is \"x\ny\", a text", false});
  CHECK(line == "a\\nb.md:3: is \"x\\ny\", a text");
}

}  // namespace tailproof
