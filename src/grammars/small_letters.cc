#include "grammars/small_letters.h"

namespace tailproof {
namespace {

bool is_small(char c) { return c >= 'a' && c <= 'z'; }
bool is_capital(char c) { return c >= 'A' && c <= 'Z'; }
char small(char c) { return is_capital(c) ? static_cast<char>(c - 'A' + 'a') : c; }
bool is_wide(char c) { return static_cast<unsigned char>(c) >= 0x80; }

class SmallPattern {
 public:
  explicit SmallPattern(std::string_view pattern) : rest_(pattern) {}

  std::optional<std::string> take() {
    while (!rest_.empty()) {
      if (!take_one()) return std::nullopt;
    }
    return std::move(out_);
  }

 private:
  bool take_one() {
    if (rest_.front() == '(') {
      ++depth_;
    } else if (rest_.front() == ')' && --depth_ == cased_depth_) {
      cased_depth_ = -1;
    }
    if (rest_.starts_with("(?")) return take_group();
    if (rest_.front() == '[') return take_class();
    return take_letter();
  }

  // "(?:", "(?P<name>" and "(?-i:", which becomes a group with a name; any other is of flags.
  bool take_group() {
    constexpr std::string_view kCased = "(?-i:";
    if (rest_.starts_with(kCased) && !is_in_cased()) {
      cased_depth_ = depth_ - 1;
      out_ += "(?P<" + std::string(kCasedGroup) + std::to_string(cased_count_++) + ">";
      rest_.remove_prefix(kCased.size());
      return true;
    }
    if (rest_.starts_with("(?:")) return copy(3);
    return rest_.starts_with("(?P<") && copy_past('>');
  }

  // A literal, an escape or an operator.
  bool take_letter() {
    if (rest_.front() == '\\') return take_escape();
    if (is_wide(rest_.front())) return take_wide();
    if (is_in_cased() && is_capital(rest_.front())) return false;
    out_ += small(rest_.front());
    rest_.remove_prefix(1);
    return true;
  }

  bool take_escape() {
    if (rest_.size() < 2) return false;
    constexpr std::string_view kClasses = "dDwWsSbBAz";
    const char c = rest_[1];
    if (rest_.starts_with("\\x{20")) return copy_past('}');  // U+20xx: no letter
    const bool is_other = is_small(c) || is_capital(c) || (c >= '0' && c <= '9') || is_wide(c);
    if (is_other && kClasses.find(c) == std::string_view::npos) return false;
    return copy(2);
  }

  // Marks: U+2000 to U+207F, U+2200 to U+223F, fractions, U+00A0 to U+00BF but for the sign of the
  // micron, "×".
  bool take_wide() {
    const auto at = [&](std::size_t i) {
      return i < rest_.size() ? static_cast<unsigned char>(rest_[i]) : 0U;
    };
    const bool is_fraction = at(1) == 0x85 && at(2) >= 0x90 && at(2) <= 0x9F;
    if (at(0) == 0xE2 && (at(1) == 0x80 || at(1) == 0x81 || at(1) == 0x88 || is_fraction))
      return copy(3);
    if ((at(0) == 0xC2 && at(1) != 0xB5) || (at(0) == 0xC3 && at(1) == 0x97)) return copy(2);
    return false;
  }

  bool take_class() {
    // What is not "a" may be an "A", where case counts.
    if (is_in_cased() && rest_.starts_with("[^")) return false;
    copy(rest_.starts_with("[^") ? 2 : 1);
    for (bool is_first = true; is_first || !rest_.starts_with(']'); is_first = false) {
      if (rest_.empty() || rest_.starts_with("[:")) return false;
      const bool is_range =
          rest_.size() > 2 && rest_[0] != '\\' && rest_[1] == '-' && rest_[2] != ']';
      if (!is_range) {
        if (!take_letter()) return false;
        continue;
      }
      const char first = rest_[0], last = rest_[2];
      const bool is_of_letters =
          (is_small(first) && is_small(last)) || (is_capital(first) && is_capital(last));
      if (!is_of_letters && (first < '0' || last > '9')) return false;
      if (is_in_cased() && is_capital(first)) return false;
      out_ += {small(first), '-', small(last)};
      rest_.remove_prefix(3);
    }
    return copy(1);
  }

  bool copy(std::size_t count) {
    if (count > rest_.size()) return false;
    out_ += rest_.substr(0, count);
    rest_.remove_prefix(count);
    return true;
  }
  bool copy_past(char end) {
    const std::size_t at = rest_.find(end);
    return at != std::string_view::npos && copy(at + 1);
  }

  [[nodiscard]] bool is_in_cased() const { return cased_depth_ >= 0; }

  std::string_view rest_;
  std::string out_;
  int depth_ = 0;         // groups that are open
  int cased_depth_ = -1;  // outside of the one in which case counts; -1 for none
  int cased_count_ = 0;
};

}  // namespace

std::optional<std::string> in_small_letters(std::string_view pattern) {
  return SmallPattern(pattern).take();
}

bool write_small(std::string_view text, std::string& out) {
  out.assign(text);
  bool has_wide = false;
  for (char& c : out) {
    has_wide = has_wide || is_wide(c);
    c = small(c);
  }
  return !has_wide || (text.find("\xC5\xBF") == std::string_view::npos &&
                       text.find("\xE2\x84\xAA") == std::string_view::npos);
}

}  // namespace tailproof
