// toml++ as every source uses it: the library builds itself within each, and must be the same in
// all.
//
// Its assertions are left out, in debug builds too: some of them do not hold for a file that is
// merely wrong ("[[" and then the end of the line), and what they guard is then refused with an
// error as it should be. Exceptions are off for the whole build (CMakeLists.txt).
#pragma once

#define TOML_ASSERT(expr) static_assert(true)
#include <toml++/toml.h>
