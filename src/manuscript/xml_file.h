// One XML file, parsed so that every piece of it still knows its place in the bytes.
//
// pugixml parses a copy of the bytes in place, with no conversion of references or line ends: names
// and values are then pieces of the copy, and a difference of pointers is an offset in the source.
// References are resolved by the reader, from the entities declared in the internal subset and the
// names of entities.h. An external DTD is never fetched.
#pragma once

#include <cstdint>
#include <map>
#include <memory>
#include <pugixml.hpp>
#include <string>
#include <string_view>

#include "manuscript/assembly.h"

namespace tailproof {

inline constexpr std::string_view kXmlBlanks = " \t\r\n";

/// An entity of the internal subset.
struct XmlEntity {
  std::string text;    // its replacement text, character references resolved
  std::string system;  // of an external one: where it is; its text is then empty
  bool is_external = false;
  bool has_markup = false;
  bool open = false;                             // being expanded: meeting it again is a loop
  std::unique_ptr<pugi::xml_document> fragment;  // parsed when first needed, if it has markup
  std::string buffer;                            // what the fragment points into
};
using XmlEntities = std::map<std::string, XmlEntity, std::less<>>;

struct XmlFile {
  FileId file = 0;
  std::string folder;     // as shown, with a slash at the end, or ""
  std::string canonical;  // to tell loops
  std::string_view bytes;
  std::unique_ptr<char[]> copy;
  pugi::xml_document document;
  XmlEntities own_entities;
  XmlEntities* entities = nullptr;   // own, or those of the file that names this one as an entity
  bool has_external_subset = false;  // a DTD that is not read may declare entities
  bool has_bare_ampersand = false;   // complained of once
  bool open = false;                 // being read: meeting it again is a loop

  [[nodiscard]] std::uint32_t offset(const char* place) const {
    return static_cast<std::uint32_t>(place - copy.get());
  }
};

/// Where nodes come from: a file, or the expansion of an entity, all of which stands for the
/// reference.
struct XmlOrigin {
  XmlFile* file = nullptr;
  bool whole = false;
  std::uint32_t begin = 0;
  std::uint32_t length = 0;
};

/// Parses `xml.file`; what is malformed is one complaint, and the part before it can be read.
/// `is_fragment`: several elements may stand side by side.
void parse_xml(XmlFile& xml, Assembly& assembly, bool is_fragment);
/// Parses the entity's text, once.
void parse_fragment(XmlEntity& entity);

/// Source bytes of an element, its tags included; for an expansion, those of the reference.
[[nodiscard]] Span element_span(pugi::xml_node node, const XmlOrigin& origin);
/// Source bytes of a comment or processing instruction.
[[nodiscard]] Span instruction_span(pugi::xml_node node, const XmlOrigin& origin);
/// The name without its prefix.
[[nodiscard]] std::string_view local_name(pugi::xml_node node);

}  // namespace tailproof
