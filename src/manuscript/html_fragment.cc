#include "manuscript/html_fragment.h"

#include <algorithm>
#include <array>
#include <cstdlib>
#include <utility>

#include "manuscript/entities.h"
#include "manuscript/labels.h"
#include "source/ascii.h"

namespace tailproof {
namespace {

bool is_blank(char c) { return c == ' ' || c == '\t' || c == '\n' || c == '\r' || c == '\f'; }

template <std::size_t N>
bool is_one_of(std::string_view name, const std::array<std::string_view, N>& names) {
  return std::find(names.begin(), names.end(), name) != names.end();
}

constexpr std::array<std::string_view, 28> kBlockTags = {
    "address", "article", "aside", "blockquote", "center",  "dd",   "details",
    "div",     "dl",      "dt",    "fieldset",   "footer",  "form", "header",
    "hr",      "li",      "main",  "menu",       "nav",     "ol",   "p",
    "section", "summary", "ul",    "figcaption", "caption", "body", "legend"};
constexpr std::array<std::string_view, 6> kUnreadTags = {"script",   "style",    "pre",
                                                         "template", "textarea", "title"};

std::uint32_t count_of(const std::string& text) {
  const long value = std::strtol(text.c_str(), nullptr, 10);
  return static_cast<std::uint32_t>(std::clamp(value, 1L, 1000L));
}

}  // namespace

const HtmlAttribute* HtmlTag::find(std::string_view attribute) const {
  for (const HtmlAttribute& each : attributes) {
    if (each.name == attribute) return &each;
  }
  return nullptr;
}

HtmlTag read_html_tag(std::string_view source, std::uint32_t begin, std::uint32_t end) {
  HtmlTag tag;
  std::uint32_t at = begin + 1;
  const auto skip_blanks = [&] {
    while (at < end && is_blank(source[at])) ++at;
  };
  const auto word = [&](std::string_view stops) {
    const std::uint32_t from = at;
    while (at < end && !is_blank(source[at]) && stops.find(source[at]) == std::string_view::npos) {
      ++at;
    }
    return source.substr(from, at - from);
  };
  if (at < end && source[at] == '/') {
    tag.is_end = true;
    ++at;
  }
  if (at >= end || !is_letter(source[at])) return {};
  tag.name = lower(word("/>"));
  while (at < end && source[at] != '>') {
    skip_blanks();
    if (at < end && source[at] == '/') {
      ++at;
      continue;
    }
    if (at >= end || source[at] == '>') break;
    HtmlAttribute attribute;
    const std::uint32_t name_begin = at;
    attribute.name = lower(word("=/>"));
    if (at == name_begin) ++at;  // a stray "=": no name ends here
    skip_blanks();
    attribute.begin = attribute.end = at;
    if (at < end && source[at] == '=') {
      ++at;
      skip_blanks();
      const char quote = at < end ? source[at] : '\0';
      if (quote == '"' || quote == '\'') {
        attribute.begin = ++at;
        at = static_cast<std::uint32_t>(std::min<std::size_t>(source.find(quote, at), end));
        attribute.end = at;
        if (at < end) ++at;
      } else {
        attribute.begin = at;
        static_cast<void>(word(">"));
        attribute.end = at;
      }
    }
    tag.attributes.push_back(std::move(attribute));
  }
  if (at >= end) {
    HtmlTag unclosed;
    unclosed.end = end;
    return unclosed;
  }
  tag.end = at + 1;
  return tag;
}

void add_html_text(TextBuilder& text, std::string_view source, std::uint32_t begin,
                   std::uint32_t end) {
  while (begin < end) {
    const auto amp =
        static_cast<std::uint32_t>(std::min<std::size_t>(source.find('&', begin), end));
    text.add(source.substr(begin, amp - begin), begin);
    if (amp == end) return;
    const std::size_t length = reference_length(source.substr(amp, end - amp));
    const std::string characters =
        length == 0 ? "" : resolve_reference(source.substr(amp + 1, length - 2));
    if (characters.empty()) {
      text.add("&", amp);
      begin = amp + 1;
    } else {
      text.add_for(characters, amp, static_cast<std::uint32_t>(length));
      begin = amp + static_cast<std::uint32_t>(length);
    }
  }
}

void HtmlFragmentReader::read(std::uint32_t begin, std::uint32_t end) {
  last_picture_.reset();
  std::uint32_t at = begin;
  while (at < end) {
    const auto open = static_cast<std::uint32_t>(std::min<std::size_t>(source_.find('<', at), end));
    text(at, open);
    at = open;
    if (at >= end) break;
    if (source_.substr(at, end - at).starts_with("<!--")) {
      at = comment(at, end);
      continue;
    }
    const HtmlTag found = read_html_tag(source_, at, end);
    if (found.name.empty() && found.end == end) {
      // What never closes is no tag, and nothing behind it is looked at for one.
      text(at, end);
      break;
    }
    if (found.name.empty()) {
      const bool is_markup = at + 1 < end && (source_[at + 1] == '!' || source_[at + 1] == '?');
      const std::uint32_t behind = static_cast<std::uint32_t>(
          is_markup ? std::min<std::size_t>(source_.find('>', at), end - 1) + 1 : at + 1);
      if (!is_markup) text(at, behind);
      at = behind;
      continue;
    }
    tag(found, at);
    at = found.end;
    if (!found.is_end && is_one_of(found.name, kUnreadTags)) {
      // Nothing inside is text; the end tag itself is read next.
      const std::string close = "</" + found.name;
      while (at < end && lower(source_.substr(at, close.size())) != close) ++at;
    }
  }
  if (grid_ == nullptr) flush();
}

std::uint32_t HtmlFragmentReader::comment(std::uint32_t begin, std::uint32_t end) {
  const std::size_t close = source_.find("-->", begin + 4);
  const std::size_t inner_end = std::min<std::size_t>(close, end);
  const auto behind = static_cast<std::uint32_t>(std::min<std::size_t>(inner_end + 3, end));
  const std::string_view body = stet_body(source_.substr(begin + 4, inner_end - begin - 4));
  if (body.data() != nullptr) {
    // Behind text it stands on that text's block, else directly before what follows.
    if (!text_.empty() && grid_ == nullptr) flush();
    const bool on_block = figure_ && assembly_.block_count() > figure_->first_block;
    assembly_.add_stet(body, {file_, begin, behind},
                       on_block ? assembly_.block_count() - 1 : kNone);
  }
  return behind;
}

void HtmlFragmentReader::text(std::uint32_t begin, std::uint32_t end) {
  if (grid_ != nullptr && !in_cell_ && !in_table_caption_) return;
  add_html_text(text_, source_, begin, end);
}

std::string HtmlFragmentReader::value(const HtmlAttribute* attribute) const {
  if (attribute == nullptr) return {};
  return resolve_references(source_.substr(attribute->begin, attribute->end - attribute->begin));
}

void HtmlFragmentReader::tag(const HtmlTag& tag, std::uint32_t begin) {
  const std::string_view name = tag.name;
  if (table_tag(tag, begin)) return;
  if (name == "img" && !tag.is_end) return image(tag, begin);
  if (in_cell_ || in_table_caption_) {
    const std::uint32_t length = tag.end - begin;
    if (name == "br" || is_one_of(name, kBlockTags)) text_.add_for(" ", begin, length);
    return;
  }
  if (name == "figure") {
    flush();
    close_figure();
    if (!tag.is_end) figure_ = Picture{assembly_.new_group(), assembly_.block_count(), "", ""};
    return;
  }
  if (name.size() == 2 && name[0] == 'h' && name[1] >= '1' && name[1] <= '6') {
    flush();
    heading_level_ = tag.is_end ? 0 : static_cast<std::uint32_t>(name[1] - '0');
    return;
  }
  if (name == "br") {
    text_.add_for(" ", begin, tag.end - begin);
  } else if (name == "q") {
    text_.add_for(tag.is_end ? "\u201D" : "\u201C", begin, tag.end - begin);
  } else if (is_one_of(name, kBlockTags) || is_one_of(name, kUnreadTags)) {
    flush();
  }
}

bool HtmlFragmentReader::table_tag(const HtmlTag& tag, std::uint32_t begin) {
  const std::string_view name = tag.name;
  if (name == "table") {
    if (grid_ != nullptr) end_row(begin);
    flush();
    grid_ = tag.is_end ? nullptr : std::make_unique<TableGrid>(assembly_, assembly_.new_table());
    row_is_head_ = true;
    return true;
  }
  if (grid_ == nullptr) return false;
  if (name == "caption") {
    if (tag.is_end) {
      text_.trim();
      assembly_.table(grid_->table()).caption = text_.text();
      flush();
    }
    in_table_caption_ = !tag.is_end;
    return true;
  }
  if (name == "tr") {
    end_row(begin);
    row_begin_ = tag.is_end ? kNone : begin;
    return true;
  }
  if (name == "td" || name == "th") {
    end_cell(begin);
    if (tag.is_end) return true;
    if (row_begin_ == kNone) row_begin_ = begin;
    if (name == "td") row_is_head_ = false;
    GridCell cell;
    cell.begin = tag.end;
    cell.columns = count_of(value(tag.find("colspan")));
    cell.rows = count_of(value(tag.find("rowspan")));
    cells_.push_back(std::move(cell));
    in_cell_ = true;
    return true;
  }
  return name == "thead" || name == "tbody" || name == "tfoot";
}

void HtmlFragmentReader::end_cell(std::uint32_t end) {
  if (in_cell_) {
    cells_.back().text = std::move(text_);
    cells_.back().end = end;
    text_.clear();
  }
  in_cell_ = false;
}

void HtmlFragmentReader::end_row(std::uint32_t end) {
  end_cell(end);
  if (!cells_.empty()) {
    // Only rows at the top can be the head.
    grid_->add_row(std::move(cells_), row_is_head_, {file_, row_begin_, end});
    cells_.clear();
  }
  row_begin_ = kNone;
}

void HtmlFragmentReader::image(const HtmlTag& tag, std::uint32_t begin) {
  if (in_cell_) return;
  flush();
  const std::string image = value(tag.find("src"));
  const std::string credit = value(tag.find("title"));
  Picture* picture = nullptr;
  if (figure_) {
    picture = &*figure_;
  } else {
    last_picture_ = Picture{assembly_.new_group(), assembly_.block_count(), "", ""};
    picture = &*last_picture_;
  }
  if (picture->image.empty()) picture->image = image;
  if (picture->credit.empty()) picture->credit = credit;
  const HtmlAttribute* const alt = tag.find("alt");
  TextBuilder text;
  if (alt != nullptr) add_html_text(text, source_, alt->begin, alt->end);
  text.trim();
  if (text.empty()) return;
  Block block;
  block.kind = BlockKind::kCaption;
  block.span = {file_, begin, tag.end};
  block.group = picture->group;
  block.image = image;
  text.move_into(block);
  assembly_.push(std::move(block));
  // A figure is labelled once, when it closes.
  if (!figure_) {
    label_group(assembly_, picture->first_block, picture->group, "", picture->image,
                picture->credit);
  }
}

void HtmlFragmentReader::flush() {
  text_.trim();
  if (text_.empty()) return;
  Block block;
  block.span = {file_, text_.source_begin(), text_.source_end()};
  const bool is_caption = begins_caption(text_.text());
  const Picture* picture = nullptr;
  if (figure_) {
    picture = &*figure_;
  } else if (is_caption && last_picture_) {
    picture = &*last_picture_;
  }
  if (picture != nullptr || (is_caption && heading_level_ == 0)) {
    block.kind = BlockKind::kCaption;
    block.group = picture != nullptr ? picture->group : assembly_.new_group();
  } else if (heading_level_ != 0) {
    block.kind = BlockKind::kHeading;
    block.level = heading_level_;
  }
  const std::uint32_t group = block.group;
  text_.move_into(block);
  const std::uint32_t index = assembly_.push(std::move(block));
  if (figure_) return;
  if (picture != nullptr) {
    label_group(assembly_, picture->first_block, group, "", picture->image, picture->credit);
  } else if (group != kNone) {
    label_group(assembly_, index, group, "", "", "");
  }
}

void HtmlFragmentReader::close_figure() {
  if (!figure_) return;
  if (assembly_.block_count() > figure_->first_block) {
    assembly_.settle_stets(assembly_.block_count() - 1);
    label_group(assembly_, figure_->first_block, figure_->group, "", figure_->image,
                figure_->credit);
  }
  figure_.reset();
}

void HtmlFragmentReader::finish() {
  if (grid_ != nullptr) end_row(static_cast<std::uint32_t>(source_.size()));
  flush();
  close_figure();
}

}  // namespace tailproof
