// Days on which people are told of in running text where their own clause gives none: "it was Crewe
// who signed it, as commander of 9 Squadron", "still a Lieutenant when he died", "who had commanded
// 9 Squadron since it was formed", "by then of 9 Squadron", "By then Major Crewe had issued it",
// "Crewe, who came to the parade in June 1945".
//
// What rests on another clause, or on the ledger's day of a death or of a unit's beginning or end,
// is inherited, so that it never makes more than a warning.
#include <algorithm>

#include "claims/assembler.h"
#include "claims/told_day.h"

namespace tailproof {

class BlockAssembler::PeoplesDays {
 public:
  explicit PeoplesDays(BlockAssembler& block) : a_(block) {}

  void settle() {
    if (a_.index_.of(MentionKind::kPerson).empty()) return;
    const bool is_caption = a_.is_caption();
    if (!is_caption) add_first_commands();
    const std::uint32_t day = is_caption ? day_of_present() : kNone;
    for (std::size_t i = a_.first_claim_; i < a_.out_.size(); ++i) {
      Claim& claim = a_.out_[i];
      if (claim.negated || claim.attributed) continue;
      if (is_caption) {
        const bool is_dated = claim.when.known && claim.tense == Tense::kThen;
        const bool is_his = is_of_person(claim);
        if (is_his && !is_dated) settle_by_unit(claim);
        const bool is_there = (is_his || (claim.kind == ClaimKind::kPerson && claim.shown)) &&
                              !claim.when.known && claim.tense == Tense::kThen;
        if (is_there && day != kNone) set(claim, day);
        continue;
      }
      if (claim.kind == ClaimKind::kPerson) {
        settle_living(claim);
        continue;
      }
      if (!is_of_person(claim) || settle_at_death(claim)) continue;
      if (settle_by_then(claim) || claim.when.known || settle_by_unit(claim)) continue;
      if (claim.tense != Tense::kThen) continue;
      if (settle_in_cleft(claim) || settle_then_of(claim) || settle_when_still(claim)) continue;
      settle_at_forming(claim);
    }
  }

 private:
  [[nodiscard]] bool is_of_person(const Claim& claim) const {
    const bool is_unit = claim.kind == ClaimKind::kUnit &&
                         (claim.role.empty() || claim.role == "member" || claim.role == "command");
    const bool is_award = claim.kind == ClaimKind::kAward && claim.role.empty();
    return (is_unit || is_award || claim.kind == ClaimKind::kRank) &&
           a_.ledger_.person(claim.subject) != nullptr;
  }
  [[nodiscard]] std::uint32_t sentence_of(std::uint32_t token) const {
    return a_.clauses_.sentence_of[token];
  }
  static void set(Claim& claim, const DaySet& days) {
    claim.when = When{};
    claim.when.known = claim.when.inherited = true;
    claim.when.days = claim.when.widened = days;
    claim.tense = Tense::kThen;
  }
  void set(Claim& claim, std::uint32_t date) const {
    claim.when = when_of_told_day(a_.out_[date], date, a_.ledger_.settings().margins);
    claim.tense = Tense::kThen;
  }
  // The one date told between the tokens, if the author gives it as a day of what happened.
  [[nodiscard]] std::uint32_t only_date(std::uint32_t first, std::uint32_t last) const {
    std::uint32_t found = kNone;
    for (std::size_t i = a_.first_claim_; i < a_.out_.size(); ++i) {
      const Claim& date = a_.out_[i];
      if (date.kind != ClaimKind::kDate) continue;
      const std::uint32_t token = a_.token_at(date.begin);
      if (token < first || token >= last) continue;
      const bool is_plain = !date.impossible && !date.negated && !date.attributed &&
                            date.of != "publication" && date.of != "type" && !a_.is_bound(date) &&
                            !date.date.is_interval();
      const bool is_same = found != kNone && a_.out_[found].begin == date.begin;
      if (!is_plain || (found != kNone && !is_same)) return kNone;
      if (!is_same) found = static_cast<std::uint32_t>(i);
    }
    return found;
  }
  [[nodiscard]] bool has_date(std::uint32_t first, std::uint32_t last) const {
    return a_.any_mention(MentionKind::kDate, [&](const Mention& date) {
      return date.first >= first && date.first < last;
    });
  }
  // "X12 is handed over to 9 Squadron, May 1942. Crewe is the figure in oilskins": the day of what
  // a caption begins with, told in the present, where it has no other.
  [[nodiscard]] std::uint32_t day_of_present() const {
    if (!a_.focus_.photograph_dates.empty()) return kNone;
    const auto count = static_cast<std::uint32_t>(a_.mentions_.tokens.size());
    const std::uint32_t date = only_date(0, count);
    if (date == kNone) return kNone;
    const std::uint32_t event = a_.out_[date].event;
    if (event == kNone || a_.out_[date].hedged || a_.out_[date].inherited) return kNone;
    const Claim& told = a_.out_[event];
    const std::uint32_t first = a_.token_at(told.begin);
    // Behind the number of the figure, which may make a sentence of its own.
    const bool is_first = sentence_of(first) <= 1 &&
                          sentence_of(first) == sentence_of(a_.token_at(a_.out_[date].begin));
    const bool is_present =
        is_first && a_.is_in("present_auxiliary", first) &&
        a_.clauses_.clauses[a_.clauses_.clause_of[first]].kind == ClauseKind::kMain;
    return is_present && !told.negated && !told.attributed && !told.hedged ? date : kNone;
  }
  // Whether nobody else is named in the sentence.
  [[nodiscard]] bool is_alone(const std::string& person, std::uint32_t sentence) const {
    return !a_.any_mention(MentionKind::kPerson, [&](const Mention& other) {
      return other.value != person && sentence_of(other.first) == sentence;
    });
  }

