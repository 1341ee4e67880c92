// What captions, text and tables say of one thing, statement beside statement, and which of those
// that clash is the most outvoted.
#pragma once

#include <set>
#include <string>
#include <vector>

#include "tailproof/check.h"
#include "tailproof/ledger.h"
#include "tailproof/surface.h"

namespace tailproof {

enum class TopicKind {
  kEvent,
  kCodeOfDay,
  kCodeOfTable,
  kCodeOfWeeks,  // of one month or season, told alike by both
  kHolderOfDay,
  kPlaceOfDay,
  kMarkingOfDay,
  kType,
  kConstructorNumber,
  kPictureDate,
  kPictureMachine,
  kPicturePlace,
};

/// One value that captions give, and which captions do.
struct Statement {
  std::string value;                 // as it is printed
  DaySet days = DaySet::all();       // of dates: at full width and with margins
  Surfaces surfaces;                 // of codes
  bool is_of_table = false;          // of codes: a table without dates
  std::vector<const Claim*> claims;  // that make it, in the order of the text
  std::set<std::uint64_t> voters;
};

struct Topic {
  TopicKind kind = TopicKind::kEvent;
  std::string subject;  // what it is said of
  std::vector<Statement> statements;
};

/// A statement that others speak against.
struct Outvoted {
  std::size_t statement = 0;         // of the topic
  std::vector<std::size_t> against;  // likewise
};
/// Statement after statement, the one with the most captions against it and the fewest for it; of
/// two the later in the text; until none clash any more.
[[nodiscard]] std::vector<Outvoted> outvoted(const Ledger& ledger, const Topic& topic);

/// "was lost", "is coded": what stands before the value.
[[nodiscard]] std::string verb_of(const Topic& topic);
[[nodiscard]] Level level_of_kind(TopicKind kind);
/// Several values of one statement.
[[nodiscard]] std::string joined(const std::set<std::string>& values);

}  // namespace tailproof
