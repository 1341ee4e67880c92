// Codes of a block: letters and numbers that a machine bears, and that the words, the ledger or
// their shape tell to be such.
#include <algorithm>

#include "mentions/finder.h"

namespace tailproof {

// "No. 1 Flying School opened at Talmere, No. 2 at Grauwick": the number is that of a unit of the
// ledger, its noun has been said before, and no machine stands beside it that might bear it.
bool BlockFinder::is_elided_unit(std::uint32_t begin, std::uint32_t end) const {
  constexpr std::uint32_t kMarks = 2;  // a comma or a bracket, and the sign
  const std::uint32_t number = token_at(begin);
  if (!lexicon_.ledger().bearers_of(text_.substr(begin, end - begin)).empty()) return false;
  bool has_noun_before = false, is_unit = false;
  for (const Mention& other : result_.items) {
    if (other.kind == MentionKind::kUnit) {
      is_unit = is_unit || other.begin == begin;
      has_noun_before = has_noun_before || (other.end < begin && other.detail.empty());
    }
    const bool is_machine =
        other.kind == MentionKind::kAirframe || other.kind == MentionKind::kType;
    if (is_machine && other.last <= number && number - other.last <= kMarks + 1) return false;
  }
  return is_unit && has_noun_before;
}

// "36R06 (22), 36R05 (24) and 36R07 (23)": where the ledger knows one of the numbers in brackets
// for the code of the serial before it, the others are codes too.
void BlockFinder::find_codes_in_brackets() {
  constexpr std::uint32_t kMostFigures = 3;
  const auto& tokens = result_.tokens;
  std::vector<std::uint32_t> unread;  // tokens of numbers
  bool is_one_known = false;
  for (const Mention& mention : result_.items) {
    const std::uint32_t at = mention.last + 1;
    if (mention.kind != MentionKind::kAirframe || !mention.role.empty() ||
        at + 1 >= tokens.size() || word(mention.last) != "(" || word(at + 1) != ")" ||
        tokens[at].kind != TokenKind::kNumber || tokens[at].end - tokens[at].begin > kMostFigures)
      continue;
    const auto is_there = [&](const Mention& code) {
      return code.kind == MentionKind::kAirframe && code.first == at;
    };
    if (std::any_of(result_.items.begin(), result_.items.end(), is_there)) {
      is_one_known = true;
    } else if (!covered(MentionKind::kDate, tokens[at].begin, tokens[at].end)) {
      unread.push_back(at);
    }
  }
  for (const std::uint32_t t : unread) {
    if (!is_one_known) return;
    Mention& mention = add(MentionKind::kAirframe, tokens[t].begin, tokens[t].end);
    mention.value = word(t);
    mention.role = "code";
    mention.known = !lexicon_.ledger().bearers_of(word(t)).empty();
    mention.why = "in brackets as the codes beside it";
  }
}

// "N.102: Herons 12.6.33 (B); ...": a paragraph that begins with the one machine it tells of, and
// in brackets behind a unit, or its date, letters or figures in the form of the machine's codes.
void BlockFinder::find_codes_behind_units() {
  constexpr std::uint32_t kOpening = 4;
  const auto& tokens = result_.tokens;
  const Mention* machine = nullptr;
  for (const Mention& mention : result_.items) {
    if (mention.kind != MentionKind::kAirframe || !mention.role.empty()) continue;
    if (mention.first > kOpening || (machine != nullptr && machine->value != mention.value)) return;
    machine = &mention;
  }
  if (machine == nullptr) return;
  const auto form_of = [](std::string_view code) {
    std::string form(code);
    for (char& c : form) c = c >= '0' && c <= '9' ? '9' : c >= 'A' && c <= 'Z' ? 'A' : c;
    return form;
  };
  std::vector<std::string> forms;
  for (const Identity* row : lexicon_.ledger().identities_of(machine->value)) {
    if (row->kind == "code") forms.push_back(form_of(row->identity));
  }
  if (forms.empty()) return;
  std::vector<std::uint32_t> codes;
  for (const Mention& unit : result_.items) {
    if (unit.kind != MentionKind::kUnit) continue;
    std::uint32_t t = unit.last;
    for (const Mention& date : result_.items) {
      if (date.kind == MentionKind::kDate && date.first == unit.last) t = date.last;
    }
    const bool is_alone = t + 2 < tokens.size() && word(t) == "(" && word(t + 2) == ")";
    if (!is_alone || occupied_[t + 1] != 0) continue;
    const std::string form = form_of(word(t + 1));
    if (std::find(forms.begin(), forms.end(), form) != forms.end()) codes.push_back(t + 1);
  }
  for (const std::uint32_t t : codes) {
    Mention& mention = add(MentionKind::kAirframe, tokens[t].begin, tokens[t].end);
    mention.value = word(t);
    mention.role = "code";
    mention.known = !lexicon_.ledger().bearers_of(word(t)).empty();
    mention.why = "in brackets behind the unit";
  }
}

// "31-07 (Ve5)", "Ve1, Ve5 and Ve3": a word in the shape of the ledger's codes, though it has none
// such, right behind a serial in brackets or in a list of codes. By its shape alone it might be
// anything.
void BlockFinder::find_codes_in_company() {
  if ((hints_here_ & kHasDigit) == 0) return;
  const auto& tokens = result_.tokens;
  const auto count = static_cast<std::uint32_t>(tokens.size());
  enum class Number : std::uint8_t { kNone, kSerial, kCode };
  std::vector<Number> numbers;  // by token, once a word has the shape
  const auto mark_numbers = [&] {
    numbers.resize(count, Number::kNone);
    for (const Mention& mention : result_.items) {
      if (mention.kind != MentionKind::kAirframe) continue;
      for (std::uint32_t t = mention.first; t < mention.last; ++t) {
        if (mention.role.empty()) numbers[t] = Number::kSerial;
        if (mention.role == "code") numbers[t] = Number::kCode;
      }
    }
  };
  const auto is_joint = [&](std::uint32_t t) { return word(t) == "," || is_in("code_joint", t); };
  for (std::uint32_t t = 1; t < count; ++t) {
    if (tokens[t].kind != TokenKind::kMixed || occupied_[t] != 0 ||
        !lexicon_.has_code_shape(word(t)))
      continue;
    if (numbers.empty()) mark_numbers();
    const bool is_bracketed = t > 1 && t + 1 < count && word(t - 1) == "(" &&
                              (word(t + 1) == ")" || word(t + 1) == ",") &&
                              numbers[t - 2] == Number::kSerial;
    const bool is_listed = (t > 1 && is_joint(t - 1) && numbers[t - 2] == Number::kCode) ||
                           (t + 2 < count && is_joint(t + 1) && numbers[t + 2] == Number::kCode &&
                            t > 0 && (is_in("being_word", t - 1) || is_joint(t - 1)));
    if (!is_bracketed && !is_listed) continue;
    Mention& mention = add(MentionKind::kAirframe, tokens[t].begin, tokens[t].end);
    mention.value = word(t);
    mention.role = "code";
    mention.known = false;
    mention.why = "the shape of the ledger's codes";
    numbers[t] = Number::kCode;
  }
}

// "X12, 9-5 of 9 Squadron", "wears 4-3": figures with a joint, in the shape of the ledger's codes.
// They may as well be a score or pages: beside a serial or a verb of wearing they are a code, or
// where a machine that the block names bore it.
void BlockFinder::find_codes_of_figures() {
  if ((hints_here_ & kHasDigit) == 0) return;
  const auto& tokens = result_.tokens;
  const auto count = static_cast<std::uint32_t>(tokens.size());
  const auto is_glued = [&](std::uint32_t left) {
    return left + 1 < count && tokens[left].end == tokens[left + 1].begin;
  };
  const auto is_serial_end = [&](std::uint32_t end) {
    return std::any_of(result_.items.begin(), result_.items.end(), [&](const Mention& other) {
      return other.kind == MentionKind::kAirframe && other.role.empty() && other.last == end;
    });
  };
  for (std::uint32_t t = 1; t + 2 < count; ++t) {
    if (tokens[t].kind != TokenKind::kNumber || tokens[t + 1].kind != TokenKind::kMark ||
        tokens[t + 2].kind != TokenKind::kNumber || !is_glued(t) || !is_glued(t + 1))
      continue;
    const bool goes_on =
        (is_glued(t - 1) && word(t - 1) != "(" && tokens[t - 1].kind == TokenKind::kMark &&
         word(t - 1) != "'" && word(t - 1) != "\xE2\x80\x98" && word(t - 1) != "\xE2\x80\x9C") ||
        (is_glued(t + 2) && t + 4 < count && is_glued(t + 3) &&
         tokens[t + 4].kind == TokenKind::kNumber);
    const std::string_view run = text_.substr(tokens[t].begin, tokens[t + 2].end - tokens[t].begin);
    if (goes_on || !lexicon_.has_code_shape(run)) continue;
    // "Of its former number, 11/12": no month of a year, where the machine named bore it.
    if (is_code_borne_here(run)) {
      std::erase_if(result_.items, [&](const Mention& date) {
        return date.kind == MentionKind::kDate && date.first == t && date.last == t + 3;
      });
      constexpr auto kDateBit =
          static_cast<std::uint16_t>(1U << static_cast<unsigned>(MentionKind::kDate));
      for (std::uint32_t at = t; at < t + 3; ++at)
        occupied_[at] = static_cast<std::uint16_t>(occupied_[at] & ~kDateBit);
    }
    if (occupied_[t] != 0 || occupied_[t + 2] != 0) continue;
    const bool is_beside = (word(t - 1) == "(" || word(t - 1) == ",") && is_serial_end(t - 1);
    const bool is_worn = is_in("wearing_verb", t - 1) || is_in("code_lead", t - 1);
    if (!is_beside && !is_worn && !is_serial_end(t) && !is_code_borne_here(run)) continue;
    Mention& mention = add(MentionKind::kAirframe, tokens[t].begin, tokens[t + 2].end);
    mention.value = memory_.keep(run);
    mention.role = "code";
    mention.known = !lexicon_.ledger().bearers_of(run).empty();
    mention.why = "the shape of the ledger's codes";
  }
}

void BlockFinder::find_codes() {
  const auto& tokens = result_.tokens;
  for (const PatternMatch& match : matches("code")) {
    const std::string_view code = match.text_of("code", text_);
    if (code.empty()) continue;
    const auto begin = static_cast<std::uint32_t>(code.data() - text_.data());
    const auto end = begin + static_cast<std::uint32_t>(code.size());
    if (covered(MentionKind::kDate, begin, end)) continue;
    // "4-11 on her side": the figures behind a joint are no code by themselves.
    const auto is_figure = [&](std::uint32_t at) { return text_[at] >= '0' && text_[at] <= '9'; };
    if (begin > 1 && text_[begin - 1] == '-' && is_figure(begin) && is_figure(begin - 2)) continue;
    // "Serial number RZ/142" is no code, nor what something else in the picture bears.
    const std::uint32_t said = match.first;
    if (said > 0 && is_in("serial_word", said - 1)) continue;
    if (match.begin != begin && is_told_of_other_noun(said)) continue;
    // "the ship's letter M": a marking, and its letter is no code of the machine.
    const bool is_letter = code.size() == 1 && (code.front() < '0' || code.front() > '9');
    if (is_letter && covered(MentionKind::kMarking, match.begin, begin)) continue;
    if (governed_by_other_noun(match.first)) continue;
    if (match.value_of("weak", text_) == "yes" && is_elided_unit(begin, end)) continue;
    // "No. 23's P312": a unit, which owns.
    const std::string_view rest = text_.substr(end);
    if (covered(MentionKind::kUnit, begin, end) &&
        (rest.starts_with("'s") || rest.starts_with("\xE2\x80\x99s")))
      continue;
    // "No. 2 hangar"
    const std::uint32_t behind = token_at(end);
    if (behind < tokens.size() && is_in("numbered_place", behind)) continue;
    Mention& mention = add(MentionKind::kAirframe, begin, end);
    mention.value = memory_.keep(code);
    const Spelling role = match.value_of("role", text_);
    mention.role = role.empty() ? Spelling("code") : memory_.keep(role);
    mention.detail = memory_.keep(match.value_of("weak", text_));
    mention.known = !lexicon_.ledger().bearers_of(code).empty();
    mention.why = match.pattern->why;
  }
  // A bare number that the ledger has as the code of a machine named in the same block: "A1037, 65
  // of the 9th".
  std::vector<std::string_view> serials;
  for (const Mention& mention : result_.items) {
    if ((hints_here_ & kHasDigit) == 0) break;
    if (mention.kind == MentionKind::kAirframe && !mention.value.empty())
      serials.emplace_back(mention.value);
  }
  for (std::uint32_t t = 0; t < tokens.size() && !serials.empty(); ++t) {
    if (tokens[t].kind != TokenKind::kNumber || tokens[t].end - tokens[t].begin > 3) continue;
    constexpr std::uint16_t kUpToMeasures = (1U << 12U) - 1;
    if ((occupied_[t] & kUpToMeasures) != 0) continue;
    for (const Identity* row : lexicon_.ledger().bearers_of(word(t))) {
      if (row->kind != "code" ||
          std::find(serials.begin(), serials.end(), row->serial) == serials.end())
        continue;
      Mention& mention = add(MentionKind::kAirframe, tokens[t].begin, tokens[t].end);
      mention.value = word(t);
      mention.role = "code";
      mention.payload = 1;  // whose it is, the ledger says
      mention.detail = Spelling(row->serial);
      mention.why = memory_.tell("a code of ", row->serial, " in the ledger");
      break;
    }
  }
  find_codes_in_brackets();
  find_codes_behind_units();
  // "Club 18", where the ledger has Club 1 and Club 9: the word says that it is a code.
  for (std::uint32_t t = 0; (hints_here_ & kWordOfCodes) != 0 && t + 1 < tokens.size(); ++t) {
    if ((hints_[t] & kWordOfCodes) == 0 || tokens[t + 1].kind != TokenKind::kNumber ||
        tokens[t + 1].begin != tokens[t].end + 1)
      continue;
    if (covered(MentionKind::kAirframe, tokens[t].begin, tokens[t + 1].end)) continue;
    Mention& mention = add(MentionKind::kAirframe, tokens[t].begin, tokens[t + 1].end);
    mention.value =
        memory_.keep(text_.substr(tokens[t].begin, tokens[t + 1].end - tokens[t].begin));
    mention.role = "code";
    mention.known = false;
    mention.why = "the word of the ledger's codes";
  }
  find_codes_in_company();
  find_codes_of_figures();
  // Anything in the shape of the ledger's codes: "NP-L" though no machine ever had it.
  for (std::uint32_t t = 0; t + 2 < tokens.size(); ++t) {
    if (!tokens[t].capital || tokens[t + 1].begin != tokens[t].end ||
        tokens[t + 1].kind != TokenKind::kMark || tokens[t + 2].begin != tokens[t + 1].end ||
        tokens[t + 2].kind == TokenKind::kMark) {
      continue;
    }
    const std::string_view run = text_.substr(tokens[t].begin, tokens[t + 2].end - tokens[t].begin);
    const auto joiner = word(t + 1);
    if (run.size() > 9 || joiner == "." || joiner == "'" || joiner == "," || joiner == ")")
      continue;
    if (tokens[t].end - tokens[t].begin > 3 ||
        (t > 0 && tokens[t - 1].end == tokens[t].begin && word(t - 1) == "-"))
      continue;
    if (!lexicon_.has_code_shape(normal_code(run))) continue;
    if (governed_by_other_noun(t)) continue;
    if (covered(MentionKind::kAirframe, tokens[t].begin, tokens[t + 2].end)) continue;
    Mention& mention = add(MentionKind::kAirframe, tokens[t].begin, tokens[t + 2].end);
    mention.value = memory_.keep(normal_code(run));
    mention.role = "code";
    mention.known = false;
    mention.why = "the shape of the ledger's codes";
  }
}

}  // namespace tailproof