  // "Was still, when he died, a Lieutenant": the day of his death by the ledger.
  bool settle_at_death(Claim& claim) const {
    if (claim.kind == ClaimKind::kAward) return false;
    const Person* person = a_.ledger_.person(claim.subject);
    if (person->died.is_unknown()) return false;
    const std::uint32_t first = a_.token_at(claim.begin), last = a_.token_at(claim.end);
    const bool is_told = a_.any_cue("cue_at_death", [&](const Mention& cue) {
      if (sentence_of(cue.first) != sentence_of(first)) return false;
      const std::uint32_t from = std::min(cue.last, last), to = std::max(cue.first, first);
      return is_close(from, to) && (cue.first >= last || cue.last <= first) &&
             !has_own_day(cue.last);
    });
    if (!is_told || !is_alone(claim.subject, sentence_of(first))) return false;
    set(claim, person->died.days());
    return true;
  }
  // "When he died in May 1942", "when he died, in May": by a day that the text gives.
  [[nodiscard]] bool has_own_day(std::uint32_t token) const {
    constexpr std::uint32_t kReach = 4;
    return has_date(token, token + kReach);
  }
  // Marks, articles and small words between the state and the words for the death.
  [[nodiscard]] bool is_close(std::uint32_t from, std::uint32_t to) const {
    constexpr std::uint32_t kMost = 4;
    if (to - from > kMost) return false;
    for (std::uint32_t t = from; t < to; ++t) {
      const bool is_small = a_.word(t) == "," || a_.office(t) == "a" || a_.office(t) == "the" ||
                            a_.is_in("with_preposition", t) || a_.is_in("use_adverb", t) ||
                            a_.is_in("was_word", t);
      if (!is_small) return false;
    }
    return true;
  }

  // "By then Major Crewe had issued it": of the one day that the sentence before tells.
  bool settle_by_then(Claim& claim) const {
    if (claim.kind != ClaimKind::kRank || claim.when.known) return false;
    const std::uint32_t first = a_.token_at(claim.begin);
    const std::uint32_t sentence = sentence_of(first);
    const bool opens = a_.any_cue("cue_by_then", [&](const Mention& cue) {
      return cue.last == first && a_.begin_of_sentence(first) == cue.first;
    });
    if (!opens || sentence == 0 ||
        a_.mention_over(MentionKind::kPerson, a_.token_at(claim.end)) == nullptr)
      return false;
    const std::uint32_t begin = a_.begin_of_sentence(first);
    const std::uint32_t date = only_date(a_.begin_of_sentence(begin - 1), begin);
    if (date == kNone) return false;
    set(claim, date);
    return true;
  }

