// Reads the dates of many blocks of text, one after the other. An object serves one thread.
#pragma once

#include <string_view>
#include <vector>

#include "mentions/date_atoms.h"
#include "mentions/dates.h"
#include "mentions/pattern_matcher.h"

namespace tailproof {

class DateReader {
 public:
  /// Grammars, settings and dead ends must outlive it.
  DateReader(const Grammars& grammars, const LedgerSettings& settings,
             DeadEnds* dead_ends = nullptr)
      : words(grammars),
        dates(grammars.patterns("date"), dead_ends),
        weekdays(grammars.patterns("date_weekday"), dead_ends),
        days_behind(grammars.patterns("date_day_behind"), dead_ends),
        settings(settings) {}

  /// As find_dates().
  [[nodiscard]] std::vector<DateMention> find(std::string_view text,
                                              const std::vector<Token>& tokens);

  /// What a word can be in the phrases around dates.
  struct Use {
    bool is_met = false;
    std::size_t words_of_lead = 0;  // DateWords::words_of_lead
    std::size_t words_of_tail = 0;  // likewise of a tail that begins with it
    bool starts_lead = false;
  };
  [[nodiscard]] const Use& use_of(const Word& word);

  const DateWords words;
  PatternMatcher dates, weekdays, days_behind;
  const LedgerSettings& settings;

 private:
  std::vector<Use> uses_;  // by number of the word
};

}  // namespace tailproof
