// Which mentions name one machine: by its serial, or by a code, number or name.
#pragma once

#include "mentions/mention.h"

namespace tailproof {

/// A serial, or a former or later one: its value is the machine's own serial in the ledger.
[[nodiscard]] inline bool is_serial(const Mention& mention) {
  return mention.kind == MentionKind::kAirframe &&
         (mention.role.empty() || mention.role == "previous_serial" ||
          mention.role == "later_serial");
}

/// A code, number or name.
[[nodiscard]] inline bool is_identity(const Mention& mention) {
  return mention.kind == MentionKind::kAirframe && !mention.role.empty() &&
         mention.role != "malformed";
}

}  // namespace tailproof
