// One match of a date pattern, turned into a unit: the step between patterns and date phrases.
#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <unordered_map>
#include <unordered_set>
#include <vector>

#include "mentions/dates.h"
#include "mentions/pattern_matcher.h"

namespace tailproof {

/// A single date of the text, before its neighbours are looked at.
struct DateAtom {
  std::uint32_t begin = 0;
  std::uint32_t end = 0;
  std::size_t first_token = 0;
  std::size_t next_token = 0;  // first token after it
  DateUnit unit;
  std::optional<DateUnit> second;  // "14 and 15 June"
  DateJoint joint = DateJoint::kNone;
  std::uint32_t first_end = 0;  // of a pair: where its first ends and its second begins
  std::uint32_t second_begin = 0;
  std::string needs;              // what must stand around it, from the grammar
  bool is_end_of_phrase = false;  // must not go on with a word ("a fortnight on")
  bool is_from_picture = false;   // "three weeks after the photograph"
  bool may_lean = false;          // "three weeks after": an event may follow
  bool has_ref_behind = false;    // "the day following"
  bool is_as_spoken = false;      // "next summer", not "the next summer"
  bool counts = false;            // its number stands before something that numbers count
  int weekday = -1;
  std::uint32_t weekday_begin = 0;
  std::uint32_t weekday_end = 0;
  const Pattern* pattern = nullptr;
};

/// What the words of the grammar stand for, looked up once.
struct DateWords {
  const WordList *month, *doubtful, *lead, *tail, *joint, *label, *counted, *unit, *length,
      *pictured, *owner, *of_family, *follower, *of, *recurring, *happening, *outside, *definite,
      *season_verb, *season_thing, *last_of, *no_event, *posture, *span, *coming, *doing,
      *doing_lead, *receiver_lead, *taken_elsewhere, *terse, *scale, *scale_lead, *until, *done_by,
      *by;
  /// Of how many words and marks a phrase of `lead` is at most that ends with the folded word; 0
  /// for none.
  [[nodiscard]] std::size_t words_of_lead(std::string_view last) const {
    const auto found = words_of_leads.find(std::string(last));
    return found == words_of_leads.end() ? 0 : found->second;
  }
  /// Likewise of `tail`, that begins with the folded word or mark.
  [[nodiscard]] std::size_t words_of_tail(std::string_view first) const {
    const auto found = words_of_tails.find(std::string(first));
    return found == words_of_tails.end() ? 0 : found->second;
  }
  std::unordered_map<std::string, std::size_t> words_of_leads;  // by the last word
  std::unordered_set<std::string> starts_of_leads;              // and the first, or mark
  std::unordered_map<std::string, std::size_t> words_of_tails;  // of `tail`, by the first

  explicit DateWords(const Grammars& grammars);
};

/// Whether `word` stands in `list` (which may be missing from the grammar).
[[nodiscard]] bool is_in(const WordList* list, std::string_view word);

/// "They went in August. 4th Squadron stayed": whether a point behind the whole word of the month
/// ends a sentence before the day. Both are views into one text; `day` may be empty.
[[nodiscard]] bool is_sentence_between(std::string_view month, std::string_view day);

/// The atom of a match; nothing when the match cannot be a date (no such year, a number that goes
/// on).
[[nodiscard]] std::optional<DateAtom> atom_of(const PatternMatch& match, std::string_view text,
                                              const std::vector<Token>& tokens,
                                              const DateWords& words,
                                              const LedgerSettings& settings);

}  // namespace tailproof
