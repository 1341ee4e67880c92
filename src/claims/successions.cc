// Who took a command over from whom: "Halderik succeeded him on 1 March", "was followed in May by
// Casp", "handed over to Casp on the 3rd". The unit is the one that the ledger has the former
// commander give up next to that day, and the successor ever have; or the one whose command is said
// to pass ("command of 9 Squadron fell to Casp on 1 March", "9 Squadron came under Casp", "Casp
// handed over 9 Squadron").
#include <algorithm>

#include "claims/assembler.h"

namespace tailproof {

class BlockAssembler::Successions {
 public:
  explicit Successions(BlockAssembler& block) : a_(block) {}

  void add() {
    add_passing();
    if (!a_.has_word_of("succeeding_verb")) return;
    const auto count = static_cast<std::uint32_t>(a_.mentions_.tokens.size());
    const WordList* verbs = a_.lexicon_.grammars().list("succeeding_verb");
    for (std::uint32_t t = a_.next_of("succeeding_verb", 1, count); t < count;
         t = a_.next_of("succeeding_verb", t + 1, count)) {
      if (a_.negated_[t] != 0) continue;
      a_.value_in(verbs, t) == "gave" ? add_giving(t) : add_taking(t);
    }
  }

 private:
  [[nodiscard]] const Mention* person_at(std::uint32_t token) const {
    std::uint32_t t = token;
    if (const Mention* rank = a_.mention_over(MentionKind::kRank, t)) {
      t = rank->last;
      if (a_.word(t) == "." && rank->role == "short") ++t;
    }
    const Mention* person = a_.mention_over(MentionKind::kPerson, t);
    const bool is_named = person != nullptr && person->first == t && person->known &&
                          person->readings.empty() && !a_.is_possessive(*person);
    return is_named ? person : nullptr;
  }
  // The one of whom "him" or "he" is said: the only person of the last sentence that names any.
  [[nodiscard]] const Mention* person_meant(std::uint32_t token, const Mention* other) const {
    constexpr std::uint32_t kSentences = 2;
    const std::uint32_t sentence = a_.clauses_.sentence_of[token];
    const Mention* found = nullptr;
    std::uint32_t of = 0;
    for (const Mention& person : a_.mentions_of(MentionKind::kPerson)) {
      if (person.last > token || (other != nullptr && person.value == other->value)) continue;
      const std::uint32_t own = a_.clauses_.sentence_of[person.first];
      if (own + kSentences < sentence) continue;
      if (found != nullptr && own == of && found->value != person.value) return nullptr;
      found = &person;
      of = own;
    }
    return found != nullptr && found->known && found->readings.empty() ? found : nullptr;
  }
  [[nodiscard]] const Mention* person_before(std::uint32_t verb) const {
    std::uint32_t t = verb;
    while (t > 0 && (a_.is_in("event_auxiliary", t - 1) ||
                     a_.is_in("pluperfect_auxiliary", t - 1) || a_.is_in("use_adverb", t - 1)))
      --t;
    const Mention* name = t == 0 ? nullptr : a_.mention_ending_at(t);
    return name != nullptr && name->kind == MentionKind::kPerson && name->known &&
                   name->readings.empty()
               ? name
               : nullptr;
  }

