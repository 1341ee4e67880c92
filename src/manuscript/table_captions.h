// Which paragraph is a table's caption: "Table 4. The boats" directly before it, or directly
// behind.
#pragma once

#include <cstdint>

#include "manuscript/assembly.h"

namespace tailproof {

class TableCaptions {
 public:
  explicit TableCaptions(Assembly& assembly) : assembly_(assembly) {}

  /// A paragraph or heading was made; it stays a block of its own.
  void note(std::uint32_t block);
  void begin_table(std::uint32_t table);
  void end_table(std::uint32_t table);

 private:
  Assembly& assembly_;
  std::uint32_t caption_block_ = kNone;  // the caption made last, if no table has it
  std::uint32_t bare_table_ = kNone;     // the table that ended last, if it has no caption
  std::uint32_t blocks_at_table_end_ = 0;
};

}  // namespace tailproof
