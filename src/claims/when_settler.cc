#include "claims/when_settler.h"

#include <algorithm>

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

BlockAssembler::WhenSettler::WhenSettler(BlockAssembler& block)
    : a_(block), margins_(block.ledger_.settings().margins) {
  read_picture();
  for (std::size_t i = a_.first_claim_; i < a_.out_.size(); ++i) {
    const Claim& date = a_.out_[i];
    const bool is_date = date.kind == ClaimKind::kDate && !date.impossible && !date.negated;
    if (!is_date || date.date.precision() == Precision::kCentury) continue;
    const Mention* words = a_.mention_over(MentionKind::kDate, a_.token_at(date.begin));
    if (words == nullptr || !a_.is_of_happening(*words, a_.dates_))
      dates_told_.push_back(static_cast<std::uint32_t>(i));
  }
  first_token_.resize(a_.out_.size() - a_.first_claim_);
  for (std::size_t i = a_.first_claim_; i < a_.out_.size(); ++i)
    first_token_[i - a_.first_claim_] = a_.token_at(a_.out_[i].begin);
  if (!a_.is_caption() || !picture_.known) return;
  picture_days_ = picture_.days;
  part_bracketed_views();
}

When BlockAssembler::WhenSettler::when_of(std::uint32_t index) const {
  const Claim& date = a_.out_[index];
  When when;
  when.known = true;
  when.days = date.date.days();
  when.widened = date.date.widened(margins_);
  // "The winter of 1942/43" names both.
  const bool names_both_years = std::any_of(
      a_.mentions_.dates.begin(), a_.mentions_.dates.end(), [&](const DateMention& words) {
        return words.begin == date.begin && words.first.last_year.has_value();
      });
  if (!names_both_years) {
    when.days = with_both_years(date.date, when.days);
    when.widened = with_both_years(date.date, when.widened);
  }
  if (const Day slack = a_.slack_of(date); slack > 0) {
    when.days = when.days.widened(slack);
    when.widened = when.widened.widened(slack);
  }
  if (date.of != "photograph" && !picture_days_.empty()) {
    when.days = a_.with_years_around(date, when.days, picture_days_);
    when.widened = a_.with_years_around(date, when.widened, picture_days_);
  }
  when.hedged = date.hedged;
  when.inherited = date.inherited;
  when.season = season_of(date.date);
  when.date = index;
  return when;
}

// "Until the summer", "not seen again after May": what it tells of is of that summer, that May.
When BlockAssembler::WhenSettler::plain_when(std::uint32_t index) const {
  When when = when_of(index);
  const auto words =
      std::find_if(a_.mentions_.dates.begin(), a_.mentions_.dates.end(),
                   [&](const DateMention& day) { return day.begin == a_.out_[index].begin; });
  if (words == a_.mentions_.dates.end()) return when;
  const Edtf& plain = a_.dates_[static_cast<std::size_t>(words - a_.mentions_.dates.begin())].plain;
  if (plain.is_unknown()) return when;
  when.days = plain.days();
  when.widened = plain.widened(margins_);
  return when;
}

void BlockAssembler::WhenSettler::read_picture() {
  for (const std::uint32_t index : a_.focus_.photograph_dates) {
    const When when = when_of(index);
    if (!picture_.known) {
      picture_ = when;
      continue;
    }
    const DaySet both = picture_.days.intersect(when.days);
    if (both.empty() && a_.are_joined(a_.out_[picture_.date], a_.out_[index])) {
      has_joined_views_ = true;
      picture_.days = picture_.days.unite(when.days);
      picture_.widened = picture_.widened.unite(when.widened);
      picture_.season = 0;
    }
    if (both.empty()) continue;  // two dates that clash are for other checks; the first stands
    if (both != picture_.days) picture_.season = 0;
    picture_.days = both;
    picture_.widened = picture_.widened.intersect(when.widened);
    picture_.hedged = picture_.hedged || when.hedged;
  }
}

