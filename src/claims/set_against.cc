// Names that are only held against the one of which a sentence tells: "N.109, unlike N.102, wore
// the band", "Sallow, not Dunmow, commanded them", "11 Squadron rather than the 12th".
#include <algorithm>

#include "claims/block_reading.h"

namespace tailproof {

// Where the name that ends at `token` begins, its article and the ranks before it included; kNone
// when none ends there.
std::uint32_t BlockReading::begin_of_any_name(std::uint32_t token) const {
  for (const Mention& mention : mentions_.items) {
    if (mention.first >= token) break;
    const bool is_name = mention.kind == MentionKind::kAirframe ||
                         mention.kind == MentionKind::kPerson || mention.kind == MentionKind::kUnit;
    if (is_name && mention.last == token)
      return mention.kind == MentionKind::kPerson ? begin_of_name(mention) : mention.first;
  }
  return kNone;
}

// The words that hold a name against another stand right before it, or before the names that "and"
// joins it to. Some of them ("like", "not") do so only where something sets them apart: "not N.109,
// but ..." behind a verb denies it, and is no aside.
bool BlockReading::is_set_against(std::uint32_t first) const {
  const auto cues = index_.of("cue_set_against");
  if (cues.empty()) return false;
  const std::uint32_t sentence = clauses_.sentence_of[first];
  while (first > 0) {
    if (office(first - 1) == "the" && clauses_.sentence_of[first - 1] == sentence) --first;
    if (first == 0 || clauses_.sentence_of[first - 1] != sentence) return false;
    for (const std::uint32_t c : cues) {
      const Mention& cue = mentions_.items[c];
      if (cue.last != first) continue;
      // "Neither 9 Squadron, at Lowmoor, nor 12 Squadron, at the Point": told of both.
      if (is_in("denying_word", cue.first) &&
          stands_between(begin_of_sentence(cue.first), cue.first, "both_denied"))
        continue;
      if (cue.value == "anywhere" || cue.first == 0) return true;
      const bool opens = clauses_.sentence_of[cue.first - 1] != sentence;
      return opens || mentions_.tokens[cue.first - 1].kind == TokenKind::kMark ||
             is_in("set_against_lead", cue.first - 1);
    }
    // "Unlike N.102 and N.104".
    const bool is_joined = first > 1 && is_in("set_against_joint", first - 1);
    const std::uint32_t before = is_joined ? begin_of_any_name(first - 1) : kNone;
    if (before == kNone) return false;
    first = before;
  }
  return false;
}

// A verb, or the one that is told of named again.
bool BlockReading::ends_aside(std::uint32_t token) const {
  if (is_in("aside_end", token) || is_in("story_verb", token) || folded(token).ends_with("ed"))
    return true;
  const auto events = index_.of("cue_event");
  return std::any_of(events.begin(), events.end(),
                     [&](std::uint32_t c) { return mentions_.items[c].first == token; });
}

// Whether a later word of the same sentence belongs to the aside with the name, and not to what is
// told of the other: "unlike N.102 of the Gannets, ...".
bool BlockReading::is_in_aside_of(std::uint32_t end_of_name, std::uint32_t token) const {
  if (token < end_of_name || clauses_.segment_of[end_of_name - 1] != clauses_.segment_of[token])
    return false;
  for (std::uint32_t t = end_of_name; t <= token; ++t) {
    if (ends_aside(t)) return false;
  }
  return true;
}

// "It is KB201. Tarrent's was NP-G": what somebody else, or another unit, had.
bool BlockReading::is_anothers_own(std::uint32_t token) const {
  constexpr std::uint32_t kMost = 2;  // "Tarrent's was then NP-G"
  if (!is_in_later_sentence(token)) return false;
  const std::uint32_t first = begin_of_statement(token);
  // "C-4, Tarrent's old code. His was KB201, long gone".
  if (is_in("owners_pronoun", first) && token - first <= kMost + 1 &&
      (is_in("being_word", first + 1) || is_in("was_word", first + 1)))
    return true;
  return std::any_of(mentions_.items.begin(), mentions_.items.end(), [&](const Mention& owner) {
    const bool may_own = owner.kind == MentionKind::kPerson || owner.kind == MentionKind::kUnit;
    if (!may_own || owner.last >= token || token - owner.last > kMost || !is_possessive(owner))
      return false;
    const std::uint32_t begin =
        owner.kind == MentionKind::kPerson ? begin_of_name(owner) : owner.first;
    const bool opens = begin == first || (begin == first + 1 && office(first) == "the");
    return opens && (is_in("being_word", owner.last) || is_in("was_word", owner.last));
  });
}

// "Survivors were sold, except KB201", "all to the School but for KB201": nothing told of the
// others is told of it.
bool BlockReading::is_excepted(std::uint32_t token) const {
  if (token == 0) return false;
  if (is_in("exception_word", token - 1)) return true;
  // "All but KB201", "every one of them but KB201", and not "all wore it, but KB201 did not".
  if (token > 1 && office(token - 1) == "but") {
    constexpr std::uint32_t kReach = 6;
    for (std::uint32_t t = token - 1; t-- > 0 && token - t <= kReach;) {
      const Mention* name = mention_at(t);
      if (is_in("exception_whole", t)) return true;
      const bool is_noun = (name != nullptr && name->kind == MentionKind::kType) ||
                           is_in("count_noun", t) || is_in("determiner", t) || office(t) == "of" ||
                           is_in("number", t) || is_in("exception_them", t);
      if (!is_noun) break;
    }
  }
  return token > 1 && is_in("exception_second", token - 1) && is_in("exception_first", token - 2);
}

// A name held against another takes nothing that is told outside of its own aside.
bool BlockReading::is_only_compared(const Mention& name, std::uint32_t token) const {
  const std::uint32_t first = name.kind == MentionKind::kPerson ? begin_of_name(name) : name.first;
  return is_set_against(first) && !is_in_aside_of(name.last, token);
}

}  // namespace tailproof
