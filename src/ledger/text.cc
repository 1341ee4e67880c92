#include "ledger/text.h"

#include <cstdint>

namespace tailproof {
namespace {

struct CodePoint {
  std::uint32_t value = 0;
  std::size_t bytes = 1;
};

// The buffer has been checked for UTF-8 when it was read; a stray byte stands for itself.
CodePoint code_point_at(std::string_view text, std::size_t at) {
  const auto byte = [&](std::size_t i) { return static_cast<unsigned char>(text[at + i]); };
  const unsigned char lead = byte(0);
  const std::size_t left = text.size() - at;
  if (lead >= 0xC2 && lead < 0xE0 && left >= 2) {
    return {(lead & 0x1Fu) << 6 | (byte(1) & 0x3Fu), 2};
  }
  if (lead >= 0xE0 && lead < 0xF0 && left >= 3) {
    return {(lead & 0x0Fu) << 12 | (byte(1) & 0x3Fu) << 6 | (byte(2) & 0x3Fu), 3};
  }
  return {lead, 1};
}

std::uint32_t small_letter(std::uint32_t c) {
  if (c >= 0xC0 && c <= 0xDE && c != 0xD7) return c + 32;
  if (c == 0x178) return 0xFF;
  if ((c >= 0x139 && c <= 0x148) || (c >= 0x179 && c <= 0x17E)) return c % 2 == 1 ? c + 1 : c;
  if (c >= 0x100 && c <= 0x177 && c != 0x130 && c != 0x131) return c | 1u;
  if (c >= 0x391 && c <= 0x3A9) return c + 32;
  if (c >= 0x410 && c <= 0x42F) return c + 32;
  if (c >= 0x400 && c <= 0x40F) return c + 80;
  return c;
}

bool is_blank(std::uint32_t c) {
  return c == ' ' || c == '\t' || c == '\n' || c == '\r' || c == 0xA0 || c == 0x202F ||
         c == 0x2007 || c == 0x2009;
}

std::uint32_t plain(std::uint32_t c) {
  if (c == 0x2010 || c == 0x2011) return '-';
  if (c == 0x2018 || c == 0x2019 || c == 0x2BC) return '\'';
  return c;
}

char* append(char* out, std::uint32_t c) {
  if (c < 0x80) {
    *out++ = static_cast<char>(c);
  } else if (c < 0x800) {
    *out++ = static_cast<char>(0xC0u | c >> 6);
    *out++ = static_cast<char>(0x80u | (c & 0x3Fu));
  } else {
    *out++ = static_cast<char>(0xE0u | c >> 12);
    *out++ = static_cast<char>(0x80u | (c >> 6 & 0x3Fu));
    *out++ = static_cast<char>(0x80u | (c & 0x3Fu));
  }
  return out;
}

// A small letter takes as many bytes as its capital, a plain mark as many as another or fewer: what
// is folded is no longer than the text.
std::string folded(std::string_view text, bool keep_blanks_and_hyphens) {
  std::string room(text.size(), '\0');
  char* const begin = room.data();
  char* out = begin;
  bool blank_pending = false;
  for (std::size_t at = 0; at < text.size();) {
    const auto raw = static_cast<unsigned char>(text[at]);
    CodePoint point{raw, 1};
    if (raw >= 0x80) {
      point = code_point_at(text, at);
      if (point.bytes == 1) {  // four-byte characters have no case that matters here
        *out++ = text[at++];
        continue;
      }
    }
    at += point.bytes;
    if (is_blank(point.value)) {
      blank_pending = out != begin;
      continue;
    }
    if (blank_pending && keep_blanks_and_hyphens) *out++ = ' ';
    blank_pending = false;
    std::uint32_t c = raw < 0x80 ? raw : plain(point.value);
    if (c == '-' && !keep_blanks_and_hyphens) continue;
    if (c >= 'A' && c <= 'Z') c += 32;
    out = append(out, c < 0x80 ? c : small_letter(c));
  }
  room.resize(static_cast<std::size_t>(out - begin));
  return room;
}

}  // namespace

std::string_view trimmed(std::string_view text) {
  // Nearly every cell: a graphic ASCII character at both ends.
  const auto is_graphic = [](char c) { return c > ' ' && c < 0x7F; };
  if (text.empty() || (is_graphic(text.front()) && is_graphic(text.back()))) return text;
  const auto drop_front = [&](std::string_view blank) {
    if (!text.starts_with(blank)) return false;
    text.remove_prefix(blank.size());
    return true;
  };
  const auto drop_back = [&](std::string_view blank) {
    if (!text.ends_with(blank)) return false;
    text.remove_suffix(blank.size());
    return true;
  };
  while (drop_front(" ") || drop_front("\t") || drop_front("\n") || drop_front("\r") ||
         drop_front("\xC2\xA0")) {
  }
  while (drop_back(" ") || drop_back("\t") || drop_back("\n") || drop_back("\r") ||
         drop_back("\xC2\xA0")) {
  }
  return text;
}

std::string folded_name(std::string_view text) { return folded(text, true); }

std::string folded_identity(std::string_view text) { return folded(text, false); }

std::vector<std::string> split_list(std::string_view text) {
  std::vector<std::string> values;
  while (!text.empty()) {
    const std::size_t end = text.find(';');
    const std::string_view value = trimmed(text.substr(0, end));
    if (!value.empty()) values.emplace_back(value);
    if (end == std::string_view::npos) break;
    text.remove_prefix(end + 1);
  }
  return values;
}

}  // namespace tailproof
