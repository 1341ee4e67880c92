// What the fuzzers share: the entry point, and what every one of them demands.
//
// A fuzzer is one short file with LLVMFuzzerTestOneInput. Under libFuzzer that is all; in every
// other build replay.cc is its main and replays saved inputs.
#pragma once

#include <cstddef>
#include <cstdint>
#include <cstdio>
#include <cstdlib>
#include <string_view>

#include "source/sources.h"
#include "tailproof/manuscript.h"

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size);

namespace tailproof::fuzz {

inline std::string_view as_text(const std::uint8_t* data, std::size_t size) {
  return {reinterpret_cast<const char*>(data), size};
}

/// Ends the process with the sentence when it does not hold.
inline void require(bool holds, const char* sentence) {
  if (holds) return;
  std::fprintf(stderr, "does not hold: %s\n", sentence);
  std::abort();
}

/// Every block's text comes from inside its file, and its runs cover it without gaps.
inline void require_sound(const Manuscript& manuscript, const Sources& sources) {
  for (const Block& block : manuscript.blocks) {
    require(block.span.begin <= block.span.end, "a block ends before it begins");
    require(block.span.end <= sources.text(block.span.file).size(), "a block inside its file");
    std::uint32_t end = 0;
    for (const MapRun& run : block.runs) {
      require(run.text_begin >= end, "runs are sorted");
      end = run.text_begin;
      require(std::uint64_t{run.source_begin} + run.source_length <=
                  sources.text(block.span.file).size(),
              "a run inside its file");
    }
    const auto size = static_cast<std::uint32_t>(block.text.size());
    for (const auto& [from, to] : {std::pair{0U, size}, {size / 2, size}, {size / 3, size / 2}}) {
      const Span span = block.text_span(from, to);
      require(span.begin <= span.end, "a piece of text ends before it begins");
      require(span.end <= sources.text(span.file).size(), "a piece of text inside its file");
    }
  }
  for (const Stet& stet : manuscript.stets) {
    require(!stet.reason.empty(), "a stet has a reason");
    require(stet.block == kNone || stet.block < manuscript.blocks.size(), "a stet's block exists");
  }
}

}  // namespace tailproof::fuzz
