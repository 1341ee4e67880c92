// Which files a run reads: the paths of the command line, folders walked.
//
// Contract: the order is that of the command line, inside a folder by name (bytes), folder and file
// alike. A file that is named twice, by whatever path, is given once, where it is named first.
#pragma once

#include <cstddef>
#include <string>
#include <vector>

#include "tailproof/result.h"

namespace tailproof {

/// Folders that a run looks into; "/" has more, and nobody means all of it.
inline constexpr std::size_t kMostFolders = 10'000;

/// Files to read, as shown to the user. A folder gives every file with a known extension in it and
/// below, but nothing hidden, no stets.csv and nothing inside a ledger. A path that is missing, or
/// a folder that cannot be read or holds no manuscript, is a complaint; the others are still given.
/// So is a folder below which more than kMostFolders are found: those looked into are given.
[[nodiscard]] std::vector<std::string> expand_paths(const std::vector<std::string>& paths,
                                                    Complaints& complaints);

/// The same for every path to one file; the path itself when there is no such file ("-").
[[nodiscard]] std::string canonical_path(const std::string& path);

}  // namespace tailproof
