// What the words around each claim tell that bears on it: lists of the grammar, by how far they
// reach.
#include <algorithm>

#include "claims/assembler.h"

namespace tailproof {
namespace {

constexpr std::uint32_t kOfWholeBlock = kSaidOnTheWay | kSaidVisiting;
constexpr std::uint32_t kOfWholeCaption =
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

// "A month before Notice 3/40", "before it was ordered", "in spite of the order", "long after they
// had been withdrawn": bits of Said.
std::uint32_t BlockAssembler::against_order(const Mention& cue) const {
  constexpr std::uint32_t kReach = 5;
  const auto count = static_cast<std::uint32_t>(mentions_.tokens.size());
  for (std::uint32_t t = cue.last; t < std::min(count, cue.last + kReach); ++t) {
    const bool is_order = mention_over(MentionKind::kOrder, t) != nullptr || is_in("order_noun", t);
    if (is_order || (cue.value == "before" && is_in("introducing_word", t)) ||
        (cue.value == "after" && is_in("withdrawing_word", t))) {
      if (cue.value == "before") return kSaidBeforeOrder;
      return cue.value == "after" ? kSaidAfterOrder : kSaidBeforeOrder | kSaidAfterOrder;
    }
    if (!is_in("against_order_filler", t)) return 0;
  }
  return 0;
}

// "Major Crewe, who had left us, unveiled the memorial": the death is another's.
bool BlockAssembler::is_honouring(const Claim& claim) const {
  if (claim.kind != ClaimKind::kPerson) return false;
  constexpr std::uint32_t kLongest = 16;
  std::uint32_t t = token_at(claim.end);
  if (word(t) == ",") t = end_of_aside(t + 1, kLongest);
  return t < mentions_.tokens.size() && is_in("honouring_verb", t);
}

void BlockAssembler::mark_said() {
  const bool is_nothing_said = mentions_.tellings.empty() && !has_word_of("left_word") &&
                               index_.of("cue_against_order").empty() && part_shown() == nullptr;
  if (is_nothing_said || mentions_.tokens.empty()) return;
  const auto count = static_cast<std::uint32_t>(mentions_.tokens.size());
  const auto has_date = [&](std::uint32_t clause) {
    return any_mention(MentionKind::kDate, [&](const Mention& other) {
      return clauses_.clause_of[other.first] == clause;
    });
  };
  // "He died on 22 October, and the picture in which he inspects a guard in December ...": the
  // death has its own day, and is no word of the other clause.
  const auto is_of_own_day = [&](const Telling& telling) {
    return (telling.bits & kSaidDeath) != 0 && is_in("dated_death", telling.first) &&
           has_date(clauses_.clause_of[telling.first]);
  };
  // "As late as 1950", "in late May", "late that evening": of a time, and of nobody's death.
  const auto is_of_time = [&](const Telling& telling) {
    if (!is_in("late_of_life", telling.first)) return false;
    const std::uint32_t next = telling.first + 1;
    return telling.first == 0 || !is_in("determiner", telling.first - 1) || next >= count ||
           mention_over(MentionKind::kDate, telling.first) != nullptr ||
           mention_over(MentionKind::kDate, next) != nullptr;
  };
  // "Photographed for an exhibition", "(Museum collection)", "a museum now stands there": nothing
  // that the machine became.
  const auto is_of_machine = [&](const Telling& telling) {
    if ((telling.bits & kSaidRemains) == 0 || !is_in("remains_place", telling.last - 1))
      return true;
    const std::uint32_t clause = clauses_.clause_of[telling.first];
    if (clauses_.clauses[clause].kind == ClauseKind::kBracket) return has_machine(clause);
    constexpr std::uint32_t kReach = 2;
    for (std::uint32_t t = telling.first; t-- > 0 && telling.first - t <= kReach;) {
      if (office(t) == "for") return false;
    }
    const std::uint32_t sentence = clauses_.sentence_of[telling.first];
    for (std::uint32_t t = 0; t < count; ++t) {
      if (clauses_.sentence_of[t] != sentence) continue;
      if (mention_over(MentionKind::kAirframe, t) != nullptr || is_in("machine_noun", t) ||
          mention_over(MentionKind::kType, t) != nullptr)
        return true;
    }
    return pronoun_opens(clause) || sentence == 0 || !is_caption();
  };
  // "Snow remains in the gully": a verb.
  const auto is_of_verb = [&](const Telling& telling) {
    const std::uint32_t t = telling.first;
    if ((telling.bits & kSaidRemains) == 0 || telling.last != t + 1 || !is_in("remains_verb", t))
      return false;
    const bool is_led = t == 0 || begin_of_sentence(t) == t || is_in("determiner", t - 1) ||
                        mentions_.tokens[t - 1].kind == TokenKind::kMark ||
                        is_in("remains_adjective", t - 1);
    return !is_led && (t + 1 >= count || office(t + 1) != "of");
  };
  // Sentences, and what semicolons part in them.
  const bool has_semicolon = block_.text.find(';') != std::string::npos;
  std::vector<std::uint32_t> piece_of(mentions_.tokens.size());
  std::uint32_t piece = 0;
  for (std::uint32_t t = 0; t < piece_of.size(); ++t) {
    const bool is_new = t > 0 && (clauses_.sentence_of[t] != clauses_.sentence_of[t - 1] ||
                                  (has_semicolon && word(t - 1) == ";"));
    if (is_new) ++piece;
    piece_of[t] = piece;
  }
  std::vector<std::uint32_t> said(piece + 1, 0);
  std::uint32_t of_block = 0;
  std::vector<const Telling*> of_own_day;
  for (const Telling& telling : mentions_.tellings) {
    std::uint32_t bits = telling.bits & ~(kSaidElsewhere | kSaidOneOfSeveral);
    if (!is_of_machine(telling) || is_of_verb(telling)) bits &= ~kSaidRemains;
    const bool is_own_day = is_of_own_day(telling);
    if (is_own_day) of_own_day.push_back(&telling);
    if (is_own_day || is_of_time(telling)) bits &= ~kSaidDeath;
    said[piece_of[telling.first]] |= bits;
    of_block |= bits;
  }
  for (std::uint32_t t = next_of("left_word", 1, count); t + 1 < count;
       t = next_of("left_word", t + 1, count)) {
    if (office(t + 1) != "of" || is_in("side_lead", t - 1)) continue;
    said[piece_of[t]] |= kSaidRemains;
    of_block |= kSaidRemains;
  }
  // "The tail of X12 in the reeds": whatever became of the rest.
  if (const Mention* part = part_shown()) said[piece_of[part->first]] |= kSaidRemains;
  for (const std::uint32_t c : index_.of("cue_against_order")) {
    said[piece_of[mentions_.items[c].first]] |= against_order(mentions_.items[c]);
  }
  // "Its second accident", "crashed again", but no more than that it was flown out again later.
  const auto is_told_of_several = [&](const Claim& claim) {
    constexpr std::uint32_t kNear = 3;
    const std::uint32_t from = token_at(claim.begin), to = token_at(claim.end);
    return std::any_of(
        mentions_.tellings.begin(), mentions_.tellings.end(), [&](const Telling& telling) {
          return (telling.bits & kSaidOneOfSeveral) != 0 && telling.first + kNear >= from &&
                 telling.first <= to + kNear && piece_of[telling.first] == piece_of[from];
        });
  };
  for (std::size_t i = first_claim_; i < out_.size(); ++i) {
    Claim& claim = out_[i];
    const std::uint32_t t = token_at(claim.begin);
    claim.said |= said[piece_of[t]];
    if (claim.kind == ClaimKind::kEvent && is_told_of_several(claim))
      claim.said |= kSaidOneOfSeveral;
    for (const Telling* telling : of_own_day) {
      const bool is_beside = piece_of[telling->first] == piece_of[t] &&
                             (clauses_.clause_of[telling->first] == clauses_.clause_of[t] ||
                              !has_date(clauses_.clause_of[t]));
      if (is_beside) claim.said |= kSaidDeath;
    }
    if ((claim.said & kSaidDeath) != 0 && is_honouring(claim)) claim.said &= ~kSaidDeath;
    claim.said |= of_block & (is_caption() ? kOfWholeCaption : kOfWholeBlock);
    const bool is_printed = claim.kind == ClaimKind::kReference && claim.end > claim.begin;
    if (is_printed && is_said_elsewhere(t)) claim.said |= kSaidElsewhere;
  }
}

}  // namespace tailproof
