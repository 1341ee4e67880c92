#include "claims/stretches.h"

#include <algorithm>
#include <string_view>

namespace tailproof {
namespace {

// Longer than any paragraph for readers; past it a stretch ends with the next sentence, or, where
// no sentence ends, with the next blank.
constexpr std::size_t kLongestBytes = 8192;
constexpr std::size_t kLongestSentence = 2048;

bool is_continuation(char c) { return (static_cast<unsigned char>(c) & 0xC0U) == 0x80; }

std::size_t end_of_stretch(std::string_view text, std::size_t begin) {
  if (text.size() - begin <= kLongestBytes) return text.size();
  const std::size_t from = begin + kLongestBytes;
  const std::string_view window = text.substr(from, kLongestSentence);
  for (std::size_t i = 0; i + 2 < window.size(); ++i) {
    const bool capital = window[i + 2] >= 'A' && window[i + 2] <= 'Z';
    if (window[i] == '.' && window[i + 1] == ' ' && capital) return from + i + 2;
  }
  const std::size_t blank = window.find(' ');
  if (blank != std::string_view::npos) return from + blank + 1;
  std::size_t end = std::min(text.size(), from + kLongestSentence);
  while (end < text.size() && is_continuation(text[end])) ++end;
  return end;
}

// The runs of text [begin, end), their offsets counted from `begin`.
std::vector<MapRun> runs_of(const std::vector<MapRun>& runs, std::uint32_t begin,
                            std::uint32_t end) {
  auto first = std::upper_bound(
      runs.begin(), runs.end(), begin,
      [](std::uint32_t offset, const MapRun& run) { return offset < run.text_begin; });
  if (first != runs.begin()) --first;
  std::vector<MapRun> out;
  for (auto run = first; run != runs.end() && run->text_begin < end; ++run) {
    MapRun part = *run;
    if (part.text_begin < begin) {
      const std::uint32_t skipped = begin - part.text_begin;
      if (part.verbatim) {
        part.source_begin += skipped;
        part.source_length -= std::min(part.source_length, skipped);
      }
      part.text_begin = begin;
    }
    if (part.verbatim) part.source_length = std::min(part.source_length, end - part.text_begin);
    part.text_begin -= begin;
    out.push_back(part);
  }
  return out;
}

}  // namespace

bool needs_stretches(const Block& block) {
  return block.text.size() > kLongestBytes + kLongestSentence && block.kind != BlockKind::kTableRow;
}

std::vector<Stretch> stretches_of(const Block& block) {
  std::vector<Stretch> stretches;
  for (std::size_t begin = 0; begin < block.text.size();) {
    const std::size_t end = end_of_stretch(block.text, begin);
    Stretch stretch;
    stretch.offset = static_cast<std::uint32_t>(begin);
    stretch.block.kind = block.kind;
    stretch.block.text = block.text.substr(begin, end - begin);
    stretch.block.runs = runs_of(block.runs, stretch.offset, static_cast<std::uint32_t>(end));
    stretch.block.span = block.span;
    stretch.block.figure = block.figure;
    stretch.block.photograph = block.photograph;
    stretch.block.image = block.image;
    if (begin == 0) stretch.block.credit = block.credit;
    stretch.block.level = block.level;
    stretch.block.group = block.group;
    stretches.push_back(std::move(stretch));
    begin = end;
  }
  return stretches;
}

}  // namespace tailproof
