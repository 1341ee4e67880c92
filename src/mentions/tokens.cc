#include "mentions/tokens.h"

#include <re2/re2.h>

#include <algorithm>
#include <array>

#include "grammars/fold.h"

namespace tailproof {
namespace {

enum class CharClass : std::uint8_t { kMark, kBlank, kSmall, kCapital, kDigit, kWide };

constexpr std::array<CharClass, 256> make_classes() {
  std::array<CharClass, 256> classes{};
  for (unsigned c = 0; c < 256; ++c) {
    if (c == ' ' || c == '\t' || c == '\n' || c == '\r') {
      classes[c] = CharClass::kBlank;
    } else if (c >= 'a' && c <= 'z') {
      classes[c] = CharClass::kSmall;
    } else if (c >= 'A' && c <= 'Z') {
      classes[c] = CharClass::kCapital;
    } else if (c >= '0' && c <= '9') {
      classes[c] = CharClass::kDigit;
    } else if (c >= 0x80) {
      classes[c] = CharClass::kWide;
    }
  }
  return classes;
}

constexpr auto kClasses = make_classes();

std::uint32_t wide_length(unsigned char lead) {
  if (lead >= 0xF0) return 4;
  if (lead >= 0xE0) return 3;
  return lead >= 0xC0 ? 2 : 1;
}

// Punctuation beyond ASCII: U+00A0..U+00BF and U+2000..U+2BFF. Other wide characters are letters.
bool is_wide_mark(std::string_view text, std::uint32_t at) {
  const auto lead = static_cast<unsigned char>(text[at]);
  const auto next = at + 1 < text.size() ? static_cast<unsigned char>(text[at + 1]) : 0U;
  return lead == 0xC2 || (lead == 0xE2 && next >= 0x80 && next <= 0xAF);
}

bool is_apostrophe_at(std::string_view text, std::uint32_t at, std::uint32_t& length) {
  if (at < text.size() && text[at] == '\'') {
    length = 1;
    return true;
  }
  length = 3;
  return text.substr(at, 3) == "\xE2\x80\x99";
}

class Tokenizer {
 public:
  Tokenizer(std::string_view text, const Grammars& grammars) : text_(text), grammars_(grammars) {}

  std::vector<Token> run() {
    tokens_.reserve(text_.size() / 5 + 8);
    std::uint32_t at = 0;
    const auto size = static_cast<std::uint32_t>(text_.size());
    while (at < size) {
      const CharClass c = kClasses[static_cast<unsigned char>(text_[at])];
      if (c == CharClass::kBlank) {
        ++at;
      } else if (c == CharClass::kMark || (c == CharClass::kWide && is_wide_mark(text_, at))) {
        at = add_mark(at);
      } else {
        at = add_word(at);
      }
    }
    return std::move(tokens_);
  }

 private:
  std::uint32_t add_mark(std::uint32_t at) {
    const auto lead = static_cast<unsigned char>(text_[at]);
    const auto length = lead >= 0x80 ? wide_length(lead) : 1U;
    Token token;
    token.begin = at;
    token.end = std::min(at + length, static_cast<std::uint32_t>(text_.size()));
    token.kind = TokenKind::kMark;
    token.starts = kStartsAny;
    const std::string_view mark = text_.substr(token.begin, token.end - token.begin);
    if (mark == "'" || mark == "\"" || mark == "\xE2\x80\x98" || mark == "\xE2\x80\x99" ||
        mark == "\xE2\x80\x9C") {
      token.starts |= kStartsQuote;
    }
    if (mark == "(" || mark == "[") token.starts |= kStartsBracket;
    tokens_.push_back(token);
    if (mark == "." || mark == "?" || mark == "!") sentence_over_ = true;
    return token.end;
  }

