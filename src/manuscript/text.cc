// Plain text: paragraphs parted by empty lines, captions known by their label.
//
// Lines are joined by a space. A line that ends in a hyphen directly behind a letter or digit is
// joined without one: the hyphen stays ("44-" and "99013" are 44-99013), except between two small
// letters when the word without it stands elsewhere in the manuscript.

#include <algorithm>
#include <optional>
#include <string>
#include <unordered_set>
#include <utility>

#include "manuscript/aligned_table.h"
#include "manuscript/labels.h"
#include "manuscript/readers.h"
#include "manuscript/table_captions.h"
#include "manuscript/text_lines.h"
#include "source/ascii.h"

namespace tailproof {
namespace {

constexpr std::string_view kSoftHyphen = "\xC2\xAD";

bool is_word_byte(char c) {
  return is_lower(c) || (c >= 'A' && c <= 'Z') || (c >= '0' && c <= '9') ||
         static_cast<unsigned char>(c) >= 0x80;
}

// "Photograph: J. Fenn" in a caption names who took it. Length of the words before it, 0 for none.
std::size_t credit_length(std::string_view line) {
  for (const std::string_view word : {"Photograph:", "Photographs:", "Photo:", "Photos:", "Credit:",
                                      "Photo credit:", "Source:", "Courtesy:"}) {
    if (line.starts_with(word)) return word.size();
  }
  return 0;
}

bool ends_sentence(std::string_view line) {
  line = trim_blanks(line);
  return !line.empty() && std::string_view(".!?)]\"").find(line.back()) != std::string_view::npos;
}

class TextReader {
 public:
  TextReader(Assembly& assembly, FileId file)
      : assembly_(assembly),
        file_(file),
        bytes_(assembly.sources().text(file)),
        lines_(split_lines(bytes_, text_begin(bytes_))),
        table_captions_(assembly) {}

  void read() {
    std::size_t at = 0;
    while (at < lines_.size()) {
      std::size_t blank_lines = at == 0 ? 2 : 0;
      while (at < lines_.size() && lines_[at].is_blank()) {
        ++at;
        ++blank_lines;
      }
      std::size_t end = at;
      while (end < lines_.size() && !lines_[end].is_blank()) ++end;
      if (end > at) read_chunk(at, end, blank_lines);
      at = end;
    }
  }

 private:
  // Lines between empty ones.
  void read_chunk(std::size_t at, std::size_t end, std::size_t blank_lines) {
    while (at < end && read_stet(at, end, kNone)) {
    }
    if (at == end) return;
    if (end - at == 1 && is_page_furniture(lines_[at].text)) return;
    if (read_heading(at, end, blank_lines)) {
      if (at < end) read_chunk(at, end, 0);
      return;
    }
    for (std::size_t i = at; i < end; ++i) {
      const std::vector<TextColumn> columns = rule_columns(lines_[i].text);
      if (!columns.empty()) return read_table(at, i, end, columns);
    }
    while (at < end) at = read_block(at, end);
  }

  // A line "[stet CHECK: reason]", which may be wrapped.
  bool read_stet(std::size_t& at, std::size_t end, std::uint32_t block) {
    const std::string_view first = trim_blanks(lines_[at].text);
    if (!first.starts_with("[")) return false;
    const std::string_view start = stet_body(first.substr(1));
    if (start.data() == nullptr) return false;
    const std::uint32_t chunk_end = lines_[end - 1].end;
    const auto begin = static_cast<std::uint32_t>(first.data() - bytes_.data());
    const auto body = static_cast<std::uint32_t>(start.data() - bytes_.data());
    const std::size_t close = bytes_.find(']', body);
    const bool closes = close < chunk_end;
    const std::uint32_t body_end = closes ? static_cast<std::uint32_t>(close) : lines_[at].end;
    while (at < end && lines_[at].begin <= body_end) ++at;
    assembly_.add_stet(bytes_.substr(body, body_end - body),
                       {file_, begin, closes ? body_end + 1 : body_end}, block);
    return true;
  }

