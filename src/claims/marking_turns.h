// "The ringed disc came in": words that tell of an order right behind a marking, and that of a
// machine would be its arrival. Those that speak of orders wherever they stand have rules of their
// own.
#pragma once

#include <algorithm>

#include "claims/mention_index.h"
#include "claims/turn_words.h"

namespace tailproof {

/// Whether the words say that a marking came in or went out.
[[nodiscard]] inline bool is_turn_of_marking(const Mention& turn) {
  return std::any_of(kTurnWords.begin(), kTurnWords.end(), [&](const TurnWord& known) {
    return known.word == turn.value && known.bearer == Bearer::kOrder &&
           known.object == MentionKind::kCue && known.turn != Turn::kIssued;
  });
}

/// Of `turns` the one behind the marking, which none of `orders` may be; else null.
[[nodiscard]] inline const Mention* turn_behind(const Mention& marking, const MentionsAt& turns,
                                                const MentionsAt& orders) {
  for (const Mention& turn : turns) {
    if (turn.first != marking.last) continue;
    const bool is_order = std::any_of(orders.begin(), orders.end(), [&](const Mention& order) {
      return order.first == turn.first;
    });
    if (is_turn_of_marking(turn) && !is_order) return &turn;
  }
  return nullptr;
}

}  // namespace tailproof
