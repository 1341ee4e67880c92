// Markdown by md4c, with GitHub's tables, footnotes and front matter.
//
// md4c hands out pieces of the text it was given, so an offset is a difference of pointers; line
// breaks and the like come as literals of its own and are looked up in the source. A copy of the
// source with footnote definitions and aligned tables blanked out is parsed first (same length,
// same offsets), then each definition by itself.

#include <md4c.h>

#include <algorithm>
#include <map>
#include <string>
#include <utility>
#include <vector>

#include "manuscript/aligned_table.h"
#include "manuscript/entities.h"
#include "manuscript/html_fragment.h"
#include "manuscript/markdown_paragraph.h"
#include "manuscript/markdown_parts.h"
#include "manuscript/readers.h"

namespace tailproof {
namespace {

constexpr unsigned kFlags = MD_FLAG_TABLES | MD_FLAG_STRIKETHROUGH | MD_FLAG_TASKLISTS;

bool is_line_end(char c) { return c == '\n' || c == '\r'; }

class MarkdownReader {
 public:
  MarkdownReader(Assembly& assembly, FileId file)
      : assembly_(assembly),
        file_(file),
        source_(assembly.sources().text(file)),
        html_(assembly, file, source_),
        paragraphs_(assembly, file) {}

  void read() {
    const MarkdownParts parts = find_markdown_parts(source_);
    labels_ = &parts.labels;
    std::string copy;
    std::string_view main = source_;
    if (!parts.footnotes.empty() || !parts.tables.empty()) {
      copy = source_;
      for (const FootnoteDefinition& note : parts.footnotes) {
        std::replace_if(
            copy.begin() + note.marker, copy.begin() + note.end,
            [](char c) { return !is_line_end(c); }, ' ');
      }
      // To the parser an aligned table is a comment, whose place tells when its turn has come.
      for (const AlignedLines& table : parts.tables) {
        std::replace_if(
            copy.begin() + table.begin, copy.begin() + table.end,
            [](char c) { return !is_line_end(c); }, ' ');
        copy.replace(table.begin, 4, "<!--");
        copy.replace(table.end - 3, 3, "-->");
        aligned_.emplace(table.begin, table.end);
      }
      main = copy;
    }
    parse(main.substr(parts.body_begin), parts.body_begin, kFlags);
    for (const FootnoteDefinition& note : parts.footnotes) {
      // An indent inside a footnote is the footnote's, not code.
      parse(source_.substr(note.begin, note.end - note.begin), note.begin,
            kFlags | MD_FLAG_NOINDENTEDCODEBLOCKS);
    }
    html_.finish();
    if (!parts.footnotes.empty()) assembly_.sort_blocks();
  }

 private:
  void parse(std::string_view text, std::uint32_t begin, unsigned flags) {
    parsed_ = text;
    parsed_begin_ = cursor_ = begin;
    paragraphs_.interrupt();
    MD_PARSER parser{};
    parser.flags = flags;
    parser.enter_block = [](MD_BLOCKTYPE type, void* detail, void* self) {
      static_cast<MarkdownReader*>(self)->enter_block(type, detail);
      return 0;
    };
    parser.leave_block = [](MD_BLOCKTYPE type, void*, void* self) {
      static_cast<MarkdownReader*>(self)->leave_block(type);
      return 0;
    };
    parser.enter_span = [](MD_SPANTYPE type, void* detail, void* self) {
      static_cast<MarkdownReader*>(self)->enter_span(type, detail);
      return 0;
    };
    parser.leave_span = [](MD_SPANTYPE type, void*, void* self) {
      static_cast<MarkdownReader*>(self)->leave_span(type);
      return 0;
    };
    parser.text = [](MD_TEXTTYPE type, const MD_CHAR* text, MD_SIZE size, void* self) {
      static_cast<MarkdownReader*>(self)->text(type, {text, size});
      return 0;
    };
    if (md_parse(text.data(), static_cast<MD_SIZE>(text.size()), &parser, this) != 0) {
      assembly_.complain(file_, cursor_, "memory ran out here; the rest is not read");
    }
  }

  // Offset in the source; kNone for a literal of md4c's own.
  [[nodiscard]] std::uint32_t offset_of(const char* place) const {
    const bool inside = !std::less<>()(place, parsed_.data()) &&
                        std::less<>()(place, parsed_.data() + parsed_.size());
    return inside ? parsed_begin_ + static_cast<std::uint32_t>(place - parsed_.data()) : kNone;
  }

