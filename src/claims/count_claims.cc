// How many, and which place among its kind. A number counts only where a type, a mark or a word for
// aircraft follows it; what is counted is then a range of serials beside it, all of a type, or a
// share of those.
#include <algorithm>
#include <cstdlib>
#include <set>

#include "claims/assembler.h"
#include "claims/counts.h"
#include "claims/identities.h"
#include "grammars/fold.h"
#include "mentions/pattern_matcher.h"

namespace tailproof {

namespace {

// What became of machines that were built or delivered, as Count::fate.
constexpr const char* kMade = "taken_on_charge";

}  // namespace

// A type with its mark, a bare mark of the type last named, or a word for aircraft.
void BlockAssembler::read_noun(Counted& counted, std::uint32_t token) const {
  constexpr std::uint32_t kMostAdjectives = 3;
  counted.noun = counted.last = token;
  for (std::uint32_t i = 0; i < kMostAdjectives && is_in("count_adjective", token); ++i) ++token;
  if (token >= mentions_.tokens.size()) return;
  if (const Mention* mention = mention_at(token)) {
    if (mention->kind != MentionKind::kType || mention->first != token) return;
    // "Ten Mk II Packhorses": the mark before its type.
    const Mention* type =
        mention->last < mentions_.tokens.size() ? mention_at(mention->last) : nullptr;
    const bool is_mark_before = type != nullptr && type->kind == MentionKind::kType &&
                                type->first == mention->last && type->detail.empty() &&
                                type->readings.empty() && !mention->detail.empty();
    std::string mark;
    if (is_mark_before && mark_ending(token, type->value, mark) == mention->last) {
      counted.count.type = type->value;
      counted.count.mark = mark;
      counted.noun = token;
      counted.last = type->last;
      counted.is_plural = type->plural || block_.text[type->end - 1] == 's';
      return;
    }
    if (!mention->readings.empty()) return;
    counted.count.type = mention->value;
    counted.count.mark = mention->detail;
    counted.noun = token;
    counted.last = mention->last;
    counted.is_plural = mention->plural || block_.text[mention->end - 1] == 's';
    // "The twelve Series 1 machines".
    if (!mention->detail.empty() && is_in("count_noun", counted.last)) ++counted.last;
    // "Ten Packhorses of the first mark": the mark by its place among those of the type.
    const std::uint32_t of = mention->last;
    const bool has_mark = counted.count.mark.empty() && office(of) == "of" &&
                          office(of + 1) == "the" && is_in("mark_noun", of + 3);
    const WordList* ordinals = lexicon_.grammars().list("count_ordinal");
    if (!has_mark || ordinals == nullptr) return;
    const std::string place(value_in(ordinals, of + 2));
    for (const MarkForm& form : lexicon_.marks_of(mention->value)) {
      if (form.words != std::vector<std::string>{place}) continue;
      counted.count.mark = form.mark;
      counted.last = of + 4;
    }
    return;
  }
  if (is_in("count_noun", token)) {
    counted.noun = token;
    counted.last = token + 1;
    return;
  }
  // "F113 to F120, nine in all".
  for (const std::uint32_t length : {2U, 1U}) {
    if (token + length > mentions_.tokens.size()) continue;
    const std::uint32_t begin = mentions_.tokens[token].begin;
    const WordList* totals = lexicon_.grammars().list("count_total");
    const std::string words =
        fold(std::string_view(block_.text)
                 .substr(begin, mentions_.tokens[token + length - 1].end - begin));
    if (totals == nullptr || totals->value_of(words).empty()) continue;
    counted.noun = token;
    counted.last = token + length;
    // "Of the Plovers there were sixteen in all".
    const Mention* type = type_counted_of(counted.first);
    if (type == nullptr) return;
    counted.count.type = type->value;
    counted.count.mark = type->detail;
    counted.is_plural = true;
    return;
  }
}

BlockAssembler::Counted BlockAssembler::read_count(std::uint32_t token) const {
  Counted counted;
  counted.first = token;
  counted.noun = counted.last = token;
  const WordList* numbers = lexicon_.grammars().list("number");
  const WordList* ordinals = lexicon_.grammars().list("count_ordinal");
  if (numbers == nullptr || ordinals == nullptr) return counted;
  const auto value = [this](const WordList* list, std::uint32_t of) {
    return std::atoi(std::string(value_in(list, of)).c_str());
  };
  std::uint32_t last = token;
  std::uint32_t end = token + 1;
  int tens = value(numbers, token);
  const bool is_compound =
      end + 1 < mentions_.tokens.size() && word(end) == "-" && tens >= 20 && tens % 10 == 0;
  if (is_compound) {
    last = end + 1;
    end += 2;
  } else {
    tens = 0;
  }
  Count& count = counted.count;
  if (const int number = value(numbers, last); number > 0) {
    count.number = tens + number;
  } else if (const int ordinal = value(ordinals, last); ordinal != 0) {
    count.is_place = ordinal > 0;
    count.is_last = ordinal < 0;
    if (ordinal > 0) count.number = tens + ordinal;
  } else if (mentions_.tokens[token].kind == TokenKind::kNumber) {
    count.number = std::atoi(std::string(word(last)).c_str());
  } else if (mentions_.tokens[token].kind == TokenKind::kMixed) {
    count.is_place = true;  // "34th"
    count.number = std::atoi(std::string(word(last)).c_str());
  }
  // "the thirty-sixth and last"
  if (count.is_place && end + 1 < mentions_.tokens.size() && office(end) == "and" &&
      value(ordinals, end + 1) < 0) {
    end += 2;
    counted.is_total = true;
    // "The seventeenth and last of the Estrels".
    if (office(end) == "of" && office(end + 1) == "the") end += 2;
  }
  for (std::uint32_t t = token; t-- > 0 && token - t <= 2;) {
    // "Took over six Plovers".
    const bool is_verb = t > 0 && office(t) != "or" && is_in("count_particle", t) &&
                         is_in("count_handing_verb", t - 1);
    if (is_in("count_inexact", t) && !is_verb) count.is_exact = false;
  }
  if (end + 1 < mentions_.tokens.size() && office(end) == "or") count.is_exact = false;
  // "the last of (the) sixteen"
  if (count.is_last && office(end) == "of") {
    std::uint32_t next = end + 1;
    if (next < mentions_.tokens.size() && office(next) == "the") ++next;
    if (next < mentions_.tokens.size() && mention_at(next) == nullptr) {
      const Counted inner = read_count(next);
      const bool is_number = inner.count.number > 0 && !inner.count.is_place;
      if (is_number && inner.has_noun()) {
        count.number = inner.count.number;
        count.is_exact = inner.count.is_exact;
        count.type = inner.count.type;
        count.mark = inner.count.mark;
        counted.noun = inner.noun;
        counted.last = inner.last;
        counted.is_total = true;
        return counted;
      }
      // "The last of the sixteen F.2s": of a mark alone, which only the machine tells the type of.
      // "X12, the last of eleven, was taken on charge on 22 February".
      const bool is_made_behind = word(inner.last) == "," && is_auxiliary(inner.last + 1) &&
                                  end_of_made(inner.last + 2) != kNone;
      if (is_number && inner.last < mentions_.tokens.size() &&
          (mentions_.tokens[inner.last].kind != TokenKind::kMark || is_made_behind)) {
        Counted bare = counted;
        bare.count.number = inner.count.number;
        bare.count.is_exact = inner.count.is_exact;
        bare.is_total = true;
        bare.noun = bare.last = inner.last;
        return bare;
      }
    }
  }
  read_noun(counted, end);
  if (!counted.has_noun()) counted.noun = counted.last = end;
  // "sixty boats and aircraft", "ten Grapnels and two Merlets"
  const std::uint32_t next = counted.last + 1;
  if (counted.has_noun() && next < mentions_.tokens.size() && office(counted.last) == "and") {
    const Mention* other = mention_at(next);
    const bool is_more = is_in("count_noun", next) || is_in("number", next) ||
                         (other != nullptr && other->kind == MentionKind::kType);
    if (is_more) count.is_exact = false;
  }
  return counted;
}

// "Of the fourteen", "twenty in all": how many there are, said in the sentence; 0 where two numbers
// say it, or none does.
int BlockAssembler::number_of_all(std::uint32_t sentence) const {
  int number = 0;
  for (const PatternMatch& match : finder_.matches("count", block_.text, mentions_)) {
    const std::uint32_t token = token_at(match.begin);
    if (clauses_.sentence_of[token] != sentence || mention_at(token) != nullptr) continue;
    const Counted counted = read_count(token);
    const bool is_exact = counted.count.is_exact && !counted.count.is_place;
    if (!is_exact || counted.count.is_last || counted.count.number < 2) continue;
    const bool is_of_all = token > 1 && office(token - 1) == "the" && office(token - 2) == "of" &&
                           mentions_.tokens[token - 2].sentence_start &&
                           (!counted.has_noun() || !counted.count.type.empty()) &&
                           mentions_.tokens[counted.last].kind == TokenKind::kMark;
    const bool is_total = counted.has_noun() && is_in("count_total_word", counted.last - 1);
    if (!is_of_all && !is_total) continue;
    if (number != 0) return 0;
    number = counted.count.number;
  }
  return number;
}

// "Of the fourteen, the last to be delivered was X12", "twenty in all, and X12 was the last to be
// delivered": of the machines of its kind, where they are as many.
bool BlockAssembler::add_last_of_all(const Counted& counted) {
  if (!counted.count.is_last || counted.has_noun()) return false;
  const std::uint32_t end = end_of_made(counted.last);
  if (end == kNone) return false;
  const auto count = static_cast<std::uint32_t>(mentions_.tokens.size());
  const Mention* serial = nullptr;
  for (const Mention& mention : mentions_.items) {
    if (!is_serial(mention)) continue;
    if (mention.last <= counted.first && is_joint(mention.last, counted.first) &&
        (end >= count || mentions_.tokens[end].kind == TokenKind::kMark))
      serial = &mention;
    if (mention.first == end + 1 && is_in("event_auxiliary", end)) serial = &mention;
  }
  const Airframe* row = serial == nullptr ? nullptr : ledger_.airframe(serial->value);
  if (row == nullptr || row->type.empty()) return false;
  const std::uint32_t group =
      group_of_mention_[static_cast<std::size_t>(serial - mentions_.items.data())];
  if (group != kNone && groups_[group].members.size() > 1) return false;
  Claim& claim = add(words_of(counted.first, end), ClaimKind::kCount);
  Count& own = claim.count.own();
  own.is_last = own.is_whole = true;
  own.out_of = number_of_all(clauses_.sentence_of[counted.first]);
  own.is_exact = own.out_of > 0;
  own.type = row->type;
  claim.value = "last";
  claim.subject = serial->value;
  return true;
}

// "Sixteen Plovers had been delivered", "the yard built sixteen Plovers", "the first of sixteen
// Plovers": so many there must be, though these need not be all.
bool BlockAssembler::tells_of_making(const Counted& counted) const {
  if (counted.count.type.empty() || !counted.is_plural) return false;
  if (counted.first > 1 && office(counted.first - 1) == "of") {
    const WordList* ordinals = lexicon_.grammars().list("count_ordinal");
    if (ordinals != nullptr && !value_in(ordinals, counted.first - 2).empty()) return true;
  }
  if (counted.first > 0 && is_in("making_verb", counted.first - 1)) return true;
  std::uint32_t t = counted.last;
  if (is_in("count_total_word", t - 1)) return true;
  if (is_in("count_total_word", t) || is_in("count_total_word", t + 1)) return true;  // "in all"
  bool is_passive = false;
  while (is_in("event_auxiliary", t) || is_in("pluperfect_auxiliary", t) ||
         is_in("making_adverb", t)) {
    is_passive = is_passive || is_in("event_auxiliary", t);
    ++t;
  }
  return is_passive && is_in("making_verb", t);
}

// "S3036, the thirty-fourth F.2", "the last of sixteen Merlet Is, C-118" or "... was C-118".
bool BlockAssembler::add_place(const Counted& counted) {
  if (!counted.count.is_place && !counted.count.is_last) return false;
  const Mention* serial = nullptr;
  for (const Mention& mention : mentions_.items) {
    if (!is_serial(mention)) continue;
    if (mention.last <= counted.first && is_joint(mention.last, counted.first)) serial = &mention;
    const bool behind = mention.first >= counted.last && mention.first - counted.last <= 1 &&
                        (word(counted.last) == "," || is_in("event_auxiliary", counted.last));
    if (behind && serial == nullptr) serial = &mention;
  }
  // "X12, which closed the series, was thus the twentieth and last Mk I delivered".
  if (serial == nullptr) serial = subject_before_place(counted.first);
  if (serial == nullptr && says_made(counted.last)) serial = only_machine_before(counted.first);
  if (serial == nullptr && counted.is_total) serial = pronoun_before_place(counted.first);
  if (serial == nullptr && counted.is_total) serial = machine_behind_mark(counted.last);
  // "X12: Mk I. The last of the sixteen Mk Is. To 9 Squadron": said of the machine of the card.
  const bool opens_sentence = mentions_.tokens[counted.first].sentence_start ||
                              (counted.first > 0 && office(counted.first - 1) == "the" &&
                               mentions_.tokens[counted.first - 1].sentence_start);
  // "X12. 3 May 1936, the last of the sixteen Mk Is to be delivered", of no other.
  const std::uint32_t lead =
      counted.first > 0 && office(counted.first - 1) == "the" ? counted.first - 1 : counted.first;
  const bool is_apposed =
      counted.is_total && lead > 0 && word(lead - 1) == "," &&
      std::count_if(mentions_.items.begin(), mentions_.items.end(),
                    [&](const Mention& mention) { return is_serial(mention); }) == 1;
  if (serial == nullptr && (opens_sentence || is_apposed) && is_entry()) {
    const auto head = std::find_if(mentions_.items.begin(), mentions_.items.end(),
                                   [&](const Mention& mention) { return is_serial(mention); });
    if (head != mentions_.items.end()) serial = &*head;
  }
  if (serial == nullptr) return false;
  const std::uint32_t group =
      group_of_mention_[static_cast<std::size_t>(serial - mentions_.items.data())];
  if (group != kNone && groups_[group].members.size() > 1) return false;
  Counted own = counted;
  // "the thirty-sixth F.2": a mark of the machine's own type.
  const Airframe* row = ledger_.airframe(serial->value);
  if (!own.has_noun() && row != nullptr) {
    const std::uint32_t end = mark_ending(own.last, row->type, own.count.mark);
    if (end > own.last) {
      own.count.type = row->type;
      own.noun = own.last;
      own.is_plural = block_.text[mentions_.tokens[end - 1].end - 1] == 's';
      own.last = end;
    }
  }
  // "L225, the last of the fourteen": of its own mark, if not of its type.
  const bool is_bare_total =
      !own.has_noun() && row != nullptr && own.is_total && own.count.is_last &&
      own.count.number > 2 && !row->type.empty() &&
      (own.last >= mentions_.tokens.size() || mentions_.tokens[own.last].kind == TokenKind::kMark);
  // "X12, the eleventh and last to be built": of its type and mark. "The second Grapnel, KB211" may
  // be the second in the picture; nobody counts so far as thirty.
  constexpr int kMostInPicture = 9;
  const bool is_far = own.is_total || own.count.number > kMostInPicture;
  // "X12, the eleventh and last, was accepted on 22 February".
  const bool is_made =
      says_made(own.last) || (own.is_total && word(own.last) == "," && is_auxiliary(own.last + 1) &&
                              end_of_made(own.last + 2) != kNone);
  // "The Mk III came in May. X12 was the fifth and last of them, taken on charge in June".
  const bool is_of_mark = own.is_total && row != nullptr && is_last_of_them(own, *row);
  const bool is_bare_place = !own.has_noun() && row != nullptr && is_far && own.count.is_place &&
                             !row->type.empty() && (is_made || is_of_mark);
  if (is_of_mark) own.count.mark = row->mark;
  if (is_bare_place) {
    own.count.type = row->type;
    // Of its type, unless the number is that of its mark alone.
    std::set<std::uint32_t> of_mark;
    for (const Airframe* other : ledger_.airframes_of_type(row->type)) {
      if (other->mark == row->mark) of_mark.insert(other->machine);
    }
    if (of_mark.size() == static_cast<std::size_t>(own.count.number)) own.count.mark = row->mark;
    own.noun = own.last - 1;
  }
  if (is_bare_total) {
    std::set<std::string_view> kin;
    for (const Airframe* other : ledger_.airframes_of_type(row->type)) {
      const auto serials = ledger_.serials_of(other->serial);
      kin.insert(serials.empty() ? std::string_view(other->serial) : serials.front());
    }
    if (kin.size() == static_cast<std::size_t>(own.count.number)) return false;
    own.count.type = row->type;
    own.count.mark = row->mark;
    own.noun = own.last - 1;
  }
  if (!own.has_noun() || own.count.type.empty()) return false;
  if (own.is_plural && !own.is_total) return false;  // "the first Mk IIs"
  Claim& claim = add(words_of(own.first, own.last), ClaimKind::kCount);
  claim.count = own.count;
  const bool stands_alone =
      own.last >= mentions_.tokens.size() ||
      (mentions_.tokens[own.last].kind == TokenKind::kMark && word(own.last) != "-") ||
      (serial->first >= own.last && is_in("event_auxiliary", own.last));  // "... was X12"
  // "R2003 was the fifth Grapnel Mk II": of all, in the past tense and with the mark.
  const bool is_told = stands_alone && own.count.is_place && !own.count.mark.empty() &&
                       own.first == serial->last + 2 && is_in("was_word", serial->last) &&
                       office(serial->last + 1) == "the";
  claim.count.own().is_whole =
      says_made(own.last) || is_told || is_bare_place ||
      (stands_alone && (own.is_total || (own.count.is_place && own.count.number > kMostInPicture)));
  claim.value = own.count.is_last ? "last" : std::to_string(own.count.number) + ".";
  claim.value += named(own.count);
  claim.subject = serial->value;
  return true;
}

// "five of the ten Sturne Bs were renumbered": a share, and what became of it.
bool BlockAssembler::add_share(const Counted& counted) {
  if (counted.count.is_place || counted.count.is_last) return false;
  std::uint32_t t = counted.last;
  const std::uint32_t size = static_cast<std::uint32_t>(mentions_.tokens.size());
  while (t < size && (word(t) == "," || office(t) == "out")) ++t;
  if (t + 2 >= size || office(t) != "of") return false;
  ++t;
  if (office(t) == "the") ++t;
  if (t >= size || mention_at(t) != nullptr) return false;
  const Counted whole = read_count(t);
  if (whole.count.number <= counted.count.number || !whole.has_noun() || whole.count.type.empty()) {
    return false;
  }
  Claim& claim = add(words_of(counted.first, whole.last), ClaimKind::kCount);
  claim.count = counted.count;
  claim.count.own().type = whole.count.type;
  claim.count.own().mark = whole.count.mark;
  claim.count.own().out_of = whole.count.number;
  claim.count.own().is_exact = counted.count.is_exact && whole.count.is_exact;
  const std::uint32_t sentence = clauses_.sentence_of[counted.first];
  const WordList* fates = lexicon_.grammars().list("count_fate");
  for (std::uint32_t at = whole.last; at < size && clauses_.sentence_of[at] == sentence; ++at) {
    for (std::uint32_t length = 4; length > 0 && claim.count->fate.empty(); --length) {
      if (at + length > size || fates == nullptr) continue;
      const std::uint32_t begin = mentions_.tokens[at].begin;
      const std::uint32_t end = mentions_.tokens[at + length - 1].end;
      claim.count.own().fate =
          fates->value_of(fold(std::string_view(block_.text).substr(begin, end - begin)));
    }
  }
  claim.value = std::to_string(counted.count.number) + named(*claim.count);
  claim.subject = is_caption() ? figure_subject() : "";
  return true;
}

void BlockAssembler::add_recounted() {
  const bool has_aircraft =
      std::any_of(mentions_.items.begin(), mentions_.items.end(), [](const Mention& mention) {
        return mention.kind == MentionKind::kType || mention.kind == MentionKind::kAirframe;
      });
  if (!has_aircraft) return;
  const std::vector<Serials> all = ranges();
  // "Five Hospitallers were left to the Flight": how many of a type a unit had.
  const auto unit_had = [&](const Counted& counted) -> const Mention* {
    const bool is_number = !counted.count.is_place && !counted.count.is_last && counted.is_plural;
    if (!is_number || counted.count.type.empty()) return nullptr;
    std::uint32_t t = counted.last;
    while (is_in("event_auxiliary", t)) ++t;
    if (!is_in("strength_word", t) || !is_in("strength_preposition", t + 1)) return nullptr;
    t += office(t + 2) == "the" ? 3 : 2;
    const Mention* unit = t < mentions_.tokens.size() ? mention_at(t) : nullptr;
    const bool is_unit = unit != nullptr && unit->kind == MentionKind::kUnit && unit->first == t;
    return is_unit && ledger_.unit(unit->value) != nullptr ? unit : nullptr;
  };
  std::uint32_t free_from = 0;
  for (const PatternMatch& match : finder_.matches("count", block_.text, mentions_)) {
    const std::uint32_t token = token_at(match.begin);
    if (token < free_from || token >= mentions_.tokens.size()) continue;
    if (mention_at(token) != nullptr) continue;  // of a date, a unit, a serial
    const Counted counted = read_count(token);
    if (counted.count.number == 0 && !counted.count.is_last) continue;
    const std::size_t before = out_.size();
    if (add_count_of_range(counted, all) || add_place(counted) || add_last_of_all(counted) ||
        add_share(counted) || add_made(counted)) {
      free_from = counted.last;
    } else if (const Mention* unit = unit_had(counted); unit != nullptr) {
      Claim& claim = add(words_of(counted.first, counted.last), ClaimKind::kCount);
      claim.count = counted.count;
      claim.value = std::to_string(counted.count.number) + named(counted.count);
      claim.subject = unit->value;
    } else if (is_caption() && counted.has_noun() && !counted.count.is_place &&
               !counted.count.is_last && !counted.count.type.empty()) {
      Claim& claim = add(words_of(counted.first, counted.last), ClaimKind::kCount);
      claim.count = counted.count;
      claim.value = std::to_string(counted.count.number) + named(counted.count);
      claim.subject = one_of_counted(counted.first, counted.last);
      if (claim.subject.empty()) claim.subject = figure_subject();
      // "Half of the six Grapnels, X12, X14 and X16": the list may be that of the half.
      const std::uint32_t of = counted.first > 1 && office(counted.first - 1) == "the"
                                   ? counted.first - 2
                               : counted.first > 0 ? counted.first - 1
                                                   : 0;
      const bool is_share = of > 0 && office(of) == "of" && !is_in("count_company_noun", of - 1);
      if (!is_share) claim.count.own().listed = listed_behind(counted.last, counted.count.number);
      if (tells_of_making(counted)) claim.count.own().fate = kMade;
    } else if (is_caption() && counted.has_noun() && counted.count.type.empty() &&
               !counted.count.is_place && !counted.count.is_last && counted.count.number > 1) {
      // "Eight machines": told, of no type that is named.
      Claim& claim = add(words_of(counted.first, counted.last), ClaimKind::kCount);
      claim.value = std::to_string(counted.count.number);
      claim.subject = one_of_counted(counted.first, counted.last);
      if (claim.subject.empty()) claim.subject = figure_subject();
    } else if (block_.kind == BlockKind::kBody && counted.has_noun() && counted.is_plural &&
               !counted.count.is_place && !counted.count.is_last && counted.count.number > 1) {
      // "Eight Halyards came from the Cantons": told of no machine that is named.
      Claim& claim = add(words_of(counted.first, counted.last), ClaimKind::kCount);
      claim.value = std::to_string(counted.count.number) + named(counted.count);
      const int listed = listed_behind(counted.last, counted.count.number);
      if (tells_of_making(counted) || listed > 0) claim.count = counted.count;
      if (tells_of_making(counted)) claim.count.own().fate = kMade;
      if (listed > 0) claim.count.own().listed = listed;
    }
    if (out_.size() > before) {
      free_from = std::max(free_from, token_at(out_.back().end));
    }
  }
}

}  // namespace tailproof
