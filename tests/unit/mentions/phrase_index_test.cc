#include "mentions/phrase_index.h"

#include <catch2/catch.hpp>

using namespace tailproof;

namespace {

std::vector<std::string> found(const PhraseIndex& index, std::string_view text) {
  const Grammars grammars;
  const auto tokens = tokenize(text, grammars);
  std::vector<std::string> out;
  std::vector<PhraseIndex::Hit> hits;
  for (std::uint32_t t = 0; t < tokens.size(); ++t) {
    index.hits_at(text, tokens, t, hits);
    for (const auto& hit : hits) {
      const auto begin = tokens[hit.first].begin, end = tokens[hit.last - 1].end;
      out.push_back(std::to_string(hit.payloads->front()) + ":" +
                    std::string(text.substr(begin, end - begin)));
    }
  }
  return out;
}

}  // namespace

TEST_CASE("a phrase is found whatever joins its words") {
  PhraseIndex index;
  index.add("A. J. Pellow", 1);
  index.add("red-centred disc", 2);
  index.add("LX-D", 3);
  CHECK(found(index, "Lt A.J. Pellow") == std::vector<std::string>{"1:A.J. Pellow"});
  CHECK(found(index, "A J Pellow's") == std::vector<std::string>{"1:A J Pellow's"});
  CHECK(found(index, "a red centred disc") == std::vector<std::string>{"2:red centred disc"});
  CHECK(found(index, "two red-centred discs") == std::vector<std::string>{"2:red-centred discs"});
  CHECK(found(index, "LX:D, LX D, LX+D") == std::vector<std::string>{"3:LX:D", "3:LX D", "3:LX+D"});
}

TEST_CASE("the longest phrase at a place comes first") {
  PhraseIndex index;
  index.add("Moss", 1);
  index.add("Moss Head", 2);
  CHECK(found(index, "at Moss Head") == std::vector<std::string>{"2:Moss Head", "1:Moss"});
}

TEST_CASE("a phrase is not found over the end of a clause") {
  PhraseIndex index;
  index.add("Moss Head", 1);
  CHECK(found(index, "the moss; Head of the line").empty());
  CHECK(found(index, "the moss, (Head)").empty());
}

TEST_CASE("tokens know words, numbers, mixtures and marks") {
  const Grammars grammars;
  const std::string_view text = "Tarver's QX417, 14th — “é” 1943.";
  const auto tokens = tokenize(text, grammars);
  std::vector<std::string> kinds;
  for (const Token& token : tokens) {
    const char* names[] = {"word", "number", "mixed", "mark"};
    kinds.push_back(std::string(text.substr(token.begin, token.end - token.begin)) + "/" +
                    names[static_cast<int>(token.kind)]);
  }
  CHECK(kinds == std::vector<std::string>{"Tarver's/word", "QX417/mixed", ",/mark", "14th/mixed",
                                          "—/mark", "“/mark", "é/word", "”/mark", "1943/number",
                                          "./mark"});
}
