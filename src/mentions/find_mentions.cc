#include "mentions/find_mentions.h"

#include <algorithm>
#include <charconv>

#include "grammars/fold.h"
#include "mentions/finder.h"

namespace tailproof {

void BlockFinder::find_words() {
  tokenize(text_, memory_.words, result_.tokens);
  memory_.dead_ends.leave_out(text_, result_.tokens);
  occupied_.assign(result_.tokens.size() + 1, 0);
  if (!memory_.found.empty()) {
    result_.items = std::move(memory_.found.back());
    memory_.found.pop_back();
  }
  result_.items.reserve(result_.tokens.size() / 2 + 8);
  look_at_words();
}

std::uint32_t BlockFinder::token_at(std::uint32_t offset) const {
  const auto it =
      std::lower_bound(result_.tokens.begin(), result_.tokens.end(), offset,
                       [](const Token& token, std::uint32_t value) { return token.begin < value; });
  return static_cast<std::uint32_t>(it - result_.tokens.begin());
}

Mention& BlockFinder::add(MentionKind kind, std::uint32_t begin, std::uint32_t end) {
  return add_tokens(kind, begin, end, token_at(begin), token_at(end));
}

Mention& BlockFinder::add_tokens(MentionKind kind, std::uint32_t begin, std::uint32_t end,
                                 std::uint32_t first, std::uint32_t last) {
  Mention& mention = result_.items.emplace_back();
  mention.kind = kind;
  mention.begin = begin;
  mention.end = end;
  mention.first = first;
  mention.last = last;
  for (std::uint32_t t = first; t < last; ++t) {
    occupied_[t] |= static_cast<std::uint16_t>(1U << static_cast<unsigned>(kind));
  }
  return mention;
}

bool BlockFinder::covered(MentionKind kind, std::uint32_t begin, std::uint32_t end) const {
  const auto bit = static_cast<std::uint16_t>(1U << static_cast<unsigned>(kind));
  for (std::uint32_t t = token_at(begin);
       t < result_.tokens.size() && result_.tokens[t].begin < end; ++t) {
    if ((occupied_[t] & bit) != 0) return true;
  }
  return false;
}

namespace {

bool joins_words(char c) { return c == '.' || c == ' ' || c == '-' || c == ':'; }

// Whether the letters of both are the same, but for an "s" or "'s" that may follow.
bool is_same_but_ending(std::string_view found, std::string_view wanted) {
  std::size_t at = 0;
  const auto pass_marks = [&] {
    while (at < found.size() && joins_words(found[at])) ++at;
  };
  for (const char c : wanted) {
    if (joins_words(c)) continue;
    pass_marks();
    if (at == found.size() || found[at] != c) return false;
    ++at;
  }
  pass_marks();
  const std::string_view rest = found.substr(at);
  return rest.empty() || rest == "s" || rest == "'s" || rest == "\xE2\x80\x99s";
}

}  // namespace

bool BlockFinder::casing_fits(const LexiconEntry& entry, const PhraseIndex::Hit& hit) const {
  if (entry.casing == Casing::kAny || all_capitals_) return true;
  if (entry.casing == Casing::kCapital) {
    for (std::uint32_t t = hit.first; t < hit.last; ++t) {
      const Token& token = result_.tokens[t];
      if (token.kind == TokenKind::kMark) continue;
      if (token.capital || token.kind != TokenKind::kWord) return true;
    }
    return false;
  }
  // Exactly as the table writes it, full points and blanks aside.
  const std::string_view found =
      text_.substr(result_.tokens[hit.first].begin,
                   result_.tokens[hit.last - 1].end - result_.tokens[hit.first].begin);
  if (is_same_but_ending(found, entry.phrase)) return true;
  // "LT L TANSLEY": on an aircraft's side.
  const bool in_capitals =
      hit.last < result_.tokens.size() && result_.tokens[hit.last - 1].all_capitals &&
      hit.last + 1 < result_.tokens.size() &&
      (result_.tokens[hit.last].all_capitals || result_.tokens[hit.last + 1].all_capitals);
  return entry.kind == MentionKind::kRank && in_capitals &&
         fold(letters_of(found)) == fold(letters_of(entry.phrase));
}

void BlockFinder::find_phrases() {
  std::vector<PhraseIndex::Hit> hits;
  for (std::uint32_t t = 0; t < result_.tokens.size(); ++t) {
    if (!result_.tokens[t].word->begins_phrase) continue;
    lexicon_.phrases().hits_at(text_, result_.tokens, t, hits);
    for (const auto& hit : hits) add_hit(hit);
  }
}

// Whether the first word of a name of several is written small, and another is not.
bool BlockFinder::is_part_of_area(const PhraseIndex::Hit& hit) const {
  const auto& tokens = result_.tokens;
  return hit.last - hit.first > 1 && tokens[hit.first].kind == TokenKind::kWord &&
         !tokens[hit.first].capital && tokens[hit.last - 1].capital && office(hit.first) != "the" &&
         !all_capitals_;
}

// "G.O. 17/43 did the one, 18/43 the other": an order has been named, and the figures can be no
// month and year.
bool BlockFinder::is_order_by_number(const PhraseIndex::Hit& hit) const {
  constexpr std::size_t kMonths = 12;
  const auto& tokens = result_.tokens;
  const auto is_glued = [&](std::uint32_t left) {
    return tokens[left].end == tokens[left + 1].begin &&
           (tokens[left].kind != TokenKind::kMark || word(left) == "/" || word(left) == "-") &&
           (tokens[left + 1].kind != TokenKind::kMark || word(left + 1) == "/" ||
            word(left + 1) == "-");
  };
  if (hit.first > 0 && is_glued(hit.first - 1)) return false;
  if (hit.last < tokens.size() && is_glued(hit.last - 1)) return false;
  const Mention* before = nullptr;
  for (const Mention& other : result_.items) {
    if (other.kind == MentionKind::kOrder && other.last <= hit.first) before = &other;
  }
  if (before == nullptr) return false;
  std::size_t number = 0;
  for (const char digit : std::string_view(word(hit.first))) {
    if (digit < '0' || digit > '9') return false;
    number = number * 10 + static_cast<std::size_t>(digit - '0');
  }
  // "Orders 17/43 and 2/44".
  const bool is_listed =
      hit.first == before->last + 1 && (word(before->last) == "," || office(before->last) == "and");
  return number > kMonths || is_listed;
}

// What the ledger names so, but the words around it tell otherwise.
bool BlockFinder::is_no_name(const LexiconEntry& entry, const PhraseIndex::Hit& hit) const {
  if (hit.plural && (entry.kind == MentionKind::kPerson || entry.kind == MentionKind::kPlace)) {
    return true;
  }
  if (entry.kind == MentionKind::kRank && entry.casing == Casing::kAny &&
      !result_.tokens[hit.first].capital && !all_capitals_ && entry.phrase.size() < 4) {
    return true;
  }
  // "Formed under Lieutenant Vane", where the ledger has an Under-Lieutenant.
  if (entry.kind == MentionKind::kRank && entry.phrase.find('-') != std::string_view::npos &&
      hit.last - hit.first == 2 && !result_.tokens[hit.first].capital &&
      result_.tokens[hit.first + 1].capital)
    return true;
  // "Drawing E/17", where E/17 is a machine's former number.
  if ((entry.role == "previous_serial" || entry.role == "later_serial") &&
      governed_by_other_noun(hit.first))
    return true;
  // "The upper Noll valley", where the ledger has a place Upper Noll: the country around it.
  if (entry.kind == MentionKind::kPlace && is_part_of_area(hit)) return true;
  // "Its second Banner, the VI": a count, and no Second Banner.
  if (entry.kind == MentionKind::kUnit && hit.first > 0 && !result_.tokens[hit.first].capital &&
      is_in("ordinal", hit.first) && is_in("possessive_word", hit.first - 1))
    return true;
  // "No. 2 hangar": no unit's number.
  if (entry.kind == MentionKind::kUnit && hit.last < result_.tokens.size() &&
      result_.tokens[hit.last - 1].kind == TokenKind::kNumber &&
      is_in("numbered_place", hit.last)) {
    return true;
  }
  // "T/Sgt.": a rank of its own, and not the one behind the stroke.
  if (entry.kind == MentionKind::kRank && hit.first > 0 &&
      result_.tokens[hit.first - 1].end == result_.tokens[hit.first].begin &&
      (word(hit.first - 1) == "/" || word(hit.first - 1) == "-")) {
    return true;
  }
  if (entry.kind == MentionKind::kUnit && !entry.role.empty()) {
    const std::string_view before = hit.first > 0 ? office(hit.first - 1) : "";
    if (entry.role == "ordinal" && before != "the") return true;
    if (entry.role == "one of" && (hit.plural || before != "a")) return true;
  }
  if (entry.role == "number alone" && !is_order_by_number(hit)) return true;
  if (entry.role == "first name" && hit.last < result_.tokens.size() &&
      result_.tokens[hit.last].capital &&
      result_.tokens[hit.last].begin == result_.tokens[hit.last - 1].end + 1) {
    return true;  // somebody else's, with a surname behind it
  }
  return false;
}

// One mention for each kind that the phrase may be; the same kind's other keys become readings.
void BlockFinder::add_hit(const PhraseIndex::Hit& hit) {
  const std::size_t before = result_.items.size();
  for (const std::uint32_t payload : *hit.payloads) {
    const LexiconEntry& entry = lexicon_.entry(payload);
    if (entry.casing != Casing::kAny && !casing_fits(entry, hit)) continue;
    if (entry.tells != 0) {
      result_.tellings.push_back({hit.first, hit.last, entry.tells});
      continue;
    }
    const bool is_cue = entry.kind == MentionKind::kCue;
    if (!is_cue && is_no_name(entry, hit)) continue;
    const bool is_first_name = !is_cue && entry.role == "first name";
    Mention* held = nullptr;
    for (std::size_t i = before; i < result_.items.size(); ++i) {
      Mention& other = result_.items[i];
      if (other.kind != entry.kind || other.cue != entry.cue) continue;
      if (is_cue || is_first_name == (other.role == "first name")) held = &other;
    }
    if (held != nullptr) {
      if (held->value == entry.key && held->detail == entry.detail) continue;
      if (held->readings.empty()) held->readings.emplace_back(held->value);
      const bool known = std::find(held->readings.begin(), held->readings.end(),
                                   std::string_view(entry.key)) != held->readings.end();
      if (!known) held->readings.emplace_back(entry.key);
      if (held->readings.size() == 1) held->readings.clear();
      continue;
    }
    const std::uint16_t occupied = occupied_[hit.first];
    Mention& mention = add_tokens(entry.kind, result_.tokens[hit.first].begin,
                                  result_.tokens[hit.last - 1].end, hit.first, hit.last);
    // A first name gives way to any other name.
    if (is_first_name) occupied_[hit.first] = occupied;
    mention.value = entry.key;
    if (entry.role != "number alone") mention.role = entry.role;
    mention.detail = entry.detail;
    mention.cue = entry.cue;
    mention.plural = hit.plural;
    if (memory_.explain == Explain::kYes)
      mention.why = is_cue ? memory_.tell("word list ", entry.role)
                           : memory_.tell("the ledger's name \"", entry.phrase, "\"");
    if (is_cue) continue;
    if (entry.kind == MentionKind::kType && entry.role.empty()) add_type_mark(mention);
    if (entry.role == "previous_serial" || entry.role == "later_serial")
      name_by_other_serial(mention);
  }
}

// Whether tokens [first, last), or these without the plural "s" of the last, are the mark's words.
bool BlockFinder::says_mark(const MarkForm& form, std::uint32_t first, std::uint32_t last,
                            bool is_plural) const {
  std::size_t at = 0;
  for (std::uint32_t t = first; t < last; ++t) {
    const FinderMemory::MarkWords& known =
        memory_.mark_words_of(*result_.tokens[t].word, lexicon_.grammars());
    for (const std::string& said : is_plural&& t + 1 == last ? known.singular : known.words) {
      if (at == form.words.size() || form.words[at] != said) return false;
      ++at;
    }
  }
  return at == form.words.size();
}

// "Ormers of the first series", "the first series of Ormers", where the mark is "Series 1", or of
// the second mark, where it is "Mk 2".
bool BlockFinder::add_mark_by_ordinal(Mention& mention) const {
  const auto count = static_cast<std::uint32_t>(result_.tokens.size());
  const WordList* ordinals = lexicon_.grammars().list("ordinal");
  const auto says = [&](const MarkForm& form, std::uint32_t ordinal) {
    const std::string_view number = value_in(ordinals, ordinal);
    if (number.empty() || form.words.empty() || form.words.back() != number) return false;
    const Spelling noun = folded(ordinal + 1);
    return form.words.size() == 2 ? form.words.front() == std::string_view(noun)
                                  : form.words.size() == 1 && is_in("mark_word", ordinal + 1);
  };
  for (const MarkForm& form : lexicon_.marks_of(mention.value)) {
    const std::uint32_t at = mention.last;
    if (at + 3 < count && office(at) == "of" && office(at + 1) == "the" && says(form, at + 2)) {
      mention.detail = Spelling(form.mark);
      mention.last = at + 4;
      mention.end = result_.tokens[at + 3].end;
      return true;
    }
    const std::uint32_t first = mention.first;
    if (first > 2 && office(first - 1) == "of" && says(form, first - 3)) {
      mention.detail = Spelling(form.mark);
      return true;
    }
  }
  return false;
}

// "Marlinspike F.2", "Merlet IIs", "Lanner Mk 2", "a Marmot of Series 3": the mark belongs to the
// type before it.
void BlockFinder::add_type_mark(Mention& mention) const {
  if (add_mark_by_ordinal(mention)) return;
  const auto& tokens = result_.tokens;
  std::uint32_t at = mention.last;
  const bool is_of = at + 1 < tokens.size() && office(at) == "of";
  if (is_of) ++at;
  const auto next_to = [&](std::uint32_t t) {
    return t < tokens.size() && tokens[t].begin <= tokens[t - 1].end + 1;
  };
  for (const MarkForm& form : lexicon_.marks_of(mention.value)) {
    for (std::uint32_t length = 1; length <= 5; ++length) {
      const std::uint32_t end = at + length;
      if (end > tokens.size() || !next_to(end - 1)) break;
      // A single letter or digit is a mark only close by: "Sturne B", not "Merlet. B".
      if (tokens[at].kind == TokenKind::kMark) break;
      if (tokens[end - 1].kind == TokenKind::kMark) continue;
      // "Ormers of 3 Squadron", where a mark is 3: a bare number behind "of" is none.
      if (is_of && length == 1) continue;
      if (length == 1 && begins_longer_serial(at)) continue;  // "Tern 1-14"
      const bool may_be_plural =
          tokens[end - 1].end - tokens[at].begin > 1 && word(end - 1).back() == 's';
      const bool is_one = says_mark(form, at, end, false);
      if (!is_one && !(may_be_plural && says_mark(form, at, end, true))) continue;
      mention.plural = mention.plural || !is_one;  // "Arquet IIs"
      mention.detail = Spelling(form.mark);
      mention.last = end;
      mention.end = tokens[end - 1].end;
      return;
    }
  }
  // A mark that no airframe of the ledger has is still a statement: "Mk VII".
  const WordList* mark_word = lexicon_.grammars().list("mark_word");
  if (mark_word == nullptr || at >= tokens.size() || !next_to(at)) return;
  // "Lanner IX QC417": a Roman number between a type and its serial.
  const bool is_roman = roman_value(word(at)) > 0 && tokens[at].capital &&
                        (tokens[at].all_capitals || word(at).size() == 1);
  if (is_roman && at + 1 < tokens.size() && next_to(at + 1) &&
      !forms_.match_at(text_, tokens, at + 1).empty()) {
    mention.detail = word(at);
    mention.last = at + 1;
    mention.end = tokens[at].end;
    return;
  }
  if (value_in(mark_word, at).empty()) return;
  std::uint32_t t = at + 1;
  if (t < tokens.size() && word(t) == ".") ++t;
  if (t >= tokens.size()) return;
  const bool number = tokens[t].kind == TokenKind::kNumber || tokens[t].kind == TokenKind::kMixed ||
                      roman_value(word(t)) > 0;
  if (!number) return;
  mention.detail = memory_.keep(std::string(word(at)) + " " + std::string(word(t)));
  mention.last = t + 1;
  mention.end = tokens[t].end;
}

// "Coursers 2043 and 2047": as a year it would lie far from all that the ledger knows, and the tail
// of a machine of the ledger shows it.
bool BlockFinder::is_tail_and_no_year(std::uint32_t token) const {
  constexpr std::int64_t kFar = 20;
  const auto [first, last] = lexicon_.years();
  if (first == 0 ||
      (token > 0 && is_in("year_preposition", token - 1) && office(token - 1) != "and"))
    return false;
  std::int64_t year = 0;
  const std::string_view digits = word(token);
  const auto read = std::from_chars(digits.data(), digits.data() + digits.size(), year);
  if (read.ec != std::errc{} || (year >= first - kFar && year <= last + kFar)) return false;
  const auto matches = forms_.match_at(text_, result_.tokens, token);
  return std::any_of(matches.begin(), matches.end(), [&](const SerialForms::Match& match) {
    return match.tail_only && match.end == result_.tokens[token].end &&
           lexicon_.ledger().airframe(match.serial) != nullptr;
  });
}

// Whether a number of as many figures as a year has is the end of a serial.
bool BlockFinder::is_number_of_serial(std::uint32_t token) const {
  constexpr std::uint32_t kYearDigits = 4;
  const auto& tokens = result_.tokens;
  const Token& number = tokens[token];
  if (number.kind != TokenKind::kNumber || number.end - number.begin != kYearDigits) return false;
  if (is_tail_and_no_year(token)) return true;
  if (token == 0) return false;
  std::uint32_t head = token - 1;
  if (tokens[head].kind == TokenKind::kMark && head > 0 && tokens[head].end == number.begin) --head;
  // "V/1443, 12 July": of no serial form either, it is no year.
  const bool is_glued = head + 1 < token && tokens[head].end == tokens[head + 1].begin &&
                        (word(head + 1) == "/" || word(head + 1) == "-");
  if (is_glued && tokens[head].kind == TokenKind::kWord && tokens[head].capital) return true;
  if (tokens[head].kind == TokenKind::kMark ||
      (tokens[head].kind == TokenKind::kWord && !tokens[head].capital))
    return false;
  const auto matches = forms_.match_at(text_, tokens, head);
  return std::any_of(matches.begin(), matches.end(), [&](const SerialForms::Match& match) {
    return !match.tail_only && match.end == number.end;
  });
}

void BlockFinder::find_dates_of_block() {
  // No date begins inside the number of an order or photograph: "Circular 19/39 of 20 November".
  std::vector<Token> tokens;
  const auto begins_nothing = [](Token& token) {
    token.starts.reset();
    token.kinds = 0;
  };
  for (const Mention& mention : result_.items) {
    if (mention.kind != MentionKind::kOrder && mention.kind != MentionKind::kPhotograph &&
        mention.kind != MentionKind::kReference && mention.kind != MentionKind::kOrderInTime) {
      continue;
    }
    // "Same day.", of the caption before: a date as well.
    if (mention.kind == MentionKind::kOrderInTime && result_.orders[mention.payload].opens)
      continue;
    if (tokens.empty()) tokens = result_.tokens;
    for (std::uint32_t t = mention.first; t < mention.last; ++t) begins_nothing(tokens[t]);
  }
  // Nor inside a serial: "GD-1024, 24 July 1942".
  for (std::uint32_t t = 0; t < result_.tokens.size(); ++t) {
    if (result_.tokens[t].kind != TokenKind::kNumber || !is_number_of_serial(t)) continue;
    if (tokens.empty()) tokens = result_.tokens;
    begins_nothing(tokens[t]);
  }
  result_.dates = memory_.dates.find(text_, tokens.empty() ? result_.tokens : tokens);
  for (std::size_t i = 0; i < result_.dates.size(); ++i) {
    const DateMention& date = result_.dates[i];
    Mention& mention = add(MentionKind::kDate, date.begin, date.end);
    mention.payload = static_cast<std::uint32_t>(i);
    mention.value = memory_.keep(date.date.text());
    // "A week after it was repainted": "after" opens the clause that tells what is counted from.
    // "The February after" is a month of its own.
    const WordList* leaning = lexicon_.grammars().list("leaning_word");
    const bool may_lean =
        date.first.is_relative() && !date.first.is_named() && !date.ends_its_phrase;
    if (may_lean && leaning != nullptr && mention.last > mention.first + 1 &&
        !value_in(leaning, mention.last - 1).empty()) {
      --mention.last;
      mention.end = result_.tokens[mention.last - 1].end;
    }
    mention.why = date.pattern == nullptr ? std::string_view("date") : date.pattern->why;
  }
}

// "SA 1188" where photographs.csv has SA 1087: a number of the same archive.
void BlockFinder::find_photographs() {
  if ((hints_here_ & kWordOfArchive) == 0) return;
  const auto& tokens = result_.tokens;
  for (std::uint32_t t = 0; t + 1 < tokens.size(); ++t) {
    if ((hints_[t] & kWordOfArchive) == 0) continue;
    for (const std::string& prefix : lexicon_.photograph_prefixes()) {
      const std::uint32_t begin = tokens[t].begin;
      if (text_.substr(begin, prefix.size()) != prefix) continue;
      const std::uint32_t number = token_at(begin + static_cast<std::uint32_t>(prefix.size()));
      if (number >= tokens.size() || tokens[number].begin != begin + prefix.size() ||
          (tokens[number].kind != TokenKind::kNumber && tokens[number].kind != TokenKind::kMixed)) {
        continue;
      }
      if (covered(MentionKind::kPhotograph, begin, tokens[number].end)) break;
      Mention& mention = add(MentionKind::kPhotograph, begin, tokens[number].end);
      mention.value = memory_.keep(text_.substr(begin, tokens[number].end - begin));
      mention.known = false;
      mention.why = "the archive's letters before a number";
      break;
    }
  }
}

void BlockFinder::find_references() {
  // "Of the 2nd, figure 21, at Maunder", where figures are a marking of the ledger: a code. Not
  // "see figure 21", nor "figure 2.1".
  const auto is_marking = [&](std::uint32_t token) {
    if (result_.tokens[token].capital || !is_in("figure_word", token)) return false;
    if (token > 0 && (is_in("pointing_verb", token - 1) || office(token - 1) == "in")) return false;
    return std::any_of(result_.items.begin(), result_.items.end(), [&](const Mention& other) {
      return other.kind == MentionKind::kMarking && other.last == token + 1;
    });
  };
  for (const PatternMatch& match : matches("reference")) {
    constexpr std::size_t kMostFigures = 3, kYearDigits = 4;
    const std::string_view number = match.text_of("label", text_);
    if (number.size() <= kMostFigures && match.text_of("label2", text_).empty() &&
        number.find_first_not_of("0123456789") == std::string_view::npos && !number.empty() &&
        is_marking(match.first)) {
      const auto begin = static_cast<std::uint32_t>(number.data() - text_.data());
      if (covered(MentionKind::kAirframe, begin, match.end)) continue;
      Mention& mention = add(MentionKind::kAirframe, begin, match.end);
      mention.value = memory_.keep(number);
      mention.role = "code";
      mention.known = !lexicon_.ledger().bearers_of(number).empty();
      mention.why = "a figure, which the ledger has as a marking";
      continue;
    }
    // "The figure 73 is a relic": a number, and no reference.
    const std::uint32_t first = match.first;
    const std::string_view article = first > 0 ? office(first - 1) : "";
    if (!result_.tokens[first].capital && (article == "the" || article == "a" || article == "its"))
      continue;
    // "His plate 40": of another book.
    if (is_figure_of_another(first, match.last)) continue;
    const std::string series(match.value_of("figure_word", text_));
    for (const ListName slot : {ListName("label"), ListName("label2")}) {
      const std::string_view label = match.text_of(slot, text_);
      if (label.empty()) continue;
      // "Dates Plate 13 to 1936": a year, and no plate.
      const bool is_year = number.size() < kYearDigits && label.size() == kYearDigits;
      if (is_year && label.data() != number.data()) continue;
      Mention& mention =
          add_tokens(MentionKind::kReference, match.begin, match.end, match.first, match.last);
      mention.value = memory_.keep(series + " " + std::string(label));
      mention.why = match.pattern->why;
    }
  }
}

// "Orpe's own Fig. 9", "Fig. 3 of the Review", "Fig. 4 of PN 5/41", the words "Fig. 7" on a print;
// and "figures 6 to 9 were worn", which are painted.
bool BlockFinder::is_figure_of_another(std::uint32_t first, std::uint32_t last) const {
  const auto& tokens = result_.tokens;
  const auto count = static_cast<std::uint32_t>(tokens.size());
  const auto has = [&](ListName list, std::uint32_t t) { return t < count && is_in(list, t); };
  const auto is_quote = [&](std::uint32_t t) {
    const Spelling w = t < count ? word(t) : Spelling{};
    return w == "\"" || w == "\xE2\x80\x9C" || w == "\xE2\x80\x9D";
  };
  if (first > 0 && is_quote(first - 1) && is_quote(last)) return true;
  const std::uint32_t owner = first > 0 && is_in("own_word", first - 1) ? first - 1 : first;
  if (owner > 0) {
    if (is_in("of_another", owner - 1)) return true;
    const std::string_view before =
        text_.substr(tokens[owner - 1].begin, tokens[owner - 1].end - tokens[owner - 1].begin);
    if (tokens[owner - 1].kind == TokenKind::kWord &&
        (before.ends_with("'s") || before.ends_with("\xE2\x80\x99s")))
      return true;
  }
  // "The brass plate 112 on the door".
  if (first > 0 && !tokens[first].capital && has("plate_of_what", first - 1)) return true;
  const bool is_small = !tokens[first].capital && is_in("figures_word", first);
  if (is_small && first > 0 && has("figures_of_what", first - 1)) return true;
  if (is_small && has("event_auxiliary", last) && has("figures_painted", last + 1)) return true;
  if (!has("figure_stands_in", last) || last + 1 >= count) return false;
  if (covered(MentionKind::kOrder, tokens[last + 1].begin, tokens[last + 1].end)) return true;
  if (!is_in("determiner", last + 1) || office(last + 1) == "this") return false;
  constexpr std::uint32_t kReach = 3;
  for (std::uint32_t t = last + 2; t < std::min(count, last + 2 + kReach); ++t) {
    if (tokens[t].kind == TokenKind::kMark) return false;
    if (is_in("other_publication", t)) return true;
  }
  return false;
}

// Cues of several words with something between: "laid straight over it". The pattern says of which
// list the cue is, and its value.
void BlockFinder::find_cues() {
  for (const PatternMatch& match : matches("cue")) {
    // Of "had crashed" the first word is the cue, and the second may be an event.
    const auto said = static_cast<std::uint32_t>(match.text_of("said", text_).size());
    Mention& mention =
        said == 0 ? add_tokens(MentionKind::kCue, match.begin, match.end, match.first, match.last)
                  : add(MentionKind::kCue, match.begin, match.begin + said);
    mention.role = memory_.keep(match.value_of("list", text_));
    mention.cue = ListName::number_of(mention.role);
    mention.value = memory_.keep(match.value_of("value", text_));
    mention.detail = memory_.keep(match.text_of("pronoun", text_));
    mention.why = match.pattern->why;
  }
}

// "He died in 1960 in Feyle": a year behind its preposition, with a place, and no inches.
bool BlockFinder::is_year_in_place(std::uint32_t begin, std::uint32_t end) const {
  constexpr std::size_t kDigitsOfYear = 4;
  const std::uint32_t number = token_at(begin);
  const std::uint32_t next = token_at(end);
  const WordList* prepositions = lexicon_.grammars().list("year_preposition");
  const WordList* ways = lexicon_.grammars().list("measure_way");
  if (number == 0 || prepositions == nullptr || next >= result_.tokens.size()) return false;
  const Token& year = result_.tokens[number];
  return year.kind == TokenKind::kNumber && year.end - year.begin == kDigitsOfYear &&
         (text_[year.begin] == '1' || text_[year.begin] == '2') &&
         result_.tokens[next].kind != TokenKind::kMark &&
         (ways == nullptr || value_in(ways, next).empty()) &&
         !value_in(prepositions, number - 1).empty();
}

}  // namespace tailproof
