// Reads a ledger: a folder with ledger.toml and CSV tables, or one SQLite file with tables of the
// same names.
#pragma once

#include <string>

#include "tailproof/ledger.h"
#include "tailproof/result.h"

namespace tailproof {

/// Fails when there is no such folder or file, or ledger.toml cannot be read. A bad row is one
/// complaint with file, line and column name, and is left out (or, for a bad date cell, kept with
/// that date unknown); the other rows count.
[[nodiscard]] Result<Ledger> read_ledger(const std::string& path, Complaints& complaints);

/// The ledger without any row: every claim is unproven.
[[nodiscard]] Ledger empty_ledger();

}  // namespace tailproof
