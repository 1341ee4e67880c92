// Words for what befalls a machine: "was lost", "flew into the gasometer".
#include "mentions/event_words.h"
#include "mentions/finder.h"

namespace tailproof {

// "was probably lost", "had been taken on charge": the verb with what may stand inside it.
void BlockFinder::find_events() {
  for (const PatternMatch& match : matches("event")) {
    // "Flew into Colm Lake": the lake is a place, and the event only the words before it.
    const std::string_view said = match.text_of("said", text_);
    // "Flew into the gasometer", and not "into the evening".
    const std::string_view what = match.text_of("what", text_);
    const WordList* harmless = lexicon_.grammars().list("event_no_obstacle");
    if (!what.empty() && harmless != nullptr && !harmless->value_of(what).empty()) continue;
    // "Being bombed up", and not "bombed".
    const WordList* undone = lexicon_.grammars().list("event_undone");
    const std::uint32_t behind = token_at(match.end);
    if (undone != nullptr && behind > 0 && behind < result_.tokens.size()) {
      const std::uint32_t begin = result_.tokens[behind - 1].begin;
      if (!undone->value_of(text_.substr(begin, result_.tokens[behind].end - begin)).empty())
        continue;
    }
    const auto length = static_cast<std::uint32_t>(said.size());
    Mention& mention =
        add(MentionKind::kCue, match.begin, said.empty() ? match.end : match.begin + length);
    mention.value = memory_.keep(match.value_of("event_participle", text_));
    if (mention.value.empty()) mention.value = memory_.keep(match.value_of("event", text_));
    const Spelling use = match.value_of("use", text_);
    if (!use.empty()) {
      mention.value = memory_.keep(std::string(mention.value) + " " + std::string(use));
    }
    mention.role = kEventCue;
    mention.cue = ListName::number_of(kEventCue);
    mention.why = match.pattern->why;
    // "was probably lost", "was not taken on charge": what stands inside bears on the event.
    const WordList* hedges = lexicon_.grammars().list("cue_hedge");
    const WordList* others = lexicon_.grammars().list("cue_attribution");
    const bool is_claimed = !match.text_of("claimant", text_).empty();  // by the sea
    for (std::uint32_t t = mention.first; !is_claimed && t < mention.last; ++t) {
      mention.doubtful |= !value_in(hedges, t).empty();
      mention.doubtful |= !value_in(others, t).empty();  // "reportedly"
      if (office(t) == "not") mention.known = false;
    }
  }
  for (Mention& mention : result_.items) {
    if (mention.cue == ListName::number_of(kEventCue)) settle_event_words(mention);
  }
}

}  // namespace tailproof
