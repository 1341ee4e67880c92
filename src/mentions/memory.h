// What a MentionFinder remembers from block to block: words, and phrases that patterns matched.
#pragma once

#include <algorithm>
#include <deque>
#include <string>
#include <string_view>
#include <unordered_set>
#include <utility>
#include <vector>

#include "mentions/date_reader.h"
#include "mentions/find_mentions.h"
#include "mentions/lexicon.h"
#include "mentions/marking_words.h"
#include "mentions/pattern_matcher.h"
#include "mentions/words.h"
#include "source/text_hash.h"

namespace tailproof {

/// What settling the overlaps of a block needs, kept from block to block for its room.
struct OverlapRoom {
  static constexpr std::uint32_t kNone = 0xffffffffU;
  struct Place {
    std::uint64_t order = 0;
    std::uint32_t then = 0;  // among those of one order
    std::uint32_t index = 0;
  };
  struct Link {
    std::uint32_t index = 0, next = 0;
  };
  std::vector<std::uint32_t> first_at, next;    // mentions by first token, each with the next
  std::vector<Place> together;                  // mentions that share words
  std::vector<std::uint32_t> kept;              // those that stay, by place
  std::vector<std::uint8_t> taken, cue_length;  // by token
  std::vector<Link> links;                      // the cues kept so far, listed by token
  std::vector<std::uint32_t> cues_at;           // by token: its first link, by number from 1

  void begin(std::size_t tokens, std::size_t mentions) {
    first_at.assign(tokens + 1, kNone);
    next.resize(mentions);
    kept.clear();
    links.clear();
    taken.assign(tokens + 1, 0);
    cue_length.assign(tokens + 1, 0);
    cues_at.assign(tokens + 1, 0);
  }
  static void sort(std::vector<Place>& places) {
    const auto is_before = [](const Place& a, const Place& b) {
      return a.order != b.order ? a.order < b.order : a.then < b.then;
    };
    constexpr std::size_t kFew = 64;
    if (places.size() > kFew) return std::sort(places.begin(), places.end(), is_before);
    for (std::size_t i = 1; i < places.size(); ++i) {
      const Place place = places[i];
      std::size_t to = i;
      for (; to > 0 && is_before(place, places[to - 1]); --to) places[to] = places[to - 1];
      places[to] = place;
    }
  }
};

/// What a word may be part of, by its spelling alone: a rule passes by the other words, and by a
/// block that has none.
enum Hint : std::uint8_t {
  kHintMet = 1,         // the word has been looked at
  kCalledSerial = 2,    // "serial"
  kCalledNumber = 4,    // "numbered"
  kLikeSerial = 8,      // begins as the ledger's serials do
  kWordOfCodes = 16,    // "Club", where the ledger has a code "Club 9"
  kWordOfArchive = 32,  // "SA", where it has a photograph "SA 1087"
  kPartedVerb = 64,     // "struck", of "struck X12 off"
  kHasDigit = 128,      // "12", "12B"
};

class FinderMemory {
 public:
  /// mark_words() of one word, and of the word without its last letter.
  struct MarkWords {
    bool is_met = false;
    std::vector<std::string> words, singular;
  };

  FinderMemory(const Lexicon& lexicon, Explain how)
      : explain(how),
        words(lexicon.grammars(), &lexicon.phrases()),
        dates(lexicon.grammars(), lexicon.ledger().settings(), &dead_ends),
        grammars_(lexicon.grammars()) {}

  /// Mentions of a text that nobody has asked for yet.
  struct Ahead {
    std::string_view text;
    Mentions mentions;
  };

  const Explain explain;
  WordTable words;
  DeadEnds dead_ends;
  DateReader dates;
  MarkingWords::Memory markings;
  MarkingLooks::Memory looks;
  OverlapRoom overlaps;
  std::vector<std::vector<Mention>> found;  // empty: room for those of blocks to come
  std::vector<Ahead> ahead;
  std::vector<std::uint8_t> hints;  // bits of Hint, by number of the word

  [[nodiscard]] const MarkWords& mark_words_of(const Word& word, const Grammars& grammars) {
    if (word.number >= mark_words_.size()) mark_words_.resize(2 * std::size_t{word.number} + 1);
    MarkWords& known = mark_words_[word.number];
    if (known.is_met) return known;
    known.is_met = true;
    known.words = mark_words(word.text, grammars);
    known.singular = mark_words(word.text.substr(0, word.text.size() - 1), grammars);
    return known;
  }

  /// The text, kept as long as this.
  [[nodiscard]] Spelling keep(std::string_view text) {
    if (text.empty()) return {};
    if (const auto known = texts_.find(text); known != texts_.end()) return Spelling(*known);
    return Spelling(*texts_.emplace(text).first);
  }

  /// An explanation put together of pieces, if there are to be any.
  [[nodiscard]] std::string_view tell(std::string_view what, std::string_view of,
                                      std::string_view rest = {}) {
    if (explain == Explain::kNo) return {};
    std::string text(what);
    return told_.emplace_back(text.append(of).append(rest));
  }

  /// What the patterns of one kind match; most blocks have no word that could begin any.
  [[nodiscard]] const std::vector<PatternMatch>& matches(ListName kind, std::string_view text,
                                                         const Mentions& mentions) {
    static const std::vector<PatternMatch> kNone;
    PatternMatcher& patterns = matcher(kind);
    return (patterns.kinds() & mentions.kinds) == 0 ? kNone : patterns.match(text, mentions.tokens);
  }

  /// For the patterns of one kind.
  [[nodiscard]] PatternMatcher& matcher(ListName kind) {
    for (auto& [number, matcher] : matchers_) {
      if (number == kind.number()) return matcher;
    }
    const auto& patterns = grammars_.patterns_numbered(kind.number());
    return matchers_.emplace_back(kind.number(), PatternMatcher(patterns, &dead_ends)).second;
  }

 private:
  const Grammars& grammars_;
  std::deque<std::pair<std::uint64_t, PatternMatcher>> matchers_;  // few
  std::vector<MarkWords> mark_words_;                              // by number of the word
  std::deque<std::string> told_;
  std::unordered_set<std::string, TextHash, std::equal_to<>> texts_;
};

}  // namespace tailproof
