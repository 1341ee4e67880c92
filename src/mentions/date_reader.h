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
  /// Grammars and settings must outlive it.
  DateReader(const Grammars& grammars, const LedgerSettings& settings)
      : words(grammars),
        dates(grammars.patterns("date")),
        weekdays(grammars.patterns("date_weekday")),
        days_behind(grammars.patterns("date_day_behind")),
        settings(settings) {}

  /// As find_dates().
  [[nodiscard]] std::vector<DateMention> find(std::string_view text,
                                              const std::vector<Token>& tokens);

  /// What a word can be in the phrases around dates.
  struct Use {
    bool is_met = false;
    std::size_t words_of_lead = 0;  // DateWords::words_of_lead
    bool starts_lead = false, starts_tail = false;
  };
  [[nodiscard]] const Use& use_of(const Word& word);

  const DateWords words;
  PatternMatcher dates, weekdays, days_behind;
  const LedgerSettings& settings;

 private:
  std::vector<Use> uses_;  // by number of the word
};

}  // namespace tailproof
