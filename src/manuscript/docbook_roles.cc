#include "manuscript/docbook_roles.h"

#include <unordered_map>

namespace tailproof {
namespace {

struct RoleNames {
  Role role;
  std::string_view names;  // separated by one space
};

// DocBook 5.1 and 4.5. What is printed as code or stands for the trade (metadata, index terms,
// bibliographies) is not read.
constexpr RoleNames kRoles[] = {
    {Role::kSkip,
     "address anchor arc area areaset areaspec beginpage bibliocoverage "
     "biblioentry bibliolist bibliomisc bibliomixed bibliomset biblioset classsynopsis cmdsynopsis "
     "co colspec constraintdef constructorsynopsis coref destructorsynopsis enumsynopsis equation "
     "fieldsynopsis funcsynopsis graphicco imagedata index indexterm inlineequation "
     "informalequation lot macrosynopsis math mathphrase methodsynopsis olink packagesynopsis "
     "printhistory productionset programlisting programlistingco refentryinfo refmeta remark "
     "revhistory screen screenco script spanspec style svg synopsis textdata "
     "titleabbrev toc tocchap tocentry typedefsynopsis unionsynopsis videodata audiodata"},
    {Role::kBook, "book part set reference"},
    {Role::kChapter,
     "acknowledgements appendix article bibliography chapter colophon dedication glossary preface "
     "refentry partintro topic"},
    {Role::kSection,
     "section sect1 sect2 sect3 sect4 sect5 simplesect refsection refsect1 refsect2 refsect3 "
     "bibliodiv glossdiv"},
    {Role::kInfo,
     "info articleinfo appendixinfo bibliographyinfo blockinfo bookinfo chapterinfo glossaryinfo "
     "objectinfo partinfo prefaceinfo refsect1info refsect2info refsect3info refsectioninfo "
     "refsynopsisdivinfo sect1info sect2info sect3info sect4info sect5info sectioninfo setinfo "
     "sidebarinfo artheader docinfo prolog"},
    {Role::kTitle, "title"},
    {Role::kSubtitle, "subtitle"},
    {Role::kBridgehead, "bridgehead"},
    {Role::kParagraph,
     "para simpara member term glossterm glosssee glossseealso attribution literallayout seg "
     "segtitle refname refpurpose refdescriptor line"},
    {Role::kContainer,
     "abstract answer blockquote calloutlist callout caution danger epigraph formalpara glossdef "
     "glosslist highlights important informalexample itemizedlist legalnotice listitem "
     "linegroup msgset note orderedlist personblurb poetry procedure qandadiv qandaentry qandaset "
     "question refnamediv refsynopsisdiv result segmentedlist seglistitem sidebar simplelist step "
     "stepalternatives substeps task taskprerequisites taskrelated tasksummary textobject tip "
     "variablelist warning"},
    {Role::kEntry, "varlistentry glossentry"},
    {Role::kFigure, "figure informalfigure example screenshot"},
    {Role::kMedia, "mediaobject mediaobjectco inlinemediaobject graphic inlinegraphic"},
    {Role::kCaption, "caption legend"},
    {Role::kTable, "table informaltable"},
    {Role::kFootnote, "footnote"},
    {Role::kQuote, "quote"},
    {Role::kXref, "xref"},
    {Role::kInclude, "include"},
};

std::unordered_map<std::string_view, Role> index_roles() {
  std::unordered_map<std::string_view, Role> roles;
  for (const RoleNames& row : kRoles) {
    std::string_view names = row.names;
    while (!names.empty()) {
      const std::size_t space = names.find(' ');
      roles.emplace(names.substr(0, space), row.role);
      names = space == std::string_view::npos ? std::string_view{} : names.substr(space + 1);
    }
  }
  return roles;
}

}  // namespace

bool is_deleted(pugi::xml_node node) {
  if (std::string_view(node.attribute("revisionflag").value()) == "deleted") return true;
  const std::string_view role = node.attribute("role").value();
  return role == "strikethrough" || role == "line-through" || role == "deleted";
}

bool is_quotation_name(std::string_view local_name) {
  return local_name == "blockquote" || local_name == "epigraph";
}

Role role_of(std::string_view local_name) {
  static const std::unordered_map<std::string_view, Role> roles = index_roles();
  const auto found = roles.find(local_name);
  return found == roles.end() ? Role::kInline : found->second;
}

}  // namespace tailproof
