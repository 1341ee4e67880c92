#include "manuscript/text_lines.h"

#include <algorithm>
#include <array>
#include <string>

#include "source/ascii.h"

namespace tailproof {
namespace {

constexpr std::string_view kLineBlanks = " \t\v";
constexpr std::size_t kLongestTitle = 70;
constexpr std::uint32_t kTabWidth = 8;

bool is_all_of(std::string_view text, std::string_view characters) {
  return !text.empty() && text.find_first_not_of(characters) == std::string_view::npos;
}

constexpr std::array<std::string_view, 20> kNumberWords = {
    "one",     "two",     "three",     "four",     "five",     "six",      "seven",
    "eight",   "nine",    "ten",       "eleven",   "twelve",   "thirteen", "fourteen",
    "fifteen", "sixteen", "seventeen", "eighteen", "nineteen", "twenty"};

bool is_chapter_number(std::string_view word) {
  const std::string folded = lower(word);
  if (std::find(kNumberWords.begin(), kNumberWords.end(), folded) != kNumberWords.end())
    return true;
  if (is_all_of(word, "0123456789") || is_all_of(word, "IVXLC")) return true;
  const std::size_t dash = folded.find('-');  // "twenty-one"
  return (word.size() == 1 && is_upper(word[0])) ||
         (dash != std::string::npos && folded.substr(0, dash).ends_with("ty"));
}

// Code point columns of each byte of a line, one more for its end.
std::vector<std::uint32_t> columns_of(std::string_view line) {
  std::vector<std::uint32_t> columns;
  columns.reserve(line.size() + 1);
  std::uint32_t column = 0;
  for (const char c : line) {
    const bool continues = (static_cast<unsigned char>(c) & 0xC0U) == 0x80U;
    columns.push_back(continues && column > 0 ? column - 1 : column);
    if (c == '\t') {
      column += kTabWidth - column % kTabWidth;
    } else if (!continues) {
      ++column;
    }
  }
  columns.push_back(column);
  return columns;
}

}  // namespace

bool TextLine::is_blank() const {
  return text.find_first_not_of(kLineBlanks) == std::string_view::npos;
}

std::uint32_t TextLine::indent() const {
  const std::size_t first = text.find_first_not_of(kLineBlanks);
  return first == std::string_view::npos ? 0 : columns_of(text.substr(0, first)).back();
}

std::vector<TextLine> split_lines(std::string_view bytes, std::uint32_t begin) {
  std::vector<TextLine> lines;
  lines.reserve(bytes.size() / 60 + 1);
  std::uint32_t at = begin;
  const auto size = static_cast<std::uint32_t>(bytes.size());
  while (at < size) {
    std::uint32_t end = at;
    while (end < size && bytes[end] != '\n' && bytes[end] != '\r' && bytes[end] != '\f') ++end;
    std::uint32_t next = std::min(end + 1, size);
    if (end + 1 < size && bytes[end] == '\r' && bytes[end + 1] == '\n') ++next;
    lines.push_back({at, end, next, bytes.substr(at, end - at)});
    at = next;
  }
  return lines;
}

std::string_view trim_blanks(std::string_view text) {
  const std::size_t begin = text.find_first_not_of(kLineBlanks);
  if (begin == std::string_view::npos) return {};
  return text.substr(begin, text.find_last_not_of(kLineBlanks) - begin + 1);
}

bool is_all_capitals(std::string_view line) {
  const auto capitals = std::count_if(line.begin(), line.end(), is_upper);
  const auto digits = std::count_if(line.begin(), line.end(), is_digit);
  return capitals >= 4 && capitals > digits && std::none_of(line.begin(), line.end(), is_lower);
}

bool is_chapter_line(std::string_view line) {
  line = trim_blanks(line);
  const std::size_t space = line.find_first_of(kLineBlanks);
  if (space == std::string_view::npos || line.size() > 2 * kLongestTitle) return false;
  const std::string word = lower(line.substr(0, space));
  if (word != "chapter" && word != "part" && word != "appendix") return false;
  const std::string_view rest = trim_blanks(line.substr(space));
  const std::size_t end = std::min(rest.find_first_of(" \t.:,"), rest.size());
  if (!is_chapter_number(rest.substr(0, end))) return false;
  const std::string_view title = trim_blanks(rest.substr(std::min(rest.size(), end + 1)));
  if (title.empty()) return true;
  // "Chapter Four tells ..." is prose: a title has its own capital or a mark before it.
  const bool is_marked = rest[end] == '.' || rest[end] == ':';
  const char first = title[0];
  return !title.ends_with('.') && (is_marked || !is_lower(first));
}

bool is_underline(std::string_view line, std::string_view title) {
  line = trim_blanks(line);
  title = trim_blanks(title);
  const bool is_one_mark = is_all_of(line, "=") || is_all_of(line, "-") || is_all_of(line, "~");
  return is_one_mark && line.size() >= 3 && !title.empty() && 2 * line.size() >= title.size() &&
         title.size() <= 2 * kLongestTitle;
}

bool is_year_line(std::string_view line) {
  line = trim_blanks(line);
  constexpr std::string_view kDash = "\xE2\x80\x93";
  const auto is_number = [](std::string_view text) {
    return !text.empty() && is_all_of(text, "0123456789");
  };
  const std::string_view year = line.substr(0, 4);
  if (year.size() != 4 || !is_number(year) || year < "1500" || year > "2099") return false;
  std::string_view rest = line.substr(4);
  if (rest.empty()) return true;
  if (!rest.starts_with('-') && !rest.starts_with(kDash)) return false;
  rest = rest.substr(rest[0] == '-' ? 1 : kDash.size());
  return is_number(rest) && (rest.size() == 2 || rest.size() == 4);
}

bool is_page_furniture(std::string_view line) {
  if (is_year_line(line)) return false;
  line = trim_blanks(line);
  const std::string_view bare = line.substr(std::min(line.find_first_not_of("-[ "), line.size()));
  const std::size_t number_end = std::min(bare.find_first_not_of("0123456789"), bare.size());
  if (number_end > 0 && number_end <= 4 &&
      is_all_of("-" + std::string(bare.substr(number_end)), "-] ")) {
    return true;
  }
  if (lower(line).starts_with("page ") && is_all_of(trim_blanks(line.substr(5)), "0123456789")) {
    return true;
  }
  if (line.size() <= 8 && is_all_of(line, "ivxlc")) return true;
  if (line.size() > kLongestTitle + 10) return false;
  // A running head: a number set off from the words by a gap.
  const auto is_gap = [](std::string_view gap) {
    return gap.find('\t') != std::string_view::npos || gap.size() >= 2;
  };
  const std::size_t first_end = line.find_first_not_of("0123456789");
  if (first_end > 0 && first_end <= 4) {
    const std::size_t word = line.find_first_not_of(kLineBlanks, first_end);
    return word != std::string_view::npos && is_gap(line.substr(first_end, word - first_end));
  }
  const std::size_t last = line.find_last_not_of("0123456789");
  if (last == std::string_view::npos || last + 1 == line.size() || line.size() - last > 5)
    return false;
  const std::size_t word_end = line.find_last_not_of(kLineBlanks, last);
  return word_end != std::string_view::npos && is_gap(line.substr(word_end + 1, last - word_end));
}

bool is_short_title(std::string_view line) {
  line = trim_blanks(line);
  if (line.empty() || line.size() > kLongestTitle) return false;
  if (std::string_view(".,;:!?-\"").find(line.back()) != std::string_view::npos) return false;
  return is_upper(line[0]) || is_digit(line[0]) || static_cast<unsigned char>(line[0]) >= 0xC3;
}

std::vector<TextColumn> rule_columns(std::string_view line) {
  std::vector<TextColumn> columns;
  if (!is_all_of(line, "-=+|: \t") || line.find_first_of("-=") == std::string_view::npos) return {};
  const std::vector<std::uint32_t> column = columns_of(line);
  std::size_t at = 0;
  while ((at = line.find_first_of("-=", at)) != std::string_view::npos) {
    const std::size_t end = std::min(line.find_first_not_of("-=:", at), line.size());
    columns.push_back({column[at], column[end]});
    at = end;
  }
  const bool has_dash = std::any_of(columns.begin(), columns.end(), [](const TextColumn& each) {
    return each.end - each.begin >= 2;
  });
  return columns.size() >= 2 && has_dash ? columns : std::vector<TextColumn>{};
}

std::vector<TextColumn> cut_row(std::string_view line, const std::vector<TextColumn>& columns) {
  const std::vector<std::uint32_t> column = columns_of(line);
  const auto is_blank = [line](std::size_t at) {
    return at >= line.size() || kLineBlanks.find(line[at]) != std::string_view::npos;
  };
  std::vector<TextColumn> cells;
  std::size_t begin = 0;
  for (std::size_t i = 0; i < columns.size(); ++i) {
    std::size_t end = line.size();
    if (i + 1 < columns.size()) {
      const auto stop = std::lower_bound(column.begin(), column.end(), columns[i + 1].begin);
      end = std::clamp<std::size_t>(static_cast<std::size_t>(stop - column.begin()), begin,
                                    line.size());
      // A cell wider than its rule ends at its next blank.
      if (end > begin && !is_blank(end - 1)) {
        while (!is_blank(end)) ++end;
      }
    }
    std::size_t from = begin;
    std::size_t to = end;
    while (from < to && (is_blank(from) || line[from] == '|')) ++from;
    while (to > from && (is_blank(to - 1) || line[to - 1] == '|')) --to;
    cells.push_back({static_cast<std::uint32_t>(from), static_cast<std::uint32_t>(to)});
    begin = end;
  }
  return cells;
}

}  // namespace tailproof