  // "Had commanded 9 Squadron since it was formed", "until it was disbanded": about that day.
  bool settle_by_unit(Claim& claim) const {
    if (claim.kind != ClaimKind::kUnit || claim.role.empty()) return false;
    constexpr std::uint32_t kLongest = 7;
    const Day slack = claim.role == "command" ? 31 : 92;
    const auto count = static_cast<std::uint32_t>(a_.mentions_.tokens.size());
    std::uint32_t t = a_.token_at(claim.end);
    if (a_.word(t) == ",") ++t;
    if (t >= count || !a_.is_in("rank_since", t)) return false;
    const bool is_until = a_.is_in("until_word", t);
    bool has_pronoun = false;
    for (std::uint32_t last = t++; t < count && t - last < kLongest; ++t) {
      if (a_.mentions_.tokens[t].kind == TokenKind::kMark) return false;
      const Mention* over = a_.mention_at(t);
      const bool is_end = a_.is_in("unit_ending", t), is_start = a_.is_in("unit_beginning", t);
      // "It had been formed", and not "its commander's house was closed".
      const bool is_passed = is_end || is_start || a_.is_in("event_auxiliary", t) ||
                             a_.is_in("pluperfect_auxiliary", t) || a_.is_in("use_adverb", t);
      has_pronoun = a_.is_in("unit_in_short", t) || (has_pronoun && is_passed);
      if (has_pronoun && (is_end || is_start)) {
        const Unit* unit = a_.ledger_.unit(claim.value);
        if (unit == nullptr || !claim.readings.empty() || is_end != is_until) return false;
        const Edtf& day = is_end ? unit->disbanded : unit->formed;
        if (day.is_unknown()) return false;
        set(claim, day.days().widened(slack));
        return true;
      }
      if (over != nullptr && over->kind != MentionKind::kCue) return false;
    }
    return false;
  }

  // "When X12 burnt on 3 May, it was Crewe who told them, as commander of 9 Squadron": the day told
  // before "it was".
  bool settle_in_cleft(Claim& claim) const {
    constexpr std::uint32_t kName = 6;  // "Lt. R. Crewe"
    const std::uint32_t first = a_.token_at(claim.begin);
    const std::uint32_t begin = a_.begin_of_sentence(first);
    for (std::uint32_t t = begin; t + 2 < first; ++t) {
      if (a_.office(t) != "it" || !a_.is_in("was_word", t + 1)) continue;
      const Mention* person = a_.name_behind(t + 2);
      if (person == nullptr || person->value != claim.subject || person->first - t > kName ||
          !is_told_in_cleft(person->last, first))
        continue;
      if (has_date(person->last, first) || has_own_day(a_.token_at(claim.end))) return false;
      const std::uint32_t date = only_date(begin, t);
      if (date == kNone) return false;
      set(claim, date);
      return true;
    }
    return false;
  }

  // "... who, as commander of 9 Squadron": right behind "as" and its articles; not "who as a boy".
  [[nodiscard]] bool is_told_in_cleft(std::uint32_t who, std::uint32_t token) const {
    constexpr std::uint32_t kReach = 4;
    if (!a_.is_in("cleft_word", who)) return false;
    for (std::uint32_t t = token; t-- > who && token - t <= kReach;) {
      if (a_.office(t) == "as") return true;
      const bool is_former = a_.is_in("former_adjective", t) || a_.is_in("lately_word", t) ||
                             a_.is_in("bygone_adjective", t) || a_.word(t) == ",";
      if (is_former) return false;
    }
    return false;
  }

  // "Crewe, by then of 9 Squadron, found it": of the day on which he did.
  bool settle_then_of(Claim& claim) const {
    const std::uint32_t token = a_.token_at(claim.begin);
    if (claim.kind != ClaimKind::kUnit || !a_.is_then_of(token)) return false;
    for (std::size_t i = a_.first_claim_; i < a_.out_.size(); ++i) {
      const Claim& person = a_.out_[i];
      const bool is_he = person.kind == ClaimKind::kPerson && person.value == claim.subject &&
                         person.begin < claim.begin && person.when.known &&
                         sentence_of(a_.token_at(person.begin)) == sentence_of(token);
      if (!is_he) continue;
      claim.when = person.when;
      return true;
    }
    return false;
  }

