// What an earlier run reported already, as its SARIF file tells.
#pragma once

#include <map>
#include <set>
#include <string>
#include <vector>

#include "run/run.h"
#include "tailproof/result.h"

namespace tailproof {

/// Keys of partialFingerprints. The number behind the stroke rises when what is hashed changes.
inline constexpr const char* kQueryFingerprint = "tailproofQuery/v1";
inline constexpr const char* kWordingFingerprint = "tailproofWording/v1";

/// Fingerprints of an earlier run. What was let stand then is not among them: without its stet it
/// is new.
struct KnownQueries {
  std::set<std::string> queries;
  std::map<std::string, unsigned> wordings;  // how many queries shared it
};

/// Reads a SARIF file that `check` has written. Fails when it is none, or when its results come
/// from another program.
[[nodiscard]] Result<KnownQueries> read_known_queries(const std::string& path);

/// For each query of the run whether the earlier run reported it: first by its id, then, for what
/// is left on both sides, by its wording.
[[nodiscard]] std::vector<bool> mark_known(const Run& run, const KnownQueries& known);

}  // namespace tailproof
