// What a date phrase means: from its units to EDTF.
//
// A unit becomes a first and a last EDTF date, equal when it is written as one ("1943-06"). Parts
// are thirds of what they stand on: of a month the days 1 to 10, 11 to 20, 21 to the end; of a year
// four months each; of a decade the years 0 to 3, 4 to 6, 7 to 9. A season stays whole.
#include <algorithm>
#include <cctype>
#include <cstdlib>

#include "mentions/dates.h"
#include "source/ascii.h"

namespace tailproof {
namespace {

struct Ends {
  std::string first, last;
};

std::string padded(std::int64_t number, std::size_t width) {
  std::string text = std::to_string(number);
  if (text.size() < width) text.insert(number < 0 ? 1 : 0, width - text.size(), '0');
  return text;
}
std::string year_text(std::int64_t year) { return padded(year, 4); }
std::string month_text(std::int64_t year, unsigned month) {
  return year_text(year) + '-' + padded(month, 2);
}
std::string day_text(std::int64_t year, unsigned month, unsigned day) {
  return month_text(year, month) + '-' + padded(day, 2);
}

// A part as the grammar writes it: name, one or two numbers, a period. "weekday:1:2" is the first
// Tuesday, "weekday:-1:0" the last Sunday.
struct Part {
  std::string name;
  int first = 0;
  int last = 0;
  std::string period;

