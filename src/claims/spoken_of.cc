// What running text tells of a unit or a person that only a pronoun or a noun stands for, where the
// words alone have found nobody: "By the spring it was settled at the Point", "Christmas found it
// still there", "Crewe went to it in June", "he was there in May to welcome them", "he went at the
// end of June".
//
// Several may be meant, and the ledger has a say: as long as it lets one of those spoken of have
// done what is told, nothing is said against anybody. All that is made here is inherited, so that
// it never makes more than a warning.
#include <algorithm>

#include "claims/assembler.h"
#include "claims/told_day.h"

namespace tailproof {

class BlockAssembler::SpokenOf {
 public:
  explicit SpokenOf(BlockAssembler& block) : a_(block) {}

  void settle() {
    if (a_.is_caption() || a_.is_entry()) return;
    const bool has_unit_word = a_.has_word_of("unit_in_short") || a_.has_word_of("unit_word");
    const std::size_t end = a_.out_.size();
    if (has_unit_word) {
      for (std::size_t i = a_.first_claim_; i < end; ++i) settle_place(a_.out_[i]);
      add_people_of_spoken();
      add_untimely();
    }
    add_places_there();
    if (a_.index_.of(MentionKind::kPerson).empty()) return;
    add_living(end);
    settle_leaving(end);
  }

 private:
  using Units = std::vector<const Unit*>;

  [[nodiscard]] std::uint32_t sentence_of(std::uint32_t token) const {
    return a_.clauses_.sentence_of[token];
  }
  [[nodiscard]] const Clause& clause_of(std::uint32_t token) const {
    return a_.clauses_.clauses[a_.clauses_.clause_of[token]];
  }
  [[nodiscard]] std::uint32_t count() const {
    return static_cast<std::uint32_t>(a_.mentions_.tokens.size());
  }
  [[nodiscard]] bool is_mark(std::uint32_t token) const {
    return token >= count() || a_.mentions_.tokens[token].kind == TokenKind::kMark;
  }

