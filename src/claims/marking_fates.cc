// Markings that a caption names without their being worn: painted out, seen through another coat,
// given an edge since, compared with, or to come.
#include <algorithm>

#include "claims/assembler.h"
#include "grammars/fold.h"

namespace tailproof {

// "The red centre still shows through the white", "the brush marks over the red centre", "it was
// the end of the red centre", "the plain roundel succeeded it".
bool BlockAssembler::is_ghost(const Mention& marking) const {
  constexpr std::uint32_t kBehind = 4, kBefore = 3;
  const auto cues = index_.of("cue_marking_ghost");
  return std::any_of(cues.begin(), cues.end(), [&](std::uint32_t c) {
    const Mention& cue = mentions_.items[c];
    // "The flash, which the white has swallowed".
    if (cue.value == "before" && is_in("relative_word", cue.first) && word(marking.last) == "," &&
        cue.first == marking.last + 1)
      return true;
    if (clauses_.segment_of[cue.first] != clauses_.segment_of[marking.first]) return false;
    if (is_in("hiding_preposition", cue.last)) return false;
    // "You can clearly make out the gold star".
    if (cue.first > 0 && is_in("plainly_word", cue.first - 1)) return false;
    // "A rimmed disc can just be made out on the wing" is there; one that "can still be" was there.
    const bool is_only_seen = words_of_seeing(cue.first, cue.last) == cue.last - cue.first;
    if (is_only_seen && cue.first >= marking.last && is_led_by_article(marking)) return false;
    return cue.value == "after" ? cue.last <= marking.first && marking.first - cue.last <= kBefore
                                : cue.first >= marking.last && cue.first - marking.last <= kBehind;
  });
}

// "The band had been on it for less than a day when Ovey took this": still there then.
bool BlockAssembler::is_lasting(const Mention& marking) const {
  constexpr std::uint32_t kPlace = 3,
                          kLength = 5;  // "on the machine", "for rather less than a day"
  const auto count = static_cast<std::uint32_t>(mentions_.tokens.size());
  for (const std::uint32_t c : index_.of("cue_pluperfect")) {
    const Mention& cue = mentions_.items[c];
    if (cue.first < marking.last ||
        clauses_.segment_of[cue.first] != clauses_.segment_of[marking.first])
      continue;
    std::uint32_t t = cue.last;
    while (t < count && t - cue.last <= kPlace && office(t) != "for") ++t;
    if (t >= count || office(t) != "for") return false;
    const std::uint32_t length = t;
    while (t < count && t - length <= kLength && !is_in("date_period", t) &&
           !is_in("date_periods", t))
      ++t;
    if (t >= count || t - length > kLength) return false;
    return is_in("when_word", t + 1) || t + 1 >= count ||
           mentions_.tokens[t + 1].kind == TokenKind::kMark;
  }
  return false;
}

// "A rimmed disc", "a large rimmed disc": of which nothing has been told yet.
bool BlockAssembler::is_led_by_article(const Mention& marking) const {
  constexpr std::uint32_t kAdjectives = 1;
  for (std::uint32_t back = 1; back <= kAdjectives + 1 && back <= marking.first; ++back) {
    const std::uint32_t t = marking.first - back;
    if (is_in("indefinite_article", t)) return true;
    if (mentions_.tokens[t].kind != TokenKind::kWord) return false;
  }
  return false;
}

// "Somebody has painted the red centre out".
bool BlockAssembler::is_taken_off(const Mention& marking) const {
  std::uint32_t t = marking.first;
  while (t > 0 && marking.first - t < 3 &&
         (is_in("determiner", t - 1) || is_in("earlier_adjective", t - 1)))
    --t;
  return t > 0 && t < marking.first && is_in("taking_off_verb", t - 1) &&
         is_in("taking_off_word", marking.last);
}

// Whether another marking of the same family is told by that part: "the plain form within a white
// rim", which is what the plain form becomes by being given one.
// What is lost must be its own: "the plain form, without any rim" is the plain form.
bool BlockAssembler::makes_other_form(const Mention& marking, std::string_view part,
                                      bool is_lost) const {
  const Marking* own = ledger_.marking(marking.value);
  if (own == nullptr || own->family.empty()) return false;
  const auto is_told_by_part = [part](const Marking& form) {
    std::string told = fold(form.description);
    for (const std::string& alias : form.aliases) told += " " + fold(alias);
    for (std::string_view rest = part; !rest.empty();) {
      const std::size_t end = std::min(rest.find('|'), rest.size());
      if (told.find(rest.substr(0, end)) != std::string::npos) return true;
      rest.remove_prefix(std::min(end + 1, rest.size()));
    }
    return false;
  };
  if (is_lost && !is_told_by_part(*own)) return false;
  const auto all = ledger_.markings();
  return std::any_of(all.begin(), all.end(), [&](const Marking& other) {
    return other.family == own->family && other.marking != own->marking &&
           (is_lost || is_told_by_part(other));
  });
}

// "The plain roundel has been given a white rim", "a white rim surrounds the plain roundel": what
// it was before it became another form.
bool BlockAssembler::is_changed(const Mention& marking) const {
  constexpr std::uint32_t kBehind = 3, kBefore = 2;
  const WordList* parts = lexicon_.grammars().list("marking_piece");
  if (parts == nullptr) return false;
  const auto cues = index_.of("cue_marking_changed");
  return std::any_of(cues.begin(), cues.end(), [&](std::uint32_t c) {
    const Mention& cue = mentions_.items[c];
    if (clauses_.sentence_of[cue.first] != clauses_.sentence_of[marking.first]) return false;
    const bool is_near = cue.value == "after"
                             ? cue.last <= marking.first && marking.first - cue.last <= kBefore
                             : cue.first >= marking.last && cue.first - marking.last <= kBehind;
    const bool is_lost = stands_between(cue.first, cue.last, "piece_lost");
    for (std::uint32_t t = cue.first; is_near && t < cue.last; ++t) {
      const std::string_view part = value_in(parts, t);
      if (!part.empty() && makes_other_form(marking, part, is_lost)) return true;
    }
    return false;
  });
}

// "What looks like a red centre is a patch": the words before are the subject of a verb.
bool BlockAssembler::has_verb_behind(const Mention& marking) const {
  const auto count = static_cast<std::uint32_t>(mentions_.tokens.size());
  for (std::uint32_t t = marking.last; t < count; ++t) {
    if (clauses_.sentence_of[t] != clauses_.sentence_of[marking.first]) break;
    if (is_in("event_auxiliary", t) || is_in("story_verb", t) || is_in("wearing_verb", t))
      return true;
  }
  return false;
}

}  // namespace tailproof
