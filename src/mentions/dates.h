// Date phrases of a block: what the words say, before anything is known of their surroundings.
//
// A mention is one date or two joined ("14 June to 3 August 1943"), with what qualifies it
// ("about", "by", "the end of"). Where the words leave something open (a year, "that October", "two
// days later"), `is_complete` is false and claims/date_context.h fills it in from what was read
// before. The words live in the grammar (kind "date", lists date_*); here is only calendar
// arithmetic and the rules of context by which "in May" is a date and "Sgt May" is none.
//
// Cost: one pass over the tokens; patterns are tried only where a word may begin a date.
#pragma once

#include <cstdint>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "grammars/grammars.h"
#include "mentions/tokens.h"
#include "tailproof/edtf.h"
#include "tailproof/ledger.h"

namespace tailproof {

/// Where a date stands seen from the one before it: "that", "the following", "the previous".
enum class DateRef { kNone, kSame, kNext, kPrevious };

enum class DatePeriod { kNone, kDay, kWeek, kMonth, kSeason, kYear, kDecade, kCentury };

/// How finely a date in terms of such a period is known: to the day where it is less than a month.
[[nodiscard]] Precision precision_of(DatePeriod period);

/// One date as its words give it; a field that the words leave open is empty or 0.
struct DateUnit {
  Precision precision = Precision::kDay;
  std::optional<std::int64_t> year;       // of a decade or century: its first year
  std::optional<std::int64_t> last_year;  // "1943-44"
  unsigned month = 0;
  unsigned day = 0;
  unsigned season = 0;  // 21 spring to 24 winter
  /// A movable feast whose year is still open: days after Easter Sunday.
  std::optional<int> from_easter;
  std::string part;  // "early", "half:1", "week:2", "last:3:month", ...; values of date_lead
  bool approximate = false;
  bool uncertain = false;  // with a question mark

  /// "that October", "the following month", "the same day": which one, and of what.
  DateRef ref = DateRef::kNone;
  DatePeriod ref_period = DatePeriod::kNone;  // none: the named month, season or weekday itself
  int ref_weekday = -1;  // "the following Monday"; with a period, "the Monday of that week"
  /// "June of that year", "June two years before": the year, seen from the one before.
  DateRef year_ref = DateRef::kNone;
  int year_steps = 1;                  // from it
  DateRef month_ref = DateRef::kNone;  // "the 14th of that month"
  bool is_after_next = false;          // "the summer after next"
  bool is_new_year = false;            // "the new year": the next, or the one that has just begun

  /// "two days later": so many periods, negative for earlier; 0 when this is no offset.
  std::int64_t offset = 0;
  DatePeriod offset_period = DatePeriod::kNone;
  bool offset_to_the_day = false;  // "a month to the day later"

  [[nodiscard]] bool is_offset() const { return offset_period != DatePeriod::kNone; }
  /// Whether only words before it tell what it is ("that day", "two days later").
  [[nodiscard]] bool is_relative() const { return ref != DateRef::kNone || is_offset(); }
  /// Whether it names its month or season ("the February following").
  [[nodiscard]] bool is_named() const { return month != 0 || season != 0; }
  /// Whether the calendar date is known without any other.
  [[nodiscard]] bool is_complete() const;
};

enum class DateJoint {
  kNone,
  kRange,  // from one to the other
  kOr,     // one of the two
  kAnd,    // both
  kFrom,   // "two days after 14 June": the first is an offset from the second
};

/// What a word before or after makes of the date.
enum class DateBound {
  kNone,
  kBy,      // the last day allowed is the date's last: by, until, no later than
  kBefore,  // it ends before the date
  kSince,   // it begins with the date
  kAfter,   // it begins after the date
};

struct DateMention {
  std::uint32_t begin = 0;  // the whole phrase with "about", "early", weekday; no bounding word
  std::uint32_t end = 0;
  std::uint32_t bound_begin = 0;  // where "by", "since", "between" or a hedge begins, else `begin`
  std::uint32_t sentence = 0;     // number of the sentence in the block

