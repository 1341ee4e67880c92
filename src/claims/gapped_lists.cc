// Lists in which the verb is said once: "X12 was lost on 3 May, X14 on 7 June and X15 in July", "it
// received X12 in its first week, X14 at the beginning of July and X15 at the end of August".
//
// Each machine behind the first verb has what stands behind it, and nothing of its neighbours'.
// Only one that has a date of its own is taken into the list: of any other it cannot be told
// whether the verb is meant for it at all.
#include <algorithm>

#include "claims/assembler.h"
#include "mentions/event_words.h"

namespace tailproof {

// Whether the machines stand right behind a comma or an "and", their type perhaps between, or
// behind a date of theirs there: "and in August X12".
bool BlockAssembler::is_joined_to_list(const Group& group) const {
  constexpr std::uint32_t kReach = 6;
  for (std::uint32_t t = group.first; t > 0 && group.first - t <= kReach; --t) {
    const std::uint32_t at = t - 1;
    if (clauses_.sentence_of[at] != clauses_.sentence_of[group.first]) return false;
    if (word(at) == "," || word(at) == ";" || office(at) == "and") return true;
    const bool is_passed = mention_over(MentionKind::kType, at) != nullptr ||
                           mention_over(MentionKind::kDate, at) != nullptr ||
                           is_in("determiner", at) || is_in("day_preposition", at);
    if (!is_passed) return false;
  }
  return false;
}

// The date that the words behind the machines give them, without a verb between: "X14 on 7 June",
// "X14 over the hills a week later".
const Mention* BlockAssembler::own_date_behind(const Group& group) const {
  constexpr std::uint32_t kReach = 7;
  const auto count = static_cast<std::uint32_t>(mentions_.tokens.size());
  // "X14, which was to have so short a life, on 7 June": past the relative clause right behind the
  // machines, where that names no day and no other machine.
  const auto behind_relative = [&] {
    constexpr std::uint32_t kLongest = 14;
    const std::uint32_t first = group.last + 1;
    if (first >= count || word(group.last) != "," || !is_in("relative_word", first))
      return group.last;
    for (std::uint32_t t = first; t < count && t - first <= kLongest; ++t) {
      if (clauses_.sentence_of[t] != clauses_.sentence_of[group.first] || word(t) == ";") break;
      if (word(t) == ",") return t + 1;
      if (mention_over(MentionKind::kDate, t) != nullptr ||
          mention_over(MentionKind::kAirframe, t) != nullptr)
        break;
    }
    return group.last;
  };
  const std::uint32_t from = behind_relative();
  for (std::uint32_t t = from; t < count && t - from <= kReach; ++t) {
    if (clauses_.sentence_of[t] != clauses_.sentence_of[group.first]) return nullptr;
    if (const Mention* date = mention_over(MentionKind::kDate, t); date != nullptr)
      return date->first == t ? date : nullptr;
    const bool is_end = mentions_.tokens[t].kind == TokenKind::kMark ||
                        is_in("event_conjunction", t) || is_in("relative_word", t);
    if (is_end || tells_verb(t) || mention_over(MentionKind::kAirframe, t) != nullptr)
      return nullptr;
  }
  return nullptr;
}

// Whether the machines share the verb of the list though it is not said again: they have a date of
// their own, and no verb.
bool BlockAssembler::is_gapped(const Group& group) const {
  if (group.members.empty() || group.is_either || !is_joined_to_list(group)) return false;
  if (const Mention* date = own_date_behind(group); date != nullptr) {
    // "X12 until it burnt in May and X14 from June": no day of the burning.
    const DateBound bound = mentions_.dates[date->payload].bound;
    const Mention* before = nullptr;
    for (const Mention& other : mentions_of(MentionKind::kDate)) {
      if (other.last <= group.first) before = &other;
    }
    const bool is_like = bound == DateBound::kNone || before == nullptr ||
                         mentions_.dates[before->payload].bound == bound;
    return is_like && !tells_verb(date->last);
  }
  return any_mention(MentionKind::kDate,
                     [&](const Mention& date) { return group_led_by(date) == &group; });
}

// The machines behind `token` that share the verb of an event.
NameList BlockAssembler::gapped_after(const Mention& event, std::uint32_t token) const {
  std::vector<std::string> serials;
  std::uint32_t t = event.last;
  for (const Group& group : groups_) {
    if (group.first < token || group.members.empty()) continue;
    if (clauses_.sentence_of[group.first] != clauses_.sentence_of[event.first]) break;
    for (; t < group.first; ++t) {
      // "X12 was lost on 3 May; and X14 on 7 June".
      const std::uint32_t next = t + (office(t + 1) == "and" ? 2 : 1);
      const bool is_of_list =
          word(t) == ";" && mention_over(MentionKind::kAirframe, next) != nullptr;
      const bool is_end =
          (word(t) == ";" && !is_of_list) || word(t) == ":" || is_in("relative_word", t);
      const bool in_date = mention_over(MentionKind::kDate, t) != nullptr;
      if (!in_date && (is_end || tells_verb(t))) return serials;
    }
    if (!is_gapped(group)) break;
    serials.insert(serials.end(), group.serials.begin(), group.serials.end());
  }
  return serials;
}

// "In June they received X12, in July X14": the machines that a date stands before, where the list
// has begun with a date as well.
const Group* BlockAssembler::group_led_by(const Mention& date) const {
  const bool is_led = date.first > 0 && is_in("day_preposition", date.first - 1);
  const std::uint32_t begin = date.first - (is_led ? 1 : 0);
  if (begin == 0 || (word(begin - 1) != "," && office(begin - 1) != "and")) return nullptr;
  const std::uint32_t sentence = clauses_.sentence_of[date.first];
  const bool has_first = any_mention(MentionKind::kDate, [&](const Mention& other) {
    return other.last <= begin && clauses_.sentence_of[other.first] == sentence &&
           (other.first < 2 || clauses_.sentence_of[other.first - 2] != sentence ||
            other.first == clauses_.clauses[clauses_.clause_of[other.first]].first + 1);
  });
  if (!has_first) return nullptr;
  for (const Group& group : groups_) {
    if (group.members.empty() || group.first < date.last) continue;
    for (std::uint32_t t = date.last; t < group.first; ++t) {
      if (!is_in("determiner", t) && mention_over(MentionKind::kType, t) == nullptr) return nullptr;
    }
    const bool is_last = group.last >= mentions_.tokens.size() ||
                         mentions_.tokens[group.last].kind == TokenKind::kMark ||
                         is_in("event_conjunction", group.last);
    return is_last && own_date_behind(group) == nullptr ? &group : nullptr;
  }
  return nullptr;
}

// Of one event's machines those whose the date is, when each of a list has its own; all of them
// when the words part nothing.
std::vector<std::uint32_t> BlockAssembler::events_of_own_date(std::vector<std::uint32_t> events,
                                                              const Mention& date) const {
  if (events.size() < 2) return events;
  const auto group_of = [&](std::uint32_t event) {
    const Group* found = nullptr;
    for (const Group& group : groups_) {
      if (group.members.empty() ||
          clauses_.sentence_of[group.first] != clauses_.sentence_of[date.first])
        continue;
      const bool has_it = std::find(group.serials.begin(), group.serials.end(),
                                    out_[event].subject) != group.serials.end();
      if (has_it && found == nullptr) found = &group;
    }
    return found;
  };
  if (const Group* led = group_led_by(date)) {
    std::erase_if(events, [&](std::uint32_t event) { return group_of(event) != led; });
    return events;
  }
  const Group* owner = nullptr;
  for (const std::uint32_t event : events) {
    const Group* group = group_of(event);
    if (group != nullptr && own_date_behind(*group) == &date) owner = group;
  }
  std::vector<std::uint32_t> own;
  for (const std::uint32_t event : events) {
    const Group* group = group_of(event);
    if (owner != nullptr ? group == owner
                         : group == nullptr || own_date_behind(*group) == nullptr) {
      own.push_back(event);
    }
  }
  return own.empty() ? events : own;
}

}  // namespace tailproof
