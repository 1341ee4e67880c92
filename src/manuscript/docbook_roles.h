// What each element of DocBook is to this reader.
#pragma once

#include <cstdint>
#include <pugixml.hpp>
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
  kEntry,      // a container whose terms head what is said of them
  kFigure,
  kMedia,
  kCaption,
  kTable,
  kFootnote,
  kQuote,
  kXref,
  kInclude,
};

/// Marked as deleted or struck through: it is not printed, or printed as what no longer holds.
[[nodiscard]] bool is_deleted(pugi::xml_node node);
/// Names of elements that set another's words off as blocks.
[[nodiscard]] bool is_quotation_name(std::string_view local_name);
/// The role of an element by its name without prefix.
[[nodiscard]] Role role_of(std::string_view local_name);

}  // namespace tailproof
