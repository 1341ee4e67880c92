// What the ledger's words for a machine's fate say.
#pragma once

#include <algorithm>
#include <string_view>

#include "grammars/fold.h"
#include "grammars/grammars.h"

namespace tailproof {

/// Whether a word of the fate is in the list, with a value for which `is_meant` (string_view ->
/// bool) is true.
template <typename IsMeant>
[[nodiscard]] bool tells_fate(std::string_view fate, const WordList* list,
                              const IsMeant& is_meant) {
  while (list != nullptr && !fate.empty()) {
    const std::size_t end = std::min(fate.find_first_of(" ,;:."), fate.size());
    const std::string_view value = list->value_of(fold(fate.substr(0, end)));
    if (!value.empty() && is_meant(value)) return true;
    fate.remove_prefix(std::min(end + 1, fate.size()));
  }
  return false;
}

}  // namespace tailproof
