// A table of words tells of each spelling what a look at the text would.
#include "mentions/words.h"

#include <catch2/catch.hpp>
#include <string>

#include "mentions/phrase_index.h"
#include "mentions/tokens.h"

using namespace tailproof;

namespace {

const Grammars& english_words() {
  static Complaints complaints;
  static const Grammars grammars =
      Grammars::read({}, {TAILPROOF_TOP "/grammars/en"}, "en", complaints);
  return grammars;
}

}  // namespace

TEST_CASE("tokens with words are those without, however often a spelling returns") {
  const std::string text =
      "S3001’s letters, “NP-C”, weren't there by May 1943; MAY? No. 14th Sqn... caf\xC3\xA9s "
      "(S3001).";
  WordTable words(english_words(), nullptr);
  for (int round = 0; round < 2; ++round) {
    const auto with = tokenize(text + text, words);
    const auto without = tokenize(text + text, english_words());
    REQUIRE(with.size() == without.size());
    for (std::size_t t = 0; t < with.size(); ++t) {
      INFO(text.substr(with[t].begin % text.size(), with[t].end - with[t].begin));
      CHECK(with[t].begin == without[t].begin);
      CHECK(with[t].end == without[t].end);
      CHECK(with[t].starts == without[t].starts);
      CHECK(with[t].kind == without[t].kind);
      CHECK(with[t].capital == without[t].capital);
      CHECK(with[t].all_capitals == without[t].all_capitals);
      CHECK(with[t].sentence_start == without[t].sentence_start);
    }
    CHECK(with.front().word == with[with.size() / 2].word);
  }
}

TEST_CASE("a word knows its folded form and the lists that hold it") {
  WordTable words(english_words(), nullptr);
  const std::string text = "OCTOBER Tamblin’s";
  const auto tokens = tokenize(text, words);
  REQUIRE(tokens.size() == 2);
  CHECK(tokens[0].word->folded == "october");
  CHECK(tokens[0].word->value_in(english_words().list("month")) == "10");
  CHECK(tokens[0].word->value_in(english_words().list("weekday")).empty());
  CHECK(tokens[0].word->value_in(nullptr).empty());
  CHECK(tokens[1].word->folded == "tamblin's");
}

TEST_CASE("thousands of spellings are kept apart") {
  WordTable words(english_words(), nullptr);
  std::string text;
  for (int i = 0; i < 20000; ++i) text += "w" + std::to_string(i) + " ";
  const auto tokens = tokenize(text, words);
  const auto again = tokenize(text, words);
  REQUIRE(tokens.size() == 20000);
  bool all_kept = true;
  for (std::size_t t = 0; t < tokens.size(); ++t) {
    all_kept = all_kept && tokens[t].word == again[t].word &&
               tokens[t].word->text ==
                   std::string_view(text).substr(tokens[t].begin, tokens[t].end - tokens[t].begin);
  }
  CHECK(all_kept);
}

TEST_CASE("phrases are found by the numbers of words as by the words themselves") {
  PhraseIndex phrases;
  phrases.add("white bar", 1);
  phrases.add("cross", 2);
  phrases.add("Tamblin", 3);
  WordTable words(english_words(), &phrases);
  const std::string text = "White bars, crosses, Tamblin's cross; a white cockade";
  const auto with = tokenize(text, words);
  const auto without = tokenize(text, english_words());
  std::vector<PhraseIndex::Hit> one, other;
  std::size_t count = 0;
  for (std::uint32_t t = 0; t < with.size(); ++t) {
    if (with[t].kind == TokenKind::kMark) continue;
    phrases.hits_at(text, with, t, one);
    phrases.hits_at(text, without, t, other);
    REQUIRE(one.size() == other.size());
    for (std::size_t i = 0; i < one.size(); ++i) {
      CHECK(one[i].payloads == other[i].payloads);
      CHECK(one[i].last == other[i].last);
      CHECK(one[i].plural == other[i].plural);
    }
    count += one.size();
  }
  CHECK(count == 4);
}