  void enter_block(MD_BLOCKTYPE type, void* detail) {
    end_leaf();
    switch (type) {
      case MD_BLOCK_CODE:
        in_code_ = true;
        break;
      case MD_BLOCK_HTML:
        in_html_ = true;
        html_begin_ = html_end_ = kNone;
        break;
      case MD_BLOCK_H:
        heading_level_ = static_cast<MD_BLOCK_H_DETAIL*>(detail)->level;
        break;
      case MD_BLOCK_QUOTE:
        assembly_.begin_quotation();
        break;
      case MD_BLOCK_TABLE:
        begin_table();
        break;
      case MD_BLOCK_THEAD:
        in_head_ = true;
        break;
      case MD_BLOCK_TR:
        cells_.clear();
        break;
      default:
        break;
    }
  }

  void leave_block(MD_BLOCKTYPE type) {
    switch (type) {
      case MD_BLOCK_CODE:
        in_code_ = false;
        paragraphs_.interrupt();
        break;
      case MD_BLOCK_HTML:
        in_html_ = false;
        if (html_begin_ != kNone) read_html_block();
        break;
      case MD_BLOCK_TH:
      case MD_BLOCK_TD:
        end_cell();
        break;
      case MD_BLOCK_TR:
        end_row();
        break;
      case MD_BLOCK_THEAD:
        in_head_ = false;
        break;
      case MD_BLOCK_TABLE:
        paragraphs_.end_table(table_);
        table_ = kNone;
        break;
      default:
        end_leaf();
        heading_level_ = 0;
        if (type == MD_BLOCK_QUOTE) assembly_.end_quotation();
        break;
    }
  }

  void enter_span(MD_SPANTYPE type, void* detail) {
    read_inline_html();
    if (type == MD_SPAN_EM) ++italic_depth_;
    if (type == MD_SPAN_DEL) ++struck_depth_;
    if (type != MD_SPAN_IMG || image_depth_++ > 0) return;
    const auto* const image = static_cast<MD_SPAN_IMG_DETAIL*>(detail);
    MarkdownPart part;
    part.is_image = true;
    part.image = attribute(image->src);
    part.credit = attribute(image->title);
    const std::size_t mark = source_.find("![", cursor_);
    part.begin = mark == std::string_view::npos ? cursor_ : static_cast<std::uint32_t>(mark);
    cursor_ = part.begin;
    parts_.push_back(std::move(part));
  }

  void leave_span(MD_SPANTYPE type) {
    read_inline_html();
    if (type == MD_SPAN_EM) --italic_depth_;
    if (type == MD_SPAN_DEL) --struck_depth_;
    if (type != MD_SPAN_IMG || --image_depth_ > 0) return;
    cursor_ = image_end(std::max(cursor_, parts_.back().begin + 2));
    parts_.back().end = cursor_;
    parts_.emplace_back();
  }

  void read_html_block() {
    const std::uint32_t before = assembly_.block_count();
    if (const auto table = aligned_.find(html_begin_); table != aligned_.end()) {
      read_aligned_table(table->first, table->second);
      cursor_ = table->second;
      return;
    }
    html_.read(html_begin_, html_end_);
    cursor_ = html_end_;
    // A comment between a picture and its caption does not part them.
    if (assembly_.block_count() != before) paragraphs_.interrupt();
  }

  void read_aligned_table(std::uint32_t begin, std::uint32_t end) {
    const std::vector<TextLine> lines = split_lines(source_.substr(0, end), begin);
    const auto rule = std::find_if(lines.begin(), lines.end(), [](const TextLine& line) {
      return !rule_columns(line.text).empty();
    });
    const std::vector<TextColumn> columns = rule_columns(rule->text);
    begin_table();
    AlignedTable rows(assembly_, file_, columns, table_);
    for (auto line = lines.begin(); line != rule; ++line) rows.add_head(*line);
    for (auto line = rule + 1; line != lines.end(); ++line) rows.add(*line);
    rows.end_row();
    paragraphs_.end_table(table_);
    table_ = kNone;
  }

  // Behind "](target "title")" or "][label]" or "]".
  [[nodiscard]] std::uint32_t image_end(std::uint32_t at) const {
    const auto size = static_cast<std::uint32_t>(source_.size());
    while (at < size && source_[at] != ']' && !is_line_end(source_[at])) ++at;
    if (at == size || source_[at] != ']') return at;
    ++at;
    if (at < size && source_[at] == '[') {
      const std::size_t close = source_.find(']', at);
      return close == std::string_view::npos ? at : static_cast<std::uint32_t>(close) + 1;
    }
    if (at == size || source_[at] != '(') return at;
    unsigned depth = 0;
    char quote = '\0';
    for (std::uint32_t i = at; i < size; ++i) {
      const char c = source_[i];
      if (c == '\\') {
        ++i;
      } else if (quote != '\0') {
        if (c == quote) quote = '\0';
      } else if ((c == '"' || c == '\'') &&
                 (source_[i - 1] == ' ' || is_line_end(source_[i - 1]))) {
        quote = c;
      } else if (c == '(') {
        ++depth;
      } else if (c == ')' && --depth == 0) {
        return i + 1;
      }
    }
    return at;
  }

