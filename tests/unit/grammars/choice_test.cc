// Lists as parts of patterns: the same texts as the words one after the other, the longest first.
#include "grammars/choice.h"

#include <re2/re2.h>

#include <algorithm>
#include <catch2/catch.hpp>
#include <string>
#include <vector>

namespace tailproof {
namespace {

using Phrases = std::vector<std::string>;

// The phrases in their full length, as one would write them.
std::string plain(Phrases phrases) {
  std::stable_sort(phrases.begin(), phrases.end(),
                   [](const auto& a, const auto& b) { return a.size() > b.size(); });
  std::string out;
  for (const std::string& phrase : phrases) {
    if (!out.empty()) out += '|';
    out += RE2::QuoteMeta(phrase);
    if (std::isalnum(static_cast<unsigned char>(phrase.back())) != 0) out += "\\b";
  }
  return out;
}

// What each makes of the text, with something behind that may make it give way.
std::vector<std::string> found(const std::string& choice, const std::string& text, bool is_cased) {
  RE2::Options options;
  options.set_case_sensitive(is_cased);
  std::vector<std::string> all;
  for (const char* const behind : {"", " ?[a-z.]*", " [0-9a-z]+", "\\.?$"}) {
    const RE2 pattern("(" + choice + ")" + behind, options);
    REQUIRE(pattern.ok());
    re2::StringPiece groups[2];
    const bool is_match = pattern.Match(text, 0, text.size(), RE2::ANCHOR_START, groups, 2);
    all.push_back(is_match ? std::string(groups[0]) + "|" + std::string(groups[1]) : "none");
  }
  return all;
}

TEST_CASE("A choice takes what the phrases one by one take") {
  const Phrases lists[] = {{"m.p.h.", "mph", "miles", "miles per hour", "mile", "m"},
                           {"no", "no.", "nos.", "number", "numbers", "No. of"},
                           {"struck off", "struck", "struck off charge", "strike", "off"},
                           {"Flt Lt", "Flt. Lt.", "F/Lt", "Fg Off", "F/O", "F"},
                           {"März", "Mai", "Mär", "Oberst", "Öl", "Ö"},
                           {"a+b", "a", "(a)", "a-b"}};
  for (const Phrases& list : lists) {
    for (const bool is_cased : {true, false}) {
      const std::string choice = choice_of(list, is_cased ? Case::kTold : Case::kFolded);
      for (const std::string& one : list) {
        for (const std::string& other : list) {
          for (const char* const between : {"", " ", ".", "s ", "1"}) {
            const std::string text = one + between + other;
            INFO(choice << " on " << text);
            CHECK(found(choice, text, is_cased) == found(plain(list), text, is_cased));
          }
        }
      }
    }
  }
}

TEST_CASE("An apostrophe in a choice stands for either form of it") {
  const std::string choice = choice_of({"o'clock", "o'er"}, Case::kFolded);
  CHECK(
      RE2::FullMatch("o\xE2\x80\x99"
                     "clock",
                     choice));
  CHECK(RE2::FullMatch("o'er", choice));
  CHECK_FALSE(RE2::FullMatch("oclock", choice));
}

TEST_CASE("A choice among nothing stands for nothing") {
  CHECK(RE2::FullMatch("", choice_of({}, Case::kFolded)));
}

}  // namespace
}  // namespace tailproof