  explicit Part(std::string_view text) {
    if (text.empty()) return;
    std::vector<std::string> words(1);
    for (const char c : text) {
      if (c == ':') {
        words.emplace_back();
      } else {
        words.back() += c;
      }
    }
    name = words[0];
    if (words.size() > 1) first = last = std::atoi(words[1].c_str());
    if (words.size() > 2) {
      if (!words[2].empty() && is_digit(words[2].front())) {
        last = std::atoi(words[2].c_str());
      } else {
        period = words[2];
      }
    }
  }
};

struct Slice {
  int first, last;
};

// Pieces, from 1, that a part covers of `count` equal pieces of a whole: months of a year, years of
// a decade. Thirds of ten years are four, three and three.
Slice slice_of(const Part& part, int count, std::string_view piece) {
  const auto share = [count](int number, int of) { return (number * count + of - 1) / of; };
  const auto shares = [&](int of) {
    return Slice{share(part.first - 1, of) + 1, share(part.last, of)};
  };
  if (part.name == "third") return shares(3);
  if (part.name == "half") return shares(2);
  if (part.name == "quarter") return shares(4);
  if (part.name == "first" && part.period == piece) return {1, std::min(part.first, count)};
  if (part.name == "last" && part.period == piece) {
    return {std::max(1, count - part.first + 1), count};
  }
  return {1, count};
}

// Days, from 1, that a part covers of a month or year of `count` days; {0, 0} when it is no such
// part.
Slice days_of_part(const Part& part, int count) {
  const int unit = part.period == "week" ? 7 : 1;
  const bool by_days = part.period == "week" || part.period == "day";
  if (part.name == "week" && part.first > 0) {
    return {std::min(count, 7 * part.first - 6), std::min(count, 7 * part.first)};
  }
  if (part.name == "week") return {count - 6, count};
  if (part.name == "first" && by_days) return {1, std::min(count, part.first * unit)};
  if (part.name == "last" && by_days) return {std::max(1, count - part.first * unit + 1), count};
  // "The last day but one".
  if (part.name == "lastbut" && count > part.first) return {count - part.first, count - part.first};
  return {0, 0};
}

Ends days_between(Day first, Day last) { return {iso_day(first), iso_day(last)}; }

// "The first Monday of June", "the last": the day of the month; 0 when the month has no fifth.
int nth_weekday(const Part& part, Day start, int count) {
  constexpr int kDaysOfWeek = 7;
  const int first = 1 + (kDaysOfWeek + part.last - static_cast<int>(weekday(start))) % kDaysOfWeek;
  const int last = first + (count - first) / kDaysOfWeek * kDaysOfWeek;
  const int day = part.first < 0 ? last : first + (part.first - 1) * kDaysOfWeek;
  return day <= count ? day : 0;
}

Ends month_ends(const DateUnit& unit, const Part& part) {
  const int count = static_cast<int>(days_in_month(*unit.year, unit.month));
  const Day start = to_day({*unit.year, unit.month, 1});
  Slice slice = days_of_part(part, count);
  if (part.name == "weekday") slice.first = slice.last = nth_weekday(part, start, count);
  if (part.name == "third") {
    slice = {10 * part.first - 9, part.last == 3 ? count : 10 * part.last};
  } else if (part.name == "half") {
    slice = part.first == 1 ? Slice{1, 15} : Slice{16, count};
  }
  if (slice.first == 0) {
    const std::string text = month_text(*unit.year, unit.month);
    return {text, text};
  }
  return days_between(start + slice.first - 1, start + slice.last - 1);
}

Ends year_ends(const DateUnit& unit, const Part& part) {
  if (unit.last_year) return {year_text(*unit.year), year_text(*unit.last_year)};
  const Day start = to_day({*unit.year, 1, 1});
  const int days = static_cast<int>(to_day({*unit.year, 12, 31}) - start + 1);
  if (const Slice slice = days_of_part(part, days); slice.first > 0) {
    return days_between(start + slice.first - 1, start + slice.last - 1);
  }
  if (part.name == "turn") {
    return {month_text(*unit.year - 1, 12), month_text(*unit.year, 1)};
  }
  const Slice months = slice_of(part, 12, "month");
  if (months.first == 1 && months.last == 12) {
    return {year_text(*unit.year), year_text(*unit.year)};
  }
  return {month_text(*unit.year, static_cast<unsigned>(months.first)),
          month_text(*unit.year, static_cast<unsigned>(months.last))};
}

Ends years_ends(const DateUnit& unit, const Part& part, int count) {
  const Slice years = slice_of(part, count, "year");
  if (years.first == 1 && years.last == count) {
    std::string text = year_text(*unit.year);
    for (int size = count; size > 1; size /= 10) text[text.size() - (count == size ? 1 : 2)] = 'X';
    return {text, text};
  }
  return {year_text(*unit.year + years.first - 1), year_text(*unit.year + years.last - 1)};
}

// A season that crosses the New Year where the named pair of years does ("winter 1943/44" is a
// northern one, "the summer of 1943-44" a southern).
std::string season_text(const DateUnit& unit, Hemisphere hemisphere) {
  unsigned season = unit.season;
  if (unit.last_year && *unit.last_year == *unit.year + 1) {
    if (season == 24 && hemisphere == Hemisphere::kSouth) season = 28;
    if (season == 22 && hemisphere == Hemisphere::kNorth) season = 30;
  }
  return month_text(*unit.year, season);
}

// Easter Sunday of the Gregorian calendar (Meeus, Jones and Butcher).
Day easter_of(std::int64_t year) {
  const std::int64_t a = year % 19, b = year / 100, c = year % 100;
  const std::int64_t d = b / 4, e = b % 4, f = (b + 8) / 25, g = (b - f + 1) / 3;
  const std::int64_t h = (19 * a + b - d - g + 15) % 30;
  const std::int64_t i = c / 4, k = c % 4, l = (32 + 2 * e + 2 * i - h - k) % 7;
  const std::int64_t m = (a + 11 * h + 22 * l) / 451;
  const std::int64_t n = h + l - 7 * m + 114;
  return to_day({year, static_cast<unsigned>(n / 31), static_cast<unsigned>(n % 31 + 1)});
}

Ends ends_of(const DateUnit& unit, Hemisphere hemisphere) {
  const Part part(unit.part);
  Ends ends;
  switch (unit.precision) {
    case Precision::kDay:
      ends.first = ends.last = unit.from_easter ? iso_day(easter_of(*unit.year) + *unit.from_easter)
                                                : day_text(*unit.year, unit.month, unit.day);
      break;
    case Precision::kMonth:
      ends = month_ends(unit, part);
      break;
    case Precision::kSeason:
      ends.first = ends.last = season_text(unit, hemisphere);
      break;
    case Precision::kYear:
    case Precision::kOpen:
      ends = year_ends(unit, part);
      break;
    case Precision::kDecade:
      ends = years_ends(unit, part, 10);
      break;
    case Precision::kCentury:
      ends = years_ends(unit, part, 100);
      break;
  }
  return ends;
}

std::string qualified(const std::string& text, const DateUnit& unit) {
  if (unit.approximate && unit.uncertain) return text + '%';
  if (unit.approximate) return text + '~';
  return unit.uncertain ? text + '?' : text;
}

// The date of the same precision next to an EDTF date; a day where it is neither day, month nor
// year.
std::string neighbour(const std::string& text, Hemisphere hemisphere, bool later) {
  const Result<Edtf> date = Edtf::parse(text, hemisphere);
  if (!date) return text;
  const DaySet& days = date.value().days();
  const Day day = later ? days.last() + 1 : days.first() - 1;
  const CivilDate civil = to_civil(day);
  switch (date.value().precision()) {
    case Precision::kYear:
      return year_text(civil.year);
    case Precision::kMonth:
      return month_text(civil.year, civil.month);
    default:
      return iso_day(day);
  }
}

std::string bounded(const DateMention& mention, const Ends& ends, Hemisphere hemisphere) {
  const DateUnit& last = mention.joint == DateJoint::kNone ? mention.first : mention.second;
  switch (mention.bound) {
    case DateBound::kBy:
      return "../" + qualified(ends.last, last);
    case DateBound::kBefore:
      // "before the end of June" still allows its last day.
      if (mention.first.part == "third:3") return "../" + qualified(ends.last, last);
      return "../" + qualified(neighbour(ends.first, hemisphere, false), mention.first);
    case DateBound::kSince:
      return qualified(ends.first, mention.first) + "/..";
    case DateBound::kAfter:
      return qualified(neighbour(ends.last, hemisphere, true), last) + "/..";
    case DateBound::kNone:
      break;
  }
  return "";
}

std::string member(const Ends& ends, const DateUnit& unit) {
  if (ends.first == ends.last) return qualified(ends.first, unit);
  return qualified(ends.first, unit) + ".." + qualified(ends.last, unit);
}

std::string value_of(const DateMention& mention, Hemisphere hemisphere) {
  const Ends first = ends_of(mention.first, hemisphere);
  Ends whole = first;
  const bool joined = mention.joint != DateJoint::kNone && mention.joint != DateJoint::kFrom;
  const DateUnit& last_unit = joined ? mention.second : mention.first;
  if (joined) whole.last = ends_of(mention.second, hemisphere).last;
  if (mention.bound != DateBound::kNone) return bounded(mention, whole, hemisphere);
  if (mention.joint == DateJoint::kOr || mention.joint == DateJoint::kAnd) {
    const Ends second = ends_of(mention.second, hemisphere);
    const bool one = mention.joint == DateJoint::kOr;
    return std::string(one ? "[" : "{") + member(first, mention.first) + ',' +
           member(second, mention.second) + (one ? "]" : "}");
  }
  if (whole.first == whole.last) return qualified(whole.first, mention.first);
  return qualified(whole.first, mention.first) + '/' + qualified(whole.last, last_unit);
}

// Nothing when the calendar has the unit's day.
std::string problem_of(const DateUnit& unit) {
  if (unit.precision != Precision::kDay || !unit.year || unit.from_easter) return "";
  const unsigned days = days_in_month(*unit.year, unit.month);
  if (unit.day >= 1 && unit.day <= days) return "";
  const std::string month = month_text(*unit.year, unit.month);
  if (days == 0) return "there is no month " + std::to_string(unit.month);
  return "there is no day " + std::to_string(unit.day) + " in " + month + ", which has " +
         std::to_string(days) + " days";
}

}  // namespace

bool DateUnit::is_complete() const {
  if (is_relative() || year_ref != DateRef::kNone || month_ref != DateRef::kNone || !year) {
    return false;
  }
  switch (precision) {
    case Precision::kDay:
      return from_easter || (month != 0 && day != 0);
    case Precision::kMonth:
      return month != 0;
    case Precision::kSeason:
      return season != 0;
    default:
      return true;
  }
}

std::string claimed_text(const Edtf& date, Hemisphere hemisphere) {
  std::string text = date.text();
  // A season is what follows a year of four digits and ends there or at a mark of EDTF.
  for (std::size_t at = 4; at + 2 < text.size(); ++at) {
    if (text[at] != '-' || (at > 4 && std::isdigit(static_cast<unsigned char>(text[at - 5])) != 0))
      continue;
    const std::string_view code = std::string_view(text).substr(at + 1, 2);
    const auto digit = [](char c) { return c >= '0' && c <= '9'; };
    if (!digit(code[0]) || !digit(code[1])) continue;
    const int number = (code[0] - '0') * 10 + (code[1] - '0');
    const bool is_southern = (number >= 21 && number <= 24 && hemisphere == Hemisphere::kSouth) ||
                             (number >= 29 && number <= 32);
    if (number < 21 || number > 32) continue;
    const int season = (number - 21) % 4;
    const int as_months = 21 + (is_southern ? (season + 2) % 4 : season);
    text[at + 2] = static_cast<char>('0' + as_months % 10);
    text[at + 1] = '2';
  }
  return text;
}

void settle_date(DateMention& mention, const LedgerSettings& settings) {
  mention.impossible = false;
  mention.what = problem_of(mention.first);
  const bool joined = mention.joint != DateJoint::kNone && mention.joint != DateJoint::kFrom;
  if (mention.what.empty() && joined) mention.what = problem_of(mention.second);
  if (!mention.what.empty()) {
    mention.impossible = true;
    return;
  }
  const Result<Edtf> date =
      Edtf::parse(value_of(mention, settings.hemisphere), settings.hemisphere);
  if (date) {
    mention.date = date.value();
    return;
  }
  mention.impossible = true;
  mention.what = mention.joint == DateJoint::kRange ? "the range runs backwards"
                                                    : "the calendar has no such date";
}

}  // namespace tailproof
