#include "claims/date_context.h"

#include <algorithm>
#include <utility>

namespace tailproof {
namespace {

// A story goes forward: between two years equally near, the later is likelier.
constexpr double kBackwardCost = 1.5;
// A sentence tells what it tells in the order of time.
constexpr double kBackwardCostInSentence = 4;
// So does a paragraph, which steps back by a month or two and no farther: from the day on which it
// does, going on to the next such day costs less.
constexpr double kFarBackwardCost = 4;
constexpr Day kSmallStepBack = 75;
// Between two dates so far apart every month has come more than once.
constexpr Day kWholeYear = 365;
// Of the dates read before the last.
constexpr double kOlderCost = 1.25;
constexpr std::size_t kMostRecent = 5;
// Of the year in which most of them lie.
constexpr double kUsualYearCost = 0.6;
// Days by which a year named in passing is farther than the story's last date.
constexpr double kAheadCost = 90;
// Years to look at on each side; as many as bring back a 29 February when the nearer ones fail.
constexpr std::int64_t kYearsAround[] = {1, 4, 8};
constexpr std::size_t kMostCarried = 16;

bool is_limited(const DaySet& days) {
  return !days.empty() && days.first() > kFirstDay && days.last() < kLastDay;
}

// Days of a unit that has everything but perhaps qualifiers; nothing when there are none.
std::optional<DaySet> days_of(const DateUnit& unit, const LedgerSettings& settings) {
  DateMention mention;
  mention.first = unit;
  if (!unit.is_complete()) return std::nullopt;
  settle_date(mention, settings);
  if (mention.impossible || mention.date.is_unknown()) return std::nullopt;
  return mention.date.days();
}

std::int64_t year_of(Day day) { return to_civil(day).year; }

}  // namespace

// Whether the years of a date, whole, hold the anchor.
bool DateContext::is_around(const Edtf& date, const Anchor& anchor) {
  return year_of(date.days().first()) <= year_of(anchor.days.first()) &&
         year_of(date.days().last()) >= year_of(anchor.days.last());
}

void DateContext::begin_manuscript() {
  carried_.clear();
  local_.clear();
  years_.clear();
  default_ = Edtf();
  last_caption_.reset();
  recent_.clear();
  captions_in_a_row_ = 0;
}

void DateContext::set_figure_date(const Edtf& date) {
  if (!date.is_unknown() && is_limited(date.days()))
    figure_date_ = Anchor{date.days(), date.precision(), true, 0, 0};
}

// What a block hands on is here; the rest is set anew for each.
bool DateContext::stands_like(const DateContext& other) const {
  const auto is_same = [](const Anchor& a, const Anchor& b) {
    return a.days == b.days && a.precision == b.precision;
  };
  if (last_caption_.has_value() != other.last_caption_.has_value()) return false;
  if (last_caption_ && !is_same(*last_caption_, *other.last_caption_)) return false;
  return captions_in_a_row_ == other.captions_in_a_row_ && recent_ == other.recent_ &&
         default_.text() == other.default_.text() &&
         std::equal(carried_.begin(), carried_.end(), other.carried_.begin(), other.carried_.end(),
                    is_same);
}

std::optional<DateContext::Anchor> DateContext::anchor_for(Precision coarsest) const {
  used_caption_ = false;
  for (const auto* anchors : {&local_, &carried_}) {
    if (anchors == &carried_ && figure_date_ && figure_date_->precision <= coarsest)
      return figure_date_;
    if (anchors == &carried_ && leans_on_caption_ && last_caption_ &&
        last_caption_->precision <= coarsest) {
      used_caption_ = true;
      return last_caption_;
    }
    // A default speaks of this block, the running text before it of another.
    if (anchors == &carried_ && !default_.is_unknown() && default_.precision() <= coarsest &&
        is_limited(default_.days())) {
      return Anchor{default_.days(), default_.precision(), false, 0, 0};
    }
    for (auto it = anchors->rbegin(); it != anchors->rend(); ++it) {
      if (it->precision <= coarsest) return *it;
    }
  }
  return std::nullopt;
}

// "That year", "the following year": the year last spoken of, even where it was an aside.
std::optional<DateContext::Anchor> DateContext::year_spoken_of() const {
  if (!years_.empty() && (local_.empty() || years_.back().order > local_.back().order)) {
    return years_.back();
  }
  return anchor_for(Precision::kYear);
}

// "In the retreat of 1942 she was lost, on 3 May": the year that the sentence has named. One that
// is only counted from another steers what follows it at once ("the year before, in May"), or goes
// on with the story ("the following year they moved to the coast, in May"); "since that year" does
// neither.
std::optional<DateContext::Anchor> DateContext::year_in_sentence(const DateMention& mention) const {
  constexpr std::uint32_t kAtOnce = 8;
  for (auto year = years_.rbegin(); year != years_.rend(); ++year) {
    if (year->sentence != mention.sentence) break;
    const bool at_once =
        !year->is_bounded && mention.begin >= year->end && mention.begin - year->end <= kAtOnce;
    if (year->counted == DateRef::kNone || year->counted == DateRef::kNext || at_once) return *year;
  }
  return std::nullopt;
}

// Where the block has no finer date before: the year that it has named.
std::optional<DateContext::Anchor> DateContext::year_named_here() const {
  for (auto year = years_.rbegin(); year != years_.rend(); ++year) {
    if (year->counted == DateRef::kNone && !year->is_bounded) return *year;
  }
  return std::nullopt;
}

// "It was the harvest of 1932 that undid the treaty. Prices fell; in October ...": a year that the
// paragraph has named and that lies ahead of what was told before it.
std::optional<DateContext::Anchor> DateContext::year_told_ahead(const Anchor& anchor) const {
  constexpr std::int64_t kFewYears = 5;
  for (auto year = years_.rbegin(); year != years_.rend(); ++year) {
    if (year->counted != DateRef::kNone) continue;
    const std::int64_t ahead = year_of(year->days.first()) - year_of(anchor.days.last());
    const bool is_newer = !anchor.is_local || year->order > anchor.order;
    if (is_newer && ahead > 0 && ahead <= kFewYears) return *year;
    break;
  }
  return std::nullopt;
}

// The first date with a year that comes later, in the sentence or the whole block.
std::optional<DateContext::Anchor> DateContext::dated_later(std::size_t index,
                                                            bool in_sentence) const {
  const auto& mentions = *mentions_;
  for (std::size_t i = index + 1; i < mentions.size(); ++i) {
    if (in_sentence && mentions[i].sentence != mentions[index].sentence) break;
    if (!mentions[i].is_complete || mentions[i].impossible) continue;
    DateMention plain = mentions[i];
    plain.bound = DateBound::kNone;
    settle_date(plain, settings_);
    if (is_limited(plain.date.days())) {
      return Anchor{plain.date.days(), plain.date.precision(), true, plain.sentence, 0};
    }
  }
  return std::nullopt;
}

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

// A named month, season or feast: the year in which it comes nearest to the anchor, on the side
// that the words name.
bool DateContext::fill_named(DateUnit& unit, const Anchor& anchor,
                             const DateMention& mention) const {
  const std::uint32_t sentence = mention.sentence;
  constexpr double kOutOfServiceCost = 1000, kOtherYearCost = 1000;
  const DateRef ref = unit.ref;
  const double backward =
      anchor.is_here && anchor.sentence == sentence ? kBackwardCostInSentence : kBackwardCost;
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
  for (const std::int64_t around : kYearsAround) {
    if (best_year) break;
    for (std::int64_t year = first_year - around; year <= last_year + around; ++year) {
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
        if (gap >= 0) return static_cast<double>(gap);
        const bool is_far = goes_on && -gap > kSmallStepBack;
        return std::max(backward, is_far ? kFarBackwardCost : 0) * static_cast<double>(-gap);
      };
      const Day gap = gap_from(anchor.days);
      if (ref == DateRef::kNext && gap <= 0) continue;
      if (ref == DateRef::kPrevious && gap >= 0) continue;
      double cost = cost_of(gap);
      if (!anchor.is_here && ref == DateRef::kNone && anchor.precision < Precision::kYear) {
        // An aside ("until its loss in February 1945") is no better anchor than the dates around
        // it.
        for (const DaySet& other : recent_) {
          cost = std::min(cost, kOlderCost * cost_of(gap_from(other)));
        }
        if (year == usual_year()) cost *= kUsualYearCost;
      }
      // A year that nobody said here is none in which the machine was not in service.
      const bool is_out =
          days->last() < mention.likely_first || days->first() > mention.likely_last;
      if (!anchor.is_local && ref == DateRef::kNone && is_out) cost += kOutOfServiceCost;
      if (ahead && ref == DateRef::kNone)
        cost = std::min(cost, kAheadCost + cost_of(gap_from(ahead->days)));
      // "Lost in February 1940. The other sank that December": no month of the year before.
      if (ref == DateRef::kSame && unit.season == 0 && year < first_year) cost += kOtherYearCost;
      // The winter of a year is the one that begins in it.
      const bool is_even = cost == best && unit.season != 0;
      if (best_year && cost >= best && !is_even) continue;
      best_year = year;
      best = cost;
    }
  }
  // No year near has such a day: it is the calendar that has not.
  unit.year = best_year.value_or(first_year);
  unit.ref = DateRef::kNone;
  return true;
}

