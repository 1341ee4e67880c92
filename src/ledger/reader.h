// Reads a ledger: a folder with ledger.toml and CSV tables, or one SQLite file with tables of the
// same names. tables.md in this folder describes them to authors; columns.h drives the reading.
//
// The settings of an SQLite file stand in its table `ledger`, column `toml`, or beside it in a file
// of its own name with .toml, or ledger.toml. Without any, a note says so and the defaults hold.
#pragma once

#include <optional>
#include <string>

#include "tailproof/ledger.h"
#include "tailproof/result.h"

namespace tailproof {

/// Margins that a project sets in place of the ledger's own.
struct MarginChanges {
  std::optional<Day> day, month, year;
};

/// Fails when there is no such folder or file, or ledger.toml is missing or cannot be read. A bad
/// row is one complaint for each bad cell, with file, line and column; it is left out when the cell
/// is a key, kept with that cell unknown when it is not. A table that cannot be read, or lacks a
/// key column, is one complaint and stays empty; it is never closed when it cannot be read.
[[nodiscard]] Result<Ledger> read_ledger(const std::string& path, Complaints& complaints,
                                         const MarginChanges& margins = {});

/// The ledger without any row: every claim is unproven.
[[nodiscard]] Ledger empty_ledger();

}  // namespace tailproof
