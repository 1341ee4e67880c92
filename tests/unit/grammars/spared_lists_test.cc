#include "grammars/spared_lists.h"

#include <re2/re2.h>

#include <catch2/catch.hpp>
#include <string>

#include "grammars/grammars.h"

using namespace tailproof;

namespace {

WordList years(int count) {
  WordList list;
  for (int i = 0; i < count; ++i) {
    list.words.emplace_back("in " + std::to_string(i) + " years", "later");
    list.words.emplace_back(std::to_string(i) + " years (or so)", "later");
  }
  return list;
}

}  // namespace

TEST_CASE("a long list whose phrases share a word is left out where that word is not") {
  const WordList list = years(40);
  const std::string pattern =
      "june(?: \\d{4}| (?P<ref>(?:in \\d+ years|[)(]?\\d+ years \\(or so\\))))?";
  const SparedLists spared = spare_lists(pattern, {{"ref", &list}});
  CHECK_FALSE(spared.may_be_asked_of("june in 3 years"));
  REQUIRE(spared.may_be_asked_of("june 1943, in may"));
  const RE2 re(spared.source);
  REQUIRE(re.ok());
  CHECK(re.NumberOfCapturingGroups() == 1);
  CHECK(RE2::FullMatch("june 1943", re));
  CHECK(RE2::FullMatch("june", re));
  CHECK_FALSE(RE2::FullMatch("june in 3 years", re));
}

TEST_CASE("short lists, and those whose phrases share no word, stay") {
  WordList mixed = years(40);
  mixed.words.emplace_back("a twelvemonth", "later");
  const WordList few = years(3);
  for (const WordList* list : std::initializer_list<const WordList*>{&mixed, &few}) {
    const SparedLists spared = spare_lists("june (?P<ref>(?:in 1 years))", {{"ref", list}});
    CHECK_FALSE(spared.may_be_asked_of("june 1943"));
  }
}
