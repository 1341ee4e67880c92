#include "grammars/sieve_parser.h"

#include <algorithm>
#include <utility>

#include "source/ascii.h"

namespace tailproof {
namespace {

constexpr unsigned kMostCopies = 12;  // of what a count repeats; past it, any number

unsigned char folded(unsigned char c) {
  return c >= 'A' && c <= 'Z' ? static_cast<unsigned char>(c - 'A' + 'a') : c;
}

}  // namespace

std::uint32_t SieveParser::read() {
  const Piece whole = alternatives();
  if (failed_ || at_ < source_.size()) return kNoPlace;
  const std::uint32_t end = add_place();
  sieve_.places_[end].ends = number_;
  link(whole.end, end);
  return whole.begin;
}

std::uint32_t SieveParser::add_place() {
  if (sieve_.places_.size() >= PatternSieve::kMostPlaces) failed_ = true;
  sieve_.places_.emplace_back();
  return static_cast<std::uint32_t>(sieve_.places_.size() - 1);
}

void SieveParser::link(std::uint32_t from, std::uint32_t to) {
  sieve_.places_[from].next.push_back(to);
}

SieveParser::Piece SieveParser::take(const Symbols& symbols, bool repeats_wide) {
  const std::uint32_t place = add_place();
  sieve_.places_[place].takes = symbols;
  sieve_.places_[place].repeats_wide = repeats_wide && symbols[PatternSieve::kWide];
  return {place, place};
}

SieveParser::Piece SieveParser::nothing() {
  const std::uint32_t place = add_place();
  return {place, place};
}

SieveParser::Piece SieveParser::fail() {
  failed_ = true;
  return {0, 0};
}

SieveParser::Piece SieveParser::alternatives() {
  Piece first = sequence();
  if (is_at_end() || peek() != '|') return first;
  const Piece all{add_place(), add_place()};
  link(all.begin, first.begin);
  link(first.end, all.end);
  while (!is_at_end() && peek() == '|') {
    ++at_;
    const Piece other = sequence();
    if (failed_) return other;
    link(all.begin, other.begin);
    link(other.end, all.end);
  }
  return all;
}

SieveParser::Piece SieveParser::sequence() {
  Piece all;
  while (!is_at_end() && peek() != '|' && peek() != ')') {
    const Piece next = repeated();
    if (failed_) return next;
    if (next.is_empty()) continue;
    if (all.is_empty()) {
      all = next;
    } else {
      link(all.end, next.begin);
      all.end = next.end;
    }
  }
  return all.is_empty() ? nothing() : all;
}

SieveParser::Piece SieveParser::repeated() {
  const std::size_t begin = at_;
  Piece piece = atom();
  while (!is_at_end()) {
    const char mark = peek();
    unsigned least = mark == '+' ? 1 : 0, most = 1;
    bool unlimited = mark != '?';
    const std::size_t end = at_;
    if (mark == '?' || mark == '*' || mark == '+') {
      ++at_;
    } else if (mark != '{' || !read_count(least, most, unlimited)) {
      break;
    }
    if (!is_at_end() && peek() == '?') ++at_;  // as few as may be: the same texts
    const std::size_t after = at_;
    if (piece.is_empty()) piece = nothing();
    piece = copies(piece, source_.substr(begin, end - begin), least, most, unlimited);
    at_ = after;
    // A count of a count is taken as any number of it.
    if (!is_at_end() && (peek() == '*' || peek() == '+' || peek() == '?')) return fail();
  }
  return piece;
}

// `first` that often, each further copy read anew from its source.
SieveParser::Piece SieveParser::copies(Piece first, std::string_view source, unsigned least,
                                       unsigned most, bool unlimited) {
  if (most > kMostCopies || least > kMostCopies) {
    unlimited = true;
    least = std::min(least, kMostCopies);
  }
  bool is_used = false;
  const auto one = [&]() -> Piece {
    if (!std::exchange(is_used, true)) return first;
    SieveParser inner(sieve_, source, number_);
    const Piece piece = inner.alternatives();
    failed_ = failed_ || inner.failed_ || inner.at_ < inner.source_.size();
    return piece;
  };
  if (unlimited && least == 0) {
    const std::uint32_t hub = add_place();
    link(hub, first.begin);
    link(first.end, hub);
    return {hub, hub};
  }
  Piece all = least > 0 ? one() : nothing();
  Piece last = all;
  for (unsigned i = 1; i < least && !failed_; ++i) {
    last = one();
    link(all.end, last.begin);
    all.end = last.end;
  }
  if (unlimited) {
    link(last.end, last.begin);
    return all;
  }
  if (most <= least) return all;
  const std::uint32_t out = add_place();
  for (unsigned i = least; i < most && !failed_; ++i) {
    link(all.end, out);
    const Piece piece = one();
    link(all.end, piece.begin);
    all.end = piece.end;
  }
  link(all.end, out);
  all.end = out;
  return all;
}

// "{2}", "{2,}", "{2,4}"; anything else in braces is text, and RE2 takes it as such too.
bool SieveParser::read_count(unsigned& least, unsigned& most, bool& unlimited) {
  std::size_t at = at_ + 1;
  const auto number = [&](unsigned& value) {
    const std::size_t begin = at;
    value = 0;
    while (at < source_.size() && is_digit(source_[at]) && at < begin + 4) {
      value = value * 10 + static_cast<unsigned>(source_[at++] - '0');
    }
    return at > begin;
  };
  if (!number(least)) return false;
  most = least;
  unlimited = false;
  if (at < source_.size() && source_[at] == ',') {
    ++at;
    unlimited = !number(most);
  }
  if (at >= source_.size() || source_[at] != '}') return false;
  at_ = at + 1;
  return true;
}

SieveParser::Piece SieveParser::atom() {
  const char c = peek();
  switch (c) {
    case '(':
      return group();
    case '[':
      return bracket();
    case '\\':
      return escape();
    case '^':
    case '$':
      ++at_;
      return {};
    case '.': {
      ++at_;
      return take(Symbols().set(), true);
    }
    case '*':
    case '+':
    case '?':
      return fail();
    default:
      ++at_;
      return literal(static_cast<unsigned char>(c));
  }
}

SieveParser::Piece SieveParser::literal(unsigned char byte) {
  Symbols symbols;
  if (byte >= 0x80) {
    // One letter of several bytes. Another case of it may be written in more or fewer bytes, or,
    // of the Kelvin sign and the long s, be a letter of ASCII.
    while (!is_at_end() && (static_cast<unsigned char>(peek()) & 0xC0U) == 0x80) ++at_;
    symbols.set(PatternSieve::kWide);
    symbols.set('k');
    symbols.set('s');
    return take(symbols, true);
  }
  symbols.set(folded(byte));
  // Without case, "k" and "s" have a third form each beyond ASCII.
  const bool wide = folded(byte) == 'k' || folded(byte) == 's';
  if (wide) symbols.set(PatternSieve::kWide);
  return take(symbols, wide);
}

SieveParser::Piece SieveParser::group() {
  ++at_;
  if (!is_at_end() && peek() == '?') {
    ++at_;
    if (source_.substr(at_, 2) == "P<") {
      const std::size_t close = source_.find('>', at_);
      if (close == std::string_view::npos) return fail();
      at_ = close + 1;
    } else {
      while (!is_at_end() && std::string_view("imsU-").find(peek()) != std::string_view::npos) {
        ++at_;
      }
      if (is_at_end()) return fail();
      if (peek() == ')') {  // flags for what follows
        ++at_;
        return {};
      }
      if (peek() != ':') return fail();
      ++at_;
    }
  }
  const Piece inside = alternatives();
  if (failed_ || is_at_end() || peek() != ')') return fail();
  ++at_;
  return inside;
}

// The bytes of \d and the like; false for a letter that is no class.
bool SieveParser::escaped_class(char letter, Symbols& symbols, bool& wide) const {
  Symbols found;
  const auto add = [&](char first, char last) {
    const auto end = static_cast<unsigned char>(last);
    for (auto c = static_cast<unsigned char>(first); c <= end; ++c) found.set(folded(c));
  };
  switch (letter) {
    case 'd':
    case 'D':
      add('0', '9');
      break;
    case 's':
    case 'S':
      add('\t', '\r');
      found.set(' ');
      break;
    case 'w':
    case 'W':
      add('0', '9');
      add('a', 'z');
      found.set('_');
      // "k" and "s" again.
      found.set(PatternSieve::kWide);
      break;
    default:
      return false;
  }
  if (letter == 'D' || letter == 'S' || letter == 'W') {
    // What a class leaves out it leaves out in one case only: letters stay in.
    Symbols rest = ~found;
    if (letter != 'W') add('a', 'z');
    rest.set(PatternSieve::kWide);
    symbols |= rest;
    wide = true;
    return true;
  }
  wide = wide || letter == 'w';
  symbols |= found;
  return true;
}

SieveParser::Piece SieveParser::escape() {
  ++at_;
  if (is_at_end()) return fail();
  const char c = source_[at_++];
  if (c == 'b' || c == 'B' || c == 'A' || c == 'z') return {};
  Symbols symbols;
  bool wide = false;
  if (escaped_class(c, symbols, wide)) return take(symbols, wide);
  const bool is_letter_or_digit =
      (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z') || (c >= '0' && c <= '9');
  if (is_letter_or_digit) return fail();
  return literal(static_cast<unsigned char>(c));
}

SieveParser::Piece SieveParser::bracket() {
  ++at_;
  const bool negated = !is_at_end() && peek() == '^';
  if (negated) ++at_;
  Symbols symbols;
  bool wide = false;
  bool first = true;
  while (!is_at_end() && (first || peek() != ']')) {
    first = false;
    auto low = static_cast<unsigned char>(source_[at_++]);
    if (low == '[' && !is_at_end() && peek() == ':') return fail();
    if (low == '\\') {
      if (is_at_end()) return fail();
      const char c = source_[at_++];
      if (escaped_class(c, symbols, wide)) continue;
      if ((c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z') || is_digit(c)) return fail();
      low = static_cast<unsigned char>(c);
    }
    auto high = low;
    if (at_ + 1 < source_.size() && peek() == '-' && source_[at_ + 1] != ']') {
      ++at_;
      if (peek() == '\\') return fail();
      high = static_cast<unsigned char>(source_[at_++]);
    }
    if (high >= 0x80 || low >= 0x80) wide = true;
    for (unsigned c = low; c <= high && c < 0x80; ++c) {
      const unsigned char symbol = folded(static_cast<unsigned char>(c));
      symbols.set(symbol);
      wide = wide || symbol == 'k' || symbol == 's';
    }
  }
  if (is_at_end()) return fail();
  ++at_;
  if (negated) {
    symbols = ~symbols;
    // "[^A-Z]" leaves out one case only, and may let the other in.
    for (unsigned c = 'a'; c <= 'z'; ++c) symbols.set(c);
    wide = true;
  }
  if (wide) {
    symbols.set(PatternSieve::kWide);
    symbols.set('k');
    symbols.set('s');
  }
  return take(symbols, wide);
}

}  // namespace tailproof
