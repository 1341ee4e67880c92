// A CSV file as a table of the ledger.
#pragma once

#include <memory>
#include <string>

#include "ledger/row_source.h"
#include "source/sources.h"

namespace tailproof {

/// Nullptr, after a complaint, when the file cannot be read or has no header row.
[[nodiscard]] std::unique_ptr<RowSource> open_csv_table(const std::string& path,
                                                        Complaints& complaints);

}  // namespace tailproof