  // The units that a pronoun or noun may stand for, the likeliest first: those of the last sentence
  // that tells of one, not farther back than the words go on about it. None where something else
  // has been named since that may be meant.
  [[nodiscard]] Units spoken_before(std::uint32_t token, const DaySet& days) const {
    constexpr std::uint32_t kBack = 3;
    const std::uint32_t own = sentence_of(token);
    for (std::uint32_t back = 0; back <= std::min(own, kBack); ++back) {
      const std::uint32_t sentence = own - back;
      const std::uint32_t first = a_.clauses_.sentence_first[sentence];
      const std::uint32_t last = back == 0 ? token : a_.clauses_.sentence_first[sentence + 1];
      if (has_rival(first, last, days) || brings_in_other(first, last)) return {};
      if (Units units = units_in(first, last); !units.empty()) return units;
      if (names_unit(first, last)) return {};
      if (Units units = units_by_noun(first, last); !units.empty()) return units;
      // "The hangar was of wood. It was at the Point": told of something else.
      const bool goes_on = back == 0 || a_.stands_between(first, last, "unit_in_short");
      const bool opens_with_noun =
          a_.is_in("determiner", first) && !(last > first + 1 && is_unit_noun(first + 1));
      if (!goes_on || (opens_with_noun && back > 0)) return {};
    }
    return {};
  }
  [[nodiscard]] bool is_unit_noun(std::uint32_t token) const {
    return !a_.unit_noun_at(token).empty();
  }
  [[nodiscard]] bool names_unit(std::uint32_t first, std::uint32_t last) const {
    return a_.any_mention(MentionKind::kUnit, [&](const Mention& unit) {
      return unit.first >= first && unit.last <= last;
    });
  }
  // A machine that was there on these days, a type told of as one, an order.
  [[nodiscard]] bool has_rival(std::uint32_t first, std::uint32_t last, const DaySet& days) const {
    return std::any_of(a_.mentions_.items.begin(), a_.mentions_.items.end(), [&](const Mention& m) {
      if (m.first < first || m.last > last) return false;
      if (m.kind == MentionKind::kAirframe) {
        const Airframe* machine = a_.ledger_.airframe(m.value);
        const bool is_gone = machine != nullptr && is_gone_by(*machine, days);
        return !is_gone;
      }
      if (m.kind == MentionKind::kType)
        return m.first > first && a_.is_in("unnamed_article", m.first - 1);
      return m.kind == MentionKind::kOrder || m.kind == MentionKind::kReference;
    });
  }
  // "Had opened a shop", but not "was given to a man", "who had a cook".
  [[nodiscard]] bool brings_in_other(std::uint32_t first, std::uint32_t last) const {
    for (std::uint32_t t = first + 1; t + 1 < last; ++t) {
      if (a_.office(t) == "a" && a_.mention_at(t) == nullptr && a_.mention_at(t + 1) == nullptr &&
          !a_.is_in("object_preposition", t - 1) && clause_of(t).kind != ClauseKind::kRelative)
        return true;
    }
    return false;
  }
  // Lost or struck off before, so that nothing is told of it.
  [[nodiscard]] bool is_gone_by(const Airframe& machine, const DaySet& days) const {
    const Edtf& off = machine.struck_off_charge;
    if (!off.is_unknown() && off.days().last() < days.first()) return true;
    const auto rows = a_.ledger_.history_of(machine.serial);
    return std::any_of(rows.begin(), rows.end(), [&](const History* row) {
      return row->kind == "lost" && !row->spell.from.is_unknown() &&
             row->spell.from.days().last() < days.first();
    });
  }
  // What those words name as what they tell of, the one named last first.
  [[nodiscard]] Units units_in(std::uint32_t first, std::uint32_t last) const {
    Units units;
    bool has_subject = false;
    for (const Mention& name : a_.mentions_of(MentionKind::kUnit)) {
      if (name.first < first || name.last > last || !name.known || !name.readings.empty()) continue;
      const Unit* unit = a_.ledger_.unit(name.value);
      if (unit == nullptr) continue;
      std::erase(units, unit);
      const bool is_subject = is_told_of(name);
      // Of the one that a clause begins with before any that stands behind "of" or "with".
      units.insert(is_subject ? units.begin() : units.end(), unit);
      has_subject = has_subject || is_subject;
    }
    return has_subject ? units : Units{};
  }
  [[nodiscard]] bool is_told_of(const Mention& name) const {
    if (a_.is_possessive(name)) return false;
    std::uint32_t before = name.first;
    while (before > 0 && a_.is_in("determiner", before - 1)) --before;
    if (before == 0 || before == a_.begin_of_sentence(name.first)) return true;
    return !a_.is_in("object_preposition", before - 1) &&
           !a_.is_in("party_preposition", before - 1);
  }
  // "The flight stayed on the slope": all of that kind which the block has named, or else the one
  // that somebody spoken of commanded.
  [[nodiscard]] Units units_by_noun(std::uint32_t first, std::uint32_t last) const {
    for (std::uint32_t t = first; t + 1 < last; ++t) {
      const std::string_view kind = a_.office(t) == "the" ? a_.unit_noun_at(t + 1) : "";
      const bool is_told = !kind.empty() && (t == first || !a_.is_in("object_preposition", t - 1));
      if (is_told) return units_of_kind(kind, t);
    }
    return {};
  }
  [[nodiscard]] Units units_of_kind(std::string_view kind, std::uint32_t before) const {
    Units units;
    for (const Mention& name : a_.mentions_of(MentionKind::kUnit)) {
      if (name.last > before || !name.known || !a_.is_of_kind(name, kind)) continue;
      const Unit* unit = a_.ledger_.unit(name.value);
      std::erase(units, unit);
      units.insert(units.begin(), unit);
    }
    if (!units.empty()) return units;
    for (const Mention& person : a_.mentions_of(MentionKind::kPerson)) {
      if (person.last > before || !person.known || !person.readings.empty()) continue;
      for (const Service* row : a_.ledger_.service_of(person.value)) {
        const Unit* unit = row->kind == "command" ? a_.ledger_.unit(row->value) : nullptr;
        if (unit == nullptr || unit->kind != kind) continue;
        std::erase(units, unit);
        units.insert(units.begin(), unit);
      }
    }
    return units;
  }

