#include "report/html_text.h"

#include <fmt/format.h>

#include <array>

#include "source/utf8.h"

namespace tailproof {

namespace {

struct CodePoints {
  char32_t first, last;
};

// Shown by number: controls, bidirectional marks and isolates, line and paragraph separators,
// invisible operators, the byte-order mark, tags.
constexpr std::array<CodePoints, 13> kShownByNumber = {{{0x00, 0x08},
                                                        {0x0B, 0x0C},
                                                        {0x0E, 0x1F},
                                                        {0x7F, 0x9F},
                                                        {0x61C, 0x61C},
                                                        {0x200B, 0x200B},
                                                        {0x200E, 0x200F},
                                                        {0x2028, 0x202E},
                                                        {0x2060, 0x206F},
                                                        {0xFEFF, 0xFEFF},
                                                        {0xFFF9, 0xFFFB},
                                                        {0xFFFE, 0xFFFF},
                                                        {0xE0000, 0xE007F}}};

bool is_shown_by_number(char32_t c) {
  for (const CodePoints& range : kShownByNumber) {
    if (c >= range.first && c <= range.last) {
      return true;
    }
  }
  return false;
}

/// The code point at `at`, in `length` bytes. Sources are UTF-8, checked; what is not all the same
/// comes out as U+FFFD.
char32_t code_point(std::string_view text, std::size_t at, std::size_t& length) {
  const auto lead = static_cast<unsigned char>(text[at]);
  length = utf8_length(text.substr(at));
  if (length == 0) {
    length = 1;
    return 0xFFFD;
  }
  if (length == 1) {
    return lead;
  }
  char32_t c = lead & (0xFFU >> (length + 1));
  for (std::size_t i = 1; i < length; ++i) {
    c = (c << 6U) | (static_cast<unsigned char>(text[at + i]) & 0x3FU);
  }
  return c;
}

template <typename Put>
void each_piece(std::string_view text, Put put) {
  std::size_t length = 0;
  for (std::size_t at = 0; at < text.size(); at += length) {
    const char32_t c = code_point(text, at, length);
    if (c == 0xFFFD) {
      put("\xEF\xBF\xBD");
    } else if (is_shown_by_number(c)) {
      put(fmt::format("[U+{:04X}]", static_cast<unsigned>(c)));
    } else {
      put(text.substr(at, length));
    }
  }
}

}  // namespace

std::string inert(std::string_view text) {
  std::string shown;
  shown.reserve(text.size());
  const auto is_plain = [](char c) { return (c >= ' ' && c <= '~') || c == '\n'; };
  for (std::size_t at = 0; at < text.size();) {
    // Nearly all of any text.
    std::size_t end = at;
    while (end < text.size() && is_plain(text[end])) ++end;
    shown += text.substr(at, end - at);
    at = end;
    while (end < text.size() && !is_plain(text[end])) ++end;
    each_piece(text.substr(at, end - at), [&](std::string_view piece) { shown += piece; });
    at = end;
  }
  return shown;
}

std::string html(std::string_view text) {
  std::string escaped;
  each_piece(text, [&](std::string_view piece) {
    if (piece == "&") {
      escaped += "&amp;";
    } else if (piece == "<") {
      escaped += "&lt;";
    } else if (piece == ">") {
      escaped += "&gt;";
    } else if (piece == "\"") {
      escaped += "&quot;";
    } else if (piece == "'") {
      escaped += "&#39;";
    } else {
      escaped += piece;
    }
  });
  return escaped;
}

std::string script_json(const Json& json) {
  std::string text;
  for (const char c : json.dump(-1, ' ', true, Json::error_handler_t::replace)) {
    if (c == '<' || c == '>' || c == '&') {
      text += fmt::format("\\u{:04x}", static_cast<unsigned>(c));
    } else {
      text += c;
    }
  }
  return text;
}

std::string policy_hash(std::string_view hex_digest) {
  constexpr std::string_view kAlphabet =
      "ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789+/";
  const auto digit = [](char c) {
    return static_cast<unsigned>(c >= 'a' ? c - 'a' + 10 : c - '0');
  };
  std::string base64;
  unsigned bits = 0;
  unsigned held = 0;
  for (const char c : hex_digest) {
    held = (held << 4U) | digit(c);
    bits += 4;
    while (bits >= 6) {
      bits -= 6;
      base64 += kAlphabet[(held >> bits) & 0x3FU];
    }
    held &= (1U << bits) - 1;
  }
  if (bits > 0) {
    base64 += kAlphabet[(held << (6 - bits)) & 0x3FU];
  }
  while (base64.size() % 4 != 0) {
    base64 += '=';
  }
  return "'sha256-" + base64 + "'";
}

std::string shortened(std::string_view text, std::size_t length) {
  std::size_t points = 0;
  std::size_t cut = 0;
  std::size_t step = 0;
  for (std::size_t at = 0; at < text.size(); at += step) {
    (void)code_point(text, at, step);
    if (points + 1 == length) {
      cut = at;
    }
    if (++points > length) {
      return std::string(text.substr(0, cut)) + "\xE2\x80\xA6";
    }
  }
  return std::string(text);
}

}  // namespace tailproof
