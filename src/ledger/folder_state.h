// Whether a ledger rests while it is read: its tables speak of each other, so that rows of two
// states of it would contradict where neither does.
#pragma once

#include <string>

namespace tailproof {

/// Names, sizes and times of the files of a folder, or of one file: equal when nothing has been
/// written in between. "" when it cannot be looked at. Cost: one look at each file, none is read.
[[nodiscard]] std::string folder_state(const std::string& path);

}  // namespace tailproof
