// The grammars that are part of the program; generated from grammars/ by embed_grammars.cmake.
#pragma once

#include <vector>

#include "grammars/grammars.h"

namespace tailproof {

/// In order of name.
[[nodiscard]] std::vector<GrammarText> embedded_grammars();

}  // namespace tailproof
