// What a MentionFinder remembers from block to block: words, and phrases that patterns matched.
#pragma once

#include <deque>
#include <map>
#include <string>
#include <string_view>

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

  /// For the patterns of one kind; the name must outlive this.
  [[nodiscard]] PatternMatcher& matcher(std::string_view kind) {
    const auto found = matchers_.find(kind);
    return found != matchers_.end()
               ? found->second
               : matchers_.try_emplace(kind, grammars_.patterns(kind)).first->second;
  }

 private:
  const Grammars& grammars_;
  std::map<std::string_view, PatternMatcher> matchers_;
  std::deque<std::string> told_;
};

}  // namespace tailproof
