// The style sheet and the script of the query sheet; generated from sheet_style.css and
// sheet_script.js by embed_sheet.cmake.
#pragma once

#include <string_view>

namespace tailproof {

struct SheetPart {
  std::string_view text;
  std::string_view sha256;  // of the text, in hexadecimal
};
[[nodiscard]] SheetPart sheet_style();
[[nodiscard]] SheetPart sheet_script();

}  // namespace tailproof
