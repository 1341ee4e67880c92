// Which claims a date dates: in a caption those of the picture, but for clauses with a date of
// their own; in running text those beside it.
#include <algorithm>

#include "claims/assembler.h"
#include "mentions/event_words.h"

namespace tailproof {
// "Before it went to the 3rd", "after her repaint": clauses that tell of another time than the
// picture's.
bool BlockAssembler::is_before_or_after(std::uint32_t token) const {
  const Clause& clause = clauses_.clauses[clauses_.clause_of[token]];
  if (clause.kind != ClauseKind::kSubordinate) return false;
  const Spelling opener = office(clause.first);
  return opener == "before" || opener == "after" || opener == "until" || opener == "since" ||
         opener == "once";
}

bool BlockAssembler::opens_with_before(std::uint32_t token) const {
  const Spelling opener = office(clauses_.clauses[clauses_.clause_of[token]].first);
  return opener == "before" || opener == "until";
}

bool BlockAssembler::is_relative_date(const Claim& date) const {
  return std::any_of(mentions_.dates.begin(), mentions_.dates.end(),
                     [&](const DateMention& mention) {
                       return mention.begin == date.begin && mention.first.is_relative();
                     });
}

// "Until May", "since May": an end of what is told, and no day of it.
bool BlockAssembler::is_bound(const Claim& date) const {
  return std::any_of(mentions_.dates.begin(), mentions_.dates.end(),
                     [&](const DateMention& mention) {
                       return mention.begin == date.begin && mention.bound != DateBound::kNone;
                     });
}

// "Went to the 3rd in April 1938 and from there to the 2nd", "joined in September, served with the
// 914th and ended at the School": what the sentence goes on to tell is of another day. So is what
// it tells of some of those that a date has marked off: "of the eight taken over in April, ...".
bool BlockAssembler::is_told_onward(std::uint32_t token, const Claim& date) const {
  constexpr std::uint32_t kReach = 3;
  const std::uint32_t first = token_at(date.begin), end = token_at(date.end);
  if (token < first) return false;
  const std::uint32_t opening = clauses_.clauses[clauses_.clause_of[first]].first;
  if (clauses_.segment_of[first] != clauses_.segment_of[token] &&
      clauses_.segment_of[first] == clauses_.segment_of[opening] && office(opening) == "of")
    return true;
  const bool opens = first - opening < kReach;
  // "In March 1938 X12, then with 9 Squadron, flew": an aside right behind the machine tells how it
  // stood on that day. Not "was with 8 Squadron, then with 9 Squadron".
  const auto is_state_aside = [&](std::uint32_t comma) {
    constexpr std::uint32_t kMostWords = 8;
    const Mention* machine = word(comma) == "," ? mention_ending_at(comma) : nullptr;
    const auto count = static_cast<std::uint32_t>(mentions_.tokens.size());
    if (machine == nullptr || machine->kind != MentionKind::kAirframe || comma + 2 >= count ||
        !is_in("same_time_word", comma + 1) || !is_in("state_preposition", comma + 2))
      return false;
    const std::uint32_t end = end_of_aside(comma + 1, kMostWords);
    return end < count && !is_in("event_conjunction", end) && !is_in("onward_word", end);
  };
  for (std::uint32_t t = end; t < token; ++t) {
    if (word(t) != "," && !is_in("event_conjunction", t)) continue;
    if (is_state_aside(t)) continue;
    for (std::uint32_t on = t + 1; on <= std::min(token, t + kReach); ++on) {
      if (mentions_.tokens[on].kind == TokenKind::kMark) break;
      if (is_in("onward_word", on) || (!opens && is_in("onward_verb", on))) return true;
    }
  }
  return false;
}

// "No. 5 was given HT in May and No. 7 BW in July": what "and" opens has the date that stands
// behind it, and not the one before the joint.
bool BlockAssembler::is_past_joint(std::uint32_t token, const Claim& date) const {
  const std::uint32_t segment = clauses_.segment_of[token], first = token_at(date.end);
  if (first > token || clauses_.segment_of[first] != segment) return false;
  bool is_joined = false;
  for (std::uint32_t t = first; t < token; ++t) is_joined |= is_in("day_joint", t);
  const auto count = static_cast<std::uint32_t>(mentions_.tokens.size());
  for (std::uint32_t t = token; is_joined && t < count; ++t) {
    if (clauses_.segment_of[t] != segment || is_in("day_joint", t)) return false;
    if (mention_over(MentionKind::kDate, t) != nullptr) return true;
  }
  return false;
}

// "She was CT-J for a summer, and on 2 November went over to the School": the day that opens what
// "and" goes on with is none of what stands before it.
bool BlockAssembler::is_before_joint_day(std::uint32_t token, const Claim& date) const {
  std::uint32_t first = token_at(date.begin);
  if (token >= first) return false;
  while (first > 0 && (is_in("day_preposition", first - 1) || is_in("year_preposition", first - 1)))
    --first;
  if (first == 0 || token >= first - 1 || !is_in("day_joint", first - 1)) return false;
  std::uint32_t behind = token_at(date.end);
  while (behind < mentions_.tokens.size() &&
         (word(behind) == "," || is_in("story_subject", behind)))
    ++behind;
  return behind < mentions_.tokens.size() && (tells_verb(behind) || is_in("onward_verb", behind));
}

// "X12 of 61 Squadron went into store on 2 February": that unit had it until that day.
bool BlockAssembler::is_handed_on(const Claim& claim) const {
  if (claim.kind != ClaimKind::kUnit || claim.subject.empty() || claim.tense != Tense::kThen)
    return false;
  const std::uint32_t first = token_at(claim.begin), end = token_at(claim.end);
  if (first == 0 || end + 1 >= mentions_.tokens.size()) return false;
  const std::uint32_t before = office(first - 1) == "the" && first > 1 ? first - 2 : first - 1;
  const Mention* leaver = is_in("leaving_verb", before) ? mention_ending_at(before) : nullptr;
  if (leaver != nullptr && leaver->kind == MentionKind::kAirframe) return true;
  return office(before) == "of" && clauses_.segment_of[end] == clauses_.segment_of[first] &&
         is_in("handing_verb", end) && is_in("handing_to", end + 1);
}

// "Never heard of again after 3 May": gone on that day, and not on one of those behind it.
bool BlockAssembler::is_last_heard_of(const Claim& event, const Claim& date) const {
  const std::uint32_t end = token_at(event.end), day = token_at(date.begin);
  if (event.value != "lost" || end == 0) return false;
  // "After 3 May it was never heard of again".
  if (end > day) {
    return is_in("again_word", end - 1) &&
           clauses_.sentence_of[end - 1] == clauses_.sentence_of[day];
  }
  return is_in("again_word", end - 1) || stands_between(end, day, "again_word");
}

// "As PV-01 (May 1943)": a bracket with nothing but the date, right behind the claim.
bool BlockAssembler::is_dated_in_bracket(const Claim& claim, const Claim& date) const {
  const std::uint32_t end = token_at(claim.end), first = token_at(date.begin);
  const std::uint32_t behind = token_at(date.end);
  return first == end + 1 && behind < mentions_.tokens.size() && word(end) == "(" &&
         word(behind) == ")";
}

// "In 1944 and 1946": two views, and each thing told may be of either.
bool BlockAssembler::are_joined(const Claim& one, const Claim& other) const {
  const std::uint32_t from = token_at(one.end), to = token_at(other.begin);
  bool has_and = false;
  for (std::uint32_t t = from; t < to; ++t) {
    // "1938 (plain wheel), 1944 (shield)".
    if (clauses_.clauses[clauses_.clause_of[t]].kind == ClauseKind::kBracket || word(t) == "(" ||
        word(t) == ")") {
      has_and = true;
      continue;
    }
    has_and = has_and || office(t) == "and" || word(t) == "&";
    if (office(t) != "and" && word(t) != "&" && word(t) != "," && office(t) != "in") return false;
  }
  return has_and;
}

}  // namespace tailproof