std::uint32_t BlockAssembler::WhenSettler::bracketed_date_of(const Claim& claim) const {
  const auto found = std::find_if(dates_told_.begin(), dates_told_.end(), [&](std::uint32_t d) {
    return a_.is_dated_in_bracket(claim, a_.out_[d]);
  });
  return found == dates_told_.end() ? kNone : *found;
}

// "As PV-01 (May 1943), as Spade 1 (1944)": no view is more the picture's than the other.
void BlockAssembler::WhenSettler::part_bracketed_views() {
  std::vector<std::uint32_t> bracketed;
  for (std::size_t i = a_.first_claim_; i < a_.out_.size(); ++i) {
    const std::uint32_t date =
        a_.out_[i].kind == ClaimKind::kDate ? kNone : bracketed_date_of(a_.out_[i]);
    if (date != kNone && (bracketed.empty() || bracketed.back() != date)) bracketed.push_back(date);
  }
  if (bracketed.size() > 1 &&
      std::find(bracketed.begin(), bracketed.end(), picture_.date) != bracketed.end())
    picture_ = When{};
}

bool BlockAssembler::WhenSettler::has_picture_date(std::uint32_t clause) const {
  return std::any_of(dates_told_.begin(), dates_told_.end(), [&](std::uint32_t d) {
    return a_.out_[d].of == "photograph" && a_.clauses_.clause_of[token_of(d)] == clause;
  });
}

// "A Corporal at Saltgate, a Sergeant at the Fort, and nothing in 1947".
bool BlockAssembler::WhenSettler::is_parted_by_rank(const Claim& claim, std::uint32_t token,
                                                    std::uint32_t own) const {
  const std::uint32_t at = token_of(own);
  if (claim.kind != ClaimKind::kRank || at < token) return false;
  // "Was a sergeant all the time I knew him and had no medal that day": of the other verb.
  for (std::uint32_t t = token; token > 0 && a_.office(token - 1) == "a" && t + 1 < at; ++t) {
    const bool is_verb = a_.is_in("finite_auxiliary", t + 1) || a_.is_in("story_verb", t + 1);
    if (a_.is_in("event_conjunction", t) && is_verb) return true;
  }
  // "Made a lieutenant by merit and a captain in 1942": neither is a title.
  const bool is_close = a_.clauses_.segment_of[at] == a_.clauses_.segment_of[token];
  if (is_close && a_.mention_over(MentionKind::kPerson, a_.token_at(claim.end)) != nullptr)
    return false;
  return a_.any_mention(MentionKind::kRank, [&](const Mention& other) {
    return other.first > token && other.last <= at &&
           (!is_close || a_.people_behind(other).empty());
  });
}

// "9 Wing closed on the last day of May, 11 Wing three months before it": of another day,
// whether that can be counted or not.
bool BlockAssembler::WhenSettler::has_own_count(const Claim& claim, std::uint32_t token) const {
  constexpr std::uint32_t kReach = 8;
  if (!a_.has_word_of("date_direction")) return false;
  const auto count = static_cast<std::uint32_t>(a_.mentions_.tokens.size());
  const std::uint32_t end = a_.token_at(claim.end);
  for (std::uint32_t t = end; t + 1 < count && t - end < kReach; ++t) {
    if (a_.clauses_.clause_of[t] != a_.clauses_.clause_of[token]) return false;
    // "... at midnight, and 11 Wing came into being a second later": the next day, it may be.
    const bool is_short = a_.is_in("short_period", t);
    if (a_.tells_verb(t) && !is_short && !a_.has_word_of("short_period")) return false;
    const bool is_period = a_.is_in("date_period", t) || is_short;
    const bool is_counted = is_period && a_.is_in("date_direction", t + 1);
    if (is_counted && a_.clauses_.clause_of[t + 1] == a_.clauses_.clause_of[token]) return true;
  }
  return false;
}

