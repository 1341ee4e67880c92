// Numbers of figures and plates in a form that can be compared: "Fig. 3", "Figure 3" and "3" are
// one, plates, maps and tables are series of their own. Numbers that carry a chapter ("2.1") stand
// as they are, with an appendix's letter before a point ("A.1", "A1"), Roman ones as digits.
#pragma once

#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "tailproof/manuscript.h"

namespace tailproof {

struct FigureKey {
  std::string series;  // "fig", "plate", "photo", "map", "table", "profile", "drawing"
  std::string number;  // "3", "2.1", "3a"

  friend bool operator==(const FigureKey&, const FigureKey&) = default;
  friend auto operator<=>(const FigureKey&, const FigureKey&) = default;
};

/// Every number that a label or reference names: "Figs. 2.1 and 2.3" gives two. Empty for pages,
/// chapters and whatever else is no series of pictures.
[[nodiscard]] std::vector<FigureKey> figure_keys(std::string_view label);

/// The numbers of captions. A label without a word ("60", as DocBook has them) is a figure's; in
/// manuscripts whose other captions are all of one series, plates for instance, and which together
/// with those are numbered without a gap and without a number twice, it is of that series.
class FigureSeries {
 public:
  explicit FigureSeries(std::span<const Manuscript> manuscripts);
  /// As figure_keys, of a caption's label.
  [[nodiscard]] std::vector<FigureKey> keys_of_caption(std::string_view label) const;

 private:
  std::string bare_ = "fig";
};

}  // namespace tailproof
