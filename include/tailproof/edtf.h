// Dates as the Extended Date/Time Format writes them (ISO 8601-2:2019; Library of Congress,
// 2019-02-04): levels 0 and 1, and of level 2 sets (`[..]`, `{..}`), component qualifiers
// (`1943-?06-14`), seasons 21 to 41, exponential and significant-digit years, unspecified digits
// anywhere.
//
// An Edtf keeps what was written and the days it allows. It never rounds: "1943-06" is a month, not
// its first day.
#pragma once

#include <string>
#include <string_view>

#include "tailproof/day.h"
#include "tailproof/result.h"

namespace tailproof {

enum class Hemisphere { kNorth, kSouth };

/// How far "~" and "circa" reach, in days, by the precision of the date they stand on (ledger.toml
/// [margins]).
struct Margins {
  Day day = 3;
  Day month = 31;
  Day year = 366;
};

enum class Precision { kDay, kMonth, kSeason, kYear, kDecade, kCentury, kOpen };

class Edtf {
 public:
  Edtf() = default;  // unknown: an empty cell

  /// Parses `text`; surrounding blanks are not allowed. The error names the offending piece.
  [[nodiscard]] static Result<Edtf> parse(std::string_view text,
                                          Hemisphere hemisphere = Hemisphere::kNorth);
  /// A date that is exactly these days, written as EDTF (`1943-06-14`, `1943-06-14/1943-06-20`,
  /// `[..]` for more than one interval).
  [[nodiscard]] static Edtf of_days(const DaySet& days);
  [[nodiscard]] static Edtf of_day(Day day);

  /// As written; "" when unknown.
  [[nodiscard]] const std::string& text() const { return text_; }
  [[nodiscard]] bool is_unknown() const { return text_.empty(); }
  /// Days possible at full width, without any margin. Unknown: all days.
  [[nodiscard]] const DaySet& days() const { return days_; }
  /// Days possible when "~" or "%" is given its margin. Equal to days() when there is none.
  [[nodiscard]] DaySet widened(const Margins& margins) const;
  [[nodiscard]] bool is_approximate() const { return approximate_; }  // "~" or "%" anywhere
  [[nodiscard]] bool is_uncertain() const { return uncertain_; }      // "?" or "%" anywhere
  /// The coarsest precision of its parts; kOpen for "..".
  [[nodiscard]] Precision precision() const { return precision_; }
  /// `A/B`, also with an open or unknown end.
  [[nodiscard]] bool is_interval() const { return interval_; }

 private:
  friend class EdtfParser;
  std::string text_;
  DaySet days_ = DaySet::all();
  bool approximate_ = false;
  bool uncertain_ = false;
  bool interval_ = false;
  Precision precision_ = Precision::kOpen;
  // An interval's ends may be qualified apart from each other: which ends a margin moves.
  bool approximate_first_ = false;
  bool approximate_last_ = false;
  Precision first_precision_ = Precision::kOpen;
  Precision last_precision_ = Precision::kOpen;
};

}  // namespace tailproof