  // "Command of 9 Squadron passed to Casp in May", "in May 9 Squadron came under Casp".
  void add_passing() {
    if (!a_.has_word_of("command_passing")) return;
    const WordList* verbs = a_.lexicon_.grammars().list("command_passing");
    const auto count = static_cast<std::uint32_t>(a_.mentions_.tokens.size());
    for (std::uint32_t t = a_.next_of("command_passing", 1, count); t < count;
         t = a_.next_of("command_passing", t + 1, count)) {
      const std::string_view prepositions = a_.value_in(verbs, t);
      if (prepositions.empty() || a_.negated_[t] != 0) continue;
      const Mention* unit = unit_passing(t, prepositions);
      if (unit == nullptr) continue;
      // "Passed in May to Casp".
      std::uint32_t to = t + 1;
      while (a_.is_in("succession_particle", to) || a_.is_in("day_preposition", to) ||
             a_.mention_over(MentionKind::kDate, to) != nullptr)
        ++to;
      const bool is_under = a_.folded(to) == "under" && prepositions == "under";
      if (a_.office(to) != "to" && !is_under) continue;
      if (const Mention* next = person_at(to + 1))
        set_turn(t, Turn::kCommand, next->value, unit->value);
    }
  }
  // The unit whose command is the subject of the verb, or which is itself the subject of one that
  // somebody comes to stand over.
  [[nodiscard]] const Mention* unit_passing(std::uint32_t verb, std::string_view way) const {
    std::uint32_t end = verb;
    while (end > 0 &&
           (a_.is_in("event_auxiliary", end - 1) || a_.is_in("pluperfect_auxiliary", end - 1) ||
            a_.is_in("use_adverb", end - 1)))
      --end;
    const Mention* unit = end == 0 ? nullptr : a_.mention_ending_at(end);
    const bool is_unit = unit != nullptr && unit->kind == MentionKind::kUnit && unit->known &&
                         unit->readings.empty() && !a_.is_possessive(*unit);
    if (!is_unit) return nullptr;
    std::uint32_t of = unit->first;
    if (of > 0 && a_.office(of - 1) == "the") --of;
    const bool is_command = of > 1 && a_.office(of - 1) == "of" && a_.is_in("command_noun", of - 2);
    if (is_command) return unit;
    // "The machines of 9 Squadron came under Casp".
    const bool is_part = of > 0 && a_.is_in("object_preposition", of - 1);
    return way == "under" && !is_part ? unit : nullptr;
  }
  // The one day in the clause of the verb, of which nothing else is told.
  void set_turn(std::uint32_t verb, Turn turn, std::string_view person, std::string_view unit) {
    for (std::size_t i = a_.first_claim_; i < a_.out_.size(); ++i) {
      Claim& date = a_.out_[i];
      if (!is_plain_day_of(date, verb)) continue;
      date.turn = turn;
      date.turn_of = person;
      date.turned_to = unit;
      return;
    }
  }
  [[nodiscard]] bool is_plain_day_of(const Claim& date, std::uint32_t verb) const {
    if (date.kind != ClaimKind::kDate || date.turn != Turn::kNone || date.negated ||
        date.impossible || date.of == "photograph" || date.date.is_unknown() ||
        a_.clauses_.clause_of[a_.token_at(date.begin)] != a_.clauses_.clause_of[verb])
      return false;
    const auto words =
        std::find_if(a_.mentions_.dates.begin(), a_.mentions_.dates.end(),
                     [&](const DateMention& one) { return one.begin == date.begin; });
    const bool is_plain = words != a_.mentions_.dates.end() && words->joint == DateJoint::kNone &&
                          words->bound == DateBound::kNone;
    return is_plain && !date.date.days().is_all();
  }

