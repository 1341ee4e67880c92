// Which claims a date dates: in a caption those of the picture, but for clauses with a date of
// their own; in running text those beside it.
#include <algorithm>

#include "claims/assembler.h"
#include "mentions/event_words.h"

namespace tailproof {
namespace {

// "The winter of 1943" may be either end of that year where winter crosses it: both are kept.
DaySet with_both_years(const Edtf& date, const DaySet& days) {
  if (date.precision() != Precision::kSeason || date.is_interval() || days.empty() || days.is_all())
    return days;
  const CivilDate first = to_civil(days.first()), last = to_civil(days.last());
  if (first.year == last.year || last.year > first.year + 1) return days;
  const Day back = to_day({first.year - 1, first.month, 1});
  const Day end = to_day({last.year - 1, last.month, days_in_month(last.year - 1, last.month)});
  return days.unite(DaySet{{back, end}});
}

// When::season of a date: a year and EDTF's number of a season, 21 to 24, and nothing else.
std::uint8_t season_of(const Edtf& date) {
  std::string_view text = date.text();
  if (text.ends_with('~') || text.ends_with('?')) text.remove_suffix(1);
  if (text.size() != 7 || text[4] != '-' || text[5] != '2') return 0;
  return text[6] >= '1' && text[6] <= '4' ? static_cast<std::uint8_t>(text[6] - '0') : 0;
}

}  // namespace

// "Before it went to the 3rd", "after her repaint": clauses that tell of another time than the
// picture's.
bool BlockAssembler::is_before_or_after(std::uint32_t token) const {
  const Clause& clause = clauses_.clauses[clauses_.clause_of[token]];
  if (clause.kind != ClauseKind::kSubordinate) return false;
  const Spelling opener = office(clause.first);
  return opener == "before" || opener == "after" || opener == "until" || opener == "since" ||
         opener == "once";
}

bool BlockAssembler::opens_with_before(std::uint32_t token) const {
  const Spelling opener = office(clauses_.clauses[clauses_.clause_of[token]].first);
  return opener == "before" || opener == "until";
}

bool BlockAssembler::is_relative_date(const Claim& date) const {
  return std::any_of(mentions_.dates.begin(), mentions_.dates.end(),
                     [&](const DateMention& mention) {
                       return mention.begin == date.begin && mention.first.is_relative();
                     });
}

// "Until May", "since May": an end of what is told, and no day of it.
bool BlockAssembler::is_bound(const Claim& date) const {
  return std::any_of(mentions_.dates.begin(), mentions_.dates.end(),
                     [&](const DateMention& mention) {
                       return mention.begin == date.begin && mention.bound != DateBound::kNone;
                     });
}

// "Went to the 3rd in April 1938 and from there to the 2nd", "joined in September, served with the
// 914th and ended at the School": what the sentence goes on to tell is of another day. So is what
// it tells of some of those that a date has marked off: "of the eight taken over in April, ...".
bool BlockAssembler::is_told_onward(std::uint32_t token, const Claim& date) const {
  constexpr std::uint32_t kReach = 3;
  const std::uint32_t first = token_at(date.begin), end = token_at(date.end);
  if (token < first) return false;
  const std::uint32_t opening = clauses_.clauses[clauses_.clause_of[first]].first;
  if (clauses_.segment_of[first] != clauses_.segment_of[token] &&
      clauses_.segment_of[first] == clauses_.segment_of[opening] && office(opening) == "of")
    return true;
  const bool opens = first - opening < kReach;
  // "In March 1938 X12, then with 9 Squadron, flew": an aside right behind the machine tells how it
  // stood on that day. Not "was with 8 Squadron, then with 9 Squadron".
  const auto is_state_aside = [&](std::uint32_t comma) {
    constexpr std::uint32_t kMostWords = 8;
    const Mention* machine = word(comma) == "," ? mention_ending_at(comma) : nullptr;
    const auto count = static_cast<std::uint32_t>(mentions_.tokens.size());
    if (machine == nullptr || machine->kind != MentionKind::kAirframe || comma + 2 >= count ||
        !is_in("same_time_word", comma + 1) || !is_in("state_preposition", comma + 2))
      return false;
    const std::uint32_t end = end_of_aside(comma + 1, kMostWords);
    return end < count && !is_in("event_conjunction", end) && !is_in("onward_word", end);
  };
  for (std::uint32_t t = end; t < token; ++t) {
    if (word(t) != "," && !is_in("event_conjunction", t)) continue;
    if (is_state_aside(t)) continue;
    for (std::uint32_t on = t + 1; on <= std::min(token, t + kReach); ++on) {
      if (mentions_.tokens[on].kind == TokenKind::kMark) break;
      if (is_in("onward_word", on) || (!opens && is_in("onward_verb", on))) return true;
    }
  }
  return false;
}

// "No. 5 was given HT in May and No. 7 BW in July": what "and" opens has the date that stands
// behind it, and not the one before the joint.
bool BlockAssembler::is_past_joint(std::uint32_t token, const Claim& date) const {
  const std::uint32_t segment = clauses_.segment_of[token], first = token_at(date.end);
  if (first > token || clauses_.segment_of[first] != segment) return false;
  bool is_joined = false;
  for (std::uint32_t t = first; t < token; ++t) is_joined |= is_in("day_joint", t);
  const auto count = static_cast<std::uint32_t>(mentions_.tokens.size());
  for (std::uint32_t t = token; is_joined && t < count; ++t) {
    if (clauses_.segment_of[t] != segment || is_in("day_joint", t)) return false;
    if (mention_over(MentionKind::kDate, t) != nullptr) return true;
  }
  return false;
}

// "X12 of 61 Squadron went into store on 2 February": that unit had it until that day.
bool BlockAssembler::is_handed_on(const Claim& claim) const {
  if (claim.kind != ClaimKind::kUnit || claim.subject.empty() || claim.tense != Tense::kThen)
    return false;
  const std::uint32_t first = token_at(claim.begin), end = token_at(claim.end);
  if (first == 0 || end + 1 >= mentions_.tokens.size()) return false;
  const std::uint32_t before = office(first - 1) == "the" && first > 1 ? first - 2 : first - 1;
  const Mention* leaver = is_in("leaving_verb", before) ? mention_ending_at(before) : nullptr;
  if (leaver != nullptr && leaver->kind == MentionKind::kAirframe) return true;
  return office(before) == "of" && clauses_.segment_of[end] == clauses_.segment_of[first] &&
         is_in("handing_verb", end) && is_in("handing_to", end + 1);
}

// "Never heard of again after 3 May": gone on that day, and not on one of those behind it.
bool BlockAssembler::is_last_heard_of(const Claim& event, const Claim& date) const {
  const std::uint32_t end = token_at(event.end), day = token_at(date.begin);
  if (event.value != "lost" || end == 0 || end > day) return false;
  return is_in("again_word", end - 1) || stands_between(end, day, "again_word");
}

// "As PV-01 (May 1943)": a bracket with nothing but the date, right behind the claim.
bool BlockAssembler::is_dated_in_bracket(const Claim& claim, const Claim& date) const {
  const std::uint32_t end = token_at(claim.end), first = token_at(date.begin);
  const std::uint32_t behind = token_at(date.end);
  return first == end + 1 && behind < mentions_.tokens.size() && word(end) == "(" &&
         word(behind) == ")";
}

// "In 1944 and 1946": two views, and each thing told may be of either.
bool BlockAssembler::are_joined(const Claim& one, const Claim& other) const {
  const std::uint32_t from = token_at(one.end), to = token_at(other.begin);
  bool has_and = false;
  for (std::uint32_t t = from; t < to; ++t) {
    // "1938 (plain wheel), 1944 (shield)".
    if (clauses_.clauses[clauses_.clause_of[t]].kind == ClauseKind::kBracket || word(t) == "(" ||
        word(t) == ")") {
      has_and = true;
      continue;
    }
    has_and = has_and || office(t) == "and" || word(t) == "&";
    if (office(t) != "and" && word(t) != "&" && word(t) != "," && office(t) != "in") return false;
  }
  return has_and;
}

// When each claim of the block is said to hold.
void BlockAssembler::settle_when() {
  constexpr Day kSomeWeeks = 62;
  const Margins& margins = ledger_.settings().margins;
  DaySet picture_days;  // once they are known
  const auto when_of = [&](std::uint32_t index) {
    const Claim& date = out_[index];
    When when;
    when.known = true;
    when.days = date.date.days();
    when.widened = date.date.widened(margins);
    // "The winter of 1942/43" names both.
    const bool names_both_years =
        std::any_of(mentions_.dates.begin(), mentions_.dates.end(), [&](const DateMention& words) {
          return words.begin == date.begin && words.first.last_year.has_value();
        });
    if (!names_both_years) {
      when.days = with_both_years(date.date, when.days);
      when.widened = with_both_years(date.date, when.widened);
    }
    if (const Day slack = slack_of(date); slack > 0) {
      when.days = when.days.widened(slack);
      when.widened = when.widened.widened(slack);
    }
    if (date.of != "photograph" && !picture_days.empty()) {
      when.days = with_years_around(date, when.days, picture_days);
      when.widened = with_years_around(date, when.widened, picture_days);
    }
    when.hedged = date.hedged;
    when.inherited = date.inherited;
    when.season = season_of(date.date);
    when.date = index;
    return when;
  };
  // "Until the summer", "not seen again after May": what it tells of is of that summer, that May.
  const auto plain_when = [&](std::uint32_t index) {
    When when = when_of(index);
    const auto words =
        std::find_if(mentions_.dates.begin(), mentions_.dates.end(),
                     [&](const DateMention& day) { return day.begin == out_[index].begin; });
    if (words == mentions_.dates.end()) return when;
    const Edtf& plain = dates_[static_cast<std::size_t>(words - mentions_.dates.begin())].plain;
    if (plain.is_unknown()) return when;
    when.days = plain.days();
    when.widened = plain.widened(margins);
    return when;
  };
  When picture;
  bool has_joined_views = false;
  for (const std::uint32_t index : focus_.photograph_dates) {
    const When when = when_of(index);
    if (!picture.known) {
      picture = when;
      continue;
    }
    const DaySet both = picture.days.intersect(when.days);
    if (both.empty() && are_joined(out_[picture.date], out_[index])) {
      has_joined_views = true;
      picture.days = picture.days.unite(when.days);
      picture.widened = picture.widened.unite(when.widened);
      picture.season = 0;
    }
    if (both.empty()) continue;  // two dates that clash are for other checks; the first stands
    if (both != picture.days) picture.season = 0;
    picture.days = both;
    picture.widened = picture.widened.intersect(when.widened);
    picture.hedged = picture.hedged || when.hedged;
  }
  std::vector<std::uint32_t> dates;
  for (std::size_t i = first_claim_; i < out_.size(); ++i) {
    if (out_[i].kind == ClaimKind::kDate && !out_[i].impossible && !out_[i].negated)
      dates.push_back(static_cast<std::uint32_t>(i));
  }
  std::vector<std::uint32_t> first_token(out_.size() - first_claim_);
  for (std::size_t i = first_claim_; i < out_.size(); ++i)
    first_token[i - first_claim_] = token_at(out_[i].begin);
  if (is_caption() && picture.known) picture_days = picture.days;
  const auto bracketed_date_of = [&](const Claim& claim) {
    const auto found = std::find_if(dates.begin(), dates.end(), [&](std::uint32_t d) {
      return is_dated_in_bracket(claim, out_[d]);
    });
    return found == dates.end() ? kNone : *found;
  };
  if (is_caption() && picture.known) {
    // "As PV-01 (May 1943), as Spade 1 (1944)": no view is more the picture's than the other.
    std::vector<std::uint32_t> bracketed;
    for (std::size_t i = first_claim_; i < out_.size(); ++i) {
      const std::uint32_t date =
          out_[i].kind == ClaimKind::kDate ? kNone : bracketed_date_of(out_[i]);
      if (date != kNone && (bracketed.empty() || bracketed.back() != date))
        bracketed.push_back(date);
    }
    if (bracketed.size() > 1 &&
        std::find(bracketed.begin(), bracketed.end(), picture.date) != bracketed.end())
      picture = When{};
  }
  const auto has_picture_date = [&](std::uint32_t clause) {
    return std::any_of(dates.begin(), dates.end(), [&](std::uint32_t d) {
      return out_[d].of == "photograph" &&
             clauses_.clause_of[first_token[d - first_claim_]] == clause;
    });
  };
  const auto token_of = [&](std::size_t claim) { return first_token[claim - first_claim_]; };
  for (std::size_t i = first_claim_; i < out_.size(); ++i) {
    Claim& claim = out_[i];
    if (claim.kind == ClaimKind::kDate) {
      if (!claim.impossible) claim.when = when_of(static_cast<std::uint32_t>(i));
      continue;
    }
    const std::uint32_t token = token_of(i);
    const bool is_remains = claim.kind == ClaimKind::kAirframe && claim.role.empty() &&
                            is_of_remains(token, token_at(claim.end));
    if (is_remains) claim.said |= kSaidOfRemains;
    const bool is_of_career = has_dated_career(claim);
    const auto best_of = [&](auto&& fits) {
      std::uint32_t best = kNone;
      for (const std::uint32_t date : dates) {
        if (!fits(date) || (out_[date].attributed && !claim.attributed)) continue;
        if (is_of_career && !is_date_of_career(claim, out_[date])) continue;
        if (best == kNone) {
          best = date;
          continue;
        }
        // "The green disc in 1943 and the edged one in 1945": each its own, however near the other.
        constexpr std::uint32_t kParted = 12;
        const auto gap = [&](std::uint32_t d) {
          const std::uint32_t at = token_of(d);
          // "Frontier Medal 1943, Flyer's Star 1944": behind the award's last word.
          const std::uint32_t end = claim.kind == ClaimKind::kAward ? token_at(claim.end) : token;
          const std::uint32_t distance = at >= end ? at - end : token - at;
          return distance + (is_parted(std::min(at, token), std::max(at, token)) ? kParted : 0);
        };
        if (gap(date) < gap(best)) best = date;
      }
      return best;
    };
    if (claim.kind == ClaimKind::kEvent) {
      const std::uint32_t own = best_of([&](std::uint32_t d) {
        // "June 1941, a month before it was lost": the picture's, though counted from the event.
        return out_[d].event != kNone && out_[d].of != "photograph" &&
               out_[out_[d].event].begin == claim.begin &&
               out_[out_[d].event].subject == claim.subject;
      });
      if (own != kNone) {
        claim.when = is_last_heard_of(claim, out_[own]) ? plain_when(own) : when_of(own);
      } else if (const std::uint32_t shared =
                     best_of([&](std::uint32_t d) { return leads_both(out_[d], claim); });
                 shared != kNone) {
        claim.when = when_of(shared);
      } else if (const Mention* before = date_before_when(claim);
                 before != nullptr || date_told_next(claim) != nullptr) {
        const Mention* date = before != nullptr ? before : date_told_next(claim);
        const auto told = std::find_if(dates.begin(), dates.end(), [&](std::uint32_t d) {
          return out_[d].begin == date->begin;
        });
        if (told == dates.end() || out_[*told].attributed) continue;
        claim.when = plain_when(*told);
      } else if (is_titled_by(claim)) {
        claim.when = picture;
      } else if (is_just_done(token) && !is_caption()) {
        // "Had just been delivered when Treeve flew it in May".
        const std::uint32_t only = best_of([&](std::uint32_t d) {
          return clauses_.sentence_of[token_of(d)] == clauses_.sentence_of[token] &&
                 out_[d].event == kNone && !is_bound(out_[d]);
        });
        if (only != kNone) claim.when = when_of(only);
        claim.when.season = 0;
        claim.when.days = claim.when.days.widened(kSomeWeeks);
        claim.when.widened = claim.when.widened.widened(kSomeWeeks);
      }
      continue;
    }
    if (claim.kind == ClaimKind::kAward && is_for_deed(claim)) continue;
    if (const std::uint32_t told =
            best_of([&](std::uint32_t d) { return is_told_of_day(token, out_[d]); });
        told != kNone) {
      claim.tense = Tense::kThen;
      claim.when = when_of(told);
      continue;
    }
    // "A Corporal at Saltgate, a Sergeant at the Fort, and nothing in 1947".
    const auto is_parted_by_rank = [&](std::uint32_t own) {
      const std::uint32_t at = token_of(own);
      if (claim.kind != ClaimKind::kRank || at < token) return false;
      // "Was a sergeant all the time I knew him and had no medal that day": of the other verb.
      for (std::uint32_t t = token; token > 0 && office(token - 1) == "a" && t + 1 < at; ++t) {
        const bool is_verb = is_in("finite_auxiliary", t + 1) || is_in("story_verb", t + 1);
        if (is_in("event_conjunction", t) && is_verb) return true;
      }
      // "Made a lieutenant by merit and a captain in 1942": neither is a title.
      const bool is_close = clauses_.segment_of[at] == clauses_.segment_of[token];
      if (is_close && mention_over(MentionKind::kPerson, token_at(claim.end)) != nullptr)
        return false;
      return any_mention(MentionKind::kRank, [&](const Mention& other) {
        return other.first > token && other.last <= at &&
               (!is_close || people_behind(other).empty());
      });
    };
    // "He was still a Sergeant when he won it that November".
    if (claim.kind == ClaimKind::kRank && !is_caption()) {
      const std::uint32_t told =
          best_of([&](std::uint32_t d) { return is_of_when(token_at(claim.end), token_of(d)); });
      if (told != kNone) {
        claim.tense = Tense::kThen;
        claim.when = when_of(told);
        continue;
      }
    }
    if (claim.tense != Tense::kThen) {
      const std::uint32_t own = best_of([&](std::uint32_t d) {
        return out_[d].of != "photograph" &&
               clauses_.clause_of[token_of(d)] == clauses_.clause_of[token];
      });
      if (own != kNone && !is_told_onward(token, out_[own]) && !is_parted_by_rank(own))
        claim.when = when_of(own);
      continue;
    }
    if (is_caption()) {
      // A clause with a date of its own that is not the picture's tells of that day.
      const std::uint32_t own = best_of([&](std::uint32_t d) {
        const Claim& date = out_[d];
        if (date.of == "photograph" || date.of == "publication" || date.of == "type" ||
            date.of == "order" || is_told_by_another(claim, date))
          return false;
        const std::uint32_t t = token_of(d);
        if (clauses_.segment_of[t] == clauses_.segment_of[token]) return true;
        if (claim.kind == ClaimKind::kPlace && is_where_it_befell(date, token)) return true;
        if (opens_behind(clauses_.clause_of[token], date)) return true;
        if (date.event == kNone && has_view_behind(claim, clauses_.clause_of[t])) return true;
        if (clauses_.clause_of[t] != clauses_.clause_of[token] ||
            has_picture_date(clauses_.clause_of[t]))
          return false;
        // "X12 as a transport, 1944. Windows cut at the Depot, autumn 1943."
        const bool is_where = claim.kind == ClaimKind::kUnit || claim.kind == ClaimKind::kPlace;
        if (is_where && date.event == kNone && is_in_later_sentence(token) && token < t &&
            word(t - 1) == ",")
          return true;
        return t < token || clauses_.clauses[clauses_.clause_of[t]].kind != ClauseKind::kMain;
      });
      // Two pictures in one caption, each with its date.
      std::uint32_t of_other = best_of([&](std::uint32_t d) {
        const std::uint32_t t = token_of(d);
        return out_[d].of == "photograph" && clauses_.segment_of[t] == clauses_.segment_of[token] &&
               !is_parted(std::min(t, token), std::max(t, token));
      });
      if (of_other == kNone)
        of_other = best_of([&](std::uint32_t d) {
          const Claim& date = out_[d];
          if (date.of != "photograph") return false;
          const std::uint32_t t = token_of(d);
          return clauses_.clause_of[t] == clauses_.clause_of[token] ||
                 has_view_behind(claim, clauses_.clause_of[t]) || is_in_bracket_of(token, date);
        });
      if (of_other == kNone && item_of(token) != 0)
        of_other = best_of([&](std::uint32_t d) {
          return out_[d].of == "photograph" && item_of(token_of(d)) == item_of(token);
        });
      if (of_other != kNone && out_[of_other].date.days().intersects(picture.days))
        of_other = kNone;
      std::uint32_t bracketed = bracketed_date_of(claim);
      if (bracketed == kNone && has_joined_views)
        bracketed = best_of([&](std::uint32_t d) {
          return out_[d].of == "photograph" && is_in_bracket_of(token, out_[d]);
        });
      // "She burnt on 14 May, and X14 took over the letters": that X14 is named says nothing of its
      // life then.
      const bool is_only_named = claim.kind == ClaimKind::kAirframe && claim.role.empty() &&
                                 !claim.shown && own != kNone && out_[own].of != "photograph";
      if (is_only_named) continue;
      if (bracketed != kNone) {
        claim.when = when_of(bracketed);
      } else if (own != kNone) {
        claim.when = when_of(own);
      } else if (is_of_career) {
        claim.tense = Tense::kFormer;
      } else if (of_other != kNone) {
        claim.when = when_of(of_other);
      } else if (is_before_or_after(token)) {
        // "A few weeks before it went to the 3rd": not what the picture shows.
        claim.tense = claim.kind == ClaimKind::kAirframe ? claim.tense
                      : opens_with_before(token)         ? Tense::kLater
                                                         : Tense::kFormer;
      } else if (claim.kind != ClaimKind::kReference && is_of_other_figure(token)) {
        claim.shown = false;
      } else if (const std::optional<Tense> other = other_time_of(token, claim.kind);
                 other && (claim.kind != ClaimKind::kAirframe || !claim.role.empty())) {
        claim.tense = *other;
      } else {
        claim.when = picture;
      }
      continue;
    }
    // Running text: a date of the same segment, or, if it is no relative one, of the same clause.
    // That a machine is named beside a date says nothing of its life; its events do.
    if (claim.kind == ClaimKind::kAirframe && claim.role.empty() && !is_remains &&
        !is_said_to_fly(claim))
      continue;
    // "In August 1947 it flew, and it is now painted as X12": of X12's own days.
    const bool is_of_stood_for = any_mention(MentionKind::kAirframe, [&](const Mention& serial) {
      return serial.value == claim.subject && is_stood_for(serial.first) &&
             clauses_.sentence_of[serial.first] == clauses_.sentence_of[token];
    });
    if (is_of_stood_for) continue;
    if (is_handed_on(claim)) {
      claim.tense = Tense::kFormer;
      continue;
    }
    const std::uint32_t aboard =
        claim.kind == ClaimKind::kAirframe ? clause_aboard(token_at(claim.end)) : kNone;
    std::uint32_t own = best_of([&](std::uint32_t d) {
      if (aboard != kNone) return clauses_.clause_of[token_of(d)] == aboard;
      return clauses_.segment_of[token_of(d)] == clauses_.segment_of[token] &&
             !is_past_joint(token, out_[d]);
    });
    // "9 Wing closed on the last day of May, 11 Wing three months before it": of another day,
    // whether that can be counted or not.
    const auto has_own_count = [&] {
      constexpr std::uint32_t kReach = 8;
      if (!has_word_of("date_direction")) return false;
      const auto count = static_cast<std::uint32_t>(mentions_.tokens.size());
      const std::uint32_t end = token_at(claim.end);
      for (std::uint32_t t = end; t + 1 < count && t - end < kReach; ++t) {
        if (clauses_.segment_of[t] != clauses_.segment_of[token]) return false;
        // "... at midnight, and 11 Wing came into being a second later": the next day, it may be.
        const bool is_short = is_in("short_period", t);
        if (tells_verb(t) && !is_short && !has_word_of("short_period")) return false;
        const bool is_period = is_in("date_period", t) || is_short;
        const bool is_counted = is_period && is_in("date_direction", t + 1);
        if (is_counted && clauses_.segment_of[t + 1] == clauses_.segment_of[token]) return true;
      }
      return false;
    };
    if (own == kNone && has_own_count()) continue;
    // "A print of 28 August shows it with 9 Squadron, one of a week later the same machine, flown
    // by 12 Squadron": a count of days between moves the story on.
    const auto is_counted_on = [&](std::uint32_t d) {
      return token_of(d) < token && any_mention(MentionKind::kDate, [&](const Mention& other) {
               const DateUnit& unit = mentions_.dates[other.payload].first;
               return other.first > token_of(d) && other.last <= token && unit.is_offset() &&
                      unit.offset > 0 && other.first > 1 && office(other.first - 1) == "of" &&
                      clauses_.clause_of[other.first] == clauses_.clause_of[token];
             });
    };
    if (own == kNone) {
      own = best_of([&](std::uint32_t d) {
        return clauses_.clause_of[token_of(d)] == clauses_.clause_of[token] &&
               !is_relative_date(out_[d]) && !is_past_joint(token, out_[d]) &&
               !is_of_next_item(claim, out_[d]) && !is_of_other_machine(claim, out_[d], dates) &&
               !is_of_time_before(token, out_[d]) && !is_counted_on(d);
      });
    }
    // "At Murrow that May, however, X12 had a band": what a sentence opens with holds for all of
    // its first clause, though the month be counted from another.
    if (own == kNone) {
      own = best_of([&](std::uint32_t d) { return opens_clause_with(out_[d], token); });
    }
    // "In May 1957, when Pascoe of 9 Squadron flew it": not what had been before, nor "until the
    // end of April, when he went over to them".
    if (own == kNone && (claim.kind == ClaimKind::kUnit || claim.kind == ClaimKind::kPlace))
      own = best_of([&](std::uint32_t d) {
        const Clause& clause = clauses_.clauses[clauses_.clause_of[token]];
        // "... while the other stood at the Point" need not be of that day.
        const bool is_then = claim.kind == ClaimKind::kUnit || office(clause.first) == "when";
        return clause.kind == ClauseKind::kSubordinate && is_then && !is_bound(out_[d]) &&
               opens_behind(clauses_.clause_of[token], out_[d]) &&
               !stands_between(clause.first, clause.last, "had_word") &&
               !stands_between(clause.first, clause.last, "when_state");
      });
    // "They left on 3 May. Carne, who was by then a Captain, ...".
    if (own == kNone && claim.kind == ClaimKind::kRank && is_had_by_then(token)) {
      own = best_of([&](std::uint32_t d) {
        return token_of(d) < token && !is_bound(out_[d]) &&
               clauses_.sentence_of[token_of(d)] + 1 >= clauses_.sentence_of[token];
      });
    }
    if (own == kNone) {
      own = best_of([&](std::uint32_t d) {
        const Mention* words = mention_over(MentionKind::kDate, token_of(d));
        return words != nullptr && is_right_behind_when(clauses_.clause_of[token], *words);
      });
    }
    const bool is_by_clause = own == kNone && claim.kind == ClaimKind::kUnit;
    if (is_by_clause) {
      own = best_of([&](std::uint32_t d) { return is_dated_by_clause(claim, out_[d]); });
    }
    // "Figure 3, taken in May 1943, shows what was left of X12."
    if (own == kNone && is_remains) {
      own = best_of([&](std::uint32_t d) {
        return out_[d].of == "photograph" &&
               clauses_.sentence_of[token_of(d)] == clauses_.sentence_of[token];
      });
    }
    if (own != kNone && is_told_onward(token, out_[own])) continue;
    if (own != kNone && is_remains && (out_[own].event != kNone || out_[own].inherited)) continue;
    if (own != kNone && has_impossible_between(claim, out_[own])) continue;
    if (own != kNone && is_parted_by_rank(own)) continue;
    if (own != kNone && out_[own].of != "publication" && out_[own].of != "type")
      claim.when = when_of(own);
    if (own != kNone && is_by_clause) claim.when.inherited = true;
  }
  if (is_caption()) part_times();
  if (!is_caption()) settle_by_when_clauses();
  settle_by_arrivals();
  mark_stretches();
  // What stands below has a date, and tells of other machines or of none by name.
  if (!picture_ahead_.known || picture.known || !dates.empty()) return;
  for (std::size_t i = first_claim_; i < out_.size(); ++i) {
    Claim& claim = out_[i];
    const bool is_shown = claim.kind == ClaimKind::kAirframe && claim.role.empty() && claim.shown &&
                          claim.tense == Tense::kThen && !claim.when.known;
    if (is_shown && !named_ahead_.contains(claim.value)) claim.when = picture_ahead_;
  }
}

}  // namespace tailproof
