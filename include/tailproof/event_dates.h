// The ledger's own dates for an event that the text tells of: what the checks
// of hedges share.
//
// Contract: dates of rows of exactly the claimed kind, as the tables give them;
// unknown ones are left out. A thing that began (an allotment) has the date of
// its beginning. Lifetime: pointers into the ledger.
#pragma once

#include <string>
#include <vector>

#include "tailproof/check.h"
#include "tailproof/claim_index.h"

namespace tailproof {

struct EventDate {
  const Edtf* date = nullptr;
  Evidence evidence;

  [[nodiscard]] bool is_qualified() const { return date->is_approximate() || date->is_uncertain(); }
};
/// A machine without a row of its loss is dated by its striking off.
[[nodiscard]] std::vector<EventDate> dates_of_event(const Ledger& ledger, const Claim& event);

/// Whether it is an event that the author affirms, here, with a date of its
/// own.
[[nodiscard]] bool has_own_date(const CheckInput& input, const Claim& event);

/// Whether the author says that he is unsure that it happened, or when.
[[nodiscard]] bool is_hedged_anywhere(const CheckInput& input, const Claim& event);

/// Whether a date is told with doubt: "probably", "about", "?".
[[nodiscard]] bool is_hedged_date(const Claim& date);

/// The row of the one photograph that the caption of this claim says it prints; null when it names
/// none, or several, or one that has no row.
[[nodiscard]] const Photograph* row_of_picture(const Ledger& ledger, const ClaimIndex& index,
                                               const Claim& claim);

/// "lost", "taken on charge".
[[nodiscard]] std::string event_in_words(const Claim& event);

}  // namespace tailproof