  bool read_heading(std::size_t& at, std::size_t end, std::size_t blank_lines) {
    const std::string_view first = lines_[at].text;
    const bool is_single = end - at == 1;
    const bool is_label = begins_caption(first) || begins_table_caption(first);
    if (end - at >= 2 && is_underline(lines_[at + 1].text, first)) {
      const bool is_top = trim_blanks(lines_[at + 1].text)[0] == '=';
      push_lines(at, at + 1, BlockKind::kHeading, is_top ? 1 : 2);
      at += 2;
      return true;
    }
    if (is_label) return false;
    if (is_single && end < lines_.size() && is_year_line(first)) {
      push_lines(at, end, BlockKind::kHeading, 2);
      at = end;
      return true;
    }
    if (is_chapter_line(first) && (is_single || is_all_capitals(first))) {
      push_lines(at, at + 1, BlockKind::kHeading, 1);
      has_chapter_ = true;
      ++at;
      return true;
    }
    std::size_t capitals = at;
    while (capitals < end && is_all_capitals(lines_[capitals].text)) ++capitals;
    if (capitals == end && end - at <= 3) {
      push_lines(at, end, BlockKind::kHeading, capitals_level());
      at = end;
      return true;
    }
    const bool stands_above = end < lines_.size();
    if (is_single && stands_above && blank_lines >= 2 && is_short_title(first) &&
        rule_columns(first).empty()) {
      push_lines(at, end, BlockKind::kHeading, assembly_.block_count() == 0 ? 1 : 2);
      at = end;
      return true;
    }
    return false;
  }

  // Capitals directly behind a chapter's line, or before any other block, are its title.
  std::uint32_t capitals_level() {
    if (assembly_.block_count() == 0) return 1;
    const Block& last = assembly_.block(assembly_.block_count() - 1);
    const bool is_title = last.kind == BlockKind::kHeading && last.level == 1;
    return is_title || !has_chapter_ ? 1 : 2;
  }

  void push_lines(std::size_t at, std::size_t end, BlockKind kind, std::uint32_t level) {
    TextBuilder text;
    for (std::size_t i = at; i < end; ++i) add_line(text, i, i + 1 < end);
    push(text, kind, level, lines_[at].begin, lines_[end - 1].end);
  }

  std::uint32_t push(TextBuilder& text, BlockKind kind, std::uint32_t level, std::uint32_t begin,
                     std::uint32_t end) {
    text.trim();
    if (text.empty()) return kNone;
    Block block;
    block.kind = kind;
    block.level = level;
    while (begin < end && (bytes_[begin] == ' ' || bytes_[begin] == '\t')) ++begin;
    block.span = {file_, begin, end};
    if (kind == BlockKind::kCaption) {
      block.group = assembly_.new_group();
      if (const auto label = leading_figure_label(text.text())) block.figure = label->label;
    }
    text.move_into(block);
    const std::uint32_t index = assembly_.push(std::move(block));
    if (kind != BlockKind::kCaption) table_captions_.note(index);
    return index;
  }

  void add_line(TextBuilder& text, std::size_t index, bool joins_next) {
    add_piece(text, index, lines_[index].begin, lines_[index].end, joins_next);
  }

  // Bytes [begin, end) of a line, and what joins it to the next one.
  void add_piece(TextBuilder& text, std::size_t index, std::uint32_t begin, std::uint32_t end,
                 bool joins_next) {
    std::string_view piece = bytes_.substr(begin, end - begin);
    piece = piece.substr(0, piece.find_last_not_of(" \t") + 1);
    if (!joins_next) {
      text.add(piece, begin);
      return;
    }
    if (piece.ends_with(kSoftHyphen)) {
      text.add(piece, begin);
      return;
    }
    const std::string_view next = trim_blanks(lines_[index + 1].text);
    const bool is_hyphenated = piece.size() >= 2 && piece.back() == '-' &&
                               is_word_byte(piece[piece.size() - 2]) && !next.empty() &&
                               is_word_byte(next[0]);
    if (is_hyphenated) {
      if (is_broken_word(piece, next)) piece.remove_suffix(1);
      text.add(piece, begin);
      return;
    }
    text.add(piece, begin);
    const TextLine& line = lines_[index];
    const std::uint32_t gap = begin + static_cast<std::uint32_t>(piece.size());
    if (line.next > gap) text.add_for(" ", gap, line.next - gap);
  }

