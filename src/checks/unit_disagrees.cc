// | situation                                                                   | level  |
// | said to be held by one unit while another certainly held it                 | error  |
// | said to be flown by one unit while another is the only recorded operator,   | error  |
// |   or a squadron held it and no operator row covers the day                  |        |
// | no word of holding or flying, and it is neither holder nor operator         | error  |
// | said to be flown by a unit that was elsewhere, the machine's place known    | error  |
// | parent and sub-unit, holder beside operator, a gap between rows             | silent |
// | without a date: a unit that never had it, though a few weeks of its life    | error  |
// |   are nobody's                                                              |        |
// | with it from, until or by a day more than a month from its time there       | warning |
// | said to be its former or later unit, and never with it                      | warning |
// | any other former or later unit                                              | silent |
// | running text with a yard beside a day, while a squadron held it: a stay     | silent |
// | only the yard's row of a repair, before and behind it those of the unit     | silent |
// | a unit that a closed table of units does not have                           | error  |
#include <algorithm>
#include <string>
#include <vector>

#include "tailproof/allowed_days.h"
#include "tailproof/told_ends.h"

namespace tailproof {
namespace {

constexpr std::string_view kId = "unit-disagrees";
constexpr std::size_t kQuoted = 4;

std::string verb_of(UnitSense sense) {
  if (sense == UnitSense::kHeld) return "held by ";
  return sense == UnitSense::kFlown ? "flown by " : "with ";
}

std::optional<Query> unknown_unit(const CheckInput& input, const Claim& claim) {
  if (claim.known || !input.ledger.is_closed_table("units")) return std::nullopt;
  Query query = query_at(kId, input, claim, tempered(claim, Level::kError),
                         claim.subject + " is put " + verb_of(UnitSense::kEither) + claim.value +
                             ", a unit that the ledger, which is closed for units, does not have");
  query.evidence.push_back(quote_table("units.csv", "closed, and has no " + claim.value));
  return query;
}

// "1 Repair Park 22.6.42; out 19.7.42": running text that only names a yard beside a day tells of a
// stay there, and whoever holds the machine need not have given it up for that.
bool is_stay_at_yard(const CheckInput& input, const ClaimIndex& index, const Claim& claim) {
  const Unit* unit = input.ledger.unit(claim.value);
  if (unit == nullptr || !is_servicing_kind(unit->kind) || !claim.role.empty()) return false;
  if (index.block_of(claim).kind == BlockKind::kCaption) return false;
  if (claim.when.date >= input.claims.size()) return false;
  const std::uint32_t event = input.claims[claim.when.date].event;
  if (event < input.claims.size() && input.claims[event].value == "allotted") return false;
  const std::vector<const History*> history = input.ledger.history_of(claim.subject);
  return std::none_of(history.begin(), history.end(), [&](const History* row) {
    const Unit* holder = input.ledger.unit(row->unit);
    return row->role == "holder" && holder != nullptr && is_servicing_kind(holder->kind) &&
           row->spell.possible().intersects(claim.when.widened);
  });
}

// "X12 of 7 Squadron is in for a new tail": the books may have it with the yard for these weeks,
// but it came from the squadron and goes back there.
bool is_away_for_repair(const CheckInput& input, const Claim& claim) {
  if (!claim.role.empty() || !claim.when.known) return false;
  const History* before = nullptr;
  const History* behind = nullptr;
  bool is_mended = false;
  for (const History* row : input.ledger.history_of(claim.subject)) {
    if (row->role != "holder" || row->unit.empty() || is_event_kind(row->kind)) continue;
    const DaySet& days = row->spell.possible();
    if (days.empty()) continue;
    if (days.last() < claim.when.days.first()) {
      if (before == nullptr || before->spell.possible().last() <= days.last()) before = row;
    } else if (days.first() > claim.when.days.last()) {
      if (behind == nullptr || days.first() < behind->spell.possible().first()) behind = row;
    } else if (row->kind != "repair" && row->unit != claim.value) {
      return false;
    } else {
      is_mended = is_mended || row->kind == "repair";
    }
  }
  return is_mended && before != nullptr && behind != nullptr && before->unit == claim.value &&
         behind->unit == claim.value;
}

// "From May 1941 to January 1942", "by June it had gone to": the machine was not there on one end.
// Where the sentence names several units, the stretch is that of all together.
std::optional<When> end_elsewhere(const CheckInput& input, const ClaimIndex& index,
                                  const Claim& claim) {
  // Days that are nobody's between two units do not begin a stay with a third.
  const bool was_there = was_ever_with(input.ledger, claim);
  const auto days_then = [&](const When& end) {
    const Allowed allowed = days_with_unit(input.ledger, claim, end);
    const std::optional<Allowed> life =
        was_there ? std::nullopt : days_of_life(input.ledger, claim.subject);
    return life ? without_short_gaps(intersect(allowed, *life)) : allowed;
  };
  std::optional<When> end = impossible_end(input, claim, days_then);
  if (!end) return std::nullopt;
  // Last, since it looks at every claim of the block.
  const auto around = index.around(claim);
  const bool has_other = std::any_of(around.begin(), around.end(), [&](std::uint32_t i) {
    const Claim& other = index.claim(i);
    return other.kind == ClaimKind::kUnit && &other != &claim && other.block == claim.block &&
           other.when.date == claim.when.date;
  });
  if (has_other) return std::nullopt;
  return end;
}

// The ledger has no row of this unit, and of the life of the machine the rows of others leave open
// only days on which it passed from one to the other.
bool was_never_there(const Ledger& ledger, const Claim& claim) {
  if (was_ever_with(ledger, claim)) return false;
  DaySet idle;  // in store or in the shops: with nobody who flies it
  for (const History* row : ledger.history_of(claim.subject)) {
    if (row->kind == "stored" || row->kind == "repair" || row->kind == "modified")
      idle = idle.unite(certain_days(row->spell, ledger.settings().margins).narrowed);
  }
  const std::optional<Allowed> life = days_of_life(ledger, claim.subject);
  if (!life || life->widened.empty()) return false;
  Claim undated = claim;
  undated.role.clear();
  const DaySet open = intersect(days_with_unit(ledger, undated, When{}), *life)
                          .widened.intersect(idle.complement());
  return without_short_gaps(open, life->widened).empty();
}

bool is_of_other_time(const Claim& unit) {
  return unit.tense != Tense::kThen || unit.role == "former" || unit.role == "later";
}

// "X12 served with 62 Squadron": the machine, the only one of its sentence, and the unit behind it
// with no mark between them, or for a unit of another time one comma ("X12, later of 62 Squadron").
// Anything longer may tell of others.
bool is_told_plainly(const ClaimIndex& index, const Claim& unit) {
  NamedMachine named = machine_beside(index, unit);
  if (!named.is_only) return false;
  if (is_of_other_time(unit)) {
    const auto sentence = index.in_sentence(unit);
    if (std::any_of(sentence.begin(), sentence.end(),
                    [](const Claim& other) { return other.kind == ClaimKind::kPerson; }))
      return false;
    constexpr std::size_t kAside = 24;
    if (named.between.starts_with(",") && named.between.size() <= kAside)
      named.between.remove_prefix(1);
  }
  return named.is_unparted();
}

// "61 Squadron, 2 Park and 62 Squadron".
std::string units_of(const std::vector<const History*>& history) {
  std::vector<std::string> units;
  for (const History* row : history) {
    if (row->unit.empty() || is_event_kind(row->kind)) continue;
    if (std::find(units.begin(), units.end(), row->unit) == units.end()) units.push_back(row->unit);
  }
  std::string words;
  for (std::size_t i = 0; i < units.size(); ++i) {
    words += (i == 0 ? "" : i + 1 == units.size() ? " and " : ", ") + units[i];
  }
  return words;
}

}  // namespace

std::vector<Query> check_unit_disagrees(const CheckInput& input) {
  const Ledger& ledger = input.ledger;
  const ClaimIndex index(input);
  return judge_claims(input, ClaimKind::kUnit, [&](const Claim& claim) -> std::optional<Query> {
    const bool has_sense = claim.role.empty() || claim.role == "holder" || claim.role == "operator";
    // "By June it had passed to 923 Squadron", "had been there since May": with it at that time.
    const bool is_reached = (claim.role == "later" || claim.role == "former") &&
                            (claim.said & kSaidStretch) != 0 && (claim.said & kSaidBothEnds) == 0 &&
                            is_affirmed(claim);
    const bool is_other_time = (claim.role == "later" || claim.role == "former") && !is_reached &&
                               is_affirmed(claim) && ledger.unit(claim.value) != nullptr;
    if (!is_reached && !is_other_time && (!has_sense || !holds_at_its_date(input, claim)))
      return std::nullopt;
    if (ledger.machine_of(claim.subject).empty()) return std::nullopt;
    if (ledger.unit(claim.value) == nullptr) return unknown_unit(input, claim);
    const std::vector<const History*> history = ledger.history_of(claim.subject);
    if (history.empty()) return std::nullopt;

    if (is_other_time) {
      if (!was_never_there(ledger, claim) || !is_told_plainly(index, claim)) return std::nullopt;
      Query query =
          query_at(kId, input, claim, tempered(claim, Level::kWarning),
                   claim.subject + " is put with " + claim.value +
                       " at another time, but the ledger has it only with " + units_of(history));
      for (const History* row : history) {
        if (row->unit.empty() || is_event_kind(row->kind) || query.evidence.size() >= kQuoted)
          continue;
        query.evidence.push_back(quote_history(*row));
      }
      return query;
    }

    const UnitSense sense = unit_sense(ledger, claim);
    Allowed allowed = days_with_unit(ledger, claim, claim.when);
    if (!claim.when.known) {
      // Undated: contradicted only when others had it all its life, or while the unit existed.
      const std::optional<Allowed> life = days_of_life(ledger, claim.subject);
      if (!life) return std::nullopt;
      allowed = intersect(allowed, *life);
      // The weeks between delivery and issue, or between two units, are nobody's: they do not make
      // it another's.
      const bool is_plain =
          index.block_of(claim).kind == BlockKind::kCaption || is_told_plainly(index, claim);
      // From the makers it may have come by way of a yard, which lends what it holds.
      if (is_plain && !was_ever_with(ledger, claim)) allowed = without_short_gaps(allowed);
      const std::optional<Allowed> unit = days_of_unit(ledger, claim);
      if (unit) {
        // Asked last, since it looks at every claim of the block.
        const Allowed both = intersect(allowed, *unit);
        if (both.widened.empty() && is_told_plainly(index, claim)) allowed = both;
      }
    }
    std::optional<Level> level;
    if (!is_reached) level = level_of(claim, fit(claim.when, allowed), Level::kError);
    When then = claim.when;
    if (!level) {
      const std::optional<When> end = end_elsewhere(input, index, claim);
      if (!end) return std::nullopt;
      level = tempered(claim, Level::kWarning);
      then = *end;
    }
    if (!level || is_stay_at_yard(input, index, claim) || is_away_for_repair(input, claim))
      return std::nullopt;

    std::string others;
    std::vector<Evidence> evidence;
    for (const History* row : history) {
      const bool counts = sense == UnitSense::kHeld ? row->role == "holder"
                          : sense == UnitSense::kFlown
                              ? !row->role.empty()
                              : row->role == "holder" || row->role == "operator";
      if (row->unit.empty() || !counts || is_event_kind(row->kind)) continue;
      if (!row->spell.possible().intersects(then.widened)) continue;
      if (evidence.size() < kQuoted) {
        evidence.push_back(quote_history(*row));
        others += (others.empty() ? "" : " and ") +
                  std::string(row->role == "operator" ? "flown by " : "held by ") + row->unit +
                  " " + in_words(row->spell);
      }
    }
    std::string message = claim.subject +
                          (sense == UnitSense::kEither ? " is put " : " is said to be ") +
                          verb_of(sense) + claim.value;
    const std::string date = told_in_words(input, claim);
    if (!date.empty()) message += " " + date;
    if (claim.when.known) {
      message += others.empty() ? ", but that unit was then elsewhere" : ", but was " + others;
    } else {
      message += ", but the ledger has it only with " + units_of(history);
    }
    const Unit* unit = ledger.unit(claim.value);
    const bool is_unformed = claim.when.known && !claim.when.days.empty() &&
                             !unit->formed.is_unknown() &&
                             claim.when.days.last() < unit->formed.days().first();
    if (is_unformed) message += "; " + claim.value + " was formed only " + in_words(unit->formed);
    Query query = query_at(kId, input, claim, *level, std::move(message));
    query.evidence = std::move(evidence);
    if (is_unformed) {
      query.evidence.push_back(quote(unit->row, claim.value + " formed " + in_words(unit->formed)));
    }
    Grounds elsewhere;
    if (sense != UnitSense::kHeld && claim.when.known) {
      static_cast<void>(days_apart(ledger, claim, then.days, &elsewhere));
    }
    for (const Ground& row : elsewhere.rows()) {
      if (query.evidence.size() < 2 * kQuoted) query.evidence.push_back(row.evidence);
    }
    // Who flew it, where the text speaks of flying and the ledger tells that.
    const bool has_operator = std::any_of(history.begin(), history.end(), [&](const History* row) {
      return row->role == "operator" && row->spell.possible().intersects(then.days);
    });
    for (const History* row : history) {
      if (row->unit.empty() || row->role.empty() || is_event_kind(row->kind)) continue;
      if (sense == UnitSense::kFlown && has_operator && row->role != "operator") continue;
      const bool is_then = claim.when.known && row->spell.possible().intersects(then.days);
      const bool fits = sense != UnitSense::kHeld || row->role == "holder";
      if (is_then && fits && query.suggestion.find(row->unit) == std::string::npos) {
        query.suggestion += (query.suggestion.empty() ? "" : " or ") + row->unit;
      }
    }
    return query;
  });
}

}  // namespace tailproof
