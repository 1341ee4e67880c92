#include "source/sources.h"

#include <catch2/catch.hpp>
#include <string>
#include <string_view>

namespace tailproof {
namespace {

TEST_CASE("lines end at LF, CR LF and CR, and columns count code points") {
  Sources sources;
  const auto file = sources.add("m.txt", "a\xC3\xA9z\r\nb\rc\nd");
  REQUIRE(file);
  CHECK(sources.position(file.value(), 0) == Position{1, 1});
  CHECK(sources.position(file.value(), 3) == Position{1, 3});
  CHECK(sources.position(file.value(), 6) == Position{2, 1});
  CHECK(sources.position(file.value(), 8) == Position{3, 1});
  CHECK(sources.position(file.value(), 10) == Position{4, 1});
  CHECK(sources.position(file.value(), 11) == Position{4, 2});
}

TEST_CASE("a byte-order mark stays in the buffer and takes no column") {
  Sources sources;
  const auto file = sources.add("m.txt",
                                "\xEF\xBB\xBF"
                                "ab");
  REQUIRE(file);
  CHECK(sources.text(file.value()).size() == 5);
  CHECK(sources.position(file.value(), 0) == Position{1, 1});
  CHECK(sources.position(file.value(), 4) == Position{1, 2});
}

TEST_CASE("columns far into a long line are counted the same way") {
  std::string line = "x\n";
  for (int i = 0; i < 20000; ++i) line += "\xE2\x80\x93z";
  Sources sources;
  const auto file = sources.add("m.txt", line);
  REQUIRE(file);
  CHECK(sources.position(file.value(), 2 + 4 * 15000) == Position{2, 30001});
  CHECK(sources.position(file.value(), 2 + 4 * 15000 + 3) == Position{2, 30002});
}

TEST_CASE("bytes that are not UTF-8 are refused with byte and line") {
  const auto message = [](std::string bytes) {
    Sources sources;
    const auto file = sources.add("m.txt", std::move(bytes));
    return file ? std::string("accepted") : to_line(file.error());
  };
  CHECK(message("ok\nca\xE9 x").find("m.txt:2: byte 5 (0xe9) is not UTF-8") == 0);
  CHECK(message("\xC0\x80").find("byte 0") != std::string::npos);           // overlong
  CHECK(message("\xED\xA0\x80").find("byte 0") != std::string::npos);       // surrogate
  CHECK(message("a\xF4\x90\x80\x80").find("byte 1") != std::string::npos);  // past U+10FFFF
  CHECK(message("12345678\xE2\x80").find("byte 8") != std::string::npos);   // cut off
  CHECK(message("\xF0\x9F\x9B\xA9 plain") == "accepted");
}

TEST_CASE("what is no text is refused by what it is, in any encoding") {
  const auto message = [](std::string bytes, Encoding encoding) {
    Sources sources;
    const auto file = sources.add("m.docx", std::move(bytes), encoding);
    return file ? std::string("accepted") : to_line(file.error());
  };
  for (const Encoding encoding : {Encoding::kUtf8, Encoding::kWindows1252}) {
    CHECK(message("PK\x03\x04\x14", encoding).starts_with("m.docx: is a packed document"));
    CHECK(message("%PDF-1.4\n", encoding).starts_with("m.docx: is a PDF and is not read"));
    CHECK(message("{\\rtf1 K-217}", encoding).find("; save its text as UTF-8") !=
          std::string::npos);
    CHECK(message("PK is a code, %PDF- is none", encoding) == "accepted");
  }
  CHECK(message("\xFF\xFEK", Encoding::kUtf8).starts_with("m.docx: is UTF-16"));
}

TEST_CASE("Windows-1252 is converted only when asked for") {
  Sources sources;
  const auto file = sources.add("m.txt",
                                "\x93"
                                "caf\xE9\x94 \x96 \x80",
                                Encoding::kWindows1252);
  REQUIRE(file);
  CHECK(sources.text(file.value()) == "\u201Ccaf\u00E9\u201D \u2013 \u20AC");
}

TEST_CASE("a file that is not there is one clear line") {
  Sources sources;
  const auto file = sources.read("no-such-folder/no-such-file.md");
  REQUIRE_FALSE(file);
  CHECK(to_line(file.error()).find("no-such-folder/no-such-file.md: cannot be opened") == 0);
  const auto folder = sources.read(TAILPROOF_TOP);
  REQUIRE_FALSE(folder);
  CHECK(folder.error().message == "is a folder; a file was expected");
}

TEST_CASE("a complaint line leaves out what is zero") {
  CHECK(to_line({"a.md", 3, 4, "wrong", false}) == "a.md:3:4: wrong");
  CHECK(to_line({"a.md", 3, 0, "wrong", false}) == "a.md:3: wrong");
  CHECK(to_line({"a.md", 0, 0, "wrong", false}) == "a.md: wrong");
  CHECK(to_line({"", 0, 0, "wrong", false}) == "wrong");
}

}  // namespace

TEST_CASE("a file that is kept is not read a second time, and takes another text") {
  Sources sources;
  sources.keep_files();
  const auto file = sources.add("book.md", "One line.\n");
  REQUIRE(file);
  const auto again = sources.read("book.md");
  REQUIRE(again);
  CHECK(again.value() == file.value());
  CHECK(sources.find("book.md") == file.value());
  CHECK_FALSE(sources.find("other.md"));

  REQUIRE(sources.replace(file.value(), "Now\ntwo lines"));
  CHECK(sources.text(file.value()) == "Now\ntwo lines");
  CHECK(sources.line_begins(file.value()).size() == 2);
  CHECK(sources.position(file.value(), 5) == Position{2, 2});
  CHECK_FALSE(sources.replace(file.value(), "not \xFF UTF-8"));
  CHECK(sources.text(file.value()) == "Now\ntwo lines");
}

}  // namespace tailproof
