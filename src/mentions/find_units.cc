// Units by number, ordinal or list, by the patterns of grammars.
#include <algorithm>
#include <charconv>

#include "grammars/fold.h"
#include "mentions/finder.h"

namespace tailproof {
namespace {

int to_number(std::string_view text) {
  int value = 0;
  std::from_chars(text.data(), text.data() + text.size(), value);
  return value;
}

}  // namespace

void BlockFinder::find_units() {
  // Lists first and apart: "of 62 and 61 Sqns" must not end at "of 62".
  for (const PatternMatch& match : matches("unit_list")) {
    add_unit_list(match);
  }
  for (const PatternMatch& match : matches("unit")) {
    add_unit(match);
  }
}

// "Flown by the 1st Patrol until June, and by the 12th afterwards": of two that did the same.
bool BlockFinder::is_second_by(std::uint32_t article) const {
  if (article < 2 || folded(article - 1) != "by" || office(article - 2) != "and") return false;
  return std::any_of(result_.items.begin(), result_.items.end(), [&](const Mention& other) {
    if (other.kind != MentionKind::kUnit || other.last > article || other.first == 0) return false;
    for (std::uint32_t t = other.first; t < article; ++t) {
      if (result_.tokens[t + 1].sentence_start || word(t) == ";") return false;
    }
    const std::uint32_t by = other.first - 1;
    return folded(by) == "by" || (by > 0 && office(by) == "the" && folded(by - 1) == "by");
  });
}

void BlockFinder::drop_date_at(std::uint32_t token) {
  std::erase_if(result_.items, [&](const Mention& date) {
    return date.kind == MentionKind::kDate && date.first <= token && token < date.last;
  });
}

bool BlockFinder::is_code_borne_here(std::string_view number) const {
  const auto rows = lexicon_.ledger().bearers_of(number);
  return std::any_of(rows.begin(), rows.end(), [&](const Identity* row) {
    return row->kind == "code" &&
           std::any_of(result_.items.begin(), result_.items.end(), [&](const Mention& other) {
             return other.kind == MentionKind::kAirframe && other.role.empty() &&
                    other.value == row->serial;
           });
  });
}

// "The 12th followed the others": a verb in the past, with its object right behind it.
bool BlockFinder::is_verb_with_object(std::uint32_t token) const {
  const auto& tokens = result_.tokens;
  return !tokens[token].capital && folded(token).ends_with("ed") && token + 1 < tokens.size() &&
         is_in("determiner", token + 1);
}

// "161 left", "when 161 left": at the head of a clause. Of two figures only where the unit has been
// named before ("of the fourteen, 12 returned").
bool BlockFinder::is_unit_that_opens(std::uint32_t number, std::string_view key) const {
  constexpr std::uint32_t kShort = 2;
  const Token& token = result_.tokens[number];
  // "At the end of 1940 162 was at Thirl".
  const std::uint32_t before = number > 1 && word(number - 1) == "," ? number - 2 : number - 1;
  const bool is_behind_date =
      number > 0 &&
      covered(MentionKind::kDate, result_.tokens[before].begin, result_.tokens[before].end);
  const bool opens = number == 0 || token.sentence_start || is_behind_date ||
                     is_in("clause_joint", number - 1) ||
                     (result_.tokens[number - 1].kind == TokenKind::kMark &&
                      word(number - 1) != "-" && word(number - 1) != "/");
  // "160 and 161 flew", "of 200, 161 returned".
  const bool is_listed = number > 1 && !is_behind_date &&
                         (word(number - 1) == "," || office(number - 1) == "and") &&
                         result_.tokens[number - 2].kind == TokenKind::kNumber;
  if (!opens || is_listed) return false;
  if (token.end - token.begin > kShort) return true;
  return std::any_of(result_.items.begin(), result_.items.end(), [&](const Mention& other) {
    return other.kind == MentionKind::kUnit && other.value == key && other.last <= number;
  });
}

// "Number 78 of the fourth squadron, at the Point": a name without capitals. "The fourth squadron
// to fly them", "a flight of the second squadron that came" counts; a flight may be one in the air.
void BlockFinder::add_small_name(const PatternMatch& match) {
  if (match.value_of("bare", text_) != "ordinal word") return;
  const std::uint32_t t = match.first, noun = token_at(match.end);
  if (t < 2 || noun >= result_.tokens.size() || !is_in("small_name_lead", t - 1)) return;
  // A person "of the fourth squadron" may be of another's fourth.
  const TokenKind kind = result_.tokens[t - 2].kind;
  if (kind != TokenKind::kNumber && kind != TokenKind::kMixed) return;
  if (!is_in("small_name_noun", noun)) return;
  const bool ends =
      noun + 1 >= result_.tokens.size() || result_.tokens[noun + 1].kind == TokenKind::kMark;
  const auto keys =
      lexicon_.units_numbered(to_number(match.value_of("number", text_)), folded(noun));
  if (!ends || keys.size() != 1) return;
  Mention& mention = add(MentionKind::kUnit, result_.tokens[t + 1].begin, result_.tokens[noun].end);
  mention.why = match.pattern->why;
  mention.value = memory_.keep(keys.front());
}

// "1,912 flights": behind the comma of thousands no number begins.
bool BlockFinder::is_behind_thousands(std::uint32_t offset) const {
  return offset > 1 && text_[offset - 1] == ',' && text_[offset - 2] >= '0' &&
         text_[offset - 2] <= '9';
}

void BlockFinder::add_unit(const PatternMatch& match) {
  if (is_behind_thousands(match.begin)) return;
  const int number = to_number(match.value_of("number", text_));
  const Spelling kind = match.value_of("unit_word", text_);
  const Spelling bare = match.value_of("bare", text_);
  const auto keys = lexicon_.units_numbered(number, kind);
  if (keys.empty() && (!bare.empty() || lexicon_.ledger().units().empty() == false)) {
    // A unit that the ledger does not have is still a unit, if number and kind are there.
    if (!bare.empty() || kind.empty()) return;
  }
  std::uint32_t begin = match.begin, end = match.end;
  // "With 161 Squadron": the preposition is none of its name.
  if (!match.value_of("led", text_).empty())
    begin = static_cast<std::uint32_t>(match.text_of("number", text_).data() - text_.data());
  // "161 left Thornavon": the verb is context too.
  if (bare == "number verb") {
    const std::string_view digits = match.text_of("number", text_);
    end = begin + static_cast<std::uint32_t>(digits.size());
    if (keys.size() != 1 || !is_unit_that_opens(token_at(begin), keys.front())) return;
  }
  // "Third Flight" is a name, "the third flight" a count.
  const std::string_view as_written = match.text_of("number", text_);
  const bool in_words = !as_written.empty() && (as_written[0] < '0' || as_written[0] > '9');
  if (in_words && !(as_written[0] >= 'A' && as_written[0] <= 'Z')) return add_small_name(match);
  // "Three squadrons shared one cookhouse."
  const std::string_view noun = match.text_of("unit_word", text_);
  const bool is_plural = noun.size() > kind.size() && noun.ends_with('s');
  if (in_words && is_plural && is_in("number", match.first)) return;
  // "Flown by 12 flights": so many of them.
  if (keys.empty() && is_plural) return;
  // "One flight of 12 Company" at the head of a sentence: a count as well.
  const bool is_only_capital = in_words && keys.empty() && !noun.empty() && noun[0] >= 'a' &&
                               noun[0] <= 'z' && result_.tokens[match.first].sentence_start;
  if (is_only_capital) return;
  if (!bare.empty()) {
    // The words around the number are context, not part of the name.
    const std::string_view digits = match.text_of("number", text_);
    begin = static_cast<std::uint32_t>(digits.data() - text_.data());
    if (covered(MentionKind::kDate, begin, end)) {
      if (bare != "ordinal" || !is_second_by(match.first)) return;
      drop_date_at(token_at(begin));
    }
    const std::uint32_t after = token_at(end), first = match.first;
    if (after < result_.tokens.size() && is_in("numbered_place", after)) return;
    // "The last of 12 Norbard Mk Is": a count.
    const bool is_count =
        bare == "number" &&
        std::any_of(result_.items.begin(), result_.items.end(), [&](const Mention& other) {
          return other.kind == MentionKind::kType && other.begin == match.end + 1;
        });
    const bool is_named =
        as_written.size() + 1 < match.end - match.begin && text_.substr(match.begin, 2) == "No";
    if (is_count && !is_named) return;
    // "hangar No. 7", "the hut on the left is No. 6"
    if (first > 0 && is_in("numbered_place", first - 1)) return;
    if (bare == "number" && match.begin != begin && is_told_of_other_noun(first)) return;
    if (bare == "number" && !is_named && is_size_in_row(token_at(begin))) return;
    // "X12 and X14 of the 1st, 18 and 12": a code of a machine that the block names.
    if (bare == "number" && !is_named && is_code_borne_here(digits)) return;
    // "and 24 civilians", "with 24 Norric villagers": a count.
    const auto is_counted = [this](std::uint32_t token) {
      return token < result_.tokens.size() && !result_.tokens[token].capital &&
             (is_in("date_counted", token) || is_in("person_noun", token));
    };
    const bool is_owner = match.end > begin + as_written.size();  // "161's aircraft"
    if (bare == "number" && !is_named && !is_owner &&
        (is_counted(after) || (after < result_.tokens.size() && result_.tokens[after].capital &&
                               !result_.tokens[after].sentence_start && is_counted(after + 1))))
      return;
    // "Had 165 hours", but "had 165 until May".
    if (bare == "number had" && after < result_.tokens.size() &&
        result_.tokens[after].kind != TokenKind::kMark && !is_in("function_word", after) &&
        !covered(MentionKind::kDate, result_.tokens[after].begin, result_.tokens[after].end))
      return;
    if (bare == "ordinal word" || bare == "ordinal") {
      // "the third machine", "the 13th aircraft": a noun follows, so it is no unit's name.
      // "The First's Lanners", and not "the first's wings".
      const std::string_view ending = text_.substr(end);
      const bool is_owner_of_type =
          (ending.starts_with("'s ") || ending.starts_with("\xE2\x80\x99s ")) &&
          after < result_.tokens.size() &&
          covered(MentionKind::kType, result_.tokens[after].begin, result_.tokens[after].end);
      if (!is_owner_of_type && after < result_.tokens.size() &&
          result_.tokens[after].kind == TokenKind::kWord) {
        const WordList* function_words = lexicon_.grammars().list("function_word");
        const bool function = function_words != nullptr && !value_in(function_words, after).empty();
        if (office(after) == "of" || (!function && !is_verb_with_object(after))) return;
      }
    }
    if (bare == "number" && !is_owner && after < result_.tokens.size() &&
        (result_.tokens[after].kind == TokenKind::kNumber ||
         result_.tokens[after].kind == TokenKind::kMixed)) {
      return;
    }
  }
  Mention& mention = add(MentionKind::kUnit, begin, end);
  mention.why = match.pattern->why;
  mention.detail = memory_.keep(bare);
  if (keys.empty()) {
    mention.value =
        memory_.keep(std::to_string(number) + " " + std::string(match.text_of("unit_word", text_)));
    mention.known = false;
    return;
  }
  mention.value = memory_.keep(keys.front());
  if (keys.size() > 1) mention.readings = keys;
}

void BlockFinder::add_unit_list(const PatternMatch& match) {
  const Spelling kind = match.value_of("unit_word", text_);
  const std::string_view list = match.text_of("list", text_);
  const std::uint32_t number = next_list_++;
  // "In November 1945 and No. 3 Squadron": the year is no unit.
  const bool opens_with_year = covered(MentionKind::kDate, match.begin, match.begin + 1);
  std::uint32_t begin = match.begin;
  for (std::size_t i = 0; i < list.size();) {
    if (list[i] < '0' || list[i] > '9') {
      ++i;
      continue;
    }
    if (i > 0 && opens_with_year && begin == match.begin) {
      begin +=
          static_cast<std::uint32_t>(list.data() - text_.data() + static_cast<std::ptrdiff_t>(i)) -
          match.begin;
    }
    std::size_t end = i;
    while (end < list.size() && list[end] >= '0' && list[end] <= '9') ++end;
    const int value = to_number(list.substr(i, end - i));
    const auto keys = lexicon_.units_numbered(value, kind);
    if ((keys.empty() && kind.empty()) || (opens_with_year && begin == match.begin)) {
      i = end;
      continue;
    }
    Mention& mention = add(MentionKind::kUnit, begin, match.end);
    mention.list = opens_with_year ? 0 : number;
    mention.known = !keys.empty();
    mention.value =
        memory_.keep(keys.empty() ? std::to_string(value) + " " + std::string(kind) : keys.front());
    if (keys.size() > 1) mention.readings = keys;
    mention.why = match.pattern->why;
    i = end;
  }
}

// "A disc of 30, 18 and 6 in", "a board of 40 by 10 inches": the unit of measure ends the row.
bool BlockFinder::is_size_in_row(std::uint32_t number) const {
  const auto& tokens = result_.tokens;
  const auto is_number = [&](std::uint32_t t) {
    return t < tokens.size() && (tokens[t].kind == TokenKind::kNumber || is_of_number(t)) &&
           word(t) != ".";
  };
  std::uint32_t t = number + 1;
  std::uint32_t joints = 0;
  while (t + 1 < tokens.size() && !is_in("measure_unit", t)) {
    const bool is_joint = word(t) == "," || office(t) == "and" || is_in("size_by", t) ||
                          office(t) == "or" || word(t) == ".";
    if (!is_joint && !is_number(t)) return false;
    joints += is_joint ? 1 : 0;
    ++t;
  }
  if (joints == 0 || !is_number(t - 1) || !is_in("measure_unit", t)) return false;
  // "Of 11, 12 and 14 in June": no inches.
  const bool is_preposition = office(t) == "in" && t + 1 < tokens.size() &&
                              tokens[t + 1].kind != TokenKind::kMark &&
                              !is_in("measure_way", t + 1);
  return !is_preposition;
}

// "The drum in front is marked W 364", "the crate behind it bears the number 84": the subject of
// the sentence is something else than an aircraft or a part of one.
bool BlockFinder::is_told_of_other_noun(std::uint32_t token) const {
  constexpr std::uint32_t kReach = 7;
  if (token > 0 && word(token - 1) == ",") --token;  // "the lorry, number 84,"
  for (std::uint32_t t = token; t > 0 && token - t < kReach;) {
    --t;
    if (result_.tokens[t].kind == TokenKind::kMark) return false;
    if (is_in("machine_noun", t) || is_in("code_place", t)) return false;
    const bool is_named =
        std::any_of(result_.items.begin(), result_.items.end(), [&](const Mention& other) {
          return other.first <= t && t < other.last &&
                 (other.kind == MentionKind::kAirframe || other.kind == MentionKind::kType ||
                  other.role == "cue_position");
        });
    if (is_named) return false;
    // "The lorry is marked W 364", or "Trolley numbered 214" in so few words.
    const bool opens = result_.tokens[t].sentence_start;
    if (!is_in("not_a_serial", t) || (!opens && (t == 0 || !is_in("determiner", t - 1)))) continue;
    if (opens) return true;
    const bool is_object = t > 1 && result_.tokens[t - 2].kind != TokenKind::kMark &&
                           is_in("object_preposition", t - 2);
    if (!is_object) return true;
  }
  return false;
}

}  // namespace tailproof
