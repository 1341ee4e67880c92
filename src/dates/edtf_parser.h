// Reader of the EDTF grammar; see tailproof/edtf.h for what it accepts.
#pragma once

#include <optional>
#include <string>
#include <string_view>

#include "tailproof/edtf.h"

namespace tailproof {

inline std::string quoted(std::string_view text) { return '"' + std::string(text) + '"'; }

/// Days and qualification of one date: what stands on one side of "/" or between two commas.
struct EdtfPiece {
  DaySet days;
  bool approximate = false;
  bool uncertain = false;
  Precision precision = Precision::kDay;
  Precision margin = Precision::kDay;  // the finest component that is approximate
};

/// One date (no interval, no set). Nothing when it is none; `problem` then says which piece and
/// what was expected.
[[nodiscard]] std::optional<EdtfPiece> parse_edtf_date(std::string_view text, Hemisphere hemisphere,
                                                       std::string& problem);

}  // namespace tailproof
