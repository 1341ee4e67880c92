#include "lsp/document.h"

#include <catch2/catch.hpp>
#include <random>

using namespace tailproof::lsp;

namespace {

constexpr PositionEncoding kEncodings[] = {PositionEncoding::kUtf8, PositionEncoding::kUtf16,
                                           PositionEncoding::kUtf32};

Json change(std::uint32_t line, std::uint32_t from, std::uint32_t to, const std::string& text) {
  return Json{{"range", range_json({line, from}, {line, to})}, {"text", text}};
}

}  // namespace

TEST_CASE("places are counted in the units of the encoding") {
  // e acute: 2 bytes, 1 unit; an aircraft: 4 bytes, 2 units.
  const std::string text = "caf\xC3\xA9 \xF0\x9F\x9B\xA9 V/102\nnext";
  const auto begins = line_begins_of(text);
  const std::uint32_t serial = 11;
  const std::uint32_t characters[] = {11, 8, 7};
  for (std::size_t i = 0; i < 3; ++i) {
    Lines lines(text, begins, kEncodings[i]);
    CHECK(lines.place_of(serial) == Place{0, characters[i]});
    CHECK(lines.offset_of({0, characters[i]}) == serial);
    CHECK(lines.place_of(static_cast<std::uint32_t>(text.size())) == Place{1, 4});
    CHECK(lines.place_of(serial) == Place{0, characters[i]});  // back again
  }
}

TEST_CASE("places outside the text, or inside a character, are brought in") {
  const std::string text = "a\xF0\x9F\x9B\xA9z\r\nb";
  const auto begins = line_begins_of(text);
  const Lines utf16(text, begins, PositionEncoding::kUtf16);
  CHECK(utf16.offset_of({0, 2}) == 1);   // between the halves of a pair
  CHECK(utf16.offset_of({0, 99}) == 6);  // before CR LF
  CHECK(utf16.offset_of({1, 99}) == 9);
  CHECK(utf16.offset_of({7, 0}) == 9);
  const Lines utf8(text, begins, PositionEncoding::kUtf8);
  CHECK(utf8.offset_of({0, 3}) == 1);
}

TEST_CASE("changes with ranges, after text beyond ASCII") {
  for (const PositionEncoding encoding : kEncodings) {
    Document document;
    document.set_text("Caf\xC3\xA9 V/102\nsecond");
    const std::uint32_t at = encoding == PositionEncoding::kUtf8 ? 8 : 7;
    CHECK(document.apply(change(0, at, at + 3, "33"), encoding));
    CHECK(document.text == "Caf\xC3\xA9 V/33\nsecond");
    CHECK(document.apply(change(1, 0, 6, "2\n3"), encoding));
    CHECK(document.text == "Caf\xC3\xA9 V/33\n2\n3");
    CHECK(document.line_begins == line_begins_of(document.text));
    CHECK(document.apply(Json{{"text", "all new"}}, encoding));
    CHECK(document.text == "all new");
  }
}

TEST_CASE("what is no change changes nothing") {
  Document document;
  document.set_text("text");
  for (const Json& wrong :
       {Json(), Json(3), Json::object(), Json{{"text", 3}}, Json{{"text", "x"}, {"range", 3}},
        Json{{"text", "x"}, {"range", Json{{"start", 1}, {"end", 2}}}},
        Json{{"text", "x"},
             {"range", Json{{"start", Json{{"line", -1}, {"character", 0}}},
                            {"end", Json{{"line", 0}, {"character", 0}}}}}}}) {
    CHECK_FALSE(document.apply(wrong, PositionEncoding::kUtf16));
    CHECK(document.text == "text");
  }
}

TEST_CASE("the lines stay those of the text, whatever is put where") {
  std::mt19937 random(11);
  const auto below = [&random](std::size_t bound) {
    return static_cast<std::uint32_t>(random() % bound);
  };
  const std::string pieces[] = {"\r", "\n", "\r\n", "a", "\n\r", "", "ab\ncd", "\r\r\n\n"};
  Document document;
  for (int round = 0; round < 20000; ++round) {
    const auto size = static_cast<std::uint32_t>(document.text.size());
    const std::uint32_t begin = below(size + 1);
    const std::uint32_t end = begin + below(std::min(size - begin, size > 60 ? 40U : 3U) + 1);
    const std::string before = document.text;
    const std::string& words = pieces[below(8)];
    document.replace(begin, end, words);
    if (document.line_begins != line_begins_of(document.text)) {
      INFO("round " << round << ": " << begin << " to " << end << " of " << Json(before) << " by "
                    << Json(words));
      REQUIRE(document.line_begins == line_begins_of(document.text));
    }
  }
}
