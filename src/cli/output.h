// Where a report goes.
#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "tailproof/result.h"

namespace tailproof {

/// Writes `text` to the file `path`, or to standard output when that is "". Returns what went
/// wrong, or "". A reader that has gone away (a closed pipe) is nothing wrong. A file is written
/// whole or not at all: whatever happens meanwhile, `path` is the old file or the new one.
[[nodiscard]] std::string write_output(const std::string& path, std::string_view text);

/// Whether writing to `output` would write to one of `inputs` or into a folder among them.
[[nodiscard]] bool would_overwrite(const std::string& output,
                                   const std::vector<std::string>& inputs);

/// Prints each on standard error, notes as such. True when one of them is no note.
bool print_complaints(const Complaints& complaints);

}  // namespace tailproof
