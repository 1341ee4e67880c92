#include "manuscript/table_captions.h"

#include "manuscript/labels.h"

namespace tailproof {

void TableCaptions::note(std::uint32_t block) {
  caption_block_ = kNone;
  // Behind a table some write ": Table 2. Losses".
  std::string text = assembly_.block(block).text;
  if (!begins_table_caption(text)) return;
  if (text.starts_with(": ")) text.erase(0, 2);
  if (bare_table_ != kNone && blocks_at_table_end_ == block) {
    assembly_.table(bare_table_).caption = text;
    bare_table_ = kNone;
  } else {
    caption_block_ = block;
  }
}

void TableCaptions::begin_table(std::uint32_t table) {
  if (caption_block_ != kNone && caption_block_ + 1 == assembly_.block_count()) {
    assembly_.table(table).caption = assembly_.block(caption_block_).text;
  }
  caption_block_ = kNone;
}

void TableCaptions::end_table(std::uint32_t table) {
  bare_table_ = assembly_.table(table).caption.empty() ? table : kNone;
  blocks_at_table_end_ = assembly_.block_count();
}

}  // namespace tailproof
