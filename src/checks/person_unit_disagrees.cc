// | situation                                                                | level  |
// | the person was certainly with (or in command of) another unit            | error  |
// | in command: somebody else certainly commanded that unit                  | error  |
// | before the first or after the last recorded spell, and with that unit at | error  |
// |   some other time                                                        |        |
// | with it, or in command of it, from or until a day more than a month from | warning |
// |   the person's time there                                                |        |
// | until a day, where the row goes on for more than three months            | warning |
// | parent and sub-unit, a gap between spells                                | silent |
// | former or later unit                                                     | silent |
// | left for another unit, which the person came to within a month of leaving  | error  |
// |   a third one                                                            |        |
// | a name shared by several people, one of whom was there                   | silent |
// | said to have taken or given up a command, joined or left a unit on a day   | error  |
// |   of no such row (the last day or the next)                                |        |
#include <algorithm>
#include <string>
#include <utility>
#include <vector>

#include "tailproof/allowed_days.h"
#include "tailproof/told_ends.h"
#include "tailproof/turns.h"

namespace tailproof {
namespace {

constexpr std::string_view kId = "person-unit-disagrees";
constexpr std::size_t kQuoted = 4;

// "Captain Sorn of the 5th, who went across in July": by which unit he is known may be that of
// another day, where he ever had to do with it.
bool is_known_by(const CheckInput& input, const Claim& claim, std::span<const std::string> units) {
  if (!claim.when.inherited || claim.role != "member" || (claim.said & kSaidStretch) != 0 ||
      claim.when.date >= input.claims.size() || input.claims[claim.when.date].of != "person")
    return false;
  const auto rows = input.ledger.service_of(claim.subject);
  return std::any_of(rows.begin(), rows.end(), [&](const Service* row) {
    return (row->kind == "unit" || row->kind == "command") &&
           agrees_with_any(input.ledger, row->value, units);
  });
}

// "He died in 1958, and the Wing, what there was left of it, carried him": of a unit that is no
// more.
bool is_of_bygone_unit(const Ledger& ledger, const Claim& claim) {
  if ((claim.said & kSaidForming) == 0) return false;
  const Unit* unit = ledger.unit(claim.value);
  return unit != nullptr && !unit->disbanded.is_unknown() && !claim.when.days.empty() &&
         claim.when.days.first() > unit->disbanded.days().last();
}

// "Came to the Seventh from the Second": the unit with which the person certainly was until within
// a month of the day, where that was neither; null where no row tells, or one agrees.
const Service* left_instead(const CheckInput& input, const ClaimIndex& index, const Claim& claim) {
  constexpr Day kLongestWay = 31, kLongestStop = 92;
  const Ledger& ledger = input.ledger;
  const auto rows = ledger.service_of(claim.subject);
  const auto is_of = [&](const Service* row, const Claim& unit) {
    return (row->kind == "unit" || row->kind == "command") &&
           agrees_with_any(ledger, row->value, readings_of(unit));
  };
  const Service* instead = nullptr;
  for (const Claim& other : index.in_sentence(claim)) {
    const bool is_reached = other.kind == ClaimKind::kUnit && other.subject == claim.subject &&
                            (other.said & kSaidWhence) == 0 && other.role != "former" &&
                            !other.negated && !other.attributed;
    if (!is_reached) continue;
    for (const Service* reached : rows) {
      if (!is_of(reached, other) || reached->spell.from.is_unknown()) continue;
      const DaySet& came = reached->spell.from.days();
      for (const Service* row : rows) {
        if (row->kind != "unit" || row->spell.to.is_unknown() || row == reached) continue;
        const DaySet& went = row->spell.to.days();
        if (went.first() > came.last() || is_of(row, other)) continue;
        // With a short stop on the way.
        if (is_of(row, claim) && went.last() >= came.first() - kLongestStop) return nullptr;
        if (went.last() >= came.first() - kLongestWay) instead = row;
      }
    }
  }
  return instead;
}

// "Had the Flight until the end of 1943": the row of that state, where it certainly went on for
// more than three months, and no other of the person's rows ends there.
const Service* outlasted(const CheckInput& input, const Claim& claim) {
  constexpr Day kSlack = 92;
  if ((claim.said & kSaidUntil) == 0) return nullptr;
  const std::vector<When> ends = told_ends(input, claim);
  if (ends.size() != 1 || ends.front().widened.empty()) return nullptr;
  const DaySet& told = ends.front().widened;
  const Service* found = nullptr;
  for (const Service* row : input.ledger.service_of(claim.subject)) {
    if (row->kind != "unit" && row->kind != "command") continue;
    if (!row->spell.to.is_unknown() && row->spell.to.days().intersects(told)) return nullptr;
    const bool is_his = agrees_with_any(input.ledger, row->value, readings_of(claim)) &&
                        (claim.role != "command" || row->kind == "command");
    if (!is_his || row->spell.to.is_unknown() || row->spell.ends_by_rule) continue;
    const DaySet certain = certain_days(row->spell, input.ledger.settings().margins).narrowed;
    if (!certain.empty() && certain.first() <= told.first() &&
        certain.last() > told.last() + kSlack)
      found = row;
  }
  return found;
}

std::optional<Query> judge_outlasted(const CheckInput& input, const Claim& claim) {
  const Service* row = outlasted(input, claim);
  if (row == nullptr) return std::nullopt;
  Query query = query_at(
      kId, input, claim, tempered(claim, Level::kWarning),
      claim.subject + (claim.role == "command" ? " is said to have commanded " : " is put with ") +
          claim.value + " " + told_in_words(input, claim) + ", but " +
          (row->kind == "command" ? "commanded it " : "was with it ") + in_words(row->spell));
  query.evidence.push_back(quote_service(*row));
  return query;
}

std::optional<Query> judge_whence(const CheckInput& input, const ClaimIndex& index,
                                  const Claim& claim) {
  if ((claim.said & kSaidWhence) == 0 || claim.negated || claim.attributed || !claim.known)
    return std::nullopt;
  const Service* left = left_instead(input, index, claim);
  if (left == nullptr) return std::nullopt;
  Query query = query_at(kId, input, claim, tempered(claim, Level::kError),
                         claim.subject + " is said to have come from " + claim.value +
                             ", but was with " + left->value + " " + in_words(left->spell));
  query.evidence.push_back(quote_service(*left));
  query.suggestion = left->value;
  return query;
}

}  // namespace

std::vector<Query> check_person_unit_disagrees(const CheckInput& input) {
  const ClaimIndex index(input);
  const Ledger& ledger = input.ledger;
  const Commanders commanders = read_commanders(ledger);
  std::vector<Query> queries =
      judge_claims(input, ClaimKind::kUnit, [&](const Claim& claim) -> std::optional<Query> {
        if (std::optional<Query> whence = judge_whence(input, index, claim)) return whence;
        const bool has_sense =
            claim.role.empty() || claim.role == "member" || claim.role == "command";
        if (!has_sense || !claim.when.known || !holds_at_its_date(input, claim))
          return std::nullopt;
        if (ledger.person(claim.subject) == nullptr || is_of_bygone_unit(ledger, claim))
          return std::nullopt;
        const std::span<const std::string> units = readings_of(claim);
        const std::optional<Allowed> allowed = days_of_service(index, ledger, commanders, claim);
        if (!allowed || is_known_by(input, claim, units)) return std::nullopt;
        std::optional<Level> level =
            level_of(claim, fit(claim.when, within_life(ledger, claim, *allowed)), Level::kError);
        if (!level) {
          if (!impossible_end(input, claim, [&](const When&) { return allowed; }))
            return judge_outlasted(input, claim);
          level = tempered(claim, Level::kWarning);
        }

        std::string then, only;
        std::vector<Evidence> evidence;
        std::string suggestion;
        const auto rows = ledger.service_of(claim.subject);
        for (const Service* row : rows) {
          // Whoever commanded a unit was with it.
          const bool is_told = row->kind == "unit" &&
                               std::any_of(rows.begin(), rows.end(), [&](const Service* other) {
                                 return other->kind == "command" && other->value == row->value &&
                                        other->spell.possible() == row->spell.possible();
                               });
          if (is_told) continue;
          if (row->kind != "unit" && row->kind != "command") continue;
          const bool is_then = row->spell.possible().intersects(claim.when.days);
          const bool is_there = agrees_with_any(ledger, row->value, units);
          if ((!is_then && !is_there) || evidence.size() >= kQuoted) continue;
          evidence.push_back(quote_service(*row));
          const std::string verb = row->kind == "command" ? "commanded " : "was with ";
          std::string& told = is_then ? then : only;
          const std::string lead = told.empty() ? verb + (is_then ? "" : row->value + " only ")
                                                : " and " + (is_then ? verb : std::string{});
          told += lead + (is_then ? row->value + " " : "") + in_words(row->spell);
          if (is_then && !is_there) suggestion = row->value;
        }
        Grounds grounds;
        static_cast<void>(days_of_service(index, ledger, commanders, claim, &grounds));
        for (const Ground& ground : grounds.rows()) {
          // Who else commanded it then.
          const bool is_other = ground.is_against && ground.key != claim.subject;
          if (!is_other || !ground.days.intersects(claim.when.days) || evidence.size() >= kQuoted) {
            continue;
          }
          evidence.push_back(ground.evidence);
        }
        std::string message = claim.subject +
                              (claim.role == "command" ? " is said to command " : " is put with ") +
                              claim.value + " " + told_in_words(input, claim);
        if (then.empty() && only.empty()) message += ", which another commanded";
        if (!then.empty()) message += ", but " + then;
        if (!only.empty()) message += (then.empty() ? ", but " : "; ") + only;
        Query query = query_at(kId, input, claim, *level, std::move(message));
        query.evidence = std::move(evidence);
        query.suggestion = std::move(suggestion);
        return query;
      });
  return with_turns(std::move(queries), input, kId);
}

}  // namespace tailproof