  static std::string attribute(const MD_ATTRIBUTE& value) {
    std::string out;
    for (unsigned i = 0; value.size != 0 && value.substr_offsets[i] < value.size; ++i) {
      const unsigned begin = value.substr_offsets[i];
      const std::string_view piece(value.text + begin, value.substr_offsets[i + 1] - begin);
      out +=
          value.substr_types[i] == MD_TEXT_ENTITY ? resolve_references(piece) : std::string(piece);
    }
    return out;
  }

  MarkdownPart& part() {
    if (parts_.empty()) parts_.emplace_back();
    return parts_.back();
  }

  void text(MD_TEXTTYPE type, std::string_view piece) {
    if (in_code_) return;
    const std::uint32_t at = offset_of(piece.data());
    if (in_html_) {
      if (at == kNone) return;
      if (html_begin_ == kNone) html_begin_ = at;
      html_end_ = at + static_cast<std::uint32_t>(piece.size());
      return;
    }
    if (type == MD_TEXT_HTML) {
      if (at == kNone) return;
      if (inline_html_begin_ == kNone) inline_html_begin_ = at;
      inline_html_end_ = cursor_ = at + static_cast<std::uint32_t>(piece.size());
      return;
    }
    read_inline_html();
    if (struck_depth_ > 0) {
      if (at != kNone) cursor_ = at + static_cast<std::uint32_t>(piece.size());
      return;
    }
    if (type == MD_TEXT_BR || type == MD_TEXT_SOFTBR || (at == kNone && type != MD_TEXT_NULLCHAR)) {
      line_break();
    } else if (type == MD_TEXT_NULLCHAR) {
      part().text.add_for("\uFFFD", cursor_, 1);
    } else if (type == MD_TEXT_ENTITY) {
      const std::string characters = resolve_references(piece);
      if (characters == piece) {
        part().text.add(piece, at);
      } else {
        part().text.add_for(characters, at, static_cast<std::uint32_t>(piece.size()));
      }
      cursor_ = at + static_cast<std::uint32_t>(piece.size());
      if (italic_depth_ == 0) part().has_plain = true;
    } else {
      add_source(piece, at);
      cursor_ = at + static_cast<std::uint32_t>(piece.size());
    }
  }

  void add_source(std::string_view piece, std::uint32_t at) {
    MarkdownPart& current = part();
    if (italic_depth_ == 0 && !current.has_plain) {
      current.has_plain = piece.find_first_not_of(" \t") != std::string_view::npos;
    }
    // Footnote marks are no words of the sentence.
    std::size_t begin = 0;
    std::size_t mark = labels_->empty() ? std::string_view::npos : piece.find("[^");
    while (mark != std::string_view::npos) {
      const std::size_t close = piece.find(']', mark);
      if (close == std::string_view::npos) break;
      if (labels_->contains(piece.substr(mark + 2, close - mark - 2))) {
        current.text.add(piece.substr(begin, mark - begin), at + static_cast<std::uint32_t>(begin));
        begin = close + 1;
      }
      mark = piece.find("[^", mark + 2);
    }
    current.text.add(piece.substr(begin), at + static_cast<std::uint32_t>(begin));
  }

  void line_break() {
    std::uint32_t at = cursor_;
    while (at < source_.size() && !is_line_end(source_[at])) ++at;
    if (at == source_.size()) return;
    const std::uint32_t length = source_.substr(at).starts_with("\r\n") ? 2 : 1;
    part().text.add_for(" ", at, length);
    cursor_ = at + length;
  }

  // Comments and tags inside a paragraph.
  void read_inline_html() {
    if (inline_html_begin_ == kNone) return;
    std::uint32_t at = inline_html_begin_;
    const std::uint32_t end = inline_html_end_;
    inline_html_begin_ = kNone;
    while (at < end) {
      const std::string_view rest = source_.substr(at, end - at);
      if (rest.starts_with("<!--")) {
        const std::size_t close = std::min(rest.find("-->", 4), rest.size());
        const auto behind = static_cast<std::uint32_t>(at + std::min(close + 3, rest.size()));
        const std::string_view body = stet_body(rest.substr(4, close - 4));
        if (body.data() != nullptr) part().stets.emplace_back(body, Span{file_, at, behind});
        at = behind;
        continue;
      }
      const HtmlTag tag = rest[0] == '<' ? read_html_tag(source_, at, end) : HtmlTag{};
      if (tag.name.empty()) {
        if (tag.end == end) break;
        ++at;
        continue;
      }
      if (tag.name == "br") part().text.add_for(" ", at, tag.end - at);
      if (tag.name == "q") part().text.add_for(tag.is_end ? "\u201D" : "\u201C", at, tag.end - at);
      if (tag.name == "em" || tag.name == "i") italic_depth_ += tag.is_end ? -1 : 1;
      inline_heading(tag);
      if (tag.name == "img" && image_depth_ == 0) inline_image(tag, at);
      at = tag.end;
    }
  }

