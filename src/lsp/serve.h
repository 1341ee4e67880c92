// The server's loop over two file descriptors.
//
// Contract: one thread reads, so that a cancellation is seen while something is being answered; the
// caller's answers and writes. It ends with `exit`, or when the client's end is closed.
#pragma once

#include "lsp/settings.h"

namespace tailproof::lsp {

/// Returns the exit status: 0 after `shutdown` and `exit`, else 1.
[[nodiscard]] int serve(int in, int out, const Settings& settings);

}  // namespace tailproof::lsp