bool DateContext::fill_weekday(DateUnit& unit, const Anchor& anchor) const {
  Day day = unit.ref == DateRef::kPrevious ? anchor.days.first() - 1 : anchor.days.last();
  if (unit.ref == DateRef::kNext) ++day;
  const Day step = unit.ref == DateRef::kPrevious ? -1 : 1;
  while (weekday(day) != static_cast<unsigned>(unit.ref_weekday)) day += step;
  const CivilDate date = to_civil(day);
  unit.year = date.year;
  unit.month = date.month;
  unit.day = date.day;
  unit.ref = DateRef::kNone;
  return true;
}

// "The 14th": of the month spoken of, or of the next when the month has passed that day by far.
bool DateContext::fill_day(DateUnit& unit, bool& inherited) {
  const std::optional<Anchor> anchor = anchor_for(Precision::kMonth);
  if (!anchor || anchor->is_doubtful) return false;
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
  constexpr std::uint32_t kComma = 2;
  const auto& mentions = *mentions_;
  if (index + 1 >= mentions.size()) return nullptr;
  const DateMention& day = mentions[index + 1];
  const DateMention& words = mentions[index];
  const bool is_same_day = words.first.ref == DateRef::kSame && words.joint == DateJoint::kNone &&
                           words.first.ref_period == DatePeriod::kDay;
  const bool is_day = day.is_complete && !day.impossible && day.joint == DateJoint::kNone &&
                      day.bound == DateBound::kNone && day.first.precision == Precision::kDay;
  const bool is_right_behind =
      day.begin >= words.end && day.begin - words.end <= kComma && day.sentence == words.sentence;
  return is_same_day && is_day && is_right_behind ? &day : nullptr;
}

