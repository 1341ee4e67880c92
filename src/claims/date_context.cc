#include "claims/date_context.h"

#include <algorithm>
#include <utility>

namespace tailproof {
namespace {

// Between two dates so far apart every month has come more than once.
constexpr Day kTwelveMonths = 365;
// Of the dates read before the last.
constexpr std::size_t kMostRecent = 5;
constexpr std::size_t kMostCarried = 16;

bool is_limited(const DaySet& days) {
  return !days.empty() && days.first() > kFirstDay && days.last() < kLastDay;
}

// "From March to November of that year": what is said of the second is meant of both.
bool is_year_told_with_second(const DateMention& mention) {
  const DateUnit& first = mention.first;
  return mention.joint == DateJoint::kRange && !first.year && !first.is_relative() &&
         first.month != 0 && first.year_ref == DateRef::kNone &&
         mention.second.year_ref != DateRef::kNone && mention.second.month != 0;
}

std::int64_t year_of_first(const DateMention& mention) {
  return *mention.second.year - (mention.first.month > mention.second.month ? 1 : 0);
}

}  // namespace

// "He left it in January 1944, a year and nine months earlier.": what is counted so, at the end of
// the statement, is the date that stands right before it once more.
std::optional<Edtf> DateContext::day_restated(std::size_t index,
                                              const std::vector<ResolvedDate>& resolved) const {
  constexpr std::uint32_t kComma = 2;
  const auto& mentions = *mentions_;
  if (index == 0) return std::nullopt;
  const DateMention& words = mentions[index];
  const DateMention& date = mentions[index - 1];
  // "4 July 1944, the day after."
  const bool is_step = words.first.ref_period != DatePeriod::kNone &&
                       (words.first.ref == DateRef::kNext || words.first.ref == DateRef::kPrevious);
  const bool is_counted = (words.first.is_offset() || is_step) && words.joint == DateJoint::kNone &&
                          (words.ends_its_phrase || words.is_apposed) && !words.leans_on_event &&
                          !words.is_from_picture;
  const bool is_right_before = words.begin > date.end && words.begin - date.end <= kComma;
  if (!is_counted || !is_right_before || date.first.is_relative()) return std::nullopt;
  const Edtf& told = resolved.back().date;
  if (told.is_unknown()) return std::nullopt;
  return told;
}

// Whether the years of a date, whole, hold the anchor.
bool DateContext::is_around(const Edtf& date, const Anchor& anchor) {
  return year_of(date.days().first()) <= year_of(anchor.days.first()) &&
         year_of(date.days().last()) >= year_of(anchor.days.last());
}

// Whether a heading stands between the anchor and this block.
bool DateContext::is_of_other_section(const Anchor& anchor) const {
  return !anchor.is_here && anchor.order != 0 && anchor.section != section_;
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

// "Seen in July 1941. With the Second since June 1936, it was lost on 6 October"; "the Third was
// formed in April 1938 under Pell, who had joined in May 1936; Voss came in June": what is told
// behind such an aside goes on from what stood before it.
bool DateContext::is_background(const Anchor& anchor, const DateMention& mention) const {
  if (local_.empty()) return false;
  const Anchor& told = is_caption_ ? local_.front() : local_.back();
  if (told.is_background) return false;
  if (mention.is_reason && mention.aside_end != 0) return true;
  if (anchor.days.last() >= told.days.first()) return false;
  const bool is_since = mention.bound == DateBound::kSince;
  if (!is_caption_) return mention.aside_end != 0 && (mention.is_told_back || is_since);
  const bool is_range = mention.joint == DateJoint::kRange;
  // "The ring ordered five weeks earlier".
  const bool is_counted_back = mention.first.offset < 0;
  return mention.is_told_back || is_range || is_counted_back || mention.is_of_make || is_since ||
         mention.bound == DateBound::kBy;
}

bool DateContext::is_passed_over(const Anchor& anchor) const {
  if (!anchor.is_background || filled_ == nullptr || filled_->is_told_back) return false;
  // "A Tern of 1937, it was lost in May"; "a Tern of 1937, ten years later".
  if (anchor.is_of_make) return !filled_->first.is_offset();
  if (anchor.aside_end != 0) return filled_->begin >= anchor.aside_end;
  return filled_->sentence != anchor.sentence || anchor.is_told_back;
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
      if (it->precision > coarsest || is_passed_over(*it)) continue;
      // "The Danish years, 1618-24" heads what goes on from the day told of before it.
      if (it->days.last() - it->days.first() <= kTwelveMonths) return *it;
      const auto inside = std::find_if(it, anchors->rend(), [&](const Anchor& finer) {
        return finer.precision < Precision::kYear && finer.days.first() >= it->days.first() &&
               finer.days.last() <= it->days.last();
      });
      return anchors == &carried_ && inside != anchors->rend() ? *inside : *it;
    }
  }
  return std::nullopt;
}

