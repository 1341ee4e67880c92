// Everything known of one airframe, from the ledger and from the manuscripts, in time order.
#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "run/run.h"
#include "tailproof/check.h"

namespace tailproof {

/// Something that a ledger row or a piece of a manuscript says of the airframe.
struct Happening {
  std::string date;          // EDTF; "" when none is given
  DaySet days;               // that it may have been; all days when no date is given
  std::string says;          // in words
  bool in_ledger = false;    // else in a manuscript
  Evidence row;              // in_ledger
  Span span;                 // else
  std::string figure, text;  // else: label of the figure, "" for none; the words
};

struct AirframeHistory {
  std::string serial;                 // as the ledger has it
  std::vector<std::string> serials;   // all that the machine bore, this one among them
  std::vector<Happening> happenings;  // by first day, then last; undated ones at the end
};

/// `name` is a serial in any form that the ledger's serial forms allow, with or without its
/// hyphens, or another identity.
/// Nothing when neither ledger nor manuscripts know it.
[[nodiscard]] std::optional<AirframeHistory> history_of_airframe(const Run& run,
                                                                 std::string_view name);

/// The serial of the ledger or of a manuscript that `name` is perhaps a slip of; "" for none.
[[nodiscard]] std::string nearest_airframe(const Run& run, std::string_view name);

}  // namespace tailproof
