// A manuscript: blocks of flattened text, each with a map back to the exact source bytes.
//
// Flattening: markup is removed, entities and escapes are resolved, each line break inside a block
// and each run of white space becomes one space, non-breaking spaces and hyphens become plain ones,
// soft hyphens vanish. Contract: text_span() of any piece of a block's text names the source bytes
// it came from; for a piece without markup, entities or folded white space the bytes are equal.
#pragma once

#include <cstdint>
#include <string>
#include <string_view>
#include <vector>

#include "tailproof/span.h"

namespace tailproof {

enum class BlockKind { kCaption, kBody, kHeading, kTableRow };

/// "caption", "body", "heading", "table": the words of the claims format.
[[nodiscard]] std::string_view to_word(BlockKind kind);

/// A piece of flattened text and where it came from. Runs are sorted and cover the text without
/// gaps.
struct MapRun {
  std::uint32_t text_begin = 0;     // offset in the block's text
  std::uint32_t source_begin = 0;   // offset in the source file
  std::uint32_t source_length = 0;  // bytes there
  bool verbatim = true;  // text equals source byte for byte; else the run maps as a whole
};

/// One cell of a table row, as offsets into the block's text.
struct Cell {
  std::uint32_t begin = 0;
  std::uint32_t end = 0;
  std::uint32_t column = 0;  // from 0, after spans are resolved
};

/// A table: its caption and the headings of its columns.
struct Table {
  std::string caption;                // as flattened; "" when it has none
  std::vector<std::string> headings;  // by column; "" where there is none
};

inline constexpr std::uint32_t kNone = 0xffffffffU;

struct Block {
  BlockKind kind = BlockKind::kBody;
  std::string text;          // flattened
  std::vector<MapRun> runs;  // the way back
  Span span;                 // the whole block in the source
  std::string
      figure;  // label as printed: "Fig. 3", "Plate 2", "2.1"; "" when it belongs to no figure
  std::string photograph;   // the column `photograph` of a caption list, or "" (numbers in the text
                            // are found later)
  std::string image;        // file name of the picture, "" when none is named
  std::string credit;       // credit line that is not part of the text
  std::vector<Cell> cells;  // of a table row
  std::uint32_t table = kNone;  // index into Manuscript::tables
  std::uint32_t level = 0;      // of a heading: 1 is the chapter or document title
  bool is_counted = false;    // `figure` is what the file's own figures count to: nothing prints it
  bool is_quotation = false;  // body text set off as another's words: a block quotation
  std::uint32_t group =
      kNone;  // blocks of one figure (title, caption, footnote, alternative text) share a number

  /// Source bytes of text [begin, end). An empty piece gives an empty span at its place.
  [[nodiscard]] Span text_span(std::uint32_t begin, std::uint32_t end) const;
};

/// "let it stand", as written in a manuscript.
struct Stet {
  std::string check;
  std::string reason;  // never empty
  Span span;
  std::uint32_t block =
      kNone;  // index of the block it stands on or directly before; kNone when nothing follows
};

/// A cross reference by identifier (DocBook's xref).
struct CrossReference {
  Span span;
  std::string id;
  std::uint32_t block = kNone;
};

/// One manuscript file with what it includes, in reading order.
struct Manuscript {
  std::string path;
  std::vector<Block> blocks;
  std::vector<Table> tables;
  std::vector<Stet> stets;
  std::vector<CrossReference> cross_references;
  std::vector<std::string> ids;  // identifiers of the file's elements, sorted
  std::vector<std::uint32_t>
      sections;  // for each block: index of the heading block it stands under, or kNone
};

/// Whether it is a list of captions and nothing else, such as goes to a printer beside the book:
/// its figures are those of the book once more.
[[nodiscard]] bool is_caption_list(const Manuscript& manuscript);

}  // namespace tailproof
