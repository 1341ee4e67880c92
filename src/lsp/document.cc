#include "lsp/document.h"

#include <algorithm>
#include <limits>
#include <utility>

namespace tailproof::lsp {

namespace {

constexpr std::size_t kMostBytes = std::numeric_limits<std::uint32_t>::max();

}  // namespace

void Document::set_text(std::string words) {
  text = std::move(words);
  line_begins = line_begins_of(text);
}

void Document::replace(std::uint32_t begin, std::uint32_t end, std::string_view words) {
  text.replace(begin, end - begin, words);
  const auto moved = static_cast<std::uint32_t>(words.size()) - (end - begin);  // modulo 2^32
  // Lines that begin well before the change stay; so do, moved, those that begin well behind it. A
  // CR or LF at either edge may have lost or found its partner, so "well" is one byte.
  const std::uint32_t safe = begin == 0 ? 0 : begin - 1;
  auto first = std::upper_bound(line_begins.begin(), line_begins.end(), safe);
  if (first == line_begins.begin()) ++first;  // the text itself begins one
  const auto last = std::upper_bound(first, line_begins.end(), end + 1);
  const std::uint32_t from = *std::prev(first);
  const std::uint32_t to =
      last == line_begins.end() ? static_cast<std::uint32_t>(text.size()) : *last + moved;
  for (auto line = last; line != line_begins.end(); ++line) *line += moved;
  std::vector<std::uint32_t> between =
      line_begins_of(std::string_view(text).substr(from, to - from));
  for (std::uint32_t& line : between) line += from;
  between.erase(between.begin());
  if (last != line_begins.end() && !between.empty() && between.back() == to) between.pop_back();
  const auto at = line_begins.erase(first, last);
  line_begins.insert(at, between.begin(), between.end());
}

bool Document::apply(const Json& change, PositionEncoding encoding) {
  const Json& words = member(change, "text");
  if (!words.is_string()) return false;
  const auto& added = words.get_ref<const std::string&>();
  const Json& range = member(change, "range");
  if (range.is_null()) {
    if (added.size() >= kMostBytes) return false;
    set_text(added);
    return true;
  }
  const std::optional<Place> start = lsp::place_of(member(range, "start"));
  const std::optional<Place> end = lsp::place_of(member(range, "end"));
  if (!start || !end || text.size() + added.size() >= kMostBytes) return false;
  const Lines lines(text, line_begins, encoding);
  const std::uint32_t one = lines.offset_of(*start);
  const std::uint32_t other = lines.offset_of(*end);
  replace(std::min(one, other), std::max(one, other), added);
  return true;
}

}  // namespace tailproof::lsp
