// Numbers of figures and plates in a form that can be compared: "Fig. 3", "Figure 3" and "3" are
// one, plates, maps and tables are series of their own. Numbers that carry a chapter ("2.1") stand
// as they are, Roman ones as digits.
#pragma once

#include <string>
#include <string_view>
#include <vector>

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

}  // namespace tailproof
