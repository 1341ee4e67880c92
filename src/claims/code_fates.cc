// Codes that a caption names though the machine bears them no longer, or one after the other.
#include <algorithm>

#include "claims/assembler.h"

namespace tailproof {

// "1 April 1936, 23, KO-C": the second of two codes of one machine, each of a time of its own.
bool BlockAssembler::follows_code(const Claim& code) const {
  if (code.kind != ClaimKind::kAirframe || code.role != "code") return false;
  const std::uint32_t first = token_at(code.begin);
  if (first < 2 || word(first - 1) != ",") return false;
  return std::any_of(out_.begin() + static_cast<std::ptrdiff_t>(first_claim_), out_.end(),
                     [&](const Claim& other) {
                       return other.kind == code.kind && other.role == code.role &&
                              other.subject == code.subject && other.value != code.value &&
                              token_at(other.end) + 1 == first;
                     });
}

// "In turn OS-20, TU-20 and HN-31", "first QD-T, then SX-R": each is of a time of its own.
bool BlockAssembler::is_one_in_turn(const Mention& code) const {
  if (code.role != "code") return false;
  const auto is_joint = [&](std::uint32_t from, std::uint32_t to) {
    for (std::uint32_t t = from; t < to; ++t) {
      if (word(t) != "," && !is_in("turn_joint", t)) return false;
    }
    return from < to;
  };
  const Mention* first = &code;
  std::size_t count = 1;
  for (const Mention* last = &code; last != nullptr;) {
    const Mention* next = nullptr;
    for (const Mention& other : mentions_of(MentionKind::kAirframe)) {
      if (other.role != "code") continue;
      if (other.first > last->first && is_joint(last->last, other.first)) next = &other;
    }
    count += next != nullptr ? 1 : 0;
    last = next;
  }
  for (bool is_found = true; is_found;) {
    is_found = false;
    for (const Mention& other : mentions_of(MentionKind::kAirframe)) {
      if (other.role != "code") continue;
      if (other.last > first->first || !is_joint(other.last, first->first)) continue;
      first = &other;
      is_found = true;
      ++count;
      break;
    }
  }
  // "What it wore as 35 it wore again as TB-E": two codes, and one machine.
  const auto is_as = [&](const Mention& one) {
    return one.kind == MentionKind::kAirframe && one.role == "code" && one.first > 0 &&
           office(one.first - 1) == "as" &&
           (one.last >= mentions_.tokens.size() || word(one.last) != "(") &&
           clauses_.sentence_of[one.first] == clauses_.sentence_of[code.first];
  };
  const bool has_other =
      std::any_of(mentions_.items.begin(), mentions_.items.end(),
                  [&](const Mention& other) { return is_as(other) && other.value != code.value; });
  if (is_caption() && groups_.size() == 1 && groups_.front().serials.size() == 1 && is_as(code) &&
      has_other)
    return true;
  if (count < 2) return false;
  if (first->first > 0 && is_in("turn_opener", first->first - 1)) return true;
  const auto cues = index_.of("cue_in_turn");
  return std::any_of(cues.begin(), cues.end(), [&](std::uint32_t c) {
    return clauses_.segment_of[mentions_.items[c].first] == clauses_.segment_of[first->first] ||
           mentions_.items[c].last == first->first;
  });
}

// "Under the letters a 7 can be felt", "beneath the paint 7 is still legible".
bool BlockAssembler::is_felt_beneath(const Mention& identity) const {
  constexpr std::uint32_t kReach = 6;
  const std::uint32_t segment = clauses_.segment_of[identity.first];
  bool is_beneath = false;
  for (std::uint32_t t = identity.first; t-- > 0 && identity.first - t <= kReach;) {
    if (clauses_.segment_of[t] != segment) break;
    is_beneath = is_beneath || is_in("paint_below", t);
  }
  const auto count = static_cast<std::uint32_t>(mentions_.tokens.size());
  for (std::uint32_t t = identity.last; is_beneath && t < std::min(count, identity.last + kReach);
       ++t) {
    if (clauses_.segment_of[t] != segment) break;
    if (is_in("paint_seen", t)) return true;
  }
  return false;
}

// "The letters NV-H have been painted out", "27 has replaced NV-H", "the old NV-H", "NV-H can still
// be made out": what it wore before.
bool BlockAssembler::is_gone_identity(const Mention& identity) const {
  if (identity.role != "code" && identity.role != "nickname" && identity.role != "radio_call")
    return false;
  if (negated_[identity.first] != 0 || is_one_in_turn(identity)) return true;
  if (is_felt_beneath(identity)) return true;
  // "From NV-H to 27".
  if (identity.first > 0 && office(identity.first - 1) == "from" &&
      identity.last < mentions_.tokens.size() && office(identity.last) == "to")
    return true;
  // "From MR-F it became KD-A".
  const bool opens =
      identity.first == 1 || (identity.first > 1 && clauses_.sentence_of[identity.first - 2] !=
                                                        clauses_.sentence_of[identity.first]);
  if (opens && office(identity.first - 1) == "from" &&
      cue_in_clause(identity.first, "cue_later") != nullptr)
    return true;
  constexpr std::uint32_t kBehind = 3, kBefore = 2;
  // "Formerly of 61 Squadron as NV-H", "all once of the 61st, as KB201 (NV-H) and KB202 (NV-K)".
  for (std::uint32_t t = identity.first; t > 0; --t) {
    if (clauses_.sentence_of[t - 1] != clauses_.sentence_of[identity.first] || word(t - 1) == ";")
      break;
    const bool is_lead = office(t - 1) == "as" || (t == identity.first && word(t - 1) == ",");
    if (!is_lead) continue;
    const bool has_comma = t > 1 && office(t - 1) == "as" && word(t - 2) == ",";
    const Mention* unit = mention_ending_at(has_comma ? t - 2 : t - 1);
    if (unit != nullptr && unit->kind == MentionKind::kUnit &&
        cue_before(*unit, "cue_unit_former", 3) != nullptr)
      return true;
  }
  for (const std::uint32_t c : index_.of("cue_code_gone")) {
    const Mention& cue = mentions_.items[c];
    if (clauses_.sentence_of[cue.first] != clauses_.sentence_of[identity.first]) continue;
    // "NV-H, its old code".
    const bool is_apposition = cue.value == "after" && cue.first == identity.last + 1 &&
                               word(identity.last) == "," &&
                               (cue.last >= mentions_.tokens.size() ||
                                mentions_.tokens[cue.last].kind == TokenKind::kMark);
    const bool is_behind = is_apposition || (cue.value == "before" && cue.first >= identity.last &&
                                             cue.first - identity.last <= kBehind);
    // "ZO-F, which it had until the spring, has been taken off".
    if (cue.value == "before" && cue.first >= identity.last) {
      const std::uint32_t past = segment_past_aside(identity.last - 1);
      const bool opens = (cue.first > 0 && word(cue.first - 1) == ",") ||
                         (cue.first > 1 && word(cue.first - 2) == ",");
      const bool is_past_aside = opens && past != kNone && clauses_.segment_of[cue.first] == past &&
                                 word(identity.last) == "," &&
                                 is_in("relative_word", identity.last + 1);
      if (is_past_aside) return true;
    }
    // "Exchanged her old code, LB-A, for".
    std::uint32_t lead = identity.first;
    while (lead > cue.last && (mentions_.tokens[lead - 1].kind == TokenKind::kMark ||
                               is_in("letters_noun", lead - 1) || is_in("code_word", lead - 1) ||
                               is_in("earlier_adjective", lead - 1)))
      --lead;
    const bool is_before = cue.value == "after" && cue.last <= identity.first &&
                           (lead == cue.last || identity.first - cue.last <= kBefore);
    // "Gave up 64 for RB-E": the first of them.
    const bool is_of_another = any_mention(MentionKind::kAirframe, [&](const Mention& other) {
      return other.role == identity.role && other.value != identity.value &&
             (is_before ? other.first >= cue.last && other.last <= identity.first
                        : other.first >= identity.last && other.last <= cue.first);
    });
    if ((is_behind || is_before) && !is_of_another) return true;
  }
  return false;
}

// A name in apposition to a serial (""Aunt Tilda" (KB201)", "KB201, Aunt Tilda"), or behind a word
// of naming, is given to that machine; elsewhere it stands for the machine that bore it.
bool BlockAssembler::is_given_name(const Mention& name) const {
  const auto& tokens = mentions_.tokens;
  const auto is_serial_at = [&](std::uint32_t t, bool ends) {
    return std::any_of(groups_.begin(), groups_.end(), [&](const Group& group) {
      return std::any_of(group.members.begin(), group.members.end(), [&](std::uint32_t member) {
        const Mention& serial = mentions_.items[member];
        return ends ? serial.last == t : serial.first == t;
      });
    });
  };
  const auto is_passed = [&](std::uint32_t t) {
    return tokens[t].kind == TokenKind::kMark && word(t) != "." && word(t) != ";";
  };
  std::uint32_t before = name.first;
  while (before > 0 && (is_passed(before - 1) || is_in("name_article", before - 1))) --before;
  std::uint32_t behind = name.last;
  while (behind < tokens.size() && is_passed(behind)) ++behind;
  // "Dowager was N.112", "the name Dowager belonged to N.112".
  constexpr std::uint32_t kReach = 5;
  std::uint32_t equal = behind;
  // "The Dowager, as everybody knew, was N.112".
  constexpr std::uint32_t kMostWords = 8;
  if (word(name.last) == "," && is_in("aside_of_another", behind)) {
    const std::uint32_t end = end_of_aside(behind, kMostWords);
    if (end != kNone) equal = end;
  }
  const std::uint32_t copula = equal;
  while (equal < tokens.size() && equal - copula < kReach && is_in("naming_copula", equal)) ++equal;
  const Mention* same = equal > copula && equal < tokens.size()
                            ? mention_over(MentionKind::kAirframe, equal)
                            : nullptr;
  if (same != nullptr && same->first == equal && !is_possessive(*same) &&
      is_serial_at(equal, false))
    return true;
  return is_serial_at(before, true) || is_serial_at(behind, false) ||
         (before > 0 && is_in("naming_word", before - 1));
}

}  // namespace tailproof
