#include "manuscript/xml_file.h"

#include <algorithm>
#include <cstring>
#include <utility>

#include "manuscript/entities.h"

namespace tailproof {
namespace {

constexpr unsigned kParseFlags = pugi::parse_cdata | pugi::parse_comments | pugi::parse_pi |
                                 pugi::parse_doctype | pugi::parse_ws_pcdata;

// Reads the entity declarations of a DOCTYPE's internal subset. Parameter entities, elements and
// attributes declared there say nothing about text and are passed over.
class SubsetScanner {
 public:
  explicit SubsetScanner(std::string_view doctype) : text_(doctype) {}

  void scan(XmlEntities& entities) {
    const std::size_t bracket = text_.find('[');
    if (bracket == std::string_view::npos) return;
    at_ = bracket + 1;
    while (at_ < text_.size()) {
      if (starts("<!--")) {
        skip_behind("-->");
      } else if (starts("<?")) {
        skip_behind("?>");
      } else if (starts("<!ENTITY")) {
        at_ += 8;
        declaration(entities);
      } else if (starts("<!")) {
        skip_declaration();
      } else {
        ++at_;
      }
    }
  }

 private:
  [[nodiscard]] bool starts(std::string_view what) const {
    return text_.substr(at_).starts_with(what);
  }
  void skip_behind(std::string_view what) {
    const std::size_t found = text_.find(what, at_);
    at_ = found == std::string_view::npos ? text_.size() : found + what.size();
  }
  void skip_blanks() { at_ = std::min(text_.find_first_not_of(kXmlBlanks, at_), text_.size()); }
  void skip_declaration() {
    while (at_ < text_.size() && text_[at_] != '>') {
      if (text_[at_] == '"' || text_[at_] == '\'') {
        static_cast<void>(literal());
      } else {
        ++at_;
      }
    }
  }
  std::string_view name() {
    skip_blanks();
    const std::size_t begin = at_;
    at_ = std::min(text_.find_first_of(" \t\r\n\"'>", at_), text_.size());
    return text_.substr(begin, at_ - begin);
  }
  std::string_view literal() {
    skip_blanks();
    if (at_ >= text_.size() || (text_[at_] != '"' && text_[at_] != '\'')) return {};
    const std::size_t begin = at_ + 1;
    const std::size_t end = std::min(text_.find(text_[at_], begin), text_.size());
    at_ = std::min(end + 1, text_.size());
    return text_.substr(begin, end - begin);
  }

  void declaration(XmlEntities& entities) {
    const std::string_view entity_name = name();
    if (entity_name == "%") return skip_declaration();
    XmlEntity entity;
    skip_blanks();
    if (starts("SYSTEM") || starts("PUBLIC")) {
      const bool has_public = starts("PUBLIC");
      at_ += 6;
      if (has_public) static_cast<void>(literal());
      entity.system = literal();
      entity.is_external = true;
    } else {
      entity.text = with_characters(literal());
      entity.has_markup = entity.text.find('<') != std::string::npos;
    }
    skip_declaration();
    // The first declaration of a name binds (XML 1.0, 4.2).
    entities.try_emplace(std::string(entity_name), std::move(entity));
  }

  // Character references in a declaration are resolved when it is read; other references when the
  // entity is used (XML 1.0, 4.4).
  static std::string with_characters(std::string_view value) {
    std::string out;
    std::size_t at = 0;
    while (at < value.size()) {
      const std::size_t length =
          value.substr(at).starts_with("&#") ? reference_length(value.substr(at)) : 0;
      if (length == 0) {
        out.push_back(value[at++]);
      } else {
        out += resolve_reference(value.substr(at + 1, length - 2));
        at += length;
      }
    }
    return out;
  }

