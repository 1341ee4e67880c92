// A number beside a range of serials: "F113 to F120, nine aircraft", "of the Mk III eight, F301 to
// F308", "the ten Grapnels behind him, F101 to F110".
#include <algorithm>

#include "claims/assembler.h"
#include "claims/counts.h"
#include "claims/identities.h"
#include "mentions/lexicon.h"
#include "tailproof/serial_runs.h"

namespace tailproof {
namespace {

Spelling spelling(const Mention& mention) {
  return mention.role.empty() || mention.detail.empty() ? mention.value : mention.detail;
}

}  // namespace

// "F113 to F120": two serials with nothing but a word for "to" between them.
std::vector<BlockAssembler::Serials> BlockAssembler::ranges() const {
  std::vector<Serials> all;
  const Mention* before = nullptr;
  for (const Mention& mention : mentions_.items) {
    if (!is_serial(mention)) continue;
    // "F113 through to F120".
    const bool is_long = before != nullptr && mention.first == before->last + 2 &&
                         office(mention.first - 1) == "to" && is_in("range_word", before->last);
    if (before != nullptr && (is_long || mention.first == before->last + 1)) {
      const Spelling w = office(before->last);
      if (is_long || w == "to" || w == "-" || w == "through" || w == "\xE2\x80\x93") {
        all.push_back({before->first, mention.last, before, &mention});
      }
    }
    before = &mention;
  }
  return all;
}

// Where the mark of the type ends that begins here, told without its type: "Mk Is", "of the Mark
// I", "Series 1 machines"; `token` where there is none.
std::uint32_t SizeReading::mark_ending(std::uint32_t token, std::string_view type,
                                       std::string& mark) const {
  constexpr std::uint32_t kLongestMark = 4;
  const auto count = static_cast<std::uint32_t>(mentions_.tokens.size());
  const std::uint32_t first =
      office(token) == "of" && office(token + 1) == "the" ? token + 2 : token;
  for (std::uint32_t length = kLongestMark; length > 0; --length) {
    const std::uint32_t end = first + length;
    if (end > count) continue;
    const std::uint32_t begin = mentions_.tokens[first].begin;
    const std::string text = block_.text.substr(begin, mentions_.tokens[end - 1].end - begin);
    const std::vector<std::string> words = mark_words(text, lexicon_.grammars());
    const std::vector<std::string> singular =
        text.back() == 's' ? mark_words(text.substr(0, text.size() - 1), lexicon_.grammars())
                           : words;
    for (const MarkForm& form : lexicon_.marks_of(type)) {
      if (form.words != words && form.words != singular) continue;
      mark = form.mark;
      return is_in("count_noun", end) ? end + 1 : end;
    }
  }
  return token;
}

// "X16 at Vaddon. It was the last of the fifteen Mk Is": the machine named last, where it was
// alone.
const Mention* BlockAssembler::pronoun_before_place(std::uint32_t first) const {
  std::uint32_t t = first;
  while (t > 0 && (office(t - 1) == "the" || is_in("making_adverb", t - 1))) --t;
  if (t < 2 || !is_in("was_word", t - 1) || !is_in("machine_pronoun", t - 2)) return nullptr;
  const Group* named = nullptr;
  for (const Group& group : groups_) {
    if (group.first < t && !group.members.empty()) named = &group;
  }
  if (named == nullptr || named->members.size() != 1 || named->serials.size() != 1) return nullptr;
  const Mention& serial = mentions_.items[named->members.front()];
  return is_serial(serial) ? &serial : nullptr;
}

// "The last of the twelve Series 1 machines, X10": the machine behind a mark of its own type.
const Mention* BlockAssembler::machine_behind_mark(std::uint32_t token) const {
  for (const Mention& serial : mentions_of(MentionKind::kAirframe)) {
    if (serial.first <= token || !is_serial(serial)) continue;
    const Airframe* row = ledger_.airframe(serial.value);
    std::string mark;
    const std::uint32_t end = row == nullptr ? token : mark_ending(token, row->type, mark);
    const bool is_beside = end > token && serial.first == end + 1 &&
                           (word(end) == "," || is_in("event_auxiliary", end));
    return is_beside ? &serial : nullptr;
  }
  return nullptr;
}

// "Twelve Bs followed the fourteen As, X13 to X24": a number told before is that of the range.
bool BlockAssembler::is_of_number_before(const Counted& counted, const Serials& range) const {
  const auto ends = in_one_series(range.low->value, range.high->value);
  const std::uint32_t sentence = clauses_.sentence_of[counted.first];
  for (std::uint32_t t = 0; ends && t < counted.first; ++t) {
    if (clauses_.sentence_of[t] == sentence && number_told(t) > 0 &&
        number_told(t) == ends->second.number - ends->first.number + 1)
      return true;
  }
  return false;
}

// "The remaining nine, X113 to X120,", "of the Mk III eight, X325 to X330": a number in words with
// the range in apposition; "the ten Grapnels behind him, X301 to X309,": past where they stand.
bool BlockAssembler::is_set_beside(const Counted& counted, const Serials& range) const {
  const bool is_closed = range.last >= mentions_.tokens.size() ||
                         mentions_.tokens[range.last].kind == TokenKind::kMark;
  if (!is_closed || range.first < counted.last + 1) return false;
  const std::uint32_t mark = range.first - 1;
  if (word(mark) != "," && word(mark) != "(" && word(mark) != ":") return false;
  if (mark == counted.last)
    return !counted.has_noun() && mentions_.tokens[counted.first].kind == TokenKind::kWord;
  constexpr std::uint32_t kLongest = 6;
  const bool is_all = counted.has_noun() && counted.first > 0 && office(counted.first - 1) == "the";
  if (!is_all || mark - counted.last > kLongest ||
      (!is_in("event_preposition", counted.last) && !is_in("object_preposition", counted.last)))
    return false;
  for (std::uint32_t t = counted.last; t < mark; ++t) {
    const Mention* name = mention_at(t);
    const bool is_other = mentions_.tokens[t].kind != TokenKind::kWord || is_in("number", t) ||
                          (name != nullptr && name->kind == MentionKind::kType);
    if (is_other) return false;
  }
  return true;
}

bool BlockAssembler::add_count_of_range(const Counted& counted, const std::vector<Serials>& all) {
  // "There were seven, S301 to S307", "there were seven of the second mark, S301 to S307".
  const bool is_told_alone = !counted.has_noun() && counted.first > 1 &&
                             is_in("event_auxiliary", counted.first - 1) &&
                             is_in("existential_word", counted.first - 2);
  // "The first three, S301 to S303".
  const bool is_some = !counted.has_noun() && counted.first > 1 &&
                       is_in("succession_word", counted.first - 1) &&
                       office(counted.first - 2) == "the" && word(counted.last) == ",";
  // "S301 to S307, seven delivered".
  const bool is_made_behind = !counted.has_noun() && is_in("making_verb", counted.last) &&
                              counted.first > 0 && word(counted.first - 1) == ",";
  if (counted.count.is_place || counted.count.is_last) return false;
  const bool is_counted = counted.has_noun() || is_told_alone || is_some || is_made_behind;
  std::uint32_t last = counted.last;
  const bool has_mark = is_told_alone && last + 3 < mentions_.tokens.size() &&
                        office(last) == "of" && office(last + 1) == "the" &&
                        is_in("mark_noun", last + 3);
  if (has_mark) last += 4;
  for (const Serials& range : all) {
    // "Ten were built, S301 to S310": those of the range, where no other stands beside it.
    std::string mark = counted.count.mark;
    const Airframe* row = ledger_.airframe(range.low->value);
    const bool is_apposed = is_set_beside(counted, range);
    // "Sixteen Mk I were built, S301 to S316", "sixteen of the Mark I".
    std::uint32_t from = last;
    if (mark.empty() && row != nullptr && !is_apposed &&
        (!counted.has_noun() || counted.count.type == row->type))
      from = last = std::max(last, mark_ending(last, row->type, mark));
    while (from < range.first && (is_in("event_auxiliary", from) || is_in("making_verb", from) ||
                                  is_in("making_adverb", from)))
      ++from;
    const bool is_made = from > last && is_in("making_verb", from - 1);
    const bool is_only =
        std::none_of(mentions_.items.begin(), mentions_.items.end(), [&](const Mention& other) {
          return is_serial(other) && other.last > range.last &&
                 clauses_.sentence_of[other.first] == clauses_.sentence_of[range.first];
        });
    // A number alone: "nine were delivered, S301 to S308".
    const bool is_bare = !is_counted && mark.empty() && !(is_made && is_only) && !is_apposed;
    if (is_bare || (!is_counted && is_of_number_before(counted, range))) continue;
    const bool behind = is_apposed || (range.first >= from &&
                                       is_joint(is_made && is_only ? from : last, range.first));
    const bool before = range.last <= counted.first && is_joint(range.last, counted.first);
    if ((!behind && !before) || (is_some && range.first != last + 1)) continue;
    // "Six Grapnels: X141 to X144, X146 and X147": the range is not all of them.
    const bool goes_on =
        behind && std::any_of(groups_.begin(), groups_.end(), [&](const Group& group) {
          return group.first <= range.first && range.last < group.last;
        });
    // "X141 to X144 and X146 to X148: seven machines".
    const bool goes_back =
        before && std::any_of(groups_.begin(), groups_.end(), [&](const Group& group) {
          return group.first < range.first && range.last <= group.last;
        });
    if (goes_on || goes_back) return false;
    const std::uint32_t sentence = clauses_.sentence_of[counted.first];
    if (clauses_.sentence_of[range.first] != sentence) continue;
    Claim& claim = add(words_of(counted.first, counted.last), ClaimKind::kCount);
    claim.count = counted.count;
    if (counted.count.mark.empty() && !mark.empty()) {
      claim.count.own().type = row->type;
      claim.count.own().mark = mark;
    }
    claim.count.own().first_serial = spelling(*range.low);
    claim.count.own().last_serial = spelling(*range.high);
    for (std::uint32_t t = counted.last; t < mentions_.tokens.size(); ++t) {
      if (clauses_.sentence_of[t] != sentence) break;
      if (is_in("count_except", t)) claim.count.own().is_exact = false;
    }
    claim.value = std::to_string(counted.count.number) + named(*claim.count);
    claim.subject = range.low->value;
    return true;
  }
  return false;
}

}  // namespace tailproof
