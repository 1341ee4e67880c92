// Matches of the patterns of one kind, with a memory of the phrases already seen.
//
// Where a pattern may begin, a sieve tells which of them are worth a try and how far the text has
// any part in it. The same bytes there give the same match wherever they stand, so that RE2 is
// asked once for each different phrase. Tokens that point to words are all of one table. An object
// serves one thread; matches point into it until
// the next call of `match`.
#pragma once

#include <cstdint>
#include <deque>
#include <memory>
#include <string>
#include <string_view>
#include <unordered_map>
#include <vector>

#include "grammars/grammars.h"
#include "grammars/sieve.h"
#include "mentions/dead_ends.h"
#include "mentions/phrase_index.h"
#include "mentions/tokens.h"
#include "source/text_hash.h"

namespace tailproof {

/// What a pattern makes of a phrase, wherever that stands.
struct MatchedPhrase {
  static constexpr std::uint32_t kNoNumber = 0xffffffffU;

  /// A slot that took part, or whose value the pattern fixes.
  struct Slot {
    std::uint64_t name = 0;             // ListName::number_of
    std::uint32_t first = 0, last = 0;  // from the phrase's begin; equal for a fixed value
    bool is_text = false;               // its value is its text
    Spelling value;                     // else what its list or the pattern gives
  };

  const Pattern* pattern = nullptr;  // none: nothing matches
  std::uint32_t length = 0;
  std::uint32_t number = kNoNumber;  // from 0, of a phrase that is remembered
  std::vector<Slot> slots;           // those of the text first
};

/// A pattern that matched text [begin, end).
struct PatternMatch {
  const Pattern* pattern = nullptr;
  std::uint32_t begin = 0;
  std::uint32_t end = 0;
  std::uint32_t first = 0, last = 0;  // tokens: at `begin`, and the next at `end` or behind it
  const MatchedPhrase* phrase = nullptr;

  /// The slot's text; "" when it took no part.
  [[nodiscard]] Spelling text_of(ListName slot, std::string_view block_text) const;
  /// The slot's value: through its word list, or fixed by the pattern, or else the text itself.
  [[nodiscard]] Spelling value_of(ListName slot, std::string_view block_text) const;
};

class PatternMatcher {
 public:
  /// Patterns, and dead ends if there are any, must outlive it. All patterns are of one kind.
  explicit PatternMatcher(const std::vector<const Pattern*>& patterns,
                          DeadEnds* dead_ends = nullptr);

  /// Every match, left to right, none overlapping another.
  [[nodiscard]] const std::vector<PatternMatch>& match(std::string_view text,
                                                       const std::vector<Token>& tokens);
  /// Whether any pattern may begin at such a token.
  [[nodiscard]] const StartBits& starts() const { return starts_; }
  /// Token::kinds of a token at which any pattern may begin.
  [[nodiscard]] KindBits kinds() const { return kinds_; }
  /// Grows when everything is forgotten and phrases are numbered anew.
  [[nodiscard]] std::uint32_t generation() const { return generation_; }

 private:
  [[nodiscard]] const MatchedPhrase& phrase_at(std::string_view text,
                                               const std::vector<Token>& tokens, std::size_t first);
  [[nodiscard]] const MatchedPhrase* on_path(std::uint32_t root, std::string_view text,
                                             const std::vector<Token>& tokens,
                                             std::size_t first) const;
  void keep_path(std::uint32_t root, std::string_view text, const std::vector<Token>& tokens,
                 std::size_t first, std::size_t last, const MatchedPhrase& phrase);
  [[nodiscard]] MatchedPhrase tried(std::string_view text, const Token& token,
                                    const PatternSieve::Mask* may_match);

  std::vector<const Pattern*> patterns_;
  DeadEnds* dead_ends_;  // learns where nothing matches, if there is one
  StartBits starts_;
  KindBits kinds_ = 0;
  std::unique_ptr<PatternSieve> sieve_;  // made when a token first asks for it
  std::unordered_map<std::string, MatchedPhrase, TextHash, std::equal_to<>> known_;
  // The same by words, for phrases that no more than a blank parts: from a root for what stands
  // before them, word by word, to the node that has all that decides.
  EdgeTable paths_;
  std::vector<std::uint32_t> begins_;  // by root and number of the first word: its node, or 0
  std::vector<const MatchedPhrase*> decided_ = {nullptr};  // by node
  std::uint32_t generation_ = 0;
  std::string key_;
  std::string small_;                // the text around a token in small letters
  std::deque<MatchedPhrase> loose_;  // of this call, too long to be remembered
  std::vector<PatternMatch> matches_;
};

}  // namespace tailproof
