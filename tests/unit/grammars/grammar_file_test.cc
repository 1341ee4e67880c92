#include "grammars/grammar_file.h"

#include <algorithm>
#include <catch2/catch.hpp>
#include <filesystem>
#include <string>
#include <vector>

#include "grammars/grammars.h"
#include "source/read_bytes.h"

using namespace tailproof;

namespace fs = std::filesystem;

namespace {

std::vector<std::string> english_files() {
  std::vector<std::string> files;
  for (const auto& entry : fs::recursive_directory_iterator(TAILPROOF_TOP "/grammars/en")) {
    if (entry.path().extension() == ".toml") files.push_back(entry.path().string());
  }
  std::sort(files.begin(), files.end());
  return files;
}

std::string text_of(const std::string& path) {
  Result<std::string> text = read_bytes(path);
  REQUIRE(text);
  return std::move(text).value();
}

GrammarFile read(std::string_view text) {
  Complaints complaints;
  auto grammar = read_grammar_toml(text, "own.toml", "", complaints);
  REQUIRE(complaints.empty());
  REQUIRE(grammar);
  return std::move(*grammar);
}

}  // namespace

TEST_CASE("a packed grammar is the file again") {
  std::size_t words = 0, patterns = 0;
  for (const std::string& path : english_files()) {
    INFO(path);
    const GrammarFile wanted = read(text_of(path));
    const std::string packed = pack_grammar(wanted);
    const GrammarFile got = unpack_grammar(packed, "own.toml");
    CHECK(got.file == wanted.file);
    CHECK(got.language == wanted.language);
    REQUIRE(got.lists.size() == wanted.lists.size());
    for (std::size_t i = 0; i < got.lists.size(); ++i) {
      CHECK(got.lists[i].name == wanted.lists[i].name);
      CHECK(got.lists[i].is_cased == wanted.lists[i].is_cased);
      CHECK(got.lists[i].words == wanted.lists[i].words);
      words += got.lists[i].words.size();
    }
    REQUIRE(got.patterns.size() == wanted.patterns.size());
    for (std::size_t i = 0; i < got.patterns.size(); ++i) {
      const GrammarFile::Pattern& pattern = got.patterns[i];
      CHECK(pattern.kind == wanted.patterns[i].kind);
      CHECK(pattern.name == wanted.patterns[i].name);
      CHECK(pattern.match == wanted.patterns[i].match);
      CHECK(pattern.is_cased == wanted.patterns[i].is_cased);
      CHECK(pattern.set == wanted.patterns[i].set);
      CHECK(std::equal(pattern.starts.begin(), pattern.starts.end(),
                       wanted.patterns[i].starts.begin(), wanted.patterns[i].starts.end(),
                       [](const auto& a, const auto& b) { return a.name == b.name; }));
      ++patterns;
    }
  }
  CHECK(words > 1000);
  CHECK(patterns > 100);
}

TEST_CASE("packed grammars are read like those of a folder") {
  std::vector<std::string> packed;
  for (const std::string& path : english_files())
    packed.push_back(pack_grammar(read(text_of(path))));
  std::vector<GrammarText> texts;
  for (const std::string& bytes : packed) texts.push_back({"own.toml", bytes, true});
  Complaints complaints;
  const Grammars got = Grammars::read(texts, {}, "en", complaints);
  const Grammars wanted = Grammars::read({}, {TAILPROOF_TOP "/grammars/en"}, "en", complaints);
  CHECK(complaints.empty());
  REQUIRE(got.lists().size() == wanted.lists().size());
  for (std::size_t i = 0; i < got.lists().size(); ++i) {
    CHECK(got.lists()[i]->name == wanted.lists()[i]->name);
    CHECK(got.lists()[i]->words == wanted.lists()[i]->words);
    CHECK(got.lists()[i]->values == wanted.lists()[i]->values);
  }
  for (const std::string_view kind : {"date", "unit", "measure", "code"}) {
    const auto& own = got.patterns(kind);
    const auto& others = wanted.patterns(kind);
    REQUIRE(own.size() == others.size());
    REQUIRE(!own.empty());
    for (std::size_t i = 0; i < own.size(); ++i) {
      CHECK(own[i]->source == others[i]->source);
      CHECK(own[i]->starts == others[i]->starts);
    }
  }
  CHECK(Grammars::read(texts, {}, "eo", complaints).lists().empty());
}

