// What one rule hands to another while a block is read.
#pragma once

#include <cstdint>
#include <string>
#include <vector>

#include "mentions/mention.h"
#include "tailproof/claim.h"

namespace tailproof {

/// Serials, people, positions: what claims are about, and where.
using NameList = std::vector<std::string>;

/// Of several machines in a row the last, where others are counted from 0.
inline constexpr std::uint32_t kLastPick = 0xFFFFFFFE;

/// A stretch of a record card.
struct Part {
  std::uint32_t first = 0, last = 0;  // tokens
};

/// Somebody's unit; `person` is null for a unit that no person has.
struct PersonsUnit {
  const Mention* person = nullptr;
  std::string role = "member";
  Tense tense = Tense::kThen;
  std::string why;
};

/// Of whom or what the words before an event tell.
enum class Told : std::uint8_t { kNothing, kMachine, kPerson, kOther };

/// A size in a row of them, with its words.
struct Size {
  Mention words;
  Measure measure;
  std::string value;  // "30 in"
};

/// Names of the diameters in `rings`, outermost first: "maroon" and "white" of "maroon 8;white 4";
/// none where a name has several words or is missing, or where they are no diameters (the bars of a
/// flag).
[[nodiscard]] std::vector<std::string> diameter_names(std::string_view rings);

/// Whether `rings` has two diameters or more, one within another.
[[nodiscard]] bool has_diameters(std::string_view rings);

/// A number without a unit, token `at` of the block, which has that of another measure of its row.
[[nodiscard]] Size bare_size(const Token& token, std::uint32_t at, const std::string& unit);

}  // namespace tailproof
