// Codes, names and numbers that stand for machines where no serial does.
#include <algorithm>

#include "claims/assembler.h"
#include "claims/identities.h"
#include "grammars/fold.h"

namespace tailproof {

void BlockAssembler::insert_group(Group group) {
  const auto at = std::find_if(groups_.begin(), groups_.end(),
                               [&](const Group& other) { return other.first > group.first; });
  const auto index = static_cast<std::uint32_t>(at - groups_.begin());
  for (std::uint32_t& of_mention : group_of_mention_) {
    if (of_mention != kNone && of_mention >= index) ++of_mention;
  }
  groups_.insert(at, std::move(group));
}

// The one machine that bore a code or name, on the day of the block's first date where several did,
// and with a unit that the block names where several did then.
std::string BlockAssembler::bearer_of(const Mention& code) const {
  DaySet days = DaySet::all();
  for (const ResolvedDate& date : dates_) {
    if (date.impossible || date.date.is_unknown()) continue;
    days = date.date.days();
    break;
  }
  std::vector<std::string> all, then, of_unit;
  const auto add = [](std::vector<std::string>& serials, const std::string& serial) {
    if (std::find(serials.begin(), serials.end(), serial) == serials.end())
      serials.push_back(serial);
  };
  for (const Identity* row : ledger_.bearers_of(code.value)) {
    if (row->kind == "previous_serial" || row->kind == "later_serial") continue;
    add(all, row->serial);
    if (!row->spell.possible().intersects(days)) continue;
    add(then, row->serial);
    const bool is_of_unit = any_mention(
        MentionKind::kUnit, [&](const Mention& unit) { return unit.value == row->operator_unit; });
    if (is_of_unit) add(of_unit, row->serial);
  }
  if (all.size() == 1) return all.front();
  if (then.size() == 1) return then.front();
  return of_unit.size() == 1 ? of_unit.front() : std::string{};
}

// The machine named in the block that the code stands for: the one beside which the block has it
// before, right or wrong, else the one of those named that bore it by the ledger.
std::string BlockAssembler::bearer_named(const Mention& code) const {
  const auto is_beside = [&](const Mention& serial, const Mention& other) {
    return is_close(serial.last, other.first) || is_close(other.last, serial.first);
  };
  for (const Mention& before : mentions_.items) {
    if (before.first >= code.first) break;
    if (before.value != code.value || !is_identity(before) || is_serial(before)) continue;
    for (const Group& group : groups_) {
      for (const std::uint32_t member : group.members) {
        if (is_beside(mentions_.items[member], before))
          return std::string(mentions_.items[member].value);
      }
    }
  }
  std::string found;
  for (const Identity* row : ledger_.bearers_of(code.value)) {
    if (row->kind == "previous_serial" || row->kind == "later_serial") continue;
    const bool is_named = std::any_of(groups_.begin(), groups_.end(), [&](const Group& group) {
      return !group.is_either && group.last <= code.first &&
             std::find(group.serials.begin(), group.serials.end(), row->serial) !=
                 group.serials.end();
    });
    if (!is_named || row->serial == found) continue;
    if (!found.empty()) return {};
    found = row->serial;
  }
  return found;
}

// "OR-C has a band", "the wings of OR-C", "OR-C's crew": the machine of that code, and not what is
// painted on one.
bool BlockAssembler::stands_by_itself(const Mention& code) const {
  const std::uint32_t t = code.first;
  if (is_possessive(code)) return true;
  if (t > 0 && is_in("machine_preposition", t - 1)) return true;
  const auto count = static_cast<std::uint32_t>(mentions_.tokens.size());
  const bool is_beside_serial = any_mention(MentionKind::kAirframe, [&](const Mention& other) {
    return is_serial(other) && (is_close(other.last, t) || is_close(code.last, other.first));
  });
  if (!opens_part(t) || is_beside_serial || code.last >= count) return false;
  std::uint32_t next = code.last;
  if (word(next) == ",") {  // "OR-C, which he flew, was"
    next = end_of_aside(next + 1, count);
    if (next >= count || clauses_.sentence_of[next] != clauses_.sentence_of[t]) return false;
  }
  // "OR-C is the code of ...": what stands there is the code itself.
  if (next >= count || (is_in("being_word", next) && is_in("determiner", next + 1))) return false;
  return tells_at(next);
}

// "N10 once more, with the plain disc. To the right, X12's propeller": the caption is about the
// machine of that code, and of another it shows no more than a part, or what stands behind.
bool BlockAssembler::opens_before_others(const Mention& code) const {
  if (!is_caption() || code.role != "code" || begin_of_sentence(code.first) != code.first)
    return false;
  const std::uint32_t own = clauses_.sentence_of[code.first];
  return std::all_of(groups_.begin(), groups_.end(), [&](const Group& other) {
    if (other.members.empty() || clauses_.sentence_of[other.first] <= own) return false;
    const std::uint32_t opening = begin_of_sentence(other.first);
    bool is_aside = is_possessive(mentions_.items[other.members.front()]);
    for (std::uint32_t t = opening; t < other.first && !is_aside; ++t)
      is_aside = is_in("view_direction", t);
    return is_aside;
  });
}

// "No. 16 taking off", "Number 12, at Inchmoor": nothing behind it that could be what is numbered.
bool BlockAssembler::stands_for_machine(const Mention& number) const {
  if (!is_caption() || is_number_of_noun(number)) return false;
  if (number.last >= mentions_.tokens.size()) return true;
  const auto mark = word(number.last);
  return mark != "/" && mark != "-";
}

// "No. 2 hangar": a number of what follows it.
bool NounReading::is_number_of_noun(const Mention& number) const {
  if (number.last >= mentions_.tokens.size()) return false;
  const Token& next = mentions_.tokens[number.last];
  if (next.kind != TokenKind::kWord) return next.kind != TokenKind::kMark;
  const WordList* function_words = lexicon_.grammars().list("function_word");
  const Spelling w = folded(number.last);
  if (is_in("determiner", number.last) || is_in("pick_verb", number.last)) return false;
  // "Number 18 leads", and no "No. 18 engines", where the ledger has it as a code.
  const bool is_verb = number.known && !next.capital && w.ends_with("s") && !w.ends_with("ss") &&
                       !is_in("person_noun", number.last) && !is_in("machine_noun", number.last);
  if (is_verb) return false;
  return !w.ends_with("ing") && (function_words == nullptr || function_words->value_of(w).empty());
}

// "NB-F, then NB-A and NB-H", "The Pantry at Averley": where a block has no serial, its codes and
// names are the machines it speaks of. Beside a serial they are only what it wore, right or wrong.
void BlockAssembler::make_code_groups() {
  auto& items = mentions_.items;

  const bool has_serials = std::any_of(groups_.begin(), groups_.end(), [&](const Group& group) {
    return !is_caption() || !is_in_other_time(group.first);
  });
  const WordList* layout = lexicon_.grammars().list("layout_word");
  Group open;
  const auto close = [&] {
    if (!open.serials.empty()) insert_group(std::move(open));
    open = {};
  };
  for (std::uint32_t i = 0; i < items.size(); ++i) {
    const Mention& mention = items[i];
    if (mention.kind != MentionKind::kAirframe || !is_identity(mention) || is_serial(mention) ||
        mention.payload != 0 || (mention.detail == "yes" && !stands_for_machine(mention))) {
      continue;
    }
    // A picture taken from another machine, which only its code names.
    const bool is_camera_ship = cue_before(mention, "cue_not_shown", 3) != nullptr;
    // In a clause of its own a number from a tail is a machine of its own.
    const bool is_tail = mention.role == "tail";
    const bool is_beside_serials = has_serials && !is_camera_ship &&
                                   (!is_tail || has_machine(clauses_.clause_of[mention.first]));
    const bool is_subject = is_beside_serials && !is_tail && opens_before_others(mention);
    if (is_beside_serials && !is_subject && (is_tail || !stands_by_itself(mention))) continue;
    if (is_tail && !mention.known) continue;
    const std::string serial = is_beside_serials && !is_subject ? bearer_named(mention)
                               : is_tail                        ? std::string(mention.value)
                                                                : bearer_of(mention);
    if (serial.empty()) continue;
    const bool is_named = std::any_of(groups_.begin(), groups_.end(), [&](const Group& group) {
      return std::find(group.serials.begin(), group.serials.end(), serial) != group.serials.end();
    });
    machine_of_code_[i] = serial;
    const bool is_in_list =
        std::find(open.serials.begin(), open.serials.end(), serial) != open.serials.end();
    if (is_named || is_in_list) {
      if (!stands_by_itself(mention)) continue;
      close();
      Group again;
      again.serials = {serial};
      again.first = mention.first;
      again.last = mention.last;
      again.clause = clauses_.clause_of[mention.first];
      again.is_in_passing = mention.first > 0 && is_in("machine_preposition", mention.first - 1);
      insert_group(std::move(again));
      continue;
    }
    bool joined = !open.serials.empty() &&
                  clauses_.sentence_of[open.first] == clauses_.sentence_of[mention.first];
    for (std::uint32_t t = open.last; joined && t < mention.first; ++t) {
      const Spelling w = folded(t);
      joined = w == "," || w == "&" || w == "-" || w == "\xE2\x80\x93" ||
               (layout != nullptr && !layout->value_of(w).empty());
    }
    if (!joined) {
      close();
      open.first = mention.first;
      open.clause = clauses_.clause_of[mention.first];
      open.shown = !is_camera_ship;
    }
    if (std::find(open.serials.begin(), open.serials.end(), serial) == open.serials.end())
      open.serials.push_back(serial);
    open.last = mention.last;
  }
  close();
}

// "III-05's until she": the machine that owns what stands right before a clause of time about it.
const Group* BlockAssembler::owner_before_clause(std::uint32_t clause) const {
  const Clause& own = clauses_.clauses[clause];
  if (own.kind != ClauseKind::kSubordinate || own.first == 0 || !pronoun_opens(clause))
    return nullptr;
  for (const Group& group : groups_) {
    if (group.members.size() != 1 || group.last > own.first) continue;
    const Mention& serial = mentions_.items[group.members.front()];
    if (own.first - group.last <= 2 && is_possessive(serial) &&
        clauses_.sentence_of[group.first] == clauses_.sentence_of[own.first])
      return &group;
  }
  return nullptr;
}

}  // namespace tailproof
