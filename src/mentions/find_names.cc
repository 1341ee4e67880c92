// Serials of a block, whose meaning the words around them decide.
#include <algorithm>

#include "grammars/fold.h"
#include "mentions/finder.h"

namespace tailproof {

// "box C-139", "drawing S3020", "negative R2109", "store form S3019": the noun before it says what
// the number is of.
bool BlockFinder::governed_by_other_noun(std::uint32_t token) const {
  const WordList* nouns = lexicon_.grammars().list("not_a_serial");
  if (nouns == nullptr || token == 0) return false;
  std::uint32_t before = token - 1;
  bool is_past_verb = false;
  // Past "No.", ":" and an opening quotation mark or bracket.
  const WordList* between = lexicon_.grammars().list("number_verb");
  while (before > 0 && (result_.tokens[before].kind == TokenKind::kMark ||
                        (between != nullptr && !value_in(between, before).empty()))) {
    const auto mark = word(before);
    // "The negative number, 4119C, is scratched on it".
    if (mark == "," && is_in("number_noun", before - 1)) {
      --before;
      continue;
    }
    if (mark == "," || mark == ";" || mark == ")" || mark == "\xE2\x80\x94") return false;
    // "From the same boat. U508 has swung round": the full point of a sentence, not of "neg.".
    if (mark == "." && !is_in("abbreviation", before - 1)) return false;
    // "From Wil's box: 39-105 at Crane Point"; but "Box: 417".
    const bool is_label = before < 2 || result_.tokens[before - 2].kind == TokenKind::kMark;
    if (mark == ":" && !is_label) return false;
    is_past_verb = is_past_verb || is_in("being_word", before);
    --before;
  }
  // "Missing from the table is X12".
  const std::uint32_t lead =
      before > 1 && is_in("determiner", before - 1) ? before - 2 : before - 1;
  if (is_past_verb && before > 1 && is_in("noun_source", lead)) return false;
  // "A shelf-mark such as 40-B-208".
  if (before > 1 && folded(before) == "as" && folded(before - 1) == "such") before -= 2;
  // The last letter of a code is no page: "It is coded TU-P. XU/126 is behind it."
  const Token& noun = result_.tokens[before];
  if (noun.capital && noun.end - noun.begin == 1) return false;
  // "The laundry mark QX12", though not every mark.
  const std::uint32_t joint = before > 1 && word(before - 1) == "-" ? 2 : 1;
  const std::string both =
      before < joint ? std::string()
                     : std::string(folded(before - joint)) + " " + std::string(folded(before));
  return !nouns->value_of(folded_word(text_, noun)).empty() || !nouns->value_of(both).empty();
}

// "X12, which stands in the frontispiece, is the unit's van": what no ledger has, told to be a
// thing with a number of its own.
bool BlockFinder::is_told_as_thing(std::uint32_t last) const {
  const auto count = static_cast<std::uint32_t>(result_.tokens.size());
  const auto ends = [&](std::uint32_t t) {
    return t >= count || word(t) == "." || word(t) == ";" || word(t) == "," || office(t) == "of";
  };
  constexpr std::uint32_t kFarthest = 16;
  constexpr std::uint32_t kLongest = 6;
  for (std::uint32_t t = last; t + 2 < count && t < last + kFarthest; ++t) {
    if (word(t) == "." || word(t) == ";") return false;
    const bool is_being = is_in("being_word", t) && !is_in("being_word", t + 1);
    if (!is_being || office(t + 1) == "not") continue;
    for (std::uint32_t noun = t + 2; noun < count && noun < t + kLongest; ++noun) {
      if (ends(noun)) break;
      if (is_in("thing_with_number", noun) && ends(noun + 1)) return is_in("determiner", t + 1);
    }
  }
  return false;
}

// "Ridgeway QX27, a tin of paint": a number that the ledger does not have, behind a name that it
// does not have either.
bool BlockFinder::is_of_other_make(std::uint32_t token, std::string_view serial) const {
  if (token == 0 || lexicon_.ledger().airframe(serial) != nullptr) return false;
  if (others_.contains(std::string(serial))) return true;
  const Token& name = result_.tokens[token - 1];
  constexpr std::uint32_t kShortest = 4;
  // "Moss green QX36, thinner QX11", "aluminium dope was QX39": of a tin.
  const std::uint32_t tin = is_in("being_word", token - 1) || is_in("was_word", token - 1) ||
                                    (word(token - 1) == "," && token > 1)
                                ? token - 2
                                : token - 1;
  if (tin < token && is_in("tin_word", tin) && !result_.tokens[token].sentence_start) return true;
  return name.kind == TokenKind::kWord && name.capital && !name.all_capitals &&
         !name.sentence_start && name.end - name.begin >= kShortest && occupied_[token - 1] == 0 &&
         name.end + 1 == result_.tokens[token].begin && !is_in("machine_noun", token - 1) &&
         !is_in("number_word", token - 1) && !is_in("card_word", token - 1) &&
         !is_in("person_noun", token - 1) && lexicon_.ledger().is_closed_table("types");
}

// "the figures T-435 and C-133 of a shade card": what governs the first of a list governs the rest.
bool BlockFinder::in_governed_list(std::uint32_t token) const {
  return governed_until_ != 0 && joins_list(governed_until_, token);
}

// Whether only a comma, "and" and the like stand between the end of one number and another.
bool BlockFinder::joins_list(std::uint32_t end, std::uint32_t token) const {
  if (token <= end || token - end > 3) return false;
  for (std::uint32_t t = end; t < token; ++t) {
    const Spelling w = office(t);
    if (w != "," && w != "and" && w != "or" && w != "to" && w != "-") return false;
  }
  return true;
}

// A form that only a tail shows needs the words tail, fin, call number or a type in its noun
// phrase.
bool BlockFinder::tail_context(std::uint32_t first, std::uint32_t last) const {
  const WordList* words = lexicon_.grammars().list("tail_word");
  constexpr std::uint32_t kReach = 4;
  const auto& tokens = result_.tokens;
  const auto stops = [&](std::uint32_t t) {
    const auto mark = word(t);
    return mark == ";" || mark == ":" ||
           (mark == "." && t + 1 < tokens.size() && tokens[t + 1].sentence_start &&
            tokens[t + 1].kind != TokenKind::kNumber);
  };
  if (words != nullptr) {
    for (std::uint32_t t = last; t < std::min<std::size_t>(tokens.size(), last + kReach); ++t) {
      if (stops(t)) break;
      if (!value_in(words, t).empty()) return true;
    }
    for (std::uint32_t t = first, n = 0; t > 0 && n < kReach; ++n) {
      --t;
      if (stops(t)) break;
      if (!value_in(words, t).empty()) return true;
    }
  }
  for (const Mention& mention : result_.items) {
    if (mention.kind == MentionKind::kType && mention.last == first && mention.role.empty())
      return true;
  }
  return false;
}

// "R2017, ex-F103", "R2017 (ex-F103)": with a hyphen, and behind the serial whose number it was.
bool BlockFinder::is_former_number(std::uint32_t hyphen) const {
  if (hyphen == 0 || !is_in("number_prefix", hyphen - 1)) return false;
  std::uint32_t end = hyphen - 1;
  if (end > 0 && (word(end - 1) == "," || word(end - 1) == "(")) --end;
  return std::any_of(result_.items.begin(), result_.items.end(), [&](const Mention& other) {
    return other.kind == MentionKind::kAirframe && other.last == end;
  });
}

// The airframe that the ledger's own spelling has found in exactly these words.
const Mention* BlockFinder::named_at(std::uint32_t begin, std::uint32_t end) const {
  const auto found =
      std::find_if(result_.items.begin(), result_.items.end(), [&](const Mention& mention) {
        return mention.kind == MentionKind::kAirframe && mention.begin == begin &&
               mention.end == end && mention.role.empty();
      });
  return found == result_.items.end() ? nullptr : &*found;
}

// Of a shape that only rows have taught. What has a row may be spelt a little otherwise; what has
// none must be spelt as the rows are, and neither "the K-244" nor "a K-244 engine" is one: roads,
// engines and rooms are numbered too.
bool BlockFinder::looks_like_serial(const SerialForms::Match& match, std::uint32_t first,
                                    std::uint32_t last) const {
  if (covered(MentionKind::kAirframe, result_.tokens[first].begin, match.end)) return false;
  if (lexicon_.ledger().airframe(match.serial) != nullptr ||
      !lexicon_.ledger().bearers_of(match.serial).empty())
    return true;
  const std::uint32_t begin = result_.tokens[first].begin;
  if (text_.substr(begin, match.end - begin) != match.serial) return false;
  if (first > 0 && (office(first - 1) == "the" || office(first - 1) == "a")) return false;
  const bool is_noun_next = last < result_.tokens.size() &&
                            result_.tokens[last].kind == TokenKind::kWord &&
                            (is_in("not_a_serial", last) || is_in("numbered_place", last));
  return !is_noun_next;
}

bool BlockFinder::add_serial(std::uint32_t token) {
  const auto& tokens = result_.tokens;
  // Joined to something before it ("Kd/301", "x-QC417"), it is part of that.
  if (token > 0 && tokens[token - 1].end == tokens[token].begin) {
    const auto before = word(token - 1);
    if (tokens[token - 1].kind != TokenKind::kMark || before == "/" || before == "-" ||
        before == "#" || before == "+" || before == ":" || before == ".") {
      // "KB201-KB209": both ends are written out.
      const std::uint32_t joint = tokens[token - 1].begin;
      const bool is_range =
          before == "-" &&
          std::any_of(result_.items.begin(), result_.items.end(), [&](const Mention& other) {
            return other.kind == MentionKind::kAirframe && other.end == joint && other.role.empty();
          });
      if (!is_range && (before != "-" || !is_former_number(token - 1))) return false;
    }
  }
  for (const auto& match : forms_.match_at(text_, tokens, token)) {
    const std::uint32_t last = [&] {
      std::uint32_t t = token;
      while (t < tokens.size() && tokens[t].end < match.end) ++t;
      return t + 1;
    }();
    if (last < tokens.size() && tokens[last].begin == match.end) {
      const auto after = word(last);
      // "S3001-7" goes on as a range; a decimal or a second slash does not.
      if (tokens[last].kind != TokenKind::kMark) continue;
      if (match.tail_only &&
          (after == "-" || after == "/" || after == "'" || after == "\xE2\x80\x99" || after == "%"))
        continue;
      if (after == "." && last + 1 < tokens.size() && tokens[last + 1].begin == tokens[last].end &&
          tokens[last + 1].kind == TokenKind::kNumber) {
        continue;
      }
    }
    // "The boat X12", of a machine that the ledger has.
    const bool is_craft = token > 0 && !match.is_learnt && !match.tail_only &&
                          is_in("craft_noun", token - 1) &&
                          lexicon_.ledger().airframe(match.serial) != nullptr;
    if (!is_craft && (governed_by_other_noun(token) || in_governed_list(token))) {
      governed_until_ = last;
      return false;
    }
    const bool is_thing =
        lexicon_.ledger().airframe(match.serial) == nullptr && is_told_as_thing(last);
    if (is_thing || is_of_other_make(token, match.serial)) {
      others_.emplace(match.serial);
      return false;
    }
    if (match.is_learnt) {
      if (const Mention* named = named_at(tokens[token].begin, match.end)) {
        continue_list(Mention(*named));
        return true;
      }
      if (!looks_like_serial(match, token, last)) continue;
    }
    if (match.tail_only) {
      // "tail numbers 12301, 12307 and 12308": what the first of a list is, the rest are.
      const bool in_list = tail_until_ != 0 && joins_list(tail_until_, token);
      if (!in_list && !tail_context(token, last)) continue;
      if (covered(MentionKind::kDate, tokens[token].begin, match.end)) continue;
    }
    Mention& mention = add(MentionKind::kAirframe, tokens[token].begin, match.end);
    mention.value = memory_.keep(match.serial);
    if (match.tail_only) mention.role = "tail";
    if (match.tail_only) tail_until_ = last;
    mention.known = lexicon_.ledger().airframe(match.serial) != nullptr;
    if (!mention.known) name_by_other_serial(mention);
    mention.list = next_list_++;
    mention.why = match.is_learnt ? "shape of the ledger's serials" : "serial form";
    // "QC417(?)", "QC417?": a doubt about the reading.
    if (last + 1 < tokens.size() && word(last) == "(" && word(last + 1) == "?")
      mention.doubtful = true;
    const Mention head = mention;
    if (!match.tail_only) continue_list(head);
    return true;
  }
  return false;
}

// A serial without a row of its own may be the former or later number of a machine that has one:
// that machine is meant.
void BlockFinder::name_by_other_serial(Mention& mention) const {
  for (const Identity* row : lexicon_.ledger().bearers_of(mention.value)) {
    if (row->kind != "previous_serial" && row->kind != "later_serial") continue;
    mention.detail = Spelling(row->identity);
    mention.value = Spelling(row->serial);
    mention.role = Spelling(row->kind);
    mention.known = true;
    return;
  }
}

// "QC417, 418 and 423", "QC417-23", "H5-21, -24 and 40": what follows keeps the letters of the
// serial before it.
// "A1012, 38, at Zelvin", "A1012, '38'": the machine's own number, and no shortened serial. A list
// goes on, or ends with "and".
bool BlockFinder::is_code_behind_comma(const Mention& head, std::uint32_t from,
                                       std::uint32_t number) const {
  const auto& tokens = result_.tokens;
  const auto rows = lexicon_.ledger().identities_of(head.value);
  const bool is_own = std::any_of(
      rows.begin(), rows.end(), [&](const Identity* row) { return row->identity == word(number); });
  // "Formerly C-106 and 24 of the Second".
  if (is_own && office(number + 1) == "of") return true;
  for (std::uint32_t t = from; t < number; ++t) {
    if (word(t) != "," && tokens[t].kind == TokenKind::kWord) return false;
    if (word(t) == "/" || word(t) == "-" || word(t) == "\xE2\x80\x93") return false;
  }
  const std::uint32_t next = number + 1;
  const bool is_quoted = next < tokens.size() && !is_blank(text_[tokens[number].begin - 1]) &&
                         (word(next) == "'" || word(next) == "\xE2\x80\x99");
  if (is_own || is_quoted) return true;
  constexpr std::uint32_t kShort = 2;
  if (word(number).size() > kShort || word(number).front() == '0') return false;
  // With more to come it is a list.
  const bool goes_on = next + 1 < tokens.size() &&
                       (word(next) == "," || word(next) == "&" || office(next) == "and") &&
                       tokens[next + 1].kind == TokenKind::kNumber;
  return !goes_on && next < tokens.size() && word(next) == ",";
}

// "21-201 and 21-202": a serial of its own, and no last figures of the one before.
bool BlockFinder::begins_longer_serial(std::uint32_t token) const {
  const auto matches = forms_.match_at(text_, result_.tokens, token);
  return std::any_of(matches.begin(), matches.end(), [&](const SerialForms::Match& match) {
    return !match.tail_only && match.end > result_.tokens[token].end;
  });
}

void BlockFinder::continue_list(const Mention& head) {
  const auto& tokens = result_.tokens;
  std::string last_serial(head.detail.empty() ? head.value : head.detail);
  std::uint32_t at = head.last;
  constexpr std::uint32_t kLongestList = 10000;
  for (std::uint32_t n = 0; n < kLongestList; ++n) {
    std::uint32_t t = at;
    bool joined = false;
    // "KB201 / 27": parted from its code, while "KB201/02" are two.
    if (t < tokens.size() && word(t) == "/" && tokens[t].begin > tokens[t - 1].end &&
        t + 1 < tokens.size() && tokens[t + 1].begin > tokens[t].end)
      return;
    while (t < tokens.size() &&
           (word(t) == "," || word(t) == "&" || word(t) == "/" || word(t) == "-" ||
            word(t) == "\xE2\x80\x93" || office(t) == "and" || office(t) == "or" ||
            office(t) == "to" || office(t) == "through")) {
      joined = true;
      ++t;
    }
    // "C-105, '106 and '110": the apostrophe stands for what is left out.
    if (joined && t < tokens.size() &&
        (word(t) == "'" || word(t) == "\xE2\x80\x99" || word(t) == "\xE2\x80\x98"))
      ++t;
    if (!joined || t >= tokens.size() || tokens[t].kind != TokenKind::kNumber) return;
    if (begins_longer_serial(t)) return;
    const Spelling digits = word(t);
    std::size_t tail = 0;
    while (tail < last_serial.size() && last_serial[last_serial.size() - 1 - tail] >= '0' &&
           last_serial[last_serial.size() - 1 - tail] <= '9') {
      ++tail;
    }
    if (digits.size() > tail || digits.size() < 2) return;
    const std::uint32_t begin = tokens[t].begin, end = tokens[t].end;
    if (covered(MentionKind::kDate, begin, end)) return;
    if (is_code_behind_comma(head, at, t)) return;
    // "DS-505, 13/6": a code in the shape of the ledger's, and no DS-513.
    const bool is_run = t + 2 < tokens.size() && tokens[t + 1].begin == end &&
                        tokens[t + 2].begin == tokens[t + 1].end &&
                        tokens[t + 2].kind == TokenKind::kNumber && word(t + 1) != "," &&
                        word(t + 1) != ".";
    if (is_run && lexicon_.has_code_shape(text_.substr(begin, tokens[t + 2].end - begin))) return;
    // Another noun may claim the number: "QC417 and 418 Squadron".
    if (t + 1 < tokens.size() &&
        (tokens[t + 1].starts & lexicon_.grammars().starts_bit("unit_word")).any())
      return;
    const WordList* units = lexicon_.grammars().list("measure_unit");
    const WordList* kinds = lexicon_.grammars().list("unit_word");
    if (t + 1 < tokens.size()) {
      // "115 and 116 in line": no inches.
      const bool is_preposition = office(t + 1) == "in" && t + 2 < tokens.size() &&
                                  tokens[t + 2].kind == TokenKind::kWord &&
                                  !is_in("measure_way", t + 2);
      const std::string_view next = is_preposition ? std::string_view{} : folded(t + 1);
      if ((units != nullptr && !units->value_of(next).empty()) ||
          (kinds != nullptr && !kinds->value_of(next).empty())) {
        return;
      }
    }
    const std::string serial =
        last_serial.substr(0, last_serial.size() - digits.size()) + std::string(digits);
    if (!lexicon_.ledger().is_in_closed_range(serial) &&
        lexicon_.ledger().airframe(serial) == nullptr &&
        lexicon_.ledger().bearers_of(serial).empty()) {
      return;
    }
    Mention& mention = add(MentionKind::kAirframe, begin, end);
    mention.value = memory_.keep(serial);
    mention.known = lexicon_.ledger().airframe(serial) != nullptr;
    if (!mention.known) name_by_other_serial(mention);
    mention.why = memory_.tell("serial list after ", head.value);
    last_serial = serial;
    at = t + 1;
  }
}

void BlockFinder::find_serials() {
  const auto& tokens = result_.tokens;
  std::uint32_t free_from = 0;
  for (std::uint32_t t = 0; t < tokens.size(); ++t) {
    const Token& token = tokens[t];
    if (token.begin < free_from || token.kind == TokenKind::kMark) continue;
    if (token.kind == TokenKind::kWord && (token.end - token.begin > 4 || !token.capital)) continue;
    const std::size_t before = result_.items.size();
    if (!add_serial(t)) continue;
    for (std::size_t i = before; i < result_.items.size(); ++i) {
      free_from = std::max(free_from, result_.items[i].end);
    }
  }
}

bool BlockFinder::follows_type(std::uint32_t token) const {
  return std::any_of(result_.items.begin(), result_.items.end(), [&](const Mention& mention) {
    return mention.kind == MentionKind::kType && mention.last == token;
  });
}

bool BlockFinder::starts_like_serial(const Word& word) const {
  const Spelling text = word.text;
  std::size_t letters = 0;
  while (letters < text.size() && text[letters] >= 'A' && text[letters] <= 'Z') ++letters;
  return letters > 0 && lexicon_.is_serial_prefix(text.substr(0, letters));
}

// "Serial 3072-47", where the ledger's own serials are figures with a joint: but "serials 41-46"
// and "serial numbers 41-46" may be a range, and one number alone is that of some form or paper.
bool BlockFinder::is_bare_number_called_serial(std::uint32_t called, std::uint32_t first,
                                               std::uint32_t last) const {
  const auto is_number = [&](std::uint32_t t) {
    return result_.tokens[t].kind == TokenKind::kNumber;
  };
  if (last - first != 3 || !is_number(first) || !is_number(first + 2)) return false;
  for (std::uint32_t t = called; t < first; ++t) {
    const std::string_view w = folded(t);
    if (result_.tokens[t].kind == TokenKind::kWord && w.size() > 2 && w.back() == 's') return false;
  }
  const auto& forms = lexicon_.ledger().settings().serial_forms;
  const char joint = word(first + 1).front();
  return std::any_of(forms.begin(), forms.end(), [&](const SerialForm& form) {
    const bool has_letter = std::any_of(form.rewrite.begin(), form.rewrite.end(), [](char c) {
      return (c >= 'A' && c <= 'Z') || (c >= 'a' && c <= 'z');
    });
    return !has_letter && form.rewrite.find(joint) != std::string::npos;
  });
}

// "serial S30229": the text says that it is a serial, and no form allows it.
void BlockFinder::find_malformed() {
  constexpr std::uint8_t kAnyCall = kCalledSerial | kCalledNumber | kLikeSerial;
  if ((hints_here_ & kAnyCall) == 0 || lexicon_.grammars().list("serial_word") == nullptr ||
      lexicon_.ledger().settings().serial_forms.empty())
    return;
  const auto& tokens = result_.tokens;
  for (std::uint32_t t = 0; t + 1 < tokens.size(); ++t) {
    const bool called = (hints_[t] & kCalledSerial) != 0;
    const bool is_like_serial = (hints_[t + 1] & kLikeSerial) != 0;
    // A type before letters that the ledger's serials begin with says it too: "Sickle GD-213".
    const bool typed = !called && is_like_serial && follows_type(t + 1);
    // "An amphibian numbered GD-213": so does the number of a machine.
    const bool numbered = !called && !typed && is_like_serial && t > 0 &&
                          (hints_[t] & kCalledNumber) != 0 && is_in("machine_noun", t - 1);
    // "VA3190, FA-S, with VA312 beyond": so does a code of the ledger's right behind it.
    const bool coded =
        !called && !typed && !numbered && is_like_serial && t + 3 < tokens.size() &&
        (word(t + 2) == "," || word(t + 2) == "(") &&
        std::any_of(result_.items.begin(), result_.items.end(), [&](const Mention& code) {
          return code.kind == MentionKind::kAirframe && code.known && code.role == "code" &&
                 code.detail != "yes" && code.begin == tokens[t + 3].begin;
        });
    if (!called && !typed && !numbered && !coded) continue;
    std::uint32_t next = t + 1;
    const auto skip = [&](std::string_view w) {
      return w == ":" || w == "," || w == "." || w == "'" || w == "\xE2\x80\x98" ||
             w == "\xE2\x80\x9C" || w == "\"";
    };
    while (next < tokens.size() && next < t + 5 &&
           (skip(word(next)) || office(next) == "as" || office(next) == "of" ||
            is_in("number_verb", next)))
      ++next;
    // "The serial on the fin is 2-D-113", "the serial board behind them, chalked 2144-S".
    constexpr std::uint32_t kMostBetween = 9;
    const std::uint32_t beside = next;
    while (called && next < tokens.size() && next - t < kMostBetween &&
           (word(next) == "," || is_in("serial_between", next)))
      ++next;
    // And "the serial of the nearer, L 4031", "the serial on the fin, L 4031".
    const bool is_owned =
        next > beside && word(next - 1) == "," &&
        ((beside > t + 1 && office(beside - 1) == "of") || office(beside) == "on");
    if (next > beside && (next >= tokens.size() || (!is_in("serial_given", next - 1) && !is_owned)))
      next = beside;
    if (next >= tokens.size()) continue;
    std::uint32_t end = next;
    bool digit = false, letter = false;
    // A run without blanks; but "serial L 4031" where the letters are those of the ledger's
    // serials.
    const bool is_apart = called && next + 1 < tokens.size() &&
                          lexicon_.is_serial_prefix(word(next)) &&
                          tokens[next + 1].kind == TokenKind::kNumber &&
                          tokens[next + 1].begin == tokens[next].end + 1;
    while (end < tokens.size() && (end == next || tokens[end].begin == tokens[end - 1].end ||
                                   (is_apart && end == next + 1))) {
      const Token& token = tokens[end];
      // "L.2190", and no full point of a sentence.
      const bool is_point = word(end) == "." && end > next && tokens[end - 1].capital &&
                            end + 1 < tokens.size() && tokens[end + 1].kind == TokenKind::kNumber;
      if (token.kind == TokenKind::kMark &&
          ((word(end) != "-" && word(end) != "/" && !is_point) || end + 1 >= tokens.size() ||
           tokens[end + 1].begin != token.end))
        break;
      digit |= token.kind == TokenKind::kNumber || token.kind == TokenKind::kMixed;
      const Spelling spelt = word(end);
      letter |=
          std::any_of(spelt.begin(), spelt.end(), [](char c) { return c >= 'A' && c <= 'Z'; });
      ++end;
    }
    if (end == next || !digit) continue;
    if (!letter && !is_bare_number_called_serial(t, next, end)) continue;
    const std::uint32_t begin_byte = tokens[next].begin, end_byte = tokens[end - 1].end;
    const std::string_view run = text_.substr(begin_byte, end_byte - begin_byte);
    constexpr std::size_t kShortest = 5;
    if (forms_.fits(run) || (next > beside && run.size() < kShortest)) continue;
    // What only looks like a code is called a serial here.
    const bool is_known_otherwise =
        std::any_of(result_.items.begin(), result_.items.end(), [&](const Mention& other) {
          return other.kind == MentionKind::kAirframe && other.begin < end_byte &&
                 begin_byte < other.end && (other.role != "code" || other.known);
        });
    if (is_known_otherwise || !lexicon_.ledger().bearers_of(run).empty()) continue;
    // "Serial L 4031 in the panorama" measures no inches.
    std::erase_if(result_.items, [&](const Mention& other) {
      const bool is_part =
          other.kind == MentionKind::kAirframe || other.kind == MentionKind::kMeasure;
      return is_part && other.begin < end_byte && begin_byte < other.end;
    });
    Mention& mention = add(MentionKind::kAirframe, begin_byte, end_byte);
    std::string value(run);
    std::erase(value, ' ');
    mention.value = memory_.keep(value);
    mention.role = "malformed";
    mention.known = false;
    mention.why = "called a serial";
  }
}

}  // namespace tailproof
