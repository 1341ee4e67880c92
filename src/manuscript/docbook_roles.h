// What each element of DocBook is to this reader.
#pragma once

#include <cstdint>
#include <string_view>

namespace tailproof {

enum class Role : std::uint8_t {
  kInline,   // text of the block it stands in, and everything that is not listed
  kSkip,     // not read for claims
  kBook,     // titles are of level 0
  kChapter,  // titles one level below
  kSection,
  kInfo,  // only its title is read
  kTitle,
  kSubtitle,
  kBridgehead,
  kParagraph,  // its text is a block
  kContainer,  // its children are blocks
  kFigure,
  kMedia,
  kCaption,
  kTable,
  kFootnote,
  kQuote,
  kXref,
  kInclude,
};

/// The role of an element by its name without prefix.
[[nodiscard]] Role role_of(std::string_view local_name);

}  // namespace tailproof
