// What a caption tells of another time than its picture's: "Soon afterwards it went to the Yard",
// "the Yard had it next", "previously it had stood at Gale Head".
#include "claims/assembler.h"

namespace tailproof {

// An adverb speaks of what follows it in its segment, and of all that when it ends it ("went to the
// Yard soon afterwards"). One that opens a sentence speaks of the sentence.
bool BlockAssembler::is_moved_in_time(std::uint32_t token, CueName list) const {
  const std::uint32_t sentence = clauses_.sentence_of[token];
  for (const std::uint32_t c : cues_by_list_.of(list)) {
    const Mention& cue = mentions_.items[c];
    if (clauses_.sentence_of[cue.first] != sentence) continue;
    if (cue.first > 0 && office(cue.first - 1) == "as") continue;  // "as soon as"
    if (cue.first == 0 || clauses_.sentence_of[cue.first - 1] != sentence) return true;
    if (clauses_.segment_of[cue.first] != clauses_.segment_of[token]) continue;
    const bool ends = cue.last >= mentions_.tokens.size() ||
                      mentions_.tokens[cue.last].kind == TokenKind::kMark;
    if (cue.last <= token || ends) return true;
  }
  return false;
}

std::optional<Tense> BlockAssembler::other_time_of(std::uint32_t token) const {
  const std::uint32_t sentence = clauses_.sentence_of[token];
  std::uint32_t first = token;
  while (first > 0 && clauses_.sentence_of[first - 1] == sentence) --first;
  if (first == 0 || says_taken(first, token)) return std::nullopt;
  if (is_moved_in_time(token, "cue_time_former")) return Tense::kFormer;
  if (is_in_other_time(token) || is_moved_in_time(token, "cue_time_later")) return Tense::kLater;
  return std::nullopt;
}

}  // namespace tailproof
