// What the words around each claim tell that bears on it: lists of the grammar, by how far they
// reach.
#include <algorithm>

#include "claims/assembler.h"

namespace tailproof {
namespace {

constexpr std::uint16_t kOfWholeBlock = kSaidOnTheWay | kSaidVisiting;
constexpr std::uint16_t kOfWholeCaption =
    kOfWholeBlock | kSaidRemains | kSaidMakers | kSaidOtherMachine;

}  // namespace

// "See FB 12", "an hour after FB 12": right before the reference, and not beyond a bracket or stop.
bool BlockAssembler::is_said_elsewhere(std::uint32_t reference) const {
  constexpr std::uint32_t kReach = 5;
  std::uint32_t from = reference;
  while (from > 0 && reference - from < kReach) {
    const Spelling mark = word(from - 1);
    if (mark == "(" || mark == "." || mark == ";" || mark == ":") break;
    --from;
  }
  const auto& tellings = mentions_.tellings;
  return std::any_of(tellings.begin(), tellings.end(), [&](const Telling& telling) {
    return (telling.bits & kSaidElsewhere) != 0 && telling.first >= from &&
           telling.last <= reference;
  });
}

void BlockAssembler::mark_said() {
  if (mentions_.tellings.empty() || mentions_.tokens.empty()) return;
  // Sentences, and what semicolons part in them.
  std::vector<std::uint32_t> piece_of(mentions_.tokens.size());
  std::uint32_t piece = 0;
  for (std::uint32_t t = 0; t < piece_of.size(); ++t) {
    const bool is_new =
        t > 0 && (clauses_.sentence_of[t] != clauses_.sentence_of[t - 1] || word(t - 1) == ";");
    if (is_new) ++piece;
    piece_of[t] = piece;
  }
  std::vector<std::uint16_t> said(piece + 1, 0);
  std::uint16_t of_block = 0;
  for (const Telling& telling : mentions_.tellings) {
    const auto bits = static_cast<std::uint16_t>(telling.bits & ~kSaidElsewhere);
    said[piece_of[telling.first]] |= bits;
    of_block |= bits;
  }
  for (std::size_t i = first_claim_; i < out_.size(); ++i) {
    Claim& claim = out_[i];
    const std::uint32_t t = token_at(claim.begin);
    claim.said |= said[piece_of[t]];
    claim.said |=
        static_cast<std::uint16_t>(of_block & (is_caption() ? kOfWholeCaption : kOfWholeBlock));
    const bool is_printed = claim.kind == ClaimKind::kReference && claim.end > claim.begin;
    if (is_printed && is_said_elsewhere(t)) claim.said |= kSaidElsewhere;
  }
}

}  // namespace tailproof
