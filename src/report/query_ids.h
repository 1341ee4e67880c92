// Names of queries that outlive the run in which they were found.
//
// Contract: an id is made of what a query is about, never of lines or of the order of unrelated
// queries, so that it stays the same while text elsewhere moves. It holds no path but the file's
// own name, and is the same on every machine.
#pragma once

#include <string>
#include <vector>

#include "run/run.h"

namespace tailproof {

/// For each query of the run, in order: check, and a hash of the file's name, the figure, the
/// subject and the words; with a number where all these are equal. No two are equal.
[[nodiscard]] std::vector<std::string> ids_of_queries(const Run& run);

/// The same without the figure, so that it outlives a new numbering of the figures; equal queries
/// share it.
[[nodiscard]] std::string wording_id(const Run& run, const Query& query);

}  // namespace tailproof
