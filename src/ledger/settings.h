// ledger.toml.
#pragma once

#include <string>
#include <string_view>

#include "ledger/tables.h"
#include "tailproof/result.h"

namespace tailproof {

/// Fills settings, closed ranges and closed tables from the text of ledger.toml. Fails only when it
/// is no TOML; a bad value is a complaint with line and key, and its default stays. An unknown key
/// is a note. A serial form with a bad pattern is left out, the others count.
[[nodiscard]] Result<bool> read_settings(const std::string& file, std::string_view text,
                                         LedgerTables& tables, Complaints& complaints);

}  // namespace tailproof