  std::string_view text_;
  std::size_t at_ = 0;
};

std::string fault(const pugi::xml_parse_result& result, std::string_view bytes) {
  const auto at =
      std::min(static_cast<std::size_t>(std::max<std::ptrdiff_t>(result.offset, 0)), bytes.size());
  const auto tag_at = [bytes](std::size_t place) {
    const std::size_t end = bytes.find_first_of(" \t\r\n/>", place);
    return std::string(bytes.substr(place, std::min<std::size_t>(end, place + 40) - place));
  };
  switch (result.status) {
    case pugi::status_end_element_mismatch:
      if (at >= bytes.size()) return "the file ends inside an element; close what is open";
      if (bytes.find('>', at) == std::string_view::npos || bytes.substr(at, 1) == "\n" ||
          tag_at(at).empty()) {
        return "the file ends inside an element; close what is open";
      }
      return "the end tag </" + tag_at(at) +
             "> does not match the element that is open here; close that one first";
    case pugi::status_no_document_element:
      return "there is no element in this file; a DocBook file has one";
    case pugi::status_bad_start_element:
      return "this is no start tag; write a plain < as &lt;";
    case pugi::status_bad_attribute:
      return "an attribute is malformed; write it as name=\"value\"";
    case pugi::status_bad_end_element:
      return "an end tag is malformed; write it as </name>";
    default:
      return std::string("the XML is malformed (") + result.description() + ")";
  }
}

// Offset behind the tag that ends at or after `at`.
std::uint32_t behind(std::string_view bytes, std::uint32_t at, std::string_view what) {
  const std::size_t found = bytes.find(what, at);
  return static_cast<std::uint32_t>(found == std::string_view::npos ? bytes.size()
                                                                    : found + what.size());
}

std::uint32_t value_end(pugi::xml_node node, const XmlFile& xml) {
  return xml.offset(node.value()) + static_cast<std::uint32_t>(std::strlen(node.value()));
}

std::uint32_t name_end(pugi::xml_node node, const XmlFile& xml) {
  return xml.offset(node.name()) + static_cast<std::uint32_t>(std::strlen(node.name()));
}

// End of a node without children.
std::uint32_t leaf_end(pugi::xml_node node, const XmlFile& xml) {
  switch (node.type()) {
    case pugi::node_pcdata:
      return value_end(node, xml);
    case pugi::node_cdata:
      return behind(xml.bytes, value_end(node, xml), "]]>");
    case pugi::node_comment:
      return behind(xml.bytes, value_end(node, xml), "-->");
    case pugi::node_pi: {
      const bool has_value = *node.value() != '\0';
      return behind(xml.bytes, has_value ? value_end(node, xml) : name_end(node, xml), "?>");
    }
    default:
      break;
  }
  std::uint32_t at = name_end(node, xml);
  if (const pugi::xml_attribute last = node.last_attribute()) {
    at = xml.offset(last.value()) + static_cast<std::uint32_t>(std::strlen(last.value())) + 1;
  }
  const std::uint32_t end = behind(xml.bytes, at, ">");
  const bool is_empty_tag = end >= 2 && xml.bytes[end - 2] == '/';
  return is_empty_tag ? end : behind(xml.bytes, end, ">");
}

// Down to the last leaf, then one end tag for each level. No recursion: nesting has no limit here.
std::uint32_t node_end(pugi::xml_node node, const XmlFile& xml) {
  std::uint32_t levels = 0;
  while (const pugi::xml_node last = node.last_child()) {
    node = last;
    ++levels;
  }
  std::uint32_t end = leaf_end(node, xml);
  while (levels-- > 0) end = behind(xml.bytes, end, ">");
  return end;
}

}  // namespace

void parse_xml(XmlFile& xml, Assembly& assembly, bool is_fragment) {
  xml.bytes = assembly.sources().text(xml.file);
  const std::size_t size = xml.bytes.size();
  xml.copy = std::make_unique_for_overwrite<char[]>(size + 1);
  std::copy(xml.bytes.begin(), xml.bytes.end(), xml.copy.get());
  xml.copy[size] = '\0';
  if (const std::size_t nul = xml.bytes.find('\0'); nul != std::string_view::npos) {
    assembly.complain(xml.file, static_cast<std::uint32_t>(nul),
                      "a null character cannot stand in XML; take it out");
    std::replace(xml.copy.get(), xml.copy.get() + size, '\0', ' ');
  }
  const unsigned flags = is_fragment ? kParseFlags | pugi::parse_fragment : kParseFlags;
  const pugi::xml_parse_result result =
      xml.document.load_buffer_inplace(xml.copy.get(), size, flags, pugi::encoding_utf8);
  if (!result) {
    assembly.complain(xml.file,
                      static_cast<std::uint32_t>(std::max<std::ptrdiff_t>(result.offset, 0)),
                      fault(result, xml.bytes));
  }
  if (xml.entities != nullptr) return;
  xml.entities = &xml.own_entities;
  for (const pugi::xml_node node : xml.document.children()) {
    if (node.type() != pugi::node_doctype) continue;
    const std::string_view doctype = node.value();
    const std::string_view head = doctype.substr(0, doctype.find('['));
    xml.has_external_subset = head.find("SYSTEM") != std::string_view::npos ||
                              head.find("PUBLIC") != std::string_view::npos ||
                              doctype.find("<!ENTITY %") != std::string_view::npos;
    SubsetScanner(doctype).scan(xml.own_entities);
  }
}

void parse_fragment(XmlEntity& entity) {
  if (entity.fragment != nullptr) return;
  entity.fragment = std::make_unique<pugi::xml_document>();
  entity.buffer = entity.text;
  entity.fragment->load_buffer_inplace(entity.buffer.data(), entity.buffer.size(),
                                       kParseFlags | pugi::parse_fragment, pugi::encoding_utf8);
}

Span element_span(pugi::xml_node node, const XmlOrigin& origin) {
  const FileId file = origin.file->file;
  if (origin.whole) return {file, origin.begin, origin.begin + origin.length};
  return {file, origin.file->offset(node.name()) - 1, node_end(node, *origin.file)};
}

Span instruction_span(pugi::xml_node node, const XmlOrigin& origin) {
  const FileId file = origin.file->file;
  if (origin.whole) return {file, origin.begin, origin.begin + origin.length};
  return {file, origin.file->offset(node.name()) - 2, node_end(node, *origin.file)};
}

std::string_view local_name(pugi::xml_node node) {
  const std::string_view name = node.name();
  const std::size_t colon = name.find(':');
  return colon == std::string_view::npos ? name : name.substr(colon + 1);
}

}  // namespace tailproof
