// Where patterns match nothing, learnt word by word and once for the patterns of all kinds.
//
// A sieve often tells after a word or two that no pattern of a kind can match there, wherever these
// words stand. A book says so at nearly every word, for several kinds: so the kinds share one
// table, which is asked once a token, before any pattern is. An object serves one thread, and words
// of one table.
#pragma once

#include <cstdint>
#include <string_view>
#include <vector>

#include "mentions/tokens.h"

namespace tailproof {

inline constexpr std::uint32_t kNoEdge = 0xffffffffU;

/// How words stand beside each other, as a number: the word of a token, and whether a blank parts
/// it from the token before. kNoEdge where anything else does.
[[nodiscard]] inline std::uint32_t edge_to(std::string_view text, const std::vector<Token>& tokens,
                                           std::size_t token) {
  const Token& to = tokens[token];
  if (to.word == nullptr) return kNoEdge;
  if (tokens[token - 1].end == to.begin) return 2 * to.word->number;
  const bool is_blank_between = tokens[token - 1].end + 1 == to.begin && text[to.begin - 1] == ' ';
  return is_blank_between ? 2 * to.word->number + 1 : kNoEdge;
}

class DeadEnds {
 public:
  /// Takes from each token the kinds that are known to match nothing there (Token::kinds).
  void leave_out(std::string_view text, std::vector<Token>& tokens) const;
  /// No pattern of the kind matches at token `first`, as tokens up to `last` tell by themselves.
  void add(KindBits kind, std::string_view text, const std::vector<Token>& tokens,
           std::size_t first, std::size_t last);

 private:
  struct Place {
    KindBits dead = 0;       // kinds of which nothing matches
    std::uint32_t node = 0;  // from which other words lead on; 0: none do
  };
  struct Edge {
    std::uint64_t key = 0;  // node and edge; 0: free
    Place to;
  };
  [[nodiscard]] std::size_t place_of(std::uint64_t key) const {
    return ((key * 0x9E3779B97F4A7C15U) >> 32U) & (edges_.size() - 1);
  }
  [[nodiscard]] const Place* find(std::uint32_t node, std::uint32_t edge) const;
  Place& reach(std::uint32_t node, std::uint32_t edge);
  void grow();

  std::vector<Place> begins_;  // by number of the word
  std::vector<Edge> edges_ = std::vector<Edge>(1024);
  std::size_t count_ = 0;    // of edges
  std::uint32_t nodes_ = 0;  // the last number given
};

}  // namespace tailproof
