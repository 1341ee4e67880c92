// What befell an aircraft: claims of events, the record cards that are chains of them, and the kind
// and machine that each is of at last.
#include <algorithm>

#include "claims/assembler.h"
#include "claims/fate_words.h"
#include "grammars/fold.h"
#include "mentions/event_words.h"

namespace tailproof {

bool BlockAssembler::is_same_machine(const std::string& one, const std::string& other) const {
  if (one == other) return true;
  const auto machine = ledger_.machine_of(one), same = ledger_.machine_of(other);
  return !machine.empty() && !same.empty() && machine.front()->machine == same.front()->machine;
}

// "X12", "X12 and Y15, Plover Mk I": a heading, or a line by itself, that names one machine and
// says nothing; "" for anything else.
std::string BlockAssembler::machine_heading() const {
  if (groups_.empty() || groups_.front().serials.empty()) return {};
  const std::string& card = groups_.front().serials.front();
  if (ledger_.machine_of(card).empty()) return {};
  for (const Group& group : groups_) {
    for (const std::string& serial : group.serials) {
      if (!is_same_machine(serial, card)) return {};
    }
  }
  const auto count = static_cast<std::uint32_t>(mentions_.tokens.size());
  for (std::uint32_t t = 0; t < count; ++t) {
    const bool is_label = mentions_.tokens[t].kind == TokenKind::kMark ||
                          mention_over(MentionKind::kAirframe, t) != nullptr ||
                          mention_over(MentionKind::kType, t) != nullptr || office(t) == "and" ||
                          office(t) == "the" || office(t) == "to" || is_in("label_word", t);
    if (!is_label) return {};
  }
  return card;
}

// "Card, 41-207. TOC 27.4.41. 5 Flot 2.6.41.": a paragraph that begins with a serial and goes on in
// entries with their days tells of that machine alone.
void BlockAssembler::find_card() {
  constexpr std::size_t kFewestDates = 2;
  if (is_caption() || block_.kind == BlockKind::kHeading) return;
  // What stands beneath the heading of a machine and names no other tells of that one.
  const bool is_headed =
      !focus_.card.empty() && std::all_of(groups_.begin(), groups_.end(), [&](const Group& group) {
        return !group.serials.empty() &&
               std::all_of(group.serials.begin(), group.serials.end(), [&](const auto& serial) {
                 return is_same_machine(serial, focus_.card);
               });
      });
  if (is_headed) card_ = focus_.card;
  if (groups_.empty()) return;
  const Group& head = groups_.front();
  if (head.serials.size() != 1 || head.members.empty() || clauses_.sentence_of[head.first] != 0 ||
      mentions_.dates.size() < kFewestDates || head.last >= mentions_.tokens.size()) {
    return;
  }
  for (std::uint32_t t = 0; t < head.first; ++t) {
    const Mention* name = mention_ending_at(t + 1);
    const bool is_type = name != nullptr && name->kind == MentionKind::kType;
    if (mentions_.tokens[t].kind != TokenKind::kMark && !is_type && !is_in("card_word", t)) return;
  }
  const Spelling mark = word(head.last);
  if (mark == "." || mark == ":") card_ = head.serials.front();
}

// "Lost were X12 in October and X14, on 23 June": of an event's machines those that are named
// behind it since the last date, and so have this one for their own.
std::vector<std::uint32_t> BlockAssembler::events_in_turn(const Mention& date) const {
  std::vector<std::uint32_t> found;
  const std::uint32_t sentence = clauses_.sentence_of[date.first];
  std::uint32_t since = 0, named_to = 0;
  for (const Mention& other : mentions_of(MentionKind::kDate)) {
    if (other.last <= date.first) since = std::max(since, other.last);
  }
  for (const std::uint32_t c : index_.of("cue_event")) {
    const Mention& cue = mentions_.items[c];
    if (cue.last > date.first || claim_of_mention_[c] == kNone ||
        (cue.payload & kEventState) != 0 || clauses_.sentence_of[cue.first] != sentence)
      continue;
    const std::vector<std::uint32_t> events = events_of(claim_of_mention_[c]);
    // "Three were bought, X12 to X14, the last of them delivered in May": of what is told last.
    if (events.size() < 2) {
      if (cue.first >= named_to) found.clear();
      continue;
    }
    found.clear();
    for (const std::uint32_t event : events) {
      const auto named = std::find_if(groups_.begin(), groups_.end(), [&](const Group& group) {
        return !group.members.empty() && group.first >= std::max(since, cue.last) &&
               group.last <= date.first &&
               std::find(group.serials.begin(), group.serials.end(), out_[event].subject) !=
                   group.serials.end();
      });
      if (named == groups_.end()) continue;
      found.push_back(event);
      named_to = std::max(named_to, named->last);
    }
  }
  return found;
}

// "Did not return until July": came back in the end.
bool BlockAssembler::is_only_for_a_time(const Mention& event) const {
  if (event.value != "lost") return false;
  bool is_denial = false;
  for (std::uint32_t t = event.first; t < event.last; ++t)
    is_denial = is_denial || is_in("direct_denial", t) || is_in("failing_word", t);
  constexpr std::uint32_t kReach = 8;
  const auto count = static_cast<std::uint32_t>(mentions_.tokens.size());
  for (std::uint32_t t = event.last; is_denial && t < std::min(count, event.last + kReach); ++t) {
    if (clauses_.sentence_of[t] != clauses_.sentence_of[event.first]) break;
    if (is_in("until_word", t)) return true;
  }
  return false;
}

// "QX12, a captured Lanner, May 1943", "the badly burnt QX12": what had become of it by then,
// whenever that was.
bool BlockAssembler::is_attributive(const Mention& event) const {
  const WordList* participles = lexicon_.grammars().list("event_participle");
  if (participles == nullptr || event.last >= mentions_.tokens.size()) return false;
  std::string words = fold(text_of(event));
  std::replace(words.begin(), words.end(), '-', ' ');
  if (participles->value_of(words).empty()) return false;
  // "The burnt-out remains of X12".
  if (is_in("wreck_noun", event.last) && office(event.last + 1) == "of") return true;
  // "X12 and X14, every Grapnel then delivered": how many there were by then.
  const bool is_by_then = event.first > 1 && is_in("same_time_word", event.first - 1) &&
                          (mention_over(MentionKind::kType, event.first - 2) != nullptr ||
                           is_in("machine_noun", event.first - 2));
  if (is_by_then) return true;
  if (!is_before_machine(event)) return false;
  std::uint32_t t = event.first;
  const bool opens = begin_of_sentence(t) == t;
  if (opens) {
    return is_caption() && mention_over(MentionKind::kType, event.last) != nullptr &&
           (event.payload & kEventObject) == 0;
  }
  if (t > 1 && is_in("state_adverb", t - 1)) --t;
  return is_in("determiner", t - 1);
}

void BlockAssembler::add_events() {
  for (std::uint32_t i = 0; i < mentions_.items.size(); ++i) {
    Mention& mention = mentions_.items[i];
    if (mention.kind != MentionKind::kCue || mention.role != kEventCue) continue;
    if (is_journey(mention)) continue;
    if (is_attributive(mention)) mention.payload |= kEventState;
    Claim pattern;
    pattern.value = mention.value;
    pattern.readings = mention.readings;
    if ((mention.payload & kEventNear) != 0) pattern.said |= kSaidNear;
    if (tells_beginning(mention)) pattern.said |= kSaidBegins;
    pattern.hedged = mention.doubtful;
    pattern.negated = !mention.known && !is_put_off(mention.first);
    if (is_no_event(mention) || is_only_for_a_time(mention)) continue;
    // "The first of them was burnt", of nobody knows which list.
    const Group* nearest = group_for(mention.first, mention.last, nullptr);
    if (!is_caption() && nearest != nullptr && nearest->serials.empty()) continue;
    std::vector<std::string> subjects = subjects_of_event(mention, &pattern.why);
    // "The Dowager was scrapped, KB201 sold": of the machine that bore the name.
    const Mention* name = mention_ending_at(mention.first);
    if (name != nullptr && name->kind == MentionKind::kAirframe && name->role == "nickname" &&
        !is_given_name(*name)) {
      const std::string bearer = bearer_of(*name);
      if (!bearer.empty()) subjects = {bearer};
    }
    constexpr std::uint32_t kBound = kEventObject | kEventOpener | kEventUnit;
    if (subjects.empty() && (mention.payload & kBound) == 0) {
      subjects = unnamed_subject(mention);
      pattern.inherited = groups_.empty() && !is_caption();  // by its type, from the ledger
    }
    // "X12 burnt. Both of the others were scrapped": of several, and not of the one before.
    const bool is_of_several =
        !is_caption() && subjects.size() == 1 && is_in("plural_auxiliary", mention.first) &&
        std::none_of(groups_.begin(), groups_.end(), [&](const Group& group) {
          return clauses_.sentence_of[group.first] == clauses_.sentence_of[mention.first];
        });
    if (is_of_several) continue;
    if (subjects.empty()) continue;
    claim_of_mention_[i] = static_cast<std::uint32_t>(out_.size());
    if (cue_in_clause(mention.first, "cue_former") != nullptr) pattern.tense = Tense::kFormer;
    const std::size_t first = out_.size();
    add_for_subjects(mention, ClaimKind::kEvent, subjects, pattern);
    // "X12, X14 and, so the minute claims, X15 were sold": who adds X15 tells of it.
    for (std::size_t c = first; subjects.size() > 1 && c < out_.size(); ++c) {
      const auto is_name = [&](const Mention& name) {
        return name.value == out_[c].subject &&
               clauses_.sentence_of[name.first] == clauses_.sentence_of[mention.first];
      };
      const bool is_own = any_mention(MentionKind::kAirframe, [&](const Mention& name) {
        return is_name(name) && attributed_[name.first] == 0;
      });
      if (!is_own) out_[c].attributed |= any_mention(MentionKind::kAirframe, is_name);
    }
  }
}

// What words leave open ("ditched": lost, or an accident) the ledger may settle: a kind of which it
// has a row on that day, else one of which it has a row that may be meant, else the likeliest.
void BlockAssembler::settle_event_kinds() {
  constexpr Day kSlipDays = 92;  // a row so near in time may well be the one that is meant
  // "Forced down", of a machine that was "forced down and burnt" by its one row: that end.
  const auto told_by_row = [&](const Claim& claim) -> const History* {
    if (claim.value != "accident" || !claim.when.known) return nullptr;
    const std::string words = fold(claim.text);
    const History* only = nullptr;
    for (const History* row : ledger_.history_of(claim.subject)) {
      if (row->kind != "lost" && row->kind != "accident") continue;
      if (only != nullptr || row->kind == "accident") return nullptr;
      only = row;
    }
    if (only == nullptr || only->spell.from.is_unknown() || claim.when.days.empty() ||
        words.find(' ') == std::string::npos || fold(only->detail).find(words) == std::string::npos)
      return nullptr;
    // Near to its day, or on that day of another year.
    const CivilDate own = to_civil(only->spell.from.days().first());
    const CivilDate told = to_civil(claim.when.days.first());
    const bool is_day = claim.when.days.first() == claim.when.days.last();
    const bool is_near = only->spell.from.days().widened(kSlipDays).intersects(claim.when.days) ||
                         (is_day && own.month == told.month && own.day == told.day);
    return is_near ? only : nullptr;
  };
  // On one day the story of the machine is preferred to its striking off, which is of paper.
  const auto weight = [&](const Claim& claim, std::string_view kind) {
    int best = 0;
    const auto weigh = [&](const Edtf& date, int on_its_day) {
      if (date.is_unknown()) return;
      const DaySet& days = date.days();
      int own = claim.when.known ? 0 : 1;
      if (claim.when.known && days.widened(kSlipDays).intersects(claim.when.days)) own = 1;
      if (claim.when.known && days.intersects(claim.when.days)) own = on_its_day;
      best = std::max(best, own);
    };
    for (const History* row : ledger_.history_of(claim.subject)) {
      if (row->kind == kind) weigh(row->spell.from, 3);
    }
    // Every machine was struck off some day: without a date that speaks for nothing.
    if (!claim.when.known && kind != claim.value) return best;
    for (const Airframe* row : ledger_.machine_of(claim.subject)) {
      if (kind == "taken_on_charge") weigh(row->taken_on_charge, 2);
      if (kind == "struck_off_charge") weigh(row->struck_off_charge, 2);
    }
    return best;
  };
  for (std::size_t i = first_claim_; i < out_.size(); ++i) {
    Claim& claim = out_[i];
    if (claim.kind != ClaimKind::kEvent) continue;
    if (const History* row = told_by_row(claim)) claim.value = row->kind;
    int best = claim.readings.empty() ? 0 : weight(claim, claim.value);
    for (const std::string& kind : claim.readings) {
      const int own = weight(claim, kind);
      if (own <= best) continue;
      best = own;
      claim.value = kind;
    }
    if (is_of_other_end(claim)) claim.said |= kSaidOtherEnd;
  }
}

// "Scrapped" of what failed to return, "lost" of what was scrapped, by the ledger's word for its
// fate; of an end of which the ledger has a row, another manner.
bool BlockAssembler::is_of_other_end(const Claim& claim) const {
  if (claim.begin >= claim.end) return false;
  const bool is_lost = claim.value == "lost";
  if (is_lost || claim.value == "accident") {
    const std::vector<const History*> history = ledger_.history_of(claim.subject);
    const bool has_end = std::any_of(history.begin(), history.end(), [](const History* row) {
      return row->kind == "lost" || row->kind == "accident";
    });
    if (has_end) return is_of_other_manner(claim);
  }
  // Without a date only what cannot be meant of a mishap that was mended.
  if (!claim.when.known && is_lost && manners_told(claim).empty()) return false;
  if (!claim.readings.empty() && !(is_lost && !manners_told(claim).empty())) return false;
  bool is_scrapped = false;
  if (claim.value == "struck_off_charge") {
    for (std::uint32_t t = token_at(claim.begin); t < token_at(claim.end); ++t)
      is_scrapped = is_scrapped || is_in("scrapping_word", t);
  }
  if (!is_lost && !is_scrapped) return false;
  const WordList* fates = lexicon_.grammars().list("fate_word");
  const WordList* kept = lexicon_.grammars().list("fate_kept");
  const std::vector<const Airframe*> machine = ledger_.machine_of(claim.subject);
  const auto has_fate = [&](const WordList* list, std::string_view kind) {
    return std::any_of(machine.begin(), machine.end(), [&](const Airframe* row) {
      return tells_fate(row->fate, list,
                        [&](std::string_view value) { return kind.empty() || value == kind; });
    });
  };
  const bool has_lost = has_fate(fates, "lost"), has_scrapped = has_fate(fates, "scrapped");
  if (is_lost) return has_scrapped && !has_lost;
  return has_fate(kept, {}) || (has_lost && !has_scrapped);
}

}  // namespace tailproof