// "A print of 28 August shows it with 9 Squadron, one of a week later the same machine, flown
// by 12 Squadron": a count of days between moves the story on.
bool BlockAssembler::WhenSettler::is_counted_on(std::uint32_t token, std::uint32_t d) const {
  return token_of(d) < token && a_.any_mention(MentionKind::kDate, [&](const Mention& other) {
    const DateUnit& unit = a_.mentions_.dates[other.payload].first;
    return other.first > token_of(d) && other.last <= token && unit.is_offset() &&
           unit.offset > 0 && other.first > 1 && a_.office(other.first - 1) == "of" &&
           a_.clauses_.clause_of[other.first] == a_.clauses_.clause_of[token];
  });
}

void BlockAssembler::WhenSettler::settle_event(Claim& claim, std::uint32_t token) {
  constexpr Day kSomeWeeks = 62;
  const auto best = [&](auto&& fits) { return best_of(claim, token, fits); };
  const std::uint32_t own = best([&](std::uint32_t d) {
    // "June 1941, a month before it was lost": the picture's, though counted from the event.
    return a_.out_[d].event != kNone && a_.out_[d].of != "photograph" &&
           a_.out_[a_.out_[d].event].begin == claim.begin &&
           a_.out_[a_.out_[d].event].subject == claim.subject;
  });
  if (own != kNone) {
    claim.when = a_.is_last_heard_of(claim, a_.out_[own]) ? plain_when(own) : when_of(own);
  } else if (const std::uint32_t shared =
                 best([&](std::uint32_t d) { return a_.leads_both(a_.out_[d], claim); });
             shared != kNone) {
    claim.when = when_of(shared);
  } else if (const Mention* before = a_.date_before_when(claim);
             before != nullptr || a_.date_told_next(claim) != nullptr) {
    const Mention* date = before != nullptr ? before : a_.date_told_next(claim);
    const auto told = std::find_if(dates_told_.begin(), dates_told_.end(), [&](std::uint32_t d) {
      return a_.out_[d].begin == date->begin;
    });
    if (told == dates_told_.end() || a_.out_[*told].attributed) return;
    claim.when = plain_when(*told);
  } else if (a_.is_titled_by(claim)) {
    claim.when = picture_;
  } else if (a_.is_just_done(token) && !a_.is_caption()) {
    // "Had just been delivered when Treeve flew it in May".
    const std::uint32_t only = best([&](std::uint32_t d) {
      return a_.clauses_.sentence_of[token_of(d)] == a_.clauses_.sentence_of[token] &&
             a_.out_[d].event == kNone && !a_.is_bound(a_.out_[d]);
    });
    if (only != kNone) claim.when = when_of(only);
    claim.when.season = 0;
    claim.when.days = claim.when.days.widened(kSomeWeeks);
    claim.when.widened = claim.when.widened.widened(kSomeWeeks);
  }
}

// What the words say outright of a claim's day; whether that settles it.
bool BlockAssembler::WhenSettler::settle_by_words(Claim& claim, std::uint32_t token) {
  const auto best = [&](auto&& fits) { return best_of(claim, token, fits); };
  if (claim.kind == ClaimKind::kAward && a_.is_for_deed(claim)) return true;
  std::uint32_t told = best([&](std::uint32_t d) { return a_.is_told_of_day(token, a_.out_[d]); });
  // "He was still a Sergeant when he won it that November".
  if (told == kNone && claim.kind == ClaimKind::kRank && !a_.is_caption())
    told =
        best([&](std::uint32_t d) { return a_.is_of_when(a_.token_at(claim.end), token_of(d)); });
  if (told != kNone) {
    claim.tense = Tense::kThen;
    claim.when = when_of(told);
    return true;
  }
  if (claim.tense == Tense::kThen) return false;
  const std::uint32_t own = best([&](std::uint32_t d) {
    return a_.out_[d].of != "photograph" &&
           a_.clauses_.clause_of[token_of(d)] == a_.clauses_.clause_of[token];
  });
  if (own != kNone && !a_.is_told_onward(token, a_.out_[own]) &&
      !a_.is_before_joint_day(token, a_.out_[own]) && !is_parted_by_rank(claim, token, own))
    claim.when = when_of(own);
  return true;
}