// "That day", "the following month", "the end of the year".
bool DateContext::fill_reference(DateUnit& unit, bool& inherited) {
  const Precision needed =
      unit.ref_period == DatePeriod::kWeek ? Precision::kDay : precision_of(unit.ref_period);
  const std::optional<Anchor> anchor =
      needed == Precision::kYear ? year_spoken_of() : anchor_for(needed);
  if (!anchor || anchor->is_doubtful) return false;
  // "In May 1942, and on the same day": a day of that May, and none that another block told of.
  const bool is_coarser_here = !anchor->is_here && !local_.empty();
  if (is_coarser_here && unit.ref == DateRef::kSame && needed == Precision::kDay) return false;
  const int step = unit.ref == DateRef::kNext ? 1 : unit.ref == DateRef::kPrevious ? -1 : 0;
  inherited = inherited || !anchor->is_local;
  DateMention moved;
  moved.first.offset = step;
  moved.first.offset_period = unit.ref_period;
  moved.first.precision = unit.precision;
  const Edtf from = Edtf::of_day(step < 0 ? anchor->days.first() : anchor->days.last());
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
  if (unit.is_offset()) return false;
  if (unit.year_ref != DateRef::kNone) {
    const std::optional<Anchor> anchor = year_spoken_of();
    if (!anchor) return false;
    const int step = unit.year_ref == DateRef::kNext       ? 1
                     : unit.year_ref == DateRef::kPrevious ? -1
                                                           : 0;
    unit.year = year_of(step < 0 ? anchor->days.first() : anchor->days.last()) + step;
    unit.year_ref = DateRef::kNone;
    inherited = inherited || !anchor->is_local;
    return unit.is_complete();
  }
  if (unit.ref_period != DatePeriod::kNone) {
    // "The day after" for a title: after what, no other block tells.
    const bool is_cut_off = mention.ends_its_phrase && is_caption_ && local_.empty();
    return !is_cut_off && fill_reference(unit, inherited);
  }
  if (unit.ref_weekday >= 0) {
    const std::optional<Anchor> anchor = anchor_for(Precision::kDay);
    inherited = inherited || (anchor && !anchor->is_local);
    return anchor && !anchor->is_doubtful && fill_weekday(unit, *anchor);
  }
  if (unit.precision == Precision::kDay && unit.month == 0 && !unit.from_easter)
    return fill_day(unit, inherited);
  std::optional<Anchor> anchor = anchor_for(Precision::kCentury);
  if (unit.ref == DateRef::kSame) {
    // "Lost in 1942; that autumn": of the year just spoken of, when a year was.
    const std::optional<Anchor> year = year_spoken_of();
    const bool is_known =
        anchor && year && year_of(year->days.first()) == year_of(anchor->days.first());
    if (year && year->precision == Precision::kYear && !is_known) anchor = year;
  }
  std::optional<Anchor> year = year_in_sentence(mention);
  if (!year && (!anchor || !anchor->is_here)) year = year_named_here();
  if (year && !unit.is_relative()) {
    constexpr std::int64_t kNearYears = 5;
    const std::int64_t apart =
        anchor ? year_of(year->days.first()) - year_of(anchor->days.first()) : 0;
    if (apart <= kNearYears && apart >= -kNearYears) anchor = year;
  }
  if (!anchor || !anchor->is_local) {
    std::optional<Anchor> later = dated_later(index, true);
    // A caption tells of its own time before the running text does.
    if (!later && (!anchor || (is_caption_ && unit.ref == DateRef::kNone)))
      later = dated_later(index, false);
    if (later && !unit.is_relative()) {
      anchor = later;
      // What leads up to a dated event lies before it rather than after.
      const CivilDate date = to_civil(later->days.last());
      const unsigned month = unit.season != 0 ? 0 : unit.month;
      if (later->precision <= Precision::kMonth && mention.joint == DateJoint::kNone) {
        unit.year = date.year - (month > date.month ? 1 : 0);
        return true;
      }
    }
  }
  if (!anchor) return false;
  if (!fill_named(unit, *anchor, mention)) return false;
  inherited = inherited || !anchor->is_local;
  return true;
}

