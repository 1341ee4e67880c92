#include "lsp/places.h"

#include <algorithm>
#include <array>

namespace tailproof::lsp {

namespace {

struct EncodingWord {
  std::string_view word;
  PositionEncoding encoding;
};
constexpr std::array<EncodingWord, 3> kWords = {{{"utf-8", PositionEncoding::kUtf8},
                                                 {"utf-16", PositionEncoding::kUtf16},
                                                 {"utf-32", PositionEncoding::kUtf32}}};

std::uint32_t length_of(char lead) {
  const auto byte = static_cast<unsigned char>(lead);
  return byte < 0x80 ? 1 : byte < 0xE0 ? 2 : byte < 0xF0 ? 3 : 4;
}

std::uint32_t units_of(std::uint32_t bytes, PositionEncoding encoding) {
  switch (encoding) {
    case PositionEncoding::kUtf8:
      return bytes;
    case PositionEncoding::kUtf16:
      return bytes == 4 ? 2 : 1;
    case PositionEncoding::kUtf32:
      break;
  }
  return 1;
}

/// Units of whole characters.
std::uint32_t count_units(std::string_view text, PositionEncoding encoding) {
  if (encoding == PositionEncoding::kUtf8) return static_cast<std::uint32_t>(text.size());
  std::uint32_t count = 0;
  for (const char c : text) {
    const auto byte = static_cast<unsigned char>(c);
    const bool begins = (byte & 0xC0U) != 0x80U;
    count += begins ? (encoding == PositionEncoding::kUtf16 && byte >= 0xF0 ? 2U : 1U) : 0U;
  }
  return count;
}

}  // namespace

std::string_view to_word(PositionEncoding encoding) {
  for (const EncodingWord& row : kWords) {
    if (row.encoding == encoding) return row.word;
  }
  return kWords[1].word;
}

std::optional<PositionEncoding> encoding_of_word(std::string_view word) {
  for (const EncodingWord& row : kWords) {
    if (row.word == word) return row.encoding;
  }
  return std::nullopt;
}

std::optional<Place> place_of(const Json& position) {
  const std::optional<std::uint32_t> line = number_of(member(position, "line"));
  const std::optional<std::uint32_t> character = number_of(member(position, "character"));
  if (!line || !character) return std::nullopt;
  return Place{*line, *character};
}

Json position_json(const Place& place) {
  return Json{{"line", place.line}, {"character", place.character}};
}

Json range_json(const Place& begin, const Place& end) {
  return Json{{"start", position_json(begin)}, {"end", position_json(end)}};
}

std::string_view Lines::line(std::uint32_t index) const {
  if (index >= begins_.size()) return {};
  const std::uint32_t begin = begins_[index];
  const std::size_t next = index + 1 < begins_.size() ? begins_[index + 1] : text_.size();
  std::string_view line = text_.substr(begin, next - begin);
  if (line.ends_with('\n')) line.remove_suffix(1);
  if (line.ends_with('\r') && index + 1 < begins_.size()) line.remove_suffix(1);
  return line;
}

std::uint32_t Lines::offset_of(const Place& place) const {
  if (place.line >= begins_.size()) return static_cast<std::uint32_t>(text_.size());
  const std::string_view words = line(place.line);
  std::uint32_t units = 0;
  std::uint32_t at = 0;
  while (at < words.size()) {
    const std::uint32_t length = length_of(words[at]);
    units += units_of(length, encoding_);
    if (units > place.character) break;
    at += length;
  }
  return begins_[place.line] + std::min(at, static_cast<std::uint32_t>(words.size()));
}

Place Lines::place_of(std::uint32_t offset) {
  offset = std::min(offset, static_cast<std::uint32_t>(text_.size()));
  const auto after = std::upper_bound(begins_.begin(), begins_.end(), offset);
  if (after == begins_.begin()) return {};  // inside the byte-order mark
  const auto line_index = static_cast<std::uint32_t>(after - begins_.begin() - 1);
  std::uint32_t from = begins_[line_index];
  Place place{line_index, 0};
  if (has_last_ && last_.line == line_index && last_offset_ <= offset) {
    place = last_;
    from = last_offset_;
  }
  place.character += count_units(text_.substr(from, offset - from), encoding_);
  last_ = place;
  last_offset_ = offset;
  has_last_ = true;
  return place;
}

Json Lines::range_of(std::uint32_t begin, std::uint32_t end) {
  const Place first = place_of(begin);
  return range_json(first, place_of(end));
}

std::vector<std::uint32_t> line_begins_of(std::string_view text) {
  std::vector<std::uint32_t> begins = {0};
  for (std::size_t at = text.find_first_of("\r\n"); at != std::string_view::npos;
       at = text.find_first_of("\r\n", at)) {
    if (text[at] == '\r' && at + 1 < text.size() && text[at + 1] == '\n') ++at;
    ++at;
    begins.push_back(static_cast<std::uint32_t>(at));
  }
  return begins;
}

}  // namespace tailproof::lsp
