// The fourth station: everything that the words of one block name.
#pragma once

#include <memory>
#include <string_view>
#include <vector>

#include "mentions/dates.h"
#include "mentions/lexicon.h"
#include "mentions/mention.h"
#include "mentions/tokens.h"
#include "tailproof/claim.h"

namespace re2 {
class RE2;
}

namespace tailproof {

/// What one block names. Mentions are sorted by place; two of one kind never overlap.
struct Mentions {
  std::vector<Token> tokens;
  std::vector<Mention> items;
  std::vector<DateMention> dates;
  std::vector<Measure> measures;
};

/// Serial forms of the ledger, compiled.
class SerialForms {
 public:
  explicit SerialForms(const Ledger& ledger);
  ~SerialForms();

  struct Match {
    std::string serial;
    std::uint32_t end = 0;  // in the text
    bool tail_only = false;
  };
  /// The longest match of any form that begins exactly at `begin` and ends where a token ends.
  [[nodiscard]] std::vector<Match> match_at(std::string_view text, const std::vector<Token>& tokens,
                                            std::uint32_t token) const;
  /// Whether any form matches the whole of `text`.
  [[nodiscard]] bool fits(std::string_view text) const;

 private:
  struct Form;
  std::vector<Form> forms_;
};

class MentionFinder {
 public:
  MentionFinder(const Ledger& ledger, const Grammars& grammars);
  [[nodiscard]] Mentions find(std::string_view text) const;
  [[nodiscard]] const Lexicon& lexicon() const { return lexicon_; }

 private:
  Lexicon lexicon_;
  SerialForms forms_;
};

}  // namespace tailproof