// A paragraph that runs through several years, and names no finer date, has moved the story on to
// the last of them.
void DateContext::carry_years(bool has_fine) {
  constexpr std::size_t kSeveral = 3;
  if (has_fine || !local_.empty() || years_.size() < kSeveral) return;
  const Anchor* last = nullptr;
  for (const Anchor& year : years_) {
    if (year.counted != DateRef::kNone || year.is_bounded) continue;
    if (last == nullptr || year.days.first() >= last->days.first()) last = &year;
  }
  if (last != nullptr) local_.push_back(*last);
}

Edtf DateContext::plain_date(const DateMention& mention) const {
  DateMention plain = mention;
  plain.bound = DateBound::kNone;
  if (plain.joint != DateJoint::kFrom) settle_date(plain, settings_);
  return plain.impossible ? Edtf() : plain.date;
}

Edtf DateContext::date_of(const DateUnit& unit) const {
  DateMention alone;
  alone.first = unit;
  return unit.is_complete() ? plain_date(alone) : Edtf();
}

// "Entered under 31 June 1938; it had been lost on the twelfth": of which month, nobody knows.
void DateContext::remember_impossible(const DateMention& mention) {
  constexpr int kMonths = 12;
  const DateUnit& unit = mention.first;
  if (!unit.year || unit.month < 1 || static_cast<int>(unit.month) > kMonths) return;
  Anchor anchor;
  const auto month = static_cast<unsigned>(unit.month);
  anchor.days = DaySet{{to_day({*unit.year, month, 1}),
                        to_day({*unit.year, month, days_in_month(*unit.year, month)})}};
  anchor.is_local = anchor.is_here = anchor.is_doubtful = true;
  anchor.sentence = mention.sentence;
  anchor.order = ++remembered_;
  local_.push_back(anchor);
}

