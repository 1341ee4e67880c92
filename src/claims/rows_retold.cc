// What befell a machine, told in the words that the ledger has for it: "in August X12 flew through
// a telegraph wire", of which the row says "struck a telegraph wire; repaired". No list holds all
// that machines run into; the row of the machine itself does.
//
// Contract: the words shared must tell the row apart from any other mishap, or stand beside words
// for a mishap that have no day; for a repair its yard must be named as well. The event so told is
// inherited, so that it never makes more than a warning. A day on which something else began or
// ended for the machine, that bounds or is counted, or whose event is known, makes none.
#include <algorithm>
#include <array>

#include "claims/assembler.h"
#include "claims/retold_words.h"

namespace tailproof {
namespace {

bool is_mishap(std::string_view kind) { return kind == "lost" || kind == "accident"; }

}  // namespace

class BlockAssembler::RowsRetold {
 public:
  explicit RowsRetold(BlockAssembler& block) : a_(block), end_(block.out_.size()) {}

  void add() {
    const Grammars& grammars = a_.lexicon_.grammars();
    if (a_.block_.kind == BlockKind::kHeading || a_.groups_.empty() ||
        grammars.list("retold_form") == nullptr)
      return;
    std::shared_ptr<RetoldWords>& words = a_.focus_.retold_words;
    if (words == nullptr) words = std::make_shared<RetoldWords>(grammars);
    words_ = words.get();
    for (std::size_t i = a_.first_claim_; i < end_; ++i) {
      if (a_.out_[i].kind == ClaimKind::kDate) add_told_on(i);
    }
  }

 private:
  // Tokens of the sentences in which what befell a machine is told, around one date.
  struct Passage {
    std::uint32_t first = 0, last = 0;  // of its own sentence
    std::uint32_t from = 0, to = 0;     // of all
    std::uint32_t date = 0;
  };
  struct Match {
    const History* row = nullptr;
    int score = 0;
    std::uint32_t first = kNone, last = 0;  // tokens of the words shared
    std::uint32_t nearest = kNone;          // that of them which stands nearest to the date
  };

  [[nodiscard]] std::uint32_t count() const {
    return static_cast<std::uint32_t>(a_.mentions_.tokens.size());
  }
  [[nodiscard]] std::uint32_t end_of_sentence(std::uint32_t token) const {
    std::uint32_t t = token;
    while (t < count() && a_.clauses_.sentence_of[t] == a_.clauses_.sentence_of[token]) ++t;
    return t;
  }

  [[nodiscard]] bool is_plain_day(const Claim& date) const {
    if (date.of != "event" || date.negated || date.attributed || date.inherited ||
        date.impossible || date.turn != Turn::kNone || date.date.is_unknown() ||
        date.date.days().empty())
      return false;
    const std::vector<DateMention>& dates = a_.mentions_.dates;
    const auto words = std::find_if(dates.begin(), dates.end(), [&](const DateMention& one) {
      return one.begin == date.begin;
    });
    if (words == dates.end() || words->bound != DateBound::kNone || words->first.is_relative())
      return false;
    // "From February to July 1942" is how long a repair took.
    constexpr Day kSeason = 100, kLongest = 500;
    const Day length = date.date.days().last() - date.date.days().first();
    return length <= (words->joint == DateJoint::kRange ? kLongest : kSeason);
  }

  // The machines of the date's sentence, else of the nearest of the two before it.
  [[nodiscard]] std::vector<std::string> machines_told(Passage& passage) const {
    constexpr int kBack = 2;
    std::vector<std::string> found;
    std::uint32_t first = passage.first, last = passage.last;
    for (int back = 0; back <= kBack; ++back) {
      for (const Group& group : a_.groups_) {
        if (group.first < first || group.first >= last || group.is_either) continue;
        // "In May the wire came down, a month before X12 flew into it": of another day.
        if (a_.is_before_or_after(group.first) &&
            a_.clauses_.clause_of[group.first] != a_.clauses_.clause_of[passage.date])
          continue;
        found.insert(found.end(), group.serials.begin(), group.serials.end());
      }
      if (!found.empty() || first == 0) break;
      last = first;
      first = a_.begin_of_sentence(first - 1);
      passage.from = first;
    }
    return found;
  }

