#include "claims/block_reading.h"

#include <algorithm>

#include "grammars/fold.h"
#include "mentions/event_words.h"

namespace tailproof {

void BlockReading::index_words() {
  const auto count = static_cast<std::uint32_t>(mentions_.tokens.size());
  if (count != 0) token_at_.resize(mentions_.tokens.back().begin + 1);
  std::uint32_t next = 0;
  const WordList* numbers = lexicon_.grammars().list("number");
  for (std::uint32_t t = 0; t < count; ++t) {
    const Token& token = mentions_.tokens[t];
    while (next <= token.begin) token_at_[next++] = t;
    if (token.word->values != nullptr) lists_here_ |= token.word->values->lists;
    if (token.kind == TokenKind::kNumber || token.word->is_in(numbers)) numbers_.push_back(t);
  }
}

void BlockReading::index_mentions() {
  index_.assign(mentions_.items, mentions_.tokens.size());
  cues_.clear();
  cues_.reserve(mentions_.items.size());
  for (std::uint32_t i = 0; i < mentions_.items.size(); ++i) {
    if (mentions_.items[i].kind == MentionKind::kCue) cues_.push_back(i);
  }
}

std::string_view BlockReading::text_of(const Mention& mention) const {
  return std::string_view(block_.text).substr(mention.begin, mention.end - mention.begin);
}

bool BlockReading::is_in_list(ListName list, std::uint32_t token) const {
  if (token >= mentions_.tokens.size()) return false;
  const WordList* words = lexicon_.grammars().list(list);
  if (words == nullptr) return false;
  std::string_view text = folded(token);
  if (!text.ends_with("'s")) return !value_in(words, token).empty();
  text.remove_suffix(2);
  return !words->value_of(text).empty();
}

std::uint32_t BlockReading::next_of(ListName list, std::uint32_t from, std::uint32_t to) const {
  if (!has_word_of(list)) return to;
  const WordList* words = lexicon_.grammars().list(list);
  const std::uint32_t end = std::min(to, static_cast<std::uint32_t>(mentions_.tokens.size()));
  for (std::uint32_t t = from; t < end; ++t) {
    if (mentions_.tokens[t].word->is_in(words)) return t;
  }
  return to;
}

bool BlockReading::stands_between(std::uint32_t from, std::uint32_t to, ListName list) const {
  return from < to && next_of(list, from, to) < to;
}

// "The panel marked 'X12'", "a plate stamped X12": right before the token stands a number that is
// written on something else than the aircraft.
bool BlockReading::is_inscription_before(std::uint32_t token) const {
  std::uint32_t end = token;
  while (end > 0 && mentions_.tokens[end - 1].kind == TokenKind::kMark && word(end - 1) != ",")
    --end;
  const Mention* number = mention_ending_at(end);
  if (number == nullptr || number->kind != MentionKind::kAirframe) return false;
  std::uint32_t verb = number->first;
  while (verb > 0 && mentions_.tokens[verb - 1].kind == TokenKind::kMark) --verb;
  if (verb == 0 || !is_in("inscribing_verb", verb - 1)) return false;
  for (std::uint32_t t = begin_of_sentence(verb); t < verb; ++t) {
    if (is_in("machine_noun", t) || mention_over(MentionKind::kType, t) != nullptr) return false;
  }
  return true;
}

// Whether nothing stands before the token in its sentence but such as "behind the cockade".
bool BlockReading::opens_past_phrase(std::uint32_t token) const {
  const std::uint32_t first = begin_of_sentence(token);
  if (first == token) return true;
  if (!is_in("object_preposition", first) && !is_in("surface_preposition", first)) return false;
  for (std::uint32_t t = first; t < token; ++t) {
    if (mentions_.tokens[t].kind == TokenKind::kMark || is_in("wearing_verb", t) ||
        is_in("being_word", t) || is_in("event_conjunction", t))
      return false;
  }
  return mention_ending_at(token) != nullptr;
}

// Whether a semicolon parts them that has a date before it.
bool BlockReading::stands_apart(std::uint32_t from, std::uint32_t to) const {
  for (std::uint32_t t = from; t < to; ++t) {
    if (word(t) != ";") continue;
    return any_mention(MentionKind::kDate,
                       [&](const Mention& date) { return date.first >= from && date.last <= t; });
  }
  return false;
}

// Whether the token may be a verb of its own clause.
bool BlockReading::tells_verb(std::uint32_t token) const {
  if (is_in("event_auxiliary", token) || is_in("pluperfect_auxiliary", token) ||
      is_in("story_verb", token) || is_in("pick_verb", token))
    return true;
  const Spelling w = folded(token);
  if (w.ends_with("ed") || w.ends_with("ing")) return true;
  return is_in_event(token);
}

bool BlockReading::is_in_event(std::uint32_t token) const {
  const auto events = index_.of("cue_event");
  return std::any_of(events.begin(), events.end(), [&](std::uint32_t c) {
    return mentions_.items[c].first <= token && token < mentions_.items[c].last;
  });
}

// Whether a word for taking pictures stands between.
bool BlockReading::says_taken(std::uint32_t from, std::uint32_t to) const {
  for (std::uint32_t t = from; t < to; ++t) {
    // "Stayed for another two years": no other view.
    if (is_in("order_taken", t) && !is_in("number", t + 1) && !is_in("date_periods", t + 1))
      return true;
  }
  return false;
}

// Whether "and" or a semicolon parts the two tokens.
bool BlockReading::is_parted(std::uint32_t from, std::uint32_t to) const {
  for (std::uint32_t t = from; t < to; ++t) {
    const Spelling w = office(t);
    if (w == "and" || w == ";") return true;
  }
  return false;
}

bool BlockReading::is_past_semicolon(std::uint32_t from, std::uint32_t to) const {
  for (std::uint32_t t = from; t < to; ++t) {
    if (word(t) == ";") return true;
  }
  return false;
}

bool BlockReading::is_parted_by_colon(std::uint32_t from, std::uint32_t to) const {
  for (std::uint32_t t = from; t < to; ++t) {
    if (word(t) == ":" && t > from) return true;
  }
  return false;
}

std::uint32_t BlockReading::end_of_aside(std::uint32_t first, std::uint32_t most_words) const {
  const auto count = static_cast<std::uint32_t>(mentions_.tokens.size());
  for (std::uint32_t t = first; t < count && t - first <= most_words; ++t) {
    if (clauses_.sentence_of[t] != clauses_.sentence_of[first] || word(t) == ";") break;
    if (word(t) == ",") return t > first ? t + 1 : kNone;
  }
  return kNone;
}

// Whether a segment of one or two words, set apart by commas, begins at the token: ", curiously,".
bool BlockReading::is_aside_at(std::uint32_t token) const {
  constexpr std::uint32_t kMostWords = 2;
  return end_of_aside(token, kMostWords) != kNone;
}

bool BlockReading::is_close(std::uint32_t last, std::uint32_t first) const {
  if (last > first) return false;
  // "X12, No 57 of the School": the sign without its point, and no "no".
  const auto is_sign = [&](std::uint32_t t) {
    return mentions_.tokens[t].capital && t + 1 < mentions_.tokens.size() &&
           mentions_.tokens[t + 1].kind == TokenKind::kNumber;
  };
  for (std::uint32_t t = last; t < first; ++t) {
    const Spelling w = office(t);
    if (mentions_.tokens[t].kind != TokenKind::kMark && w != "a" && w != "coded" && w != "the" &&
        (w != "no" || (t + 1 >= first && !is_sign(t))) && w != "number") {
      return false;
    }
    const bool is_stop = w == "." && (t == 0 || office(t - 1) != "no");
    if (is_stop || w == ";") return false;
  }
  return first - last <= 3;
}

// "The letter, dropped in 1941, was to return": the statement goes on past an aside between commas.
std::uint32_t BlockReading::segment_past_aside(std::uint32_t token) const {
  const auto count = static_cast<std::uint32_t>(mentions_.tokens.size());
  const std::uint32_t opens = end_of_aside(token, count);
  const std::uint32_t past = opens < count ? end_of_aside(opens, count) : kNone;
  const bool goes_on = past < count && clauses_.sentence_of[past] == clauses_.sentence_of[token];
  return goes_on ? clauses_.segment_of[past] : kNone;
}

const Mention* BlockReading::mention_over(MentionKind kind, std::uint32_t token) const {
  for (const Mention& mention : mentions_of(kind)) {
    if (mention.first > token) break;
    if (token < mention.last) return &mention;
  }
  return nullptr;
}

// The name, date, measure or the like of which the token is part; cues are none.
const Mention* BlockReading::mention_at(std::uint32_t token) const {
  const std::uint32_t i = index_.name_over(token);
  return i == kNone ? nullptr : &mentions_.items[i];
}

const Mention* BlockReading::mention_ending_at(std::uint32_t token) const {
  const Mention* cue = nullptr;
  for (const Mention& mention : mentions_.items) {
    if (mention.first >= token) break;
    if (mention.last != token) continue;
    if (mention.kind != MentionKind::kCue) return &mention;
    if (cue == nullptr || mention.role == "cue_pronoun") cue = &mention;
  }
  return cue;
}

// The words of a count as one mention.
Mention BlockReading::words_of(std::uint32_t first, std::uint32_t last) const {
  Mention mention;
  mention.first = first;
  mention.last = last;
  mention.begin = mentions_.tokens[first].begin;
  mention.end = mentions_.tokens[last - 1].end;
  mention.why = "a number and what it counts";
  return mention;
}

bool BlockReading::is_possessive(const Mention& mention) const {
  const Spelling last = word(mention.last - 1);
  if (last.ends_with("'s") || last.ends_with("\xE2\x80\x99s")) return true;
  // "61's": figures, a mark and a letter.
  if (last == "s" && mention.last - mention.first > 2 &&
      (word(mention.last - 2) == "'" || word(mention.last - 2) == "\xE2\x80\x99"))
    return true;
  return mention.last + 1 < mentions_.tokens.size() &&
         mentions_.tokens[mention.last].begin == mention.end &&
         (word(mention.last) == "'" || word(mention.last) == "\xE2\x80\x99");
}

// "Sgt Vardle", "Wg Cdr P. Crewe": where the rank before a name begins.
std::uint32_t BlockReading::begin_of_name(const Mention& person) const {
  std::uint32_t first = person.first;
  while (first > 0) {
    const bool point = word(first - 1) == "." && first > 1;
    const Mention* rank = mention_over(MentionKind::kRank, first - (point ? 2 : 1));
    if (rank == nullptr || rank->first >= first) break;
    first = rank->first;
  }
  return first;
}

// Past awards behind a name: "Brackett FM and Bar,".
std::uint32_t BlockReading::end_of_name(const Mention& person) const {
  std::uint32_t last = person.last;
  while (last < mentions_.tokens.size() &&
         (mention_over(MentionKind::kAward, last) != nullptr ||
          (word(last) == "," && mention_over(MentionKind::kAward, last + 1) != nullptr))) {
    ++last;
  }
  return last;
}

// Whether anything is named between the two tokens.
bool BlockReading::names_between(std::uint32_t from, std::uint32_t to) const {
  return std::any_of(mentions_.items.begin(), mentions_.items.end(), [&](const Mention& other) {
    return other.kind != MentionKind::kCue && other.first >= from && other.last <= to;
  });
}

const Mention* BlockReading::cue_before(const Mention& mention, CueName list,
                                        std::uint32_t reach) const {
  const Mention* found = nullptr;
  for (const std::uint32_t c : index_.of(list)) {
    const Mention& cue = mentions_.items[c];
    if (cue.last > mention.first) break;
    if (mention.first - cue.last <= reach &&
        clauses_.sentence_of[cue.first] == clauses_.sentence_of[mention.first]) {
      found = &cue;
    }
  }
  return found;
}

const Mention* BlockReading::cue_in_clause(std::uint32_t token, CueName list) const {
  for (const std::uint32_t c : index_.of(list)) {
    const Mention& cue = mentions_.items[c];
    if (clauses_.clause_of[cue.first] == clauses_.clause_of[token]) return &cue;
  }
  return nullptr;
}

const Mention* BlockReading::cue_in_segment(std::uint32_t token, CueName list) const {
  for (const std::uint32_t c : index_.of(list)) {
    const Mention& cue = mentions_.items[c];
    if (clauses_.segment_of[cue.first] == clauses_.segment_of[token]) return &cue;
  }
  return nullptr;
}

// Whether a word is part of what bounds a date: "no earlier than", "not before".
bool BlockReading::bounds_date(const Mention& cue) const {
  return std::any_of(mentions_.dates.begin(), mentions_.dates.end(), [&](const DateMention& date) {
    return date.bound_begin <= cue.begin && cue.end <= date.end;
  });
}

// "It had been EB-26 with them and PH-06 before": what follows a pluperfect in its clause, and what
// stands before it in its segment, is of an earlier time.
bool BlockReading::is_past(const Mention& mention) const {
  for (const std::uint32_t c : index_.of("cue_pluperfect")) {
    const Mention& cue = mentions_.items[c];
    if (is_unreal_past(cue.first)) continue;
    if (clauses_.segment_of[cue.first] == clauses_.segment_of[mention.first]) return true;
    if (cue.first < mention.first &&
        clauses_.clause_of[cue.first] == clauses_.clause_of[mention.first])
      return true;
  }
  return false;
}

// Whether a verb of what lasts stands before the token in its clause, and none of taking pictures.
bool BlockReading::has_state_verb(std::uint32_t token) const {
  bool has_verb = false;
  for (std::uint32_t t = clauses_.clauses[clauses_.clause_of[token]].first; t < token; ++t) {
    if (is_in("picture_taken", t)) return false;
    has_verb = has_verb || is_in("state_verb", t);
  }
  return has_verb;
}

// Whether nothing but dates, types and articles stands before the serial in its sentence.
bool BlockReading::opens_sentence(const Mention& serial) const {
  const std::uint32_t sentence = clauses_.sentence_of[serial.first];
  for (std::uint32_t t = serial.first; t > 0 && clauses_.sentence_of[t - 1] == sentence; --t) {
    const std::uint32_t at = t - 1;
    const bool is_aside = mentions_.tokens[at].kind == TokenKind::kMark ||
                          is_in("determiner", at) || is_in("machine_noun", at) ||
                          is_in("year_preposition", at) ||
                          mention_over(MentionKind::kType, at) != nullptr ||
                          mention_over(MentionKind::kDate, at) != nullptr;
    if (!is_aside) return false;
  }
  return true;
}

// Where the statement of the token begins: behind the last semicolon of its sentence, or with it.
std::uint32_t BlockReading::begin_of_statement(std::uint32_t token) const {
  std::uint32_t first = token;
  while (first > 0 && clauses_.sentence_of[first - 1] == clauses_.sentence_of[token] &&
         word(first - 1) != ";")
    --first;
  return first;
}

std::uint32_t BlockReading::end_of_statement(std::uint32_t token) const {
  const auto count = static_cast<std::uint32_t>(mentions_.tokens.size());
  std::uint32_t end = token;
  while (end < count && clauses_.sentence_of[end] == clauses_.sentence_of[token] &&
         word(end) != ";")
    ++end;
  return end;
}

// A label ("Fig. 3.") is no sentence of its own here: something must have been told before.
bool BlockReading::is_in_later_sentence(std::uint32_t token) const {
  return std::any_of(mentions_.items.begin(), mentions_.items.end(), [&](const Mention& other) {
    return other.kind != MentionKind::kCue && other.kind != MentionKind::kReference &&
           clauses_.sentence_of[other.first] < clauses_.sentence_of[token];
  });
}

// "It", "She", "This aircraft" as the subject of a clause ("On 2 March it joined"), not "its"
// somewhere in it; but "On 19 April its float was holed" is about the machine.
bool BlockReading::pronoun_opens(std::uint32_t clause) const {
  const std::uint32_t begin = clauses_.clauses[clause].first;
  for (const std::uint32_t c : index_.of("cue_pronoun")) {
    const Mention& cue = mentions_.items[c];
    if (cue.value != "it" || cue.first < begin) continue;
    const Spelling w = office(cue.first);
    const bool is_possessive = w == "its" || w == "her";
    if (!is_possessive && cue.first <= begin + 2) return true;
    // "Its fuselage bore the gold centre".
    const bool has_part = any_cue("cue_position", [&](const Mention& part) {
      return part.first == cue.last && is_possessive && cue.first == begin;
    });
    if (has_part) return true;
    if (follows_only_date(begin, cue.first)) return true;
    if (!is_possessive && clauses_.sentence_of[cue.first] == clauses_.sentence_of[begin] &&
        phrase_before(cue.first) != kNone)
      return true;
  }
  return false;
}

// "He", "she", "they" as the subject of a clause.
bool BlockReading::opens_with_pronoun(std::uint32_t clause) const {
  const Clause& own = clauses_.clauses[clause];
  return own.first < mentions_.tokens.size() && is_in("person_pronoun", own.first);
}

// Whether the tokens are a date with its preposition, and nothing more.
bool BlockReading::follows_only_date(std::uint32_t begin, std::uint32_t end) const {
  const Mention* date = nullptr;
  for (const Mention& mention : mentions_.items) {
    if (mention.first >= end) break;
    if (mention.kind == MentionKind::kDate && mention.first >= begin) date = &mention;
  }
  if (date == nullptr || date->first > begin + 1) return false;
  for (std::uint32_t t = date->last; t < end; ++t) {
    if (mentions_.tokens[t].kind != TokenKind::kMark) return false;
  }
  return true;
}

// Marks and words that only join a number to its serials.
bool BlockReading::is_joint(std::uint32_t from, std::uint32_t to) const {
  constexpr std::uint32_t kLongest = 8;
  if (to < from || to - from > kLongest) return false;
  for (std::uint32_t t = from; t < to; ++t) {
    const Spelling w = word(t);
    const bool is_mark =
        w == "," || w == "(" || w == ")" || w == ":" || w == "\xE2\x80\x94" || w == "\xE2\x80\x93";
    if (!is_mark && !is_in("count_joint", t) && !is_in("cue_hedge", t)) return false;
  }
  return true;
}

// Whether a word for "delivered" and nothing more is behind the noun, as against "with No. 31" or
// "to reach the islands".
bool BlockReading::says_made(std::uint32_t token) const {
  const std::uint32_t next = end_of_made(token);
  // "built at Murrow": some of them only.
  return next != kNone &&
         (next >= mentions_.tokens.size() || mentions_.tokens[next].kind == TokenKind::kMark);
}

// Where the words "to be delivered" or the like end that begin here.
std::uint32_t BlockReading::end_of_made(std::uint32_t token) const {
  const WordList* made = lexicon_.grammars().list("count_made");
  if (made == nullptr || token >= mentions_.tokens.size()) return kNone;
  constexpr std::uint32_t kLongest = 5;  // "to be taken on charge"
  for (std::uint32_t length = 1; length <= kLongest; ++length) {
    if (token + length > mentions_.tokens.size()) break;
    const std::uint32_t begin = mentions_.tokens[token].begin;
    const std::uint32_t end = mentions_.tokens[token + length - 1].end;
    if (!made->value_of(fold(std::string_view(block_.text).substr(begin, end - begin))).empty())
      return token + length;
  }
  return kNone;
}

// "At the School afterwards, she had yellow floats": words with a preposition that a sentence opens
// with, up to a comma.
bool BlockReading::is_in_fronted_words(std::uint32_t token) const {
  const std::uint32_t segment = clauses_.segment_of[token];
  std::uint32_t first = token;
  while (first > 0 && clauses_.segment_of[first - 1] == segment) --first;
  return begin_of_sentence(first) == first && is_in("object_preposition", first);
}

// "Once X12 and, with the First, D-5, this machine was a trainer": what stands before the subject
// of a sentence that opens so is of another time. "Once the paint had dried" has a verb there.
bool BlockReading::is_behind_former_opening(std::uint32_t token) const {
  const std::uint32_t first = begin_of_sentence(token);
  if (first == token || !is_in("former_opening", first)) return false;
  for (std::uint32_t t = first + 1; t < token; ++t) {
    const bool is_subject =
        is_in("story_subject", t) || (office(t) == "this" && !is_in("date_periods", t + 1));
    if (is_subject || tells_verb(t)) return false;
  }
  return true;
}

// Only words that add nothing, and dates, between two places.
bool BlockReading::is_idle_between(std::uint32_t from, std::uint32_t to) const {
  constexpr std::uint32_t kLongest = 8;
  if (to < from || to - from > kLongest) return false;
  for (std::uint32_t t = from; t < to; ++t) {
    const bool is_idle = is_in("event_auxiliary", t) || is_in("pluperfect_auxiliary", t) ||
                         is_in("being_word", t) || is_in("event_aside", t) || office(t) == "of" ||
                         office(t) == "in" || office(t) == "on" || folded(t) == "first" ||
                         word(t) == "(" || word(t) == ")" ||
                         mention_over(MentionKind::kDate, t) != nullptr;
    if (!is_idle) return false;
  }
  return true;
}

// "Can just be made out on the upper wing": so many of these words say no more than that it is
// seen.
std::uint32_t BlockReading::words_of_seeing(std::uint32_t from, std::uint32_t to) const {
  std::uint32_t count = 0;
  for (std::uint32_t t = from; t < to; ++t) count += is_in("seeing_word", t) ? 1 : 0;
  return count;
}

}  // namespace tailproof
