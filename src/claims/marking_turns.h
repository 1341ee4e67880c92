// "The ringed disc came in": words that tell of an order right behind a marking, and that of a
// machine would be its arrival. Those that speak of orders wherever they stand have rules of their
// own.
#pragma once

#include <algorithm>

#include "claims/mention_index.h"
#include "claims/turn_words.h"

namespace tailproof {

/// Of `turns` the one behind the marking, which none of `orders` may be; else null.
[[nodiscard]] inline const Mention* turn_behind(const Mention& marking, const MentionsAt& turns,
                                                const MentionsAt& orders) {
  for (const Mention& turn : turns) {
    if (turn.first != marking.last) continue;
    const bool is_order = std::any_of(orders.begin(), orders.end(), [&](const Mention& order) {
      return order.first == turn.first;
    });
    const bool is_of_marking =
        std::any_of(kTurnWords.begin(), kTurnWords.end(), [&](const TurnWord& known) {
          return known.word == turn.value && known.bearer == Bearer::kOrder &&
                 known.object == MentionKind::kCue && known.turn != Turn::kIssued;
        });
    if (is_of_marking && !is_order) return &turn;
  }
  return nullptr;
}

}  // namespace tailproof
