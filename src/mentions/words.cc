#include "mentions/words.h"

#include <algorithm>
#include <cstring>

#include "grammars/fold.h"
#include "mentions/phrase_index.h"

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

CharClass class_of(char c) { return kClasses[static_cast<unsigned char>(c)]; }

std::uint32_t wide_length(char lead) {
  const auto byte = static_cast<unsigned char>(lead);
  if (byte >= 0xF0) return 4;
  if (byte >= 0xE0) return 3;
  return byte >= 0xC0 ? 2 : 1;
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

}  // namespace

bool is_blank(char c) { return class_of(c) == CharClass::kBlank; }

WordShape shape_at(std::string_view text, std::uint32_t begin) {
  WordShape shape;
  const auto size = static_cast<std::uint32_t>(text.size());
  const CharClass first = class_of(text[begin]);
  if (first == CharClass::kMark || (first == CharClass::kWide && is_wide_mark(text, begin))) {
    shape.end = std::min(begin + (first == CharClass::kWide ? wide_length(text[begin]) : 1), size);
    return shape;
  }
  std::uint32_t at = begin;
  if (first == CharClass::kSmall || first == CharClass::kCapital) {
    // Most words: small letters of ASCII behind the first.
    while (++at < size && class_of(text[at]) == CharClass::kSmall) {
    }
    const CharClass behind = at < size ? class_of(text[at]) : CharClass::kBlank;
    if (behind == CharClass::kBlank || (behind == CharClass::kMark && text[at] != '\'')) {
      shape.end = at;
      shape.kind = TokenKind::kWord;
      shape.letters = true;
      return shape;
    }
    at = begin;
  }
  bool digits = false, small = false;
  unsigned capitals = 0;
  while (at < size) {
    const CharClass c = class_of(text[at]);
    if (c == CharClass::kSmall) {
      shape.letters = small = true;
      while (++at < size && class_of(text[at]) == CharClass::kSmall) {
      }
    } else if (c == CharClass::kCapital) {
      shape.letters = true;
      ++capitals;
      ++at;
    } else if (c == CharClass::kDigit) {
      digits = true;
      ++at;
    } else if (c == CharClass::kBlank) {
      break;
    } else if (c == CharClass::kWide && !is_wide_mark(text, at)) {
      shape.letters = true;
      at += wide_length(text[at]);
    } else {
      std::uint32_t length = 0;
      if (!shape.letters || digits || !is_apostrophe_at(text, at, length)) break;
      const std::uint32_t next = at + length;
      if (next >= size) break;
      const CharClass after = class_of(text[next]);
      if (after != CharClass::kSmall && after != CharClass::kCapital) break;
      at = next;
    }
  }
  shape.end = std::min(at, size);
  shape.kind = !digits ? TokenKind::kWord : shape.letters ? TokenKind::kMixed : TokenKind::kNumber;
  shape.all_capitals = capitals >= 2 && !small;
  return shape;
}

WordTable::WordTable(const Grammars& grammars, const PhraseIndex* phrases)
    : grammars_(grammars),
      phrases_(phrases),
      small_words_(grammars.list("small_word")),
      slots_(1024) {}

WordTable::~WordTable() = default;

// The bytes at both ends, which overlap in a short text.
WordTable::Ends::Ends(std::string_view text) : size(text.size()) {
  const auto load = [&](std::size_t at, auto piece) {
    std::memcpy(&piece, text.data() + at, sizeof piece);
    return std::uint64_t{piece};
  };
  if (size >= sizeof(std::uint64_t)) {
    first = load(0, std::uint64_t{});
    last = load(size - sizeof(std::uint64_t), std::uint64_t{});
  } else if (size >= sizeof(std::uint32_t)) {
    first = load(0, std::uint32_t{});
    last = load(size - sizeof(std::uint32_t), std::uint32_t{});
  } else if (size > 0) {
    first = load(0, std::uint8_t{}) | load(size / 2, std::uint8_t{}) << 8U;
    last = load(size - 1, std::uint8_t{});
  }
}

std::size_t WordTable::Ends::hash() const {
  constexpr std::uint64_t kFactor = 0x9E3779B97F4A7C15U;
  std::uint64_t hash = (first ^ size * kFactor) * kFactor;
  hash = (hash ^ hash >> 29U ^ last) * kFactor;
  return hash ^ hash >> 32U;
}

const Word& WordTable::word(std::string_view text, const WordShape& shape) {
  const Ends ends(text);
  const std::size_t mask = slots_.size() - 1;
  for (std::size_t at = ends.hash() & mask;; at = (at + 1) & mask) {
    Slot& slot = slots_[at];
    if (slot.word == nullptr) {
      const Word& added = add(text, shape);
      slot = {&added, ends};
      if (2 * words_.size() > slots_.size()) grow();
      return added;
    }
    const bool is_all = text.size() <= 2 * sizeof(std::uint64_t);
    if (slot.ends == ends && (is_all || slot.word->text == text)) return *slot.word;
  }
}

void WordTable::grow() {
  std::vector<Slot> wider(2 * slots_.size());
  for (const Slot& slot : slots_) {
    if (slot.word == nullptr) continue;
    std::size_t at = slot.ends.hash() & (wider.size() - 1);
    while (wider[at].word != nullptr) at = (at + 1) & (wider.size() - 1);
    wider[at] = slot;
  }
  slots_ = std::move(wider);
}

Word word_of(std::string_view text, const WordShape& shape) {
  Word word;
  word.text = text;
  word.kind = shape.kind;
  word.starts = kStartsAny;
  if (shape.kind == TokenKind::kMark) {
    if (text == "'" || text == "\"" || text == "\xE2\x80\x98" || text == "\xE2\x80\x99" ||
        text == "\xE2\x80\x9C") {
      word.starts |= kStartsQuote;
    }
    if (text == "(" || text == "[") word.starts |= kStartsBracket;
    word.ends_sentence = text == "." || text == "?" || text == "!";
    return word;
  }
  const CharClass first = class_of(text[0]);
  word.capital = first == CharClass::kCapital;
  word.all_capitals = shape.all_capitals;
  if (shape.kind == TokenKind::kNumber) word.starts |= kStartsNumber;
  if (shape.kind == TokenKind::kMixed) {
    word.starts |= kStartsMixed;
    // "14th", "14Jun43": a digit first may begin what a number begins.
    if (first == CharClass::kDigit) word.starts |= kStartsNumber;
  }
  if (word.capital) word.starts |= kStartsCapital;
  return word;
}

Word& WordTable::add(std::string_view text, const WordShape& shape) {
  const auto keep = [&](std::string_view kept) {
    char* copy = static_cast<char*>(texts_.allocate(kept.size(), 1));
    std::memcpy(copy, kept.data(), kept.size());
    return std::string_view(copy, kept.size());
  };
  Word& word = words_.emplace_back(word_of(text, shape));
  word.number = static_cast<std::uint32_t>(words_.size() - 1);
  word.text = keep(text);
  const FoldedWord folded(text);
  word.folded = folded.view() == text ? word.text : keep(folded.view());
  word.values = grammars_.values_of_word(word.folded);
  word.office = shape.kind == TokenKind::kMark ? word.text : word.value_in(small_words_);
  if (shape.letters) word.starts |= grammars_.starts_of_word(word.folded);
  word.kinds = grammars_.kinds_begun_by(word.starts);
  if (shape.kind == TokenKind::kMark) return word;
  if (phrases_ != nullptr) {
    word.in_phrases = phrases_->numbers_of(word.folded);
    word.begins_phrase = phrases_->begins_any(word.in_phrases);
  }
  return word;
}

}  // namespace tailproof
