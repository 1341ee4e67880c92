// Finds any of a large number of phrases in one pass over the words.
//
// A trie over the numbers of folded words. Its cost a word does not depend on how many phrases it
// holds. Between the words of a phrase the text may carry one full point, hyphen or other joining
// mark ("A. J.", "red-centred", "RK:D").
#pragma once

#include <array>
#include <cstdint>
#include <string>
#include <string_view>
#include <unordered_map>
#include <vector>

#include "grammars/fold.h"
#include "mentions/tokens.h"
#include "source/text_hash.h"

namespace tailproof {

/// From a node and the number of a word to the next node: a flat table, since nearly every word of
/// a text asks it once and finds nothing.
class EdgeTable {
 public:
  /// The node, or 0.
  [[nodiscard]] std::uint32_t find(std::uint32_t node, std::uint32_t word) const {
    const std::uint64_t key = (std::uint64_t{node} << 32U) | word;
    for (std::size_t at = place_of(key);; at = (at + 1) & (edges_.size() - 1)) {
      if (edges_[at].key == key) return edges_[at].to;
      if (edges_[at].to == 0) return 0;
    }
  }
  /// The node that the edge leads to: `fresh`, above 0, unless there was one before.
  std::uint32_t add(std::uint32_t node, std::uint32_t word, std::uint32_t fresh);

 private:
  struct Edge {
    std::uint64_t key = 0;
    std::uint32_t to = 0;  // 0: free
  };
  [[nodiscard]] std::size_t place_of(std::uint64_t key) const {
    return ((key * 0x9E3779B97F4A7C15U) >> 32U) & (edges_.size() - 1);
  }
  void grow();

  std::vector<Edge> edges_ = std::vector<Edge>(64);
  std::size_t count_ = 0;
};

class PhraseIndex {
 public:
  /// Adds a phrase with the caller's number for it. Several phrases may be equal.
  void add(std::string_view phrase, std::uint32_t payload);

  struct Hit {
    std::uint32_t first = 0, last = 0;  // tokens [first, last)
    const std::vector<std::uint32_t>* payloads = nullptr;
    bool plural = false;  // the text adds a plural "s" to the last word
  };
  /// Every phrase that begins at token `first`, the longest first, at most eight.
  void hits_at(std::string_view text, const std::vector<Token>& tokens, std::uint32_t first,
               std::vector<Hit>& hits) const;

  /// Word::in_phrases of a folded word.
  [[nodiscard]] std::array<std::uint32_t, 3> numbers_of(std::string_view folded) const;
  /// Whether a phrase begins with the word of these numbers.
  [[nodiscard]] bool begins_any(const std::array<std::uint32_t, 3>& numbers) const;

 private:
  struct Node {
    std::vector<std::uint32_t> payloads;
    bool goes_on = false;
  };
  [[nodiscard]] std::uint32_t word_id(std::string_view folded) const;
  [[nodiscard]] std::uint32_t step(std::uint32_t node, std::uint32_t word) const;

  std::unordered_map<std::string, std::uint32_t, TextHash, std::equal_to<>> words_;
  std::vector<std::uint32_t> from_root_ = std::vector<std::uint32_t>(1);  // node by word
  EdgeTable edges_;
  std::vector<Node> nodes_ = std::vector<Node>(1);
};

/// The word without a possessive "'s".
[[nodiscard]] std::string_view bare_of_possessive(std::string_view folded);
/// Folded words of a name or phrase, without marks and possessives.
[[nodiscard]] std::vector<std::string> words_of_phrase(std::string_view phrase);

}  // namespace tailproof
