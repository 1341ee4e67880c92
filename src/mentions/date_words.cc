// What the words around dates stand for, and how long the phrases are that they begin or end.
#include <algorithm>

#include "mentions/date_atoms.h"

namespace tailproof {
namespace {

// Of a folded phrase: what it begins with, its last word, and how many words and marks it has.
struct PhraseShape {
  std::string first, last;
  std::size_t count = 0;

  explicit PhraseShape(std::string_view phrase) {
    for (std::uint32_t at = 0; at < phrase.size();) {
      if (is_blank(phrase[at])) {
        ++at;
        continue;
      }
      const WordShape shape = shape_at(phrase, at);
      const std::string_view piece = phrase.substr(at, shape.end - at);
      if (count++ == 0) first = piece;
      if (shape.kind != TokenKind::kMark) last = piece;
      at = shape.end;
    }
  }
};

}  // namespace

DateWords::DateWords(const Grammars& grammars)
    : month(grammars.list("month")),
      doubtful(grammars.list("date_doubtful")),
      lead(grammars.list("date_lead")),
      tail(grammars.list("date_tail")),
      joint(grammars.list("date_joint")),
      label(grammars.list("date_label")),
      counted(grammars.list("date_counted")),
      unit(grammars.list("unit_word")),
      length(grammars.list("date_length")),
      pictured(grammars.list("date_pictured")),
      owner(grammars.list("date_owner")),
      of_family(grammars.list("date_of_family")),
      follower(grammars.list("date_follower")),
      of(grammars.list("date_of")),
      recurring(grammars.list("date_recurring")),
      happening(grammars.list("date_happening")),
      outside(grammars.list("date_outside")),
      definite(grammars.list("date_definite")),
      season_verb(grammars.list("date_season_verb")),
      season_thing(grammars.list("date_season_thing")),
      last_of(grammars.list("date_last_of")),
      no_event(grammars.list("date_no_event")),
      posture(grammars.list("date_posture")),
      span(grammars.list("date_span")),
      coming(grammars.list("date_coming")),
      doing(grammars.list("date_doing")),
      doing_lead(grammars.list("date_doing_lead")),
      receiver_lead(grammars.list("date_receiver_lead")),
      taken_elsewhere(grammars.list("date_taken_elsewhere")),
      terse(grammars.list("date_terse")),
      scale(grammars.list("date_scale")),
      scale_lead(grammars.list("date_scale_lead")),
      until(grammars.list("until_word")),
      done_by(grammars.list("date_done_by")),
      by(grammars.list("date_by")) {
  const auto lengthen = [](auto& lengths, const std::string& word, std::size_t length) {
    std::size_t& most = lengths[word];
    most = std::max(most, length);
  };
  for (const WordList* list : {lead, tail}) {
    if (list == nullptr) continue;
    for (const auto& [phrase, value] : list->values) {
      const PhraseShape shape(phrase);
      if (list == tail) {
        lengthen(words_of_tails, shape.first, shape.count);
      } else {
        lengthen(words_of_leads, shape.last, shape.count);
        starts_of_leads.insert(shape.first);
      }
    }
  }
}

bool is_sentence_between(std::string_view month, std::string_view day) {
  // "Sept." is the longest that is shortened, and as long as two that are not.
  constexpr std::size_t kAbbreviated = 4;
  const bool is_whole = month.size() > kAbbreviated ||
                        (month.size() == kAbbreviated && (month[0] == 'J' || month[0] == 'j'));
  return is_whole && !day.empty() && month.data() + month.size() + 1 < day.data() &&
         month.data()[month.size()] == '.';
}

}  // namespace tailproof
