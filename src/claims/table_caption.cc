#include "claims/table_caption.h"

#include <algorithm>
#include <iterator>

#include "mentions/event_words.h"

namespace tailproof {
namespace {

std::string end_told(const Mentions& told, const Grammars& grammars) {
  static constexpr std::string_view kEnds[] = {"lost", "captured", "interned", "accident",
                                               "struck_off_charge"};
  static constexpr std::string_view kUncertain[] = {"cue_table_state", "cue_negation", "cue_unreal",
                                                    "cue_hedge", "cue_to_come"};
  std::string kind;
  for (const Mention& mention : told.items) {
    if (mention.kind != MentionKind::kCue) continue;
    const std::string_view role = mention.role;
    if (std::find(std::begin(kUncertain), std::end(kUncertain), role) != std::end(kUncertain))
      return {};
    if (role != kEventCue) continue;
    const bool is_end =
        std::find(std::begin(kEnds), std::end(kEnds), mention.value) != std::end(kEnds);
    if (!is_end || (!kind.empty() && kind != mention.value)) return {};
    kind = std::string(mention.value);
  }
  if (kind.empty()) return {};
  const WordList* pictures = grammars.list("find_thing");
  const bool is_of_pictures =
      pictures != nullptr &&
      std::any_of(told.tokens.begin(), told.tokens.end(),
                  [&](const Token& token) { return token.word->is_in(pictures); });
  return is_of_pictures ? std::string{} : kind;
}

}  // namespace

TableCaption read_table_caption(std::string_view text, const MentionFinder& finder,
                                const Grammars& grammars) {
  TableCaption caption;
  caption.text = text;
  if (text.empty()) return caption;
  const Mentions told = finder.find(text);
  caption.end = end_told(told, grammars);
  caption.tells_state =
      std::any_of(told.items.begin(), told.items.end(), [](const Mention& mention) {
        return mention.kind == MentionKind::kCue && mention.role == "cue_table_state";
      });
  if (told.dates.size() == 1 && told.dates.front().is_complete) {
    caption.date = told.dates.front().date;
    caption.is_date_hedged = told.dates.front().hedged;
  }
  return caption;
}

When TableCaption::when(bool is_any, const Margins& margins) const {
  When when;
  if (date.is_unknown() || date.days().is_all()) return when;
  if (!is_any && (!tells_state || date.is_interval())) return when;
  when.known = true;
  when.days = date.days();
  when.widened = date.widened(margins);
  when.hedged = is_date_hedged;
  when.inherited = true;
  return when;
}

}  // namespace tailproof