  // "In February, when Crewe was still commanding 9 Squadron, ...": of that February.
  bool settle_when_still(Claim& claim) const {
    const std::uint32_t token = a_.token_at(claim.begin);
    const std::uint32_t own = a_.clauses_.clause_of[token];
    const Clause& clause = a_.clauses_.clauses[own];
    const bool is_still = claim.kind == ClaimKind::kUnit && a_.office(clause.first) == "when" &&
                          clause.kind == ClauseKind::kSubordinate && is_still_before(token) &&
                          !a_.stands_between(clause.first, clause.last, "had_word");
    if (!is_still) return false;
    const std::uint32_t date = only_date(a_.begin_of_sentence(clause.first), clause.first);
    if (date == kNone || !a_.opens_behind(own, a_.out_[date])) return false;
    set(claim, date);
    return true;
  }

  // "Still commanding", "still in command of the".
  [[nodiscard]] bool is_still_before(std::uint32_t token) const {
    constexpr std::uint32_t kReach = 5;
    for (std::uint32_t t = token; t-- > 0 && token - t <= kReach;) {
      if (a_.is_in("still_word", t)) return true;
      if (a_.office(t) == "when") return false;
    }
    return false;
  }

  // "9 Squadron was formed there under Major Crewe, F.C.": the day is the ledger's.
  void settle_at_forming(Claim& claim) const {
    if (claim.kind == ClaimKind::kUnit) return;
    const std::uint32_t first = a_.token_at(claim.begin);
    const std::uint32_t begin = a_.begin_of_sentence(first);
    std::uint32_t under = first;
    while (under > begin && a_.folded(under) != "under") --under;
    const Mention* person = a_.folded(under) == "under" ? a_.name_behind(under + 1) : nullptr;
    if (person == nullptr || person->value != claim.subject || has_date(begin, first + 1)) return;
    const Mention* unit = nullptr;
    for (const Mention& other : a_.mentions_of(MentionKind::kUnit)) {
      if (other.first < begin || other.last > under) continue;
      if (unit != nullptr && unit->value != other.value) return;
      unit = &other;
    }
    if (unit != nullptr && is_formed(*unit, under)) set_formed(claim, unit->value);
  }
  // "9 Squadron was formed", and nothing that another did, in the same clause.
  [[nodiscard]] bool is_formed(const Mention& unit, std::uint32_t end) const {
    for (std::uint32_t t = unit.last; t + 1 < end; ++t) {
      if (a_.is_in("unit_beginning", t + 1) && a_.is_in("was_word", t)) return true;
      if (a_.mentions_.tokens[t].kind == TokenKind::kMark || a_.tells_verb(t)) {
        if (!a_.is_in("was_word", t)) return false;
      }
    }
    return false;
  }
  void set_formed(Claim& claim, std::string_view name) const {
    constexpr Day kSlack = 3;  // papers of the first days
    const Unit* unit = a_.ledger_.unit(name);
    if (unit == nullptr || unit->formed.is_unknown()) return;
    set(claim, unit->formed.days().widened(kSlack));
  }

  // "9 Squadron was formed on 1 May. Its command went to Major Crewe", "its first commander was
  // Crewe": of the days when there was first such a unit.
  void add_first_commands() {
    for (const std::uint32_t c : a_.index_.of("cue_first_command")) {
      const Mention cue = a_.mentions_.items[c];
      const Mention* person = a_.name_behind(cue.last);
      const Mention* unit = person == nullptr ? nullptr : a_.unit_spoken_before(cue.first);
      if (unit == nullptr || !person->known || !person->readings.empty()) continue;
      const std::uint32_t end = end_of_sentence(cue.first);
      const bool is_first = cue.value == "first" || is_formed(*unit, end_of_sentence(unit->first));
      if (!is_first || has_date(cue.first, end)) continue;
      Mention here = cue;
      here.kind = MentionKind::kUnit;
      here.value = unit->value;
      const std::string value(unit->value), subject(person->value);
      const std::uint32_t begin = a_.mentions_.tokens[cue.first].begin;
      Claim pattern;
      pattern.value = value;
      pattern.role = "command";
      pattern.subject = subject;
      pattern.why = "the unit named before";
      a_.add_for_subjects(here, ClaimKind::kUnit, {}, pattern);
      for (std::size_t i = a_.first_claim_; i < a_.out_.size(); ++i) {
        Claim& claim = a_.out_[i];
        const bool is_his = claim.subject == subject && claim.begin >= begin &&
                            sentence_of(a_.token_at(claim.begin)) == sentence_of(cue.first) &&
                            is_of_person(claim) && !claim.when.known;
        if (is_his) set_formed(claim, value);
      }
    }
  }
  [[nodiscard]] std::uint32_t end_of_sentence(std::uint32_t token) const {
    std::uint32_t t = token;
    while (t < a_.mentions_.tokens.size() && sentence_of(t) == sentence_of(token)) ++t;
    return t;
  }