  // "Y succeeded X", "Y took over from him", "X was succeeded by Y".
  void add_taking(std::uint32_t verb) {
    if (a_.is_in("event_auxiliary", verb - 1) || a_.is_in("use_adverb", verb - 1)) {
      const std::uint32_t by = a_.next_of("by_word", verb + 1, end_of_clause(verb));
      const Mention* next = by < end_of_clause(verb) ? person_at(by + 1) : nullptr;
      const Mention* former = person_before(verb);
      if (former == nullptr) former = person_meant(verb, next);
      settle(verb, former, next);
      return;
    }
    const Mention* next = person_before(verb);
    std::uint32_t object = verb + 1;
    while (a_.is_in("succession_particle", object)) ++object;
    const Mention* former =
        a_.is_in("person_object_pronoun", object) ? person_meant(verb, next) : person_at(object);
    settle(verb, former, next);
  }
  // "X handed over 9 Squadron in May", whatever else the sentence goes on to tell.
  void add_giving_up(std::uint32_t verb, std::uint32_t object) {
    const Mention* former = person_before(verb);
    const Mention* unit = a_.mention_over(MentionKind::kUnit, object);
    const bool is_given = former != nullptr && unit != nullptr && unit->first == object &&
                          unit->known && unit->readings.empty() && !a_.is_possessive(*unit) &&
                          a_.folded(verb + 1) == "over";
    if (!is_given) return;
    // "When X handed over 9 Squadron, in May, it had no machines": right behind the comma.
    const std::uint32_t comma = a_.word(unit->last) == "," ? unit->last : verb;
    set_turn(comma > verb && is_day_at(comma + 1) ? comma + 1 : verb, Turn::kLeftCommand,
             former->value, unit->value);
  }
  [[nodiscard]] bool is_day_at(std::uint32_t token) const {
    const std::uint32_t day = token + (a_.is_in("day_preposition", token) ? 1 : 0);
    return a_.mention_over(MentionKind::kDate, day) != nullptr;
  }
  // "X handed over to Y".
  void add_giving(std::uint32_t verb) {
    std::uint32_t to = verb + 1;
    // "Handed over on 1 June to Casp".
    while (a_.office(to) != "to" &&
           (a_.is_in("succession_particle", to) || a_.is_in("day_preposition", to) ||
            a_.mention_over(MentionKind::kDate, to) != nullptr))
      ++to;
    if (a_.office(to) != "to") {
      add_giving_up(verb, to);
      return;
    }
    const Mention* next = person_at(to + 1);
    const Mention* former = person_before(verb);
    if (former == nullptr && next != nullptr) former = person_meant(verb, next);
    settle(verb, former, next);
  }
  [[nodiscard]] std::uint32_t end_of_clause(std::uint32_t token) const {
    return a_.clauses_.clauses[a_.clauses_.clause_of[token]].last;
  }

  // The only unit that both commanded, by the ledger, and the former until about that day.
  [[nodiscard]] std::string unit_between(std::string_view former, std::string_view next,
                                         const DaySet& days) const {
    constexpr Day kNear = 366;
    std::string unit;
    for (const Service* row : a_.ledger_.service_of(former)) {
      if (row->kind != "command" || row->spell.to.is_unknown()) continue;
      if (!row->spell.to.days().widened(kNear).intersects(days)) continue;
      const auto rows = a_.ledger_.service_of(next);
      const bool is_shared = std::any_of(rows.begin(), rows.end(), [&](const Service* other) {
        return other->kind == "command" && other->value == row->value;
      });
      if (!is_shared || unit == row->value) continue;
      if (!unit.empty()) return {};
      unit = row->value;
    }
    return unit;
  }

  // The day on which it was: the plain date nearest to the verb in its clause. "He took them to
  // Gale Head on 1 June, and was followed on 1 October by Y".
  [[nodiscard]] Claim* day_of(std::uint32_t verb) const {
    Claim* nearest = nullptr;
    std::uint32_t nearest_by = kNone;
    for (std::size_t i = a_.first_claim_; i < a_.out_.size(); ++i) {
      Claim& date = a_.out_[i];
      const std::uint32_t at = a_.token_at(date.begin);
      const std::uint32_t by = at > verb ? at - verb : verb - at;
      if (!is_plain_day_of(date, verb) || by >= nearest_by) continue;
      nearest = &date;
      nearest_by = by;
    }
    return nearest;
  }

  void settle(std::uint32_t verb, const Mention* former, const Mention* next) {
    if (former == nullptr || next == nullptr || former->value == next->value) return;
    Claim* date = day_of(verb);
    if (date == nullptr) return;
    const std::string unit = unit_between(former->value, next->value, date->date.days());
    if (unit.empty()) return;
    date->turn = Turn::kCommand;
    date->turn_of = next->value;
    date->turned_to = unit;
  }

  BlockAssembler& a_;
};

void BlockAssembler::add_successions() { Successions(*this).add(); }

}  // namespace tailproof