  // "By the spring it was settled at the Point", "the winter found it at the Point", "the winter
  // the Flight spent at the Point".
  void settle_place(Claim& claim) {
    if (claim.kind == ClaimKind::kPlace) yield_to_other(claim);
    const bool is_open = claim.kind == ClaimKind::kPlace && claim.known && claim.subject.empty() &&
                         !claim.negated && !claim.attributed && claim.role.empty() &&
                         claim.readings.empty() && claim.tense == Tense::kThen &&
                         claim.when.known && !claim.when.days.empty() && !claim.when.days.is_all();
    if (!is_open) return;
    const std::uint32_t token = a_.token_at(claim.begin);
    const std::uint32_t spoken = spoken_at(token);
    if (spoken == kNone) return;
    Units units;
    if (a_.office(spoken) == "the")
      units = units_of_kind(a_.unit_noun_at(spoken + 1), spoken);
    else if (!may_be_others(spoken))
      units = spoken_before(spoken, claim.when.days);
    const Unit* unit = unit_at(units, claim.value, claim.when.days);
    if (unit == nullptr) return;
    claim.subject = unit->unit;
    // Where the block names no other unit, nothing else can be meant.
    claim.when.inherited = claim.when.inherited || !is_only_one(*unit);
    claim.why += "; the unit spoken of";
  }
  [[nodiscard]] bool is_only_one(const Unit& unit) const {
    bool is_named = false;
    const bool has_other = a_.any_mention(MentionKind::kUnit, [&](const Mention& name) {
      is_named = is_named || name.value == unit.unit;
      return name.value != unit.unit;
    });
    return is_named && !has_other;
  }
  // "The Fourth lent pilots to the Fifth. In June it was at the Point": the Fifth, where that alone
  // was there.
  void yield_to_other(Claim& claim) const {
    const bool is_by_pronoun = !claim.subject.empty() && claim.when.known && !claim.inherited &&
                               a_.ledger_.unit(claim.subject) != nullptr;
    if (!is_by_pronoun) return;
    const std::uint32_t spoken = spoken_at(a_.token_at(claim.begin));
    if (spoken == kNone || a_.office(spoken) == "the") return;
    const std::uint32_t sentence = sentence_of(spoken);
    if (sentence == 0) return;
    const std::uint32_t before = a_.clauses_.sentence_first[sentence - 1];
    const Unit* own = a_.ledger_.unit(claim.subject);
    if (may_be_at(*own, claim.value, claim.when.days)) return;
    for (const Mention& name : a_.mentions_of(MentionKind::kUnit)) {
      const Unit* unit = name.known ? a_.ledger_.unit(name.value) : nullptr;
      const bool is_other = unit != nullptr && unit != own && name.first >= before &&
                            name.last <= spoken && !a_.ledger_.stations_of(unit->unit).empty() &&
                            may_be_at(*unit, claim.value, claim.when.days);
      if (is_other) claim.subject = unit->unit;
    }
  }
  // The token of the pronoun, or the article of the noun, of which a place is told.
  [[nodiscard]] std::uint32_t spoken_at(std::uint32_t place) const {
    constexpr std::uint32_t kReach = 8;
    const Clause& clause = clause_of(place);
    if (clause.kind == ClauseKind::kRelative || clause.kind == ClauseKind::kBracket) return kNone;
    std::uint32_t t = place;
    while (t > clause.first && place - t < kReach && a_.is_in("spoken_stay_word", t - 1)) --t;
    if (t == place || t == clause.first) return kNone;
    const bool is_noun = !a_.unit_noun_at(t - 1).empty();
    // "Found it at the Point".
    if (const std::uint32_t it = is_noun ? t - 2 : t - 1;
        (is_noun || a_.is_in("unit_it", it)) && it > clause.first &&
        a_.is_in("spoken_finding", it - 1) && is_day_before(it - 1))
      return it;
    // "It was at the Point".
    if (!a_.is_in("spoken_stay", t - 1)) return kNone;
    --t;
    while (t > clause.first && (a_.is_in("use_adverb", t - 1) || a_.is_in("had_word", t - 1))) --t;
    if (t == clause.first) return kNone;
    if (a_.is_in("unit_pronoun", t - 1)) return opens(t - 1) ? t - 1 : kNone;
    const auto is_before = [&](const Mention& name) {
      return name.first >= clause.first && name.last <= t - 2;
    };
    // "That winter, the hardest of all, the Flight spent at the Point".
    const bool is_told = t > 1 && is_unit_noun(t - 1) &&
                         (opens(t - 2) || (a_.is_in("spoken_spending", t) &&
                                           !a_.any_mention(MentionKind::kUnit, is_before) &&
                                           !a_.any_mention(MentionKind::kPerson, is_before)));
    return is_told ? t - 2 : kNone;
  }
  // "They", where people or machines have been named since the unit, in this sentence or the one
  // before.
  [[nodiscard]] bool may_be_others(std::uint32_t pronoun) const {
    if (a_.is_in("unit_it", pronoun)) return false;
    bool is_others = true;
    for (const Mention& name : a_.mentions_.items) {
      if (name.last > pronoun) break;
      if (sentence_of(name.first) + 1 < sentence_of(pronoun)) continue;
      if (name.kind == MentionKind::kUnit) is_others = false;
      is_others = is_others || name.kind == MentionKind::kPerson ||
                  name.kind == MentionKind::kRank || name.kind == MentionKind::kAirframe ||
                  name.kind == MentionKind::kType;
    }
    return is_others;
  }
  // Nothing but times and small words stand before it in its clause.
  [[nodiscard]] bool opens(std::uint32_t token) const {
    std::uint32_t t = token;
    const std::uint32_t first = clause_of(token).first;
    while (t > first) {
      const Mention* date = a_.mention_over(MentionKind::kDate, t - 1);
      if (date != nullptr) {
        t = std::max(date->first, first);
        continue;
      }
      const bool is_small = is_mark(t - 1) || a_.is_in("day_preposition", t - 1) ||
                            a_.is_in("year_preposition", t - 1) || a_.is_in("use_adverb", t - 1) ||
                            a_.is_in("event_conjunction", t - 1) || a_.is_in("clause_joint", t - 1);
      if (!is_small) return false;
      --t;
    }
    return true;
  }
  [[nodiscard]] bool is_day_before(std::uint32_t verb) const {
    const Mention* date = a_.mention_ending_at(verb);
    return date != nullptr && date->kind == MentionKind::kDate;
  }
  // The one of which the ledger lets that be true; where it lets none, the likeliest.
  [[nodiscard]] const Unit* unit_at(Units units, std::string_view place, const DaySet& days) const {
    constexpr std::size_t kMost = 3;
    if (units.size() > 1)
      std::erase_if(units, [&](const Unit* unit) { return is_untimely(*unit, days); });
    if (units.empty() || units.size() > kMost) return nullptr;
    for (const Unit* unit : units) {
      if (may_be_at(*unit, place, days)) return units.size() == 1 ? unit : nullptr;
    }
    return units.front();
  }
  // Before it was formed, or after it was disbanded.
  [[nodiscard]] static bool is_untimely(const Unit& unit, const DaySet& days) {
    return (!unit.formed.is_unknown() && unit.formed.days().first() > days.last()) ||
           (!unit.disbanded.is_unknown() && unit.disbanded.days().last() < days.first());
  }
  [[nodiscard]] bool may_be_at(const Unit& unit, std::string_view place, const DaySet& days) const {
    constexpr Day kMove = 7;
    bool is_known = false;
    for (const Station* row : a_.ledger_.stations_of(unit.unit)) {
      const DaySet stay = row->spell.possible().widened(kMove);
      if (!stay.intersects(days)) continue;
      is_known = true;
      if (a_.ledger_.is_place_within(place, row->place) ||
          a_.ledger_.is_place_within(row->place, place))
        return true;
    }
    return !is_known;
  }

