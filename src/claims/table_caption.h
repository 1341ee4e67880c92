// What the caption of a table tells of every row: read once for the table, and not for each row.
#pragma once

#include <string>
#include <string_view>

#include "mentions/find_mentions.h"
#include "tailproof/claim.h"

namespace tailproof {

struct TableCaption {
  std::string text;
  /// "Machines lost in the east": the one kind of end of which it tells; "" where it tells of none,
  /// of several, or of none for certain.
  std::string end;
  /// Its one complete date; unknown where it has none or several.
  Edtf date;
  bool is_date_hedged = false;
  bool tells_state = false;  // how things stood then

  /// When what a row tells stood; `is_any`: that of a caption which does not say that it tells how
  /// things stood ("Machines at Gale Head, May to August 1942") may be a stretch of days, any of
  /// which may be meant.
  [[nodiscard]] When when(bool is_any, const Margins& margins) const;
};

[[nodiscard]] TableCaption read_table_caption(std::string_view text, const MentionFinder& finder,
                                              const Grammars& grammars);

}  // namespace tailproof
