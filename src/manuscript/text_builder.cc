#include "manuscript/text_builder.h"

#include <array>
#include <cstring>
#include <utility>

namespace tailproof {
namespace {

// Of a paragraph; more only costs another allocation.
constexpr std::size_t kUsualTextBytes = 240;
constexpr std::size_t kUsualRuns = 8;

enum Class : std::uint8_t { kPlain, kSpace, kBlank, kLead };

constexpr std::array<Class, 256> make_classes() {
  std::array<Class, 256> classes{};
  classes[' '] = kSpace;
  for (const char c : {'\t', '\n', '\v', '\f', '\r'})
    classes[static_cast<unsigned char>(c)] = kBlank;
  for (const unsigned lead : {0xC2U, 0xE2U, 0xE3U, 0xEFU}) classes[lead] = kLead;
  return classes;
}
constexpr std::array<Class, 256> kClasses = make_classes();

Class class_of(char c) { return kClasses[static_cast<unsigned char>(c)]; }
bool is_white(char c) { return class_of(c) == kSpace || class_of(c) == kBlank; }

// A character that flattening changes: how many bytes it has and what it becomes.
struct Special {
  std::uint32_t length = 0;  // 0: it is an ordinary character
  std::string_view becomes;
};

Special special_at(std::string_view bytes) {
  if (bytes.starts_with("\xC2\xA0")) return {2, " "};
  if (bytes.starts_with("\xC2\xAD")) return {2, ""};  // soft hyphen
  if (bytes.size() < 3) return {};
  const std::string_view three = bytes.substr(0, 3);
  if (three == "\xE2\x80\x91") return {3, "-"};                             // non-breaking hyphen
  if (three >= "\xE2\x80\x80" && three <= "\xE2\x80\x8A") return {3, " "};  // en quad to hair space
  if (three == "\xE2\x80\xAF" || three == "\xE2\x81\x9F" || three == "\xE3\x80\x80")
    return {3, " "};
  if (three == "\xE2\x80\xA8" || three == "\xE2\x80\xA9") return {3, " "};  // line, paragraph
  if (three == "\xE2\x80\x8B" || three == "\xE2\x81\xA0" || three == "\xEF\xBB\xBF") return {3, ""};
  return {};
}

// How many bytes from the start, eight at a time, are ASCII without control characters and without
// a space behind a space: text that stays as it is. `after_space` is kept up to date.
std::size_t plain_prefix(std::string_view bytes, bool& after_space) {
  constexpr std::uint64_t kOnes = 0x0101010101010101U;
  constexpr std::uint64_t kHighs = kOnes * 0x80U;
  std::size_t at = 0;
  for (; at + 8 <= bytes.size(); at += 8) {
    std::uint64_t word = 0;
    std::memcpy(&word, bytes.data() + at, 8);
    const std::uint64_t controls = (word - kOnes * 0x20U) & ~word;
    if (((word | controls) & kHighs) != 0) break;
    // The high bit of each byte that is a space; no byte has its own high bit set here.
    const std::uint64_t other = word ^ (kOnes * 0x20U);
    const std::uint64_t spaces = ~(other + kOnes * 0x7FU) & kHighs;
    const std::uint64_t doubled = spaces & (spaces << 8U);
    const bool begins_with_space = bytes[at] == ' ';
    if (doubled != 0 || (after_space && begins_with_space)) break;
    after_space = bytes[at + 7] == ' ';
  }
  return at;
}

}  // namespace

void TextBuilder::put(std::string_view text, std::uint32_t source, std::uint32_t length,
                      bool verbatim) {
  if (text.empty()) return;
  if (!runs_.empty()) {
    MapRun& last = runs_.back();
    const bool continues =
        verbatim && last.verbatim && last.source_begin + last.source_length == source;
    const bool repeats =
        !verbatim && !last.verbatim && last.source_begin == source && last.source_length == length;
    if (continues) last.source_length += length;
    if (continues || repeats) {
      text_.append(text);
      return;
    }
  }
  if (runs_.empty()) {
    text_.reserve(kUsualTextBytes);
    runs_.reserve(kUsualRuns);
  }
  runs_.push_back({size(), source, length, verbatim});
  text_.append(text);
}

void TextBuilder::fold(std::string_view bytes, std::uint32_t source, std::uint32_t whole_length) {
  const bool whole = whole_length != 0;
  const std::size_t size = bytes.size();
  std::size_t begin = 0;  // of the bytes looked at and not yet put
  std::size_t at = 0;
  bool after_space = text_.empty() || text_.back() == ' ';
  const auto flush = [&](std::size_t next) {
    const std::string_view piece = bytes.substr(begin, at - begin);
    if (whole) {
      put(piece, source, whole_length, false);
    } else {
      put(piece, source + static_cast<std::uint32_t>(begin),
          static_cast<std::uint32_t>(piece.size()), true);
    }
    begin = next;
  };
  const auto put_changed = [&](std::string_view text, std::size_t length) {
    flush(at + length);
    if (text != " " || !after_space) {
      put(text, whole ? source : source + static_cast<std::uint32_t>(at),
          whole ? whole_length : static_cast<std::uint32_t>(length), false);
    }
    if (!text.empty()) after_space = text == " ";
    at += length;
  };
  while (at < size) {
    at += plain_prefix(bytes.substr(at), after_space);
    if (at == size) break;
    const Class kind = class_of(bytes[at]);
    if (kind == kPlain || (kind == kSpace && !after_space)) {
      after_space = kind == kSpace;
      ++at;
      continue;
    }
    if (kind == kLead) {
      const Special special = special_at(bytes.substr(at, 3));
      if (special.length == 0) {
        after_space = false;
        ++at;
      } else {
        put_changed(special.becomes, special.length);
      }
      continue;
    }
    std::size_t end = at + 1;
    while (end < size && is_white(bytes[end])) ++end;
    put_changed(" ", end - at);
  }
  flush(size);
}

void TextBuilder::add_literal(std::string_view text, std::uint32_t source_begin,
                              std::uint32_t source_length) {
  put(text, source_begin, source_length, false);
}

void TextBuilder::add_block(const TextBuilder& other, std::uint32_t gap_begin,
                            std::uint32_t gap_length) {
  if (other.empty()) return;
  add_space(gap_begin, gap_length);
  const std::uint32_t shift = size();
  for (MapRun run : other.runs_) {
    run.text_begin += shift;
    runs_.push_back(run);
  }
  text_.append(other.text_);
}

void TextBuilder::cut(std::uint32_t size) {
  if (size >= text_.size()) return;
  text_.resize(size);
  while (!runs_.empty() && runs_.back().text_begin >= size) runs_.pop_back();
  if (!runs_.empty() && runs_.back().verbatim) {
    runs_.back().source_length = size - runs_.back().text_begin;
  }
}

void TextBuilder::trim() {
  if (!text_.empty() && text_.back() == ' ') cut(size() - 1);
}

void TextBuilder::move_into(Block& block) {
  trim();
  block.text = std::move(text_);
  block.runs = std::move(runs_);
  clear();
}

void TextBuilder::clear() {
  text_.clear();
  runs_.clear();
}

}  // namespace tailproof
