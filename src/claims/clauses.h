// Sentences, clauses and segments of a block, over its tokens.
//
// A clause is what a relative pronoun, a conjunction, a bracket, a semicolon or a dash sets apart;
// a segment is what commas set apart within a clause. Both are approximations by marks and closed
// word lists, not a parse: what they decide is only how far a doubt, a denial or a date reaches.
#pragma once

#include <cstdint>
#include <vector>

#include "claims/mention_index.h"
#include "mentions/find_mentions.h"

namespace tailproof {

enum class ClauseKind : std::uint8_t { kMain, kCoordinate, kRelative, kSubordinate, kBracket };

struct Clause {
  std::uint32_t first = 0, last = 0;  // tokens [first, last); a clause inside it interrupts it
  std::uint32_t sentence = 0;
  ClauseKind kind = ClauseKind::kMain;
  std::uint32_t parent = 0;  // the clause it interrupts or follows; itself for a main clause
};

struct Clauses {
  std::vector<Clause> clauses;
  std::vector<std::uint32_t> clause_of;       // by token
  std::vector<std::uint32_t> segment_of;      // by token; numbers grow through the block
  std::vector<std::uint32_t> sentence_of;     // by token
  std::vector<std::uint32_t> sentence_first;  // by sentence: its first token
  std::vector<bool> quoted;                   // by token: inside another's words
  bool has_quoted = false;
  std::uint32_t sentence_count = 0;
};

/// `index` is that of the mentions.
[[nodiscard]] Clauses find_clauses(const Mentions& mentions, const MentionIndex& index,
                                   const Grammars& grammars);

}  // namespace tailproof
