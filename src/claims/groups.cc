// Which serials stand together, which of them the picture shows, and whose claim a mention is.
#include <algorithm>

#include "claims/assembler.h"
#include "claims/identities.h"
#include "grammars/fold.h"
#include "tailproof/serial_runs.h"

namespace tailproof {
// Those named elsewhere in the block ("QC417 to QC430 less QC422") are spoken of there.
NameList BlockAssembler::serials_between(const Mention& from, const Mention& to) const {
  constexpr std::int64_t kMost = 2000;
  std::vector<std::string> between;
  const auto ends = in_one_series(from.value, to.value);
  if (!ends || from.value.size() != to.value.size()) return between;
  const std::int64_t low = ends->first.number, high = ends->second.number;
  if (high <= low || high - low > kMost) return between;
  for (std::int64_t number = low + 1; number < high; ++number) {
    const std::string serial = ends->first.with(number);
    if (ledger_.airframe(serial) == nullptr) continue;
    const bool is_named = any_mention(
        MentionKind::kAirframe, [&](const Mention& mention) { return mention.value == serial; });
    if (!is_named) between.push_back(serial);
  }
  return between;
}

// "CV-K (P311) leads": a serial alone in its brackets behind a code is in the clause of the code.
std::uint32_t BlockAssembler::clause_of_serial(const Mention& serial) const {
  const std::uint32_t clause = clauses_.clause_of[serial.first];
  const Clause& own = clauses_.clauses[clause];
  const bool is_alone = own.kind == ClauseKind::kBracket && own.first + 1 == serial.first &&
                        own.first > 0 && word(serial.last) == ")";
  if (!is_alone) return clause;
  const bool is_named =
      std::any_of(mentions_.items.begin(), mentions_.items.end(), [&](const Mention& other) {
        return other.last == own.first && (is_identity(other) || other.kind == MentionKind::kType);
      });
  return is_named ? clauses_.clause_of[own.first - 1] : clause;
}

// "A1012, the old C-118", "A1012 (C-118 until June)", "Her former number was C-118": a name of the
// machine just named, whosesoever the ledger thinks it is.
bool BlockAssembler::is_told_as_former(const Mention& number, const Group& before) const {
  const std::uint32_t apart =
      clauses_.sentence_of[number.first] - clauses_.sentence_of[before.first];
  if (apart > 1 || before.members.size() != 1) return false;
  if (cue_before(number, "cue_number_was", 2) != nullptr) return true;
  if (apart != 0) return false;
  const bool is_bracketed =
      clauses_.clauses[clauses_.clause_of[number.first]].kind == ClauseKind::kBracket;
  if (is_bracketed && is_in("until_word", number.last)) return true;
  const Mention* old = cue_before(number, "cue_old_number", 1);
  return old != nullptr && old->first > 0 &&
         (word(old->first - 1) == "," || word(old->first - 1) == "(");
}

// A word that an aside between commas about a machine's place in the picture may hold; not "beyond
// it a visitor, X14", which tells what X14 is.
bool BlockAssembler::is_word_of_aside(std::uint32_t token) const {
  const Token& word = mentions_.tokens[token];
  if (token > 0 && office(token - 1) == "a") return false;
  return word.kind == TokenKind::kWord && !word.capital && mention_at(token) == nullptr &&
         !is_in("told_verb", token) && !is_in("story_verb", token) && !is_in("pick_verb", token) &&
         !is_in("relative_word", token);
}

// Serials joined by commas, "and", "to" and the codes between them are one list.
void BlockAssembler::make_groups() {
  auto& items = mentions_.items;
  const WordList* layout = lexicon_.grammars().list("layout_word");
  group_of_mention_.assign(items.size(), kNone);
  std::uint32_t end_of_last = 0;
  for (std::uint32_t i = 0; i < items.size(); ++i) {
    if (!is_serial(items[i])) continue;
    // "41-8805 (ex TR-106)": a name of the machine just named, whosesoever the ledger thinks it is.
    const Mention* ex =
        items[i].role.empty() || groups_.empty() ? nullptr : cue_before(items[i], "cue_ex", 2);
    // "Before that it was TR-106", and not "it was TR-106 that ..."
    const std::uint32_t opener = begin_of_sentence(items[i].first);
    const bool by_pronoun =
        ex != nullptr && ex->first > 0 &&
        (office(ex->first - 1) == "it" || office(opener) == "its") &&
        (items[i].last >= mentions_.tokens.size() || !is_in("relative_word", items[i].last));
    const bool is_told_former = !items[i].role.empty() && !groups_.empty() && ex == nullptr &&
                                is_told_as_former(items[i], groups_.back());
    if (is_told_former ||
        (ex != nullptr && (by_pronoun || clauses_.sentence_of[groups_.back().first] ==
                                             clauses_.sentence_of[items[i].first]))) {
      items[i].payload = 2;
      items[i].value = items[i].detail;
      continue;
    }
    bool joined = !groups_.empty() && clauses_.sentence_of[items[i].first] ==
                                          clauses_.sentence_of[groups_.back().first];
    bool connected = false, is_range = true, is_either = false;
    bool inserted = false, is_aside = false;  // "S3009 and, beyond it, S3010"
    for (std::uint32_t t = end_of_last; joined && t < items[i].first; ++t) {
      const Spelling w = folded(t);
      const Spelling o = office(t);
      const bool inside_identity =
          std::any_of(items.begin(), items.begin() + i, [&](const Mention& m) {
            return m.last > end_of_last && m.first <= t && t < m.last && is_identity(m);
          });
      // "P305 (nearest) and P306": which is which, in brackets.
      const ClauseKind kind = clauses_.clauses[clauses_.clause_of[t]].kind;
      const bool in_bracket = kind == ClauseKind::kBracket &&
                              clauses_.clause_of[t] != clauses_.clause_of[items[i].first];
      if (inside_identity || (in_bracket && layout != nullptr && !value_in(layout, t).empty())) {
        continue;  // "OR-B" holds no "or"
      }
      if (w == "," || o == "and" || w == "&" || o == "or" || o == "to" || o == "through" ||
          w == "/" || w == "-" || w == "\xE2\x80\x93") {
        connected = true;
        is_either = is_either || o == "or";
        is_range = is_range && (o == "to" || o == "through" || w == "-" || w == "\xE2\x80\x93");
      } else if (connected && layout != nullptr && !layout->value_of(w).empty()) {
        is_aside = inserted ? is_aside : word(t - 1) == ",";
        inserted = true;
      } else if (is_aside && is_word_of_aside(t)) {
        continue;  // "S3009 and, behind the plough, S3010"
      } else if (w != "(" && w != ")" && w != "'" && w != "\xE2\x80\x98" && w != "\xE2\x80\x99") {
        joined = false;
      }
    }
    // "With X12 and X14, X15 having been broken up": the comma opens a statement of its own.
    if (joined && connected && word(items[i].first - 1) == "," &&
        is_in("absolute_participle", items[i].last))
      joined = false;
    // "Unlike X12 and X14, X15 was ...": the comma ends the aside.
    if (joined && connected && word(items[i].first - 1) == "," &&
        is_set_against(groups_.back().first))
      joined = false;
    // What is inserted stands between commas, and the list goes on behind the second.
    const bool is_list = !inserted || folded(items[i].first - 1) == ",";
    if (joined && connected && is_list) {
      Group& group = groups_.back();
      group.is_either = group.is_either || is_either;
      if (is_range && !inserted) {
        SerialRange range{group.members.back(), i,
                          serials_between(items[group.members.back()], items[i])};
        for (const std::string& serial : range.inside) {
          if (std::find(group.serials.begin(), group.serials.end(), serial) == group.serials.end())
            group.serials.push_back(serial);
        }
        ranges_.push_back(std::move(range));
      }
      group.members.push_back(i);
      group.last = items[i].last;
      if (std::find(group.serials.begin(), group.serials.end(), items[i].value) ==
          group.serials.end()) {
        group.serials.push_back(items[i].value);
      }
    } else {
      Group group;
      group.members = {i};
      group.serials = {items[i].value};
      group.first = items[i].first;
      group.last = items[i].last;
      group.clause = clause_of_serial(items[i]);
      groups_.push_back(std::move(group));
    }
    group_of_mention_[i] = static_cast<std::uint32_t>(groups_.size() - 1);
    end_of_last = items[i].last;
  }
}

const Group* BlockAssembler::company_for(std::uint32_t first, std::uint32_t last) const {
  for (const Group& company : companies_) {
    if (company.is_of_opening) {
      if (last <= company.first &&
          clauses_.sentence_of[first] == clauses_.clauses[company.clause].sentence)
        return &company;
      continue;
    }
    if (clauses_.sentence_of[company.first] != clauses_.sentence_of[first]) continue;
    if (last <= company.first || first >= company.last) return &company;
  }
  return nullptr;
}

// Two serials of one machine in one block: by the first the block calls it, the other is a former
// or later one. `value` stays the serial that the block's claims are about, `detail` is this
// mention's own spelling.
void BlockAssembler::name_same_machine() {
  std::vector<std::string> named;
  for (Group& group : groups_) {
    for (const std::uint32_t member : group.members) {
      Mention& mention = mentions_.items[member];
      if (std::find(named.begin(), named.end(), mention.value) != named.end()) continue;
      for (const std::string& serial : named) {
        const auto serials = ledger_.serials_of(serial);
        if (std::find(serials.begin(), serials.end(), mention.value) == serials.end()) continue;
        bool previous = false;
        for (const Identity* row : ledger_.identities_of(serial)) {
          if (row->serial == serial && row->identity == mention.value)
            previous |= row->kind == "previous_serial";
          if (row->serial == mention.value && row->identity == serial)
            previous |= row->kind == "later_serial";
        }
        std::replace(group.serials.begin(), group.serials.end(), std::string(mention.value),
                     serial);
        mention.detail = mention.value;
        mention.value = finder_.keep(serial);
        mention.role = previous ? "previous_serial" : "later_serial";
        break;
      }
      if (mention.role.empty() || mention.value != mention.detail) named.push_back(mention.value);
    }
  }
}

const Group* BlockAssembler::group_of_type(std::string_view type) const {
  const Group* found = nullptr;
  for (const Group& group : groups_) {
    for (const std::string& serial : group.serials) {
      const Airframe* row = ledger_.airframe(serial);
      if (row == nullptr || row->type != type) continue;
      // A word that stands for machines named before ("all three") adds none.
      if (found != nullptr && found != &group && group.members.empty()) continue;
      if (found != nullptr && found != &group) return nullptr;  // more than one: no telling
      found = &group;
    }
  }
  return found;
}

bool BlockAssembler::has_group_before(std::uint32_t token) const {
  return std::any_of(groups_.begin(), groups_.end(), [&](const Group& group) {
    return group.last <= token && clauses_.segment_of[group.first] == clauses_.segment_of[token];
  });
}

// "Whitewash on the wings of TW-B": the machine whose part is named behind the words.
const Group* BlockAssembler::owner_of_part(std::uint32_t token) const {
  constexpr std::uint32_t kReach = 7;
  const auto count = static_cast<std::uint32_t>(mentions_.tokens.size());
  const auto positions = index_.of("cue_position");
  if (positions.empty()) return nullptr;
  bool has_part = false;
  for (std::uint32_t t = token; t < count && t - token <= kReach; ++t) {
    for (const Group& group : groups_) {
      if (group.first != t || group.is_either) continue;
      const bool is_owner = t > token && (office(t - 1) == "of" || office(t - 1) == "no" ||
                                          office(t - 1) == "number" || word(t - 1) == ".");
      return has_part && is_owner ? &group : nullptr;
    }
    const bool is_part = std::any_of(positions.begin(), positions.end(), [&](std::uint32_t c) {
      return mentions_.items[c].first <= t && t < mentions_.items[c].last;
    });
    has_part = has_part || is_part;
    const bool is_number = word(t) == "." && t > token && office(t - 1) == "no";
    const bool is_small = is_in("object_preposition", t) || is_in("determiner", t) ||
                          is_in("side_word", t) || is_in("number_sign", t) || is_number;
    if (!is_part && !is_small) return nullptr;
  }
  return nullptr;
}

// "Unlike that of KB202 in Fig. 3, the roundel has bars": said of the machine that the caption is
// about.
bool BlockAssembler::is_held_against(const Group& group, std::uint32_t token) const {
  if (group.shown || !is_caption()) return false;
  if (clauses_.segment_of[group.first] == clauses_.segment_of[token]) return false;
  return clauses_.sentence_of[group.first] == clauses_.sentence_of[token] &&
         is_in("fronted_comparison", begin_of_sentence(token));
}

// "Painted as X12": the machine of that number is only the one that another is got up as.
bool BlockAssembler::is_stood_for(std::uint32_t serial) const {
  const auto cues = index_.of("cue_represents");
  return std::any_of(cues.begin(), cues.end(),
                     [&](std::uint32_t c) { return mentions_.items[c].last == serial; });
}

const Group* BlockAssembler::group_for(std::uint32_t first, std::uint32_t last,
                                       std::string* why) const {
  const bool told_by_others = attributed_[first] != 0;
  const auto is_only_compared = [&](const Group& group) {
    return is_set_against(group.first) && !is_in_aside_of(group.last, first);
  };
  // Of two alternatives nothing is said, nor by the author of what only others name.
  const auto is_open = [&](const Group& group) {
    return !group.is_either &&
           (told_by_others || attributed_[group.first] == 0 ||
            goes_on_by_pronoun(group.first, first)) &&
           !is_only_compared(group) &&
           (clauses_.clauses[group.clause].kind != ClauseKind::kBracket || !is_entry() ||
            group.clause == clauses_.clause_of[first]);
  };
  const auto say = [&](const char* reason) {
    if (why != nullptr && finder_.explains()) *why = reason;
  };
  for (const Group& group : groups_) {
    if (is_close(group.last, first) && !is_only_compared(group)) {
      say("beside the serial");
      return &group;
    }
  }
  for (const Group& group : groups_) {
    // "AS-404 was Thimble 4, AS-406 Thimble 6": a comma parts it from the next serial.
    if (is_close(last, group.first) && clauses_.clause_of[first] == group.clause &&
        (clauses_.segment_of[group.first] == clauses_.segment_of[first] ||
         !has_group_before(first))) {
      say("beside the serial");
      return &group;
    }
  }
  if (const Group* owner = owner_of_part(last)) {
    say("on a part of it");
    return owner;
  }
  if (const Group* labelled = machine_of_label(first)) {
    say("the machine of the entry");
    return labelled;
  }
  const std::uint32_t clause = clauses_.clause_of[first];
  const std::uint32_t sentence = clauses_.sentence_of[first];
  // "The Brandlet has shark teeth, the Ormer a band": a type stands for the machine that it names.
  const Group* of_type = nullptr;
  for (const Mention& mention : mentions_.items) {
    if (mention.first >= first) break;
    if (mention.kind != MentionKind::kType || clauses_.clause_of[mention.first] != clause) continue;
    if (mention.first == 0 || office(mention.first - 1) != "the") continue;
    const Group* group = group_of_type(mention.value);
    if (group != nullptr && group->last <= mention.first) of_type = group;
  }
  if (of_type != nullptr) {
    say("the type names it");
    return of_type;
  }
  const Group* before = nullptr;
  const Group* after = nullptr;
  for (const Group& group : groups_) {
    if (group.clause != clause || !is_open(group)) continue;
    if (group.last <= first) before = &group;
    if (group.first >= last && is_excepted(group.first)) continue;
    // "It is in a shed at Skarre, painted as X12": told of the one that is painted so.
    if (group.first >= last && after == nullptr && !is_stood_for(group.first)) after = &group;
  }
  if (before != nullptr && is_held_against(*before, first)) before = nullptr;
  // "She burnt in November, and N111 took over the letter": told of whatever "she" stands for.
  if (before == nullptr && after != nullptr && is_told_of_pronoun(first, after->first))
    after = nullptr;
  // In a caption a machine that is not shown takes no predicate from one that is.
  if (const Group* company = company_for(first, last)) {
    say("said of all that the plural names");
    return company;
  }
  if (before != nullptr) {
    // "KB201 at Sorvau, and KB107 had been lost": the subject right before its verb.
    const bool is_its_subject = is_idle_between(before->last, first);
    if (!before->shown && !is_its_subject) {
      for (const Group& group : groups_) {
        if (group.clause == clause && group.last <= first && group.shown) before = &group;
      }
    }
    say("nearest before it in its clause");
    return before;
  }
  if (after != nullptr) {
    say("nearest after it in its clause");
    return after;
  }
  const Clause& own = clauses_.clauses[clause];
  if (const Group* told = told_of_in_parent(clause); told != nullptr && is_open(*told)) {
    say("a pronoun stands for it");
    return told;
  }
  // "KD502, which was at Tamble after a heavy landing": so does what hangs on such a clause.
  const bool hangs_on_relative =
      own.kind == ClauseKind::kSubordinate && own.first > 0 &&
      clauses_.sentence_of[own.first - 1] == sentence &&
      clauses_.clauses[clauses_.clause_of[own.first - 1]].kind == ClauseKind::kRelative;
  if (own.kind == ClauseKind::kRelative || own.kind == ClauseKind::kBracket || hangs_on_relative) {
    const Group* nearest = nullptr;
    for (const Group& group : groups_) {
      if (group.last <= own.first && clauses_.sentence_of[group.first] == sentence)
        nearest = &group;
    }
    if (nearest != nullptr) {
      say("its clause hangs on it");
      return nearest;
    }
  }
  // "They looked for X12. That one had sunk before; this is X14": the one named last, seen or not.
  const bool points_back = any_cue("cue_that_one", [&](const Mention& cue) {
    return cue.first >= own.first && cue.first - own.first <= 1 && cue.last <= first;
  });
  if (points_back) {
    const Group* last_named = nullptr;
    for (const Group& group : groups_) {
      if (group.last <= own.first && !is_excepted(group.first)) last_named = &group;
    }
    if (last_named != nullptr && last_named->serials.size() == 1 && !last_named->is_either) {
      say("that one is the one named last");
      return last_named;
    }
  }
  // "It had been III-05's until she flew into the sea": of the one that it belonged to.
  if (const Group* owner = owner_before_clause(clause); owner != nullptr) {
    say("a pronoun stands for it");
    return owner;
  }
  if (!is_caption() && unit_told_of(first) != nullptr) return nullptr;
  const Group* in_sentence = nullptr;
  const Group* in_earlier = nullptr;
  const Group* not_shown = nullptr;
  for (const Group& group : groups_) {
    const std::uint32_t s = clauses_.sentence_of[group.first];
    if (!is_open(group) || is_excepted(group.first)) continue;
    // "It has the panel; P312 at Tamble had none yet": the pronoun does not wait for P312.
    const bool is_awaited =
        own.kind != ClauseKind::kSubordinate && group.first >= last && in_earlier != nullptr &&
        (pronoun_opens(clause) || (is_caption() && is_past_semicolon(last, group.first)));
    if (s == sentence && in_sentence == nullptr && group.shown && !is_awaited) in_sentence = &group;
    if (s == sentence && !group.shown && group.last <= first) not_shown = &group;
    // "Ringed discs throughout": said of all, and the next may tell of the one again.
    const bool is_plural_word = group.members.empty() && group.serials.size() > 1;
    if (s < sentence && group.shown && !is_plural_word && !group.is_in_passing) {
      // The machine that the last sentence with one began with.
      if (in_earlier == nullptr || s > clauses_.sentence_of[in_earlier->first]) in_earlier = &group;
    }
  }
  // "The card of the last of these is torn, but the machine was ...": the one picked out.
  if (in_sentence != nullptr) {
    const Group* last = nullptr;
    for (const Group& group : groups_) {
      if (group.last <= first && clauses_.sentence_of[group.first] == sentence) last = &group;
    }
    const bool is_of_them = last != nullptr && last->members.empty() && last->serials.size() == 1 &&
                            office(last->first + 2) == "of";
    if (is_of_them && pronoun_opens(clause)) {
      say("a pronoun stands for it");
      return last;
    }
  }
  // "Four (A, B, C and D), and two promises, of which the second was broken: it went elsewhere": no
  // list is "it".
  if (in_sentence != nullptr && in_sentence->serials.size() > 1 && pronoun_opens(clause))
    return nullptr;
  if (in_sentence != nullptr) {
    say("the sentence is about it");
    return in_sentence;
  }
  // "Not to be confused with X12; that one had hit a mast".
  if (not_shown != nullptr && own.kind == ClauseKind::kCoordinate && !pronoun_opens(clause)) {
    say("the sentence is about it");
    return not_shown;
  }
  // A card is about its machine, whatever it was the last of.
  if (in_earlier != nullptr && in_earlier->serials.empty() && is_entry())
    in_earlier = &groups_.front();
  if (in_earlier != nullptr) {
    const bool pronoun = pronoun_opens(clause);
    // "X12 and X14 came on 2 May; X15 on 3 June. It went into store": the last, and never two.
    if (pronoun && in_earlier->serials.size() > 1) in_earlier = last_alone(*in_earlier, sentence);
    if (in_earlier == nullptr) return nullptr;
    if (is_caption() || pronoun || is_entry()) {
      say(pronoun        ? "a pronoun stands for it"
          : is_caption() ? "the caption is about it"
                         : "the entry is about it");
      return in_earlier;
    }
  }
  if (is_caption()) {
    for (const Group& group : groups_) {
      if (group.shown && is_open(group)) {
        say("the caption is about it");
        return &group;
      }
    }
  }
  return nullptr;
}

// The machine that the sentence of a list brings in last, alone and before `sentence`; nothing
// where it brings in none.
const Group* BlockAssembler::last_alone(const Group& list, std::uint32_t sentence) const {
  const Group* last = nullptr;
  for (const Group& group : groups_) {
    const std::uint32_t s = clauses_.sentence_of[group.first];
    if (s < clauses_.sentence_of[list.first] || s >= sentence || group.first < list.first) continue;
    last = group.shown && !group.is_either ? &group : nullptr;
  }
  return last != nullptr && last->serials.size() == 1 ? last : nullptr;
}

// "Q2002, 7 Sqn 21.6.40, soc 3.1.41. Struck a mast ...", "Q2002 Gannet I. To 7 Sqn ...": a unit,
// type or date behind the number, and no verb of prose in the sentence.
bool BlockAssembler::is_verbless_entry(const Group& head) const {
  const std::uint32_t next = word(head.last) == "," ? head.last + 1 : head.last;
  const auto count = static_cast<std::uint32_t>(mentions_.tokens.size());
  for (std::uint32_t t = head.last; t < count && clauses_.sentence_of[t] == 0; ++t) {
    if (is_in("was_word", t) || is_in("had_word", t) || is_in("being_word", t)) return false;
  }
  return std::any_of(mentions_.items.begin(), mentions_.items.end(), [&](const Mention& mention) {
    const bool is_of_record = mention.kind == MentionKind::kUnit ||
                              mention.kind == MentionKind::kType ||
                              mention.kind == MentionKind::kDate;
    return is_of_record && mention.first == next && !is_possessive(mention) &&
           (next > head.last || mention.kind == MentionKind::kType);
  });
}

// "Q2002: 7 Sqn 21.6.40; Cat. B 3.1.41; ...", "Card, 38-014. Delivered 5.10.38": a paragraph under
// the heading of one machine.
bool BlockAssembler::is_entry() const { return is_entry_ ? *is_entry_ : reads_as_entry(); }

bool BlockAssembler::reads_as_entry() const {
  constexpr std::uint32_t kFarthest = 3;
  if (groups_.empty() || groups_.front().first > kFarthest) return false;
  const Group& head = groups_.front();
  if (head.serials.size() != 1 || head.last >= mentions_.tokens.size()) return false;
  const auto after = word(head.last);
  if (after != ":" && after != "." && after != "\xE2\x80\x94" && after != "\xE2\x80\x93" &&
      !is_verbless_entry(head))
    return false;
  // "The last of the sixteen", of which nobody can tell which, and a bracket name no other machine.
  return std::all_of(groups_.begin(), groups_.end(), [&](const Group& group) {
    return group.serials == head.serials || group.serials.empty() ||
           clauses_.clauses[group.clause].kind == ClauseKind::kBracket;
  });
}

// Whether a pronoun that opens the clause stands before `token`, for a machine named before the
// clause: by its own sentence if the clause hangs on that ("X12 until it burnt and X14 after
// that"), else by an earlier one, and what is brought in at `later` has a verb or a list of its
// own.
bool BlockAssembler::is_told_of_pronoun(std::uint32_t token, std::uint32_t later) const {
  const std::uint32_t clause = clauses_.clause_of[token];
  const std::uint32_t sentence = clauses_.sentence_of[token];
  if (!pronoun_opens(clause)) return false;
  const Clause& own = clauses_.clauses[clause];
  const bool hangs_on_named = own.kind == ClauseKind::kSubordinate &&
                              std::any_of(groups_.begin(), groups_.end(), [&](const Group& group) {
                                return group.shown && !group.is_either && group.last <= own.first &&
                                       clauses_.sentence_of[group.first] == sentence;
                              });
  if (hangs_on_named) return true;
  const bool is_named = std::any_of(groups_.begin(), groups_.end(), [&](const Group& group) {
    return clauses_.sentence_of[group.first] < sentence && group.shown;
  });
  if (!is_named) return false;
  const auto cues = index_.of("cue_pronoun");
  const bool is_behind = std::any_of(cues.begin(), cues.end(), [&](std::uint32_t c) {
    const Mention& cue = mentions_.items[c];
    return cue.value == "it" && cue.last <= token && clauses_.clause_of[cue.first] == clause;
  });
  if (!is_behind) return false;
  for (std::uint32_t t = token; t < later; ++t) {
    if (is_in("event_conjunction", t)) return true;
  }
  return false;
}

// "X12 went to the yard, and X14 was new when it burnt": the machine of the clause that a clause
// with a pronoun hangs on.
const Group* BlockAssembler::told_of_in_parent(std::uint32_t clause) const {
  const Clause& own = clauses_.clauses[clause];
  if (own.kind != ClauseKind::kSubordinate || own.first == 0 || !pronoun_opens(clause))
    return nullptr;
  const std::uint32_t segment = clauses_.segment_of[own.first - 1];
  for (const Group& group : groups_) {
    if (group.clause == own.parent && group.last <= own.first &&
        clauses_.segment_of[group.first] == segment && !is_led_by_preposition(group))
      return &group;
  }
  return nullptr;
}

NameList BlockAssembler::subjects_of(const Mention& mention) const {
  if (const Group* group = group_for(mention.first, mention.last, nullptr)) return group->serials;
  if (is_caption() && focus_.figure_group != kNone && focus_.figure_group == block_.group) {
    return focus_.serials;
  }
  if (!is_caption() && !is_note() && !focus_.serials.empty() &&
      clauses_.sentence_of[mention.first] == 0 && clauses_.clause_of[mention.first] == 0 &&
      pronoun_opens(0)) {
    return focus_.serials;
  }
  if (!card_.empty()) return {card_};
  return {};
}

}  // namespace tailproof
