// When a picture was taken, counted from an event of which its caption tells: "two days before it
// was lost", "soon after its repaint", "It ditched a week later".
#include <algorithm>

#include "claims/assembler.h"
#include "mentions/event_words.h"

namespace tailproof {
namespace {

// "0 300", "0 inf".
Day end_of(std::string_view value) {
  const std::size_t blank = value.find(' ');
  if (blank == std::string_view::npos || value.substr(blank + 1) == "inf") return kLastDay;
  Day days = 0;
  for (const char c : value.substr(blank + 1)) {
    if (c < '0' || c > '9') break;
    days = 10 * days + (c - '0');
  }
  return days;
}

// The event so long after the picture is the picture so long before the event.
TimeLead turned(TimeLead lead) {
  const Day least = lead.most == kLastDay ? kFirstDay : -lead.most;
  lead.most = lead.least == kFirstDay ? kLastDay : -lead.least;
  lead.least = least;
  return lead;
}

}  // namespace

// "On 19 May X12 collided with X14 and was lost", "on 19 May X12 flew to the Point, and was lost":
// the day that opens the sentence is that of the second verb, too, where that has none of its own.
// "And was later scrapped" has.
bool BlockAssembler::leads_both(const Claim& date, const Claim& event) const {
  if (date.of != "event" || date.subject != event.subject) return false;
  const bool is_mishap = event.value == "lost" || event.value == "accident";
  const bool is_of_use = date.event == kNone && is_mishap && is_told_of_use(date);
  if (date.event == kNone && !is_of_use) return false;
  const Claim& first = is_of_use ? date : out_[date.event];
  const std::uint32_t at = token_at(date.begin), token = token_at(event.begin);
  const std::uint32_t sentence = clauses_.sentence_of[at];
  if (date.begin > first.begin || first.end > event.begin ||
      clauses_.sentence_of[token] != sentence)
    return false;
  constexpr std::uint32_t kBehind = 3;  // "in the end"
  const std::uint32_t end =
      std::min(token_at(event.end) + kBehind, static_cast<std::uint32_t>(mentions_.tokens.size()));
  for (std::uint32_t t = token; is_of_use && t < end; ++t) {
    if (is_in("own_time_word", t) || is_in("ending_noun", t)) return false;
  }
  constexpr std::uint32_t kOpening = 2;
  if (at >= kOpening && clauses_.sentence_of[at - kOpening] == sentence) return false;
  if (token == 0 || !is_in("event_conjunction", token - 1)) return false;
  return !any_mention(MentionKind::kDate, [&](const Mention& other) {
    return other.begin != date.begin && clauses_.sentence_of[other.first] == sentence;
  });
}

// "With them until the summer of 1942, when it was lost": the date right before the clause that
// "when" opens is that of the event told in it, unless the clause has one of its own or looks back.
const Mention* BlockAssembler::date_before_when(const Claim& event) const {
  const std::uint32_t token = token_at(event.begin);
  if (const Mention* day = day_called(token)) return day;
  const Clause& clause = clauses_.clauses[clauses_.clause_of[token]];
  if (!is_in("when_opener", clause.first) || clause.first == 0 || clause.first >= token)
    return nullptr;
  const std::uint32_t end_of_event = token_at(event.end);
  for (std::uint32_t t = clause.first; t < end_of_event; ++t) {
    if (is_in("had_word", t) || is_in("when_state", t)) return nullptr;
  }
  const std::uint32_t end = clause.first - (word(clause.first - 1) == "," ? 1U : 0U);
  const Mention* before = nullptr;
  for (const Mention& date : mentions_of(MentionKind::kDate)) {
    if (clauses_.clause_of[date.first] == clauses_.clause_of[token]) return nullptr;
    if (date.last == end) before = &date;
  }
  return before;
}

// "It went down in the bay. The date was 12 November", "that was on 12 November", "...; it was the
// twelfth of November": the day of the one thing that the sentence before told, or the words before
// the semicolon, where these name none.
const Mention* BlockAssembler::date_told_next(const Claim& event) const {
  if (is_caption()) return nullptr;
  const std::uint32_t token = token_at(event.begin);
  const std::uint32_t sentence = clauses_.sentence_of[token];
  const auto may_tell = [&](std::uint32_t opening) {
    if (opening == 0) return false;
    if (clauses_.sentence_of[opening] == sentence)
      return opening > token && word(opening - 1) == ";";
    return clauses_.sentence_of[opening] == sentence + 1 &&
           clauses_.sentence_of[opening - 1] == sentence;
  };
  const Mention* told = nullptr;
  for (const std::uint32_t c : index_.of("cue_day_told")) {
    const Mention& cue = mentions_.items[c];
    if (!may_tell(cue.first)) continue;
    told = mention_over(MentionKind::kDate, cue.last);
    if (told == nullptr || told->first != cue.last) return nullptr;
    break;
  }
  for (const Mention& date : mentions_of(MentionKind::kDate)) {
    if (told == nullptr && is_day_told(date) && may_tell(opening_of_day_told(date))) told = &date;
  }
  if (told == nullptr) return nullptr;
  const bool has_other =
      std::any_of(mentions_.items.begin(), mentions_.items.end(), [&](const Mention& other) {
        if (clauses_.sentence_of[other.first] != sentence || &other == told) return false;
        return other.kind == MentionKind::kDate ||
               (other.role == kEventCue && other.begin >= event.end && other.last <= told->first);
      });
  return has_other ? nullptr : told;
}

// Whether the words before the lead leave it to the picture: "KD101 at Penhollow two days before",
// but not "it carried the band before", "repainted two days before".
bool BlockAssembler::is_of_picture(const TimeLead& lead) const {
  if (lead.first == 0) return true;
  const std::uint32_t sentence = clauses_.sentence_of[lead.first];
  for (std::uint32_t t = lead.first; t-- > 0 && clauses_.sentence_of[t] == sentence;) {
    if (is_in("order_taken", t)) return true;
    if (is_in("told_verb", t)) return false;
  }
  return !any_cue("cue_event", [&](const Mention& other) {
    return other.last <= lead.first &&
           clauses_.segment_of[other.first] == clauses_.segment_of[lead.first];
  });
}

// "After repair at Halvery it was passed on": a later sentence that goes on to tell what became of
// the machine.
bool BlockAssembler::is_storied(const Mention& event) const {
  const std::uint32_t sentence = clauses_.sentence_of[event.first];
  if (!is_in_later_sentence(event.first)) return false;
  const auto count = static_cast<std::uint32_t>(mentions_.tokens.size());
  for (std::uint32_t t = event.last; t + 1 < count && clauses_.sentence_of[t] == sentence; ++t) {
    if (is_in("order_taken", t)) return false;
    const bool is_noun = t > 0 && is_in("machine_noun", t) && is_in("determiner", t - 1);
    const Mention* name = is_noun ? nullptr : mention_ending_at(t + 1);
    const bool is_machine = is_noun || (name != nullptr && name->kind == MentionKind::kAirframe &&
                                        name->first > event.last);
    if ((is_in("story_subject", t) || is_machine) && is_in("story_verb", t + 1)) return true;
  }
  return false;
}

// The lead that ends where the event's subject begins.
std::optional<TimeLead> BlockAssembler::lead_before(const Mention& event) const {
  constexpr std::uint32_t kReach = 8;
  const std::uint32_t sentence = clauses_.sentence_of[event.first];
  if (is_storied(event)) return std::nullopt;
  std::uint32_t t = event.first;
  while (t > 0 && event.first - t < kReach && clauses_.sentence_of[t - 1] == sentence) {
    const std::uint32_t at = t - 1;
    // "On the day it was lost", "within a week of its loss".
    for (const TimeLead& span : mentions_.leads) {
      // "A week later to the day it was lost": how exactly that is counted.
      const std::uint32_t article = span.first > 0 && office(span.first - 1) == "the" ? 1 : 0;
      if (span.first > article && office(span.first - article - 1) == "to") continue;
      if (span.last == t && span.least == -span.most && !span.is_bare)
        return is_of_picture(span) ? std::optional(span) : std::nullopt;
    }
    const WordList* words = lexicon_.grammars().list("event_time_word");
    const std::string_view way = words == nullptr ? std::string_view{} : value_in(words, at);
    if (!way.empty()) {
      // "Since repainted": by now, and so after the picture.
      if (way.ends_with(" told") && t == event.first) return std::nullopt;
      TimeLead lead{at, t, way == "before" ? kFirstDay : 0, way == "before" ? 0 : kLastDay, false};
      for (const TimeLead& counted : mentions_.leads) {
        if (counted.last == t && !counted.is_bare) lead = counted;
      }
      return is_of_picture(lead) ? std::optional(lead) : std::nullopt;
    }
    const Mention* name = mention_ending_at(t);
    const bool is_subject =
        name != nullptr && (name->kind == MentionKind::kAirframe ||
                            name->kind == MentionKind::kType || name->role == "cue_pronoun");
    if (is_subject) {
      t = name->first;
    } else if (is_in("event_between", at) || is_in("event_auxiliary", at) ||
               is_in("machine_noun", at) || folded(at) == "'s") {
      t = at;
    } else {
      return std::nullopt;
    }
  }
  return std::nullopt;
}

// Whether the caption goes on from the picture to this event, and to no other before it.
bool BlockAssembler::is_told_on(const Mention& event) const {
  const std::uint32_t sentence = clauses_.sentence_of[event.first];
  for (std::uint32_t t = 0; t < mentions_.tokens.size(); ++t) {
    if (clauses_.sentence_of[t] == sentence && is_in("event_picture_word", t)) return false;
  }
  for (std::size_t i = first_claim_; i < out_.size(); ++i) {
    const Claim& other = out_[i];
    if (other.begin >= event.begin) continue;
    if (other.kind == ClaimKind::kEvent) return false;
    if (other.kind == ClaimKind::kDate && other.of != "photograph") return false;
  }
  return true;
}

// "Delivered in May and lost two days later": a date or another event has come between.
bool BlockAssembler::tells_between(std::uint32_t from, std::uint32_t to) const {
  return std::any_of(mentions_.items.begin(), mentions_.items.end(), [&](const Mention& other) {
    const bool is_telling = other.kind == MentionKind::kDate ||
                            (other.kind == MentionKind::kCue && other.role == kEventCue);
    return is_telling && other.first >= from && other.first < to;
  });
}

// "Lost two days later", "was soon repainted".
std::optional<TimeLead> BlockAssembler::lead_behind(const Mention& event) const {
  constexpr std::uint32_t kReach = 6;
  if (!is_told_on(event)) return std::nullopt;
  const std::uint32_t segment = clauses_.segment_of[event.first];
  for (const TimeLead& counted : mentions_.leads) {
    if (!counted.is_bare || clauses_.segment_of[counted.first] != segment) continue;
    if (counted.last <= event.first && event.first - counted.last <= 3) return turned(counted);
    const bool is_behind = counted.first >= event.last && counted.first - event.last <= kReach;
    if (is_behind && !tells_between(event.last, counted.first)) {
      return turned(counted);
    }
  }
  const WordList* words = lexicon_.grammars().list("event_later_word");
  if (words == nullptr) return std::nullopt;
  std::optional<TimeLead> found;
  const std::uint32_t from = event.first > 2 ? event.first - 2 : 0;
  const auto to =
      std::min<std::uint32_t>(event.last + 3, static_cast<std::uint32_t>(mentions_.tokens.size()));
  for (std::uint32_t t = from; t < to; ++t) {
    const std::string_view value = value_in(words, t);
    if (value.empty() || clauses_.segment_of[t] != segment) continue;
    const Day most = end_of(value);
    if (!found || -most > found->least) {
      found = TimeLead{t, t + 1, most == kLastDay ? kFirstDay : -most, 0, true};
    }
  }
  return found;
}

// "The wreck of X12, the morning after. She had been lost on 3 May": what ends a part of the
// caption so is counted from the one thing that the rest of it tells.
std::optional<TimeLead> BlockAssembler::lead_apart(const Mention& event) const {
  // "The wreck of X12, the morning after. Struck off on 17 July": paper follows what happened.
  if (event.value == "struck_off_charge") return std::nullopt;
  for (const TimeLead& lead : mentions_.leads) {
    const bool is_end = lead.last >= mentions_.tokens.size() ||
                        mentions_.tokens[lead.last].kind == TokenKind::kMark;
    // "In the afternoon" alone is an hour of the picture's own day.
    const bool is_one_way = (lead.most <= 0 || lead.least >= 0) && lead.least != -lead.most;
    // "On 12 June two years before": part of the date.
    const Mention* date = mention_over(MentionKind::kDate, lead.first);
    const bool is_of_date = date != nullptr && !mentions_.dates[date->payload].first.is_relative();
    if (!is_end || lead.is_bare || !is_one_way || is_of_date ||
        clauses_.segment_of[lead.first] == clauses_.segment_of[event.first])
      continue;
    const bool tells_other =
        any_cue("cue_event", [&](const Mention& other) { return other.first != event.first; });
    if (!tells_other && is_of_picture(lead)) return lead;
  }
  return std::nullopt;
}

// The same words as a date: they are the picture's by that event, and no date by themselves.
bool BlockAssembler::is_counted_from_rest(const Mention& date) const {
  if (!is_caption() || !mentions_.dates[date.payload].first.is_relative()) return false;
  return std::any_of(cues_.begin(), cues_.end(), [&](std::uint32_t c) {
    const Mention& event = mentions_.items[c];
    if (event.role != kEventCue || claim_of_mention_[c] == kNone ||
        (event.payload & kEventState) != 0)
      return false;
    const std::optional<TimeLead> lead = lead_apart(event);
    return lead && lead->first <= date.first && date.first < lead->last;
  });
}

void BlockAssembler::time_picture_by_events() {
  if (!is_caption()) return;
  for (const std::uint32_t c : index_.of("cue_event")) {
    const Mention& event = mentions_.items[c];
    if (claim_of_mention_[c] == kNone || (event.payload & kEventState) != 0) continue;
    std::optional<TimeLead> lead = lead_before(event);
    const bool is_before = lead.has_value();
    if (!lead) lead = lead_apart(event);
    if (!lead) lead = lead_behind(event);
    if (!lead) continue;
    for (const std::uint32_t i : events_of(claim_of_mention_[c])) {
      TimeRelation& relation = out_[i].relation.own();
      relation.photograph = {manuscript_index_, block_index_};
      relation.least = lead->least;
      relation.most = lead->most;
    }
    if (!is_before) continue;
    // The date that was counted from it.
    for (std::size_t i = first_claim_; i < out_.size(); ++i) {
      Claim& date = out_[i];
      const bool is_counted = date.kind == ClaimKind::kDate && date.of == "photograph" &&
                              date.event == kNone && date.end <= event.begin &&
                              date.begin >= mentions_.tokens[lead->first].begin &&
                              is_relative_date(date);
      if (is_counted) date.event = claim_of_mention_[c];
    }
  }
}

}  // namespace tailproof