void BlockAssembler::WhenSettler::settle_in_caption(Claim& claim, std::uint32_t token) {
  const auto best = [&](auto&& fits) { return best_of(claim, token, fits); };
  // A clause with a date of its own that is not the picture's tells of that day.
  std::uint32_t own = best([&](std::uint32_t d) {
    const Claim& date = a_.out_[d];
    if (date.of == "photograph" || date.of == "publication" || date.of == "type" ||
        date.of == "order" || a_.is_told_by_another(claim, date))
      return false;
    const std::uint32_t t = token_of(d);
    // "Taken on charge in 1937 and now with the School".
    if (a_.is_behind_aside(t, token) || (t < token && a_.stands_between(t, token, "now_word")))
      return false;
    if (a_.clauses_.segment_of[t] == a_.clauses_.segment_of[token]) return true;
    if (claim.kind == ClaimKind::kPlace && a_.is_where_it_befell(date, token)) return true;
    if (a_.opens_behind(a_.clauses_.clause_of[token], date)) return true;
    if (date.event == kNone && a_.has_view_behind(claim, a_.clauses_.clause_of[t])) return true;
    if (a_.clauses_.clause_of[t] != a_.clauses_.clause_of[token] ||
        has_picture_date(a_.clauses_.clause_of[t]))
      return false;
    // "X12 as a transport, 1944. Windows cut at the Depot, autumn 1943."
    const bool is_where = claim.kind == ClaimKind::kUnit || claim.kind == ClaimKind::kPlace;
    if (is_where && date.event == kNone && a_.is_in_later_sentence(token) && token < t &&
        a_.word(t - 1) == ",")
      return true;
    return t < token || a_.clauses_.clauses[a_.clauses_.clause_of[t]].kind != ClauseKind::kMain;
  });
  // Two pictures in one caption, each with its date.
  std::uint32_t of_other = best([&](std::uint32_t d) {
    const std::uint32_t t = token_of(d);
    return a_.out_[d].of == "photograph" &&
           a_.clauses_.segment_of[t] == a_.clauses_.segment_of[token] &&
           !a_.is_parted(std::min(t, token), std::max(t, token));
  });
  if (of_other == kNone)
    of_other = best([&](std::uint32_t d) {
      const Claim& date = a_.out_[d];
      if (date.of != "photograph") return false;
      const std::uint32_t t = token_of(d);
      return a_.clauses_.clause_of[t] == a_.clauses_.clause_of[token] ||
             a_.has_view_behind(claim, a_.clauses_.clause_of[t]) ||
             a_.is_in_bracket_of(token, date);
    });
  if (of_other == kNone && a_.item_of(token) != 0)
    of_other = best([&](std::uint32_t d) {
      return a_.out_[d].of == "photograph" && a_.item_of(token_of(d)) == a_.item_of(token);
    });
  if (of_other != kNone && a_.out_[of_other].date.days().intersects(picture_.days))
    of_other = kNone;
  std::uint32_t bracketed = bracketed_date_of(claim);
  if (bracketed == kNone && has_joined_views_)
    bracketed = best([&](std::uint32_t d) {
      return a_.out_[d].of == "photograph" && a_.is_in_bracket_of(token, a_.out_[d]);
    });
  const bool is_of_person =
      claim.kind == ClaimKind::kUnit && (claim.role == "command" || claim.role == "member");
  // "She burnt on 14 May, and X14 took over the letters": that X14 is named says nothing of its
  // life then.
  const bool is_only_named = claim.kind == ClaimKind::kAirframe && claim.role.empty() &&
                             !claim.shown && own != kNone && a_.out_[own].of != "photograph";
  if (is_only_named) return;
  if (claim.kind == ClaimKind::kAirframe && claim.role.empty() && own != kNone &&
      a_.cue_in_segment(token, "cue_not_lived") != nullptr)
    return;
  if (const std::uint32_t day = a_.day_set_before(token); day != kNone) {
    const std::uint32_t its = best([&](std::uint32_t d) {
      return a_.mention_over(MentionKind::kDate, token_of(d)) ==
             a_.mention_over(MentionKind::kDate, day);
    });
    if (its != kNone) own = its;
  }
  if (own != kNone && is_past_passive(claim, token, own)) return;
  if (bracketed != kNone) {
    claim.when = when_of(bracketed);
  } else if (own != kNone) {
    claim.when = when_of(own);
  } else if (is_of_career_) {
    claim.tense = Tense::kFormer;
  } else if (of_other != kNone) {
    claim.when = when_of(of_other);
  } else if (a_.is_before_or_after(token)) {
    // "A few weeks before it went to the 3rd": not what the picture shows.
    claim.tense = claim.kind == ClaimKind::kAirframe ? claim.tense
                  : a_.opens_with_before(token)      ? Tense::kLater
                                                     : Tense::kFormer;
  } else if (claim.kind != ClaimKind::kReference && a_.is_of_other_figure(token)) {
    claim.shown = false;
  } else if (const std::optional<Tense> other = a_.other_time_of(token, claim.kind);
             other && (claim.kind != ClaimKind::kAirframe || !claim.role.empty())) {
    claim.tense = *other;
  } else if (is_of_person && a_.is_in_later_sentence(token) &&
             a_.stands_behind_having_done(token)) {
    claim.tense = Tense::kFormer;  // "he had commanded the 3rd before it"
  } else {
    claim.when = picture_;
  }
}