  bool is_broken_word(std::string_view line, std::string_view next) {
    if (!is_lower(line[line.size() - 2]) || !is_lower(next[0])) return false;
    std::size_t begin = line.size() - 1;
    while (begin > 0 && is_word_byte(line[begin - 1])) --begin;
    std::size_t end = 0;
    while (end < next.size() && is_word_byte(next[end])) ++end;
    const std::string joined =
        std::string(line.substr(begin, line.size() - 1 - begin)) + std::string(next.substr(0, end));
    if (!words_) index_words();
    return words_->contains(joined);
  }

  void index_words() {
    words_.emplace();
    std::size_t at = 0;
    while (at < bytes_.size()) {
      std::size_t end = at;
      while (end < bytes_.size() && is_word_byte(bytes_[end])) ++end;
      if (end > at) words_->insert(bytes_.substr(at, end - at));
      at = end + 1;
    }
  }

  // "[The corner by the creek] Fig. 33. GD-2108 ...": a picture's own words before its caption are
  // a block of their own; the line then begins with the label.
  void split_off_picture_text(std::size_t at) {
    TextLine& line = lines_[at];
    const std::size_t open = line.text.find_first_not_of(" \t");
    const std::size_t close = line.text.find(']');
    if (open == std::string_view::npos || line.text[open] != '[' || close == std::string_view::npos)
      return;
    const std::string_view rest = line.text.substr(close + 1);
    if (begins_caption(line.text) || !begins_caption(rest)) return;
    TextBuilder text;
    text.add(line.text.substr(open + 1, close - open - 1),
             line.begin + static_cast<std::uint32_t>(open) + 1);
    line.text = rest;
    const std::uint32_t begin = line.begin;
    line.begin += static_cast<std::uint32_t>(close) + 1;
    push(text, BlockKind::kBody, 0, begin, line.begin);
  }

  // One paragraph or caption; where the next begins.
  std::size_t read_block(std::size_t at, std::size_t end) {
    split_off_picture_text(at);
    const auto label = leading_figure_label(lines_[at].text);
    const bool is_caption = label && label->punctuated;
    if (is_caption && label->bracketed) return read_bracketed(at, end);
    const std::size_t stop = is_caption ? caption_end(at, end) : paragraph_end(at, end);
    const std::uint32_t block_begin = lines_[at].begin;
    TextBuilder text;
    std::string credit;
    std::vector<std::size_t> stets;
    std::size_t line = at;
    std::uint32_t block_end = block_begin;
    while (line < stop) {
      if (line > at && is_stet_line(line)) {
        stets.push_back(line);
        std::size_t behind = line;
        skip_stet(behind, stop);
        line = behind;
        continue;
      }
      const std::string_view trimmed = trim_blanks(lines_[line].text);
      const std::size_t credit_words = is_caption && line > at ? credit_length(trimmed) : 0;
      if (credit_words > 0 || !credit.empty()) {
        if (!credit.empty()) credit += ' ';
        credit += trim_blanks(trimmed.substr(credit_words));
      } else {
        const bool joins = line + 1 < stop && !is_stet_line(line + 1);
        add_line(text, line, joins);
        if (!joins && line + 1 < stop) text.add_for(" ", lines_[line].end, 1);
        block_end = lines_[line].end;
      }
      ++line;
    }
    const std::uint32_t block =
        push(text, is_caption ? BlockKind::kCaption : BlockKind::kBody, 0, block_begin, block_end);
    if (block != kNone) assembly_.block(block).credit = credit;
    for (std::size_t stet : stets) static_cast<void>(read_stet(stet, stop, block));
    return stop;
  }

  [[nodiscard]] bool is_stet_line(std::size_t line) const {
    const std::string_view text = trim_blanks(lines_[line].text);
    return text.starts_with("[") && stet_body(text.substr(1)).data() != nullptr;
  }

  void skip_stet(std::size_t& line, std::size_t end) const {
    while (line < end && lines_[line].text.find(']') == std::string_view::npos) ++line;
    line = std::min(line + 1, end);
  }

  // "... is shown in / Fig. 3.", "... (compare / Fig. 3.)": no caption begins with the line.
  [[nodiscard]] bool runs_into_label(std::size_t line) const {
    const std::string_view before = lines_[line - 1].text;
    const std::size_t open = before.rfind('(');
    if (open != std::string_view::npos && before.find(')', open) == std::string_view::npos)
      return true;
    const std::string_view text = lines_[line].text;
    const auto label = leading_figure_label(text);
    return label && text.find_first_not_of(" \t.:", label->number_end) == std::string_view::npos;
  }

