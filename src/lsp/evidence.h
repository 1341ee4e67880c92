// Which rows of a ledger bear on a claim.
#pragma once

#include <vector>

#include "tailproof/claim.h"
#include "tailproof/ledger.h"

namespace tailproof::lsp {

/// What the ledger has for the claim itself (the airframe's spells with the unit at that date, the
/// person's rank), then the rows of what is named.
[[nodiscard]] std::vector<RowPlace> rows_about(const Ledger& ledger, const Claim& claim);

}  // namespace tailproof::lsp