void BlockAssembler::WhenSettler::settle() {
  for (std::size_t i = a_.first_claim_; i < a_.out_.size(); ++i) {
    Claim& claim = a_.out_[i];
    if (claim.kind == ClaimKind::kDate) {
      if (!claim.impossible) claim.when = when_of(static_cast<std::uint32_t>(i));
      if (a_.is_told_of_use(claim)) claim.said |= kSaidInUse;
      continue;
    }
    const std::uint32_t token = token_of(i);
    is_remains_ = claim.kind == ClaimKind::kAirframe && claim.role.empty() &&
                  a_.is_of_remains(token, a_.token_at(claim.end));
    if (is_remains_) claim.said |= kSaidOfRemains;
    if (!a_.is_caption() && a_.follows_code(claim)) continue;
    is_of_career_ = a_.has_dated_career(claim);
    if (claim.kind == ClaimKind::kEvent) {
      settle_event(claim, token);
    } else if (!settle_by_words(claim, token)) {
      a_.is_caption() ? settle_in_caption(claim, token) : settle_in_text(claim, token);
    }
  }
  if (a_.is_caption()) a_.part_times();
  if (!a_.is_caption()) a_.settle_by_when_clauses();
  a_.settle_by_arrivals();
  a_.mark_stretches();
  // What stands below has a date, and tells of other machines or of none by name.
  if (!a_.picture_ahead_.known || picture_.known || !dates_told_.empty()) return;
  for (std::size_t i = a_.first_claim_; i < a_.out_.size(); ++i) {
    Claim& claim = a_.out_[i];
    const bool is_shown = claim.kind == ClaimKind::kAirframe && claim.role.empty() && claim.shown &&
                          claim.tense == Tense::kThen && !claim.when.known;
    if (is_shown && !a_.named_ahead_.contains(claim.value)) claim.when = a_.picture_ahead_;
  }
}

void BlockAssembler::settle_when() { WhenSettler(*this).settle(); }

}  // namespace tailproof
