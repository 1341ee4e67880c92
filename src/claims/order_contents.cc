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

// The one marking that a sentence of running text names, where it names no machine and denies
// nothing of it.
const Mention* BlockReading::only_marking_of(std::uint32_t sentence) const {
  if (is_caption()) return nullptr;
  const Mention* found = nullptr;
  for (const Mention& other : mentions_.items) {
    if (clauses_.sentence_of[other.first] != sentence) continue;
    if (other.kind == MentionKind::kAirframe) return nullptr;
    if (other.kind != MentionKind::kMarking) continue;
    if (found != nullptr && found->value != other.value) return nullptr;
    if (found == nullptr) found = &other;
  }
  if (found == nullptr || !found->known || !found->readings.empty()) return nullptr;
  const std::uint32_t begin = clauses_.sentence_first[sentence];
  std::uint32_t end = begin;
  while (end < clauses_.sentence_of.size() && clauses_.sentence_of[end] == sentence) ++end;
  const bool is_other =
      stands_between(begin, end, "order_other_time") || stands_between(begin, end, "order_removal");
  return is_other ? nullptr : found;
}

// What such words say of the marking; kNone for nothing, and where a date, a comma or another verb
// may part them.
Turn BlockReading::turn_of_other_words(const Mention& order, const Mention& marking) const {
  constexpr std::uint32_t kFar = 10;
  const auto is_near = [&](std::uint32_t from, std::uint32_t to) {
    return from <= to && to - from <= kFar &&
           (from == to || clauses_.clause_of[from] == clauses_.clause_of[to - 1]);
  };
  const auto turn_at = [&](std::uint32_t token, ListName brings, ListName takes) {
    if (is_in(brings, token)) return Turn::kIntroduced;
    return is_in(takes, token) ? Turn::kWithdrawn : Turn::kNone;
  };
  const auto is_to_go = [&](std::uint32_t from) {
    for (std::uint32_t t = from; t < mentions_.tokens.size() && t - from < kFar; ++t) {
      if (clauses_.sentence_of[t] != clauses_.sentence_of[marking.first]) return false;
      if (is_in("order_marking_goes", t) || is_in("order_goes_out", t)) return true;
    }
    return false;
  };
  const bool is_led = order.first > 0 && is_in("order_preposition", order.first - 1);
  if (order.last <= marking.first && is_near(order.last, marking.first)) {
    for (std::uint32_t t = order.last; t < marking.first; ++t) {
      // "With FNO 33/39 the boats received the flash"; "FNO 33/39 laid down the flash".
      const Turn turn = is_led ? turn_at(t, "order_boats_get", "order_boats_lose")
                               : turn_at(t, "order_lays_down", "order_takes_away");
      // "FNO 29/43 ordered the letters to be removed".
      if (turn == Turn::kIntroduced && is_to_go(marking.last)) return Turn::kWithdrawn;
      const bool is_verb = is_led || is_idle_between(order.last, t);
      if (turn != Turn::kNone && is_verb && marking.first - t <= kFar / 2) return turn;
    }
    if (!is_led) return Turn::kNone;
    // "Under FNO 29/43 the letters vanished", "by FNO 33/39 the flash was to be painted on".
    constexpr std::uint32_t kReach = 6;
    for (std::uint32_t t = marking.last; t < mentions_.tokens.size() && t - marking.last < kReach;
         ++t) {
      if (clauses_.segment_of[t] != clauses_.segment_of[marking.first]) break;
      const Turn turn = turn_at(t, "order_marking_comes", "order_marking_goes");
      if (turn != Turn::kNone) return turn;
      const bool ends =
          t + 1 >= mentions_.tokens.size() || mentions_.tokens[t + 1].kind == TokenKind::kMark;
      if (ends && is_in("order_goes_out", t)) return Turn::kWithdrawn;
    }
    return Turn::kNone;
  }
  // "The flash came with FNO 33/39", "the letters were taken off by FNO 29/43".
  if (!is_led || marking.last > order.first || !is_near(marking.last, order.first - 1))
    return Turn::kNone;
  for (std::uint32_t t = marking.last; t + 1 < order.first; ++t) {
    const Turn turn = turn_at(t, "order_marking_comes", "order_marking_goes");
    if (turn != Turn::kNone) return turn;
    // "The letters went with FNO 29/43", but not "went round the hull under FNO 33/39".
    if (t + 2 == order.first && is_in("order_goes_out", t)) return Turn::kWithdrawn;
  }
  return Turn::kNone;
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
    // Other verbs than those that date an order: "FNO 33/39 laid down a fin flash", "with FNO 33/39
    // the boats received the flash", "under FNO 29/43 the letters vanished".
    if (const Mention* marking = only_marking_of(sentence)) {
      const Turn turn = turn_of_other_words(order, *marking);
      if (turn != Turn::kNone) tell(turn, *marking);
      // "The letters vanished": what is denied is what the order did.
      if (turn == Turn::kWithdrawn) out_.back().negated = false;
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
