// "X12 was the seventh Plover to be lost", "2 Wing lost nine Plovers in 1941", "six of the ten
// Plovers were lost", "took over six Plovers from 2 Wing", "there were only ever eight Plovers".
#include "claims/kind_counts.h"

#include <algorithm>
#include <cstdlib>

#include "grammars/fold.h"

namespace tailproof {
namespace {

// "Flew into the ground; crew of four killed": four; 0 where no crew is counted.
int crew_recorded(std::string_view detail, const Grammars& grammars) {
  const WordList* nouns = grammars.list("crew_noun");
  const WordList* numbers = grammars.list("number");
  if (nouns == nullptr || numbers == nullptr) return 0;
  std::vector<std::string> words;
  while (!detail.empty()) {
    const std::size_t end = std::min(detail.find_first_of(" ,;.:()"), detail.size());
    if (end > 0) words.push_back(fold(detail.substr(0, end)));
    detail.remove_prefix(std::min(end + 1, detail.size()));
  }
  for (std::size_t i = 0; i + 2 < words.size(); ++i) {
    if (nouns->value_of(words[i]).empty()) continue;
    const std::string value(numbers->value_of(words[i + 2]));
    if (!value.empty()) return std::atoi(value.c_str());
  }
  return 0;
}

}  // namespace

// "No fewer than", "at least", right before a number.
bool BlockAssembler::KindCounts::is_floor(std::uint32_t first) const {
  const WordList* floors = a_.lexicon_.grammars().list("count_floor");
  constexpr std::uint32_t kLongest = 3;
  for (std::uint32_t length = 2; floors != nullptr && length <= kLongest; ++length) {
    if (first < length) break;
    const auto& tokens = a_.mentions_.tokens;
    const std::uint32_t begin = tokens[first - length].begin;
    const std::string words =
        fold(std::string_view(a_.block_.text).substr(begin, tokens[first - 1].end - begin));
    if (!floors->value_of(words).empty()) return true;
  }
  return false;
}

// "Not", "never" or a plan in the statement: nothing is counted.
bool BlockAssembler::KindCounts::is_denied(std::uint32_t token) const {
  const std::uint32_t sentence = a_.clauses_.sentence_of[token];
  std::uint32_t first = token;
  const auto is_parted = [&](std::uint32_t t) { return a_.word(t) == ";" || a_.word(t) == ":"; };
  while (first > 0 && a_.clauses_.sentence_of[first - 1] == sentence && !is_parted(first - 1))
    --first;
  for (std::uint32_t t = first;
       t < a_.mentions_.tokens.size() && a_.clauses_.sentence_of[t] == sentence && !is_parted(t);
       ++t) {
    if (a_.is_in("count_unmade", t) || a_.is_in("direct_denial", t)) return true;
  }
  return false;
}

// Whether nothing picks some of those counted out: an end, a date, "in all", "to all causes".
bool BlockAssembler::KindCounts::is_whole_behind(std::uint32_t token) const {
  const auto& tokens = a_.mentions_.tokens;
  if (token >= tokens.size() || tokens[token].kind == TokenKind::kMark) return true;
  if (a_.mention_over(MentionKind::kDate, token) != nullptr) return true;
  const bool is_before_date = a_.is_in("count_when_word", token) &&
                              (a_.mention_over(MentionKind::kDate, token + 1) != nullptr ||
                               a_.mention_over(MentionKind::kDate, token + 2) != nullptr);
  if (is_before_date) return true;
  const WordList* wholes = a_.lexicon_.grammars().list("count_whole_words");
  constexpr std::uint32_t kLongest = 4;
  for (std::uint32_t length = 1; wholes != nullptr && length <= kLongest; ++length) {
    if (token + length > tokens.size()) break;
    const std::uint32_t begin = tokens[token].begin;
    const std::string words = fold(
        std::string_view(a_.block_.text).substr(begin, tokens[token + length - 1].end - begin));
    if (!wholes->value_of(words).empty()) return true;
  }
  return false;
}

// A unit that the ledger knows for certain by its name here.
const Mention* BlockAssembler::KindCounts::unit_at(std::uint32_t token) const {
  if (a_.office(token) == "the" || a_.is_in("possessive_word", token)) ++token;
  const Mention* unit = a_.mention_over(MentionKind::kUnit, token);
  const bool is_it = unit != nullptr && unit->first == token && unit->readings.size() < 2 &&
                     a_.ledger_.unit(unit->value) != nullptr;
  return is_it ? unit : nullptr;
}

// The unit named last before a word, in its sentence; none where another thing may be the doer.
const Mention* BlockAssembler::KindCounts::unit_before(std::uint32_t token) const {
  const Mention* unit = nullptr;
  for (const Mention& other : a_.mentions_of(MentionKind::kUnit)) {
    if (other.first >= token) break;
    if (a_.clauses_.sentence_of[other.first] == a_.clauses_.sentence_of[token]) unit = &other;
  }
  const bool is_it =
      unit != nullptr && unit->readings.size() < 2 && a_.ledger_.unit(unit->value) != nullptr;
  return is_it ? unit : nullptr;
}

// Behind "were lost", "had been lost", "to be lost", "lost"; kNone where no such words stand there.
std::uint32_t BlockAssembler::KindCounts::loss_behind(std::uint32_t token) const {
  constexpr std::uint32_t kLongest = 5;
  for (std::uint32_t t = token; t < a_.mentions_.tokens.size() && t - token < kLongest; ++t) {
    if (a_.is_in("count_lost", t)) return a_.is_lost_or_else(t + 1) ? kNone : t + 1;
    const bool is_small = a_.is_auxiliary(t) || a_.is_in("pluperfect_auxiliary", t) ||
                          a_.is_in("making_adverb", t) || a_.office(t) == "to" ||
                          a_.is_in("each_word", t);
    if (!is_small) return kNone;
  }
  return kNone;
}

// The days of the one date in the sentence; without one, or with two, all of them.
BlockAssembler::KindCounts::Window BlockAssembler::KindCounts::window(std::uint32_t token,
                                                                      bool is_pluperfect) const {
  Window window;
  const std::uint32_t sentence = a_.clauses_.sentence_of[token];
  const Mention* only = nullptr;
  for (const Mention& date : a_.mentions_of(MentionKind::kDate)) {
    if (a_.clauses_.sentence_of[date.first] != sentence) continue;
    if (only != nullptr) return window;
    only = &date;
  }
  if (only == nullptr) return window;
  const DateMention& date = a_.mentions_.dates[only->payload];
  const ResolvedDate& resolved = a_.dates_[only->payload];
  const DaySet& days = resolved.plain.is_unknown() ? resolved.date.days() : resolved.plain.days();
  if (resolved.date.is_unknown() || days.empty() || days.is_all() || date.hedged ||
      resolved.impossible || resolved.inherited)
    return window;
  window.is_told = true;
  const bool is_until = date.bound == DateBound::kBy || date.bound == DateBound::kBefore;
  const std::uint32_t before = only->first;
  const bool is_in = before > 0 && a_.is_in("count_when_word", before - 1);
  if (is_until || is_pluperfect) {
    window.days = DaySet({{kFirstDay, days.last()}});
    window.is_sum = is_until;
  } else if (date.bound == DateBound::kNone && is_in) {
    window.days = days;
    window.is_sum = true;
  } else {
    window.is_told = false;
  }
  return window;
}

void BlockAssembler::KindCounts::claim(const Told& told, std::string_view fate,
                                       const Bounds& bounds, bool is_sum, const std::string& unit,
                                       const std::string& machine) {
  const Mention words = a_.words_of(told.first, told.last);
  const auto found = std::find_if(a_.out_.begin() + static_cast<std::ptrdiff_t>(a_.first_claim_),
                                  a_.out_.end(), [&](const Claim& other) {
                                    return other.kind == ClaimKind::kCount &&
                                           other.begin < words.end && words.begin < other.end;
                                  });
  // What is recounted already stays as it is.
  if (found != a_.out_.end() &&
      (found->count->listed > 0 || !found->count->machines.empty() ||
       !found->count->first_serial.empty() || a_.ledger_.unit(found->subject) != nullptr))
    return;
  Claim& own = found != a_.out_.end() ? *found : a_.add(words, ClaimKind::kCount);
  if (found == a_.out_.end()) {
    own.value = std::to_string(told.counted.count.number) + named(told.counted.count);
    own.subject = a_.is_caption() ? a_.figure_subject() : "";
  }
  if (!machine.empty()) own.subject = machine;
  own.negated = false;
  Count& count = own.count.own();
  count.number = told.counted.count.number;
  count.type = told.counted.count.type;
  count.mark = told.counted.count.mark;
  count.fate = fate;
  count.unit = unit;
  count.is_exact = true;
  count.is_place = told.counted.count.is_place;
  count.is_last = told.counted.count.is_last;
  count.is_counted = true;
  count.is_sum = is_sum && !told.is_floor;
  count.least = bounds.least;
  count.most = bounds.most;
  count.machines = bounds.machines;
}

// "She was the seventh Plover to be lost", "the first Plover lost by 2 Wing, X12".
bool BlockAssembler::KindCounts::add_place_lost(const Told& told) {
  const Counted& counted = told.counted;
  std::uint32_t first = counted.first;
  if (first > 0 && (a_.office(first - 1) == "the" || a_.is_in("share_owner", first - 1))) --first;
  const bool is_object = first > 0 && a_.is_in("count_losing", first - 1);
  std::uint32_t end = is_object ? counted.last : loss_behind(counted.last);
  if (end == kNone) return false;
  std::string unit;
  if (a_.is_in("count_by", end)) {
    const Mention* by = unit_at(end + 1);
    if (by == nullptr && !is_whole_behind(end)) return false;
    if (by != nullptr) {
      unit = by->value;
      end = by->last;
    }
  } else if (is_object) {
    const Mention* doer = unit_before(first);
    if (doer != nullptr) unit = doer->value;
  }
  const auto& tokens = a_.mentions_.tokens;
  const bool is_over = end >= tokens.size() || tokens[end].kind == TokenKind::kMark ||
                       a_.is_in("event_conjunction", end) || a_.is_in("was_word", end);
  if (!is_over && !(is_whole_behind(end) && a_.mention_over(MentionKind::kDate, end) == nullptr &&
                    !a_.is_in("count_when_word", end)))
    return false;
  // "The seventh Plover lost, X12", "... was X12".
  const Mention* serial = nullptr;
  for (const Mention& other : a_.mentions_of(MentionKind::kAirframe)) {
    const bool is_behind = other.first == end + 1 && (a_.word(end) == "," || a_.word(end) == ":" ||
                                                      a_.is_in("was_word", end));
    if (other.role.empty() && is_behind) serial = &other;
  }
  if (serial == nullptr) serial = a_.only_machine_before(first);
  if (serial == nullptr) serial = a_.pronoun_before_place(counted.first);
  if (serial == nullptr) return false;
  const Bounds bounds = place_among_lost(counted.count, unit, serial->value, counted.count.is_last);
  if (bounds.most == 0) return false;
  Told own = told;
  own.last = std::max(counted.last, is_object ? counted.last : loss_behind(counted.last));
  if (counted.count.is_last) own.counted.count.number = 1;
  claim(own, "lost", bounds, true, unit, std::string(serial->value));
  return true;
}

// "The losses of 2 Wing came to", "1941 cost 2 Wing": before the number.
bool BlockAssembler::KindCounts::is_sum_of_losses(std::uint32_t end) const {
  if (!a_.has_word_of("loss_noun") && !a_.has_word_of("cost_verb")) return false;
  const std::uint32_t sentence = a_.clauses_.sentence_of[end];
  const Mention* unit = a_.mention_ending_at(end);
  if (unit != nullptr && unit->kind == MentionKind::kUnit) {
    const std::uint32_t lead = unit->first - (a_.office(unit->first - 1) == "the" ? 1 : 0);
    return lead > 0 && a_.is_in("cost_verb", lead - 1);
  }
  if (end < 2 || a_.office(end - 1) != "to" || !a_.is_in("amounting_verb", end - 2)) return false;
  for (std::uint32_t t = end - 2; t-- > 0 && a_.clauses_.sentence_of[t] == sentence;) {
    if (a_.is_in("loss_noun", t)) return true;
  }
  return false;
}

// "2 Wing lost nine Plovers in 1941", "nine Plovers were lost by 2 Wing".
bool BlockAssembler::KindCounts::add_lost(const Told& told) {
  const Counted& counted = told.counted;
  std::uint32_t before = told.first;
  while (before > 0 && (a_.is_in("count_inexact", before - 1) || a_.office(before - 1) == "no" ||
                        a_.is_in("count_lead_word", before - 1)))
    --before;
  const bool is_object =
      before > 0 && (a_.is_in("count_losing", before - 1) || is_sum_of_losses(before));
  std::uint32_t behind = counted.last;
  // "Six Plovers out of ten were lost".
  if (a_.office(behind) == "out" && a_.office(behind + 1) == "of" && a_.is_in("number", behind + 2))
    behind = a_.read_count(behind + 2).last;
  std::uint32_t end = is_object ? counted.last : loss_behind(behind);
  if (end == kNone) return false;
  std::string unit;
  if (is_object) {
    // "Lost two Plovers to 3 Wing": handed over.
    if (a_.office(end) == "to" && !is_whole_behind(end)) return false;
    const Mention* doer = unit_before(before);
    if (doer != nullptr) unit = doer->value;
  } else if (a_.is_in("count_by", end)) {
    if (const Mention* by = unit_at(end + 1)) {
      unit = by->value;
      end = by->last;
    }
  }
  const bool is_pluperfect =
      a_.stands_between(a_.begin_of_sentence(told.first), end, "pluperfect_auxiliary");
  Window told_days = window(told.first, is_pluperfect);
  const bool is_whole = is_whole_behind(end);
  const Rows rows = kin(counted.count);
  if (rows.empty()) return true;
  const Bounds bounds = lost(rows, unit, told_days.days);
  const bool is_whose = !is_object || !unit.empty();
  claim(told, "lost", bounds, told_days.is_sum && is_whole && is_whose, unit);
  if (is_whole && is_whose && !told_days.is_told) add_places_behind(told, unit);
  return true;
}

// "Six of the ten Plovers were lost", "of the ten Plovers six had been lost", "2 Wing lost six of
// its ten Plovers"; and how many of them survived.
bool BlockAssembler::KindCounts::add_share_lost(const Told& told) {
  const Counted& whole = told.counted;
  const std::uint32_t the = whole.first == 0 ? 0 : whole.first - 1;
  if (the < 1 || (a_.office(the) != "the" && !a_.is_in("share_owner", the)) ||
      a_.office(the - 1) != "of")
    return false;
  Told share = told;
  std::uint32_t end = whole.last;
  const std::uint32_t of = the - 1;
  const std::uint32_t sentence = a_.clauses_.sentence_of[of];
  const bool is_fronted = a_.mentions_.tokens[of].sentence_start ||
                          (of > 0 && (a_.mentions_.tokens[of - 1].kind == TokenKind::kMark ||
                                      a_.is_in("event_conjunction", of - 1)));
  if (is_fronted) {
    // "Of the ten Plovers that came, no fewer than six were lost".
    constexpr std::uint32_t kReach = 24;
    const auto count = static_cast<std::uint32_t>(a_.mentions_.tokens.size());
    std::uint32_t t = whole.last;
    while (t < count && t - whole.last < kReach && a_.clauses_.sentence_of[t] == sentence &&
           (a_.number_told(t) < 2 || a_.mention_at(t) != nullptr) && !a_.is_in("number", t))
      ++t;
    if (t >= count || a_.clauses_.sentence_of[t] != sentence) return false;
    const Counted part = a_.read_count(t);
    if (part.has_noun() || part.count.number < 2) return false;
    share.first = t;
    share.last = end = part.last;
    share.counted.count.number = part.count.number;
  } else {
    if (of == 0) return false;
    const std::uint32_t first =
        of > 2 && a_.word(of - 2) == "-" && a_.is_in("number", of - 3) ? of - 3 : of - 1;
    const Counted part = a_.read_count(first);
    if (part.count.number < 2 || part.count.is_place || part.last != of) return false;
    share.first = first;
    share.last = whole.last;
    share.counted.count.number = part.count.number;
  }
  if (a_.mention_at(share.first) != nullptr) return false;
  share.is_floor = is_floor(share.first);
  const bool is_inexact = share.first > 0 && !share.is_floor &&
                          (a_.is_in("count_inexact", share.first - 1) ||
                           (share.first > 1 && a_.is_in("count_inexact", share.first - 2)));
  if (is_inexact) return true;
  const std::uint32_t loss = loss_behind(end);
  const std::uint32_t before = share.first > 0 ? share.first - 1 : 0;
  const bool is_object = a_.is_in("count_losing", before);
  const auto size = static_cast<int>(kin(whole.count).size());
  const bool is_all = size == whole.count.number;
  if (size == 0) return false;
  if (loss != kNone || is_object) {
    std::string unit;
    if (is_object) {
      const Mention* doer = unit_before(before);
      if (doer != nullptr) unit = doer->value;
    }
    const bool is_pluperfect =
        a_.stands_between(a_.begin_of_sentence(share.first), end + 2, "pluperfect_auxiliary");
    const Window told_days = window(share.first, is_pluperfect);
    const bool has_dates = a_.any_mention(MentionKind::kDate, [](const Mention&) { return true; });
    const bool is_sum = is_all && loss != kNone && is_whole_behind(loss) &&
                        (told_days.is_told ? told_days.is_sum : !has_dates && !is_pluperfect);
    claim(share, "lost", lost(kin(whole.count), unit, told_days.days), is_sum, unit);
    return true;
  }
  return is_all && add_survivors(share, end);
}

// "Five Plovers survived the war", "five of the eight survived": of all that there were.
bool BlockAssembler::KindCounts::add_survivors(const Told& told, std::uint32_t verb) {
  if (!a_.is_in("count_survived", verb)) return false;
  // "Survived the gale" tells of that day.
  constexpr std::uint32_t kReach = 4;
  const auto& tokens = a_.mentions_.tokens;
  bool is_to_end = verb + 1 >= tokens.size() || tokens[verb + 1].kind == TokenKind::kMark;
  for (std::uint32_t t = verb + 1; t < tokens.size() && t <= verb + kReach; ++t)
    is_to_end = is_to_end || a_.is_in("war_end", t);
  const auto size = static_cast<int>(kin(told.counted.count).size());
  if (!is_to_end || size == 0) return false;
  const Bounds gone = lost(kin(told.counted.count), {}, DaySet::all());
  claim(told, "survived", {0, size - gone.least, gone.machines}, false);
  return true;
}

// "3 Wing took over six Plovers from 2 Wing", "six Plovers were transferred from 2 Wing to 3 Wing",
// "2 Wing handed six Plovers to its successor, 3 Wing".
bool BlockAssembler::KindCounts::add_handed_over(const Told& told) {
  const Counted& counted = told.counted;
  constexpr std::uint32_t kReach = 8;
  const Mention* giver = nullptr;
  const Mention* taker = nullptr;
  const auto count = static_cast<std::uint32_t>(a_.mentions_.tokens.size());
  const std::uint32_t sentence = a_.clauses_.sentence_of[told.first];
  bool has_verb = false;
  for (std::uint32_t t = a_.begin_of_sentence(told.first); t < told.first; ++t)
    has_verb = has_verb || a_.is_in("count_handing_verb", t);
  for (std::uint32_t t = counted.last;
       t < count && t - counted.last < kReach && a_.clauses_.sentence_of[t] == sentence; ++t) {
    if (a_.word(t) == ";" || a_.word(t) == ":") break;
    has_verb = has_verb || a_.is_in("count_handing_verb", t);
    if (a_.office(t) == "from" && giver == nullptr) giver = unit_at(t + 1);
    if (a_.office(t) != "to" || taker != nullptr) continue;
    taker = unit_at(t + 1);
    // "To its successor, 3 Wing".
    if (taker == nullptr && a_.is_in("successor_noun", t + 2))
      taker = unit_at(a_.word(t + 3) == "," ? t + 4 : t + 3);
  }
  if (!has_verb || (giver == nullptr && taker == nullptr)) return false;
  const Mention* other = unit_before(told.first);
  if (giver == nullptr) giver = other;
  if (taker == nullptr) taker = other;
  if (giver == nullptr || taker == nullptr || giver->value == taker->value) return false;
  if (a_.stands_between(a_.begin_of_sentence(told.first), counted.last, "count_more")) return false;
  const Window told_days = window(told.first, false);
  bool is_part = false;
  for (std::uint32_t t = counted.last; t < count && a_.clauses_.sentence_of[t] == sentence; ++t)
    is_part = is_part || a_.is_in("uncounted_word", t);
  // The one date of the sentence is that of the turn.
  DaySet days = DaySet::all();
  for (const Mention& date : a_.mentions_of(MentionKind::kDate)) {
    if (a_.clauses_.sentence_of[date.first] != sentence) continue;
    const ResolvedDate& resolved = a_.dates_[date.payload];
    const bool is_day = a_.mentions_.dates[date.payload].bound == DateBound::kNone &&
                        !resolved.date.is_unknown() && !resolved.date.days().empty() &&
                        !resolved.inherited && days.is_all();
    if (!is_day) return false;
    days = resolved.date.days();
  }
  const Bounds bounds = handed_over(counted.count, giver->value, taker->value, days);
  if (bounds.most == 0) return false;
  claim(told, "handed_over", bounds, !days.is_all() && !is_part,
        std::string(giver->value) + " to " + std::string(taker->value));
  return true;
}

// "Three Plovers were lost, the first being X12", "... and the last of them was X16".
void BlockAssembler::KindCounts::add_places_behind(const Told& told, const std::string& unit) {
  const auto count = static_cast<std::uint32_t>(a_.mentions_.tokens.size());
  const std::uint32_t sentence = a_.clauses_.sentence_of[told.first];
  const WordList* ordinals = a_.lexicon_.grammars().list("count_ordinal");
  for (std::uint32_t t = told.last; t < count && a_.clauses_.sentence_of[t] <= sentence + 1; ++t) {
    if (!a_.is_in("count_ordinal", t) || a_.office(t - 1) != "the") continue;
    std::uint32_t end = t + 1;
    if (a_.office(end) == "of" && a_.is_in("count_repeat", end + 1)) end += 2;
    if (a_.is_in("count_lost", end)) ++end;
    if (a_.office(end) == "to" && a_.is_auxiliary(end + 1) && a_.is_in("count_lost", end + 2))
      end += 3;
    const bool is_joined = a_.is_auxiliary(end) || a_.word(end) == ",";
    const Mention* serial = is_joined && end + 1 < count ? a_.mention_at(end + 1) : nullptr;
    if (serial == nullptr || serial->kind != MentionKind::kAirframe || !serial->role.empty())
      continue;
    Told place;
    place.first = t;
    place.last = t + 1;
    place.counted.count.type = told.counted.count.type;
    place.counted.count.mark = told.counted.count.mark;
    const int number = std::atoi(std::string(a_.value_in(ordinals, t)).c_str());
    place.counted.count.is_last = number < 0;
    place.counted.count.is_place = number > 0;
    place.counted.count.number = std::max(number, 1);
    const Bounds bounds =
        place_among_lost(place.counted.count, unit, serial->value, place.counted.count.is_last);
    if (bounds.most == 0) continue;
    claim(place, "lost", bounds, true, unit, std::string(serial->value));
  }
}

// "Her crew of five", where the ledger's row of that mishap has a crew of four.
void BlockAssembler::KindCounts::add_crews() {
  if (!a_.has_word_of("crew_noun")) return;
  const WordList* numbers = a_.lexicon_.grammars().list("number");
  const auto end = static_cast<std::ptrdiff_t>(a_.out_.size());
  for (std::ptrdiff_t i = static_cast<std::ptrdiff_t>(a_.first_claim_); i < end; ++i) {
    Claim& told = a_.out_[static_cast<std::size_t>(i)];
    if (told.kind != ClaimKind::kCount || told.subject.empty() || numbers == nullptr) continue;
    std::uint32_t last = a_.token_at(told.end);
    while (last > 0 && a_.mentions_.tokens[last].begin >= told.end) --last;
    constexpr std::uint32_t kLead = 3;
    if (last <= kLead || a_.office(last - 1) != "of" || !a_.is_in("crew_noun", last - 2)) continue;
    // "Of Ensign Tarr and his crew of three": one more in all.
    if (!a_.is_in("crew_lead", last - kLead) || a_.office(last - kLead - 1) == "and") continue;
    const int number = std::atoi(std::string(a_.value_in(numbers, last)).c_str());
    int recorded = 0;
    for (const History* row : a_.ledger_.history_of(told.subject)) {
      if (row->kind != "lost") continue;
      recorded = crew_recorded(row->detail, a_.lexicon_.grammars());
    }
    if (number < 2 || recorded < 2) continue;
    Count& count = told.count.own();
    count.number = number;
    count.fate = "crew";
    count.is_counted = count.is_sum = true;
    count.least = count.most = recorded;
    count.machines = {told.subject};
  }
}

void BlockAssembler::KindCounts::add() {
  add_crews();
  if (a_.block_.kind == BlockKind::kHeading || a_.block_.kind == BlockKind::kTableRow) return;
  if (!a_.index_.of(MentionKind::kType).empty()) add_of_kinds();
  if (!a_.numbers_.empty()) add_asked();
}

void BlockAssembler::KindCounts::add_of_kinds() {
  const auto count = static_cast<std::uint32_t>(a_.mentions_.tokens.size());
  const WordList* numbers = a_.lexicon_.grammars().list("number");
  const WordList* ordinals = a_.lexicon_.grammars().list("count_ordinal");
  for (std::uint32_t t = 0; t + 1 < count; ++t) {
    const Token& token = a_.mentions_.tokens[t];
    const bool may_count = token.kind == TokenKind::kNumber || token.kind == TokenKind::kMixed ||
                           token.word->is_in(numbers) || token.word->is_in(ordinals);
    if (!may_count || a_.mention_at(t) != nullptr) continue;
    Told told;
    told.counted = a_.read_count(t);
    Count& number = told.counted.count;
    told.first = told.counted.first;
    told.last = told.counted.last;
    const bool is_bare = !told.counted.has_noun() || number.type.empty();
    if (is_bare && !find_kind_elsewhere(told)) continue;
    if (is_denied(t)) continue;
    if (is_bare && !number.is_place && !number.is_last) continue;
    if (number.is_place || number.is_last) {
      if (number.is_exact && (number.number > 0 || number.is_last)) add_place_lost(told);
    } else if (number.number > 1 && told.counted.is_plural) {
      // "Ten Plovers and six Geese": of the first there were ten.
      const bool is_in_list = a_.office(told.last) == "and" &&
                              !a_.stands_between(t > 1 ? t - 2 : 0, t, "count_inexact");
      told.is_floor = is_floor(told.first);
      const bool is_part = add_share_lost(told);
      if (!is_part && is_in_list && is_made_in_list(told.last)) add_total(told);
      if (!is_part && (number.is_exact || told.is_floor)) {
        const bool is_told = add_lost(told) || add_survivors(told, told.last) ||
                             add_handed_over(told) || add_strength(told);
        if (!is_told && number.is_exact) add_total(told);
      }
    }
    t = std::max(t, told.counted.last - 1);
  }
}

}  // namespace tailproof
