#include "grammars/fold.h"

namespace tailproof {
namespace {

constexpr std::array<char, 256> make_small() {
  std::array<char, 256> small{};
  for (std::size_t c = 0; c < small.size(); ++c) {
    small[c] = static_cast<char>(c >= 'A' && c <= 'Z' ? c - 'A' + 'a' : c);
  }
  return small;
}

constexpr auto kSmall = make_small();

constexpr std::array<bool, 256> make_folded_away() {
  std::array<bool, 256> folded_away{};
  for (const char c : {'.', ' ', '\t', '\n', '\xE2'})
    folded_away[static_cast<unsigned char>(c)] = true;
  return folded_away;
}

// What is left out of a phrase, or may be: all other bytes are taken one by one.
constexpr auto kFoldedAway = make_folded_away();

bool is_apostrophe(std::string_view text, std::size_t at) {
  return text[at] == '\xE2' && text.substr(at, 3) == "\xE2\x80\x99";  // ’
}

// Writes the folded text, which is never longer than the text itself.
std::size_t fold_into(std::string_view text, char* out) {
  char* end = out;
  for (std::size_t i = 0; i < text.size(); ++i) {
    if (is_apostrophe(text, i)) {
      *end++ = '\'';
      i += 2;
    } else {
      *end++ = kSmall[static_cast<unsigned char>(text[i])];
    }
  }
  return static_cast<std::size_t>(end - out);
}

}  // namespace

std::string fold(std::string_view text) {
  std::string out(text.size(), '\0');
  out.resize(fold_into(text, out.data()));
  return out;
}

FoldedWord::FoldedWord(std::string_view word) {
  if (word.size() <= short_.size()) {
    view_ = {short_.data(), fold_into(word, short_.data())};
  } else {
    long_ = fold(word);
    view_ = long_;
  }
}

std::size_t fold_phrase(std::string_view text, char* out, std::size_t room) {
  std::size_t size = 0;
  bool blank = false;
  for (std::size_t i = 0; i < text.size(); ++i) {
    const auto byte = static_cast<unsigned char>(text[i]);
    char c = kSmall[byte];
    if (kFoldedAway[byte]) {
      if (c == '.') continue;
      if (c == ' ' || c == '\t' || c == '\n') {
        blank = size != 0;
        continue;
      }
      if (is_apostrophe(text, i)) {
        c = '\'';
        i += 2;
      }
    }
    if (size + (blank ? 2 : 1) > room) return room + 1;
    if (blank) out[size++] = ' ';
    blank = false;
    out[size++] = c;
  }
  return size;
}

std::string fold_phrase(std::string_view text) {
  std::string out(text.size(), '\0');
  out.resize(fold_phrase(text, out.data(), out.size()));
  return out;
}

}  // namespace tailproof
