// What a MentionFinder remembers from block to block: words, and phrases that patterns matched.
#pragma once

#include <deque>
#include <string>
#include <string_view>
#include <utility>

#include "mentions/date_reader.h"
#include "mentions/lexicon.h"
#include "mentions/marking_words.h"
#include "mentions/pattern_matcher.h"
#include "mentions/words.h"

namespace tailproof {

class FinderMemory {
 public:
  FinderMemory(const Lexicon& lexicon, Explain how)
      : explain(how),
        words(lexicon.grammars(), &lexicon.phrases()),
        dates(lexicon.grammars(), lexicon.ledger().settings()),
        grammars_(lexicon.grammars()) {}

  const Explain explain;
  WordTable words;
  DateReader dates;
  MarkingWords::Memory markings;

  /// An explanation put together of pieces, if there are to be any.
  [[nodiscard]] std::string_view tell(std::string_view what, std::string_view of,
                                      std::string_view rest = {}) {
    if (explain == Explain::kNo) return {};
    std::string text(what);
    return told_.emplace_back(text.append(of).append(rest));
  }

  /// For the patterns of one kind.
  [[nodiscard]] PatternMatcher& matcher(ListName kind) {
    for (auto& [number, matcher] : matchers_) {
      if (number == kind.number()) return matcher;
    }
    const auto& patterns = grammars_.patterns_numbered(kind.number());
    return matchers_.emplace_back(kind.number(), PatternMatcher(patterns)).second;
  }

 private:
  const Grammars& grammars_;
  std::deque<std::pair<std::uint64_t, PatternMatcher>> matchers_;  // few
  std::deque<std::string> told_;
};

}  // namespace tailproof
