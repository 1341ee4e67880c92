#include "manuscript/markdown_parts.h"

#include <algorithm>

#include "manuscript/readers.h"
#include "manuscript/text_lines.h"

namespace tailproof {
namespace {

std::uint32_t line_end(std::string_view bytes, std::uint32_t at) {
  // Piece by piece, since a file may have one of the two marks only.
  constexpr std::size_t kPiece = 512;
  while (at < bytes.size()) {
    std::string_view piece = bytes.substr(at, kPiece);
    piece = piece.substr(0, piece.find('\n'));
    piece = piece.substr(0, piece.find('\r'));
    at += static_cast<std::uint32_t>(piece.size());
    if (piece.size() < kPiece) break;
  }
  return at;
}

std::uint32_t next_line(std::string_view bytes, std::uint32_t at) {
  at = line_end(bytes, at);
  if (bytes.substr(at).starts_with("\r\n")) return at + 2;
  return at < bytes.size() ? at + 1 : at;
}

std::string_view line_at(std::string_view bytes, std::uint32_t at) {
  return bytes.substr(at, line_end(bytes, at) - at);
}

bool is_blank_line(std::string_view line) {
  return line.find_first_not_of(" \t") == std::string_view::npos;
}

std::size_t indent_of(std::string_view line) {
  std::size_t columns = 0;
  for (const char c : line) {
    if (c == ' ') {
      ++columns;
    } else if (c == '\t') {
      columns += 4 - columns % 4;
    } else {
      break;
    }
  }
  return columns;
}

// Front matter: a first line "---", up to a line "---" or "...".
std::uint32_t behind_front_matter(std::string_view bytes, std::uint32_t begin) {
  const auto is_rule = [](std::string_view line, std::string_view rule) {
    return line.starts_with(rule) && is_blank_line(line.substr(rule.size()));
  };
  if (!is_rule(line_at(bytes, begin), "---")) return begin;
  std::uint32_t at = next_line(bytes, begin);
  while (at < bytes.size()) {
    const std::string_view line = line_at(bytes, at);
    at = next_line(bytes, at);
    if (is_rule(line, "---") || is_rule(line, "...")) return at;
  }
  return begin;
}

// Length of "[^label]:" at the start of a line, its indent included; 0 when it is none.
std::size_t marker_length(std::string_view line, std::string_view& label) {
  const std::size_t indent = indent_of(line);
  const std::string_view rest = line.substr(std::min(indent, line.size()));
  if (indent > 3 || !rest.starts_with("[^")) return 0;
  const std::size_t close = rest.find(']');
  if (close == std::string_view::npos || close <= 2 || !rest.substr(close).starts_with("]:")) {
    return 0;
  }
  label = rest.substr(2, close - 2);
  if (label.find_first_of(" \t[^") != std::string_view::npos) return 0;
  return indent + close + 2;
}

bool has_definition(std::string_view bytes) {
  std::size_t at = 0;
  while ((at = bytes.find("[^", at)) != std::string_view::npos) {
    const std::size_t close = bytes.find_first_of("]\r\n", at);
    if (close != std::string_view::npos && bytes.substr(close).starts_with("]:")) return true;
    at += 2;
  }
  return false;
}

// Follows code fences, inside which nothing is a definition.
class Fence {
 public:
  // Whether the line opens, closes or lies in a fenced block.
  bool covers(std::string_view line) {
    const std::string_view text = line.substr(std::min(indent_of(line), line.size()));
    const char mark = text.empty() ? '\0' : text[0];
    const std::size_t count =
        mark == '`' || mark == '~' ? std::min(text.find_first_not_of(mark), text.size()) : 0;
    if (mark_ == '\0') {
      const bool opens = count >= 3 && indent_of(line) < 4 &&
                         (mark == '~' || text.find('`', count) == std::string_view::npos);
      if (opens) {
        mark_ = mark;
        count_ = count;
      }
      return opens;
    }
    if (mark == mark_ && count >= count_ && is_blank_line(text.substr(count))) mark_ = '\0';
    return true;
  }

  [[nodiscard]] bool is_open() const { return mark_ != '\0'; }