  [[nodiscard]] bool is_doubted(std::uint32_t token) const {
    if (a_.negated_[token] != 0 || a_.attributed_[token] != 0) return true;
    std::uint32_t first = token;
    while (first > 0 && a_.clauses_.segment_of[first - 1] == a_.clauses_.segment_of[token]) --first;
    return a_.stands_between(first, token, "direct_denial");
  }

  [[nodiscard]] Match match(const History& row, const Passage& passage, std::uint32_t date) const {
    constexpr std::uint32_t kReach = 14;
    Match found{&row, 0, kNone, 0, kNone};
    const std::vector<RetoldWords::RowWord>& words = words_->of_row(row);
    std::vector<std::uint32_t> shared;  // stems
    std::uint32_t reach = kNone;
    for (std::uint32_t t = passage.from; t < passage.to && !words.empty(); ++t) {
      if (a_.mentions_.tokens[t].kind != TokenKind::kWord) continue;
      const std::uint32_t stem = words_->stem_of(*a_.mentions_.tokens[t].word);
      const auto is_it = [&](const RetoldWords::RowWord& word) { return word.stem == stem; };
      const auto word = std::find_if(words.begin(), words.end(), is_it);
      if (word == words.end()) continue;
      // "Never left her moorings for it": another clause denies nothing of what is told.
      if (is_doubted(t) && a_.clauses_.clause_of[t] != a_.clauses_.clause_of[date]) continue;
      if (is_doubted(t)) return {};
      if (std::find(shared.begin(), shared.end(), stem) == shared.end()) {
        shared.push_back(stem);
        found.score += word->weight;
      }
      found.first = std::min(found.first, t);
      found.last = t + 1;
      const std::uint32_t away = t > date ? t - date : date - t;
      if (away < reach) found.nearest = t;
      reach = std::min(reach, away);
    }
    const bool is_aside =
        a_.clauses_.clauses[a_.clauses_.clause_of[date]].kind == ClauseKind::kRelative;
    const bool shares_clause =
        found.score > 0 && (a_.clauses_.clause_of[found.first] == a_.clauses_.clause_of[date] ||
                            a_.clauses_.clause_of[found.last - 1] == a_.clauses_.clause_of[date]);
    if (reach > kReach || (is_aside && !shares_clause)) found.score = 0;
    return found;
  }

  // "X12 was lost on 3 May, X14 when a bomb went off": the day is that of another machine, which is
  // named before it, or between it and the words.
  [[nodiscard]] bool is_of_other(const Match& match, const Passage& passage,
                                 const Mention& date) const {
    bool has_other_before = false, is_own_behind = false, is_parted = false;
    for (const Group& group : a_.groups_) {
      if (group.first < passage.first || group.first >= passage.last) continue;
      const bool is_own = std::find(group.serials.begin(), group.serials.end(),
                                    match.row->serial) != group.serials.end();
      has_other_before = has_other_before || (!is_own && group.last <= date.first);
      is_own_behind = is_own_behind || (is_own && group.first >= date.last);
      const bool is_between = (group.first >= match.nearest && group.last <= date.first) ||
                              (group.first >= date.last && group.last <= match.nearest);
      is_parted = is_parted || (!is_own && is_between);
    }
    return is_parted || (has_other_before && is_own_behind);
  }

  // Words for a mishap in the date's sentence that have no day of their own.
  [[nodiscard]] bool tells_mishap(const Passage& passage, const std::string& machine) const {
    for (const std::uint32_t c : a_.index_.of("cue_event")) {
      const Mention& cue = a_.mentions_.items[c];
      if (cue.first < passage.first || cue.first >= passage.last) continue;
      const bool is_end = is_mishap(cue.value) || cue.value == "struck_off_charge";
      const std::uint32_t claim = a_.claim_of_mention_[c];
      if (is_end &&
          (claim == kNone || (a_.out_[claim].subject == machine && !a_.out_[claim].when.known)))
        return true;
    }
    return false;
  }

