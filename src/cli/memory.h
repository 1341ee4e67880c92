// How the program takes memory from the system.
//
// Contract: to be called once, before anything else of size is made. It changes no outcome, only
// the time that goes into pages: a run takes memory until it ends, so it is taken in large pages
// and not given back in between.
#pragma once

namespace tailproof {

void prepare_memory();

}  // namespace tailproof
