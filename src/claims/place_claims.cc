// Claims of places: whose whereabouts a place is, and at which time.
#include <algorithm>

#include "claims/assembler.h"
#include "grammars/fold.h"
#include "mentions/event_words.h"

namespace tailproof {

// "The crest of Morvo", "Tarrent of Morvo".
bool NounReading::belongs_to_name(const Mention& place) const {
  std::uint32_t t = place.first;
  if (t > 0 && office(t - 1) == "the") --t;
  if (t == 0 || office(t - 1) != "of") return false;
  return std::any_of(mentions_.items.begin(), mentions_.items.end(), [&](const Mention& other) {
    return (other.kind == MentionKind::kMarking || other.kind == MentionKind::kPerson) &&
           other.last == t - 1;
  });
}

// A caption's first sentence with a place says where the picture was taken; another place further
// on tells of another time, unless one lies within the other.
bool BlockAssembler::has_other_place(const Mention& mention) const {
  for (std::size_t i = first_claim_; i < out_.size(); ++i) {
    const Claim& claim = out_[i];
    if (claim.kind != ClaimKind::kPlace || claim.begin >= mention.begin ||
        claim.tense != Tense::kThen)
      continue;
    if (clauses_.sentence_of[token_at(claim.begin)] == clauses_.sentence_of[mention.first])
      continue;
    if (!ledger_.is_place_within(claim.value, mention.value) &&
        !ledger_.is_place_within(mention.value, claim.value)) {
      return true;
    }
  }
  return false;
}

// "His own log puts him at Vennet that night", "he was shown a Brandlet at Vennet": of a unit named
// in a sentence before that says nothing.
bool NounReading::is_of_him(const Mention& place) const {
  const std::uint32_t begin = begin_of_sentence(place.first);
  if (!is_caption() && office(begin) == "he" &&
      clauses_.clause_of[begin] == clauses_.clause_of[place.first] &&
      std::none_of(mentions_.items.begin(), mentions_.items.end(), [&](const Mention& other) {
        return (other.kind == MentionKind::kAirframe || other.kind == MentionKind::kUnit) &&
               other.first > begin && other.last <= place.first;
      }))
    return true;
  const WordList* objects = lexicon_.grammars().list("person_object");
  return objects != nullptr && place.first > 1 && !value_in(objects, place.first - 2).empty();
}

// "The Tidewick dope shop", "the Averley park": whose it is, and not where.
bool NounReading::is_sort_of_thing(const Mention& place) const {
  if (place.first == 0 || place.last >= mentions_.tokens.size()) return false;
  const WordList* articles = lexicon_.grammars().list("cue_article");
  const WordList* function_words = lexicon_.grammars().list("function_word");
  if (articles == nullptr || function_words == nullptr ||
      (value_in(articles, place.first - 1).empty() && office(place.first - 1) != "a"))
    return false;
  // "On the Zalvar grass", "at the Zalvar dispersal": there.
  const std::uint32_t lead = place.first - 1;  // the article
  const bool is_ground =
      is_in("ground_noun", place.last) && lead > 0 && is_in("where_preposition", lead - 1);
  if (is_ground) return false;
  const Token& next = mentions_.tokens[place.last];
  return next.kind == TokenKind::kWord && !next.capital &&
         value_in(function_words, place.last).empty();
}

// "When Gale Head was under water", "the hills that hide Gale Head", "the people of Gale Head",
// "there was a dance at Gale Head": told of the place, and of no machine's whereabouts.
bool BlockAssembler::is_told_for_itself(const Mention& place) const {
  const std::uint32_t t = place.first;
  if (t == 0) return false;
  const bool is_subject = place.last < mentions_.tokens.size() &&
                          (is_in("was_word", place.last) || is_in("had_word", place.last)) &&
                          is_in("when_word", t - 1);
  if (is_subject) return true;
  if (t > 1 && office(t - 1) == "of" && is_in("person_noun", t - 2)) return true;
  // "Mr S. C. Oakes of Gale Head lent the print": where somebody lives.
  const Mention* owner = t > 1 && office(t - 1) == "of" ? mention_ending_at(t - 1) : nullptr;
  if (owner != nullptr && owner->kind == MentionKind::kPerson) return true;
  // "The band was the business of the Outers".
  const std::uint32_t of = t > 1 && office(t - 1) == "the" ? t - 2 : t - 1;
  if (of > 0 && office(of) == "of" && is_in("place_matter", of - 1)) return true;
  // "The T of Gale Head on its fin": a letter that stands for it.
  const bool is_letter = of > 1 && office(of) == "of" && mentions_.tokens[of - 1].capital &&
                         mentions_.tokens[of - 1].end - mentions_.tokens[of - 1].begin == 1 &&
                         is_in("determiner", of - 2);
  if (is_letter) return true;
  if (t > 1 && is_plain_word(t - 1) && is_in("relative_word", t - 2) &&
      !is_in("verb_of_place", t - 1))
    return true;
  std::uint32_t first = t;
  while (first > 0 && clauses_.segment_of[first - 1] == clauses_.segment_of[t]) --first;
  return is_in("there_word", first) && is_in("being_word", first + 1);
}

// "The negative is at Gale Head", "a postcard posted at Gale Head": where a print or paper is.
bool NounReading::is_of_other_object(const Mention& place) const {
  constexpr std::uint32_t kReach = 3;
  const std::uint32_t sentence = clauses_.sentence_of[place.first];
  for (std::uint32_t t = place.first; t-- > 0 && place.first - t <= kReach;) {
    if (clauses_.sentence_of[t] != sentence) break;
    if (!is_in("paper_verb", t) && !is_in("making_verb", t)) continue;
    // "X12 was kept at Lesk Point": no paper.
    std::uint32_t verb = t;
    while (verb > 0 && is_in("event_auxiliary", verb - 1)) --verb;
    const Mention* subject = mention_ending_at(verb);
    const bool is_machine = is_in("keeping_verb", t) && verb < t && subject != nullptr &&
                            subject->kind == MentionKind::kAirframe;
    if (!is_machine) return true;
  }
  const std::uint32_t first = begin_of_sentence(place.first);
  return is_in("determiner", first) && is_in("credit_noun", first + 1) &&
         is_in("being_word", first + 2);
}

// "KB201, KB202 and KB203. KB202 flew into Colm Lake": where that one came to grief.
bool BlockAssembler::is_told_of_one(const Mention& place) const {
  if (shown_serials().size() < 2) return false;
  const std::uint32_t segment = clauses_.segment_of[place.first];
  return any_cue("cue_event", [&](const Mention& event) {
    if (event.last > place.first || clauses_.segment_of[event.first] != segment ||
        (event.payload & kEventState) != 0)
      return false;
    return std::any_of(groups_.begin(), groups_.end(), [&](const Group& group) {
      return group.last <= event.first && group.serials.size() == 1 &&
             clauses_.segment_of[group.first] == segment;
    });
  });
}

// The only place of a caption's main clauses: where everything in the picture was.
bool BlockAssembler::is_where_taken(const Mention& place) const {
  const ClauseKind kind = clauses_.clauses[clauses_.clause_of[place.first]].kind;
  if (kind == ClauseKind::kRelative || kind == ClauseKind::kSubordinate ||
      kind == ClauseKind::kBracket) {
    return false;
  }
  if (is_told_of_one(place)) return false;
  return !any_mention(MentionKind::kPlace, [&](const Mention& other) {
    return &other != &place && other.value != place.value &&
           !ledger_.is_place_within(other.value, place.value) &&
           !ledger_.is_place_within(place.value, other.value);
  });
}

NameList BlockAssembler::shown_serials() const {
  std::vector<std::string> serials;
  for (const Group& group : groups_) {
    if (!group.shown || group.is_either || attributed_[group.first] != 0 ||
        negated_[group.first] > 1)
      continue;
    for (const std::string& serial : group.serials) {
      if (std::find(serials.begin(), serials.end(), serial) == serials.end())
        serials.push_back(serial);
    }
  }
  return serials;
}

// The unit of "the School at Murrow", by the token of the place.
const Claim* BlockAssembler::unit_right_before(std::uint32_t place) const {
  if (place < 2 ||
      (office(place - 1) != "at" && office(place - 1) != "in" && office(place - 1) != "on"))
    return nullptr;
  const Mention* unit = mention_ending_at(place - 1);
  if (unit == nullptr || unit->kind != MentionKind::kUnit) return nullptr;
  for (std::size_t i = out_.size(); i-- > first_claim_;) {
    if (out_[i].kind == ClaimKind::kUnit && out_[i].begin == unit->begin) return &out_[i];
  }
  return nullptr;
}

// Whether all the machines that a caption names are elsewhere.
bool BlockAssembler::shows_nothing_named() const {
  return !groups_.empty() && std::none_of(groups_.begin(), groups_.end(),
                                          [](const Group& group) { return group.shown; });
}

// "From May the Twelfth flew from Lesk Point"; a unit that "flew from Lesk Point to Halvery" moved.
bool NounReading::is_base_of_unit(const Mention& place, std::uint32_t first) const {
  constexpr std::uint32_t kVerb = 2;
  if (is_caption() || first <= kVerb || !is_in("unit_flying_word", first - kVerb)) return false;
  std::uint32_t verb = first - kVerb;
  while (verb > 0 && (is_in("being_word", verb - 1) || is_in("use_adverb", verb - 1))) --verb;
  const Mention* unit = mention_ending_at(verb);
  return unit != nullptr && unit->kind == MentionKind::kUnit && office(place.last) != "to" &&
         office(place.last) != "for";
}

// "F. Oll, The Mountain Carriers, Wenn, 1949": where a book was printed.
bool NounReading::is_imprint(const Mention& place) const {
  constexpr std::uint32_t kTitle = 12;
  const auto count = static_cast<std::uint32_t>(mentions_.tokens.size());
  if (is_caption() || place.first < 2 || place.last + 1 >= count || word(place.first - 1) != "," ||
      word(place.last) != ",")
    return false;
  const Mention* year = mention_over(MentionKind::kDate, place.last + 1);
  if (year == nullptr || mentions_.dates[year->payload].first.precision != Precision::kYear ||
      (year->last < count && mentions_.tokens[year->last].kind != TokenKind::kMark))
    return false;
  // The author's initials open what stands before.
  for (std::uint32_t t = place.first; t-- > 0 && place.first - t <= kTitle;) {
    const Token& token = mentions_.tokens[t];
    if (token.capital && token.end - token.begin == 1 && t + 1 < count && word(t + 1) == ".")
      return true;
  }
  return false;
}

// "The Command had a unit in the hills for the first time": where that is, and not who has it.
bool NounReading::is_of_kept_thing(const Mention& place, std::uint32_t first) const {
  // "It stood in a hangar at Murrow": it was there too.
  const bool is_where = first > 3 && is_in("where_preposition", first - 4);
  return !is_caption() && !is_where && first > 2 && is_in("object_preposition", first - 1) &&
         is_in("kept_noun", first - 2) && is_in("indefinite_article", first - 3) &&
         clauses_.sentence_of[first - 3] == clauses_.sentence_of[place.first];
}

// "It went by units: 9 Squadron on 6 March, the coast on 15 May": what the list tells of, and not
// where 9 Squadron was.
bool NounReading::is_item_dated(const Mention& place, std::uint32_t first) const {
  if (is_caption() || first < 2 || place.last >= mentions_.tokens.size()) return false;
  const std::uint32_t joint =
      office(first - 1) == "and" && word(first - 2) == "," ? first - 2 : first - 1;
  if (word(joint) != "," && word(joint) != ";" && office(joint) != "and") return false;
  const Mention* before = mention_ending_at(joint);
  const Mention* behind = mention_over(MentionKind::kDate, place.last + 1);
  return before != nullptr && before->kind == MentionKind::kDate && behind != nullptr &&
         is_in("day_preposition", place.last);
}

// "X12 moved on to Lesk Point on 4 May": it was there that day, as it would not be for having been
// flown there.
bool BlockAssembler::is_moved_there(std::uint32_t token) const {
  if (token < 2 || office(token - 1) != "to" || !has_date_in_segment(token)) return false;
  std::uint32_t verb = token - 2;
  while (verb > 0 && is_in("verb_particle", verb)) --verb;
  if (!is_in("moving_verb", verb)) return false;
  while (verb > 0 && (is_in("event_auxiliary", verb - 1) || is_in("had_word", verb - 1))) --verb;
  const Mention* subject = mention_ending_at(verb);
  return subject != nullptr && subject->kind == MentionKind::kAirframe &&
         group_of_mention_[static_cast<std::size_t>(subject - mentions_.items.data())] != kNone;
}

void BlockAssembler::add_places() {
  for (const Mention& mention : mentions_of(MentionKind::kPlace)) {
    // "In Banks finish": the paint that was usual there, wherever the machine is.
    if (is_in("scheme_noun", mention.last)) continue;
    // "The number of its Gale Head days".
    if (is_in("days_of_unit", mention.last)) continue;
    Claim pattern;
    pattern.value = mention.value;
    pattern.readings = mention.readings;
    // "Putting ashore a piano at Lesk Point": a call, and not where it was kept.
    const bool is_call = cue_in_clause(mention.first, "cue_call") != nullptr;
    // "Operated out of Lesk Point": was based there.
    const bool is_worked_from = mention.first > 2 && office(mention.first - 1) == "of" &&
                                office(mention.first - 2) == "out" &&
                                is_in("operating_word", mention.first - 3);
    if (is_call || (!is_worked_from && cue_before(mention, "cue_air", 2) != nullptr))
      pattern.role = "approximate";
    // "Far from its squadron at Lesk Point": it is not there.
    std::uint32_t far = mention.first;
    while (far > 0 && clauses_.segment_of[far - 1] == clauses_.segment_of[mention.first] &&
           !(is_in("far_word", far) && office(far + 1) == "from"))
      --far;
    if (is_in("far_word", far) && office(far + 1) == "from") pattern.role = "approximate";
    std::uint32_t first = mention.first;
    if (first > 1 && office(first - 1) == "the") --first;
    const std::string_view before = first > 0 ? office(first - 1) : "";
    if (is_call || (is_caption() && is_past(mention))) pattern.tense = Tense::kFormer;
    // "Between Gale Head and Mirk Sound": at neither.
    const Mention* other = first > 1 ? mention_ending_at(first - 1) : nullptr;
    const bool is_second = other != nullptr && other->kind == MentionKind::kPlace &&
                           before == "and" && other->first > 0 &&
                           is_in("between_word", other->first - 1);
    if (is_second || (first > 0 && is_in("between_word", first - 1))) {
      pattern.role = "approximate";
      pattern.tense = Tense::kFormer;
    }
    // "Handed over by Gale Head": those there did it.
    const bool is_doer = before == "by" && first > 1 &&
                         (folded(first - 2).ends_with("ed") || is_in_event(first - 2));
    if (is_doer) {
      pattern.role = "approximate";
      pattern.tense = Tense::kFormer;
    }
    // "Flown up by way of Gale Head": past it.
    const bool is_passed = first > 0 && (is_in("via_word", first - 1) ||
                                         (before == "of" && is_in("way_noun", first - 2)));
    if (is_passed) {
      pattern.role = "approximate";
      pattern.tense = Tense::kFormer;
    }
    // A way begins or ends there: where the machine is not at that moment.
    // "Taking off from Maunder": it is still there.
    const bool is_leaving = before == "from" && mention.first > 2 &&
                            is_in("departure_word", mention.first - 2) &&
                            is_in("flying_moment", mention.first - 3);
    if (before == "from" && !is_leaving) pattern.tense = Tense::kFormer;
    if (before == "to" || before == "for") pattern.tense = Tense::kLater;
    // "Operated from Lesk Point": it was based there.
    // "Flew QX12 from Lesk Point": so was its machine.
    const Mention* flown = before == "from" && first > 1 ? mention_ending_at(first - 1) : nullptr;
    const bool is_flown_from = flown != nullptr && flown->kind == MentionKind::kAirframe &&
                               flown->first > 0 && is_in("flying_verb", flown->first - 1);
    const bool is_base =
        is_flown_from || (before == "from" && first > 1 &&
                          (is_in("operating_word", first - 2) || is_base_of_unit(mention, first)));
    const bool is_moved = is_moved_there(first);
    if (is_base || is_moved) pattern.tense = Tense::kThen;
    if ((before == "from" && !is_leaving && !is_base) || (before == "to" && !is_moved) ||
        before == "for")
      pattern.role = "approximate";
    // "Went later to the School at Murrow": at the time at which it was with the unit.
    if (const Claim* unit = unit_right_before(first);
        unit != nullptr && unit->subject != figure_subject())
      pattern.tense = unit->tense;
    if (is_sort_of_thing(mention) || is_of_him(mention) || is_of_other_object(mention) ||
        is_told_for_itself(mention))
      continue;
    // "8 Squadron, at the Point by then, had asked for it": the unit's.
    const Mention* told =
        first > 2 && word(first - 2) == "," ? mention_ending_at(first - 2) : nullptr;
    if (is_caption() && told != nullptr && told->kind == MentionKind::kUnit &&
        told->readings.empty() && ledger_.unit(told->value) != nullptr && before == "at" &&
        has_verb_of_its_own(*told)) {
      pattern.subject = std::string(told->value);
      pattern.why = "the unit before it";
      add_for_subjects(mention, ClaimKind::kPlace, {}, pattern);
      continue;
    }
    if (is_item_dated(mention, first) || is_of_kept_thing(mention, first) || is_imprint(mention))
      continue;
    // "the yellow band of the Marches": a name, not a whereabouts.
    if (belongs_to_name(mention) || is_in_who_clause(mention)) continue;
    if (const Mention* housed = unit_housed_at(mention)) {
      pattern.subject = std::string(housed->value);
      pattern.why = "its home";
      add_for_subjects(mention, ClaimKind::kPlace, {}, pattern);
      continue;
    }
    const Mention* unit_told = is_caption() ? nullptr : unit_told_of(mention.first);
    const bool is_by_pronoun = unit_told != nullptr;
    if (!is_by_pronoun && !is_caption())
      unit_told = named_behind_opening(mention, "basing_word", MentionKind::kUnit);
    if (unit_told != nullptr) {
      pattern.subject = std::string(unit_told->value);
      pattern.why = is_by_pronoun ? "a pronoun stands for the unit"
                                  : "the unit behind what the sentence opens with";
      add_for_subjects(mention, ClaimKind::kPlace, {}, pattern);
      continue;
    }
    std::vector<std::string> subjects;
    if (const Mention* unit = nullptr;
        is_caption() && groups_.size() > 0 &&
        opens_with_unit_noun(clauses_.clause_of[mention.first], unit)) {
      if (unit == nullptr) continue;
      pattern.subject = std::string(unit->value);
      pattern.why = "the unit of which its clause tells";
      add_for_subjects(mention, ClaimKind::kPlace, {}, pattern);
      continue;
    }
    if (is_caption()) {
      if (pattern.tense == Tense::kThen &&
          (has_other_place(mention) || tells_of_other_unit(mention.first) ||
           cue_before(mention, "cue_veteran", 4) != nullptr)) {
        pattern.tense = Tense::kFormer;
      }
      if (pattern.tense == Tense::kThen && is_where_taken(mention)) subjects = shown_serials();
      // "Top: KB201 at Sorvau. Bottom: KB202": one view tells nothing of where the other was taken.
      if (const std::uint32_t item = item_of(mention.first); item != 0) {
        std::erase_if(subjects, [&](const std::string& serial) {
          return std::none_of(groups_.begin(), groups_.end(), [&](const Group& group) {
            return item_of(group.first) == item &&
                   std::find(group.serials.begin(), group.serials.end(), serial) !=
                       group.serials.end();
          });
        });
      }
      // "Looking for P302, Nessing Water": where the picture was taken, and not the machine.
      const bool is_of_picture =
          pattern.tense == Tense::kThen && is_where_taken(mention) && shows_nothing_named();
      if (subjects.empty() && !is_of_picture) subjects = subjects_of(mention);
      if (subjects.empty()) pattern.subject = figure_subject();
      // "Cpl Brisk (visiting from Tamble)": said of the person.
      if (const Mention* person = person_before_bracket(mention)) {
        subjects = {person->value};
        pattern.why = "the bracket hangs on the person";
      }
    } else {
      bool is_persons = false;
      if (const Mention* picture = picture_told_of(mention)) {
        subjects = {picture->value};
        pattern.why = "where a figure is said to be taken";
      } else {
        subjects = statement_subjects(mention, is_persons);
        const Mention* unit = nullptr;
        const std::uint32_t clause = clauses_.clause_of[mention.first];
        if (subjects.empty() && opens_with_unit_noun(clause, unit)) continue;
        pattern.why = "what its clause tells of";
      }
      // In an entry each place is that of one event, whose day may be another's, unless one stands
      // between the same two marks.
      const auto dates_beside =
          std::count_if(mentions_.items.begin(), mentions_.items.end(), [&](const Mention& date) {
            return date.kind == MentionKind::kDate &&
                   clauses_.segment_of[date.first] == clauses_.segment_of[mention.first];
          });
      if (is_entry() && dates_beside != 1) pattern.tense = Tense::kFormer;
    }
    add_for_subjects(mention, ClaimKind::kPlace, subjects, pattern);
    add_place_of_clause(mention);
  }
}

// "Ostrand Lagoon, where 31 Squadron had been since July 1941": the place once more, for the unit
// of the clause and at its time.
void BlockAssembler::add_place_of_clause(const Mention& place) {
  constexpr std::uint32_t kArticle = 2, kVerbs = 2, kStaff = 4;
  const auto count = static_cast<std::uint32_t>(mentions_.tokens.size());
  const std::uint32_t where =
      place.last < count && word(place.last) == "," ? place.last + 1 : place.last;
  if (where + 1 >= count || office(where) != "where") return;
  const auto unit =
      std::find_if(mentions_.items.begin(), mentions_.items.end(), [&](const Mention& other) {
        if (other.kind != MentionKind::kUnit || other.first <= where) return false;
        // "Where the staff of 3 Wing were".
        const std::uint32_t of = other.first - (office(other.first - 1) == "the" ? 2 : 1);
        const bool is_staff = office(of) == "of" && of > where && is_in("person_noun", of - 1);
        return other.first - where <= (is_staff ? kStaff + 1 : kArticle);
      });
  if (unit == mentions_.items.end() || !unit->known || !unit->readings.empty() ||
      is_possessive(*unit))
    return;
  bool stays = false;
  for (std::uint32_t t = unit->last; t < std::min(count, unit->last + kVerbs); ++t)
    stays = stays || is_in("unit_staying", t);
  if (!stays) return;
  Mention here = place;
  here.first = where;
  here.last = where + 1;
  here.begin = mentions_.tokens[where].begin;
  here.end = mentions_.tokens[where].end;
  Claim pattern;
  pattern.value = place.value;
  pattern.readings = place.readings;
  pattern.subject = std::string(unit->value);
  pattern.why = "where the unit of its clause was";
  add_for_subjects(here, ClaimKind::kPlace, {}, pattern);
}

}  // namespace tailproof
