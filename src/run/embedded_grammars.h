// The grammars that are part of the program; packed by the build (embed/embed_grammars.cc).
#pragma once

#include <vector>

#include "grammars/grammars.h"

namespace tailproof {

/// In order of name.
[[nodiscard]] std::vector<GrammarText> embedded_grammars();

}  // namespace tailproof
