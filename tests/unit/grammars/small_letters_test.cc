#include "grammars/small_letters.h"

#include <re2/re2.h>

#include <catch2/catch.hpp>
#include <string>

using namespace tailproof;

namespace {

// What a pattern matches at the beginning of a text, without regard to case.
std::string matched(const std::string& pattern, const std::string& text) {
  RE2::Options options;
  options.set_case_sensitive(false);
  re2::StringPiece found;
  const RE2 re(pattern, options);
  REQUIRE(re.ok());
  return re.Match(text, 0, text.size(), RE2::ANCHOR_START, &found, 1) ? std::string(found) : "-";
}

std::string lower(std::string text) {
  std::string small;
  REQUIRE(write_small(text, small));
  return small;
}

std::string matched_small(const std::string& pattern, const std::string& text) {
  const auto small = in_small_letters(pattern);
  REQUIRE(small);
  std::string small_text;
  REQUIRE(write_small(text, small_text));
  re2::StringPiece found;
  const RE2 re(*small);
  REQUIRE(re.ok());
  if (!re.Match(small_text, 0, small_text.size(), RE2::ANCHOR_START, &found, 1)) return "-";
  return text.substr(static_cast<std::size_t>(found.data() - small_text.data()), found.size());
}

}  // namespace

TEST_CASE("a pattern in small letters matches what the pattern matches without regard to case") {
  const std::string patterns[] = {
      "(?:No\\.? ?)?\\d{1,4}[a-z]?\\b",
      "(?P<label>[IVXL]{1,6})\\b",
      "[^A-Z ]+",
      "(?:Mk|mark) ?[A-Za-z0-9'\\x{2019}-]+",
      "[’']s\\b|\\(?squadron\\)?",
      "K\\W[]X-]+",
      "\\S+ \\D\\w*",
  };
  const std::string texts[] = {"No. 12B of", "NO 7",       "xiv.",    "XIV",        "mK iiB",
                               "MARK IV’s",  "’S",         "'s",      "(SQUADRON)", "k-]x-",
                               "Squadron",   "Étoile 12B", "été kit", "12 – b",     ""};
  for (const std::string& pattern : patterns) {
    for (const std::string& text : texts) {
      CAPTURE(pattern, text);
      CHECK(matched_small(pattern, text) == matched(pattern, text));
    }
  }
}

// Groups in which case counts are given back to be looked at; a capital in one ends the match.
TEST_CASE("a part in which case counts is told in small letters") {
  const std::string pattern = "june(?:,? \\d+| (?-i:(?:the )?(?P<ref>next|same) year))?";
  const std::string texts[] = {
      "June",           "JUNE 1943",      "June next year",      "june the same year",
      "June Next year", "June next YEAR", "JUNE, 1943 next year"};
  const auto small = in_small_letters(pattern);
  REQUIRE(small);
  const RE2 re(*small);
  REQUIRE(re.ok());
  REQUIRE(re.CapturingGroupNames().at(1) == std::string(kCasedGroup) + "0");
  for (const std::string& text : texts) {
    CAPTURE(text);
    std::string small_text;
    REQUIRE(write_small(text, small_text));
    re2::StringPiece found[2];
    REQUIRE(re.Match(small_text, 0, small_text.size(), RE2::ANCHOR_START, found, 2));
    const std::string cased(found[1]);
    const std::string told = text.substr(0, found[0].size());
    const bool has_capitals = !cased.empty() && told.substr(told.size() - cased.size()) != cased;
    CHECK((has_capitals ? "june" : std::string(found[0])) == lower(matched(pattern, text)));
  }
}

TEST_CASE("what has another case beyond ASCII, or flags, is not told in small letters") {
  for (const char* pattern :
       {"(?-i:RAF)", "(?i)raf", "(?-i:[^a])", "(?-i:[A-Z])", "(?-i:a(?-i:b))", "née", "[À-Þ]",
        "[+-z]", "\\pL", "\\x{212A}", "[[:alpha:]]", "\\", "[a", "(?P<open"}) {
    CAPTURE(pattern);
    CHECK_FALSE(in_small_letters(pattern));
  }
  std::string small;
  CHECK_FALSE(write_small("the Magpieſ", small));
  CHECK_FALSE(write_small("5 \xE2\x84\xAA", small));
  CHECK(write_small("NÉE “X”", small));
  CHECK(small == "nÉe “x”");
}