  // "The Fourth left the Point in May. In August it was there again": of the place named last.
  void add_places_there() {
    if (!a_.has_word_of("there_word")) return;
    for (std::uint32_t t = a_.next_of("there_word", 2, count()); t < count();
         t = a_.next_of("there_word", t + 1, count())) {
      if (a_.negated_[t] != 0 || a_.attributed_[t] != 0) continue;
      const std::uint32_t date = only_date(t);
      if (date == kNone) continue;
      const DaySet days = a_.out_[date].date.days();
      std::uint32_t verb = t;
      while (verb > 0 && a_.is_in("spoken_stay_word", verb - 1)) --verb;
      if (verb == 0 || !a_.is_in("spoken_stay", verb - 1)) continue;
      --verb;
      while (verb > 0 && (a_.is_in("use_adverb", verb - 1) || a_.is_in("had_word", verb - 1)))
        --verb;
      if (verb == 0) continue;
      Units units;
      const Mention* name = a_.mention_ending_at(verb);
      if (name != nullptr && name->kind == MentionKind::kUnit && name->known &&
          name->readings.empty() && !a_.is_possessive(*name)) {
        units = {a_.ledger_.unit(name->value)};
      } else if (a_.is_in("unit_it", verb - 1) && opens(verb - 1)) {
        units = spoken_before(verb - 1, days);
      }
      std::erase(units, nullptr);
      const Mention* place = units.empty() ? nullptr : place_before(t);
      if (place == nullptr) continue;
      const Unit* unit = unit_at(units, place->value, days);
      if (unit == nullptr) continue;
      Mention here = a_.words_of(t, t + 1);
      here.kind = MentionKind::kPlace;
      here.value = place->value;
      Claim& claim = a_.add(here, ClaimKind::kPlace);
      claim.subject = unit->unit;
      claim.why = "the place named before";
      set(claim, date);
    }
  }
  // The one place of the sentence before, and none in between.
  [[nodiscard]] const Mention* place_before(std::uint32_t token) const {
    const std::uint32_t own = sentence_of(token);
    const Mention* found = nullptr;
    for (const Mention& place : a_.mentions_of(MentionKind::kPlace)) {
      if (place.last > token || sentence_of(place.first) + 1 < own) continue;
      if (found != nullptr && found->value != place.value) return nullptr;
      found = &place;
    }
    return found != nullptr && found->known && found->readings.empty() ? found : nullptr;
  }