  // Whether the yard or the place of the row is named.
  [[nodiscard]] bool names_yard(const History& row, const Passage& passage) const {
    return std::any_of(
        a_.mentions_.items.begin(), a_.mentions_.items.end(), [&](const Mention& name) {
          const bool is_it = (name.kind == MentionKind::kUnit && name.value == row.unit) ||
                             (name.kind == MentionKind::kPlace && name.value == row.place);
          return is_it && name.first >= passage.from && name.first < passage.to;
        });
  }

  [[nodiscard]] bool is_enough(const Match& match, const Passage& passage,
                               const std::string& machine) const {
    constexpr int kOfMishap = 4, kOfWork = 3, kOfWords = 2;
    const History& row = *match.row;
    if (row.kind == "repair" || row.kind == "modified")
      return match.score >= kOfWork && names_yard(row, passage);
    const int needed = is_mishap(row.kind) && tells_mishap(passage, machine) ? kOfWords : kOfMishap;
    return match.score >= needed;
  }

  // Whether something else began or ended for the machine then, or the row's day is told as well.
  [[nodiscard]] bool is_explained(const Claim& date, const History& told) const {
    constexpr Day kSlipDays = 3, kMonth = 31;
    const DaySet days = date.date.days().widened(kSlipDays);
    const auto is_then = [&](const Edtf& end) {
      return !end.is_unknown() && end.days().intersects(days);
    };
    if (told.spell.possible().intersects(date.date.days())) return false;
    // Back from the yard, or on the way there.
    const bool is_work = !is_mishap(told.kind);
    if (told.spell.possible().widened(is_work ? kMonth : kSlipDays).intersects(date.date.days()))
      return true;
    for (const History* row : a_.ledger_.history_of(told.serial)) {
      if (row != &told && (is_then(row->spell.from) || is_then(row->spell.to))) return true;
    }
    for (const Airframe* row : a_.ledger_.machine_of(told.serial)) {
      if (is_then(row->taken_on_charge) || is_then(row->struck_off_charge)) return true;
    }
    if (told.spell.from.is_unknown()) return true;
    const DaySet right = told.spell.from.days().widened(kSlipDays);
    return std::any_of(a_.out_.begin() + static_cast<std::ptrdiff_t>(a_.first_claim_),
                       a_.out_.begin() + static_cast<std::ptrdiff_t>(end_),
                       [&](const Claim& other) {
                         return other.kind == ClaimKind::kDate && !other.date.is_unknown() &&
                                other.date.days().intersects(right);
                       });
  }

  // Whether the words of the sentence look back on what befell it.
  [[nodiscard]] bool looks_back(const Passage& passage) const {
    return a_.stands_between(passage.first, passage.last, "retelling_word") ||
           a_.stands_between(passage.first, passage.last, "retold_later");
  }

  // Whether the date has an event of its own that leaves no room for this one: "had a float holed
  // in July and was mended" leaves it.
  [[nodiscard]] bool is_taken(const Claim& date, const Match& match) const {
    if (date.event == kNone) return false;
    const Claim& event = a_.out_[date.event];
    const bool is_sequel = event.begin >= date.end && is_mishap(match.row->kind) &&
                           (event.value == "repair" || event.value == "struck_off_charge") &&
                           match.first < a_.token_at(date.begin);
    return !is_sequel;
  }