// What the story's place in time is after this date. Years are weak: one around a finer date tells
// nothing new, one in passing ("his 1965 memoirs") moves nothing, a decade places nothing.
void DateContext::remember(const Edtf& date, const DateMention& mention, bool is_heading,
                           bool is_local) {
  if (mention.impossible && mention.joint == DateJoint::kNone) remember_impossible(mention);
  if (date.is_unknown() || !is_limited(date.days()) || mention.is_denied) return;
  // "The last day of 1957" is one day, though its words name a year.
  const bool is_one_day = date.days().first() == date.days().last();
  const bool is_years = mention.first.precision >= Precision::kYear && !is_one_day;
  if (mention.first.precision > Precision::kYear) return;
  const bool leans_on_thing = mention.second.day != 0 && mention.second.month == 0;  // "the first"
  if (mention.joint == DateJoint::kFrom ? leans_on_thing : mention.leans_on_event) return;
  Anchor anchor{date.days(),   is_years ? Precision::kYear : date.precision(),
                is_local,      mention.sentence,
                ++remembered_, mention.end,
                DateRef::kNone};
  const DateUnit& unit = mention.first;
  if (is_years && unit.is_relative()) {
    const bool is_next = unit.ref == DateRef::kNext || unit.offset > 0;
    anchor.counted = is_next && mention.bound == DateBound::kNone ? DateRef::kNext : DateRef::kSame;
  }
  anchor.is_here = true;
  anchor.is_bounded = mention.bound != DateBound::kNone;
  if (is_years && !is_heading) {
    // A year set down in a caption is its own, whatever the running text before told of.
    const std::optional<Anchor> fine =
        is_caption_ && local_.empty() ? std::nullopt : anchor_for(Precision::kSeason);
    const bool is_aside = fine && !mention.opens_sentence;
    if ((mention.first.is_relative() || mention.first.year_ref != DateRef::kNone) || is_aside ||
        (fine && is_around(date, *fine))) {
      years_.push_back(anchor);
      return;
    }
  }
  local_.push_back(anchor);
}

