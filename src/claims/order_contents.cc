// What an order is said to have done, with or without a date: "FNO 33/39 introduced the fin flash",
// "code letters were withdrawn by FNO 29/43", "FNO 29/43 replaced code letters with side numbers".
//
// Each is a reference claim of the role "order", with its turn and the marking. Nothing is said
// where the sentence names two orders, or where other words stand between those of the statement.
#include <algorithm>

#include "claims/assembler.h"
#include "claims/turn_words.h"

namespace tailproof {
namespace {

// What such a word says that an order did with a marking.
std::optional<Turn> turn_of_order(std::string_view word) {
  for (const TurnWord& known : kTurnWords) {
    const bool is_of_marking = known.turn == Turn::kIntroduced || known.turn == Turn::kWithdrawn;
    if (known.word == word && is_of_marking && known.object == MentionKind::kCue) return known.turn;
  }
  return std::nullopt;
}

}  // namespace

// The marking named right behind, an article and a word of description aside.
const Mention* BlockAssembler::marking_right_behind(std::uint32_t token) const {
  constexpr std::uint32_t kReach = 2;
  for (const Mention& other : mentions_of(MentionKind::kMarking)) {
    if (other.first < token) continue;
    return other.first - token <= kReach && other.known && other.readings.empty() &&
                   clauses_.segment_of[other.first] == clauses_.segment_of[token]
               ? &other
               : nullptr;
  }
  return nullptr;
}

void BlockAssembler::add_order_contents() {
  for (const Mention& order : mentions_of(MentionKind::kOrder)) {
    if (!order.readings.empty()) continue;
    const std::uint32_t sentence = clauses_.sentence_of[order.first];
    const bool is_only = !any_mention(MentionKind::kOrder, [&](const Mention& other) {
      return other.value != order.value && clauses_.sentence_of[other.first] == sentence;
    });
    if (!is_only) continue;
    const auto tell = [&](Turn turn, const Mention& marking) {
      Claim& claim = add(order, ClaimKind::kReference);
      claim.role = "order";
      claim.turn = turn;
      claim.turn_of = order.value;
      claim.turned_to = marking.value;
      claim.negated = claim.negated || hidden_[marking.first] != 0;
    };
    for (const std::uint32_t c : index_.of("cue_turn")) {
      const Mention& cue = mentions_.items[c];
      const std::optional<Turn> turn = turn_of_order(cue.value);
      if (!turn || clauses_.sentence_of[cue.first] != sentence || is_unmade(cue)) continue;
      const bool is_passive = cue.first > 0 && (is_in("event_auxiliary", cue.first - 1) ||
                                                is_in("being_word", cue.first - 1));
      if (!is_passive) {
        // "FNO 33/39 introduced the fin flash".
        const Mention* marking = marking_right_behind(cue.last);
        if (marking != nullptr && order.last <= cue.first && is_idle_between(order.last, cue.first))
          tell(*turn, *marking);
        continue;
      }
      // "The fin flash was introduced by FNO 33/39", "under FNO 33/39 the fin flash was
      // introduced".
      const Mention* marking = nullptr;
      for (const Mention& other : mentions_.items) {
        const bool is_before = other.kind == MentionKind::kMarking && other.last <= cue.first;
        if (is_before && is_idle_between(other.last, cue.first)) marking = &other;
      }
      if (marking == nullptr || !marking->known || !marking->readings.empty() ||
          clauses_.sentence_of[marking->first] != sentence)
        continue;
      constexpr std::uint32_t kArticle = 2;
      const bool is_behind = order.first > cue.last && is_in("order_preposition", cue.last) &&
                             order.first - cue.last <= kArticle;
      const bool is_fronted = order.last <= marking->first && order.first > 0 &&
                              is_in("order_preposition", order.first - 1) &&
                              marking->first - order.last <= kArticle;
      if (is_behind || is_fronted) tell(*turn, *marking);
    }
    // "FNO 29/43 replaced code letters with side numbers".
    constexpr std::uint32_t kReach = 4;
    for (std::uint32_t t = order.last; t < mentions_.tokens.size() && t - order.last < kReach;
         ++t) {
      if (!is_in("coat_replaced", t) || !is_idle_between(order.last, t)) continue;
      const Mention* old = marking_right_behind(t + 1);
      if (old == nullptr || !is_in("replacing_preposition", old->last)) break;
      const Mention* next = marking_right_behind(old->last + 1);
      tell(Turn::kWithdrawn, *old);
      if (next != nullptr) tell(Turn::kIntroduced, *next);
      break;
    }
  }
}

}  // namespace tailproof
