#include "tailproof/verdict.h"

#include <algorithm>
#include <array>
#include <utility>

#include "tailproof/figure_key.h"
#include "tailproof/placement.h"

namespace tailproof {
namespace {

constexpr std::array<std::string_view, 13> kMonths = {
    "",     "January", "February",  "March",   "April",    "May",     "June",
    "July", "August",  "September", "October", "November", "December"};

std::string month_and_year(const CivilDate& date) {
  return std::string(kMonths[date.month]) + " " + std::to_string(date.year);
}

bool is_month_end(Day day) {
  const CivilDate date = to_civil(day);
  return date.day == days_in_month(date.year, date.month);
}

bool is_whole_months(const DayRange& range) {
  return range.first != kFirstDay && range.last != kLastDay && to_civil(range.first).day == 1 &&
         is_month_end(range.last);
}

// "1946", "June 1946" where it may have been said of the whole of it.
std::string end_in_words(Day day) {
  const CivilDate date = to_civil(day);
  if (!is_month_end(day)) return in_words(day);
  return date.month == 12 ? std::to_string(date.year) : month_and_year(date);
}

std::string begin_in_words(Day day) {
  const CivilDate date = to_civil(day);
  if (date.day != 1) return in_words(day);
  return date.month == 1 ? std::to_string(date.year) : month_and_year(date);
}

std::string range_in_words(const DayRange& range) {
  if (range.first == kFirstDay && range.last == kLastDay) return "any date";
  if (range.first == kFirstDay) return "until " + in_words(range.last);
  if (range.last == kLastDay) return "from " + in_words(range.first);
  if (range.first == range.last) return in_words(range.first);
  const CivilDate first = to_civil(range.first);
  const CivilDate last = to_civil(range.last);
  if (is_whole_months(range)) {
    if (first.year == last.year && first.month == last.month) return month_and_year(first);
    if (first.month == 1 && last.month == 12) {
      if (first.year == last.year) return std::to_string(first.year);
      return std::to_string(first.year) + " to " + std::to_string(last.year);
    }
    const std::string from =
        first.year == last.year ? std::string(kMonths[first.month]) : month_and_year(first);
    return from + " to " + month_and_year(last);
  }
  if (first.year == last.year && first.month == last.month) {
    return std::to_string(first.day) + " to " + in_words(range.last);
  }
  return in_words(range.first) + " to " + in_words(range.last);
}

}  // namespace

Allowed unite(const Allowed& one, const Allowed& other) {
  return {one.days.unite(other.days), one.widened.unite(other.widened)};
}
Allowed intersect(const Allowed& one, const Allowed& other) {
  return {one.days.intersect(other.days), one.widened.intersect(other.widened)};
}
Certain unite(const Certain& one, const Certain& other) {
  return {one.days.unite(other.days), one.narrowed.unite(other.narrowed)};
}
Certain intersect(const Certain& one, const Certain& other) {
  return {one.days.intersect(other.days), one.narrowed.intersect(other.narrowed)};
}
Allowed except(const Certain& certain) {
  return {certain.days.complement(), certain.narrowed.complement()};
}

Allowed possible_days(const Spell& spell, const Margins& margins) {
  return {spell.possible(), spell.possible(&margins)};
}

Certain certain_days(const Spell& spell, const Margins& margins) {
  Certain certain;
  const bool goes_on = !spell.from.is_unknown() && spell.to.is_unknown();
  certain.narrowed = spell.certain();
  if (goes_on && !spell.from.days().empty()) {
    certain.days = DaySet{DayRange{spell.from.days().last(), kLastDay}};
    if (spell.from.is_approximate()) certain.narrowed = DaySet();
    return certain;
  }
  certain.days = certain.narrowed;
  if (certain.narrowed.empty()) return certain;
  DayRange range{certain.narrowed.first(), certain.narrowed.last()};
  if (spell.from.is_approximate()) range.first = spell.from.widened(margins).last();
  if (spell.to.is_approximate()) range.last = spell.to.widened(margins).first();
  certain.narrowed = range.first <= range.last ? DaySet{range} : DaySet();
  return certain;
}

Allowed from_days(const Edtf& start, const Margins& margins) {
  if (start.is_unknown() || start.days().empty()) return Allowed::always();
  return {DaySet{DayRange{start.days().first(), kLastDay}},
          DaySet{DayRange{start.widened(margins).first(), kLastDay}}};
}

Allowed until_days(const Edtf& end, const Margins& margins) {
  if (end.is_unknown() || end.days().empty()) return Allowed::always();
  return {DaySet{DayRange{kFirstDay, end.days().last()}},
          DaySet{DayRange{kFirstDay, end.widened(margins).last()}}};
}

Fit fit(const When& when, const Allowed& allowed) {
  if (when.days.intersects(allowed.days)) return Fit::kPossible;
  if (when.widened.intersects(allowed.widened)) return Fit::kOnlyByMargin;
  return Fit::kImpossible;
}

Level tempered(const Claim& claim, Level level) {
  if (claim.inherited) level = std::min(level, Level::kWarning);
  return claim.hedged ? lowered(level) : level;
}

bool fits_in_another_year(const CheckInput& input, const Claim& claim, const DaySet& days) {
  constexpr int kMonthsOfYear = 12, kYears = 2;
  if (!claim.when.known || claim.when.date >= input.claims.size() || claim.when.days.empty() ||
      (input.claims[claim.when.date].said & kSaidYearOpen) == 0)
    return false;
  const DayRange told{claim.when.days.first(), claim.when.days.last()};
  if (told.first <= kFirstDay || told.last >= kLastDay) return false;
  for (int years = -kYears; years <= kYears; ++years) {
    const Duration moved{years * kMonthsOfYear, 0};
    if (days.intersects(DaySet{DayRange{after(told.first, moved), after(told.last, moved)}}))
      return true;
  }
  return false;
}

std::optional<Level> level_of(const Claim& claim, Fit how, Level highest) {
  if (how == Fit::kPossible) return std::nullopt;
  // "circa" and a margin are one and the same doubt: it counts once.
  const bool saved = how == Fit::kOnlyByMargin;
  Level level = saved ? lowered(highest) : highest;
  if (claim.inherited || claim.when.inherited) level = std::min(level, Level::kWarning);
  if (claim.hedged || (claim.when.hedged && !saved)) level = lowered(level);
  return level;
}

bool holds_at_its_date(const CheckInput& input, const Claim& claim) {
  if (!is_affirmed(claim) || claim.tense != Tense::kThen) return false;
  if (!claim.when.known) return true;
  if (claim.when.date >= input.claims.size()) return claim.shown;
  const std::string& of = input.claims[claim.when.date].of;
  // The date of an order, a book or a type says nothing of a machine.
  if (of == "order" || of == "publication" || of == "type") return false;
  return claim.shown || of != "photograph";
}

std::span<const std::string> readings_of(const Claim& claim) {
  if (!claim.readings.empty()) return claim.readings;
  return {&claim.value, 1};
}

std::string in_words(Day day) {
  const CivilDate date = to_civil(day);
  return std::to_string(date.day) + " " + month_and_year(date);
}

std::string in_words(const Duration& duration) {
  constexpr std::int64_t kMonthsOfYear = 12;
  std::string words;
  const auto add = [&](std::int64_t number, std::string_view unit) {
    if (number == 0) return;
    if (!words.empty()) words += " ";
    words += std::to_string(number) + " " + std::string(unit) + (number == 1 ? "" : "s");
  };
  add(duration.months / kMonthsOfYear, "year");
  add(duration.months % kMonthsOfYear, "month");
  add(duration.days, "day");
  return words;
}

std::string in_words(const DaySet& days) {
  if (days.empty()) return "no date";
  std::string words;
  for (const DayRange& range : days.ranges()) {
    if (!words.empty()) words += " or ";
    words += range_in_words(range);
  }
  return words;
}

std::string in_words(const Edtf& date) {
  if (date.is_unknown()) return "an unknown date";
  std::string words = in_words(date.days());
  if (date.is_approximate()) words = "about " + words;
  if (date.is_uncertain()) words = "perhaps " + words;
  return words;
}

std::string in_words(const Spell& spell) {
  if (spell.from.is_unknown() && spell.to.is_unknown()) return "at an unknown date";
  if (spell.to.is_unknown()) return "from " + in_words(spell.from);
  if (spell.from.is_unknown()) return "until " + in_words(spell.to);
  if (spell.from.text() == spell.to.text()) {
    const DaySet& days = spell.from.days();
    const bool is_one_day = !days.empty() && days.first() == days.last();
    return (is_one_day ? "on " : "in ") + in_words(spell.from);
  }
  return "from " + in_words(spell.from) + " to " + in_words(spell.to);
}

std::string with_article(std::string_view name) {
  constexpr std::string_view kVowels = "AEIOUaeiou";
  const bool is_vowel = !name.empty() && kVowels.find(name.front()) != std::string_view::npos;
  return (is_vowel ? "an " : "a ") + std::string(name);
}

std::string when_in_words(const When& when) {
  if (!when.known || when.days.empty() || when.days.is_all()) return "";
  const std::string about = when.widened == when.days ? "" : "about ";
  const std::string words = in_words(when.days);
  if (when.days.ranges().size() > 1) {
    const auto& ranges = when.days.ranges();
    const bool is_days = std::all_of(ranges.begin(), ranges.end(),
                                     [](const DayRange& one) { return one.first == one.last; });
    return (is_days ? "on " : "in ") + about + words;
  }
  const DayRange range = when.days.ranges().front();
  if (range.first == kFirstDay) return "until " + about + end_in_words(range.last);
  if (range.last == kLastDay) return "from " + about + begin_in_words(range.first);
  // Which months a season has depends on where one stands, so both are told.
  if (when.season != 0) {
    constexpr std::string_view kSeasons[] = {"spring", "summer", "autumn", "winter"};
    return "in " + about + "the " + std::string(kSeasons[when.season - 1U]) + " (" + words + ")";
  }
  if (range.first == range.last) return "on " + about + words;
  const bool is_from_to = words.find(" to ") != std::string::npos;
  if (is_whole_months(range)) return (is_from_to ? "from " : "in ") + about + words;
  // "At the end of April", "mid-July": which days the program takes that for is told.
  const CivilDate first = to_civil(range.first), last = to_civil(range.last);
  std::string begin = in_words(DaySet{{range.first, range.first}});
  if (first.year == last.year) begin.resize(begin.rfind(' '));
  if (first.year == last.year && first.month == last.month) begin.resize(begin.rfind(' '));
  return "between " + about + begin + " and " + in_words(DaySet{{range.last, range.last}});
}

std::string wearer_in_words(const Ledger& ledger, std::string_view subject) {
  if (subject.empty()) return "in the photograph";
  const std::string who(subject);
  if (figure_keys(subject).empty() || !ledger.machine_of(subject).empty()) return "on " + who;
  if (subject.find_first_not_of("0123456789.") == std::string_view::npos) return "in figure " + who;
  // A number of a machine that the ledger does not have may begin with a figure.
  return (subject.front() >= '0' && subject.front() <= '9' ? "on " : "in ") + who;
}

Evidence quote(const RowPlace& row, std::string says) {
  return {std::string(row.table), row.line, std::string(row.source), std::move(says)};
}

Evidence quote_unit(const Unit& unit) {
  std::string says = unit.unit + " formed " + in_words(unit.formed);
  if (!unit.disbanded.is_unknown()) says += ", disbanded " + in_words(unit.disbanded);
  return quote(unit.row, std::move(says));
}

Evidence quote_table(std::string table, std::string says) {
  return {std::move(table), 0, "", std::move(says)};
}

Query query_at(std::string_view check, const CheckInput& input, const Claim& claim, Level level,
               std::string message) {
  Query query;
  query.check = check;
  query.level = level;
  query.span = claim.span;
  query.subject = claim.subject;
  query.message = std::move(message);
  query.claims.push_back(static_cast<std::uint32_t>(&claim - input.claims.data()));
  if (claim.when.known && claim.when.date < input.claims.size()) {
    query.claims.push_back(claim.when.date);
  }
  const bool is_by_event = claim.kind != ClaimKind::kDate && claim.when.known &&
                           claim.when.date == kNone && claim.event < input.claims.size();
  if (is_by_event) {
    const Claim& event = input.claims[claim.event];
    query.claims.push_back(claim.event);
    query.related.push_back(
        {event.span, "told of the time of this, " + when_in_words(claim.when) + " by the ledger"});
    for (const History* row : input.ledger.history_of(event.subject)) {
      if (row->kind == event.value) query.evidence.push_back(quote_history(*row));
    }
  }
  query.manuscript = claim.manuscript;
  query.block = claim.block;
  return query;
}

}  // namespace tailproof