  /// The value, when the phrase is complete in itself and possible; else unknown.
  Edtf date;
  bool is_complete = false;
  DateUnit first;
  DateUnit second;  // when `joint` is not kNone
  DateJoint joint = DateJoint::kNone;
  DateBound bound = DateBound::kNone;
  bool is_somewhere_within = false;  // "between A and B": a point, not the whole span

  bool hedged = false;  // about, circa, probably, "?"
  int weekday = -1;     // 0 Sunday to 6 Saturday, as named beside the date
  std::uint32_t weekday_begin = 0;
  std::uint32_t weekday_end = 0;
  bool impossible = false;      // 31 June, a range that runs backwards
  std::string what;             // then: in words
  bool opens_sentence = false;  // nothing but "In" or the like stands before it
  /// Where its two dates end and begin; both `end` when there is one.
  std::uint32_t first_end = 0;
  std::uint32_t second_begin = 0;
  /// "the summer offensive": the season of what the noun names.
  bool is_before_happening = false;
  /// "the October after the war": of a year that only what follows tells.
  bool is_unplaced = false;
  /// "the day after the raid": the words lean on an event that follows.
  bool leans_on_event = false;
  /// "The day after, it rained": nothing follows that they could lean on.
  bool ends_its_phrase = false;
  bool stands_last = false;  // a mark stands behind it, or nothing
  bool is_apposed = false;   // and a comma before it: "on 21 March, a week later, in snow"
  /// "By next summer", as somebody speaks in the story: it does not move the story on.
  bool is_as_spoken = false;
  bool is_of_make = false;     // "a Tormi A of January 1936"
  bool is_of_issue = false;    // "in its number of March 1957": no place in the story
  bool is_put_off_to = false;  // "not ... until June": what is denied before happened then
  bool is_reason = false;      // in a caption: "no bars, since they were ordered from the 12th"
  bool is_told_back = false;   // in the pluperfect, of the time before: "who had joined in June"
  /// "On 5 December ...; from the 14th until 20 March": the first day may be of the month before.
  bool first_may_lean = false;
  bool is_long_past = false;  // "had been painted in June", and not "had a new number in June"
  /// "Who had joined in June 1936", "with 9 Squadron since 1936, it ...": where that aside ends; 0
  /// for none. What is told behind it goes on from what was told before it.
  std::uint32_t aside_end = 0;
  /// Days on which the machine that the sentence names was in service: for a year left unsaid.
  Day likely_first = kFirstDay, likely_last = kLastDay;
  /// Days on which there were the units that it names.
  Day unit_first = kFirstDay, unit_last = kLastDay;
  /// Days on which something befell that machine or began for it, by the ledger: likewise.
  std::vector<DayRange> witnessed;
  /// "In February: on Friday the 5th": the weekday, day by day, that the words behind give a month.
  unsigned day_behind = 0;
  int weekday_behind = -1;
  bool is_onward = false;        // "From May he was": in a sentence behind what was told before
  bool may_go_on = false;        // "; he led them from May": by its verb of any time
  bool is_from_picture = false;  // "three weeks after the photograph"
  bool is_denied = false;        // "not on the 2nd": nothing is counted from it
  const Pattern* pattern = nullptr;
};

/// Every date of the text, left to right, none overlapping another.
[[nodiscard]] std::vector<DateMention> find_dates(std::string_view text,
                                                  const std::vector<Token>& tokens,
                                                  const Grammars& grammars,
                                                  const LedgerSettings& settings);

/// Fills `date`, or `impossible` and `what`, from complete units; used when a context has filled
/// what the words left open. `settings` give the hemisphere.
void settle_date(DateMention& mention, const LedgerSettings& settings);

/// The date as claims write it: a season by the code of its months, so that the winter of a
/// southern 1944 is "1944-22", the June to August that it is for every reader.
[[nodiscard]] std::string claimed_text(const Edtf& date, Hemisphere hemisphere);

/// Counts the offset of `first` from `anchor`, at the precision of the period: years give a year,
/// months a month, weeks and days a day. False, and nothing changed, when the anchor is unknown or
/// too coarse to count from.
[[nodiscard]] bool settle_offset(DateMention& mention, const Edtf& anchor,
                                 const LedgerSettings& settings);

}  // namespace tailproof
