// The bytes of a file, all of them or none.
//
// Contract: what is given is what stood in the file at one moment: a file that changes while it is
// read is read again, and refused when it does not rest. Whatever the name leads to, the call
// comes back: a folder, a socket and a device (but /dev/null and a terminal) are refused, and a
// pipe where `Streams` says so. Interrupted and short reads are gone on with.
#pragma once

#include <cstdint>
#include <string>

#include "tailproof/result.h"

namespace tailproof {

/// Places in a file are 32 bits wide.
inline constexpr std::uint64_t kMostFileBytes = 0xFFFF'FFFE;
/// Of a pipe, whose end nobody can foretell.
inline constexpr std::uint64_t kMostStreamBytes = std::uint64_t{512} << 20U;

enum class Streams {
  kRefused,  // a file that another one names, or that a folder holds
  kAllowed   // a pipe is what the user has named
};

/// "-" is standard input, which may always be a pipe. Fails with a line that says why.
[[nodiscard]] Result<std::string> read_bytes(const std::string& path,
                                             Streams streams = Streams::kRefused);

}  // namespace tailproof
