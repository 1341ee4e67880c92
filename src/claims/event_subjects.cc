// Whose an event is.
//
// A word for an event tells of a machine only when nothing else is its subject: "Hedge written
// off", "the hangar burnt", "he was posted missing". So the words before a verb are looked at; a
// verb without any ("Did not come back.") is said of the machine that the sentence or caption is
// about.
#include <algorithm>

#include "claims/assembler.h"
#include "grammars/fold.h"
#include "mentions/event_words.h"

namespace tailproof {

const Group* BlockAssembler::group_behind(std::uint32_t token, std::uint32_t reach) const {
  for (const Group& group : groups_) {
    if (group.first < token || group.first - token > reach || is_excepted(group.first) ||
        clauses_.sentence_of[group.first] != clauses_.sentence_of[token - 1])
      continue;
    return &group;
  }
  return nullptr;
}

bool BlockAssembler::has_unit_behind(const Mention& event) const {
  constexpr std::uint32_t kReach = 2;
  return any_mention(MentionKind::kUnit, [&](const Mention& other) {
    return other.first >= event.last && other.first - event.last <= kReach &&
           clauses_.sentence_of[other.first] == clauses_.sentence_of[event.first];
  });
}

// "Lost Cold Sound 30 June.", "(lost 4 May 1942)", "Not lost, in spite of the cross".
bool BlockAssembler::opens_segment(const Mention& event) const {
  const auto& tokens = mentions_.tokens;
  if (event.last < tokens.size() && tokens[event.last].kind == TokenKind::kWord) {
    const bool names =
        std::any_of(mentions_.items.begin(), mentions_.items.end(), [&](const Mention& other) {
          return other.first == event.last &&
                 (other.kind == MentionKind::kDate || other.kind == MentionKind::kPlace ||
                  other.kind == MentionKind::kUnit);
        });
    if (!names && !is_in("event_preposition", event.last)) return false;
  }
  // "X14 lost at sea", "bought in February 1939 and lost in January 1944", but not "X14 lost a
  // wheel".
  const bool takes_thing = event.last < tokens.size() &&
                           (is_in("unnamed_article", event.last) || is_in("number", event.last));
  if (!takes_thing && event.first > 1 && event.last < tokens.size()) {
    const Mention* named = mention_ending_at(event.first);
    if (named != nullptr && named->kind == MentionKind::kAirframe) return true;
    const Mention* joined =
        is_in("event_conjunction", event.first - 1) ? mention_ending_at(event.first - 1) : nullptr;
    if (joined != nullptr && joined->kind == MentionKind::kDate) return true;
  }
  std::uint32_t t = event.first;
  while (t > 0 && clauses_.sentence_of[t - 1] == clauses_.sentence_of[event.first]) {
    if (tokens[t - 1].kind == TokenKind::kMark) {
      const Spelling mark = word(t - 1);
      if (mark != ",") return mark == "(" || mark == ";" || mark == ":" || mark == "[";
      const Mention* before = mention_ending_at(t - 1);
      return before != nullptr && before->kind != MentionKind::kMarking;
    }
    const Mention* before = mention_ending_at(t);
    const bool is_aside = before != nullptr && before->kind == MentionKind::kCue &&
                          (before->role == "cue_negation" || before->role == "cue_hedge" ||
                           before->role == "cue_later");
    if (!is_aside && !is_in("event_aside", t - 1)) return false;
    t = is_aside ? before->first : t - 1;
  }
  return true;
}

// The noun that ends at `token`: the machine, a person, or something else. A noun behind a
// preposition is passed over, and `token` is then set before it.
Told BlockAssembler::noun_before(std::uint32_t& token, std::uint32_t first) const {
  constexpr std::uint32_t kReach = 4;
  Told told = Told::kOther;
  for (std::uint32_t t = token; t > first && token - t < kReach; --t) {
    const std::uint32_t at = t - 1;
    if (mentions_.tokens[at].kind == TokenKind::kMark) return told;
    if (is_in("object_preposition", at)) {
      token = at;
      return Told::kNothing;
    }
    if (is_in("determiner", at)) {
      if (at == first) return told;
      if (is_in("event_conjunction", at - 1)) {
        // "X12 and its sister were burnt"
        const Mention* other = mention_ending_at(at - 1);
        return other != nullptr && other->kind == MentionKind::kAirframe ? Told::kMachine : told;
      }
      if (!is_in("object_preposition", at - 1)) return told;
      token = at - 1;
      return Told::kNothing;
    }
    const Mention* name = mention_ending_at(t);
    if (name != nullptr && (name->kind == MentionKind::kAirframe ||
                            name->kind == MentionKind::kType || name->role == "cue_pronoun")) {
      return Told::kMachine;
    }
    const bool is_person =
        name != nullptr && (name->kind == MentionKind::kPerson ||
                            name->kind == MentionKind::kRank || name->kind == MentionKind::kAward);
    if (is_in("machine_noun", at)) told = Told::kMachine;
    if (is_person || is_in("person_noun", at)) told = Told::kPerson;
    if (told != Told::kOther && name != nullptr) return told;
  }
  return told;
}

// What stands before a verb as its subject. Auxiliaries, adverbs, dates and places are passed over;
// kNothing when the verb opens its sentence or what commas set apart.
Told BlockAssembler::told_before(const Mention& event) const {
  const std::uint32_t first = begin_of_sentence(event.first);
  const auto by_name = [&](const Mention* name) {
    if (name == nullptr) return Told::kNothing;
    switch (name->kind) {
      case MentionKind::kAirframe:
        return Told::kMachine;
      case MentionKind::kType:
        // "Every Plover lent to the school", "most Plovers": a kind, and not one machine.
        return name->first > 0 && is_in("kind_quantifier", name->first - 1) ? Told::kOther
                                                                            : Told::kMachine;
      case MentionKind::kPerson:
      case MentionKind::kRank:
      case MentionKind::kAward:
        return Told::kPerson;
      default:
        return Told::kNothing;
    }
  };
  bool is_relative = false;
  std::uint32_t t = event.first;
  while (t > first) {
    const std::uint32_t at = t - 1;
    // "Its sister was lost", "the other was burnt": words that stand for a machine.
    const auto pick = std::find_if(groups_.begin(), groups_.end(), [&](const Group& group) {
      return group.members.empty() && group.last == t && group.first < t;
    });
    // "The card of the last of these is torn": of the card.
    const bool is_owner = pick != groups_.end() && pick->first > first &&
                          is_in("object_preposition", pick->first - 1);
    if (is_owner) {
      t = pick->first - 1;
      continue;
    }
    if (pick != groups_.end()) return Told::kMachine;
    // "It was pronounced hopeless and written off": what the sentence begins with.
    if (is_in("event_conjunction", at)) {
      const Told told = told_first(first, at);
      if (told != Told::kNothing) return told;
    }
    if (mentions_.tokens[at].kind == TokenKind::kMark) {
      if (ends_aside_of_marking(first, at)) return Told::kOther;
      if (word(at) == "," || word(at) == "(") {
        const Told told = by_name(mention_ending_at(at));
        // "The tower, which stood on the left, was repaired": what the clause hangs on.
        const Clause& clause = clauses_.clauses[clauses_.clause_of[at]];
        const bool is_past_clause = told == Told::kNothing && !is_relative && word(at) == "," &&
                                    clause.kind == ClauseKind::kRelative && clause.first > first &&
                                    clause.first < at;
        // "When the ship was brought in, damaged".
        const bool is_of_when = told == Told::kNothing && word(at) == "," &&
                                clause.kind == ClauseKind::kSubordinate && clause.first < at &&
                                office(clause.first) == "when";
        if (is_of_when) {
          const Told subject = told_first(clause.first + 1, at);
          return subject == Told::kNothing ? Told::kOther : subject;
        }
        if (is_past_clause) {
          t = word(clause.first - 1) == "," ? clause.first - 1 : clause.first;
          continue;
        }
        if (told != Told::kNothing || !is_relative) return told;
        std::uint32_t before = at;
        return at == first ? Told::kNothing : noun_before(before, first);
      }
      return Told::kNothing;
    }
    const Mention* name = mention_ending_at(t);
    if (const Told told = by_name(name); told != Told::kNothing) return told;
    if (name != nullptr && name->kind == MentionKind::kMarking) return Told::kOther;
    if (name != nullptr && name->role == "cue_pronoun") {
      // "The roof is that of the hangar, before it burnt": the sentence names something else.
      const bool names_machine =
          std::any_of(mentions_.items.begin(), mentions_.items.end(), [&](const Mention& other) {
            return (other.kind == MentionKind::kAirframe || other.kind == MentionKind::kType ||
                    (other.role == "cue_pronoun" && &other != name)) &&
                   other.first >= first && other.last <= name->first;
          });
      bool is_statement = false, has_noun = names_machine;
      for (std::uint32_t i = first; i < name->first; ++i) {
        is_statement |= is_in("event_auxiliary", i);
        has_noun |= is_in("machine_noun", i) || is_in("picture_noun", i);
      }
      // "The tail of X12 became a hen-house; it was last seen in 1952."
      const bool is_of_part = !is_caption() && office(name->first) == "it" &&
                              owner_of_part(begin_of_sentence(name->first)) != nullptr;
      return is_of_part || (is_statement && !has_noun) ? Told::kOther : Told::kMachine;
    }
    const Spelling w = folded(at);
    if (name != nullptr && name->role != "cue_event" &&
        (name->kind != MentionKind::kCue || name->role == "cue_hedge" ||
         name->role == "cue_negation" || name->role == "cue_later" || name->role == "cue_former")) {
      t = name->first;
    } else if (office(at) == "which" || office(at) == "that") {
      is_relative = true;
      t = at;
    } else if (office(at) != "she" && office(at) != "they" && is_in("person_pronoun", at)) {
      return Told::kPerson;
    } else if (w.ends_with("ly") || is_in("function_word", at) || is_in("event_aside", at) ||
               is_in("event_auxiliary", at) || is_in("layout_word", at) || is_in("number", at)) {
      t = at;
    } else if (at == first && (w.ends_with("ed") || is_in("irregular_participle", at))) {
      t = at;  // "Finished as delivered"
    } else {
      const Told told = noun_before(t, first);
      if (told != Told::kNothing) return told;
    }
  }
  return Told::kNothing;
}

// "We lost X12 on 2 May and X14 a week later": the machines that the verb takes.
NameList BlockAssembler::objects_behind(const Mention& event) const {
  constexpr std::uint32_t kReach = 5;
  for (const std::uint32_t c : index_.of("cue_pronoun")) {
    const Mention& cue = mentions_.items[c];
    if (cue.first != event.last || office(cue.first) == "its") continue;
    // "repainted it", and not "damaged her rudder"
    const bool is_alone = cue.last >= mentions_.tokens.size() ||
                          mentions_.tokens[cue.last].kind == TokenKind::kMark ||
                          is_in("function_word", cue.last) || is_in("event_preposition", cue.last);
    if (is_alone || office(cue.first) != "her") return subjects_of(event);
  }
  const Group* object = group_behind(event.last, kReach);
  if (object == nullptr) return {};
  for (std::uint32_t t = event.last; t < object->first; ++t) {
    const bool in_type = any_mention(MentionKind::kType, [&](const Mention& other) {
      return other.first <= t && t < other.last;
    });
    // "received its first two Ormers, KD501 and KD502"
    if (!in_type && !is_in("determiner", t) && !is_in("type_apposition", t) &&
        mentions_.tokens[t].kind != TokenKind::kMark)
      return {};
  }
  std::vector<std::string> serials = object->serials;
  for (const Group& group : groups_) {
    if (group.first < object->last || group.members.empty()) continue;
    if (clauses_.sentence_of[group.first] != clauses_.sentence_of[event.first]) break;
    const bool told_anew = any_cue("cue_event", [&](const Mention& other) {
      return other.first >= event.last && other.first < group.first;
    });
    if (told_anew || (office(group.first - 1) != "and" && !is_gapped(group))) break;
    serials.insert(serials.end(), group.serials.begin(), group.serials.end());
  }
  return serials;
}

// "X12 we lost on 2 May", "X12, which they lost": the machines before those who lose them.
NameList BlockAssembler::objects_before(const Mention& event) const {
  std::uint32_t t = event.first;
  while (t > 0 && is_in("event_auxiliary", t - 1)) --t;
  if (t < 2 || !is_in("doer_pronoun", t - 1)) return {};
  --t;
  if (office(t - 1) == "which") --t;
  if (t > 0 && word(t - 1) == ",") --t;
  const auto group =
      std::find_if(groups_.begin(), groups_.end(), [&](const Group& one) { return one.last == t; });
  return group == groups_.end() ? std::vector<std::string>{} : group->serials;
}

// "Two had been lost, X12 over the hills and X14 in the lake": as many machines behind the verb as
// the sentence begins with.
NameList BlockAssembler::all_counted_behind(const Mention& event) const {
  const std::uint32_t sentence = clauses_.sentence_of[event.first];
  const std::uint32_t first = begin_of_sentence(event.first);
  if (!is_in("number", first) || first >= event.first) return {};
  std::vector<std::string> serials;
  for (const Group& group : groups_) {
    if (clauses_.sentence_of[group.first] != sentence) continue;
    if (group.first < event.first) return {};
    for (const std::string& serial : group.serials) {
      if (std::find(serials.begin(), serials.end(), serial) == serials.end())
        serials.push_back(serial);
    }
  }
  const WordList* numbers = lexicon_.grammars().list("number");
  const std::string count(value_in(numbers, first));
  if (serials.size() < 2 || count != std::to_string(serials.size())) return {};
  return serials;
}

// "X12, X14 and X15. The last was shot down": one of the machines named last as a list.
NameList BlockAssembler::picked_before(const Mention& event) const {
  std::uint32_t t = event.first;
  while (t > 0 && (is_in("event_auxiliary", t - 1) || is_in("pluperfect_auxiliary", t - 1))) --t;
  if (t < 2 || office(t - 2) != "the") return {};
  const Spelling w = folded(t - 1);
  const WordList* picks = lexicon_.grammars().list("event_pick");
  const std::string value(picks == nullptr ? std::string_view{} : picks->value_of(w));
  if (value.empty()) return {};
  const Group* named = nullptr;
  for (const Group& group : groups_) {
    if (group.last <= t && group.serials.size() > 1) named = &group;
  }
  if (named == nullptr) return {};
  const std::size_t count = named->serials.size();
  const std::size_t index = value == "last" ? count - 1 : static_cast<std::size_t>(value[0] - '1');
  if (index >= count) return {};
  return {named->serials[index]};
}

// "Collision" as the title of a figure: the machines that its caption begins with.
NameList BlockAssembler::serials_of_next_block() const {
  const std::uint32_t index = block_index_ + 1;
  if (block_.group == kNone || index >= manuscript_.blocks.size()) return {};
  const Block& next = manuscript_.blocks[index];
  if (next.group != block_.group || next.kind != BlockKind::kCaption) return {};
  const Mentions mentions = finder_.find(next.text);
  MentionIndex in_next;
  in_next.assign(mentions.items, mentions.tokens.size());
  const Clauses clauses = find_clauses(mentions, in_next, lexicon_.grammars());
  std::vector<std::string> serials;
  std::uint32_t sentence = kNone;
  for (const Mention& mention : mentions.items) {
    if (mention.kind != MentionKind::kAirframe || !mention.role.empty()) continue;
    if (sentence == kNone) sentence = clauses.sentence_of[mention.first];
    if (clauses.sentence_of[mention.first] != sentence) break;
    if (std::find(serials.begin(), serials.end(), mention.value) == serials.end())
      serials.push_back(mention.value);
  }
  return serials;
}

// Whether a possessive pronoun for a machine opens the words or stands before them, with an
// adjective or two between ("its second forced landing").
bool BlockAssembler::is_its_own(const Mention& event) const {
  constexpr std::uint32_t kReach = 3;
  if (office(event.first) == "its") return true;
  for (std::uint32_t t = event.first; t-- > 0 && event.first - t <= kReach;) {
    if (office(t) == "its") return true;
    if (mentions_.tokens[t].kind != TokenKind::kWord || mentions_.tokens[t].capital ||
        !office(t).empty())
      return false;
  }
  return false;
}

// Whose the words are where no serial tells: the machine spoken of before a pronoun, or what a
// caption shows without knowing its serial.
NameList BlockAssembler::unnamed_subject(const Mention& event) const {
  const bool is_verb = (event.payload & kEventNoun) == 0;
  Told told = is_verb ? told_before(event) : Told::kNothing;
  // "Its forced landing", "her loss".
  if (!is_verb && is_its_own(event)) told = Told::kMachine;
  const bool is_of_other = !is_verb && event.last < mentions_.tokens.size() &&
                           office(event.last) == "of" &&
                           mention_over(MentionKind::kDate, event.last + 1) == nullptr;
  if (told == Told::kOther || told == Told::kPerson || is_of_other) return {};
  const std::uint32_t sentence = clauses_.sentence_of[event.first];
  const Group* before = nullptr;
  for (const Group& group : groups_) {
    const std::uint32_t own = clauses_.sentence_of[group.first];
    if (own > sentence || !group.shown) continue;
    if (group.first >= event.last && is_excepted(group.first)) continue;
    if (before == nullptr || own > clauses_.sentence_of[before->first]) before = &group;
  }
  if (const Group* one = told_of_in_parent(clauses_.clause_of[event.first]); one != nullptr)
    before = one;
  // "The card of it is damaged, but the machine was ...": a list is no "it".
  const bool is_one = pronoun_opens(clauses_.clause_of[event.first]);
  if (before != nullptr && is_one && before->serials.size() > 1) return {};
  // "X14 ditched in May. Survivors were sold": several, and not the one named last.
  std::uint32_t verb = event.first;
  while (verb > 0 && is_in("event_auxiliary", verb - 1)) --verb;
  const bool are_several = is_verb && verb > 0 && is_in("machine_noun", verb - 1) &&
                           std::string_view(folded(verb - 1)).ends_with("s");
  if (before != nullptr && are_several && before->serials.size() == 1) return {};
  if (before != nullptr)
    return told == Told::kMachine ? before->serials : std::vector<std::string>{};
  if (!is_caption()) {
    // "The Gadfly came down in the marsh": the one machine of that type that the ledger has.
    const Mention* type = is_verb && groups_.empty() ? mention_ending_at(verb) : nullptr;
    const bool is_definite = type != nullptr && type->kind == MentionKind::kType && !type->plural &&
                             type->first > 0 && office(type->first - 1) == "the";
    if (!is_definite) return {};
    const std::vector<const Airframe*> all = ledger_.airframes_of_type(type->value);
    return all.size() == 1 ? NameList{all.front()->serial} : NameList{};
  }
  std::vector<std::string> next = serials_of_next_block();
  if (!next.empty()) {
    if ((event.payload & kEventMutual) == 0) next.resize(1);
    return next;
  }
  const bool has_type =
      std::any_of(mentions_.items.begin(), mentions_.items.end(),
                  [](const Mention& other) { return other.kind == MentionKind::kType; });
  if (!has_type) return {};
  return {figure_subject()};
}

// "X12 and X14, which were burnt in May and lost in June respectively": of several events the one
// that has the place in the row that the machine has in the list. `is_told` where the word stands
// for events; then nobody can say whose one is that no order gives.
const std::string* BlockAssembler::told_respectively(const Mention& event, bool& is_told) const {
  const std::uint32_t sentence = clauses_.sentence_of[event.first];
  const auto count = static_cast<std::uint32_t>(mentions_.tokens.size());
  std::uint32_t end = event.last;
  while (end < count && clauses_.sentence_of[end] == sentence && !is_in("respective_word", end))
    ++end;
  if (end >= count || clauses_.sentence_of[end] != sentence) return nullptr;
  const Group* list = nullptr;
  for (const Group& group : groups_) {
    if (group.last <= event.first && clauses_.sentence_of[group.first] == sentence &&
        group.serials.size() > 1)
      list = &group;
  }
  if (list == nullptr) return nullptr;
  std::size_t events = 0, place = 0;
  std::uint32_t behind = list->last;
  for (const std::uint32_t c : index_.of("cue_event")) {
    const Mention& other = mentions_.items[c];
    if (other.first < list->last || other.last > end) continue;
    if (other.first == event.first) place = events;
    behind = other.last;
    ++events;
  }
  // "Came on 8 May, and were struck off on 3 March and 4 June respectively": of the days.
  const MentionsAt dates = mentions_of(MentionKind::kDate);
  const auto days = std::count_if(dates.begin(), dates.end(), [&](const Mention& date) {
    return date.first >= behind && date.last <= end;
  });
  if (days > 1) return nullptr;
  is_told = events > 1;
  return is_told && events == list->serials.size() ? &list->serials[place] : nullptr;
}

NameList BlockAssembler::subjects_of_event(const Mention& event, std::string* why) const {
  constexpr std::uint32_t kReach = 3;
  const std::uint32_t use = event.payload;
  const auto say = [&](const char* words) { *why = words; };
  // "When Quennet left the Eleventh": a person did.
  const Mention* doer = mention_ending_at(event.first);
  const bool is_of_person = doer != nullptr && doer->kind == MentionKind::kPerson;
  if ((use & kEventUnit) != 0 && (is_of_person || !has_unit_behind(event))) return {};
  for (std::uint32_t t = event.first; t < event.last; ++t) {
    const bool is_object =
        any_cue("cue_pronoun",
                [&](const Mention& cue) { return cue.first == t && t > event.first; }) ||
        (t > event.first && (office(t) == "it" || is_in("machine_object", t)));
    if (!is_object) continue;
    // "The yard wrote it off": the machine spoken of before.
    const Group* before = nullptr;
    for (const Group& group : groups_) {
      if (group.last <= event.first) before = &group;
    }
    say("the pronoun stands for it");
    if (before != nullptr) return before->serials;
    return is_caption() ? subjects_of(event) : std::vector<std::string>{};
  }
  if ((use & kEventObject) != 0) {
    std::vector<std::string> objects = objects_behind(event);
    if (objects.empty()) objects = objects_before(event);
    if (!objects.empty()) say("what the verb takes");
    if (!objects.empty() || (use & kEventOpener) == 0) return objects;
  }
  if ((use & kEventOpener) != 0 && !opens_segment(event)) return {};
  // "X12. To the School 3.4.31; collided with X14": the one of which the entry is.
  const Group* labelled = opens_segment(event) ? machine_of_label(event.first) : nullptr;
  if (labelled != nullptr) {
    say("the machine of the entry");
    return labelled->serials;
  }
  if ((use & kEventNoun) != 0) {
    if (event.last >= mentions_.tokens.size() || office(event.last) != "of")
      return subjects_of(event);
    const bool of_date = any_mention(MentionKind::kDate, [&](const Mention& other) {
      return other.first >= event.last && other.first - event.last <= 1;
    });
    if (of_date) return subjects_of(event);
    say("named behind it");
    if (const Group* group = group_behind(event.last, kReach)) return group->serials;
    // "The somersault of X12 was the only accident of that year".
    const std::uint32_t clause = clauses_.clause_of[event.first];
    const bool is_predicate =
        event.value == "accident" && has_machine(clause) &&
        told_first(clauses_.clauses[clause].first, event.first) == Told::kMachine;
    if (is_predicate) return subjects_of(event);
    for (std::uint32_t t = event.last + 1; t < mentions_.tokens.size() && t <= event.last + kReach;
         ++t) {
      const Mention* name = mention_ending_at(t + 1);
      if (is_in("machine_noun", t) || (name != nullptr && (name->kind == MentionKind::kType ||
                                                           name->kind == MentionKind::kAirframe)))
        return subjects_of(event);
    }
    return {};
  }
  if (std::vector<std::string> counted = all_counted_behind(event); !counted.empty()) {
    say("as many as the sentence counts");
    return counted;
  }
  if (std::vector<std::string> picked = picked_before(event); !picked.empty()) {
    say("one of those named last");
    return picked;
  }
  if (bool is_told = false; const std::string* one = told_respectively(event, is_told)) {
    say("in the order of the serials");
    return {*one};
  } else if (is_told) {
    return {};
  }
  // "KB201 and KB202 were both R. The one was shot down": nobody is told which.
  std::uint32_t subject = event.first;
  while (subject > 0 && is_auxiliary(subject - 1)) --subject;
  const bool is_one_of_several =
      subject > 0 && subject < event.last && is_in("one_of_several", subject - 1) &&
      std::any_of(groups_.begin(), groups_.end(), [&](const Group& group) {
        return group.last < subject && group.serials.size() > 1;
      });
  if (is_one_of_several) return {};
  // "The panel marked 'X12' was bought in 1985".
  if (subject > 1 && is_inscription_before(subject)) return {};
  // "The first two were taken on charge on 14 May, and the last, X12, in November".
  const bool is_count = subject > 0 && subject < event.last && is_in("count_word", subject - 1);
  if ((is_count || is_told_of_number(event.first)) &&
      std::none_of(groups_.begin(), groups_.end(), [&](const Group& group) {
        return group.last <= subject &&
               clauses_.sentence_of[group.first] == clauses_.sentence_of[event.first];
      }))
    return {};
  const Told told = told_before(event);
  if (told == Told::kOther || told == Told::kPerson) {
    // "The yard delivered X12".
    if (std::vector<std::string> objects = objects_behind(event); !objects.empty()) {
      say("what the verb takes");
      return objects;
    }
  }
  if (told == Told::kOther) return {};
  if (told == Told::kPerson) {
    // "Rushby was lost with X12", "U505 after Sgt Cole overshot".
    constexpr std::uint32_t kFar = 6;
    if (const Group* group = group_behind(event.last, kFar)) {
      say("the machine of the person");
      if (clauses_.clause_of[group->first] == clauses_.clause_of[event.first])
        return group->serials;
    }
    const Clause& own = clauses_.clauses[clauses_.clause_of[event.first]];
    const bool is_explained = own.kind == ClauseKind::kSubordinate && has_machine(own.parent);
    const bool with_it = event.last + 1 < mentions_.tokens.size() &&
                         is_in("object_preposition", event.last) && office(event.last + 1) == "it";
    return is_explained || with_it ? subjects_of(event) : std::vector<std::string>{};
  }
  // "Another would be wrecked (X12, 12 December)".
  if (event.last < mentions_.tokens.size() && word(event.last) == "(") {
    const Group* group = group_behind(event.last, 1);
    const bool has_own = told == Told::kMachine;
    if (group != nullptr && !has_own) {
      say("named behind it");
      return group->serials;
    }
  }
  if (const Group* group = doer_before_joint(event); group != nullptr) {
    say("the first verb's");
    return group->serials;
  }
  // "She joined the Flight and had her medal after X12 was lost": none that is named only later.
  if (subject > 0 && is_in("story_subject", subject - 1)) {
    const Group* named = group_for(event.first, event.last, nullptr);
    const bool is_told_in_main =
        clauses_.clauses[clauses_.clause_of[event.first]].kind != ClauseKind::kSubordinate;
    if (named != nullptr && named->first > event.last && !named->members.empty() &&
        is_told_in_main && clauses_.sentence_of[named->first] == clauses_.sentence_of[event.first])
      return {};
  }
  std::vector<std::string> serials = subjects_of(event);
  if (serials.empty() || (told != Told::kMachine && !is_behind_apposition(event))) return serials;
  const std::vector<std::string> gapped = gapped_after(event, event.last);
  serials.insert(serials.end(), gapped.begin(), gapped.end());
  return serials;
}

// "X12, the pride of the Flight, was lost": what commas set apart right behind the machine.
bool BlockAssembler::is_behind_apposition(const Mention& event) const {
  constexpr std::uint32_t kLongest = 12;
  std::uint32_t verb = event.first;
  while (verb > 0 && is_in("event_auxiliary", verb - 1)) --verb;
  if (verb < 2 || word(verb - 1) != ",") return false;
  for (std::uint32_t t = verb - 1; t-- > 0 && verb - t <= kLongest;) {
    if (word(t) != ",") continue;
    return std::any_of(groups_.begin(), groups_.end(), [t](const Group& group) {
      return group.last == t && !group.members.empty();
    });
  }
  return false;
}

}  // namespace tailproof
