#include "ledger/spelling.h"

#include <algorithm>
#include <utility>

#include "ledger/text.h"

namespace tailproof {
namespace {

bool is_digit_or_letter(unsigned char c) {
  return (c >= '0' && c <= '9') || (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z');
}

// Bytes of the mark at `at` that no name is made of; 0 when a letter or digit stands there. Of
// what is not ASCII, the signs of Latin-1 and general punctuation are marks.
std::size_t mark_bytes(std::string_view text, std::size_t at) {
  const auto byte = [&](std::size_t i) {
    return at + i < text.size() ? static_cast<unsigned char>(text[at + i]) : 0U;
  };
  const auto lead = static_cast<unsigned char>(byte(0));
  if (lead < 0x80) return is_digit_or_letter(lead) ? 0 : 1;
  if (lead == 0xC2) return 2;
  if (lead == 0xE2 && (byte(1) == 0x80 || byte(1) == 0x81)) return 3;
  return 0;
}

struct Pieces {
  std::string letters;             // of all pieces, folded
  std::vector<std::size_t> begin;  // of each; one more at the end
};

void cut(std::string_view text, Pieces& pieces) {
  pieces.letters.clear();
  pieces.begin.clear();
  bool is_inside = false;
  bool is_plain = true;
  std::size_t first = 0;
  const auto close = [&](std::size_t end) {
    if (!is_inside) return;
    const std::string_view piece = text.substr(first, end - first);
    if (is_plain) {
      for (const char c : piece) {
        pieces.letters += c >= 'A' && c <= 'Z' ? static_cast<char>(c + 32) : c;
      }
    } else {
      pieces.letters += folded_identity(piece);
    }
    is_inside = false;
  };
  for (std::size_t at = 0; at < text.size();) {
    const std::size_t mark = mark_bytes(text, at);
    if (mark > 0) {
      close(at);
      at += mark;
      continue;
    }
    if (!is_inside) {
      is_inside = true;
      is_plain = true;
      first = at;
      pieces.begin.push_back(pieces.letters.size());
    }
    is_plain = is_plain && static_cast<unsigned char>(text[at]) < 0x80;
    ++at;
  }
  close(text.size());
  pieces.begin.push_back(pieces.letters.size());
}

// FNV-1a: the same on every machine, and a longer name goes on from a shorter one.
constexpr Spelling kNoLetters = 0xcbf29ce484222325ULL;
Spelling with_letter(Spelling hash, char c) {
  return (hash ^ static_cast<unsigned char>(c)) * 0x100000001b3ULL;
}

Spelling mixed(Spelling value) {
  value ^= value >> 33;
  value *= 0xff51afd7ed558ccdULL;
  value ^= value >> 33;
  return value;
}

constexpr std::size_t kBitsASpelling = 16;
constexpr unsigned kProbes = 4;

}  // namespace

std::string squashed(std::string_view name) {
  Pieces pieces;
  cut(name, pieces);
  return std::move(pieces.letters);
}

Spelling spelling_of_squashed(std::string_view text) {
  Spelling hash = kNoLetters;
  for (const char c : text) hash = with_letter(hash, c);
  return mixed(hash);
}

Spelling spelling_of(std::string_view name) { return spelling_of_squashed(squashed(name)); }

std::size_t pieces_of(std::string_view name) {
  Pieces pieces;
  cut(name, pieces);
  return pieces.begin.size() - 1;
}

bool SpellingSet::insert(Spelling spelling) {
  if (spelling == 0) return !std::exchange(has_zero_, true);
  if ((count_ + 1) * 2 > slots_.size()) grow();
  const std::size_t mask = slots_.size() - 1;
  for (std::size_t at = spelling & mask;; at = (at + 1) & mask) {
    if (slots_[at] == spelling) return false;
    if (slots_[at] != 0) continue;
    slots_[at] = spelling;
    ++count_;
    return true;
  }
}

bool SpellingSet::contains(Spelling spelling) const {
  if (spelling == 0) return has_zero_;
  if (slots_.empty()) return false;
  const std::size_t mask = slots_.size() - 1;
  for (std::size_t at = spelling & mask; slots_[at] != 0; at = (at + 1) & mask) {
    if (slots_[at] == spelling) return true;
  }
  return false;
}

void SpellingSet::grow() {
  std::vector<Spelling> old(std::max<std::size_t>(64, slots_.size() * 2));
  old.swap(slots_);
  count_ = 0;
  for (const Spelling spelling : old) {
    if (spelling != 0) insert(spelling);
  }
}

void find_spellings(std::string_view text, const SpellingLimits& limits,
                    const SpellingFilter& filter, std::vector<Spelling>& found) {
  // A text may part what the ledger writes in one ("K7RB"), once or twice.
  constexpr std::size_t kPartings = 2;
  constexpr std::size_t kEnding = 2;  // "s" or "es"
  Pieces pieces;
  cut(text, pieces);
  const std::string& letters = pieces.letters;
  const std::size_t count = pieces.begin.size() - 1;
  const auto add = [&](Spelling hash) {
    const Spelling spelling = mixed(hash);
    if (filter.may_contain(spelling)) found.push_back(spelling);
  };
  for (std::size_t first = 0; first < count; ++first) {
    const std::size_t begin = pieces.begin[first];
    const std::size_t most = std::min(count, first + limits.pieces + kPartings);
    Spelling hash = kNoLetters, before = hash, before_that = hash;
    for (std::size_t last = first + 1; last <= most; ++last) {
      const std::size_t end = pieces.begin[last];
      if (end - begin > limits.bytes + kEnding) break;
      for (std::size_t i = pieces.begin[last - 1]; i < end; ++i) {
        before_that = before;
        before = hash;
        hash = with_letter(hash, letters[i]);
      }
      add(hash);
      if (letters[end - 1] != 's') continue;
      add(before);
      if (end - begin > 1 && letters[end - 2] == 'e') add(before_that);
    }
  }
}

SpellingFilter::SpellingFilter(std::size_t count)
    : bits_(std::max<std::size_t>(64, count * kBitsASpelling / 8), '\0') {}

void SpellingFilter::insert(Spelling spelling) {
  const Spelling step = spelling >> 32 | 1U;
  for (unsigned i = 0; i < kProbes; ++i) {
    const Spelling bit = (spelling + i * step) % (bits_.size() * 8);
    bits_[bit / 8] = static_cast<char>(static_cast<unsigned char>(bits_[bit / 8]) | 1U << bit % 8);
  }
}

bool SpellingFilter::may_contain(Spelling spelling) const {
  if (bits_.empty()) return true;
  const Spelling step = spelling >> 32 | 1U;
  for (unsigned i = 0; i < kProbes; ++i) {
    const Spelling bit = (spelling + i * step) % (bits_.size() * 8);
    if ((static_cast<unsigned char>(bits_[bit / 8]) >> bit % 8 & 1U) == 0) return false;
  }
  return true;
}

}  // namespace tailproof
