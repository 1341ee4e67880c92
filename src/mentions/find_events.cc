// Words for what befalls a machine: "was lost", "flew into the gasometer", "struck X12 off".
#include <algorithm>

#include "mentions/event_words.h"
#include "mentions/finder.h"

namespace tailproof {
namespace {

// The piece of `text` up to the mark, which is cut off with the blanks behind it.
std::string_view cut(std::string_view& text, std::string_view mark) {
  const std::size_t end = text.find(mark);
  const std::string_view piece = text.substr(0, end);
  text.remove_prefix(end == std::string_view::npos ? text.size() : end + mark.size());
  while (text.starts_with(' ')) text.remove_prefix(1);
  return piece;
}

}  // namespace

// Behind the machines that begin at the token, if any do: "X12", "the trainer", "Ormers X12 and
// X14"; 0 for none.
std::uint32_t BlockFinder::end_of_machines(std::uint32_t token, bool& is_pronoun) const {
  const auto count = static_cast<std::uint32_t>(result_.tokens.size());
  is_pronoun = token < count && (office(token) == "it" || is_in("machine_object", token));
  if (is_pronoun) return token + 1;
  constexpr std::uint32_t kReach = 12;
  std::uint32_t end = 0;
  for (std::uint32_t t = token; t < count && t - token < kReach;) {
    const auto here =
        std::find_if(result_.items.begin(), result_.items.end(), [&](const Mention& other) {
          return other.first == t &&
                 (other.kind == MentionKind::kAirframe || other.kind == MentionKind::kType);
        });
    if (here != result_.items.end()) {
      t = end = here->last;
    } else if (is_in("machine_noun", t)) {
      end = ++t;
    } else if (is_in("determiner", t) || word(t) == "," || office(t) == "and") {
      ++t;
    } else {
      break;
    }
  }
  return end;
}

// "Struck X12 off", "took the machine in hand": verbs whose sense is told behind the machine.
void BlockFinder::find_parted_events() {
  if ((hints_here_ & kPartedVerb) == 0) return;
  const WordList* verbs = lexicon_.grammars().list("event_parted");
  const auto count = static_cast<std::uint32_t>(result_.tokens.size());
  for (std::uint32_t t = 0; t + 2 < count; ++t) {
    if ((hints_[t] & kPartedVerb) == 0) continue;
    std::string_view senses = value_in(verbs, t);
    bool is_pronoun = false;
    const std::uint32_t behind = end_of_machines(t + 1, is_pronoun);
    while (behind != 0 && behind < count && !senses.empty()) {
      std::string_view kind = cut(senses, ";");
      std::string_view words = cut(kind, ":");
      std::uint32_t last = behind;
      bool is_same = true;
      while (is_same && !words.empty()) {
        is_same = last < count && folded(last) == cut(words, " ");
        ++last;
      }
      if (!is_same || (is_pronoun && kind.ends_with(" named"))) continue;
      // With a pronoun the whole is the event; else the machine is its object.
      const std::uint32_t end = is_pronoun ? last : t + 1;
      Mention& mention = add_tokens(MentionKind::kCue, result_.tokens[t].begin,
                                    result_.tokens[end - 1].end, t, end);
      mention.value = memory_.keep(std::string(kind) + (is_pronoun ? "" : " object"));
      mention.role = kEventCue;
      mention.cue = ListName::number_of(kEventCue);
      mention.known = t == 0 || !is_in("nobody_word", t - 1);
      mention.why = "verb and particle around the machine";
      break;
    }
  }
}

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
    const bool is_none =
        std::any_of(result_.items.begin(), result_.items.end(), [&](const Mention& other) {
          return other.cue == ListName::number_of("cue_no_event") &&
                 other.kind == MentionKind::kCue && other.begin < match.end &&
                 match.begin < other.end;
        });
    if (is_none) continue;
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
  find_parted_events();
  for (Mention& mention : result_.items) {
    if (mention.cue == ListName::number_of(kEventCue)) settle_event_words(mention);
  }
}

}  // namespace tailproof
