#include "claims/assembler.h"

#include <algorithm>
#include <utility>

#include "claims/table_row.h"

namespace tailproof {
namespace {

bool can_be_to_come(ClaimKind kind) {
  return kind == ClaimKind::kRank || kind == ClaimKind::kAward || kind == ClaimKind::kUnit ||
         kind == ClaimKind::kPlace || kind == ClaimKind::kMarking;
}

// "No codes had been applied to KB201 by May" denies the codes, and neither the machine nor the
// date: those are denied only by a "not" or "neither" right before them.
bool needs_direct_denial(ClaimKind kind) {
  return kind == ClaimKind::kAirframe || kind == ClaimKind::kDate || kind == ClaimKind::kPlace ||
         kind == ClaimKind::kPerson || kind == ClaimKind::kUnit || kind == ClaimKind::kCount;
}

}  // namespace

BlockAssembler::BlockAssembler(const MentionFinder& finder, const Manuscript& manuscript,
                               const Block& block, std::uint32_t manuscript_index,
                               std::uint32_t block_index, Focus& focus, DateContext& dates,
                               std::vector<Claim>& out)
    : SizeReading(finder.lexicon(), block),
      finder_(finder),
      manuscript_(manuscript),
      manuscript_index_(manuscript_index),
      block_index_(block_index),
      focus_(focus),
      date_context_(dates),
      out_(out),
      first_claim_(out.size()) {}

std::string BlockAssembler::figure_subject() const { return block_.figure; }

void BlockAssembler::put(Claim& claim, const Mention& mention, ClaimKind kind) const {
  claim.manuscript = manuscript_index_;
  claim.block = block_index_;
  claim.begin = mention.begin;
  claim.end = mention.end;
  claim.span = block_.text_span(mention.begin, mention.end);
  claim.kind = kind;
  if (claim.value.empty()) claim.value = mention.value;
  if (claim.readings.empty()) claim.readings = mention.readings;
  claim.text = text_of(mention);
  if (finder_.explains()) claim.why = mention.why;
  const bool is_identity = kind == ClaimKind::kAirframe && !claim.role.empty();
  if (claim.tense == Tense::kThen && (is_identity || can_be_to_come(kind)) && is_to_come(mention))
    claim.tense = Tense::kLater;
  for (std::uint32_t t = mention.first; t < mention.last && t < hedged_.size(); ++t) {
    claim.hedged |= hedged_[t] != 0;
    // Arithmetic is the author's own, though the band was only to be.
    const std::uint8_t told = attributed_[t];
    claim.attributed |= kind == ClaimKind::kMeasure ? (told & kSaidByOthers) != 0 : told != 0;
    // "The roundel has lost its red": how a form without red looks.
    if (mention.role == "look" && t > mention.first) continue;
    claim.negated |= negated_[t] > (needs_direct_denial(kind) ? 1 : 0);
    // "The roundel has no red in it".
    claim.negated |= kind == ClaimKind::kMarking && t > mention.first && is_in("inner_denial", t);
  }
}

Claim& BlockAssembler::add(const Mention& mention, ClaimKind kind) {
  Claim& claim = out_.emplace_back();
  put(claim, mention, kind);
  claim.known = mention.known;
  return claim;
}

void BlockAssembler::run() {
  if (block_.text.empty()) return;
  mentions_ = finder_.find(block_.text);
  settle_first_names();
  index_words();
  index_mentions();
  settle_namesakes();
  const bool same_figure =
      is_caption() && block_.group != kNone && focus_.figure_group == block_.group;
  if (is_caption() && !same_figure) look_ahead_in_figure();
  mark_denied_dates();
  dates_ = date_context_.resolve_block(block_.kind, mentions_.dates);
  if (mentions_.items.empty() && block_.kind == BlockKind::kHeading) focus_.card.clear();
  if (mentions_.items.empty() && block_.credit.empty()) return;
  clauses_ = find_clauses(mentions_, index_, lexicon_.grammars());
  stand_for_units();
  claim_of_mention_.assign(mentions_.items.size(), kNone);
  machine_of_code_.assign(mentions_.items.size(), {});
  if (is_caption() && !same_figure) {
    focus_.serials_before = std::move(focus_.serials_of_figure);
    focus_.serials_of_figure.clear();
    focus_.serials.clear();
    focus_.photograph_dates.clear();
    focus_.marking.clear();
    focus_.figure_group = block_.group;
  }
  if (!is_caption()) {
    focus_.photograph_dates.clear();
    focus_.figure_group = kNone;
  }
  settle_unit_names();
  mark_scopes();
  settle_pro_forms();
  if (block_.kind == BlockKind::kTableRow) {
    Row(*this).read();
    mark_said();
    sort_claims();
    return;
  }
  make_groups();
  make_code_groups();
  name_machine_of_before();
  stand_for_figure(serials_ahead_, 0);
  decide_shown();
  name_same_machine();
  name_told_numbers();
  make_companies();
  make_counted_companies();
  make_plural_pronouns();
  make_picks();
  make_open_picks();
  is_entry_ = reads_as_entry();
  find_card();
  add_airframes();
  add_types();
  add_units();
  add_places();
  add_people();
  settle_ranks();
  add_markings();
  add_marking_pronouns();
  add_events();
  add_measures();
  add_proportions();
  add_overpaint();
  add_references();
  add_order_contents();
  add_orders_in_time();
  add_counts();
  tell_weekdays(attributed_);
  add_dates();
  add_successions();
  time_picture_by_spans();
  time_picture_by_events();
  settle_when();
  settle_days_of_people();
  settle_told_apart();
  settle_spoken();
  add_paint_days();
  tell_of_views();
  settle_code_turns();
  add_rows_retold();
  add_days_retold();
  settle_event_kinds();
  settle_transfers();
  mark_said();
  settle_units();
  hand_on_units();
  if (!groups_.empty()) {
    focus_.serials = is_caption() ? groups_.front().serials : groups_.back().serials;
    if (is_caption() && focus_.serials_of_figure.empty())
      focus_.serials_of_figure = groups_.front().serials;
  }
  if (std::string card = is_caption() ? std::string{} : machine_heading(); !card.empty()) {
    focus_.card = std::move(card);
  } else if (block_.kind == BlockKind::kHeading) {
    focus_.card.clear();
  }
  sort_claims();
}

// "Who had been promoted in June": the auxiliary before the date, no comma between. Clauses are not
// known yet.
bool BlockAssembler::stands_behind_had(const Mention& date) const {
  if (!has_word_of("pluperfect_auxiliary")) return false;
  return had_before(date) != kNone || shares_having(date);
}

// "X12 having been lost on 11 August, and X14 scrapped in November": the second machine has the
// auxiliary of the first.
bool BlockAssembler::shares_having(const Mention& date) const {
  constexpr std::uint32_t kReach = 28;
  if (!has_word_of("absolute_word") || !has_word_of("pluperfect_auxiliary")) return false;
  bool is_joined = false;
  for (std::uint32_t t = date.first; t-- > 0 && date.first - t <= kReach;) {
    if (mentions_.tokens[t + 1].sentence_start || word(t) == ";") return false;
    // A verb of its own.
    const bool is_finite = is_in("pluperfect_auxiliary", t) || is_in("event_auxiliary", t);
    const bool is_participle =
        is_in("absolute_word", t) || (t > 0 && is_in("absolute_word", t - 1));
    if (is_finite && !is_participle) return false;
    const bool is_machine = mention_over(MentionKind::kAirframe, t) != nullptr;
    const bool is_joint = t > 0 && (word(t - 1) == "," || office(t - 1) == "and");
    is_joined = is_joined || (is_machine && is_joint);
    if (is_joined && is_in("absolute_word", t) && is_in("pluperfect_auxiliary", t)) return true;
  }
  return false;
}

// "In February: on Friday the 5th", "in February. On Friday the 5th": told to the month.
void BlockAssembler::set_weekday_behind(std::size_t index) {
  if (index + 1 >= mentions_.dates.size()) return;
  DateMention& month = mentions_.dates[index];
  const DateMention& day = mentions_.dates[index + 1];
  const bool is_bare_month = month.first.precision == Precision::kMonth && !month.first.year &&
                             month.joint == DateJoint::kNone && month.first.month != 0;
  const bool is_bare_day = day.first.day != 0 && day.first.month == 0 && !day.first.year &&
                           day.joint == DateJoint::kNone && day.weekday >= 0 &&
                           day.first.month_ref == DateRef::kNone;
  if (!is_bare_month || !is_bare_day || day.sentence > month.sentence + 1) return;
  month.day_behind = day.first.day;
  month.weekday_behind = day.weekday;
}

// "Pell in March 1944; he led them from July": in a part of its own a verb in the past goes on as
// well as back. Clauses are not known yet.
bool BlockAssembler::goes_on_from(const Mention& date) const {
  constexpr std::uint32_t kReach = 12;
  if (office(date.first - 1) != "from") return false;
  bool has_verb = false;
  for (std::uint32_t t = date.first - 1; t > 0 && date.first - t <= kReach; --t) {
    if (is_in("pluperfect_auxiliary", t)) return false;
    has_verb = has_verb || is_in("told_verb", t) || is_in("story_verb", t) || is_in("unit_had", t);
    if (mentions_.tokens[t].sentence_start || word(t - 1) == ";") return has_verb;
  }
  return false;
}

// "On 12 March, not on the 2nd as the squadron has it".
void BlockAssembler::mark_denied_dates() {
  for (const Mention& mention : mentions_of(MentionKind::kDate)) {
    DateMention& date = mentions_.dates[mention.payload];
    if (!date.first.year) set_likely_days(mention, date);
    set_weekday_behind(mention.payload);
    date.is_told_back = stands_behind_had(mention);
    date.first_may_lean = date.joint == DateJoint::kRange && date.is_complete &&
                          date.first.month == date.second.month && office(mention.first) == "the" &&
                          !stands_between(mention.first + 2, mention.last, "name_article");
    date.is_long_past = date.is_told_back && had_done(mention);
    date.is_reason = is_caption() && is_in_reason(mention);
    date.aside_end = end_of_told_aside(mention);
    date.is_of_issue = is_in("issue_noun", mention.last) ||
                       (mention.first > 1 && office(mention.first - 1) == "of" &&
                        is_in("issue_noun", mention.first - 2));
    date.is_of_make = is_year_of_make(mention);
    date.is_apposed = date.stands_last && mention.first > 0 && word(mention.first - 1) == ",";
    date.is_onward = mention.first > 0 && office(mention.first - 1) == "from" &&
                     mentions_.tokens[mention.first - 1].sentence_start && mention.first > 1 &&
                     date.bound == DateBound::kSince;
    if (mention.first == 0) continue;
    date.may_go_on = is_caption() && date.bound == DateBound::kSince && goes_on_from(mention);
    if (date.bound != DateBound::kNone && is_put_off_to(mention)) {
      date.bound = DateBound::kNone;
      date.is_put_off_to = true;
      // What others complete ("until 28 March") is settled with them.
      if (date.is_complete) settle_date(date, ledger_.settings());
      continue;
    }
    if (date.bound != DateBound::kNone || date.bound_begin < date.begin) continue;
    std::uint32_t before = mention.first - 1;
    if (before > 0 && is_in("year_preposition", before)) --before;
    if (before > 0 && office(before) == "on") --before;
    date.is_denied = office(before) == "not";
  }
}

// "Was not taken on charge until 28 March", "it was not until 28 March that": it was, on that day.
// What a machine wore is another matter: a picture may be of the days before.
bool BlockAssembler::is_put_off_to(const Mention& day) const {
  constexpr std::uint32_t kReach = 12;
  const std::uint32_t lead = token_at(mentions_.dates[day.payload].bound_begin);
  const std::uint32_t until = office(lead) == "not" ? lead + 1 : lead;
  if (!is_in("until_word", until)) return false;
  std::uint32_t t = until;
  for (std::uint32_t steps = 0; !is_in("direct_denial", t); ++steps, --t) {
    if (t == 0 || steps == kReach || mentions_.tokens[t].sentence_start || word(t) == "," ||
        word(t) == ";")
      return false;
  }
  return !any_mention(MentionKind::kMarking, [&](const Mention& other) {
    return other.first >= t && other.last <= until;
  });
}

// By place; claims that name others by number are told their new numbers.
void BlockAssembler::sort_claims() {
  const std::size_t count = out_.size() - first_claim_;
  const Claim* claims = out_.data() + first_claim_;
  const bool is_in_order = std::is_sorted(
      claims, claims + count, [](const Claim& a, const Claim& b) { return a.begin < b.begin; });
  if (is_in_order) return;
  std::vector<std::uint32_t> order(count);
  for (std::uint32_t i = 0; i < count; ++i) order[i] = i;
  std::stable_sort(order.begin(), order.end(), [&](std::uint32_t a, std::uint32_t b) {
    return claims[a].begin < claims[b].begin;
  });
  std::vector<std::uint32_t> moved(count);
  for (std::uint32_t i = 0; i < count; ++i) moved[order[i]] = i;
  const auto renumber = [&](std::uint32_t& index) {
    if (index != kNone && index >= first_claim_) {
      index = static_cast<std::uint32_t>(first_claim_) + moved[index - first_claim_];
    }
  };
  for (std::uint32_t i = 0; i < count; ++i) {
    Claim& claim = out_[first_claim_ + i];
    renumber(claim.when.date);
    renumber(claim.event);
    renumber(claim.holder_of_rank);
  }
  // Claims are large: each goes straight to its place, round by round of those that change places.
  for (std::uint32_t i = 0; i < count; ++i) {
    if (order[i] == i) continue;
    Claim held = std::move(out_[first_claim_ + i]);
    std::uint32_t to = i;
    while (order[to] != i) {
      const std::uint32_t from = std::exchange(order[to], to);
      out_[first_claim_ + to] = std::move(out_[first_claim_ + from]);
      to = from;
    }
    out_[first_claim_ + to] = std::move(held);
    order[to] = to;
  }
  for (std::uint32_t& date : focus_.photograph_dates) renumber(date);
}

}  // namespace tailproof
