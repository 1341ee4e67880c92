#include "manuscript/markdown_paragraph.h"

#include <algorithm>

#include "manuscript/labels.h"

namespace tailproof {

namespace {

// "3.18", "17": a picture's text that is its number and says nothing.
bool is_bare_number(std::string_view text) {
  constexpr std::size_t kMostDigits = 3;
  std::size_t digits = 0;
  for (const char c : text) {
    const bool is_digit = c >= '0' && c <= '9';
    if (!is_digit && c != '.' && c != '-') return false;
    digits = is_digit ? digits + 1 : 0;
    if (digits > kMostDigits) return false;
  }
  return !text.empty();
}

}  // namespace

void MarkdownParagraphs::add(std::vector<MarkdownPart> parts, std::uint32_t heading_level,
                             std::uint32_t figure_group) {
  heading_level_ = heading_level;
  for (MarkdownPart& part : parts) part.text.trim();
  const bool has_image = std::any_of(parts.begin(), parts.end(),
                                     [](const MarkdownPart& each) { return each.is_image; });
  if (has_image) {
    add_with_images(parts);
  } else {
    for (MarkdownPart& part : parts) add_text(part, figure_group);
  }
}

void MarkdownParagraphs::add_text(MarkdownPart& part, std::uint32_t figure_group) {
  if (part.text.empty()) return push_stets(part, kNone);
  const bool is_heading = heading_level_ != 0;
  const bool is_caption = !is_heading && begins_caption(part.text.text());
  // A picture whose own text has a number takes no second caption with another.
  const bool is_numbered = open_picture_ && is_caption &&
                           begins_caption(assembly_.block_text(open_picture_->first_block));
  const bool is_of_picture =
      open_picture_ && !is_heading && !is_numbered && (is_caption || !part.has_plain);
  std::uint32_t group = is_of_picture ? open_picture_->group : figure_group;
  if (is_caption && group == kNone) group = assembly_.new_group();
  const BlockKind kind = is_heading       ? BlockKind::kHeading
                         : group != kNone ? BlockKind::kCaption
                                          : BlockKind::kBody;
  const std::uint32_t index = push(part.text, kind, is_heading ? kNone : group);
  push_stets(part, index);
  if (is_of_picture) {
    label(*open_picture_);
  } else if (kind == BlockKind::kCaption) {
    label_group(assembly_, index, group, "", "", "");
  }
  open_picture_.reset();
  table_captions_.note(index);
}

// Pictures with a caption above or below, and prose with small pictures in it. The prose is one
// block, before the pictures' texts if it begins before them.
void MarkdownParagraphs::add_with_images(std::vector<MarkdownPart>& parts) {
  open_picture_.reset();
  const bool caption_above =
      !parts.front().is_image && heading_level_ == 0 && begins_caption(parts.front().text.text());
  const auto is_prose = [&](const MarkdownPart& part, bool is_first) {
    if (part.is_image || part.text.empty()) return false;
    if (is_first) return !caption_above;
    return heading_level_ != 0 || (part.has_plain && !begins_caption(part.text.text()));
  };
  TextBuilder prose;
  bool prose_is_first = false;
  for (std::size_t i = 0; i < parts.size(); ++i) {
    if (!is_prose(parts[i], i == 0)) continue;
    prose_is_first = prose_is_first || i == 0;
    prose.add_block(parts[i].text, parts[i].text.source_begin(), 0);
  }
  const bool has_prose = !prose.empty();
  const auto push_prose = [&] {
    const std::uint32_t index =
        push(prose, heading_level_ != 0 ? BlockKind::kHeading : BlockKind::kBody, kNone);
    for (std::size_t i = 0; i < parts.size(); ++i) {
      if (is_prose(parts[i], i == 0)) push_stets(parts[i], index);
    }
  };
  if (prose_is_first) push_prose();
  std::optional<Picture> picture;
  bool has_caption = false;
  for (std::size_t i = 0; i < parts.size(); ++i) {
    MarkdownPart& part = parts[i];
    if (part.is_image) {
      picture = Picture{assembly_.new_group(), assembly_.block_count(), part.image, part.credit};
      has_caption = i == 1 && caption_above;
      if (has_caption) {
        push_stets(parts[0], push(parts[0].text, BlockKind::kCaption, picture->group));
      }
      add_image(part, *picture);
      label(*picture);
    } else if (picture && !part.text.empty() && !is_prose(part, i == 0)) {
      push_stets(part, push(part.text, BlockKind::kCaption, picture->group));
      label(*picture);
      has_caption = true;
    } else if (part.text.empty()) {
      push_stets(part, assembly_.block_count() == 0 ? kNone : assembly_.block_count() - 1);
    }
  }
  if (has_prose && !prose_is_first) push_prose();
  if (!has_prose && !has_caption) open_picture_ = std::move(picture);
}

void MarkdownParagraphs::add_image(MarkdownPart& part, const Picture& picture) {
  if (part.text.empty() || is_bare_number(part.text.text())) return push_stets(part, kNone);
  Block block;
  block.kind = BlockKind::kCaption;
  block.span = {file_, part.begin, part.end};
  block.group = picture.group;
  part.text.move_into(block);
  push_stets(part, assembly_.push(std::move(block)));
}

std::uint32_t MarkdownParagraphs::push(TextBuilder& text, BlockKind kind, std::uint32_t group) {
  Block block;
  block.kind = kind;
  block.level = kind == BlockKind::kHeading ? heading_level_ : 0;
  block.span = span_of(text);
  block.group = group;
  text.move_into(block);
  return assembly_.push(std::move(block));
}

void MarkdownParagraphs::push_stets(const MarkdownPart& part, std::uint32_t block) {
  for (const auto& [body, span] : part.stets) assembly_.add_stet(body, span, block);
}

void MarkdownParagraphs::label(const Picture& picture) {
  label_group(assembly_, picture.first_block, picture.group, "", picture.image, picture.credit);
}

// The text's bytes and the marks directly around them.
Span MarkdownParagraphs::span_of(const TextBuilder& text) const {
  const std::string_view before = heading_level_ != 0 ? "*_~`[# " : "*_~`[";
  const std::string_view behind = "*_~`]";
  std::uint32_t begin = text.source_begin();
  std::uint32_t end = std::max(text.source_end(), begin);
  while (begin > 0 && before.find(source_[begin - 1]) != std::string_view::npos) --begin;
  while (end < source_.size() && behind.find(source_[end]) != std::string_view::npos) ++end;
  return {file_, begin, end};
}

void MarkdownParagraphs::begin_table(std::uint32_t table) {
  open_picture_.reset();
  table_captions_.begin_table(table);
}

}  // namespace tailproof
