// Walks a DocBook tree and makes its blocks. Private to the readers.
//
// Three kinds of place: among blocks (children), inside a block (inlines, with a Flow), inside a
// table (docbook_table.cc). An element that makes blocks of its own inside a block ends the block
// there and goes on with a new one behind it; footnotes follow the block.
#pragma once

#include <map>
#include <memory>
#include <string>
#include <unordered_map>
#include <vector>

#include "manuscript/docbook_roles.h"
#include "manuscript/readers.h"
#include "manuscript/table_grid.h"
#include "manuscript/xml_file.h"

namespace tailproof {

class DocBookReader {
 public:
  DocBookReader(Assembly& assembly, const ReadOptions& options, std::vector<std::string>* included);
  void read(FileId file);

 private:
  struct Deferred {
    pugi::xml_node node;
    XmlOrigin origin;
  };
  /// A block being filled.
  struct Flow {
    TextBuilder text;
    BlockKind kind = BlockKind::kBody;
    std::uint32_t level = 0;
    Span span;                    // of the element
    bool is_split = false;        // the element makes more than one block
    bool keeps_together = false;  // in a table cell or title: nothing splits it
    unsigned quote_depth = 0;
    std::vector<Deferred> deferred;  // footnotes and the like: blocks that follow this one
    std::vector<std::pair<std::string, Span>> stets;
    std::uint32_t block = kNone;  // the last block made
  };
  /// The figure being read.
  struct Figure {
    std::uint32_t group = kNone;
    std::string image;  // of the picture that the next caption describes
    std::string first_image;
  };

  // docbook_reader.cc
  void children(pugi::xml_node node, const XmlOrigin& origin, bool titles_are_headings);
  void element(pugi::xml_node node, const XmlOrigin& origin, bool titles_are_headings);
  void division(pugi::xml_node node, const XmlOrigin& origin, Role role);
  void number_chapter(pugi::xml_node node, const XmlOrigin& origin);
  void info(pugi::xml_node node, const XmlOrigin& origin, bool titles_are_headings);
  void stet(pugi::xml_node node, const XmlOrigin& origin, Flow* flow);
  bool enter(pugi::xml_node node, const XmlOrigin& origin);
  void leave() { --depth_; }

  // docbook_inline.cc
  /// Index of the block made last, kNone when there is no text.
  std::uint32_t paragraph(pugi::xml_node node, const XmlOrigin& origin, BlockKind kind,
                          std::uint32_t level = 0);
  /// Terms and the first paragraph of what is said of them: one block, "V/109: struck off".
  void entry(pugi::xml_node node, const XmlOrigin& origin);
  void inlines(pugi::xml_node node, const XmlOrigin& origin, Flow& flow);
  void inline_element(pugi::xml_node node, const XmlOrigin& origin, Flow& flow);
  void quote(pugi::xml_node node, const XmlOrigin& origin, Flow& flow);
  void add_break(std::uint32_t place, const XmlOrigin& origin, Flow& flow);
  void flush(Flow& flow);
  void add_text(std::string_view text, const char* place, const XmlOrigin& origin, Flow& flow);
  void reference(std::string_view name, const XmlOrigin& whole, Flow& flow);
  void read_deferred(Flow& flow);
  [[nodiscard]] bool has_text(pugi::xml_node node, const XmlOrigin& origin) const;
  /// Text of an element or attribute without a map.
  [[nodiscard]] std::string plain_text(pugi::xml_node node, const XmlOrigin& origin);
  [[nodiscard]] std::string attribute(pugi::xml_node node, const char* name,
                                      const XmlOrigin& origin);

  // docbook_figure.cc
  void figure(pugi::xml_node node, const XmlOrigin& origin);
  void media(pugi::xml_node node, const XmlOrigin& origin);
  void caption(pugi::xml_node node, const XmlOrigin& origin);
  [[nodiscard]] std::string figure_number(std::string_view name);

  // docbook_xref.cc
  void cross_reference(pugi::xml_node node, const XmlOrigin& origin, Flow& flow);
  void note_target(pugi::xml_node node, const XmlOrigin& origin, std::string text);
  void resolve_cross_references();
  void resolve_in(std::uint32_t index);
  void note_ids();

  // docbook_table.cc
  void table(pugi::xml_node node, const XmlOrigin& origin);
  void table_part(pugi::xml_node node, const XmlOrigin& origin, TableGrid& grid, bool is_head);
  void row(pugi::xml_node node, const XmlOrigin& origin, TableGrid& grid, bool is_head);
  void read_columns(pugi::xml_node group, const XmlOrigin& origin, TableGrid& grid);
  [[nodiscard]] GridCell cell(pugi::xml_node entry, const XmlOrigin& origin, Flow& flow);

  // docbook_include.cc
  void include(pugi::xml_node node, const XmlOrigin& origin, Flow* flow);
  void external_entity(XmlEntity& entity, const XmlOrigin& whole, Flow* flow);
  /// Opens what `href` names from this origin's folder; nullptr after a complaint. `is_missing`
  /// tells a file that is not there, for which an inclusion may have a fallback.
  XmlFile* open_file(const std::string& href, const XmlOrigin& origin, std::uint32_t place,
                     bool as_text, bool is_fragment, bool& is_missing, bool may_be_missing);
  [[nodiscard]] XmlEntity* entity(std::string_view name, const XmlOrigin& origin) const;
  bool may_expand(const XmlEntity& entity, std::string_view name, const XmlOrigin& whole);
  void structure_references(std::string_view text, const char* place, const XmlOrigin& origin,
                            bool titles_are_headings);

  Assembly& assembly_;
  const ReadOptions& options_;
  std::vector<std::string>* included_;
  std::string root_folder_;  // canonical
  std::map<std::string, std::unique_ptr<XmlFile>> files_;
  std::uint32_t level_ = 0;  // of the titles of the division being read
  unsigned depth_ = 0;
  bool too_deep_ = false;
  Figure* figure_ = nullptr;
  std::string chapter_label_;
  unsigned chapter_count_ = 0;
  unsigned appendix_count_ = 0;
  unsigned figure_count_ = 0;
  unsigned example_count_ = 0;
  unsigned table_count_ = 0;
  std::size_t expanded_bytes_ = 0;
  std::size_t inclusions_ = 0;
  bool expansion_stopped_ = false;
  std::vector<std::string> unknown_entities_;
  std::unordered_map<std::string, std::string> targets_;       // text for a reference to an id
  std::unordered_map<std::uint64_t, std::string> references_;  // id that a place refers to
};

}  // namespace tailproof