  // "To Ensign Crewe, who flew from the Point until May 1942": whoever does something lives.
  void settle_living(Claim& claim) const {
    if (claim.when.known || claim.tense != Tense::kThen || claim.hedged) return;
    const auto count = static_cast<std::uint32_t>(a_.mentions_.tokens.size());
    std::uint32_t t = a_.token_at(claim.end);
    const Mention* name = a_.mention_over(MentionKind::kPerson, a_.token_at(claim.begin));
    if (name == nullptr) return;
    // "The aunt of Ensign Crewe, who ...": it may be hers.
    const std::uint32_t begin = a_.begin_of_name(*name);
    if (begin > 0 && a_.office(begin - 1) == "of") return;
    const std::uint32_t aside = a_.word(t) == "," ? t + 1 : kNone;
    if (aside != kNone) ++t;
    // "Crewe, who had left in May, unveiled it": past what commas set apart.
    std::uint32_t verb = first_deed(t, a_.office(t) == "who" ? t + 1 : t);
    if (verb == kNone && aside != kNone) {
      constexpr std::uint32_t kLongest = 16;
      const std::uint32_t past = a_.end_of_aside(aside, kLongest);
      if (past != kNone) verb = first_deed(past, past);
    }
    // "The crew that flew with Crewe attended": theirs.
    const bool is_subject = a_.office(t) == "who" || begin == a_.begin_of_sentence(begin) ||
                            a_.word(begin - 1) == "," || a_.is_in("event_conjunction", begin - 1);
    if (verb == kNone || verb + 1 >= count || !is_subject) return;
    const std::uint32_t clause = a_.clauses_.clause_of[verb];
    for (std::size_t i = a_.first_claim_; i < a_.out_.size(); ++i) {
      const Claim& date = a_.out_[i];
      if (date.kind != ClaimKind::kDate) continue;
      const std::uint32_t at = a_.token_at(date.begin);
      const bool is_his = at > verb && a_.clauses_.clause_of[at] == clause && !date.impossible &&
                          !date.negated && !date.attributed && !date.hedged && !date.inherited &&
                          !a_.is_relative_date(date) && !has_joint(verb + 1, at) &&
                          (date.of != "publication" || a_.is_in("honouring_verb", verb));
      if (!is_his) continue;
      set(claim, static_cast<std::uint32_t>(i));
      claim.when.inherited = false;
      set_until(claim, at, date);
      if (date.of == "publication") claim.when.date = kNone;
      return;
    }
  }
  // "Until May 1942": still in that May.
  void set_until(Claim& claim, std::uint32_t at, const Claim& date) const {
    const auto& told = a_.mentions_.dates;
    const auto words = std::find_if(
        told.begin(), told.end(), [&](const DateMention& day) { return day.begin == date.begin; });
    if (words == told.end() || !a_.is_in_until(at)) return;
    const Edtf& plain = a_.dates_[static_cast<std::size_t>(words - told.begin())].plain;
    if (!plain.is_unknown()) claim.when.days = claim.when.widened = plain.days();
  }
  // The verb of such a deed with which the words from `verb` on begin; kNone where it is none, or a
  // comma parts a name from it.
  [[nodiscard]] std::uint32_t first_deed(std::uint32_t first, std::uint32_t verb) const {
    const bool is_who = first != verb;
    if (is_who && a_.clauses_.clauses[a_.clauses_.clause_of[first]].kind != ClauseKind::kRelative)
      return kNone;
    std::uint32_t t = verb;
    while (t < a_.mentions_.tokens.size() && a_.is_in("use_adverb", t)) ++t;
    return a_.is_in("living_deed", t) ? t : kNone;
  }
  [[nodiscard]] bool has_joint(std::uint32_t first, std::uint32_t last) const {
    return a_.stands_between(first, last, "event_conjunction");
  }

  BlockAssembler& a_;
};

void BlockAssembler::settle_days_of_people() { PeoplesDays(*this).settle(); }

}  // namespace tailproof