std::vector<ResolvedDate> DateContext::resolve_block(BlockKind kind,
                                                     const std::vector<DateMention>& mentions) {
  std::vector<ResolvedDate> resolved;
  resolved.reserve(mentions.size());
  local_.clear();
  years_.clear();
  is_caption_ = kind == BlockKind::kCaption;
  mentions_ = &mentions;
  for (std::size_t i = 0; i < mentions.size(); ++i) {
    ResolvedDate result;
    DateMention mention = mentions[i];
    // An album has captions only, and one goes on from the other.
    leans_on_caption_ =
        kind == BlockKind::kCaption &&
        (mention.first.is_relative() || (captions_in_a_row_ >= 2 && default_.is_unknown()));
    used_caption_ = false;
    if (const DateMention* day = day_behind(i); day != nullptr) {
      result.date = day->date;
      mention = *day;
    } else if (mention.is_complete) {
      result.date = mention.date;
      result.impossible = mention.impossible;
      result.what = mention.what;
    } else {
      bool known = true;
      if (mention.joint == DateJoint::kFrom) {
        DateMention base;
        base.first = mention.second;
        known = fill(base.first, mention, i, result.inherited);
        if (known) settle_date(base, settings_);
        known = known && settle_offset(mention, base.date, settings_);
      } else if (mention.first.is_offset()) {
        const Precision coarsest = mention.first.offset_period == DatePeriod::kDay ? Precision::kDay
                                   : mention.first.offset_period == DatePeriod::kWeek ||
                                           mention.first.offset_period == DatePeriod::kMonth
                                       ? Precision::kMonth
                                       : Precision::kYear;
        const std::optional<Anchor> anchor =
            coarsest == Precision::kYear ? year_spoken_of() : anchor_for(coarsest);
        if (anchor && !anchor->is_local) result.inherited = true;
        // The anchor's days at its own precision: a month stays a month.
        Edtf from;
        if (anchor && anchor->precision == Precision::kDay) from = Edtf::of_days(anchor->days);
        if (anchor && anchor->precision != Precision::kDay) {
          const std::string first = iso_day(anchor->days.first());
          const Result<Edtf> coarse =
              Edtf::parse(first.substr(0, anchor->precision == Precision::kMonth ? 7 : 4));
          if (coarse) from = coarse.value();
        }
        known = !(anchor && anchor->is_doubtful) && settle_offset(mention, from, settings_);
      } else {
        known = fill(mention.first, mention, i, result.inherited);
        if (known && mention.joint != DateJoint::kNone) {
          const std::vector<Anchor> before = local_;
          const std::vector<Anchor> years_before = years_;
          DateMention first = mention;
          first.joint = DateJoint::kNone;
          remember(plain_date(first), first, false, true);
          known = fill(mention.second, mention, i, result.inherited);
          local_ = before;
          years_ = years_before;
        }
        if (known) settle_date(mention, settings_);
      }
      if (known) {
        result.date = mention.impossible ? Edtf() : mention.date;
        result.impossible = mention.impossible;
        result.what = mention.what;
      }
      if (!known || mention.impossible) {
        if (known) remember_impossible(mention);
        resolved.push_back(std::move(result));
        continue;
      }
    }
    result.plain = plain_date(mention);
    result.from_caption = used_caption_;
    if (mentions[i].joint != DateJoint::kNone && mentions[i].joint != DateJoint::kFrom) {
      result.first = date_of(mention.first);
      result.second = date_of(mention.second);
    } else if (mention.first.last_year && mention.first.precision == Precision::kYear) {
      DateUnit year = mention.first;
      std::swap(year.year, year.last_year);
      year.last_year.reset();
      result.second = date_of(year);
      year.year = mention.first.year;
      result.first = date_of(year);
    }
    // What rests on an inherited year is inherited too.
    remember(result.plain, mentions[i], kind == BlockKind::kHeading, !result.inherited);
    resolved.push_back(std::move(result));
  }
  leans_on_caption_ = false;
  figure_date_.reset();
  std::erase_if(local_, [](const Anchor& anchor) { return anchor.is_doubtful; });
  const bool is_dated = std::any_of(local_.begin(), local_.end(), [](const Anchor& anchor) {
    return anchor.precision < Precision::kYear;
  });
  if (kind == BlockKind::kCaption && is_dated) ++captions_in_a_row_;
  if (kind == BlockKind::kHeading || (kind == BlockKind::kBody && is_dated)) captions_in_a_row_ = 0;
  for (const Anchor& anchor : local_) {
    if (anchor.precision < Precision::kYear && kind != BlockKind::kTableRow)
      recent_.push_back(anchor.days);
  }
  if (recent_.size() > kMostRecent) recent_.erase(recent_.begin(), recent_.end() - kMostRecent);
  if (kind == BlockKind::kCaption && !local_.empty()) {
    last_caption_ = local_.front();
    last_caption_->is_local = last_caption_->is_here = false;
  }
  if (kind == BlockKind::kHeading || kind == BlockKind::kBody) {
    // Where the story stands is told by its finest dates; its years may be asides.
    const bool has_fine = std::any_of(local_.begin(), local_.end(), [](const Anchor& anchor) {
      return anchor.precision < Precision::kYear;
    });
    if (has_fine) last_caption_.reset();
    carry_years(has_fine);
    for (const Anchor& anchor : local_) {
      if (!has_fine || anchor.precision < Precision::kYear) carried_.push_back(anchor);
    }
    if (carried_.size() > kMostCarried) {
      carried_.erase(carried_.begin(), carried_.end() - kMostCarried);
    }
    for (Anchor& anchor : carried_) anchor.is_local = anchor.is_here = false;
  }
  mentions_ = nullptr;
  return resolved;
}

}  // namespace tailproof
