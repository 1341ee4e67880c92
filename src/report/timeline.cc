#include "report/timeline.h"

#include <fmt/format.h>

#include <algorithm>
#include <optional>

#include "report/html_text.h"
#include "tailproof/verdict.h"

namespace tailproof {

namespace {

constexpr double kWidth = 760;
constexpr double kLabels = 250;  // where the axis begins
constexpr double kRight = 750;
constexpr double kTop = 40;  // room for the claimed date and the years
constexpr double kLane = 22;
constexpr double kBar = 11;
constexpr std::size_t kLabelLength = 30;

bool is_finite(Day day) { return day > kFirstDay && day < kLastDay; }

/// The days that the drawing covers.
struct Window {
  Day first = kLastDay;
  Day last = kFirstDay;

  void take(Day day) {
    if (is_finite(day)) {
      first = std::min(first, day);
      last = std::max(last, day);
    }
  }
  void take_ends(const DaySet& days) {
    for (const DayRange& range : days.ranges()) {
      take(range.first);
      take(range.last);
    }
  }
  [[nodiscard]] double x(Day day) const {
    const Day at = std::clamp(day, first, last + 1);
    return kLabels + (kRight - kLabels) * static_cast<double>(at - first) /
                         static_cast<double>(last + 1 - first);
  }
};

Window window_of(const Timeline& timeline) {
  Window window;
  window.take_ends(timeline.days);
  for (const Lane& lane : timeline.lanes) {
    if (lane.is_quoted) {
      window.take_ends(lane.row.possible);
    }
  }
  // Air at both ends, so that a lane that goes on is seen to.
  const Day air = std::max<Day>(20, (window.last - window.first) / 6);
  window.first -= air;
  window.last += air;
  return window;
}

/// Months from year 0 of the first of a month, and back.
Day first_of_month(std::int64_t month) {
  return to_day(CivilDate{month / 12, static_cast<unsigned>(month % 12 + 1), 1});
}

/// How many months lie between two ticks, so that there are at most a dozen.
std::int64_t months_between_ticks(const Window& window) {
  const double months = static_cast<double>(window.last - window.first) / 30.44;
  for (const std::int64_t step : {1, 3, 6, 12, 24, 60, 120}) {
    if (months / static_cast<double>(step) <= 9) {
      return step;
    }
  }
  return 240;
}

std::string tick_label(std::int64_t month, std::int64_t step) {
  constexpr std::string_view kMonths[] = {"Jan", "Feb", "Mar", "Apr", "May", "Jun",
                                          "Jul", "Aug", "Sep", "Oct", "Nov", "Dec"};
  const std::int64_t year = month / 12;
  return step >= 12 ? fmt::format("{}", year)
                    : fmt::format("{} {}", kMonths[static_cast<std::size_t>(month % 12)], year);
}

std::string ticks(const Window& window, double bottom) {
  const std::int64_t step = months_between_ticks(window);
  const CivilDate begin = to_civil(window.first);
  std::int64_t month = (begin.year * 12 + static_cast<std::int64_t>(begin.month) - 1) / step * step;
  std::string svg;
  for (;; month += step) {
    const Day day = first_of_month(month);
    if (day > window.last) {
      return svg;
    }
    if (day < window.first) {
      continue;
    }
    const double x = window.x(day);
    svg += fmt::format(R"(<line class="tick" x1="{0:.1f}" y1="{1}" x2="{0:.1f}" y2="{2:.1f}"/>)", x,
                       kTop - 6, bottom);
    if (x < kRight - 52) {
      svg += fmt::format(R"(<text class="year" x="{:.1f}" y="{}">{}</text>)", x + 2, kTop - 8,
                         tick_label(month, step));
    }
  }
}

std::string bars(const Window& window, const DaySet& days, double y, double height,
                 std::string_view name) {
  std::string svg;
  for (const DayRange& range : days.ranges()) {
    if (range.last < window.first || range.first > window.last) {
      continue;
    }
    const double left = window.x(range.first);
    const double right = range.last >= window.last ? kRight : window.x(range.last + 1);
    svg += fmt::format(R"(<rect class="{}" x="{:.1f}" y="{:.1f}" width="{:.1f}" height="{:.1f}"/>)",
                       name, left, y, std::max(2.0, right - left), height);
  }
  return svg;
}

/// A point at each end that lies outside the picture.
std::string arrows(const Window& window, const DaySet& days, double middle) {
  std::string svg;
  if (days.empty()) {
    return svg;
  }
  if (days.first() < window.first && days.last() >= window.first) {
    svg += fmt::format(R"(<path class="more" d="M{:.1f} {:.1f}l7 -6v12z"/>)", kLabels - 1, middle);
  }
  if (days.last() > window.last && days.first() <= window.last) {
    svg += fmt::format(R"(<path class="more" d="M{:.1f} {:.1f}l-7 -6v12z"/>)", kRight + 1, middle);
  }
  return svg;
}

std::string lane_svg(const Window& window, const Lane& lane, double y) {
  const std::string_view name =
      lane.is_bracket ? "lane bracketed" : (lane.is_quoted ? "lane quoted" : "lane");
  std::string svg = fmt::format(R"(<g class="{}"><title>{}: {}</title>)", name,
                                html(lane.row.label), html(in_words(lane.row.possible)));
  svg += fmt::format(R"(<text class="label" x="{}" y="{:.1f}">{}</text>)", kLabels - 12,
                     y + kBar - 1, html(shortened(lane.row.label, kLabelLength)));
  if (lane.is_bracket) {
    return svg + bars(window, lane.row.possible, y, kBar, "bracket") +
           arrows(window, lane.row.possible, y + kBar / 2) + "</g>";
  }
  svg += bars(window, lane.row.possible, y + 2.5, kBar - 5, "possible");
  svg += bars(window, lane.row.certain, y, kBar, "certain");
  svg += arrows(window, lane.row.possible, y + kBar / 2);
  return svg + "</g>";
}

std::string description_of(const Timeline& timeline) {
  std::string words = "as captioned: " + timeline.claimed;
  for (const Lane& lane : timeline.lanes) {
    words += "; " + lane.row.label + ": " + in_words(lane.row.possible);
  }
  return words;
}

}  // namespace

bool is_drawable(const Timeline& timeline) {
  const auto has_end = [](const DaySet& days) {
    return !days.empty() && (is_finite(days.first()) || is_finite(days.last()));
  };
  return has_end(timeline.days) &&
         std::any_of(timeline.lanes.begin(), timeline.lanes.end(), [&](const Lane& lane) {
           return lane.is_quoted && has_end(lane.row.possible);
         });
}

std::string timeline_svg(const Timeline& whole) {
  const Window window = window_of(whole);
  Timeline timeline = whole;
  std::erase_if(timeline.lanes, [&](const Lane& lane) {
    return !lane.is_quoted &&
           !lane.row.possible.intersects(DaySet{DayRange{window.first, window.last}});
  });
  const double bottom = kTop + kLane * static_cast<double>(timeline.lanes.size());
  std::string svg = fmt::format(
      R"(<svg class="strip" viewBox="0 0 {0} {1:.0f}" role="img" aria-labelledby="{2}-t {2}-d">)"
      R"(<title id="{2}-t">{3} in time</title><desc id="{2}-d">{4}</desc>)",
      kWidth, bottom + 4, timeline.id, html(timeline.heading), html(description_of(timeline)));
  svg += ticks(window, bottom);
  double y = kTop + 4;
  for (const Lane& lane : timeline.lanes) {
    svg += lane_svg(window, lane, y);
    y += kLane;
  }
  svg += bars(window, timeline.days, kTop - 6, bottom - kTop + 6, "claimed");
  const double middle = (window.x(timeline.days.first()) + window.x(timeline.days.last())) / 2;
  svg += fmt::format(R"(<text class="says" x="{:.1f}" y="12">as captioned: {}</text>)",
                     std::clamp(middle, kLabels + 60, kRight - 110),
                     html(shortened(timeline.claimed, kLabelLength)));
  return svg + "</svg>";
}

}  // namespace tailproof
