// What a date belongs to, and which claims it dates.
//
// The commonest false date of a photograph is one that belongs to something else. A date goes, in
// this order, to a publication, a type's first flight, a person's life, an order, or an event, when
// a word for one of these stands in its segment (or, for a date alone between commas, in the
// segment before); what is left in a caption's own clauses dates the picture.
#include <algorithm>

#include "claims/assembler.h"
#include "grammars/fold.h"

namespace tailproof {
namespace {

// "on its nose", "under repair", "in store": what the picture shows, not what happened that day.
bool is_state(std::string_view event_words) {
  const std::string words = fold(event_words);
  return words.starts_with("on its") || words.starts_with("under ") || words.starts_with("in ");
}

}  // namespace

std::string BlockAssembler::owner_of(const Mention& date, std::uint32_t& event) const {
  const std::uint32_t segment = clauses_.segment_of[date.first];
  const std::uint32_t clause = clauses_.clause_of[date.first];
  const ClauseKind kind = clauses_.clauses[clause].kind;
  // A date alone between commas leans on the segment before it.
  const auto alone = [&] {
    for (std::uint32_t t = 0; t < mentions_.tokens.size(); ++t) {
      if (clauses_.segment_of[t] != segment || (t >= date.first && t < date.last)) continue;
      if (mentions_.tokens[t].kind == TokenKind::kMark) continue;
      const std::string w = fold(word(t));
      if (w != "on" && w != "in" && w != "about" && w != "early" && w != "late" && w != "at" &&
          w != "and")
        return false;
    }
    return true;
  }();
  const auto in_reach = [&](std::uint32_t token) {
    if (clauses_.segment_of[token] == segment) return true;
    return alone && token < date.first && clauses_.clause_of[token] == clause &&
           clauses_.segment_of[token] + 1 >= segment;
  };
  const auto cue = [&](std::string_view list) {
    const Mention* nearest = nullptr;
    for (const std::uint32_t c : cues_) {
      const Mention& candidate = mentions_.items[c];
      if (candidate.role != list || !in_reach(candidate.first)) continue;
      if (nearest == nullptr || candidate.last <= date.first) nearest = &candidate;
    }
    return nearest;
  };
  if (cue("cue_publication") != nullptr) return "publication";
  if (cue("cue_type_event") != nullptr) return "type";
  bool has_person = false, has_serial = false;
  for (const Mention& other : mentions_.items) {
    if (clauses_.clause_of[other.first] != clause) continue;
    has_person |= other.kind == MentionKind::kPerson || other.kind == MentionKind::kRank ||
                  other.kind == MentionKind::kAward;
    has_serial |= other.kind == MentionKind::kAirframe;
    if (other.kind == MentionKind::kOrder && in_reach(other.first)) return "order";
  }
  if (kind == ClauseKind::kRelative) {
    // "who had the squadron until September": the person stands before the clause.
    const std::uint32_t first = clauses_.clauses[clause].first;
    const std::string opener = fold(word(first));
    has_person |= opener == "who" || opener == "whom";
  }
  if (const Mention* found = cue("cue_person_event"); found != nullptr && has_person) {
    const bool machine_first = has_serial && !has_person;
    if (!machine_first) return "person";
  }
  const Mention* nearest = nullptr;
  std::uint32_t nearest_index = kNone;
  for (const std::uint32_t c : cues_) {
    const Mention& candidate = mentions_.items[c];
    if (candidate.role != "cue_event" || claim_of_mention_[c] == kNone ||
        is_state(text_of(candidate)))
      continue;
    if (!in_reach(candidate.first) && clauses_.clause_of[candidate.first] != clause) continue;
    if (candidate.first > date.first && clauses_.segment_of[candidate.first] != segment) continue;
    // Another date in between has it already.
    const bool taken =
        std::any_of(mentions_.items.begin(), mentions_.items.end(), [&](const Mention& other) {
          return other.kind == MentionKind::kDate && &other != &date &&
                 other.first >= candidate.last && other.last <= date.first;
        });
    if (taken || (candidate.first < date.first && date.first - candidate.last > 12)) continue;
    if (nearest == nullptr || candidate.last <= date.first) {
      nearest = &candidate;
      nearest_index = c;
    }
  }
  if (nearest != nullptr) {
    event = claim_of_mention_[nearest_index];
    return "event";
  }
  if (cue("cue_order") != nullptr && !has_serial) return "order";
  if (!is_caption()) return "";
  if (kind == ClauseKind::kRelative || kind == ClauseKind::kSubordinate) {
    const std::string opener = fold(word(clauses_.clauses[clause].first));
    if (opener != "when" && opener != "while" && opener != "where") return "event";
  }
  if (cue("cue_former") != nullptr || cue("cue_later") != nullptr) return "event";
  return "photograph";
}

void BlockAssembler::add_dates() {
  for (const Mention& mention : mentions_.items) {
    if (mention.kind != MentionKind::kDate) continue;
    const DateMention& date = mentions_.dates[mention.payload];
        const ResolvedDate& resolved = dates_[mention.payload];
        const Edtf& value = resolved.date;
    if (value.is_unknown() && !resolved.impossible) continue;
    std::uint32_t event = kNone;
    const std::string owner = owner_of(mention, event);
    Claim& claim = add(mention, ClaimKind::kDate);
    claim.date = value;
    claim.value = resolved.impossible ? std::string(text_of(mention)) : value.text();
    claim.of = owner;
    claim.event = event;
    claim.hedged = claim.hedged || date.hedged;
    claim.inherited = resolved.inherited;
    claim.weekday = date.weekday;
    claim.impossible = resolved.impossible;
    claim.known = !resolved.impossible;
    if (resolved.impossible) claim.why += "; " + resolved.what;
    if (owner == "event" && event != kNone) {
      claim.subject = out_[event].subject;
    } else if (owner == "person") {
      claim.subject = focus_.person;
      for (const Mention& other : mentions_.items) {
        if (other.kind == MentionKind::kPerson && other.last <= mention.first)
          claim.subject = other.value;
      }
    } else {
      claim.subject = is_caption() ? figure_subject() : "";
    }
    const bool usable = !resolved.impossible;
    if (usable && owner == "photograph" && !claim.attributed && !claim.negated) {
      focus_.photograph_dates.push_back(static_cast<std::uint32_t>(out_.size() - 1));
    }
  }
}

// When each claim of the block is said to hold.
void BlockAssembler::settle_when() {
  const Margins& margins = ledger_.settings().margins;
  const auto when_of = [&](std::uint32_t index) {
    const Claim& date = out_[index];
    When when;
    when.known = true;
    when.days = date.date.days();
    when.widened = date.date.widened(margins);
    when.hedged = date.hedged;
    when.inherited = date.inherited;
    when.date = index;
    return when;
  };
  When picture;
  for (const std::uint32_t index : focus_.photograph_dates) {
    const When when = when_of(index);
    if (!picture.known) {
      picture = when;
      continue;
    }
    const DaySet both = picture.days.intersect(when.days);
    if (both.empty()) continue;  // two dates that clash are for other checks; the first stands
    picture.days = both;
    picture.widened = picture.widened.intersect(when.widened);
    picture.hedged = picture.hedged || when.hedged;
  }
  std::vector<std::uint32_t> dates;
  for (std::size_t i = first_claim_; i < out_.size(); ++i) {
    if (out_[i].kind == ClaimKind::kDate && !out_[i].impossible)
      dates.push_back(static_cast<std::uint32_t>(i));
  }
  std::vector<std::uint32_t> first_token(out_.size() - first_claim_);
  for (std::size_t i = first_claim_; i < out_.size(); ++i) {
    const auto it = std::lower_bound(
        mentions_.tokens.begin(), mentions_.tokens.end(), out_[i].begin,
        [](const Token& token, std::uint32_t value) { return token.begin < value; });
    const auto t = static_cast<std::uint32_t>(it - mentions_.tokens.begin());
    first_token[i - first_claim_] =
        std::min<std::uint32_t>(t, static_cast<std::uint32_t>(mentions_.tokens.size() - 1));
  }
  const auto token_of = [&](std::size_t claim) { return first_token[claim - first_claim_]; };
  for (std::size_t i = first_claim_; i < out_.size(); ++i) {
    Claim& claim = out_[i];
    if (claim.kind == ClaimKind::kDate) {
      if (!claim.impossible) claim.when = when_of(static_cast<std::uint32_t>(i));
      continue;
    }
    const std::uint32_t token = token_of(i);
    const auto best_of = [&](auto&& fits) {
      std::uint32_t best = kNone;
      for (const std::uint32_t date : dates) {
        if (!fits(date)) continue;
        if (best == kNone) {
          best = date;
          continue;
        }
        const auto gap = [&](std::uint32_t d) {
          const std::uint32_t at = token_of(d);
          return at > token ? at - token : token - at;
        };
        if (gap(date) < gap(best)) best = date;
      }
      return best;
    };
    if (claim.kind == ClaimKind::kEvent) {
      const std::uint32_t own = best_of([&](std::uint32_t d) {
        return out_[d].event != kNone && out_[out_[d].event].begin == claim.begin;
      });
      if (own != kNone) claim.when = when_of(own);
      continue;
    }
    if (claim.tense != Tense::kThen) {
      const std::uint32_t own = best_of([&](std::uint32_t d) {
        return out_[d].of != "photograph" &&
               clauses_.clause_of[token_of(d)] == clauses_.clause_of[token];
      });
      if (own != kNone) claim.when = when_of(own);
      continue;
    }
    if (is_caption()) {
      // A clause with a date of its own that is not the picture's tells of that day.
      const std::uint32_t own = best_of([&](std::uint32_t d) {
        const Claim& date = out_[d];
        if (date.of == "photograph" || date.of == "publication" || date.of == "type") return false;
        const std::uint32_t t = token_of(d);
        if (clauses_.segment_of[t] == clauses_.segment_of[token]) return true;
        return clauses_.clause_of[t] == clauses_.clause_of[token] &&
               clauses_.clauses[clauses_.clause_of[t]].kind != ClauseKind::kMain;
      });
      if (own != kNone) {
        claim.when = when_of(own);
      } else {
        claim.when = picture;
      }
      continue;
    }
    std::uint32_t own = best_of([&](std::uint32_t d) {
      return clauses_.segment_of[token_of(d)] == clauses_.segment_of[token];
    });
    if (own == kNone) {
      own = best_of([&](std::uint32_t d) {
        return clauses_.clause_of[token_of(d)] == clauses_.clause_of[token];
      });
    }
    if (own == kNone) {
      own = best_of([&](std::uint32_t d) {
        return clauses_.sentence_of[token_of(d)] == clauses_.sentence_of[token] &&
               out_[d].of != "person" && out_[d].of != "publication" && out_[d].of != "type";
      });
      // Across clauses the tie is loose.
      if (own != kNone && clauses_.clauses[clauses_.clause_of[token]].kind == ClauseKind::kMain &&
          clauses_.clauses[clauses_.clause_of[token_of(own)]].kind != ClauseKind::kMain) {
        own = kNone;
      }
    }
    if (own != kNone && out_[own].of != "publication" && out_[own].of != "type")
      claim.when = when_of(own);
  }
}

}  // namespace tailproof
