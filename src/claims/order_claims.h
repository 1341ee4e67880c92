// Which photograph an order_in_time claim names: known only when every caption has been read.
#pragma once

#include <vector>

#include "tailproof/claim.h"
#include "tailproof/ledger.h"
#include "tailproof/manuscript.h"

namespace tailproof {

/// Fills in both photographs of every order_in_time claim and puts the other's label into its
/// value. Where the words leave open which one is meant ("the one opposite"), and no shared machine
/// decides, the other stays unknown. Cost: linear in the number of blocks and claims.
void resolve_orders_in_time(const std::vector<Manuscript>& manuscripts, const Ledger& ledger,
                            std::vector<Claim>& claims);

}  // namespace tailproof
