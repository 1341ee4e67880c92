// Counts, and places among a kind, that are stated though nothing recounts them.
#include <algorithm>

#include "claims/assembler.h"
#include "mentions/pattern_matcher.h"

namespace tailproof {

// The words of a count as one mention.
Mention BlockAssembler::words_of(std::uint32_t first, std::uint32_t last) const {
  Mention mention;
  mention.first = first;
  mention.last = last;
  mention.begin = mentions_.tokens[first].begin;
  mention.end = mentions_.tokens[last - 1].end;
  mention.why = "a number and what it counts";
  return mention;
}

// "All three", "the last of its type", "nineteen bomb symbols": stated, though nothing recounts it.
void BlockAssembler::add_told_counts() {
  for (const PatternMatch& match :
       finder_.matcher("count_told").match(block_.text, mentions_.tokens)) {
    const std::uint32_t first = token_at(match.begin), last = token_at(match.end);
    const bool is_counted = std::any_of(out_.begin() + static_cast<std::ptrdiff_t>(first_claim_),
                                        out_.end(), [&](const Claim& claim) {
                                          return claim.kind == ClaimKind::kCount &&
                                                 claim.begin < match.end && match.begin < claim.end;
                                        });
    if (is_counted || mention_at(first) != nullptr) continue;
    Claim pattern;
    pattern.value = block_.text.substr(match.begin, match.end - match.begin);
    pattern.why = "pattern " + match.pattern->name;
    const Mention words = words_of(first, last);
    const Group* group = group_for(first, last, nullptr);
    const bool is_of_one = group != nullptr && group->serials.size() == 1 &&
                           group->clause == clauses_.clause_of[first];
    pattern.subject = is_of_one      ? group->serials.front()
                      : is_caption() ? figure_subject()
                                     : std::string{};
    add_for_subjects(words, ClaimKind::kCount, {}, pattern);
  }
}

// "The first Mk IIs", "the last Trivet delivered", "the oldest Verger": a place among its kind that
// nothing recounts.
void BlockAssembler::add_superlatives() {
  if (!has_word_of("count_superlative")) return;
  const auto count = static_cast<std::uint32_t>(mentions_.tokens.size());
  for (std::uint32_t t = 0; t + 1 < count; ++t) {
    if (!is_in("count_superlative", t) || mention_at(t) != nullptr) continue;
    std::uint32_t noun = t + 1;
    if (is_in("number", noun) || is_in("superlative_adjective", noun)) ++noun;
    const Mention* type = noun < count ? mention_at(noun) : nullptr;
    if (type == nullptr || type->kind != MentionKind::kType || type->first != noun) continue;
    const std::uint32_t begin = mentions_.tokens[t].begin;
    const bool is_counted = std::any_of(out_.begin() + static_cast<std::ptrdiff_t>(first_claim_),
                                        out_.end(), [&](const Claim& claim) {
                                          return claim.kind == ClaimKind::kCount &&
                                                 claim.begin < type->end && begin < claim.end;
                                        });
    if (is_counted) continue;
    const Mention words = words_of(t, type->last);
    const Group* group = group_before_apposition(*type);
    if (group == nullptr) group = group_beside(*type);
    Claim pattern;
    pattern.value = std::string(text_of(words));
    pattern.why = "a place among its kind";
    const bool is_of_machine = group != nullptr && group->serials.size() == 1;
    pattern.subject = is_of_machine  ? group->serials.front()
                      : is_caption() ? figure_subject()
                                     : std::string{};
    add_for_subjects(words, ClaimKind::kCount, {}, pattern);
  }
}

}  // namespace tailproof
