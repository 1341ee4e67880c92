// What a caption tells of another time than its picture's: "Soon afterwards it went to the Yard",
// "the Yard had it next", "previously it had stood at Gale Head".
#include <algorithm>

#include "claims/assembler.h"

namespace tailproof {

// An adverb speaks of what follows it in its segment, and of all that when it ends it ("went to the
// Yard soon afterwards"). One that opens a sentence speaks of the sentence.
bool BlockAssembler::is_moved_in_time(std::uint32_t token, CueName list) const {
  const std::uint32_t sentence = clauses_.sentence_of[token];
  for (const std::uint32_t c : index_.of(list)) {
    const Mention& cue = mentions_.items[c];
    if (clauses_.sentence_of[cue.first] != sentence) continue;
    if (cue.first > 0 && office(cue.first - 1) == "as") continue;  // "as soon as"
    if (cue.first == 0 || clauses_.sentence_of[cue.first - 1] != sentence) return true;
    // "At the School afterwards she had yellow floats".
    const bool ends = cue.last >= mentions_.tokens.size() ||
                      mentions_.tokens[cue.last].kind == TokenKind::kMark ||
                      is_in("story_subject", cue.last);
    if (ends && is_in_fronted_words(cue.first)) return true;
    if (clauses_.segment_of[cue.first] != clauses_.segment_of[token]) continue;
    if (cue.last <= token || ends) return true;
  }
  return false;
}

// "The same letters had gone over the edge of Gale Head": whatever somebody had done there, though
// not what it had ("it had a wheel gone at Gale Head").
bool BlockAssembler::stands_behind_having_done(std::uint32_t token) const {
  for (std::uint32_t t = token; t-- > 0;) {
    if (clauses_.segment_of[t] != clauses_.segment_of[token]) return false;
    if (!is_in("had_word", t)) continue;
    std::uint32_t verb = t + 1;
    while (verb < token && is_in("had_aside", verb)) ++verb;
    const bool is_had = is_in("determiner", verb) || is_in("number", verb) ||
                        mentions_.tokens[verb].kind == TokenKind::kNumber;
    return verb < token && !is_had;
  }
  return false;
}

// "Not until June 1943 was the gold centre introduced", "only in June did it appear".
bool BlockAssembler::opens_not_until(std::uint32_t first) const {
  constexpr std::uint32_t kReach = 3;
  if (!is_in("inverting_word", first)) return false;
  return any_mention(MentionKind::kDate, [&](const Mention& date) {
    return date.first >= first && date.first - first <= kReach && is_in("inverted_verb", date.last);
  });
}

// "Q16, May 1943: as M16 it was with 1 Patrol": of the time under the former number.
bool BlockAssembler::is_told_as_former(std::uint32_t first, std::uint32_t token) const {
  return any_mention(MentionKind::kAirframe, [&](const Mention& number) {
    return number.role == "previous_serial" && number.first >= first && number.last <= token &&
           number.first > 0 && office(number.first - 1) == "as";
  });
}

std::optional<Tense> BlockAssembler::other_time_of(std::uint32_t token, ClaimKind kind) const {
  const std::uint32_t first = begin_of_sentence(token);
  // "(They went to 14 Flight on its first day)": of another day than the picture's.
  const Clause& own = clauses_.clauses[clauses_.clause_of[token]];
  const std::uint32_t opening = own.first + (word(own.first) == "(" ? 1 : 0);
  if (own.kind == ClauseKind::kBracket && is_in("story_subject", opening) &&
      is_in("story_verb", opening + 1))
    return Tense::kLater;
  const bool is_whereabouts = kind == ClaimKind::kUnit || kind == ClaimKind::kPlace;
  if (is_whereabouts && (is_told_as_former(first, token) || is_behind_former_opening(token)))
    return Tense::kFormer;
  if (!is_in_later_sentence(token) || says_taken(first, token)) return std::nullopt;
  if (is_moved_in_time(token, "cue_time_former")) return Tense::kFormer;
  // What a marking had become by then is still seen; where the machine had been is not.
  if (is_whereabouts && cue_in_segment(token, "cue_had") != nullptr) return Tense::kFormer;
  if (kind == ClaimKind::kPlace && stands_behind_having_done(token)) return Tense::kFormer;
  if (is_in_other_time(token) || is_moved_in_time(token, "cue_time_later") ||
      cue_in_segment(token, "cue_time_to_come") != nullptr || opens_not_until(first)) {
    return Tense::kLater;
  }
  const std::uint32_t past = segment_past_aside(token);
  if (past != kNone) {
    for (const CueName list : {CueName("cue_time_to_come"), CueName("cue_to_come")}) {
      for (const std::uint32_t c : index_.of(list)) {
        if (clauses_.segment_of[mentions_.items[c].first] == past) return Tense::kLater;
      }
    }
  }
  return std::nullopt;
}

// "As MR-S. It wore HT-C with 5 Squadron", "it was JA-G at Gale Head": a machine has one code and
// one unit at a time, and what a later sentence tells with another place is told of another time.
void BlockAssembler::part_times() {
  // "72 it has been since the move": what the words give to the time since.
  const auto is_since = [&](std::uint32_t code) {
    constexpr std::uint32_t kReach = 6;
    for (std::uint32_t t = code + 1;
         t < std::min<std::size_t>(code + kReach, clauses_.sentence_of.size()); ++t) {
      if (clauses_.sentence_of[t] != clauses_.sentence_of[code]) return false;
      if (is_in("rank_since", t)) return true;
    }
    return false;
  };
  for (std::size_t i = first_claim_; i < out_.size(); ++i) {
    Claim& claim = out_[i];
    const bool is_code = claim.kind == ClaimKind::kAirframe && claim.role == "code";
    const bool is_unit = claim.kind == ClaimKind::kUnit &&
                         (claim.role.empty() || claim.role == "holder" || claim.role == "operator");
    const bool is_place = claim.kind == ClaimKind::kPlace;
    if ((!is_code && !is_unit && !is_place) || claim.tense != Tense::kThen || claim.subject.empty())
      continue;
    const std::uint32_t token = token_at(claim.begin);
    if (!is_in_later_sentence(token) || has_date_in_segment(token)) continue;
    for (std::size_t j = first_claim_; j < out_.size(); ++j) {
      const Claim& other = out_[j];
      const std::uint32_t at = token_at(other.begin);
      const bool is_other_code = is_code && other.kind == ClaimKind::kAirframe &&
                                 other.role == "code" && other.subject == claim.subject &&
                                 other.value != claim.value && other.tense == Tense::kThen &&
                                 clauses_.sentence_of[at] < clauses_.sentence_of[token];
      const bool is_other_place = !is_place && other.kind == ClaimKind::kPlace &&
                                  other.tense != Tense::kThen &&
                                  clauses_.segment_of[at] == clauses_.segment_of[token];
      const bool is_unit_of_code = !is_code && other.kind == ClaimKind::kAirframe &&
                                   other.role == "code" && other.tense == Tense::kFormer &&
                                   clauses_.segment_of[at] == clauses_.segment_of[token];
      // "It had begun its career with 64 Squadron as GU-D".
      const bool is_code_of_unit = is_code && other.kind == ClaimKind::kUnit &&
                                   other.tense == Tense::kFormer &&
                                   clauses_.segment_of[at] == clauses_.segment_of[token] &&
                                   cue_in_segment(token, "cue_had") != nullptr;
      // "It was FT-B at Wenlow; 72 it has been since the move".
      const bool is_code_since = is_code && other.kind == ClaimKind::kAirframe &&
                                 other.role == "code" && other.subject == claim.subject &&
                                 other.value != claim.value && at > token &&
                                 clauses_.sentence_of[at] == clauses_.sentence_of[token] &&
                                 token > 0 && is_in("was_word", token - 1) && is_since(at);
      const bool is_place_of_code = is_place && other.kind == ClaimKind::kAirframe &&
                                    other.role == "code" && other.tense == Tense::kFormer &&
                                    other.subject == claim.subject && at < token &&
                                    clauses_.segment_of[at] == clauses_.segment_of[token];
      if (is_other_code || is_other_place || is_unit_of_code || is_code_of_unit || is_code_since ||
          is_place_of_code)
        claim.tense = Tense::kFormer;
    }
  }
}

// "See Fig. 1 for the same machine with 917 Squadron", "the same machine as NP-C in Fig. 1": what a
// later part of a caption tells of another picture.
bool BlockAssembler::is_of_other_figure(std::uint32_t token) const {
  const std::uint32_t segment = clauses_.segment_of[token];
  if (!is_in_later_sentence(token)) {
    // The first sentence speaks of this picture, unless a semicolon has closed that part.
    bool is_behind_semicolon = false;
    for (std::uint32_t t = 0; t < token; ++t)
      is_behind_semicolon = is_behind_semicolon || word(t) == ";";
    if (!is_behind_semicolon) return false;
  }
  for (const std::uint32_t c : index_.of("cue_other_picture")) {
    if (clauses_.sentence_of[mentions_.items[c].first] == clauses_.sentence_of[token]) return true;
  }
  return any_mention(MentionKind::kReference, [&](const Mention& figure) {
    if (figure.first == 0) return false;
    if (clauses_.sentence_of[figure.first] != clauses_.sentence_of[token]) return false;
    const bool is_pointed = is_in("pointing_verb", figure.first - 1);
    // "Compare it with the same machine in Fig. 4, number 27 and gold centre".
    const std::uint32_t head = begin_of_sentence(figure.first);
    if (figure.last <= token && is_in("comparing_verb", head)) return true;
    const Spelling lead = office(figure.first - 1);
    const bool opens =
        (lead == "in" || lead == "on") &&
        (figure.first < 2 || clauses_.sentence_of[figure.first - 2] != clauses_.sentence_of[token]);
    if (figure.last <= token) return is_pointed || opens;
    const Spelling before = office(figure.first - 1);
    return token < figure.first && clauses_.segment_of[figure.first] == segment &&
           (before == "in" || before == "on");
  });
}

// "The red centre that 914 Squadron had given up in February": the day of what another did.
bool BlockAssembler::is_told_by_another(const Claim& claim, const Claim& date) const {
  if (date.begin < claim.end || claim.kind == ClaimKind::kUnit || claim.kind == ClaimKind::kPerson)
    return false;
  const std::uint32_t from = token_at(claim.end), to = token_at(date.begin);
  return std::any_of(mentions_.items.begin(), mentions_.items.end(), [&](const Mention& other) {
    if (other.kind != MentionKind::kUnit && other.kind != MentionKind::kPerson) return false;
    return other.first >= from && other.last < to && office(other.last) == "had";
  });
}

// "The Bays had X12 in May, and the Greys' own, X14, came a year later": of two days in a clause,
// one told of the claim's machine and one of another's, the latter is not the claim's.
bool BlockAssembler::is_of_other_machine(const Claim& claim, const Claim& date,
                                         const std::vector<std::uint32_t>& dates) const {
  if (date.subject == claim.subject || ledger_.airframe(claim.subject) == nullptr ||
      ledger_.airframe(date.subject) == nullptr)
    return false;
  const std::uint32_t clause = clauses_.clause_of[token_at(date.begin)];
  bool is_own = false;
  for (const std::uint32_t d : dates) {
    const Claim& other = out_[d];
    // The same words may tell of both.
    if (other.begin == date.begin && other.subject == claim.subject) return false;
    is_own = is_own || (other.begin != date.begin && other.subject == claim.subject &&
                        clauses_.clause_of[token_at(other.begin)] == clause);
  }
  return is_own;
}

// "It had been taken on charge in January, had crossed in a crate, and was with the Bays for a
// year": the day of what had been says nothing of what then was.
bool BlockAssembler::is_of_time_before(std::uint32_t token, const Claim& date) const {
  const std::uint32_t told = token_at(date.begin);
  const Mention* mention = mention_over(MentionKind::kDate, told);
  if (is_caption() || date.event == kNone || mention == nullptr || told >= token ||
      clauses_.segment_of[told] == clauses_.segment_of[token])
    return false;
  if (!stands_behind_had(*mention)) return false;
  for (std::uint32_t t = token; t-- > told;) {
    if (is_in("had_word", t)) return false;
    if (is_in("was_word", t)) return clauses_.segment_of[t] != clauses_.segment_of[told];
  }
  return false;
}

// "X12 in the first summer, with Trewick aboard, X14 in May 1943": in a row of machines a date
// beyond the next of them is not that of a person named with the one before.
bool BlockAssembler::is_of_next_item(const Claim& claim, const Claim& date) const {
  const bool is_of_person = claim.kind == ClaimKind::kPerson || claim.kind == ClaimKind::kRank ||
                            claim.kind == ClaimKind::kAward;
  if (!is_of_person || date.begin < claim.end) return false;
  const std::uint32_t sentence = clauses_.sentence_of[token_at(claim.begin)];
  bool has_before = false, has_between = false;
  for (const Group& group : groups_) {
    if (group.members.empty() || clauses_.sentence_of[group.first] != sentence) continue;
    const Mention& serial = mentions_.items[group.members.front()];
    has_before = has_before || serial.end <= claim.begin;
    has_between = has_between || (serial.begin >= claim.end && serial.end <= date.begin &&
                                  group.first > 0 && word(group.first - 1) == ",");
  }
  return has_before && has_between;
}

// "The fire was on 7 November": a sentence that says no more than on which day something was, which
// is no picture.
bool BlockAssembler::is_day_of_noun(const Mention& date) const {
  const std::uint32_t first = begin_of_sentence(date.first);
  constexpr std::uint32_t kLongest = 6;
  if (!is_in("determiner", first) || is_in("credit_noun", first + 1) ||
      is_in("dating_noun", first + 1) || date.first - first > kLongest)
    return false;
  return is_in("was_word", first + 2) || is_in("was_word", first + 3);
}

// "Who would end the war a Major": not yet so in the picture, unless the words date it.
bool BlockAssembler::is_to_come(const Mention& mention) const {
  // "Commander Tamblin, as he became": close behind the name.
  constexpr std::uint32_t kBehind = 5;
  for (const std::uint32_t c : index_.of("cue_as_became")) {
    const Mention& cue = mentions_.items[c];
    if (cue.first >= mention.last && cue.first - mention.last <= kBehind &&
        clauses_.sentence_of[cue.first] == clauses_.sentence_of[mention.first] &&
        std::none_of(mentions_.items.begin(), mentions_.items.end(), [&](const Mention& other) {
          return other.kind != MentionKind::kCue && other.kind != MentionKind::kPerson &&
                 other.kind != MentionKind::kDate && other.first >= mention.last &&
                 other.last <= cue.first;
        })) {
      return true;
    }
  }
  // "Delivery to 9 Squadron was three months away": behind the name.
  constexpr std::uint32_t kAhead = 8;
  for (const std::uint32_t c : index_.of("cue_lies_ahead")) {
    const Mention& cue = mentions_.items[c];
    if (cue.first >= mention.last && cue.first - mention.last <= kAhead &&
        clauses_.segment_of[cue.first] == clauses_.segment_of[mention.first])
      return true;
  }
  if (has_date_in_segment(mention.first)) return false;
  for (const std::uint32_t c : index_.of("cue_nowadays")) {
    const Mention& cue = mentions_.items[c];
    if (cue.last <= mention.first &&
        clauses_.sentence_of[cue.first] == clauses_.sentence_of[mention.first])
      return true;
  }
  const auto cues = index_.of("cue_to_come");
  return std::any_of(cues.begin(), cues.end(), [&](std::uint32_t c) {
    const Mention& cue = mentions_.items[c];
    return cue.last <= mention.first &&
           clauses_.segment_of[cue.first] == clauses_.segment_of[mention.first];
  });
}

// "that one had hit a mast on 18 April": an auxiliary of the list before the date in its segment.
bool BlockAssembler::is_told_in_pluperfect(const Mention& date) const {
  const WordList* auxiliaries = lexicon_.grammars().list("pluperfect_auxiliary");
  if (auxiliaries == nullptr) return false;
  for (std::uint32_t t = date.first; t > 0;) {
    --t;
    if (clauses_.segment_of[t] != clauses_.segment_of[date.first]) break;
    if (!value_in(auxiliaries, t).empty()) return true;
  }
  return shares_having(date);
}

}  // namespace tailproof
