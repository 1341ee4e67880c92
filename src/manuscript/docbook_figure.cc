// Figures: every text of one is a caption of the same group.

#include <cstring>
#include <utility>

#include "manuscript/docbook_reader.h"
#include "manuscript/labels.h"

namespace tailproof {
namespace {

// The first picture in a media object: of several forms of it (for print, for the screen) one is
// enough.
pugi::xml_node first_picture(pugi::xml_node node) {
  return node.find_node([](pugi::xml_node inner) {
    return inner.type() == pugi::node_element && inner.attribute("fileref");
  });
}

bool is_credit(std::string_view name) {
  return name == "othercredit" || name == "author" || name == "credit" || name == "copyright";
}

}  // namespace

std::string DocBookReader::figure_number(std::string_view name) {
  const bool is_example = name == "example";
  const unsigned number = is_example ? ++example_count_ : ++figure_count_;
  const std::string plain =
      (chapter_label_.empty() ? "" : chapter_label_ + ".") + std::to_string(number);
  return is_example ? "Example " + plain : plain;
}

void DocBookReader::figure(pugi::xml_node node, const XmlOrigin& origin) {
  const std::string_view name = local_name(node);
  // A screenshot within a figure is the figure's picture.
  if (figure_ != nullptr && name != "figure") return children(node, origin, false);
  Figure figure;
  figure.group = assembly_.new_group();
  const std::uint32_t first = assembly_.block_count();
  Figure* const outer = std::exchange(figure_, &figure);
  std::string credit;
  for (const pugi::xml_node child : node.children("info")) {
    for (const pugi::xml_node inner : child.children()) {
      if (credit.empty() && is_credit(local_name(inner))) credit = plain_text(inner, origin);
    }
  }
  children(node, origin, false);
  figure_ = outer;
  const std::string written = attribute(node, "label", origin);
  std::string number;
  if (name == "figure" || name == "example") number = figure_number(name);
  const std::string shown = written.empty() ? number : written;
  if (!shown.empty()) note_target(node, origin, (name == "figure" ? "Figure " : "") + shown);
  if (assembly_.block_count() == first) return;
  // What stands at the end of a figure belongs to the figure, not to what follows it.
  assembly_.settle_stets(assembly_.block_count() - 1);
  bool has_own = !written.empty();
  for (std::uint32_t i = first; i < assembly_.block_count() && !has_own; ++i) {
    has_own = assembly_.block(i).group == figure.group &&
              leading_figure_label(assembly_.block(i).text).has_value();
  }
  label_group(assembly_, first, figure.group, has_own ? written : number, figure.first_image,
              credit);
  for (std::uint32_t i = first; !has_own && i < assembly_.block_count(); ++i) {
    Block& block = assembly_.block(i);
    block.is_counted = block.group == figure.group;
  }
  const std::string& label = assembly_.block(first).figure;
  if (has_own && written.empty()) note_target(node, origin, label);
}

void DocBookReader::media(pugi::xml_node node, const XmlOrigin& origin) {
  if (figure_ == nullptr) {
    // A picture by itself: a figure without number.
    Figure figure;
    figure.group = assembly_.new_group();
    figure_ = &figure;
    const std::uint32_t first = assembly_.block_count();
    media(node, origin);
    figure_ = nullptr;
    label_group(assembly_, first, figure.group, "", figure.first_image, "");
    return;
  }
  const pugi::xml_node picture = node.attribute("fileref") ? node : first_picture(node);
  if (picture) {
    figure_->image = attribute(picture, "fileref", origin);
    if (figure_->first_image.empty()) figure_->first_image = figure_->image;
  }
  children(node, origin, false);
}

void DocBookReader::caption(pugi::xml_node node, const XmlOrigin& origin) {
  if (has_text(node, origin)) {
    paragraph(node, origin, BlockKind::kCaption);
  } else {
    children(node, origin, false);
  }
}

}  // namespace tailproof
