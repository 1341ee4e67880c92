#pragma once

// What a number or a place among a kind is told of, while a block is read.
#include <string>

#include "claims/assembler.h"

namespace tailproof {

struct BlockAssembler::Serials {
  std::uint32_t first = 0, last = 0;  // tokens
  const Mention* low = nullptr;
  const Mention* high = nullptr;
};

struct BlockAssembler::Counted {
  std::uint32_t first = 0, noun = 0, last = 0;  // tokens; no noun where `noun` equals `last`
  bool is_plural = false;                       // the noun
  bool is_total = false;                        // "and last": the number is how many there are
  Count count;
  [[nodiscard]] bool has_noun() const { return noun < last; }
};

/// " Plover Mk I" behind the number; "" where no type is told.
[[nodiscard]] inline std::string named(const Count& count) {
  if (count.type.empty()) return "";
  return " " + count.type + (count.mark.empty() ? "" : " ") + count.mark;
}

}  // namespace tailproof
