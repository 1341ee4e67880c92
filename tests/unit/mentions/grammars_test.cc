#include "grammars/grammars.h"

#include <catch2/catch.hpp>
#include <filesystem>
#include <fstream>
#include <map>

#include "mentions/pattern_matcher.h"
#include "mentions/tokens.h"

using namespace tailproof;

namespace {

Grammars read_text(std::string_view text, Complaints& complaints,
                   std::string_view language = "en") {
  return Grammars::read({{"test.toml", text}}, {}, language, complaints);
}

std::vector<std::string> matches(const Grammars& grammars, std::string_view kind,
                                 std::string_view text) {
  std::vector<std::string> out;
  PatternMatcher matcher(grammars.patterns(kind));
  for (const auto& match : matcher.match(text, tokenize(text, grammars))) {
    out.push_back(match.pattern->name + ":" +
                  std::string(text.substr(match.begin, match.end - match.begin)));
  }
  return out;
}

}  // namespace

TEST_CASE("a pattern finds the words of a list and gives their values") {
  Complaints complaints;
  const Grammars grammars = read_text(R"(
language = "en"
[lists.month.words]
april = 4
apr = 4
[[pattern]]
kind = "date"
name = "day and month"
starts = ["@number"]
match = '(?P<day>\d{1,2}) {month}'
set = { form = "day" }
)",
                                      complaints);
  REQUIRE(complaints.empty());
  const std::string_view text = "On 12 April and on 3 Apr. it rained, but 7 Aprils did not.";
  PatternMatcher matcher(grammars.patterns("date"));
  const auto& found = matcher.match(text, tokenize(text, grammars));
  REQUIRE(found.size() == 2);
  CHECK(found[0].text_of("day", text) == "12");
  CHECK(found[0].value_of("month", text) == "4");
  CHECK(found[1].value_of("month", text) == "4");
  CHECK(found[1].value_of("form", text) == "day");
  CHECK(found[1].value_of("nothing", text).empty());
}

TEST_CASE("the longest match wins, then the earlier pattern") {
  Complaints complaints;
  const Grammars grammars = read_text(R"(
[[pattern]]
kind = "k"
name = "short"
starts = ["@number"]
match = '\d+'
[[pattern]]
kind = "k"
name = "long"
starts = ["@number"]
match = '\d+ miles'
[[pattern]]
kind = "k"
name = "same"
starts = ["@number"]
match = '\d+'
)",
                                      complaints);
  REQUIRE(complaints.empty());
  CHECK(matches(grammars, "k", "12 miles and 7") ==
        std::vector<std::string>{"long:12 miles", "short:7"});
}

TEST_CASE("a grammar of another language is left out") {
  Complaints complaints;
  const std::string_view text = "language = \"de\"\n[lists.monat]\nwords = [\"juni\"]\n";
  CHECK(read_text(text, complaints).list("monat") == nullptr);
  CHECK(read_text(text, complaints, "de").list("monat") != nullptr);
  CHECK(complaints.empty());
}

TEST_CASE("a later file adds words to a list of the same name") {
  Complaints complaints;
  const Grammars grammars =
      Grammars::read({{"a.toml", "[lists.unit_word.words]\nsquadron = \"squadron\"\n"},
                      {"b.toml", "[lists.unit_word.words]\nstaffel = \"squadron\"\n"}},
                     {}, "en", complaints);
  REQUIRE(grammars.list("unit_word") != nullptr);
  CHECK(grammars.list("unit_word")->value_of("Staffel") == "squadron");
  CHECK(grammars.list("unit_word")->value_of("Squadron") == "squadron");
  CHECK(grammars.list("unit_word")->value_of("flock").empty());
}

TEST_CASE("bad grammar input is one complaint with its line, and the rest is kept") {
  Complaints complaints;
  SECTION("not TOML") {
    (void)read_text("[lists\n", complaints);
    REQUIRE(complaints.size() == 1);
    CHECK(complaints[0].line == 1);
  }
  SECTION("a pattern that RE2 rejects") {
    const Grammars grammars = read_text(
        "[[pattern]]\nkind = \"k\"\nname = \"looks back\"\nstarts = [\"@any\"]\nmatch = '(?<=a)b'\n"
        "[[pattern]]\nkind = \"k\"\nname = \"good\"\nstarts = [\"@any\"]\nmatch = 'b'\n",
        complaints);
    REQUIRE(complaints.size() == 1);
    CHECK(complaints[0].message.find("looks back") != std::string::npos);
    CHECK(grammars.patterns("k").size() == 1);
  }
  SECTION("a list that nobody has") {
    (void)read_text(
        "[[pattern]]\nkind = \"k\"\nname = \"n\"\nstarts = [\"@any\"]\nmatch = '{nowhere}'\n",
        complaints);
    REQUIRE(complaints.size() == 1);
    CHECK(complaints[0].message.find("nowhere") != std::string::npos);
  }
  SECTION("no starts") {
    (void)read_text("[[pattern]]\nkind = \"k\"\nname = \"n\"\nmatch = 'a'\n", complaints);
    REQUIRE(complaints.size() == 1);
    CHECK(complaints[0].message.find("starts") != std::string::npos);
  }
  SECTION("more lists in starts than there are bits for them") {
    std::string text;
    for (int i = 0; i < 187; ++i) {
      const std::string n = std::to_string(i);
      text += "[lists.l" + n + "]\nwords = [\"w" + n + "\"]\n";
    }
    for (int i = 0; i < 187; ++i) {
      const std::string n = std::to_string(i);
      text += "[[pattern]]\nkind = \"k\"\nname = \"p" + n + "\"\nstarts = [\"l" + n +
              "\"]\nmatch = '{l" + n + "}'\n";
    }
    const Grammars grammars = read_text(text, complaints);
    CHECK(grammars.patterns("k").size() == 186);
    REQUIRE(complaints.size() == 1);
    CHECK(complaints[0].message.find("186 lists") != std::string::npos);
    CHECK((grammars.starts_of_word("w185") & grammars.starts_of_word("w0")).none());
    CHECK(grammars.starts_of_word("w185").any());
  }
  SECTION("a folder that is not there") {
    const Grammars none = Grammars::read({}, {"no/such/folder"}, "en", complaints);
    CHECK(none.lists().empty());
    REQUIRE(complaints.size() == 1);
    CHECK(complaints[0].file == "no/such/folder");
  }
}

TEST_CASE("the grammars of the project load without a complaint in every language they have") {
  for (const char* language : {"en", "de"}) {
    Complaints complaints;
    const Grammars grammars =
        Grammars::read({}, {std::string(TAILPROOF_TOP) + "/grammars"}, language, complaints);
    for (const Complaint& complaint : complaints) FAIL_CHECK(to_line(complaint));
    CHECK_FALSE(grammars.patterns("date").empty());
  }
}

TEST_CASE(
    "no list of the project's grammars stands in two files, where it would be united unseen") {
  std::map<std::string, std::string> file_of;
  const std::filesystem::path folder = std::string(TAILPROOF_TOP) + "/grammars/en";
  for (const auto& entry : std::filesystem::directory_iterator(folder)) {
    std::ifstream in(entry.path());
    for (std::string line; std::getline(in, line);) {
      if (!line.starts_with("[lists.")) continue;
      const std::string name = line.substr(7, line.find_first_of(".]", 7) - 7);
      const std::string file = entry.path().filename().string();
      const auto [at, is_new] = file_of.emplace(name, file);
      if (!is_new && at->second != file)
        FAIL_CHECK(name + " stands in " + at->second + " and in " + file);
    }
  }
  CHECK(file_of.size() > 100);
}
