// The sieve and the memory may save time and never change a match: RE2 alone is the judge.
#include "mentions/pattern_matcher.h"

#include <re2/re2.h>

#include <catch2/catch.hpp>
#include <random>

#include "grammars/sieve.h"

using namespace tailproof;

namespace {

const Grammars& english() {
  static Complaints complaints;
  static const Grammars grammars =
      Grammars::read({}, {TAILPROOF_TOP "/grammars/en"}, "en", complaints);
  return grammars;
}

constexpr std::string_view kText =
    "On 14 June 1943 (a Monday) No. 5 Company and 'Ada', coded NP-C, had 12 ft (3.7 m) of it; "
    "early in May '44, or about 3/4/43, Nos. 12 and 14 Companies were at 4½ in, 18 in (46 cm). "
    "See Fig. 3 and plates 4 and 5. It was probably lost two days later, between 1 and 3 August, "
    "“by the end of 1944” – in the ’forties, the 1940s, or the winter of 1943/44. ſome Kind";

// What every pattern by itself makes of the text at one token.
std::string by_re2(const std::vector<const Pattern*>& patterns, std::string_view text,
                   const Token& token) {
  const Pattern* best = nullptr;
  std::size_t length = 0;
  for (const Pattern* pattern : patterns) {
    if ((pattern->starts & token.starts).none()) continue;
    re2::StringPiece whole;
    const std::size_t limit = std::min<std::size_t>(text.size(), token.begin + 320);
    if (pattern->compiled().re->Match(re2::StringPiece(text.data(), text.size()), token.begin,
                                      limit, RE2::ANCHOR_START, &whole, 1) &&
        whole.size() > length) {
      best = pattern;
      length = whole.size();
    }
  }
  return best == nullptr ? "" : best->name + " " + std::to_string(length);
}

// Pieces of the text in another order, with slips: much that nearly matches.
std::string shuffled(std::mt19937& random) {
  std::string text;
  while (text.size() < 120) {
    std::size_t begin = random() % kText.size();
    while (begin > 0 && kText[begin - 1] != ' ') --begin;
    text += kText.substr(begin, 1 + random() % 24);
    if (random() % 3 != 0) text += ' ';
  }
  return text;
}

}  // namespace

TEST_CASE("matches are those of RE2 alone, seen for the first time or remembered") {
  const Grammars& grammars = english();
  std::mt19937 random(1943);
  WordTable words(grammars, nullptr);
  DeadEnds dead_ends;  // learnt from all kinds
  for (const char* kind : {"date", "unit", "unit_list", "code", "measure", "event", "reference"}) {
    INFO(kind);
    const auto& patterns = grammars.patterns(kind);
    REQUIRE_FALSE(patterns.empty());
    PatternMatcher matcher(patterns, &dead_ends);
    for (int round = 0; round < 60; ++round) {
      const std::string text = round == 0 ? std::string(kText) : shuffled(random);
      INFO(text);
      std::vector<Token> tokens = tokenize(text, words);
      dead_ends.leave_out(text, tokens);
      std::string expected, found;
      std::uint32_t free_from = 0;
      for (const Token& token : tokens) {
        if (token.begin < free_from) continue;
        const std::string one = by_re2(patterns, text, token);
        if (one.empty()) continue;
        expected += std::to_string(token.begin) + " " + one + "\n";
        free_from =
            token.begin + static_cast<std::uint32_t>(std::stoul(one.substr(one.rfind(' '))));
      }
      for (const PatternMatch& match : matcher.match(text, tokens)) {
        found += std::to_string(match.begin) + " " + match.pattern->name + " " +
                 std::to_string(match.end - match.begin) + "\n";
      }
      CHECK(found == expected);
    }
  }
}

TEST_CASE("slots are those of the place, not of the place where the phrase was first seen") {
  PatternMatcher matcher(english().patterns("date"));
  const std::string first = "Lost on 14 June 1943.";
  const std::string later = "A longer sentence that comes to 14 June 1943. It ends.";
  for (const std::string& text : {first, later}) {
    const auto& found = matcher.match(text, tokenize(text, english()));
    REQUIRE(found.size() == 1);
    CHECK(found[0].text_of("day", text) == "14");
    CHECK(found[0].value_of("month", text) == "6");
    CHECK(found[0].text_of("year", text).data() == text.data() + text.find("1943"));
  }
}

TEST_CASE("the sieve lets through whatever RE2 matches, in any case and beyond ASCII") {
  const std::vector<std::string_view> sources = {"(?i)kiss\\b",     "[^a-z ]+",  "caf\xC3\xA9?s",
                                                 "a{2,3}b{14,}",    "\\d{1,2}",  "(?:x|yy*)+?z$",
                                                 "[\xE2\x80\x93-]", "(?P<n>\\W)"};
  PatternSieve sieve(sources);
  REQUIRE(sieve.is_whole());
  std::mt19937 random(7);
  const std::vector<std::string_view> pieces = {"k",   "K",        "\xE2\x84\xAA",
                                                "i",   "s",        "\xC5\xBF",
                                                "caf", "\xC3\xA9", "\xC3\x89",
                                                "a",   "aa",       "bbbbbbb",
                                                "4",   "x",        "y",
                                                "z",   "-",        "\xE2\x80\x93",
                                                " ",   "_",        "B"};
  for (int round = 0; round < 3000; ++round) {
    std::string text;
    for (unsigned i = 0; i < 1 + random() % 7; ++i) text += pieces[random() % pieces.size()];
    const PatternSieve::Look look = sieve.look(text, 0, text.size());
    for (std::size_t i = 0; i < sources.size(); ++i) {
      const RE2 re{re2::StringPiece(sources[i].data(), sources[i].size())};
      re2::StringPiece whole;
      if (!re.Match(text, 0, text.size(), RE2::ANCHOR_START, &whole, 1)) continue;
      INFO(text << " by " << sources[i]);
      CHECK(look.may_match[i]);
    }
  }
}

TEST_CASE("syntax that the sieve does not know makes it say so") {
  for (const std::string_view source :
       {"\\pL+", "[[:alpha:]]", "\\x41", "(?P>n)", "a\\C", "\\Qa\\E"}) {
    INFO(source);
    CHECK_FALSE(PatternSieve({source}).is_whole());
  }
  CHECK_FALSE(PatternSieve(std::vector<std::string_view>(200, "a")).is_whole());
}