  void add_told_on(std::size_t index) {
    if (!is_plain_day(a_.out_[index])) return;
    date_by_bracket(index);
    date_by_list(index);
    const Claim& date = a_.out_[index];  // claims may have moved
    if (date.event != kNone && a_.out_[date.event].value != "repair" &&
        a_.out_[date.event].value != "struck_off_charge")
      return;
    const std::uint32_t token = a_.token_at(date.begin);
    Passage passage;
    passage.first = passage.from = a_.begin_of_sentence(token);
    passage.last = passage.to = end_of_sentence(token);
    passage.date = token;
    const std::vector<std::string> machines = machines_told(passage);
    // "The gale of 3 May got up. It drove her on to the mole."
    if (passage.last < count() && a_.is_in("story_subject", passage.last)) {
      const std::uint32_t next = end_of_sentence(passage.last);
      const bool has_day = a_.any_mention(MentionKind::kDate, [&](const Mention& other) {
        return other.first >= passage.last && other.first < next;
      });
      if (!has_day) passage.to = next;
    }
    Match best;
    if (machines.size() == 1) best = last_seen(machines.front(), passage, token);
    if (machines.size() == 1 && best.row == nullptr && passage.from == passage.first)
      best = opened_by(machines.front(), passage, index);
    const bool is_seen = best.row != nullptr;
    for (const std::string& machine : machines) {
      if (is_seen) break;
      for (const History* row : a_.ledger_.history_of(machine)) {
        const bool may_be = is_mishap(row->kind) || row->kind == "repair" ||
                            row->kind == "modified" || row->kind == "ferried";
        if (!may_be || row->detail.empty()) continue;
        const Match found = match(*row, passage, token);
        const bool is_better = found.row != nullptr && found.score > best.score;
        if (!is_better || !is_enough(found, passage, machine)) continue;
        best = found;
      }
    }
    const Mention* named = a_.mention_over(MentionKind::kDate, token);
    if (best.row == nullptr || looks_back(passage) || is_taken(date, best) || named == nullptr ||
        is_of_other(best, passage, *named) || is_explained(date, *best.row))
      return;
    put_event(index, best);
  }

  // The row of its loss; nullptr where it has none, or several, or was lost in no flight.
  [[nodiscard]] const History* loss_of(const std::string& machine, bool is_in_flight) const {
    constexpr std::array<std::string_view, 6> kInFlight = {"missing", "enemy",   "plunge",
                                                           "hill",    "ditched", "collision"};
    const History* only = nullptr;
    for (const History* row : a_.ledger_.history_of(machine)) {
      if (row->kind != "lost") continue;
      if (only != nullptr) return nullptr;
      only = row;
    }
    if (only == nullptr || !is_in_flight) return only;
    const std::vector<std::string_view> manners = a_.manners_recorded(only->detail);
    const bool is_it = std::any_of(manners.begin(), manners.end(), [&](std::string_view one) {
      return std::find(kInFlight.begin(), kInFlight.end(), one) != kInFlight.end();
    });
    return is_it ? only : nullptr;
  }

  // "Took off for the last time on 3 May", "nothing more was heard of X12 after she left on 3 May",
  // of a machine that did not come back.
  [[nodiscard]] Match last_seen(const std::string& machine, const Passage& passage,
                                std::uint32_t date) const {
    const std::uint32_t clause = a_.clauses_.clause_of[date];
    for (const std::uint32_t c : a_.index_.of("cue_last_outing")) {
      const Mention& cue = a_.mentions_.items[c];
      const std::uint32_t opening = a_.clauses_.clauses[clause].first;
      const bool is_here =
          cue.first >= passage.first && cue.first < passage.last &&
          a_.clauses_.clause_of[cue.first] == clause && !is_doubted(cue.first) &&
          (cue.value != "led" || a_.stands_between(opening, cue.first, "setting_out"));
      if (is_here) return {loss_of(machine, true), 1, cue.first, cue.last, cue.first};
    }
    const Clause& own = a_.clauses_.clauses[clause];
    if (own.kind != ClauseKind::kSubordinate || a_.office(own.first) != "after" ||
        !a_.stands_between(own.first, date, "departing_verb"))
      return {};
    for (std::size_t i = a_.first_claim_; i < end_; ++i) {
      const Claim& event = a_.out_[i];
      const std::uint32_t first = a_.token_at(event.begin);
      const bool is_it = event.kind == ClaimKind::kEvent && event.subject == machine &&
                         event.value == "lost" && !event.when.known && first >= passage.first &&
                         first < own.first && !event.negated && !event.attributed;
      if (is_it) return {loss_of(machine, false), 1, first, a_.token_at(event.end), first};
    }
    return {};
  }