 private:
  char mark_ = '\0';
  std::size_t count_ = 0;
};

// A rule of two groups of two dashes or more, and nothing else: a line "- - -" parts paragraphs.
bool is_column_rule(std::string_view line) {
  const std::size_t first = line.find_first_not_of(" \t");
  if (first == std::string_view::npos || !line.substr(first).starts_with("--")) return false;
  if (line.find_first_not_of("- \t") != std::string_view::npos) return false;
  for (std::size_t at = line.find('-'); at < line.size(); at = line.find('-', at)) {
    const std::size_t end = std::min(line.find_first_not_of('-', at), line.size());
    if (end - at < 2) return false;
    at = end;
  }
  return rule_columns(line).size() >= 2;
}

bool has_column_rule(std::string_view bytes, std::uint32_t at) {
  for (; at < bytes.size(); at = next_line(bytes, at)) {
    const std::size_t first = bytes.find_first_not_of(" \t", at);
    if (first != std::string_view::npos && bytes[first] == '-' &&
        is_column_rule(line_at(bytes, at)))
      return true;
  }
  return false;
}

bool is_one_rule(std::string_view line) {
  return line.find('-') != std::string_view::npos &&
         line.find_first_not_of("- \t") == std::string_view::npos && !is_column_rule(line);
}

// Lines between empty ones that have such a rule, at most two lines above it and one below. Tables
// whose rows are parted by empty lines (they begin with a rule without gaps) stay paragraphs.
void find_aligned_tables(std::string_view bytes, MarkdownParts& parts) {
  Fence fence;
  bool in_comment = false;
  AlignedLines chunk;
  std::size_t lines = 0, rule = 0;
  bool is_plain = true;
  const auto end_chunk = [&] {
    const bool is_in_note = std::any_of(parts.footnotes.begin(), parts.footnotes.end(),
                                        [&chunk](const FootnoteDefinition& note) {
                                          return note.marker < chunk.end && chunk.begin < note.end;
                                        });
    if (rule != 0 && rule <= 3 && lines > rule && is_plain && !is_in_note)
      parts.tables.push_back(chunk);
    lines = rule = 0;
    is_plain = true;
  };
  for (std::uint32_t at = parts.body_begin; at < bytes.size(); at = next_line(bytes, at)) {
    const std::string_view line = line_at(bytes, at);
    if (!fence.covers(line) && is_blank_line(line)) {
      end_chunk();
      continue;
    }
    if (lines++ == 0) {
      chunk.begin = at;
      is_plain = !is_one_rule(line);
    }
    chunk.end = at + static_cast<std::uint32_t>(line.size());
    const bool opens = line.rfind("<!--") != std::string_view::npos;
    const bool closes = line.rfind("-->") != std::string_view::npos;
    if (fence.is_open() || in_comment || opens || closes) is_plain = false;
    if (opens != closes) in_comment = opens;
    if (rule == 0 && is_column_rule(line)) rule = lines;
  }
  end_chunk();
}

void find_footnotes(std::string_view bytes, MarkdownParts& parts) {
  Fence fence;
  std::uint32_t at = parts.body_begin;
  while (at < bytes.size()) {
    std::string_view label;
    const std::string_view line = line_at(bytes, at);
    const std::size_t length = fence.covers(line) ? 0 : marker_length(line, label);
    if (length == 0) {
      at = next_line(bytes, at);
      continue;
    }
    FootnoteDefinition note{at, at + static_cast<std::uint32_t>(length), 0};
    parts.labels.insert(label);
    // It goes on until a line behind an empty one is not indented, or the next definition begins.
    bool after_blank = false;
    at = next_line(bytes, at);
    while (at < bytes.size()) {
      const std::string_view next = line_at(bytes, at);
      if (marker_length(next, label) != 0) break;
      if (!is_blank_line(next) && after_blank && indent_of(next) < 2) break;
      after_blank = is_blank_line(next);
      at = next_line(bytes, at);
    }
    note.end = at;
    parts.footnotes.push_back(note);
  }
}

}  // namespace

MarkdownParts find_markdown_parts(std::string_view bytes) {
  MarkdownParts parts;
  parts.body_begin = behind_front_matter(bytes, text_begin(bytes));
  if (has_definition(bytes)) find_footnotes(bytes, parts);
  if (has_column_rule(bytes, parts.body_begin)) find_aligned_tables(bytes, parts);
  return parts;
}

}  // namespace tailproof
