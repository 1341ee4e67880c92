// Checks of somebody else's: a shared object that exports `tailproof_plugin` (tailproof/check.h).
//
// Contract: a plugin is loaded once and stays for the life of the program, since its rows and
// functions live in it. What cannot be used as a whole is refused as a whole, with one line that
// says why.
#pragma once

#include <string>
#include <vector>

#include "tailproof/check.h"
#include "tailproof/result.h"

namespace tailproof {

/// The checks of the shared object at `path`. Fails when it cannot be read, exports no entry point,
/// was built against another version of the interface, or has a row without function, with an id
/// that is none, or with an id that another of its rows has.
[[nodiscard]] Result<std::vector<CheckInfo>> load_plugin(const std::string& path);

}  // namespace tailproof
