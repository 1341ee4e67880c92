// Builds the flattened text of one block together with its way back to the source.
//
// Contract: pieces are given in reading order. White space is folded across pieces, so a space at
// the end of one and at the start of the next is one space; none stands at either end of the text
// after trim(). What the fold does is written in tailproof/manuscript.h; besides, every fixed-width
// space of Unicode becomes a plain one, and zero-width spaces and word joiners vanish like soft
// hyphens. Cost: one run for each contiguous piece, one pass over the bytes.
#pragma once

#include <cstdint>
#include <string>
#include <string_view>
#include <vector>

#include "tailproof/manuscript.h"

namespace tailproof {

class TextBuilder {
 public:
  /// Bytes as they stand in the source at `source_begin`.
  void add(std::string_view bytes, std::uint32_t source_begin) { fold(bytes, source_begin, 0); }
  /// Text that source [source_begin, +source_length) stands for as a whole: a reference, a line
  /// break. `source_length` must not be 0.
  void add_for(std::string_view text, std::uint32_t source_begin, std::uint32_t source_length) {
    fold(text, source_begin, source_length);
  }
  /// The same without folding: the bar between two cells, say.
  void add_literal(std::string_view text, std::uint32_t source_begin, std::uint32_t source_length);
  /// A space, unless one stands there or nothing does; its place may be empty.
  void add_space(std::uint32_t source_begin, std::uint32_t source_length) {
    if (!text_.empty() && text_.back() != ' ') put(" ", source_begin, source_length, false);
  }
  /// All of `other`, after a space if neither side has one; `gap` is where that space stands.
  void add_block(const TextBuilder& other, std::uint32_t gap_begin, std::uint32_t gap_length);

  /// Takes the space off the end.
  void trim();
  /// Takes text from `size` on off the end.
  void cut(std::uint32_t size);

  [[nodiscard]] bool empty() const { return text_.empty(); }
  [[nodiscard]] std::uint32_t size() const { return static_cast<std::uint32_t>(text_.size()); }
  [[nodiscard]] std::string_view text() const { return text_; }
  /// Source offsets of the first and behind the last piece; the builder must not be empty.
  [[nodiscard]] std::uint32_t source_begin() const { return runs_.front().source_begin; }
  [[nodiscard]] std::uint32_t source_end() const {
    return runs_.back().source_begin + runs_.back().source_length;
  }

  /// Moves text and runs into the block, trimmed; the builder is empty afterwards.
  void move_into(Block& block);
  void clear();

 private:
  void fold(std::string_view bytes, std::uint32_t source, std::uint32_t whole_length);
  void put(std::string_view text, std::uint32_t source, std::uint32_t length, bool verbatim);

  std::string text_;
  std::vector<MapRun> runs_;
};

}  // namespace tailproof
