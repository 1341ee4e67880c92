#include "source/shown_path.h"

#include <array>

#include "source/utf8.h"

namespace tailproof {
namespace {

void append_hex(std::string& out, char byte) {
  constexpr std::string_view kDigits = "0123456789abcdef";
  const auto value = static_cast<unsigned char>(byte);
  out += {'\\', 'x', kDigits[value >> 4U], kDigits[value & 0xFU]};
}

bool is_control(std::string_view sequence) {
  const auto lead = static_cast<unsigned char>(sequence[0]);
  if (sequence.size() == 1) return lead < 0x20 || lead == 0x7F;
  if (sequence.size() == 2 && lead == 0xC2) return static_cast<unsigned char>(sequence[1]) < 0xA0;
  // Marks and embeddings that turn the direction, and separators of lines and paragraphs.
  constexpr std::array<std::string_view, 14> kTurning = {
      "\u061C", "\u200E", "\u200F", "\u2028", "\u2029", "\u202A", "\u202B",
      "\u202C", "\u202D", "\u202E", "\u2066", "\u2067", "\u2068", "\u2069"};
  for (const std::string_view mark : kTurning) {
    if (sequence == mark) return true;
  }
  return false;
}

std::string escaped(std::string_view path, bool with_controls) {
  std::string out;
  bool is_changed = false;
  for (std::size_t at = 0; at < path.size();) {
    const std::size_t length = utf8_length(path.substr(at));
    const std::string_view sequence = path.substr(at, length == 0 ? 1 : length);
    at += sequence.size();
    if (sequence == "\\") {
      out += "\\\\";
    } else if (length != 0 && !(with_controls && is_control(sequence))) {
      out += sequence;
    } else {
      is_changed = true;
      if (sequence == "\n" || sequence == "\r" || sequence == "\t") {
        out += sequence == "\n" ? "\\n" : sequence == "\r" ? "\\r" : "\\t";
        continue;
      }
      for (const char byte : sequence) append_hex(out, byte);
    }
  }
  return is_changed ? out : std::string(path);
}

}  // namespace

std::string shown_path(std::string_view path) { return escaped(path, true); }
std::string utf8_path(std::string_view path) { return escaped(path, false); }

}  // namespace tailproof