  // "Crewe went to it in June": the unit that he was never with.
  void add_people_of_spoken() {
    const bool has_way =
        a_.has_word_of("unit_object_verb") || a_.has_word_of("unit_object_preposition");
    if (!has_way || a_.index_.of(MentionKind::kPerson).empty()) return;
    for (std::uint32_t t = 2; t < count(); ++t) {
      const bool is_noun = a_.office(t) == "the" && is_unit_noun(t + 1);
      if (!is_noun && !a_.is_in("unit_it", t)) continue;
      const std::uint32_t last = is_noun ? t + 2 : t + 1;
      const bool is_joined = a_.is_had_by_somebody(t, last) && !a_.is_in("quitting_verb", t - 1) &&
                             a_.mention_over(MentionKind::kUnit, t) == nullptr &&
                             a_.negated_[t] == 0 && a_.attributed_[t] == 0;
      if (!is_joined || a_.is_in("unit_verb_particle", last)) continue;
      Mention words = a_.words_of(t, last);
      const Mention* person = a_.doer_of(words);
      const std::uint32_t date = only_date(t);
      if (person == nullptr || !person->known || !person->readings.empty() || date == kNone)
        continue;
      const DaySet days = a_.out_[date].date.days();
      const Units units =
          is_noun ? units_of_kind(a_.unit_noun_at(t + 1), t) : spoken_before(t, days);
      if (units.empty() || !is_elsewhere(person->value, units, days)) continue;
      words.kind = MentionKind::kUnit;
      words.value = a_.finder_.keep(units.front()->unit);
      const std::string subject(person->value);
      Claim& claim = a_.add(words, ClaimKind::kUnit);
      claim.role = "member";
      claim.subject = subject;
      claim.why = "the unit spoken of";
      set(claim, date);
    }
  }
  // The ledger has him with other units on those days, and with none of these ever.
  [[nodiscard]] bool is_elsewhere(std::string_view person, const Units& units,
                                  const DaySet& days) const {
    bool is_known = false;
    for (const Service* row : a_.ledger_.service_of(person)) {
      if (row->kind != "unit" && row->kind != "command") continue;
      const bool is_one = std::any_of(units.begin(), units.end(), [&](const Unit* unit) {
        return a_.ledger_.is_unit_within(row->value, unit->unit) ||
               a_.ledger_.is_unit_within(unit->unit, row->value);
      });
      if (is_one) return false;
      is_known = is_known || row->spell.certain().intersects(days);
    }
    return is_known;
  }