// "That year", "the following year": the year last spoken of, even where it was an aside.
std::optional<DateContext::Anchor> DateContext::year_spoken_of() const {
  const auto year = std::find_if(years_.rbegin(), years_.rend(),
                                 [](const Anchor& one) { return !one.is_look_back; });
  if (year != years_.rend() && (local_.empty() || year->order > local_.back().order)) return *year;
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
    if (year->is_look_back) continue;
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

// "On 5 December ...; from the 14th until 20 March 1943": of that December.
void DateContext::lean_first(DateMention& mention) const {
  const std::optional<Anchor> anchor = anchor_for(Precision::kDay);
  if (!anchor || !anchor->is_local) return;
  const CivilDate told = to_civil(anchor->days.last());
  DateMention earlier = mention;
  earlier.first.year = told.year;
  earlier.first.month = told.month;
  settle_date(earlier, settings_);
  constexpr Day kMonths = 200;
  const bool is_later = !earlier.impossible && !earlier.date.is_unknown() &&
                        earlier.date.days().first() >= anchor->days.last() &&
                        earlier.date.days().last() - earlier.date.days().first() < kMonths;
  if (is_later) mention = earlier;
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

// "With the New Year of 1943 ..., and on the 26th": a day of the time that this block has named,
// if of any, and none that is counted from another block's.
bool DateContext::is_from_another_block(const Anchor& anchor) const {
  const bool is_carried = !anchor.is_here && !anchor.is_local && anchor.order != 0;
  return is_carried && !used_caption_ && !local_.empty() && !is_caption_;
}

Edtf DateContext::plain_date(const DateMention& mention) const {
  if (mention.is_complete && mention.bound == DateBound::kNone)
    return mention.impossible ? Edtf() : mention.date;
  DateMention plain = mention;
  plain.bound = DateBound::kNone;
  // "A month after" that only says a date again is none by itself.
  const bool has_second = plain.joint != DateJoint::kNone && plain.joint != DateJoint::kFrom;
  if (plain.joint != DateJoint::kFrom &&
      (!plain.first.is_complete() || (has_second && !plain.second.is_complete())))
    return {};
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
  const bool is_of_one_year = mention.joint == DateJoint::kNone ||
                              (mention.second.year && mention.second.year == mention.first.year);
  if (mention.impossible && is_of_one_year) remember_impossible(mention);
  if (date.is_unknown() || !is_limited(date.days()) || mention.is_denied) return;
  // "The last day of 1957" is one day, though its words name a year.
  const bool is_one_day = date.days().first() == date.days().last();
  constexpr Day kFewMonths = 100;  // "the New Year of 1943"
  const bool is_short = date.days().last() - date.days().first() < kFewMonths;
  const bool is_years = mention.first.precision >= Precision::kYear && !is_one_day && !is_short;
  if (mention.first.precision > Precision::kYear || mention.is_as_spoken || mention.is_of_issue)
    return;
  // "Where it had stood before the summer offensive": an aside to what is known already.
  const bool is_beside = mention.bound == DateBound::kBefore || mention.bound == DateBound::kAfter;
  if (mention.is_before_happening && is_beside) return;
  // "The number had been applied a month earlier", "had gone inland the June before": told back, it
  // moves nothing.
  const bool is_back = mention.first.offset < 0 || mention.first.ref == DateRef::kPrevious;
  if (mention.is_told_back && is_back) return;
  const bool leans_on_thing = mention.second.day != 0 && mention.second.month == 0;  // "the first"
  if (mention.joint == DateJoint::kFrom ? leans_on_thing : mention.leans_on_event) return;
  Anchor anchor{date.days(),
                is_years                                           ? Precision::kYear
                : is_short && date.precision() >= Precision::kYear ? Precision::kMonth
                                                                   : date.precision(),
                is_local,
                mention.sentence,
                ++remembered_,
                mention.end,
                DateRef::kNone};
  const DateUnit& unit = mention.first;
  if (is_years && unit.is_relative()) {
    const bool is_next = unit.ref == DateRef::kNext || unit.offset > 0;
    anchor.counted = is_next && mention.bound == DateBound::kNone ? DateRef::kNext : DateRef::kSame;
  }
  anchor.is_here = true;
  anchor.aside_end = mention.aside_end;
  anchor.is_background = is_background(anchor, mention);
  anchor.is_told_back = mention.is_told_back && is_caption_;
  anchor.is_of_make = mention.is_of_make;
  anchor.section = section_;
  anchor.is_bounded = mention.bound != DateBound::kNone;
  if (is_years && !is_heading) {
    // A year set down in a caption is its own, whatever the running text before told of.
    const std::optional<Anchor> fine =
        is_caption_ && local_.empty() ? std::nullopt : anchor_for(Precision::kSeason);
    const bool is_aside = fine && !mention.opens_sentence;
    // "In the next year there were three. X14 was lost on 18 June": the story goes on in it.
    const bool goes_on = unit.ref == DateRef::kNext && mention.opens_sentence && !is_caption_ &&
                         mention.bound == DateBound::kNone && !mention.is_told_back;
    if (((mention.first.is_relative() && !goes_on) || mention.first.year_ref != DateRef::kNone) ||
        is_aside || (fine && is_around(date, *fine))) {
      // "By the autumn of 1942 one was left of those that had come in 1937, for X had gone in
      // June".
      anchor.is_look_back = mention.is_told_back && !unit.is_relative() && !local_.empty() &&
                            local_.back().sentence == mention.sentence &&
                            year_of(local_.back().days.first()) > year_of(date.days().last());
      years_.push_back(anchor);
      return;
    }
  }
  // "In March they were three thousand, by December sixty": the story stands at March.
  const bool is_outlook = mention.bound == DateBound::kBy && !mention.opens_sentence &&
                          anchor.precision >= Precision::kMonth && !local_.empty() &&
                          local_.back().sentence == mention.sentence && !is_caption_;
  // "X12 had gone to the School the previous spring": an aside, and the story stays where it was.
  const bool is_told_of_before =
      mention.is_told_back && unit.ref == DateRef::kPrevious && !local_.empty() && !is_caption_;
  // "X12, which he had flown since the spring of 1940, went to the Depot in June": nor has this
  // moved it.
  const bool is_lasting_aside =
      mention.is_told_back && mention.bound == DateBound::kSince && !is_caption_;
  if (is_lasting_aside && local_.empty() && !carried_.empty()) return;
  const bool is_aside = is_told_of_before || (is_lasting_aside && !local_.empty());
  local_.insert(is_outlook || is_aside ? local_.end() - 1 : local_.end(), anchor);
}

std::vector<ResolvedDate> DateContext::resolve_block(BlockKind kind,
                                                     const std::vector<DateMention>& mentions) {
  std::vector<ResolvedDate> resolved;
  resolved.reserve(mentions.size());
  local_.clear();
  years_.clear();
  is_caption_ = kind == BlockKind::kCaption;
  if (kind == BlockKind::kHeading) ++section_;
  mentions_ = &mentions;
  for (std::size_t i = 0; i < mentions.size(); ++i) {
    ResolvedDate result;
    DateMention mention = mentions[i];
    filled_ = &mentions[i];
    // An album has captions only, and one goes on from the other.
    leans_on_caption_ =
        kind == BlockKind::kCaption &&
        (mention.first.is_relative() || (captions_in_a_row_ >= 2 && default_.is_unknown()));
    used_caption_ = false;
    const DateMention* day = day_behind(i);
    if (day != nullptr && !day->is_complete) mention = *day;
    if (const std::optional<Edtf> same = day_restated(i, resolved); same) {
      result.date = *same;
    } else if (day != nullptr && day->is_complete) {
      result.date = day->date;
      mention = *day;
    } else if (mention.is_complete) {
      if (mention.first_may_lean) lean_first(mention);
      result.date = mention.date;
      result.impossible = mention.impossible;
      result.what = mention.what;
    } else {
      bool known = true;
      // "When the squadron formed and from November of that year, ... in 1938": a year that the
      // ledger may know, and neither that of another picture nor the one to come.
      const bool is_of_untold_year =
          is_caption_ && local_.empty() && mention.first.year_ref == DateRef::kSame &&
          mention.first.precision < Precision::kYear && dated_later(i, true).has_value();
      if (is_of_untold_year) {
        known = false;
      } else if (mention.joint == DateJoint::kFrom) {
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
        // "It got its 6 in July. Four months after the photograph": the day that it began with.
        const bool is_from_picture = mention.is_from_picture && is_caption_ && !local_.empty();
        std::optional<Anchor> anchor = is_from_picture ? std::optional<Anchor>(local_.front())
                                       : coarsest == Precision::kYear ? year_spoken_of()
                                                                      : anchor_for(coarsest);
        if (is_from_picture && anchor->precision > coarsest) anchor.reset();
        if (anchor && is_from_another_block(*anchor)) anchor.reset();
        // "Four days later they shot X12 down", behind a figure of another day: from which of the
        // two, nobody knows.
        const bool is_past_figure =
            anchor && !anchor->is_here && !is_caption_ && captions_in_a_row_ > 0;
        // "Twelve years on", for a title: no picture is counted in years from another.
        const bool is_title =
            is_caption_ && local_.empty() && mention.begin == 0 && coarsest == Precision::kYear;
        // "Six weeks on", for a title: on from the figure before, and not from the day that the
        // caption below it tells.
        const bool is_of_figure = is_caption_ && local_.empty() && figure_date_.has_value();
        if (is_past_figure || is_title || is_of_figure) anchor.reset();
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
      } else if (is_year_told_with_second(mention)) {
        known = fill(mention.second, mention, i, result.inherited);
        if (known) mention.first.year = year_of_first(mention);
        if (known) settle_date(mention, settings_);
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
        // "4 August 1939. It had it from the 7th until 26 January of the next year".
        if (known && mention.first_may_lean) lean_first(mention);
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
  filled_ = nullptr;
  figure_date_.reset();
  std::erase_if(local_, [](const Anchor& anchor) { return anchor.is_doubtful; });
  const bool is_dated = std::any_of(local_.begin(), local_.end(), [](const Anchor& anchor) {
    return anchor.precision < Precision::kYear;
  });
  if (kind == BlockKind::kCaption && is_dated) ++captions_in_a_row_;
  if (kind == BlockKind::kHeading || (kind == BlockKind::kBody && is_dated)) captions_in_a_row_ = 0;
  // "1940" over the entries of a year: those of the year before have been told.
  if (kind == BlockKind::kHeading && !local_.empty()) recent_.clear();
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
