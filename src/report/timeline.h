// A drawing of dates: what the text claims against what the evidence allows, in inline SVG.
#pragma once

#include <string>
#include <vector>

#include "report/dated_rows.h"

namespace tailproof {

/// One line of the drawing.
struct Lane {
  DatedRow row;
  bool is_quoted = false;   // a query rests on it; the others are there to orient the eye
  bool is_bracket = false;  // what all evidence but the claimed date allows
};

struct Timeline {
  std::string id;       // unique in the page; letters, digits, hyphens
  std::string subject;  // whose, as queries name it: "V/101", "3"
  std::string heading;  // the same for readers: "V/101", "Figure 3"
  std::string claimed;  // the claimed date in words
  DaySet days;          // the same in days
  std::vector<Lane> lanes;
};

/// Whether a drawing would show anything: the claimed days have an end, and a quoted lane too.
[[nodiscard]] bool is_drawable(const Timeline& timeline);

/// The drawing as one svg element, with a text that says the same. Styles stand in the page; lanes
/// without an end run out of the picture.
[[nodiscard]] std::string timeline_svg(const Timeline& timeline);

}  // namespace tailproof