  // "He was there in May", "Crewe had it until the spring": whoever does that lives.
  void add_living(std::size_t end) {
    for (std::size_t i = a_.first_claim_; i < end; ++i) {
      const Claim& date = a_.out_[i];
      if (!is_plain_day(date, true) || date.of != "person" || date.turn != Turn::kNone) continue;
      const Person* person = a_.ledger_.person(date.subject);
      if (person == nullptr || (person->died.is_unknown() && person->born.is_unknown())) continue;
      const std::uint32_t at = a_.token_at(date.begin);
      const std::uint32_t doer = doer_at(at, person->person);
      if (doer == kNone) continue;
      Mention he = a_.words_of(doer, doer + 1);
      he.kind = MentionKind::kPerson;
      he.value = a_.finder_.keep(person->person);
      Claim& claim = a_.add(he, ClaimKind::kPerson);
      claim.why = "he who does something lives";
      set(claim, static_cast<std::uint32_t>(i));
      if (a_.is_in_until(at)) set_plain(claim, a_.out_[i]);
    }
  }
  // The token of "he" or of the end of the name that a clause with the date tells of.
  [[nodiscard]] std::uint32_t doer_at(std::uint32_t date, std::string_view person) const {
    const Clause& clause = clause_of(date);
    if (clause.kind == ClauseKind::kRelative || clause.kind == ClauseKind::kBracket) return kNone;
    const std::uint32_t begin = a_.begin_of_sentence(date);
    const std::uint32_t own = a_.clauses_.clause_of[date];
    // "His brother came after him. He was there in May": the brother.
    const bool is_of_kin = begin > 0 && a_.is_in("his_word", a_.begin_of_sentence(begin - 1));
    if (is_of_kin) return kNone;
    for (std::uint32_t t = begin; t < clause.last; ++t) {
      const bool is_he = a_.folded(t) == "he" && a_.clauses_.clause_of[t] == own && opens(t);
      const Mention* name = is_he ? nullptr : a_.mention_ending_at(t + 1);
      const bool is_name = name != nullptr && name->kind == MentionKind::kPerson &&
                           name->value == person && !a_.is_possessive(*name) &&
                           a_.begin_of_name(*name) == begin;
      if (!is_he && !is_name) continue;
      std::uint32_t verb = t + 1;
      if (is_name && a_.word(verb) == ",") {
        constexpr std::uint32_t kLongest = 12;
        verb = a_.end_of_aside(verb + 1, kLongest);
        if (verb == kNone) return kNone;
      }
      while (a_.is_in("use_adverb", verb)) ++verb;
      // Before what "and" brings in, which may be of another day.
      const bool is_of_day =
          verb < count() && a_.clauses_.clause_of[verb] == own &&
          (date < t || (verb < date && !a_.stands_between(verb + 1, date, "event_conjunction")));
      if (!is_of_day || a_.negated_[verb] != 0 || a_.attributed_[verb] != 0) return kNone;
      if (a_.is_in_until(date)) return a_.is_in("spoken_having", verb) ? t : kNone;
      if (is_name) return kNone;
      const bool does = a_.is_in("living_deed", verb) ||
                        (a_.is_in("spoken_being", verb) && a_.is_in("spoken_there", verb + 1));
      return does ? t : kNone;
    }
    return kNone;
  }

  // "Crewe had commanded the Fourth from the start. He went at the end of June": gave up what he
  // was said to have.
  void settle_leaving(std::size_t end) {
    if (!a_.has_word_of("spoken_going")) return;
    for (std::size_t i = a_.first_claim_; i < end; ++i) {
      Claim& date = a_.out_[i];
      if (!is_plain_day(date, false) || date.of != "person" || date.turn != Turn::kNone) continue;
      const std::uint32_t at = a_.token_at(date.begin);
      std::uint32_t verb = at;
      while (verb > 0 && (a_.is_in("day_preposition", verb - 1) || a_.office(verb - 1) == "the"))
        --verb;
      if (verb < 2 || !a_.is_in("spoken_going", verb - 1)) continue;
      const std::uint32_t he = verb - 2;
      // "Went on 3 May for a week" may come back.
      const std::uint32_t behind = a_.token_at(date.end);
      if (!is_mark(behind) && !a_.is_in("event_conjunction", behind)) continue;
      if (a_.office(he) != "he" || !opens(he) || a_.negated_[he] != 0) continue;
      const std::string unit = had_before(date.subject, he);
      if (unit.empty()) continue;
      date.turn = Turn::kLeftCommand;
      date.turn_of = date.subject;
      date.turned_to = unit;
    }
  }
  // The one unit that the sentences right before give him to command.
  [[nodiscard]] std::string had_before(std::string_view person, std::uint32_t token) const {
    constexpr std::uint32_t kBack = 2;
    std::string unit;
    for (std::size_t i = a_.first_claim_; i < a_.out_.size(); ++i) {
      const Claim& claim = a_.out_[i];
      const std::uint32_t at = a_.token_at(claim.begin);
      if (at >= token || sentence_of(at) + kBack < sentence_of(token)) continue;
      if (claim.kind == ClaimKind::kUnit && claim.value != unit) {
        const bool is_his = unit.empty() && claim.subject == person && claim.role == "command" &&
                            !claim.negated && !claim.attributed && claim.readings.empty();
        if (!is_his) return {};
        unit = claim.value;
      }
      if (claim.kind == ClaimKind::kPerson && claim.value != person) return {};
    }
    return unit;
  }