  // The parser takes <h2> to <h6> for tags inside a paragraph.
  void inline_heading(const HtmlTag& tag) {
    const std::string_view name = tag.name;
    if (name.size() != 2 || name[0] != 'h' || name[1] < '1' || name[1] > '6') return;
    if (!tag.is_end && parts_.empty()) {
      heading_level_ = static_cast<std::uint32_t>(name[1] - '0');
    } else if (tag.is_end && heading_level_ != 0) {
      end_leaf();
      heading_level_ = 0;
    }
  }

  void inline_image(const HtmlTag& tag, std::uint32_t begin) {
    const auto value = [&](std::string_view name) {
      const HtmlAttribute* const found = tag.find(name);
      return found == nullptr
                 ? std::string()
                 : resolve_references(source_.substr(found->begin, found->end - found->begin));
    };
    MarkdownPart image;
    image.is_image = true;
    image.image = value("src");
    image.credit = value("title");
    image.begin = begin;
    image.end = tag.end;
    if (const HtmlAttribute* const alt = tag.find("alt")) {
      add_html_text(image.text, source_, alt->begin, alt->end);
    }
    parts_.push_back(std::move(image));
    parts_.emplace_back();
  }

  void end_leaf() {
    read_inline_html();
    italic_depth_ = 0;
    if (parts_.empty()) return;
    std::vector<MarkdownPart> parts = std::move(parts_);
    parts_.clear();
    paragraphs_.add(std::move(parts), heading_level_, html_.figure_group());
  }

  void begin_table() {
    table_ = assembly_.new_table();
    paragraphs_.begin_table(table_);
  }

  void end_cell() {
    read_inline_html();
    RowCell cell;
    cell.column = static_cast<std::uint32_t>(cells_.size());
    cell.begin = cell.end = cursor_;
    for (MarkdownPart& each : parts_) {
      each.text.trim();
      if (!each.text.empty()) cell.text.add_block(each.text, each.text.source_begin(), 0);
      for (const auto& [body, span] : each.stets) assembly_.add_stet(body, span);
    }
    parts_.clear();
    if (!cell.text.empty()) {
      cell.begin = cell.text.source_begin();
      cell.end = std::max(cell.text.source_end(), cell.begin);
    }
    cells_.push_back(std::move(cell));
  }

  void end_row() {
    if (in_head_) {
      for (const RowCell& cell : cells_) {
        add_heading(assembly_.table(table_), cell.column, cell.text.text());
      }
      return;
    }
    const auto first = std::find_if(cells_.begin(), cells_.end(),
                                    [](const RowCell& cell) { return !cell.text.empty(); });
    if (first == cells_.end()) return;
    std::uint32_t begin = first->begin;
    std::uint32_t end = cells_.back().end;
    while (begin > 0 && !is_line_end(source_[begin - 1])) --begin;
    while (end < source_.size() && !is_line_end(source_[end])) ++end;
    assembly_.push_row(cells_, table_, {file_, begin, end});
  }

  Assembly& assembly_;
  FileId file_;
  std::string_view source_;
  HtmlFragmentReader html_;
  MarkdownParagraphs paragraphs_;
  const std::unordered_set<std::string_view>* labels_ = nullptr;
  std::map<std::uint32_t, std::uint32_t> aligned_;  // aligned tables, begin to end
  std::string_view parsed_;                         // what md4c was given
  std::uint32_t parsed_begin_ = 0;                  // its place in the source
  std::uint32_t cursor_ = 0;                        // behind the last piece of text
  std::vector<MarkdownPart> parts_;
  std::vector<RowCell> cells_;
  std::uint32_t table_ = kNone;
  std::uint32_t heading_level_ = 0;
  int italic_depth_ = 0;
  int struck_depth_ = 0;
  int image_depth_ = 0;
  bool in_head_ = false;
  bool in_code_ = false;
  bool in_html_ = false;
  std::uint32_t html_begin_ = kNone;
  std::uint32_t html_end_ = kNone;
  std::uint32_t inline_html_begin_ = kNone;
  std::uint32_t inline_html_end_ = kNone;
};

}  // namespace

void read_markdown(Assembly& assembly, FileId file) { MarkdownReader(assembly, file).read(); }

}  // namespace tailproof
