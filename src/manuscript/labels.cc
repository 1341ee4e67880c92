#include "manuscript/labels.h"

#include <algorithm>
#include <iterator>

#include "source/ascii.h"

namespace tailproof {
namespace {

bool is_space(char c) { return c == ' ' || c == '\t' || c == '\n' || c == '\r'; }
bool is_roman(char c) { return std::string_view("IVXLC").find(c) != std::string_view::npos; }

struct LabelWord {
  std::string_view lower;
  std::string_view printed;
};
constexpr LabelWord kFigureWords[] = {
    {"fig", "Fig."},        {"figure", "Figure"},       {"plate", "Plate"},
    {"pl", "Pl."},          {"photo", "Photo"},         {"photograph", "Photograph"},
    {"caption", "Caption"}, {"profile", "Profile"},     {"drawing", "Drawing"},
    {"neg", "Neg."},        {"negative", "Negative"},   {"slide", "Slide"},
    {"abb", "Abb."},        {"abbildung", "Abbildung"}, {"bild", "Bild"},
    {"foto", "Foto"},       {"tafel", "Tafel"},
};
// Of a cell, without the dashes that may stand on either side ("- do -").
constexpr std::string_view kDittoMarks[] = {
    "\"", "\"\"", "\xE2\x80\x9D", "\xE2\x80\x9C", "''",  ",,",   "\xE2\x80\x9E", "\xE2\x80\xB3",
    "do", "do.",  "\xE3\x80\x83", "ditto",        "id.", "idem", "dto."};
constexpr LabelWord kTableWords[] = {{"table", "Table"}};

class LabelScanner {
 public:
  explicit LabelScanner(std::string_view text) : text_(text) {}

  template <std::size_t N>
  std::optional<FigureLabel> scan(const LabelWord (&words)[N]) {
    FigureLabel found;
    skip_blanks();
    if (peek() == '[' || peek() == '(') {
      found.bracketed = peek() == '[';
      ++at_;
    }
    const std::string_view printed = word(words);
    if (printed.empty()) return std::nullopt;
    if (peek() == '.') ++at_;
    const std::size_t before = at_;
    skip_blanks();
    const bool spaced = at_ > before || before == 0 || text_[before - 1] == '.';
    const std::string_view number = this->number();
    if (number.empty() || (!spaced && !is_digit(number[0]))) return std::nullopt;
    found.label = std::string(printed) + " " + std::string(number);
    found.number_end = at_;
    found.punctuated = punctuation_follows();
    return found;
  }

 private:
  [[nodiscard]] char peek(std::size_t ahead = 0) const {
    return at_ + ahead < text_.size() ? text_[at_ + ahead] : '\0';
  }
  void skip_blanks() {
    while (at_ < text_.size() && is_space(text_[at_])) ++at_;
  }

  template <std::size_t N>
  std::string_view word(const LabelWord (&words)[N]) {
    std::size_t end = at_;
    while (end < text_.size() && is_letter(text_[end])) ++end;
    const std::string_view found = text_.substr(at_, end - at_);
    const auto is_it = [found](const LabelWord& candidate) {
      return std::equal(found.begin(), found.end(), candidate.lower.begin(), candidate.lower.end(),
                        [](char a, char b) { return lower(a) == b; });
    };
    const auto* const hit = std::find_if(std::begin(words), std::end(words), is_it);
    if (hit == std::end(words)) return {};
    at_ = end;
    return hit->printed;
  }

  std::string_view number() {
    const std::size_t begin = at_;
    if (is_roman(peek())) {
      while (is_roman(peek())) ++at_;
      if (!is_letter(peek()) && !is_digit(peek())) return text_.substr(begin, at_ - begin);
      at_ = begin;
    }
    // "A.3" and "A3": a figure of an appendix.
    if (peek() >= 'A' && peek() <= 'Z') at_ += peek(1) == '.' && is_digit(peek(2)) ? 2 : 1;
    if (!is_digit(peek())) {
      at_ = begin;
      return {};
    }
    while (is_digit(peek())) ++at_;
    while ((peek() == '.' || peek() == '-') && is_digit(peek(1))) {
      ++at_;
      while (is_digit(peek())) ++at_;
    }
    if (is_letter(peek())) {
      if (is_letter(peek(1)) || is_digit(peek(1))) {
        at_ = begin;
        return {};
      }
      ++at_;
    }
    return text_.substr(begin, at_ - begin);
  }

  bool punctuation_follows() {
    skip_blanks();
    const std::string_view rest = text_.substr(at_);
    if (rest.empty()) return true;
    if (std::string_view(".:)]|").find(rest[0]) != std::string_view::npos) return true;
    if (rest.starts_with("\u2013") || rest.starts_with("\u2014")) return true;
    return rest[0] == '-' && (rest.size() == 1 || rest[1] == '-' || is_space(rest[1]));
  }

  std::string_view text_;
  std::size_t at_ = 0;
};

}  // namespace

std::optional<FigureLabel> leading_figure_label(std::string_view text) {
  return LabelScanner(text).scan(kFigureWords);
}

bool begins_caption(std::string_view text) {
  const auto label = leading_figure_label(text);
  return label && label->punctuated;
}

bool is_ditto(std::string_view cell) {
  constexpr std::size_t kLongest = 16;
  constexpr std::string_view kDashes[] = {"-", "\xE2\x80\x93", "\xE2\x80\x94", " "};
  if (cell.size() > kLongest) return false;
  for (bool is_cut = true; is_cut;) {
    is_cut = false;
    for (const std::string_view dash : kDashes) {
      if (cell.starts_with(dash)) {
        cell.remove_prefix(dash.size());
        is_cut = true;
      }
      if (cell.ends_with(dash)) {
        cell.remove_suffix(dash.size());
        is_cut = true;
      }
    }
  }
  const std::string folded = lower(cell);
  return std::find(std::begin(kDittoMarks), std::end(kDittoMarks), folded) != std::end(kDittoMarks);
}

bool begins_table_caption(std::string_view text) {
  // Behind a table some write ": Table 2. Losses".
  if (text.starts_with(": ")) text.remove_prefix(2);
  const auto label = LabelScanner(text).scan(kTableWords);
  return label && label->punctuated;
}

}  // namespace tailproof