  // "It was raised in May. In February it repaired X12": before there was any of those spoken of.
  void add_untimely() {
    if (!a_.has_word_of("spoken_doing")) return;
    for (std::uint32_t verb = a_.next_of("spoken_doing", 1, count()); verb < count();
         verb = a_.next_of("spoken_doing", verb + 1, count())) {
      std::uint32_t it = verb - 1;
      while (it > 0 && a_.is_in("use_adverb", it)) --it;
      const bool is_told =
          a_.is_in("unit_it", it) && opens(it) && a_.negated_[it] == 0 && a_.attributed_[it] == 0;
      const std::uint32_t date = is_told ? only_date(it) : kNone;
      if (date == kNone) continue;
      const DaySet days = a_.out_[date].date.days();
      const Units units = spoken_before(it, days);
      const bool are_untimely =
          !units.empty() && std::all_of(units.begin(), units.end(),
                                        [&](const Unit* unit) { return is_untimely(*unit, days); });
      if (!are_untimely) continue;
      Mention here = a_.words_of(it, it + 1);
      here.kind = MentionKind::kUnit;
      here.value = a_.finder_.keep(units.front()->unit);
      Claim& claim = a_.add(here, ClaimKind::kUnit);
      claim.why = "the unit spoken of";
      set(claim, date);
    }
  }

  [[nodiscard]] bool is_plain_day(const Claim& date, bool is_until) const {
    if (date.kind != ClaimKind::kDate || date.impossible || date.negated || date.attributed ||
        date.hedged || date.date.is_unknown() || date.date.days().is_all() ||
        date.of == "publication" || date.of == "type" || date.of == "photograph")
      return false;
    const DateMention* words = words_of_date(date);
    const bool is_plain =
        words != nullptr && words->joint == DateJoint::kNone && words->bound == DateBound::kNone;
    return is_plain || (is_until && a_.is_in_until(a_.token_at(date.begin)));
  }
  // The only date of a token's clause.
  [[nodiscard]] std::uint32_t only_date(std::uint32_t token) const {
    std::uint32_t found = kNone;
    for (std::size_t i = a_.first_claim_; i < a_.out_.size(); ++i) {
      const Claim& date = a_.out_[i];
      if (date.kind != ClaimKind::kDate ||
          a_.clauses_.clause_of[a_.token_at(date.begin)] != a_.clauses_.clause_of[token])
        continue;
      const bool is_same = found != kNone && a_.out_[found].begin == date.begin;
      if (is_same) continue;
      if (found != kNone || !is_plain_day(date, false)) return kNone;
      found = static_cast<std::uint32_t>(i);
    }
    return found;
  }
  void set(Claim& claim, std::uint32_t date) const {
    claim.when = when_of_told_day(a_.out_[date], date, a_.ledger_.settings().margins);
    claim.tense = Tense::kThen;
  }
  // "Until May": still in that May.
  void set_plain(Claim& claim, const Claim& date) const {
    const DateMention* words = words_of_date(date);
    if (words == nullptr) return;
    const Edtf& plain =
        a_.dates_[static_cast<std::size_t>(words - a_.mentions_.dates.data())].plain;
    if (!plain.is_unknown()) claim.when.days = claim.when.widened = plain.days();
  }
  [[nodiscard]] const DateMention* words_of_date(const Claim& date) const {
    const auto& told = a_.mentions_.dates;
    const auto words = std::find_if(
        told.begin(), told.end(), [&](const DateMention& day) { return day.begin == date.begin; });
    return words == told.end() ? nullptr : &*words;
  }

  BlockAssembler& a_;
};

void BlockAssembler::settle_spoken() { SpokenOf(*this).settle(); }

}  // namespace tailproof
