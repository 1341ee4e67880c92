// What the ledger has of a machine's events of one family: the days that its rows allow, and what
// each row tells.
#pragma once

#include <algorithm>
#include <initializer_list>
#include <string>
#include <string_view>
#include <vector>

#include "tailproof/allowed_days.h"
#include "tailproof/check.h"

namespace tailproof {

[[nodiscard]] inline bool is_kind_in(std::string_view word,
                                     std::initializer_list<std::string_view> words) {
  return std::find(words.begin(), words.end(), word) != words.end();
}

/// The ends that others, or the elements, put to a machine.
[[nodiscard]] inline bool is_end_kind(std::string_view kind) {
  return is_kind_in(kind, {"lost", "captured", "interned"});
}

/// An event's kind as a sentence has it: "taken on charge".
[[nodiscard]] std::string in_plain(std::string_view kind);

/// Whether the `detail` of a repaint row ("KEY; KEY @ POSITION") names the marking.
[[nodiscard]] bool names_marking(std::string_view detail, std::string_view marking);

/// One row, and how it is told.
struct ToldRow {
  DaySet days;
  Evidence row;
  std::string words;  // "lost on 22 November 1937"
};

struct EventRecord {
  Allowed days;
  std::vector<ToldRow> rows;
  bool has_rows = false;  // false: nothing that the event could be held against
};

/// The rows that may tell of the claimed event, for an event with a known day.
[[nodiscard]] EventRecord record_of(const Ledger& ledger, const Claim& claim);

}  // namespace tailproof
