// | situation                                                  | level  |
// | before the unit was formed, or after it was disbanded      | error  |
// | a state begun before the unit was formed, or gone on with  | warning |
// |   after it was disbanded, by more than a month             |        |
// | the day of forming, the day of disbanding                  | silent |
// | former unit: any day after it was formed                   | silent |
// | later unit: any day before it was disbanded                | silent |
// | the sentence itself tells of the forming or disbanding     | silent |
// | its forerunner or successor is named in the sentence or    | silent |
// |   caption, or in the paragraph with a day near the change |        |
// | the name stands alone in quotation marks                   | silent |
// | a name that several units share, one of which existed then | silent |
// | said to have been formed, disbanded or renamed on a day on which the       | error  |
// |   ledger has that otherwise                                                |        |
#include <algorithm>
#include <string>

#include "tailproof/allowed_days.h"
#include "tailproof/told_ends.h"
#include "tailproof/turns.h"

namespace tailproof {
namespace {

constexpr std::string_view kId = "unit-not-yet-formed";

// "The plate says \"13 Squadron\", May 1940": the name as somebody wrote it.
bool is_name_in_quotes(const ClaimIndex& index, const Claim& claim) {
  const std::string_view text = index.block_of(claim).text;
  if (claim.begin == 0 || claim.end >= text.size()) return false;
  constexpr std::string_view kOpening[] = {"\"", "\xE2\x80\x9C"};
  constexpr std::string_view kClosing[] = {"\"", "\xE2\x80\x9D"};
  const std::string_view before = text.substr(0, claim.begin), behind = text.substr(claim.end);
  return std::any_of(std::begin(kOpening), std::end(kOpening),
                     [&](std::string_view mark) { return before.ends_with(mark); }) &&
         std::any_of(std::begin(kClosing), std::end(kClosing),
                     [&](std::string_view mark) { return behind.starts_with(mark); });
}

// "On 1 August the Eleventh became the Twenty-first": both names of a unit in one sentence, or with
// a day near the change in one paragraph, tell of the change from the one to the other.
bool names_its_neighbour(const Ledger& ledger, const ClaimIndex& index, const Claim& claim,
                         const Unit& unit) {
  const auto around = index.around(claim);
  constexpr Day kNear = 31;
  const DaySet near = claim.when.days.widened(kNear);
  const bool is_near_change =
      near.intersects(unit.formed.days()) || near.intersects(unit.disbanded.days());
  const bool is_apart = index.block_of(claim).kind == BlockKind::kBody && !is_near_change;
  return std::any_of(around.begin(), around.end(), [&](std::uint32_t i) {
    const Claim& other = index.claim(i);
    if (other.kind != ClaimKind::kUnit || other.value == claim.value) return false;
    if (is_apart && index.sentence_of(other).data() != index.sentence_of(claim).data())
      return false;
    const Unit* neighbour = ledger.unit(other.value);
    return neighbour != nullptr &&
           (neighbour->replaced_by == unit.unit || unit.replaced_by == neighbour->unit);
  });
}

}  // namespace

std::vector<Query> check_unit_not_yet_formed(const CheckInput& input) {
  const ClaimIndex index(input);
  const Ledger& ledger = input.ledger;
  std::vector<Query> queries =
      judge_claims(input, ClaimKind::kUnit, [&](const Claim& claim) -> std::optional<Query> {
        if (!claim.when.known || claim.when.days.empty() || !is_affirmed(claim))
          return std::nullopt;
        if (claim.tense == Tense::kThen && !holds_at_its_date(input, claim)) return std::nullopt;
        const std::optional<Allowed> allowed = days_of_unit(ledger, claim);
        if (!allowed) return std::nullopt;
        const std::optional<Level> whole =
            level_of(claim, fit(claim.when, *allowed), Level::kError);
        // "With 5 Flight from May 1941": the day that the words begin or end with.
        const std::optional<When> end =
            whole ? std::nullopt
                  : impossible_end(input, claim, [&](const When&) { return allowed; });
        if (!whole && !end) return std::nullopt;
        const Level level = whole ? *whole : tempered(claim, Level::kWarning);
        const Unit* unit = ledger.unit(readings_of(claim).front());
        // The day on which it is said to have been formed is judged as that.
        const bool is_day_of_turn = claim.when.date < input.claims.size() &&
                                    input.claims[claim.when.date].turn != Turn::kNone &&
                                    input.claims[claim.when.date].turn_of == unit->unit;
        if ((claim.said & kSaidForming) != 0 || is_day_of_turn || is_name_in_quotes(index, claim) ||
            names_its_neighbour(ledger, index, claim, *unit))
          return std::nullopt;
        const bool is_early =
            !unit->formed.is_unknown() &&
            (end ? end->days : claim.when.days).last() < unit->formed.days().first();
        const std::string message =
            unit->unit + " is named " + told_in_words(input, claim) +
            (is_early ? ", before it was formed (" + in_words(unit->formed) + ")"
                      : ", after it was disbanded (" + in_words(unit->disbanded) + ")");
        Query query = query_at(kId, input, claim, level, message);
        Grounds grounds;
        static_cast<void>(days_of_unit(ledger, claim, &grounds));
        for (const Ground& ground : grounds.rows()) query.evidence.push_back(ground.evidence);
        // Its forerunner or successor is what the author may have meant.
        for (const Unit& other : ledger.units()) {
          const bool is_neighbour =
              is_early ? other.replaced_by == unit->unit : unit->replaced_by == other.unit;
          if (!is_neighbour) continue;
          query.suggestion += (query.suggestion.empty() ? "" : " or ") + other.unit;
          query.evidence.push_back(quote_unit(other));
        }
        for (const History* row : ledger.history_of(claim.subject)) {
          if (row->unit.empty() || !row->spell.possible().intersects(claim.when.days)) continue;
          if (query.suggestion.empty()) query.suggestion = row->unit;
        }
        if (query.suggestion.empty() && !unit->formed.is_unknown() &&
            !unit->disbanded.is_unknown()) {
          query.suggestion = "a date within " + in_words(allowed->days);
        }
        return query;
      });
  return with_turns(std::move(queries), input, kId);
}

}  // namespace tailproof