  // A caption goes on over indented lines; a label or, behind a hanging indent, a line as far left
  // as the caption itself ends it.
  [[nodiscard]] std::size_t caption_end(std::size_t at, std::size_t end) const {
    const std::uint32_t base = lines_[at].indent();
    bool hangs = false;
    for (std::size_t i = at + 1; i < end; ++i) {
      const bool is_left = lines_[i].indent() <= base;
      const bool is_one_line = i == at + 1 && !runs_into_label(i);
      if (is_left && begins_caption(lines_[i].text) &&
          (hangs || is_one_line || ends_sentence(lines_[i - 1].text))) {
        return i;
      }
      if (is_left && hangs && !is_stet_line(i)) return i;
      hangs = hangs || !is_left;
    }
    return end;
  }

  // Paragraphs without an empty line between them: each begins further left than it goes on (notes,
  // a list of books), or further right.
  [[nodiscard]] std::size_t paragraph_end(std::size_t at, std::size_t end) const {
    if (at + 2 >= end) return end;
    const std::uint32_t first = lines_[at].indent();
    const std::uint32_t second = lines_[at + 1].indent();
    if (first == second) return end;
    for (std::size_t i = at + 2; i < end; ++i) {
      const std::uint32_t indent = lines_[i].indent();
      const bool begins_left = second > first && indent <= first;
      const bool begins_right = second < first && indent >= first;
      if ((begins_left || begins_right) && !is_stet_line(i)) return i;
    }
    return end;
  }

  // "[Fig. 4: ...]", the brackets not among its text; what stands behind is another block.
  std::size_t read_bracketed(std::size_t at, std::size_t end) {
    const std::uint32_t chunk_end = lines_[end - 1].end;
    const auto open = static_cast<std::uint32_t>(bytes_.find('[', lines_[at].begin));
    std::uint32_t close = open;
    unsigned depth = 0;
    for (; close < chunk_end; ++close) {
      if (bytes_[close] == '[') ++depth;
      if (bytes_[close] == ']' && --depth == 0) break;
    }
    TextBuilder text;
    std::size_t line = at;
    for (; line < end && lines_[line].begin < close; ++line) {
      const std::uint32_t from = std::max(open + 1, lines_[line].begin);
      const std::uint32_t to = std::min(close, lines_[line].end);
      add_piece(text, line, from, to, line + 1 < end && lines_[line].end < close);
    }
    push(text, BlockKind::kCaption, 0, open, std::min(close + 1, chunk_end));
    const TextLine& last = lines_[line - 1];
    if (close + 1 < last.end &&
        !trim_blanks(bytes_.substr(close + 1, last.end - close - 1)).empty()) {
      TextBuilder rest;
      add_piece(rest, line - 1, close + 1, last.end, line < end);
      for (std::size_t i = line; i < end; ++i) add_line(rest, i, i + 1 < end);
      push(rest, BlockKind::kBody, 0, close + 1, chunk_end);
      return end;
    }
    return line;
  }

  // Lines [at, rule) hold the caption, if it stands here, and the column heads.
  void read_table(std::size_t at, std::size_t rule, std::size_t end,
                  const std::vector<TextColumn>& columns) {
    if (at < rule && begins_table_caption(lines_[at].text)) {
      push_lines(at, at + 1, BlockKind::kBody, 0);
      ++at;
    }
    const std::uint32_t table = assembly_.new_table();
    table_captions_.begin_table(table);
    AlignedTable rows(assembly_, file_, columns, table);
    for (; at < rule; ++at) rows.add_head(lines_[at]);
    for (std::size_t i = rule + 1; i < end; ++i) {
      if (is_stet_line(i)) {
        rows.end_row();
        std::size_t line = i;
        static_cast<void>(read_stet(line, end, kNone));
        i = line - 1;
        continue;
      }
      rows.add(lines_[i]);
    }
    rows.end_row();
    table_captions_.end_table(table);
  }

  Assembly& assembly_;
  FileId file_;
  std::string_view bytes_;
  std::vector<TextLine> lines_;
  TableCaptions table_captions_;
  bool has_chapter_ = false;
  std::optional<std::unordered_set<std::string_view>> words_;
};

}  // namespace

void read_text(Assembly& assembly, FileId file) { TextReader(assembly, file).read(); }

}  // namespace tailproof