  // "X12 was lost (3 May 1943)", "the accident to X12 at the Point (3 May 1943)": the bracket with
  // nothing but a day behind what befell the machine.
  void date_by_bracket(std::size_t index) {
    constexpr std::uint32_t kReach = 6;
    const Claim& date = a_.out_[index];
    const std::uint32_t first = a_.token_at(date.begin), last = a_.token_at(date.end);
    if (date.event != kNone || first < 2 || last >= count() || a_.word(first - 1) != "(" ||
        a_.word(last) != ")")
      return;
    for (std::size_t i = end_; i-- > a_.first_claim_;) {
      Claim& event = a_.out_[i];
      if (event.kind != ClaimKind::kEvent || event.begin > date.begin) continue;
      const std::uint32_t from = a_.token_at(event.begin), to = a_.token_at(event.end);
      if (to > first || first - to > kReach || event.when.known || event.negated ||
          event.attributed || a_.clauses_.sentence_of[from] != a_.clauses_.sentence_of[first] ||
          is_broken(to, first - 1, event.subject))
        continue;
      event.when.known = true;
      event.when.days = date.date.days();
      event.when.widened = date.date.widened(a_.ledger_.settings().margins);
      event.when.hedged = date.hedged;
      event.when.date = static_cast<std::uint32_t>(index);
      set_event(index, i);
      return;
    }
  }

  // "Struck off: X12 3.5.43, X14 7.6.43": words that open a list, and each machine with its day.
  void date_by_list(std::size_t index) {
    const Mention* named = a_.mention_over(MentionKind::kDate, a_.token_at(a_.out_[index].begin));
    if (named == nullptr || a_.out_[index].event != kNone) return;
    const std::uint32_t opening = a_.begin_of_sentence(named->first);
    const Mention* head = nullptr;
    std::uint32_t told = kNone;
    for (const std::uint32_t c : a_.index_.of("cue_event")) {
      const Mention& cue = a_.mentions_.items[c];
      if (cue.first != opening || a_.word(cue.last) != ":") continue;
      head = &cue;
      told = a_.claim_of_mention_[c];
    }
    if (head == nullptr || told == kNone) return;
    for (const Group& group : a_.groups_) {
      if (group.members.empty() || group.serials.size() != 1 || group.first < head->last ||
          a_.own_date_behind(group) != named)
        continue;
      Claim& first = a_.out_[told];
      const bool is_first = first.subject == group.serials.front();
      Claim event = first;
      event.subject = group.serials.front();
      event.when = When{};
      event.when.known = true;
      event.when.days = a_.out_[index].date.days();
      event.when.widened = a_.out_[index].date.widened(a_.ledger_.settings().margins);
      event.when.hedged = a_.out_[index].hedged;
      event.when.date = static_cast<std::uint32_t>(index);
      if (is_first) {
        first = std::move(event);
        set_event(index, told);
      } else {
        a_.out_.push_back(std::move(event));
        set_event(index, a_.out_.size() - 1);
      }
      return;
    }
  }

  // Whether another machine, date or verb stands among tokens [from, to).
  [[nodiscard]] bool is_broken(std::uint32_t from, std::uint32_t to,
                               const std::string& machine) const {
    for (std::uint32_t t = from; t < to; ++t) {
      const Mention* name = a_.mention_over(MentionKind::kAirframe, t);
      if ((name != nullptr && name->value != machine) || a_.tells_verb(t) ||
          a_.mentions_.tokens[t].kind == TokenKind::kMark ||
          a_.mention_over(MentionKind::kDate, t) != nullptr)
        return true;
    }
    return false;
  }

