#include "manuscript/docbook_reader.h"

#include <filesystem>
#include <string_view>
#include <utility>

namespace tailproof {
namespace {

// Deeper than any book; a file that goes on is not read further down, so that no input can exhaust
// the stack.
constexpr unsigned kDeepest = 400;

std::string folder_of(const std::string& path) {
  const std::size_t slash = path.find_last_of('/');
  return slash == std::string::npos ? std::string() : path.substr(0, slash + 1);
}

std::string canonical(const std::string& path) {
  std::error_code error;
  const auto found = std::filesystem::weakly_canonical(path.empty() ? "." : path, error);
  return error ? path : found.string();
}

}  // namespace

DocBookReader::DocBookReader(Assembly& assembly, const ReadOptions& options,
                             std::vector<std::string>* included)
    : assembly_(assembly), options_(options), included_(included) {}

void DocBookReader::read(FileId file) {
  const std::string& path = assembly_.sources().path(file);
  const bool is_stream = path == "-";
  auto xml = std::make_unique<XmlFile>();
  xml->file = file;
  xml->folder = is_stream ? "" : folder_of(path);
  xml->canonical = is_stream ? path : canonical(path);
  root_folder_ = canonical(xml->folder);
  parse_xml(*xml, assembly_, false);
  xml->open = true;
  XmlFile* const root = xml.get();
  files_.emplace(root->canonical, std::move(xml));
  XmlOrigin origin;
  origin.file = root;
  children(root->document, origin, true);
  root->open = false;
  resolve_cross_references();
}

bool DocBookReader::enter(pugi::xml_node node, const XmlOrigin& origin) {
  if (++depth_ <= kDeepest) return true;
  --depth_;
  if (!too_deep_) {
    assembly_.complain(origin.file->file, element_span(node, origin).begin,
                       "elements nest deeper than 400 here; what lies deeper is not read");
  }
  too_deep_ = true;
  return false;
}

void DocBookReader::children(pugi::xml_node node, const XmlOrigin& origin,
                             bool titles_are_headings) {
  for (const pugi::xml_node child : node.children()) {
    switch (child.type()) {
      case pugi::node_element:
        element(child, origin, titles_are_headings);
        break;
      case pugi::node_pi:
        stet(child, origin, nullptr);
        break;
      case pugi::node_pcdata:
        structure_references(child.value(), child.value(), origin, titles_are_headings);
        break;
      default:
        break;
    }
  }
}

void DocBookReader::element(pugi::xml_node node, const XmlOrigin& origin,
                            bool titles_are_headings) {
  const Role role = role_of(local_name(node));
  if (role == Role::kSkip || is_deleted(node) || !enter(node, origin)) return;
  const bool is_quotation = is_quotation_name(local_name(node));
  if (is_quotation) assembly_.begin_quotation();
  switch (role) {
    case Role::kBook:
    case Role::kChapter:
    case Role::kSection:
      division(node, origin, role);
      break;
    case Role::kInfo:
      info(node, origin, titles_are_headings);
      break;
    case Role::kTitle:
      paragraph(node, origin, titles_are_headings ? BlockKind::kHeading : BlockKind::kBody, level_);
      break;
    case Role::kSubtitle:
      // One level below the title, so that both stand above what follows.
      paragraph(node, origin, titles_are_headings ? BlockKind::kHeading : BlockKind::kBody,
                level_ + 1);
      break;
    case Role::kBridgehead:
      paragraph(node, origin, BlockKind::kHeading, level_ + 1);
      break;
    case Role::kEntry:
      entry(node, origin);
      break;
    case Role::kContainer:
    case Role::kFootnote:
      if (has_text(node, origin)) {
        paragraph(node, origin, BlockKind::kBody);
      } else {
        children(node, origin, false);
      }
      break;
    case Role::kCaption:
      caption(node, origin);
      break;
    case Role::kFigure:
      figure(node, origin);
      break;
    case Role::kMedia:
      media(node, origin);
      break;
    case Role::kTable:
      table(node, origin);
      break;
    case Role::kInclude:
      include(node, origin, nullptr);
      break;
    case Role::kInline:
      if (!has_text(node, origin)) {
        children(node, origin, titles_are_headings);
        break;
      }
      [[fallthrough]];
    default:
      paragraph(node, origin, BlockKind::kBody);
      break;
  }
  if (is_quotation) assembly_.end_quotation();
  leave();
}

void DocBookReader::division(pugi::xml_node node, const XmlOrigin& origin, Role role) {
  const std::uint32_t outer_level = level_;
  const std::string outer_label = chapter_label_;
  const unsigned outer_figures = figure_count_;
  const unsigned outer_examples = example_count_;
  level_ = role == Role::kBook ? 0 : level_ + 1;
  if (role == Role::kChapter) number_chapter(node, origin);
  const unsigned outer_tables = table_count_;
  const bool counts_anew = chapter_label_ != outer_label;
  if (counts_anew) figure_count_ = example_count_ = table_count_ = 0;
  children(node, origin, true);
  if (counts_anew) {
    figure_count_ = outer_figures;
    example_count_ = outer_examples;
    table_count_ = outer_tables;
  }
  chapter_label_ = outer_label;
  level_ = outer_level;
}

void DocBookReader::number_chapter(pugi::xml_node node, const XmlOrigin& origin) {
  const std::string_view name = local_name(node);
  if (name == "chapter") {
    chapter_label_ = std::to_string(++chapter_count_);
  } else if (name == "appendix") {
    chapter_label_ = std::string(1, static_cast<char>('A' + appendix_count_++ % 26));
  } else {
    return;
  }
  const std::string label = attribute(node, "label", origin);
  if (!label.empty()) chapter_label_ = label;
  note_target(node, origin, (name == "chapter" ? "Chapter " : "Appendix ") + chapter_label_);
}

void DocBookReader::info(pugi::xml_node node, const XmlOrigin& origin, bool titles_are_headings) {
  for (const pugi::xml_node child : node.children()) {
    if (child.type() == pugi::node_pi) stet(child, origin, nullptr);
    const Role role = child.type() == pugi::node_element ? role_of(local_name(child)) : Role::kSkip;
    if (role == Role::kTitle || role == Role::kSubtitle) {
      element(child, origin, titles_are_headings);
    }
  }
}

void DocBookReader::stet(pugi::xml_node node, const XmlOrigin& origin, Flow* flow) {
  if (std::string_view(node.name()) != "stet") return;
  const Span span = instruction_span(node, origin);
  if (flow == nullptr) {
    assembly_.add_stet(node.value(), span);
  } else {
    flow->stets.emplace_back(node.value(), span);
  }
}

void read_docbook(Assembly& assembly, FileId file, const ReadOptions& options,
                  std::vector<std::string>* included) {
  DocBookReader(assembly, options, included).read(file);
}

}  // namespace tailproof
