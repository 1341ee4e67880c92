// Labels at the start of a text: "Fig. 3.", "[Figure 2.1:", "Plate IV -", "Table 4.".
#pragma once

#include <cstdint>
#include <optional>
#include <string>
#include <string_view>

namespace tailproof {

/// A label of a figure found at the start of a text.
struct FigureLabel {
  std::string label;  // with normal spacing and capitals: "Fig. 3", "Plate 2", "Figure 2.1"
  std::size_t number_end = 0;  // offset behind the number
  bool punctuated = false;     // a full stop, colon, dash or closing bracket follows, or nothing
  bool bracketed = false;      // an opening square bracket stands before it
};

/// The words are fig, figure, plate, photo, photograph and caption, in any case; the number is
/// Arabic ("3", "2.1", "12a") or Roman in capitals. Leading blanks are skipped.
[[nodiscard]] std::optional<FigureLabel> leading_figure_label(std::string_view text);

/// A text that begins like a caption: the label is punctuated, so that "Fig. 11 is the only view"
/// is prose.
[[nodiscard]] bool begins_caption(std::string_view text);

/// Whether the whole text of a table's cell says that it is that of the cell above: `"`, "do.".
[[nodiscard]] bool is_ditto(std::string_view cell);

/// Whether a text is a table's caption: "Table 4. The boats".
[[nodiscard]] bool begins_table_caption(std::string_view text);

}  // namespace tailproof