  // "Below the weir, on 3 May, two fighters caught X12 and brought her down": a day that opens the
  // sentence is that of what it tells, where it names one machine, and nothing else has that day.
  [[nodiscard]] Match opened_by(const std::string& machine, const Passage& passage,
                                std::size_t index) const {
    const Claim& date = a_.out_[index];
    const std::uint32_t first = a_.token_at(date.begin);
    constexpr std::uint32_t kReach = 8;
    if (first - passage.first > kReach || date.event != kNone) return {};
    for (std::uint32_t t = passage.first; t < first; ++t) {
      const bool is_idle = a_.mentions_.tokens[t].kind == TokenKind::kMark ||
                           a_.mention_over(MentionKind::kPlace, t) != nullptr ||
                           a_.is_in("function_word", t) || a_.is_in("determiner", t) ||
                           a_.is_in("fronted_lead", t);
      if (!is_idle) return {};
    }
    const auto is_in_it = [&](const Mention& other) {
      return other.first >= passage.first && other.first < passage.last;
    };
    int days = 0;
    for (const Mention& other : a_.mentions_of(MentionKind::kDate)) days += is_in_it(other) ? 1 : 0;
    const Claim* only = nullptr;
    for (std::size_t i = a_.first_claim_; i < end_; ++i) {
      const Claim& other = a_.out_[i];
      const std::uint32_t t = a_.token_at(other.begin);
      if (t < passage.first || t >= passage.last) continue;
      if (other.kind == ClaimKind::kUnit || other.kind == ClaimKind::kPerson) return {};
      if (other.kind != ClaimKind::kEvent) continue;
      if (only != nullptr || other.subject != machine || !is_mishap(other.value) ||
          other.when.known || other.negated || other.attributed)
        return {};
      only = &other;
    }
    if (only == nullptr || days != 1) return {};
    const std::uint32_t event = a_.token_at(only->begin), end = a_.token_at(only->end);
    const ClauseKind kind = a_.clauses_.clauses[a_.clauses_.clause_of[event]].kind;
    const bool is_main = kind != ClauseKind::kRelative && kind != ClauseKind::kSubordinate &&
                         kind != ClauseKind::kBracket;
    // "With X12 lost", "was later shot down", "and was lost in the end": of another day.
    if (!is_main || event < first || a_.stands_between(first, end, "absolute_word") ||
        a_.stands_between(event == 0 ? 0 : event - 1, passage.last, "own_time_word") ||
        a_.stands_between(end, passage.last, "ending_noun"))
      return {};
    const History* row = nullptr;
    for (const History* told : a_.ledger_.history_of(machine)) {
      if (!is_mishap(told->kind)) continue;
      if (row != nullptr) return {};
      row = told;
    }
    return {row, 1, event, end, event};
  }

  void put_event(std::size_t index, const Match& match) {
    const Claim& date = a_.out_[index];
    const std::string machine = match.row->serial;
    When when;
    when.known = true;
    when.days = date.date.days();
    when.widened = date.date.widened(a_.ledger_.settings().margins);
    when.hedged = date.hedged;
    when.inherited = true;
    when.date = static_cast<std::uint32_t>(index);
    // Words for a mishap that have found no day get this one.
    const std::uint32_t sentence = a_.clauses_.sentence_of[a_.token_at(date.begin)];
    for (std::size_t i = a_.first_claim_; i < a_.out_.size(); ++i) {
      Claim& event = a_.out_[i];
      if (event.kind != ClaimKind::kEvent || event.subject != machine || event.when.known ||
          !is_mishap(event.value) || !is_mishap(match.row->kind) || event.negated ||
          a_.clauses_.sentence_of[a_.token_at(event.begin)] != sentence)
        continue;
      event.when = when;
      event.value = match.row->kind;
      event.readings.clear();
      set_event(index, i);
      return;
    }
    const std::vector<Token>& tokens = a_.mentions_.tokens;
    Claim event;
    event.manuscript = a_.manuscript_index_;
    event.block = a_.block_index_;
    event.begin = tokens[match.first].begin;
    event.end = tokens[match.last - 1].end;
    event.span = a_.block_.text_span(event.begin, event.end);
    event.kind = ClaimKind::kEvent;
    event.value = match.row->kind;
    event.subject = machine;
    event.text = a_.block_.text.substr(event.begin, event.end - event.begin);
    event.inherited = true;
    for (std::uint32_t t = match.first; t < match.last; ++t) event.hedged |= a_.hedged_[t] != 0;
    event.when = when;
    if (a_.finder_.explains()) event.why = "told in the ledger's words for it";
    a_.out_.push_back(std::move(event));
    set_event(index, a_.out_.size() - 1);
  }

  void set_event(std::size_t date, std::size_t event) {
    if (a_.out_[date].event == kNone) a_.out_[date].event = static_cast<std::uint32_t>(event);
  }

  BlockAssembler& a_;
  const std::size_t end_;
  RetoldWords* words_ = nullptr;
};

void BlockAssembler::add_rows_retold() { RowsRetold(*this).add(); }

}  // namespace tailproof
