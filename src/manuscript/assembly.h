// What every reader does with its blocks: numbers them, ties stets to them, finds their sections.
//
// Contract: blocks are pushed in reading order; a stet that waits is tied to the next block pushed.
// Lifetime: sources and complaints outlive the assembly.
#pragma once

#include <cstdint>
#include <string>
#include <string_view>
#include <vector>

#include "manuscript/text_builder.h"
#include "source/sources.h"
#include "tailproof/manuscript.h"
#include "tailproof/result.h"

namespace tailproof {

/// A cell on its way into a row.
struct RowCell {
  TextBuilder text;
  std::uint32_t column = 0;
  std::uint32_t begin = 0;  // of the cell in the source
  std::uint32_t end = 0;
};

/// More than this is no caption, heading, row or paragraph of any book; what a text this long
/// states grows faster than the text.
inline constexpr std::size_t kMostCaptionBytes = std::size_t{128} << 10U;
inline constexpr std::size_t kMostBodyBytes = std::size_t{1} << 20U;

class Assembly {
 public:
  Assembly(Sources& sources, Complaints& complaints, std::string path)
      : sources_(sources), complaints_(complaints) {
    manuscript_.path = std::move(path);
  }

  /// A file of this size is going to be read.
  void expect(std::size_t bytes) { manuscript_.blocks.reserve(bytes / 512 + 16); }
  /// Text of a block pushed before; "" for one that is not there yet.
  [[nodiscard]] std::string_view block_text(std::uint32_t block) const {
    return block < manuscript_.blocks.size() ? std::string_view(manuscript_.blocks[block].text)
                                             : std::string_view();
  }
  /// Index of the block.
  std::uint32_t push(Block block);
  /// A row block whose text is the cells joined by " | "; nothing when every cell is empty.
  void push_row(std::vector<RowCell>& cells, std::uint32_t table, Span span);
  /// `body` is what follows the word stet: "CHECK: reason". Without a check or a reason it is a
  /// complaint. The stet waits for the next block, unless `block` names one.
  void add_stet(std::string_view body, Span span, std::uint32_t block = kNone);
  /// Ties the stets that wait to this block.
  void settle_stets(std::uint32_t block);
  /// Body text pushed between the two is another's words; they nest.
  void begin_quotation() { ++quotation_depth_; }
  void end_quotation() { --quotation_depth_; }
  [[nodiscard]] std::uint32_t new_group() { return group_count_++; }
  std::uint32_t new_table();
  void complain(FileId file, std::uint32_t offset, std::string message, bool is_note = false);

  [[nodiscard]] std::uint32_t block_count() const {
    return static_cast<std::uint32_t>(manuscript_.blocks.size());
  }
  [[nodiscard]] Block& block(std::uint32_t index) { return manuscript_.blocks[index]; }
  [[nodiscard]] Table& table(std::uint32_t index) { return manuscript_.tables[index]; }
  [[nodiscard]] std::uint32_t table_count() const {
    return static_cast<std::uint32_t>(manuscript_.tables.size());
  }
  void add_cross_reference(CrossReference reference) {
    manuscript_.cross_references.push_back(std::move(reference));
  }
  void add_id(std::string id) { manuscript_.ids.push_back(std::move(id)); }
  [[nodiscard]] Sources& sources() { return sources_; }
  [[nodiscard]] Complaints& complaints() { return complaints_; }

  /// Puts blocks in the order of their place in the one file read; stets follow them.
  void sort_blocks();
  /// The manuscript with its sections; the assembly is spent.
  [[nodiscard]] Manuscript finish();

 private:
  /// Each is one complaint.
  void cut_long_blocks();
  /// A cell that repeats the one above it by a mark ("do.") has that one's text, in its own place.
  void resolve_ditto(RowCell& cell, std::uint32_t table);

  Sources& sources_;
  Complaints& complaints_;
  Manuscript manuscript_;
  std::vector<std::uint32_t> waiting_stets_;
  std::vector<std::string> cells_above_;  // by column, of the table whose row was pushed last
  std::uint32_t table_above_ = kNone;
  std::uint32_t group_count_ = 0;
  unsigned quotation_depth_ = 0;
};

/// Adds a heading cell's text to its column.
void add_heading(Table& table, std::uint32_t column, std::string_view text);

/// If `text` is "stet CHECK: reason", what follows the word; else nothing (data() is null).
[[nodiscard]] std::string_view stet_body(std::string_view text);

/// Sets figure, image and credit of blocks [first, last) that belong to `group`. An empty `label`
/// is taken from the first of them whose text begins with one.
void label_group(Assembly& assembly, std::uint32_t first, std::uint32_t group, std::string label,
                 std::string_view image, std::string_view credit);

}  // namespace tailproof
