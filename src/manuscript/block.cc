#include <algorithm>
#include <iterator>

#include "tailproof/manuscript.h"

namespace tailproof {

std::string_view to_word(BlockKind kind) {
  switch (kind) {
    case BlockKind::kCaption:
      return "caption";
    case BlockKind::kBody:
      return "body";
    case BlockKind::kHeading:
      return "heading";
    case BlockKind::kTableRow:
      return "table";
  }
  return "body";
}

Span Block::text_span(std::uint32_t begin, std::uint32_t end) const {
  if (runs.empty()) return {span.file, span.begin, span.begin};
  const auto size = static_cast<std::uint32_t>(text.size());
  begin = std::min(begin, size);
  end = std::clamp(end, begin, size);
  const auto run_at = [this](std::uint32_t offset) -> const MapRun& {
    const auto after =
        std::upper_bound(runs.begin(), runs.end(), offset,
                         [](std::uint32_t at, const MapRun& run) { return at < run.text_begin; });
    return *std::prev(after);
  };
  const MapRun& first = run_at(begin);
  std::uint32_t source_begin = first.source_begin;
  if (begin == size) {
    source_begin += first.source_length;
  } else if (first.verbatim) {
    source_begin += begin - first.text_begin;
  }
  if (begin == end) return {span.file, source_begin, source_begin};
  const MapRun& last = run_at(end - 1);
  const std::uint32_t source_end =
      last.source_begin + (last.verbatim ? end - last.text_begin : last.source_length);
  // A table cell that is repeated from a row above may stand behind what follows it in the text.
  if (source_end < source_begin) return {span.file, last.source_begin, source_begin};
  return {span.file, source_begin, source_end};
}

bool is_caption_list(const Manuscript& manuscript) {
  return !manuscript.blocks.empty() &&
         std::all_of(manuscript.blocks.begin(), manuscript.blocks.end(),
                     [](const Block& block) { return block.kind == BlockKind::kCaption; });
}

}  // namespace tailproof
