// Inclusions and entities: what may be read from where, and how much.

#include <algorithm>
#include <filesystem>
#include <utility>

#include "manuscript/docbook_reader.h"
#include "manuscript/entities.h"

namespace tailproof {
namespace {

// A book of honest entities and inclusions stays far below these; a bomb passes them at once.
constexpr std::size_t kMostExpandedBytes = 8U << 20U;
constexpr std::size_t kCostOfReference = 16;
constexpr std::size_t kMostInclusions = 10000;

std::string decoded(std::string_view href) {
  const auto digit = [](char c) {
    if (c >= '0' && c <= '9') return c - '0';
    if (c >= 'a' && c <= 'f') return c - 'a' + 10;
    return c >= 'A' && c <= 'F' ? c - 'A' + 10 : -1;
  };
  std::string out;
  for (std::size_t i = 0; i < href.size(); ++i) {
    const bool is_escape =
        href[i] == '%' && i + 2 < href.size() && digit(href[i + 1]) >= 0 && digit(href[i + 2]) >= 0;
    out.push_back(is_escape ? static_cast<char>(digit(href[i + 1]) * 16 + digit(href[i + 2]))
                            : href[i]);
    if (is_escape) i += 2;
  }
  return out;
}

bool is_inside(const std::string& path, const std::string& folder) {
  return folder == "/" || path.starts_with(folder.back() == '/' ? folder : folder + "/");
}

pugi::xml_node with_id(pugi::xml_node tree, const std::string& id) {
  return tree.find_node([&id](pugi::xml_node node) {
    return id == node.attribute("xml:id").value() || id == node.attribute("id").value();
  });
}

}  // namespace

XmlEntity* DocBookReader::entity(std::string_view name, const XmlOrigin& origin) const {
  const auto found = origin.file->entities->find(name);
  return found == origin.file->entities->end() ? nullptr : &found->second;
}

bool DocBookReader::may_expand(const XmlEntity& entity, std::string_view name,
                               const XmlOrigin& whole) {
  if (expansion_stopped_) return false;
  if (entity.open) {
    assembly_.complain(whole.file->file, whole.begin,
                       "the entity &" + std::string(name) +
                           "; contains itself; entities are not expanded from here on");
    expansion_stopped_ = true;
    return false;
  }
  expanded_bytes_ += entity.text.size() + kCostOfReference;
  if (expanded_bytes_ <= kMostExpandedBytes) return true;
  assembly_.complain(whole.file->file, whole.begin,
                     "entities expand to more than 8 MiB at &" + std::string(name) +
                         ";; entities are not expanded from here on");
  expansion_stopped_ = true;
  return false;
}

void DocBookReader::structure_references(std::string_view text, const char* place,
                                         const XmlOrigin& origin, bool titles_are_headings) {
  std::size_t amp = 0;
  while ((amp = text.find('&', amp)) != std::string_view::npos) {
    const std::size_t length = reference_length(text.substr(amp));
    const std::string_view name = length == 0 ? "" : text.substr(amp + 1, length - 2);
    XmlEntity* const found = length == 0 ? nullptr : entity(name, origin);
    XmlOrigin whole = origin;
    if (!origin.whole) {
      whole.whole = true;
      whole.begin = origin.file->offset(place + amp);
      whole.length = static_cast<std::uint32_t>(length);
    }
    if (found != nullptr && (found->has_markup || found->is_external) &&
        may_expand(*found, name, whole)) {
      found->open = true;
      if (found->is_external) {
        external_entity(*found, whole, nullptr);
      } else {
        parse_fragment(*found);
        children(*found->fragment, whole, titles_are_headings);
      }
      found->open = false;
    }
    amp += std::max<std::size_t>(length, 1);
  }
}

void DocBookReader::external_entity(XmlEntity& entity, const XmlOrigin& whole, Flow* flow) {
  bool is_missing = false;
  XmlFile* const xml = open_file(entity.system, whole, whole.begin, false, true, is_missing, false);
  if (xml == nullptr) return;
  xml->open = true;
  XmlOrigin origin;
  origin.file = xml;
  if (flow == nullptr) {
    children(xml->document, origin, true);
  } else if (flow->keeps_together) {
    XmlOrigin inside = whole;  // one block lies in one file: the text stands for its reference
    inlines(xml->document, inside, *flow);
  } else {
    flow->is_split = true;
    flush(*flow);
    children(xml->document, origin, false);
  }
  xml->open = false;
}

XmlFile* DocBookReader::open_file(const std::string& href, const XmlOrigin& origin,
                                  std::uint32_t place, bool as_text, bool is_fragment,
                                  bool& is_missing, bool may_be_missing) {
  const auto complain = [&](const std::string& what) {
    assembly_.complain(origin.file->file, place, what);
    return nullptr;
  };
  const std::string name = decoded(href);
  const bool is_url = name.find("://") != std::string::npos;
  const std::string shown =
      std::filesystem::path(origin.file->folder + name).lexically_normal().string();
  std::error_code error;
  const std::string path = std::filesystem::weakly_canonical(shown, error).string();
  if (is_url || name.starts_with('/') || error || !is_inside(path, root_folder_)) {
    return complain("\"" + href +
                    "\" lies outside the manuscript's folder and is not read; put the file there");
  }
  if (++inclusions_ > kMostInclusions) {
    return complain("more than 10,000 inclusions; \"" + href + "\" and later ones are not read");
  }
  const auto known = files_.find((as_text ? "text:" : "") + path);
  if (known != files_.end()) {
    if (!known->second->open) return known->second.get();
    return complain("\"" + href +
                    "\" includes itself, here or through another file; it is not read "
                    "a second time");
  }
  const Result<FileId> file = assembly_.sources().read(shown, options_.encoding);
  if (!file) {
    is_missing = true;
    if (may_be_missing) return nullptr;
    return complain("\"" + href + "\" cannot be included: " + file.error().message);
  }
  if (included_ != nullptr) included_->push_back(shown);
  auto xml = std::make_unique<XmlFile>();
  xml->file = file.value();
  const std::size_t slash = shown.find_last_of('/');
  xml->folder = slash == std::string::npos ? "" : shown.substr(0, slash + 1);
  xml->canonical = path;
  xml->bytes = assembly_.sources().text(xml->file);
  if (is_fragment) xml->entities = origin.file->entities;
  if (!as_text) parse_xml(*xml, assembly_, is_fragment);
  return files_.emplace((as_text ? "text:" : "") + path, std::move(xml)).first->second.get();
}

void DocBookReader::include(pugi::xml_node node, const XmlOrigin& origin, Flow* flow) {
  const Span span = element_span(node, origin);
  const std::string href = attribute(node, "href", origin);
  const bool as_text = std::string_view(node.attribute("parse").value()) == "text";
  if (href.empty()) {
    assembly_.complain(origin.file->file, span.begin,
                       "an inclusion without href repeats a part of this file; it is not read");
    return;
  }
  pugi::xml_node fallback;
  for (const pugi::xml_node child : node.children()) {
    if (child.type() == pugi::node_element && local_name(child) == "fallback") fallback = child;
  }
  bool is_missing = false;
  XmlFile* const xml = open_file(href, origin, span.begin, as_text, false, is_missing, !!fallback);
  if (xml == nullptr) {
    if (!is_missing || !fallback) return;
    if (flow != nullptr) {
      inlines(fallback, origin, *flow);
    } else {
      children(fallback, origin, true);
    }
    return;
  }
  if (as_text) {
    if (flow != nullptr) flow->text.add_for(xml->bytes, span.begin, span.size());
    return;
  }
  pugi::xml_node start = xml->document;
  std::string id = attribute(node, "xpointer", origin);
  if (id.empty()) id = attribute(node, "fragid", origin);
  if (!id.empty()) {
    for (const std::string_view form : {"xpointer(id('", "element("}) {
      if (id.starts_with(form))
        id = id.substr(form.size(), id.find_first_of("')", form.size()) - form.size());
    }
    start = with_id(xml->document, id);
    if (!start) {
      assembly_.complain(origin.file->file, span.begin,
                         "\"" + href + "\" has no element with the id \"" + id +
                             "\"; only pointers to an id are followed");
      return;
    }
  }
  XmlOrigin inner;
  inner.file = xml;
  const bool was_open = std::exchange(xml->open, true);
  if (flow != nullptr) {
    flow->is_split = true;
    flush(*flow);
  }
  if (id.empty()) {
    children(start, inner, true);
  } else {
    element(start, inner, true);
  }
  xml->open = was_open;
}

}  // namespace tailproof
