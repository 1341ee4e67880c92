// The text of a block: inline markup, references, footnotes, blocks within blocks.

#include <algorithm>
#include <cstring>
#include <utility>

#include "manuscript/docbook_reader.h"
#include "manuscript/entities.h"

namespace tailproof {
namespace {

// A reference that only a reader of text can use: markup or a file instead of characters.
bool brings_markup(const XmlEntity* entity) {
  return entity != nullptr && (entity->has_markup || entity->is_external);
}

bool makes_blocks(Role role) {
  switch (role) {
    case Role::kBook:
    case Role::kChapter:
    case Role::kSection:
    case Role::kBridgehead:
    case Role::kParagraph:
    case Role::kContainer:
    case Role::kEntry:
    case Role::kFigure:
    case Role::kCaption:
    case Role::kTable:
    case Role::kTitle:
    case Role::kSubtitle:
      return true;
    default:
      return false;
  }
}

}  // namespace

std::uint32_t DocBookReader::paragraph(pugi::xml_node node, const XmlOrigin& origin, BlockKind kind,
                                       std::uint32_t level) {
  Flow flow;
  flow.kind = figure_ != nullptr && kind != BlockKind::kHeading ? BlockKind::kCaption : kind;
  flow.level = kind == BlockKind::kHeading ? level : 0;
  flow.span = element_span(node, origin);
  flow.keeps_together = kind == BlockKind::kHeading;
  inlines(node, origin, flow);
  flush(flow);
  read_deferred(flow);
  return flow.block;
}

void DocBookReader::flush(Flow& flow) {
  flow.text.trim();
  if (flow.text.empty()) {
    // A stet in a paragraph without text waits for what comes next.
    for (const auto& [body, span] : flow.stets) assembly_.add_stet(body, span, flow.block);
    flow.stets.clear();
    return;
  }
  Block block;
  block.kind = flow.kind;
  block.level = flow.level;
  block.span = flow.span;
  if (flow.is_split) {
    block.span.begin = flow.text.source_begin();
    block.span.end = std::max(flow.text.source_end(), block.span.begin);
  }
  if (figure_ != nullptr) {
    block.group = figure_->group;
    block.image = figure_->image;
  }
  flow.text.move_into(block);
  flow.block = assembly_.push(std::move(block));
  for (const auto& [body, span] : flow.stets) assembly_.add_stet(body, span, flow.block);
  flow.stets.clear();
}

void DocBookReader::read_deferred(Flow& flow) {
  for (const Deferred& later : flow.deferred) element(later.node, later.origin, false);
  flow.deferred.clear();
}

void DocBookReader::inlines(pugi::xml_node node, const XmlOrigin& origin, Flow& flow) {
  for (const pugi::xml_node child : node.children()) {
    switch (child.type()) {
      case pugi::node_pcdata:
        add_text(child.value(), child.value(), origin, flow);
        break;
      case pugi::node_cdata:
        if (origin.whole) {
          flow.text.add_for(child.value(), origin.begin, origin.length);
        } else {
          flow.text.add(child.value(), origin.file->offset(child.value()));
        }
        break;
      case pugi::node_pi:
        stet(child, origin, &flow);
        break;
      case pugi::node_element:
        if (!enter(child, origin)) break;
        inline_element(child, origin, flow);
        leave();
        break;
      default:
        break;
    }
  }
}

void DocBookReader::entry(pugi::xml_node node, const XmlOrigin& origin) {
  Flow flow;
  flow.kind = figure_ != nullptr ? BlockKind::kCaption : BlockKind::kBody;
  flow.span = element_span(node, origin);
  const auto add_joint = [&](std::string_view joint, pugi::xml_node behind) {
    const std::uint32_t place = std::max(element_span(behind, origin).end, flow.text.source_end());
    flow.text.add_literal(joint, origin.whole ? origin.begin : place,
                          origin.whole ? origin.length : 0);
  };
  pugi::xml_node last_term;
  for (const pugi::xml_node child : node.children()) {
    if (child.type() == pugi::node_pi) stet(child, origin, &flow);
    if (child.type() != pugi::node_element || is_deleted(child)) continue;
    const Role role = role_of(local_name(child));
    if (role == Role::kParagraph) {
      if (!flow.text.empty()) add_joint(", ", last_term);
      inlines(child, origin, flow);
      flow.text.trim();
      last_term = child;
      continue;
    }
    const pugi::xml_node first =
        child.find_child([](pugi::xml_node each) { return each.type() == pugi::node_element; });
    const bool is_joined = role == Role::kContainer && !flow.text.empty() && !flow.is_split &&
                           flow.block == kNone && !has_text(child, origin) && !is_deleted(first) &&
                           role_of(local_name(first)) == Role::kParagraph;
    if (is_joined) {
      for (pugi::xml_node each = child.first_child(); each != first; each = each.next_sibling()) {
        if (each.type() == pugi::node_pi) stet(each, origin, &flow);
      }
      if (!flow.text.empty()) add_joint(": ", last_term);
      inlines(first, origin, flow);
    }
    flush(flow);
    read_deferred(flow);
    if (!is_joined) {
      element(child, origin, false);
      continue;
    }
    for (pugi::xml_node next = first.next_sibling(); next; next = next.next_sibling()) {
      if (next.type() == pugi::node_pi) stet(next, origin, nullptr);
      if (next.type() == pugi::node_element) element(next, origin, false);
    }
  }
  flush(flow);
  read_deferred(flow);
}

void DocBookReader::inline_element(pugi::xml_node node, const XmlOrigin& origin, Flow& flow) {
  if (is_deleted(node)) return;
  const Role role = role_of(local_name(node));
  switch (role) {
    case Role::kSkip:
    case Role::kInfo:
      return;
    case Role::kXref:
      return cross_reference(node, origin, flow);
    case Role::kQuote:
      return quote(node, origin, flow);
    case Role::kFootnote:
    case Role::kMedia:
      flow.deferred.push_back({node, origin});
      return;
    case Role::kInclude:
      return include(node, origin, &flow);
    default:
      break;
  }
  if (makes_blocks(role)) {
    if (!flow.keeps_together) {
      flow.is_split = true;
      flush(flow);
      read_deferred(flow);
      element(node, origin, false);
      return;
    }
    if (role == Role::kFigure || role == Role::kTable) {
      flow.deferred.push_back({node, origin});
      return;
    }
    // Paragraphs of a table cell: one text, a space between them.
    add_break(element_span(node, origin).begin, origin, flow);
    inlines(node, origin, flow);
    add_break(element_span(node, origin).end, origin, flow);
    return;
  }
  if (local_name(node) == "sbr") {
    add_break(element_span(node, origin).begin, origin, flow);
  }
  inlines(node, origin, flow);
}

void DocBookReader::add_break(std::uint32_t place, const XmlOrigin& origin, Flow& flow) {
  if (flow.text.empty()) return;
  if (origin.whole) return flow.text.add_space(origin.begin, origin.length);
  flow.text.add_space(std::max(place, flow.text.source_end()), 0);
}

// DocBook writes quotation marks as an element; a reader of claims needs to see them.
void DocBookReader::quote(pugi::xml_node node, const XmlOrigin& origin, Flow& flow) {
  const bool is_outer = flow.quote_depth++ % 2 == 0;
  const Span span = element_span(node, origin);
  const auto name_length = static_cast<std::uint32_t>(std::strlen(node.name()));
  const std::uint32_t tag = origin.whole ? span.size() : std::min(span.size(), name_length + 2);
  flow.text.add_for(is_outer ? "\u201C" : "\u2018", span.begin, tag);
  inlines(node, origin, flow);
  // Where the end tag is missing the mark stands behind the text.
  std::uint32_t end_tag = span.begin;
  if (!origin.whole) {
    end_tag = span.end - std::min(span.size(), name_length + 3);
    // A paragraph inside the quotation has taken the text before it.
    if (!flow.text.empty()) end_tag = std::max(end_tag, flow.text.source_end());
  }
  flow.text.add_literal(is_outer ? "\u201D" : "\u2019", end_tag,
                        span.end > end_tag ? span.end - end_tag : 0);
  --flow.quote_depth;
}

void DocBookReader::add_text(std::string_view text, const char* place, const XmlOrigin& origin,
                             Flow& flow) {
  const auto offset = [&](std::size_t at) {
    return origin.whole ? origin.begin : origin.file->offset(place + at);
  };
  const auto add_plain = [&](std::size_t begin, std::size_t end) {
    const std::string_view piece = text.substr(begin, end - begin);
    if (origin.whole) {
      flow.text.add_for(piece, origin.begin, origin.length);
    } else {
      flow.text.add(piece, offset(begin));
    }
  };
  std::size_t at = 0;
  while (at < text.size()) {
    const std::size_t amp = std::min(text.find('&', at), text.size());
    if (amp > at) add_plain(at, amp);
    if (amp == text.size()) return;
    const std::size_t length = reference_length(text.substr(amp));
    if (length == 0) {
      if (!std::exchange(origin.file->has_bare_ampersand, true)) {
        assembly_.complain(origin.file->file, offset(amp),
                           "this & begins no reference; write a plain & as &amp;");
      }
      add_plain(amp, amp + 1);
      at = amp + 1;
      continue;
    }
    XmlOrigin whole = origin;
    if (!origin.whole) {
      whole.whole = true;
      whole.begin = offset(amp);
      whole.length = static_cast<std::uint32_t>(length);
    }
    reference(text.substr(amp + 1, length - 2), whole, flow);
    at = amp + length;
  }
}

void DocBookReader::reference(std::string_view name, const XmlOrigin& whole, Flow& flow) {
  XmlEntity* const declared = name[0] == '#' ? nullptr : entity(name, whole);
  if (declared == nullptr) {
    const std::string characters = resolve_reference(name);
    if (!characters.empty()) {
      flow.text.add_for(characters, whole.begin, whole.length);
      return;
    }
    if (std::find(unknown_entities_.begin(), unknown_entities_.end(), name) ==
        unknown_entities_.end()) {
      unknown_entities_.emplace_back(name);
      // An external DTD may declare it: that is no fault of the file, but the text is not known.
      assembly_.complain(whole.file->file, whole.begin,
                         "the entity &" + std::string(name) +
                             "; is not declared in this file; declare it in the DOCTYPE, or write "
                             "the character itself",
                         whole.file->has_external_subset);
    }
    flow.text.add_for("&" + std::string(name) + ";", whole.begin, whole.length);
    return;
  }
  if (!may_expand(*declared, name, whole)) return;
  declared->open = true;
  if (declared->is_external) {
    external_entity(*declared, whole, &flow);
  } else if (declared->has_markup) {
    parse_fragment(*declared);
    inlines(*declared->fragment, whole, flow);
  } else {
    add_text(declared->text, declared->text.data(), whole, flow);
  }
  declared->open = false;
}

bool DocBookReader::has_text(pugi::xml_node node, const XmlOrigin& origin) const {
  for (const pugi::xml_node child : node.children()) {
    if (child.type() == pugi::node_cdata) return true;
    if (child.type() == pugi::node_element && (role_of(local_name(child)) == Role::kInline ||
                                               role_of(local_name(child)) == Role::kQuote)) {
      return true;
    }
    if (child.type() != pugi::node_pcdata) continue;
    const std::string_view text = child.value();
    const std::size_t first = text.find_first_not_of(kXmlBlanks);
    if (first == std::string_view::npos) continue;
    const std::size_t length = text[first] == '&' ? reference_length(text.substr(first)) : 0;
    if (length == 0 || !brings_markup(entity(text.substr(first + 1, length - 2), origin))) {
      return true;
    }
  }
  return false;
}

std::string DocBookReader::plain_text(pugi::xml_node node, const XmlOrigin& origin) {
  Flow flow;
  flow.keeps_together = true;
  inlines(node, origin, flow);
  flow.text.trim();
  return std::string(flow.text.text());
}

std::string DocBookReader::attribute(pugi::xml_node node, const char* name,
                                     const XmlOrigin& origin) {
  const pugi::xml_attribute found = node.attribute(name);
  if (!found || *found.value() == '\0') return {};
  Flow flow;
  flow.keeps_together = true;
  add_text(found.value(), found.value(), origin, flow);
  flow.text.trim();
  return std::string(flow.text.text());
}

}  // namespace tailproof
