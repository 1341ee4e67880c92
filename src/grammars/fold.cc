#include "grammars/fold.h"

namespace tailproof {

std::string fold(std::string_view text) {
  std::string out;
  out.reserve(text.size());
  for (std::size_t i = 0; i < text.size(); ++i) {
    const char c = text[i];
    if (c >= 'A' && c <= 'Z') {
      out += static_cast<char>(c - 'A' + 'a');
    } else if (text.substr(i, 3) == "\xE2\x80\x99") {  // ’
      out += '\'';
      i += 2;
    } else {
      out += c;
    }
  }
  return out;
}

std::string fold_phrase(std::string_view text) {
  std::string out;
  bool blank = false;
  for (const char c : fold(text)) {
    if (c == '.') continue;
    if (c == ' ' || c == '\t' || c == '\n') {
      blank = !out.empty();
      continue;
    }
    if (blank) out += ' ';
    blank = false;
    out += c;
  }
  return out;
}

}  // namespace tailproof
