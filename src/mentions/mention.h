// Mentions: what the words of a block name, before anything is said about what belongs to what.
// Fourth station.
#pragma once

#include <cstdint>
#include <string>
#include <string_view>
#include <vector>

#include "grammars/spelling.h"

namespace tailproof {

enum class MentionKind : std::uint8_t {
  kAirframe,  // a serial, or another identity (role says which)
  kUnit,
  kPlace,
  kPerson,
  kRank,
  kAward,
  kType,  // value: the type; detail: the mark, as the ledger writes it where known
  kMarking,
  kOrder,
  kPhotograph,
  kDate,     // payload: index into Mentions::dates
  kMeasure,  // payload: index into Mentions::measures
  kReference,
  kOrderInTime,  // payload: index into Mentions::orders
  kCue,  // a word that bears on others; role: name of the word list, value: the list's value
};

/// Whether to tell how each mention and claim was found.
enum class Explain : std::uint8_t { kNo, kYes };

struct Mention {
  MentionKind kind = MentionKind::kCue;
  std::uint32_t begin = 0, end = 0;   // in the block's text
  std::uint32_t first = 0, last = 0;  // tokens [first, last)
  // Texts stand in the ledger, in the grammars or with the finder, and live as long as those.
  Spelling value;                     // the ledger's key where known, else as written
  std::vector<std::string> readings;  // when a name is shared: all keys, else empty
  Spelling role;
  Spelling detail;
  std::uint64_t cue = 0;  // of a cue: the number of its list, which is its role (ListName)
  std::uint32_t payload = 0;
  std::uint32_t list = 0;  // members of one written list share a number above 0
  bool known = true;
  bool plural = false;
  bool doubtful = false;  // "QC417(?)", "QC4?7"
  std::string_view why;   // pattern, list or table that found it, as long as the finder lives
};

}  // namespace tailproof
