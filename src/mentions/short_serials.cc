// Serials that only what is named elsewhere in the block makes plain: "Wave still on 304 and 311"
// after Sparlings 43-304 and 43-311, "the number 9105 underneath" beside 39-105.
#include <algorithm>

#include "grammars/fold.h"
#include "mentions/finder.h"

namespace tailproof {
namespace {

bool is_serial_role(std::string_view role) {
  return role.empty() || role == "previous_serial" || role == "later_serial";
}

}  // namespace

// Neither part of another number nor of another thing's name: what follows says something of it.
bool BlockFinder::stands_free(std::uint32_t token) const {
  const auto& tokens = result_.tokens;
  const WordList* function_words = lexicon_.grammars().list("function_word");
  const auto joins = [](std::string_view mark) {
    return mark == "/" || mark == "-" || mark == "+" || mark == ":" || mark == "%";
  };
  if (token > 0 && tokens[token - 1].end == tokens[token].begin && joins(word(token - 1)))
    return false;
  if (token + 1 >= tokens.size()) return true;
  const Token& next = tokens[token + 1];
  if (next.kind == TokenKind::kMark) {
    const bool is_decimal = token + 2 < tokens.size() && next.begin == tokens[token].end &&
                            tokens[token + 2].begin == next.end &&
                            tokens[token + 2].kind == TokenKind::kNumber;
    return !is_decimal && (next.begin > tokens[token].end || !joins(word(token + 1)));
  }
  if (next.kind != TokenKind::kWord) return false;
  if (function_words != nullptr && !value_in(function_words, token + 1).empty()) return true;
  // "601 burnt out, 603 ditched".
  const Spelling w = folded(token + 1);
  return !next.capital &&
         (w.ends_with("ed") || is_in("end_verb", token + 1) || is_in("story_verb", token + 1) ||
          is_in("told_verb", token + 1) || is_in("pick_verb", token + 1));
}

// The one serial named in the block that ends in these digits; "" when none or several do.
std::string BlockFinder::named_serial_ending(std::string_view digits) const {
  std::string found;
  for (const Mention& mention : result_.items) {
    if (mention.kind != MentionKind::kAirframe || !is_serial_role(mention.role)) continue;
    const Spelling serial = mention.detail.empty() ? mention.value : mention.detail;
    if (serial.size() <= digits.size() || !serial.ends_with(digits)) continue;
    const Spelling machine = mention.value;
    if (!found.empty() && found != machine) return {};
    found = machine;
  }
  return found;
}

bool BlockFinder::sentence_tells_of_tail(std::uint32_t token) const {
  const WordList* words = lexicon_.grammars().list("tail_word");
  if (words == nullptr) return false;
  const auto& tokens = result_.tokens;
  std::uint32_t first = token;
  while (first > 0 && !tokens[first].sentence_start) --first;
  for (std::uint32_t t = first; t < tokens.size() && (t == first || !tokens[t].sentence_start);
       ++t) {
    if (!value_in(words, t).empty()) return true;
  }
  return false;
}

void BlockFinder::find_short_serials() {
  constexpr std::size_t kFewestDigits = 3, kFewestBehindMark = 2, kLongTail = 5;
  const auto& tokens = result_.tokens;
  for (std::uint32_t t = 0; t < tokens.size(); ++t) {
    if (tokens[t].kind != TokenKind::kNumber) continue;
    const std::uint32_t begin = tokens[t].begin, end = tokens[t].end;
    const std::size_t digits = end - begin;
    if (digits < kFewestBehindMark || is_named_otherwise(t)) continue;
    if (!stands_free(t) || governed_by_other_noun(t)) continue;
    for (const auto& match : forms_.match_at(text_, tokens, t)) {
      if (!match.tail_only || match.end != end) continue;
      const bool is_named =
          named_serial_ending(std::string_view(match.serial).substr(1)) == match.serial;
      const bool is_known = lexicon_.ledger().airframe(match.serial) != nullptr;
      const bool is_told = digits >= kLongTail && is_known && sentence_tells_of_tail(t);
      if (!is_named && !is_told) continue;
      Mention& mention = add(MentionKind::kAirframe, begin, end);
      mention.value = memory_.keep(match.serial);
      mention.role = "tail";
      mention.known = is_known;
      mention.why = is_named ? "tail form of a serial named here" : "tail form";
      break;
    }
    if (is_named_otherwise(t)) continue;
    const bool is_behind_mark =
        t > 0 && tokens[t - 1].end == begin &&
        (word(t - 1) == "'" || word(t - 1) == "\xE2\x80\x99" || word(t - 1) == "\xE2\x80\x98");
    if (digits < (is_behind_mark ? kFewestBehindMark : kFewestDigits)) continue;
    const std::string serial = named_serial_ending(word(t));
    if (serial.empty()) continue;
    Mention& mention = add(MentionKind::kAirframe, begin, end);
    mention.value = memory_.keep(serial);
    mention.known = lexicon_.ledger().airframe(serial) != nullptr;
    mention.list = next_list_++;
    mention.why = memory_.tell("last figures of ", serial);
  }
}

bool BlockFinder::is_named_otherwise(std::uint32_t token) const {
  constexpr auto kCue = static_cast<std::uint16_t>(1U << static_cast<unsigned>(MentionKind::kCue));
  return (occupied_[token] & static_cast<std::uint16_t>(~kCue)) != 0;
}

}  // namespace tailproof
