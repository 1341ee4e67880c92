// A weekday told of a date that stands apart from it: "23 November, a Sunday", "the 26th, which was
// a Wednesday", "on 14 March. It being a Thursday, ...".
#include <algorithm>
#include <cstdlib>
#include <string>

#include "claims/block_reading.h"

namespace tailproof {

// "It was a", "since that fell on a", "it being a": what the words before the weekday speak of,
// their first token; kNone where they tell it of no day.
std::uint32_t BlockReading::day_pronoun_before(std::uint32_t weekday) const {
  constexpr std::uint32_t kReach = 2;  // "it was again a"
  std::uint32_t t = weekday;
  if (t > 0 && (office(t - 1) == "a" || office(t - 1) == "the")) --t;
  if (t > 0 && is_in("day_preposition", t - 1)) --t;
  for (std::uint32_t step = 0; t > 0 && step < kReach && is_in("state_adverb", t - 1); ++step) --t;
  if (t == 0 || !is_in("weekday_verb", t - 1)) return kNone;
  const std::uint32_t verb = t - 1;
  // "On 14 March, being a Thursday".
  if (verb > 0 && word(verb - 1) == ",") return verb;
  if (verb == 0) return kNone;
  const std::string_view subject = value_in(lexicon_.grammars().list("weekday_subject"), verb - 1);
  // "The day was a Thursday", and not "market day was a Thursday".
  const bool is_told =
      subject == "alone" || (subject == "noun" && verb > 1 && is_in("determiner", verb - 2));
  return is_told ? verb - 1 : kNone;
}

// The last date of a day before `token` in its sentence or, where that has none, in the one before;
// in a caption in any. "It was back by Christmas" tells of no day.
DateMention* BlockReading::day_told_before(std::uint32_t token) {
  const std::uint32_t sentence = clauses_.sentence_of[token];
  const Mention* found = nullptr;
  for (const Mention& mention : mentions_of(MentionKind::kDate)) {
    const std::uint32_t own = clauses_.sentence_of[mention.first];
    if (mention.last > token || own > sentence || (own + 1 < sentence && !is_caption())) continue;
    if (mentions_.dates[mention.payload].bound != DateBound::kNone) continue;
    if (found != nullptr && own < clauses_.sentence_of[found->first]) continue;
    found = &mention;
  }
  return found == nullptr ? nullptr : &mentions_.dates[found->payload];
}

void BlockReading::tell_weekdays(std::span<const std::uint8_t> attributed) {
  if (!has_word_of("weekday")) return;
  const WordList* names = lexicon_.grammars().list("weekday");
  const auto count = static_cast<std::uint32_t>(mentions_.tokens.size());
  for (std::uint32_t t = 1; t < count; ++t) {
    const std::string_view value = value_in(names, t);
    const bool is_quoted = t < attributed.size() && attributed[t] != 0;
    if (value.empty() || is_quoted || mention_over(MentionKind::kDate, t) != nullptr) continue;
    const bool has_article = office(t - 1) == "a" || office(t - 1) == "the";
    DateMention* day = nullptr;
    // "23 November 1940, a Sunday", and nothing more of that Sunday.
    const std::uint32_t article = t - 1;
    const bool is_set_off = has_article && article > 0 && word(article - 1) == "," &&
                            (t + 1 >= count || mentions_.tokens[t + 1].kind == TokenKind::kMark);
    if (is_set_off) {
      for (const Mention& mention : mentions_of(MentionKind::kDate)) {
        if (mention.last + 1 == article) day = &mentions_.dates[mention.payload];
      }
    }
    if (day == nullptr) {
      const std::uint32_t pronoun = day_pronoun_before(t);
      if (pronoun == kNone) continue;
      // "The 26th, which was", "14 March, being": what stands right before; else what was told.
      day = day_told_before(pronoun);
    }
    const bool is_day = day != nullptr && day->weekday < 0 && day->joint == DateJoint::kNone &&
                        day->first.precision == Precision::kDay;
    if (!is_day) continue;
    day->weekday = std::atoi(std::string(value).c_str());
    day->weekday_begin = mentions_.tokens[t].begin;
    day->weekday_end = mentions_.tokens[t].end;
  }
}

}  // namespace tailproof