  std::uint32_t add_word(std::uint32_t begin) {
    Token token;
    token.begin = begin;
    const auto size = static_cast<std::uint32_t>(text_.size());
    bool letters = false, digits = false, small = false;
    unsigned capitals = 0;
    std::uint32_t at = begin;
    while (at < size) {
      const CharClass c = kClasses[static_cast<unsigned char>(text_[at])];
      if (c == CharClass::kSmall) {
        letters = small = true;
        ++at;
      } else if (c == CharClass::kCapital) {
        letters = true;
        ++capitals;
        ++at;
      } else if (c == CharClass::kDigit) {
        digits = true;
        ++at;
      } else if (c == CharClass::kWide && !is_wide_mark(text_, at)) {
        letters = true;
        at += wide_length(static_cast<unsigned char>(text_[at]));
      } else {
        std::uint32_t length = 0;
        if (!letters || digits || !is_apostrophe_at(text_, at, length)) break;
        const std::uint32_t next = at + length;
        if (next >= size) break;
        const CharClass after = kClasses[static_cast<unsigned char>(text_[next])];
        if (after != CharClass::kSmall && after != CharClass::kCapital) break;
        at = next;
      }
    }
    at = std::min(at, size);
    token.end = at;
    token.kind = !digits ? TokenKind::kWord : letters ? TokenKind::kMixed : TokenKind::kNumber;
    token.capital = kClasses[static_cast<unsigned char>(text_[begin])] == CharClass::kCapital;
    token.all_capitals = capitals >= 2 && !small;
    token.sentence_start = tokens_.empty() || sentence_over_;
    sentence_over_ = false;
    token.starts = kStartsAny;
    if (token.kind == TokenKind::kNumber) token.starts |= kStartsNumber;
    if (token.kind == TokenKind::kMixed) {
      token.starts |= kStartsMixed;
      // "14th", "14Jun43": a digit first may begin what a number begins.
      if (kClasses[static_cast<unsigned char>(text_[begin])] == CharClass::kDigit) {
        token.starts |= kStartsNumber;
      }
    }
    if (token.capital) token.starts |= kStartsCapital;
    if (letters) token.starts |= grammars_.starts_of_word(FoldedWord(word_of(token)).view());
    tokens_.push_back(token);
    return at;
  }

  std::string_view word_of(const Token& token) const {
    return text_.substr(token.begin, token.end - token.begin);
  }

  std::string_view text_;
  const Grammars& grammars_;
  std::vector<Token> tokens_;
  bool sentence_over_ = true;
};

// How far a pattern may look ahead of its first token: bounds the cost of a place whatever the
// block's length.
constexpr std::size_t kReachBytes = 320;

}  // namespace

std::vector<Token> tokenize(std::string_view text, const Grammars& grammars) {
  return Tokenizer(text, grammars).run();
}

std::string_view PatternMatch::text_of(std::string_view slot, std::string_view block_text) const {
  for (std::size_t i = 0; i < slots.size(); ++i) {
    if (pattern->compiled().slots[i] == slot && slots[i].second > slots[i].first) {
      return block_text.substr(slots[i].first, slots[i].second - slots[i].first);
    }
  }
  return {};
}

std::string PatternMatch::value_of(std::string_view slot, std::string_view block_text) const {
  for (std::size_t i = 0; i < slots.size(); ++i) {
    if (pattern->compiled().slots[i] != slot || slots[i].second == slots[i].first) continue;
    const auto text = block_text.substr(slots[i].first, slots[i].second - slots[i].first);
    if (pattern->compiled().slot_lists[i] != nullptr)
      return std::string(pattern->compiled().slot_lists[i]->value_of(text));
    return std::string(text);
  }
  const auto fixed = pattern->set.find(std::string(slot));
  return fixed == pattern->set.end() ? std::string{} : fixed->second;
}

std::vector<PatternMatch> match_patterns(std::string_view text, const std::vector<Token>& tokens,
                                         const std::vector<const Pattern*>& patterns) {
  std::vector<PatternMatch> matches;
  std::uint64_t any_starts = 0;
  for (const Pattern* pattern : patterns) any_starts |= pattern->starts;
  std::uint32_t free_from = 0;
  std::vector<re2::StringPiece> groups;
  const re2::StringPiece piece(text.data(), text.size());
  for (const Token& token : tokens) {
    if (token.begin < free_from || (token.starts & any_starts) == 0) continue;
    const std::size_t limit = std::min(text.size(), token.begin + kReachBytes);
    const Pattern* best = nullptr;
    std::size_t best_end = 0;
    for (const Pattern* pattern : patterns) {
      if ((pattern->starts & token.starts) == 0) continue;
      re2::StringPiece whole;
      if (!pattern->compiled().re->Match(piece, token.begin, limit, RE2::ANCHOR_START, &whole, 1))
        continue;
      const auto end = static_cast<std::size_t>(whole.data() - text.data()) + whole.size();
      if (end > best_end && !whole.empty()) {
        best = pattern;
        best_end = end;
      }
    }
    if (best == nullptr) continue;
    groups.assign(best->compiled().slots.size() + 1, re2::StringPiece());
    best->compiled().re->Match(piece, token.begin, limit, RE2::ANCHOR_START, groups.data(),
                               static_cast<int>(groups.size()));
    PatternMatch match;
    match.pattern = best;
    match.begin = token.begin;
    match.end = static_cast<std::uint32_t>(best_end);
    for (std::size_t i = 1; i < groups.size(); ++i) {
      if (groups[i].data() == nullptr) {
        match.slots.emplace_back(0, 0);
      } else {
        const auto begin = static_cast<std::uint32_t>(groups[i].data() - text.data());
        match.slots.emplace_back(begin, begin + static_cast<std::uint32_t>(groups[i].size()));
      }
    }
    free_from = match.end;
    matches.push_back(std::move(match));
  }
  return matches;
}

}  // namespace tailproof
