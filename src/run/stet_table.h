// Reads stets.csv: the author's decisions beside a manuscript.
#pragma once

#include <string>
#include <vector>

#include "source/sources.h"
#include "tailproof/check.h"
#include "tailproof/result.h"

namespace tailproof {

/// Rows of the table at `path`, in order. A row that names no check, no reason, or neither file,
/// figure nor subject, or whose date is not EDTF, is a complaint and left out; an unknown column is
/// a note.
[[nodiscard]] std::vector<StetRow> read_stet_table(Sources& sources, const std::string& path,
                                                   Complaints& complaints);

}  // namespace tailproof
