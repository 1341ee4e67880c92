// What a date leaves open, filled in from the anchors that the context has found for it.
#include <algorithm>
#include <utility>
#include <vector>

#include "claims/date_context.h"
#include "claims/date_witness.h"

namespace tailproof {
namespace {

// A story goes forward: between two years equally near, the later is likelier.
constexpr double kBackwardCost = 1.5;
// A sentence tells what it tells in the order of time.
constexpr double kBackwardCostInSentence = 4;
// "In March they were three thousand, by December sixty": what was reached then lies ahead.
constexpr double kBackwardCostByThen = 8;
// So does a paragraph, which steps back by a month or two and no farther: from the day on which it
// does, going on to the next such day costs less.
constexpr double kFarBackwardCost = 4;
constexpr Day kSmallStepBack = 75;
// Between two dates so far apart every month has come more than once.
constexpr Day kWholeYear = 365;
// A year left unsaid is rather the one spoken of: less for what goes on in it, more for a step back
// over the New Year.
constexpr double kSameYearCost = 0.5;
constexpr double kBackOverNewYearCost = 2;
constexpr Day kNextMonth = 31;
constexpr Day kDaysOfWeek = 7;
// Of the dates read before the last.
constexpr double kOlderCost = 1.25;
// Of the year in which most of them lie.
constexpr double kUsualYearCost = 0.6;
// Days by which a year named in passing is farther than the story's last date.
constexpr double kAheadCost = 90;
// Of another block, as far as what befell the machine may lie from its year.
constexpr std::int64_t kWitnessYears = 2;
// However near a date of another block comes.
constexpr double kFromAfarCost = 10;
constexpr Day kThreeWeeks = 21;
// Of a day that is told back, which the ledger has, whatever lies nearer.
constexpr double kToldBackDayCost = 0.0001;
// Years to look at on each side; as many as bring back a 29 February when the nearer ones fail.
constexpr std::int64_t kYearsAround[] = {1, 4, 8};

// Days of a unit that has everything but perhaps qualifiers; nothing when there are none.
std::optional<DaySet> days_of(const DateUnit& unit, const LedgerSettings& settings) {
  DateMention mention;
  mention.first = unit;
  if (!unit.is_complete()) return std::nullopt;
  settle_date(mention, settings);
  if (mention.impossible || mention.date.is_unknown()) return std::nullopt;
  return mention.date.days();
}

}  // namespace

// The year of more than half of the dates read last; 0 when there is none.
std::int64_t DateContext::usual_year() const {
  for (const DaySet& days : recent_) {
    const std::int64_t year = year_of(days.first());
    const auto count = std::count_if(recent_.begin(), recent_.end(), [&](const DaySet& other) {
      return year_of(other.first()) == year;
    });
    if (2 * static_cast<std::size_t>(count) > recent_.size()) return year;
  }
  return 0;
}

// "On 9 April it fell; in November 2008 they met there again. On 15 April ...": the day from which
// the story goes on behind an aside of a far year.
const DateContext::Anchor* DateContext::day_before_aside(const Anchor& anchor) const {
  if (!anchor.is_here || is_caption_ || anchor.precision == Precision::kDay || local_.size() < 2)
    return nullptr;
  const Anchor& before = local_[local_.size() - 2];
  const bool is_far = year_of(anchor.days.first()) > year_of(before.days.first()) + 1;
  return before.precision == Precision::kDay && is_far ? &before : nullptr;
}

// A named month, season or feast: the year in which it comes nearest to the anchor, on the side
// that the words name.
bool DateContext::fill_named(DateUnit& unit, const Anchor& anchor,
                             const DateMention& mention) const {
  const std::uint32_t sentence = mention.sentence;
  constexpr double kOutOfServiceCost = 1000, kOtherYearCost = 1000;
  const DateRef ref = unit.ref;
  const bool in_sentence = anchor.is_here && anchor.sentence == sentence;
  const double backward = in_sentence && mention.bound == DateBound::kBy ? kBackwardCostByThen
                          : in_sentence && !is_caption_                  ? kBackwardCostInSentence
                                                                         : kBackwardCost;
  constexpr std::uint32_t kSentences = 2;
  const bool goes_on = anchor.is_here && !is_caption_ && mention.joint == DateJoint::kNone &&
                       !mention.is_told_back && unit.season == 0 &&
                       sentence - anchor.sentence <= kSentences;
  const std::optional<Anchor> ahead =
      anchor.precision < Precision::kYear ? year_told_ahead(anchor) : std::nullopt;
  std::optional<std::int64_t> best_year;
  double best = 0;
  const std::int64_t first_year = year_of(anchor.days.first());
  const std::int64_t last_year = year_of(ahead ? ahead->days.last() : anchor.days.last());
  const Anchor* before_aside = unit.precision == Precision::kDay && ref == DateRef::kNone
                                   ? day_before_aside(anchor)
                                   : nullptr;
  const bool is_from_afar =
      !anchor.is_here && ref == DateRef::kNone && anchor.precision < Precision::kYear;
  // "They took X12 away the week after, and when it was mended in the November": beside a date that
  // has no year of its own either.
  const bool is_lent = anchor.is_here && !anchor.is_local && !is_caption_ && ref == DateRef::kNone;
  for (const std::int64_t around : kYearsAround) {
    if (best_year) break;
    std::vector<std::int64_t> years;
    for (std::int64_t year = first_year - around; year <= last_year + around; ++year)
      years.push_back(year);
    if (is_from_afar && !is_caption_ && default_.is_unknown()) {
      for (const DaySet& other : recent_) years.push_back(year_of(other.first()));
    }
    const bool may_be_witnessed = unit.precision == Precision::kDay && ref == DateRef::kNone;
    if ((is_from_afar || is_lent || may_be_witnessed) && unit.precision <= Precision::kMonth) {
      for (const DayRange& range : mention.witnessed) {
        const std::int64_t year = year_of(range.first);
        if (year >= first_year - kWitnessYears && year <= last_year + kWitnessYears)
          years.push_back(year);
      }
    }
    if (before_aside) years.push_back(year_of(before_aside->days.first()));
    std::sort(years.begin(), years.end());
    years.erase(std::unique(years.begin(), years.end()), years.end());
    for (const std::int64_t year : years) {
      DateUnit candidate = unit;
      candidate.ref = DateRef::kNone;
      candidate.part.clear();
      candidate.year = year;
      const std::optional<DaySet> days = days_of(candidate, settings_);
      if (!days) continue;  // 29 February in a common year
      // "With the Yard from March 1942 to June 1944. On 1 July": the story stands at the later.
      const auto gap_from = [&](const DaySet& from) {
        const bool is_long = goes_on && from.last() - from.first() > kWholeYear;
        if (is_long && days->first() <= from.last() && days->last() >= from.first())
          return days->last() >= from.last() ? 0 : days->last() - from.last();
        return days->first() > from.last()   ? days->first() - from.last()
               : days->last() < from.first() ? days->last() - from.first()
                                             : 0;
      };
      const auto cost_of = [&](Day gap) {
        const bool in_one_year = goes_on && first_year == last_year;
        if (gap >= 0) {
          return (in_one_year && year == last_year ? kSameYearCost : 1) * static_cast<double>(gap);
        }
        const bool is_far = goes_on && -gap > kSmallStepBack;
        const double over_new_year = in_one_year && year < first_year ? kBackOverNewYearCost : 1;
        return over_new_year * std::max(backward, is_far ? kFarBackwardCost : 0) *
               static_cast<double>(-gap);
      };
      const Day gap = gap_from(anchor.days);
      // In May "the following summer" is not the one that begins in June.
      const Day too_near =
          ref == DateRef::kNext && unit.season != 0 && !is_caption_ ? kNextMonth : 0;
      if (ref == DateRef::kNext && gap <= too_near) continue;
      if (ref == DateRef::kPrevious && gap >= 0) continue;
      // "They came on 21 November. He had had them since the spring": before what is told of.
      const bool is_had_since = !is_caption_ && mention.is_told_back && anchor.is_here &&
                                mention.bound == DateBound::kSince && ref == DateRef::kNone;
      if (is_had_since && gap > 0) continue;
      // "October 1943. With the squadron since the spring": what lasts began before the picture.
      // "At Essel, November 1940. From May he was with the 5th" goes on.
      // "Seen in June 1940. It was Q2001 from that autumn": of the year spoken of.
      const bool is_lasting =
          is_caption_ && mention.bound == DateBound::kSince && ref != DateRef::kSame;
      // "With the First until 30 January 1938 and with the Second from 1 February": behind that.
      const bool is_past_picture =
          !local_.empty() && anchor.days.first() > local_.front().days.last();
      const bool is_behind =
          local_.empty() || is_past_picture ? gap > 0 : days->first() > local_.front().days.last();
      if (is_lasting && !mention.is_onward && !mention.may_go_on && is_behind && !is_past_picture)
        continue;
      if (is_lasting && mention.is_onward && gap <= 0) continue;
      // "Spring 1941. The numeral had given way in September": before the picture.
      const bool is_had = is_caption_ && mention.is_long_past && ref == DateRef::kNone &&
                          anchor.is_here && mention.joint == DateJoint::kNone &&
                          (mention.bound == DateBound::kNone || mention.bound == DateBound::kBy);
      if (is_had && is_behind) continue;
      double cost = cost_of(gap);
      if (before_aside && year == year_of(before_aside->days.first())) {
        const Day near = days->first() - before_aside->days.last();
        if (near > 0 && near <= kThreeWeeks)
          cost = std::min(cost, kOlderCost * static_cast<double>(near));
      }
      if (is_from_afar) {
        // An aside ("until its loss in February 1945") is no better anchor than the dates around
        // it. Of "July, or the June after" neither reaches over the months between.
        double older = 1;
        for (auto other = recent_.rbegin(); other != recent_.rend(); ++other) {
          older *= kOlderCost;
          for (const DayRange& range : other->ranges())
            cost = std::min(cost, older * cost_of(gap_from(DaySet{range})));
        }
        if (year == usual_year()) cost *= kUsualYearCost;
      }
      // "In February: on Friday the 5th": the calendar knows better than the ledger.
      const std::optional<bool> by_weekday = has_weekday_behind(mention, year);
      const bool is_likelier =
          by_weekday.value_or((gap < 0 || is_from_afar || is_lent) && is_witnessed(mention, *days));
      const bool is_day = unit.precision == Precision::kDay && ref == DateRef::kNone;
      const bool is_fine =
          (is_from_afar || is_lent) &&
          (is_day || (unit.precision == Precision::kMonth && ref == DateRef::kNone));
      if (is_fine) cost += kFromAfarCost;
      if (ref == DateRef::kNone && is_likelier)
        cost *= !is_fine ? kWitnessedCost : is_day ? kWitnessedDayCost : kWitnessedFarCost;
      // "X had gone in January 1941 and Y was wrecked on 11 October", in a story of 1942.
      if (is_day && !is_caption_ && !by_weekday && is_witnessed(mention, *days)) {
        for (const DaySet& other : recent_)
          cost = std::min(cost, kWitnessedCost * cost_of(gap_from(other)));
        for (const Anchor& other : local_)
          cost = std::min(cost, kWitnessedCost * cost_of(gap_from(other.days)));
      }
      // The very day, and no year of its own sentence: that the ledger has it so in another year is
      // no chance.
      if (is_day && !by_weekday && !in_sentence && is_witnessed_to_the_day(mention, *days))
        cost = std::min(cost, kWitnessedDayCost * std::abs(static_cast<double>(gap)));
      // "Not before June 1945. Teasel had handed it over on 1 July": told back to the day that the
      // ledger has.
      const bool is_back_then = is_day && !is_caption_ && mention.is_told_back && gap < 0 &&
                                is_witnessed_to_the_day(mention, *days);
      if (is_back_then)
        cost = std::min(cost, kToldBackDayCost * std::abs(static_cast<double>(gap)));
      // A year that nobody said here is none in which the machine was not in service, or the unit
      // not there.
      const bool is_out = days->last() < mention.likely_first ||
                          days->first() > mention.likely_last ||
                          days->last() < mention.unit_first || days->first() > mention.unit_last;
      if ((!anchor.is_local || anchor.is_background) && ref == DateRef::kNone && is_out)
        cost += kOutOfServiceCost;
      if (ahead && ref == DateRef::kNone)
        cost = std::min(cost, kAheadCost + cost_of(gap_from(ahead->days)));
      // "When he was made Captain that August": of a time that another block has told, unless the
      // ledger knows it better.
      const bool is_known_month = ref == DateRef::kSame && !anchor.is_here &&
                                  unit.precision == Precision::kMonth &&
                                  is_witnessed(mention, *days);
      if (is_known_month) cost *= kWitnessedFarCost;
      // "Lost in February 1940. The other sank that December": no month of the year before.
      if (ref == DateRef::kSame && unit.season == 0 && year < first_year && !is_known_month)
        cost += kOtherYearCost;
      // The winter of a year is the one that begins in it.
      const bool is_even = cost == best && unit.season != 0;
      if (best_year && cost >= best && !is_even) continue;
      best_year = year;
      best = cost;
    }
  }
  // No year near has such a day: it is the calendar that has not.
  unit.year = best_year.value_or(first_year) + (unit.is_after_next ? 1 : 0);
  unit.ref = DateRef::kNone;
  return true;
}

bool DateContext::fill_weekday(DateUnit& unit, const Anchor& anchor) const {
  const bool is_before = unit.ref == DateRef::kPrevious;
  Day day = is_before ? anchor.days.first() : anchor.days.last();
  Day step = is_before ? -1 : 1;
  if (unit.ref_period == DatePeriod::kWeek) {
    // "The Friday of that week": of the one that began with the Monday on the day or before it.
    constexpr unsigned kMonday = 1;
    constexpr Day kWeek = 7;
    while (weekday(day) != kMonday) --day;
    day += is_before ? -kWeek : unit.ref == DateRef::kNext ? kWeek : 0;
    step = 1;
    unit.ref_period = DatePeriod::kNone;
  } else if (is_before || unit.ref == DateRef::kNext) {
    day += step;
  }
  while (weekday(day) != static_cast<unsigned>(unit.ref_weekday)) day += step;
  const CivilDate date = to_civil(day);
  unit.year = date.year;
  unit.month = date.month;
  unit.day = date.day;
  unit.ref = DateRef::kNone;
  return true;
}

// "X12 on 2 November. It was lost in January 1945": the ledger may have that very day in a year
// before the one that leads up to what is told behind.
void DateContext::lean_on_witness(DateUnit& unit, const DateMention& mention) const {
  if (unit.precision != Precision::kDay || !unit.year) return;
  DateUnit candidate = unit;
  for (std::int64_t back = 0; back <= kWitnessYears; ++back) {
    candidate.year = *unit.year - back;
    const std::optional<DaySet> days = days_of(candidate, settings_);
    if (!days || !is_witnessed_to_the_day(mention, *days)) continue;
    unit.year = candidate.year;
    return;
  }
}

// "The 14th": of the month spoken of, or of the next when the month has passed that day by far.
// "X12, damaged on the 4th and seen under repair on the 20th, Gale Head, March 1941": the date of
// the picture, where its caption gives one behind.
std::optional<DateContext::Anchor> DateContext::month_behind(std::size_t index) const {
  if (!is_caption_ || !local_.empty()) return std::nullopt;
  const auto& mentions = *mentions_;
  for (std::size_t i = index + 1; i < mentions.size(); ++i) {
    const DateMention& date = mentions[i];
    const bool is_set_off = date.stands_last && date.joint == DateJoint::kNone &&
                            date.bound == DateBound::kNone &&
                            date.first.precision <= Precision::kMonth;
    const bool is_of_picture = date.sentence == mentions[index].sentence || date.opens_sentence;
    if (!date.is_complete) continue;
    if (!is_set_off || !is_of_picture) return std::nullopt;
    return dated_later(i - 1, false);
  }
  return std::nullopt;
}

bool DateContext::fill_day(DateUnit& unit, std::size_t index, bool& inherited) {
  if (const std::optional<Anchor> behind = month_behind(index);
      behind && unit.month_ref == DateRef::kNone) {
    CivilDate date = to_civil(behind->days.last());
    // "Damaged on the 28th. 3 March 1941": that was before the picture.
    if (behind->precision == Precision::kDay && unit.day > date.day)
      date = to_civil(to_day({date.year, date.month, 1}) - 1);
    unit.year = date.year;
    unit.month = date.month;
    return true;
  }
  std::optional<Anchor> anchor = anchor_for(Precision::kMonth);
  if (!anchor || anchor->is_doubtful || is_from_another_block(*anchor)) return false;
  // "February 1933. X12 had been there since 9 January; X14 followed on the 30th": of the month
  // that has such a day.
  const auto lacks_day = [&](const Anchor& one) {
    const CivilDate told = to_civil(one.days.last());
    return unit.day > days_in_month(told.year, told.month);
  };
  const auto has_it = [&](const Anchor& one) {
    constexpr std::uint32_t kPartsBack = 1;  // a semicolon ends a sentence here
    return one.is_here && (*mentions_)[index].sentence - one.sentence <= kPartsBack &&
           one.precision == Precision::kDay && !lacks_day(one);
  };
  if (unit.month_ref == DateRef::kNone && lacks_day(*anchor)) {
    const auto other = std::find_if(local_.rbegin(), local_.rend(), has_it);
    if (other != local_.rend()) anchor = *other;
  }
  constexpr unsigned kFarBack = 10;
  CivilDate date = to_civil(anchor->days.last());
  // "At the end of March; it had come in on the fourth": a stretch of days has passed none.
  const bool has_day =
      anchor->precision == Precision::kDay && anchor->days.first() == anchor->days.last();
  const bool next = unit.month_ref == DateRef::kNext ||
                    (unit.month_ref == DateRef::kNone && has_day && unit.day + kFarBack < date.day);
  if (next) date = to_civil(to_day({date.year, date.month, 28}) + 7);
  if (unit.month_ref == DateRef::kPrevious) date = to_civil(to_day({date.year, date.month, 1}) - 1);
  unit.year = date.year;
  unit.month = date.month;
  unit.month_ref = DateRef::kNone;
  inherited = inherited || !anchor->is_local;
  return true;
}

// "On the same day, 6 April 1942": the day that stands right behind the words says which it is.
const DateMention* DateContext::day_behind(std::size_t index) const {
  constexpr std::uint32_t kComma = 5;  // or ", on "
  const auto& mentions = *mentions_;
  if (index + 1 >= mentions.size()) return nullptr;
  const DateMention& day = mentions[index + 1];
  const DateMention& words = mentions[index];
  const bool is_same_day = words.first.ref == DateRef::kSame && words.joint == DateJoint::kNone &&
                           words.first.ref_period == DatePeriod::kDay;
  const bool is_day = (day.is_complete || day.first.month != 0) && !day.impossible &&
                      day.joint == DateJoint::kNone && day.bound == DateBound::kNone &&
                      day.first.precision == Precision::kDay;
  const bool is_right_behind =
      day.begin >= words.end && day.begin - words.end <= kComma && day.sentence == words.sentence;
  // "On the day after, 1 January 1945".
  const bool is_next_day = words.stands_last && words.first.ref_period == DatePeriod::kDay &&
                           words.first.ref != DateRef::kNone && day.is_complete;
  return (is_same_day || is_next_day) && is_day && is_right_behind ? &day : nullptr;
}

bool DateContext::is_at_start_of_year() const {
  constexpr unsigned kFirstMonths = 2;
  const std::optional<Anchor> anchor = anchor_for(Precision::kMonth);
  return anchor && to_civil(anchor->days.last()).month <= kFirstMonths;
}

// "Until the middle of March. On the Friday of the same week": where the date last told of is too
// wide to count from, the last in the block that is not.
DateContext::Anchor DateContext::exact_enough(const Anchor& anchor, Day longest) const {
  const auto fits = [&](const Anchor& one) {
    return one.days.last() - one.days.first() < longest && !one.is_doubtful;
  };
  const auto exact = std::find_if(local_.rbegin(), local_.rend(), fits);
  return fits(anchor) || exact == local_.rend() ? anchor : *exact;
}

// "That day", "the following month", "the end of the year".
bool DateContext::fill_reference(DateUnit& unit, bool is_told_back, bool& inherited) {
  const Precision needed =
      unit.ref_period == DatePeriod::kWeek ? Precision::kDay : precision_of(unit.ref_period);
  std::optional<Anchor> anchor = needed == Precision::kYear ? year_spoken_of() : anchor_for(needed);
  if (!anchor || anchor->is_doubtful) return false;
  if (needed == Precision::kDay)
    anchor = exact_enough(*anchor, unit.ref_period == DatePeriod::kWeek ? kDaysOfWeek : 1);
  // "In May 1942, and on the same day": a day of that May, and none that another block told of.
  // Nor, once the story has moved on to another month, one of what was told before that.
  const bool has_moved_on = !carried_.empty() && carried_.back().order > anchor->order;
  const bool is_coarser_here = !anchor->is_here && (!local_.empty() || has_moved_on);
  if (is_coarser_here && unit.ref == DateRef::kSame && needed == Precision::kDay) return false;
  if (needed < Precision::kYear && is_from_another_block(*anchor)) return false;
  const int step = unit.ref == DateRef::kNext ? 1 : unit.ref == DateRef::kPrevious ? -1 : 0;
  inherited = inherited || !anchor->is_local;
  DateMention moved;
  moved.first.offset = step;
  moved.first.offset_period = unit.ref_period;
  moved.first.precision = unit.precision;
  // In January the new year is the one that has just begun, as it is for what "had been" done then.
  if (unit.is_new_year && (is_told_back || is_at_start_of_year())) moved.first.offset = 0;
  // "The winter of 1956, and that year": a season that runs over the New Year is named by the
  // first.
  const bool is_of_season =
      needed == Precision::kYear && step == 0 && anchor->precision == Precision::kSeason;
  const bool is_from_first = step < 0 || is_of_season;
  const Edtf from = Edtf::of_day(is_from_first ? anchor->days.first() : anchor->days.last());
  if (!settle_offset(moved, from, settings_)) return false;
  moved.first.part = unit.part;
  moved.first.approximate = unit.approximate;
  moved.first.uncertain = unit.uncertain;
  unit = moved.first;
  return true;
}

bool DateContext::fill(DateUnit& unit, const DateMention& mention, std::size_t index,
                       bool& inherited) {
  if (unit.is_complete()) return true;
  if (unit.is_offset() || mention.is_unplaced) return false;
  if (unit.year_ref != DateRef::kNone) {
    const std::optional<Anchor> anchor = year_spoken_of();
    if (!anchor) return false;
    const int step = unit.year_ref == DateRef::kNext       ? unit.year_steps
                     : unit.year_ref == DateRef::kPrevious ? -unit.year_steps
                                                           : 0;
    unit.year = year_of(step < 0 ? anchor->days.first() : anchor->days.last()) + step;
    unit.year_ref = DateRef::kNone;
    inherited = inherited || !anchor->is_local;
    return unit.is_complete();
  }
  if (unit.ref_period != DatePeriod::kNone && unit.ref_weekday < 0) {
    // "The day after" for a title: after what, no other block tells.
    const bool is_of_caption_before = unit.ref == DateRef::kSame && leans_on_caption_;
    const bool is_cut_off =
        mention.ends_its_phrase && is_caption_ && local_.empty() && !is_of_caption_before;
    return !is_cut_off && fill_reference(unit, mention.is_told_back, inherited);
  }
  if (unit.ref_weekday >= 0) {
    std::optional<Anchor> anchor = anchor_for(Precision::kDay);
    if (anchor && unit.ref_period == DatePeriod::kWeek) anchor = exact_enough(*anchor, kDaysOfWeek);
    inherited = inherited || (anchor && !anchor->is_local);
    return anchor && !anchor->is_doubtful && fill_weekday(unit, *anchor);
  }
  if (unit.precision == Precision::kDay && unit.month == 0 && !unit.from_easter)
    return fill_day(unit, index, inherited);
  std::optional<Anchor> anchor = anchor_for(Precision::kCentury);
  if (unit.ref == DateRef::kSame) {
    // "Lost in 1942; that autumn": of the year just spoken of, when a year was.
    const std::optional<Anchor> year = year_spoken_of();
    const bool is_known = anchor && year &&
                          year_of(year->days.first()) == year_of(anchor->days.first()) &&
                          year_of(anchor->days.first()) == year_of(anchor->days.last());
    if (year && year->precision == Precision::kYear && !is_known) anchor = year;
  }
  std::optional<Anchor> year = year_in_sentence(mention);
  // "Given up at the end of 1945, and scrapped the February after": after that year.
  const bool is_after_year = year && unit.ref == DateRef::kNext && unit.is_named() &&
                             (!anchor || anchor->days.last() < year->days.first());
  if (is_after_year) anchor = year;
  if (!year && (!anchor || !anchor->is_here)) year = year_named_here();
  if (year && !unit.is_relative()) {
    constexpr std::int64_t kNearYears = 5;
    const std::int64_t apart =
        anchor ? year_of(year->days.first()) - year_of(anchor->days.first()) : 0;
    const bool is_near = apart <= kNearYears && apart >= -kNearYears;
    // Or one that the ledger bears out: "It went uphill in 1955. The Wing was formed on 1 March".
    const auto is_borne_out = [&] {
      DateUnit candidate = unit;
      candidate.year = year_of(year->days.first());
      const std::optional<DaySet> days = days_of(candidate, settings_);
      return days && is_witnessed(mention, *days);
    };
    if (is_near || (anchor && is_of_other_section(*anchor)) || is_borne_out()) anchor = year;
  }
  const bool is_told_up_to_next =
      mention.is_told_back && !is_caption_ && anchor && anchor->sentence != mention.sentence;
  if (!anchor || !anchor->is_local || is_told_up_to_next) {
    std::optional<Anchor> later = dated_later(index, true);
    if (later && anchor && anchor->is_local) later.reset();
    // A caption tells of its own time before the running text does.
    // "He had spent the summer in the hills. In October 1919 he marched": told up to what follows.
    if (!later &&
        (!anchor || ((is_caption_ || mention.is_told_back) && unit.ref == DateRef::kNone)))
      later = dated_later(index, false);
    if (later && is_told_up_to_next && later->sentence > mention.sentence + 1) later.reset();
    // "It had gone in August. A leaflet of 1964 says otherwise": no story leads up to that.
    constexpr std::int64_t kStoryYears = 3;
    if (later && is_told_up_to_next && anchor->is_local &&
        year_of(later->days.first()) - year_of(anchor->days.last()) > kStoryYears)
      later.reset();
    if (later && !unit.is_relative()) {
      anchor = later;
      // What leads up to a dated event lies before it rather than after.
      const CivilDate date = to_civil(later->days.last());
      constexpr unsigned kMonthsOfSeason = 3, kLastSeason = 24, kBeforeFirst = 20;
      const bool is_plain_season = unit.season > kBeforeFirst && unit.season <= kLastSeason;
      const unsigned month = unit.season == 0  ? unit.month
                             : is_plain_season ? kMonthsOfSeason * (unit.season - kBeforeFirst)
                                               : 0;
      if (later->precision <= Precision::kMonth && mention.joint == DateJoint::kNone) {
        unit.year = date.year - (month > date.month ? 1 : 0);
        if (later->sentence != mention.sentence) lean_on_witness(unit, mention);
        return true;
      }
    }
  }
  // "X12, which was lost that August. Gale Head, 3 September 1940": of the picture's year, told
  // behind.
  const bool is_of_picture = is_caption_ && local_.empty() && !figure_date_ &&
                             unit.ref == DateRef::kSame && unit.is_named();
  if (const std::optional<Anchor> behind = dated_later(index, false); is_of_picture && behind)
    anchor = behind;
  if (!anchor) return false;
  const DateRef ref = unit.ref;
  if (!fill_named(unit, *anchor, mention)) return false;
  // Of a time told of in another block, where the words need not lean on that block at all.
  const std::optional<DaySet> days = days_of(unit, settings_);
  if (ref == DateRef::kSame && !anchor->is_local && days &&
      (days->last() < mention.unit_first || days->first() > mention.unit_last))
    return false;
  inherited = inherited || !anchor->is_local;
  return true;
}

}  // namespace tailproof
