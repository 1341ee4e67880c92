// A grammar file: lists, patterns and what they expand to.
#include "fuzz.h"
#include "mentions/pattern_matcher.h"
#include "mentions/tokens.h"

using namespace tailproof;

int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  Complaints complaints;
  const Grammars grammars =
      Grammars::read({{"input.toml", fuzz::as_text(data, size)}}, {}, "en", complaints);
  constexpr std::string_view kText = "On 14 June 1943 (a Monday) No. 5 and 'Ada' had 12 ft of it.";
  const std::vector<Token> tokens = tokenize(kText, grammars);
  for (const char* kind : {"date", "unit", "code"}) {
    PatternMatcher matcher(grammars.patterns(kind));
    for (const PatternMatch& match : matcher.match(kText, tokens)) {
      fuzz::require(match.begin < match.end && match.end <= kText.size(), "a match in the text");
      for (const MatchedPhrase::Slot& slot : match.phrase->slots) {
        fuzz::require(slot.first <= slot.last && slot.last <= match.phrase->length,
                      "a slot in the match");
      }
    }
  }
  return 0;
}
