#include "run/brackets.h"

#include <algorithm>
#include <charconv>
#include <filesystem>

namespace tailproof {

namespace {

bool is_on(const Run& run, const Span& span, const LinePlace& place) {
  if (run.sources.path(span.file) != place.file) {
    return false;
  }
  const std::uint32_t last = span.end > span.begin ? span.end - 1 : span.begin;
  return run.sources.position(span.file, span.begin).line <= place.line &&
         place.line <= run.sources.position(span.file, last).line;
}

bool is_asked_for(const Run& run, const PhotographTime& photograph,
                  const std::vector<LinePlace>& places) {
  const std::string& file = run.sources.path(photograph.span.file);
  const bool is_file_named = std::any_of(
      places.begin(), places.end(), [&](const LinePlace& place) { return place.file == file; });
  if (!is_file_named) {
    return true;
  }
  const std::vector<Block>& blocks = run.manuscripts[photograph.manuscript].blocks;
  const std::uint32_t group = blocks[photograph.block].group;
  return std::any_of(places.begin(), places.end(), [&](const LinePlace& place) {
    for (std::size_t i = 0; i < blocks.size(); ++i) {
      const bool is_own = i == photograph.block || (group != kNone && blocks[i].group == group);
      if (is_own && is_on(run, blocks[i].span, place)) {
        return true;
      }
    }
    return false;
  });
}

}  // namespace

std::optional<LinePlace> read_line_place(const std::string& path) {
  std::error_code fault;
  const std::size_t colon = path.rfind(':');
  if (colon == std::string::npos || colon == 0 || std::filesystem::exists(path, fault)) {
    return std::nullopt;
  }
  LinePlace place{path.substr(0, colon), 0};
  const char* end = path.data() + path.size();
  const auto [stop, error] = std::from_chars(path.data() + colon + 1, end, place.line);
  if (error != std::errc() || stop != end || place.line == 0) {
    return std::nullopt;
  }
  return place;
}

bool has_caption(const Run& run, const LinePlace& place) {
  return std::any_of(run.manuscripts.begin(), run.manuscripts.end(), [&](const Manuscript& one) {
    return std::any_of(one.blocks.begin(), one.blocks.end(), [&](const Block& block) {
      return block.kind == BlockKind::kCaption && is_on(run, block.span, place);
    });
  });
}

Brackets brackets_of(const Run& run, const std::vector<LinePlace>& places) {
  const CheckInput input{.manuscripts = run.manuscripts,
                         .claims = run.claims,
                         .ledger = run.ledger,
                         .stets = {},
                         .check_ids = {}};
  Brackets brackets{Chronology(input), {}};
  std::vector<Bracket> all = brackets.chronology.brackets();
  const auto photographs = brackets.chronology.photographs();
  for (std::uint32_t i = 0; i < photographs.size(); ++i) {
    if (!places.empty() && !is_asked_for(run, photographs[i], places)) {
      continue;
    }
    const Narrowing narrowing = brackets.chronology.narrowing(i, all[i]);
    brackets.rows.push_back({i, std::move(all[i]), narrowing});
  }
  return brackets;
}

}  // namespace tailproof
