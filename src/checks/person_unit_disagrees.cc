// | situation                                                                | level  |
// | the person was certainly with (or in command of) another unit            | error  |
// | in command: somebody else certainly commanded that unit                  | error  |
// | before the first or after the last recorded spell, and with that unit at | error  |
// |   some other time                                                        |        |
// | with it, or in command of it, from or until a day more than a month from | warning |
// |   the person's time there                                                |        |
// | parent and sub-unit, a gap between spells                                | silent |
// | former or later unit                                                     | silent |
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
  if (!claim.when.inherited || (claim.said & kSaidStretch) != 0 ||
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

}  // namespace

std::vector<Query> check_person_unit_disagrees(const CheckInput& input) {
  const ClaimIndex index(input);
  const Ledger& ledger = input.ledger;
  const Commanders commanders = read_commanders(ledger);
  std::vector<Query> queries =
      judge_claims(input, ClaimKind::kUnit, [&](const Claim& claim) -> std::optional<Query> {
        const bool has_sense =
            claim.role.empty() || claim.role == "member" || claim.role == "command";
        if (!has_sense || !claim.when.known || !holds_at_its_date(input, claim))
          return std::nullopt;
        if (ledger.person(claim.subject) == nullptr || is_of_bygone_unit(ledger, claim))
          return std::nullopt;
        const std::span<const std::string> units = readings_of(claim);
        const std::optional<Allowed> allowed = days_of_service(index, ledger, commanders, claim);
        if (!allowed || is_known_by(input, claim, units)) return std::nullopt;
        std::optional<Level> level = level_of(claim, fit(claim.when, *allowed), Level::kError);
        if (!level) {
          if (!impossible_end(input, claim, [&](const When&) { return allowed; }))
            return std::nullopt;
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