TEST_CASE("a number, a flag, an empty text and a mark within a word are packed too") {
  const std::string packed = pack_grammar(read(R"(
[lists.month.words]
may = 5
"tail \" mark" = ""
[lists.rank]
cased = true
words = ["Capt."]
[[pattern]]
kind = "date"
name = "plain"
match = '{month}\b'
cased = true
starts = ["month", "@number"]
set = { needs = "year" }
)"));
  const GrammarFile grammar = unpack_grammar(packed, "own.toml");
  REQUIRE(grammar.lists.size() == 2);
  using Words = std::vector<std::pair<std::string_view, std::string_view>>;
  CHECK(grammar.lists[0].words == Words{{"may", "5"}, {"tail \" mark", ""}});
  CHECK(grammar.lists[1].is_cased);
  CHECK(grammar.lists[1].words == Words{{"Capt.", "Capt."}});
  REQUIRE(grammar.patterns.size() == 1);
  CHECK(grammar.patterns[0].match == "{month}\\b");
  CHECK(grammar.patterns[0].is_cased);
  CHECK(grammar.patterns[0].set == Words{{"needs", "year"}});
  REQUIRE(grammar.patterns[0].starts.size() == 2);
  CHECK(grammar.patterns[0].starts[1].name == "@number");
}

TEST_CASE("phrases made of other lists, and phrases that lists share") {
  const GrammarFile grammar = read(R"(
[lists.lead.words]
"the {nth} {day} of" = "day:{nth}:{day}"
"the last monday of" = "own"
[lists.nth.words]
first = 1
last = -1
[lists.day]
also = ["any_day"]
[lists.day.words]
monday = 1
sunday = 0
[lists.any_day.words]
sun = 0
sunday = 7
)");
  REQUIRE(grammar.lists.size() == 4);
  using Words = std::vector<std::pair<std::string_view, std::string_view>>;
  CHECK(grammar.lists[0].words == Words{{"sun", "0"}, {"sunday", "7"}, {"monday", "1"}});
  CHECK(grammar.lists[1].is_shared);
  CHECK(grammar.lists[2].words == Words{{"the last monday of", "own"},
                                        {"the first monday of", "day:1:1"},
                                        {"the first sunday of", "day:1:0"},
                                        {"the last sunday of", "day:-1:0"}});
  Complaints complaints;
  const auto bad =
      read_grammar_toml("[lists.a]\nalso = [\"b\"]\nwords = [\"one {two}\", \"three\"]\n",
                        "own.toml", "en", complaints);
  REQUIRE(bad);
  CHECK(complaints.size() == 2);
  REQUIRE(bad->lists.size() == 1);
  CHECK(bad->lists[0].words == Words{{"three", "three"}});
}

TEST_CASE("what is no list, word or pattern is complained of with its place") {
  Complaints complaints;
  const auto grammar = read_grammar_toml(
      "words = 1\n[lists]\nmonth = 2\n[lists.year]\nwords = [3]\n", "own.toml", "en", complaints);
  REQUIRE(grammar);
  REQUIRE(complaints.size() == 3);
  CHECK(complaints[0].message.find("unknown key words") != std::string::npos);
  CHECK(complaints[1].line == 3);
  CHECK(complaints[2].message == "a word must be text");
  CHECK(complaints[2].line == 5);
  CHECK(!read_grammar_toml("language = \"eo\"\n", "own.toml", "en", complaints));
  CHECK(!read_grammar_toml("words = [", "own.toml", "en", complaints));
  CHECK(complaints.back().message.find("not TOML") != std::string::npos);
}
