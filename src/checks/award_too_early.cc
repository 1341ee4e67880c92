// | situation                                                            | level  |
// | a post-nominal before the award                                      | error  |
// | had since a day more than a month before the award                   | warning |
// | the day of the award, and every later one                            | silent |
// | an award still to come, or said to be missing                        | silent |
// | an award of which the ledger knows nothing for that person           | silent |
// | ... while the table of service is closed                             | error  |
// | a name or an abbreviation that is shared, and fits in any reading    | silent |
// | said to have been awarded on another day than that of the row              | error  |
#include <string>
#include <utility>
#include <vector>

#include "tailproof/allowed_days.h"
#include "tailproof/told_ends.h"
#include "tailproof/turns.h"

namespace tailproof {
namespace {

constexpr std::string_view kId = "award-too-early";

}  // namespace

std::vector<Query> check_award_too_early(const CheckInput& input) {
  const ClaimIndex index(input);
  const Ledger& ledger = input.ledger;
  std::vector<Query> queries =
      judge_claims(input, ClaimKind::kAward, [&](const Claim& claim) -> std::optional<Query> {
        if (!claim.when.known || claim.when.days.empty() || !is_affirmed(claim))
          return std::nullopt;
        if (claim.tense == Tense::kLater || claim.role == "later") return std::nullopt;
        if (claim.tense == Tense::kThen && !holds_at_its_date(input, claim)) return std::nullopt;
        if (ledger.person(claim.subject) == nullptr) return std::nullopt;
        const std::optional<Allowed> allowed = days_of_award(index, ledger, claim);
        if (!allowed) return std::nullopt;
        std::optional<Level> level = level_of(claim, fit(claim.when, *allowed), Level::kError);
        if (!level) {
          if (!impossible_end(input, claim, [&](const When&) { return allowed; }))
            return std::nullopt;
          level = tempered(claim, Level::kWarning);
        }
        const std::vector<const Service*> rows = awards_meant(index, ledger, claim);
        std::string message =
            claim.subject + " has the " + claim.value + " " + told_in_words(input, claim);
        message += rows.empty() ? ", which the closed ledger does not give at all"
                                : ", but it was awarded " + in_words(rows.front()->spell.from);
        Query query = query_at(kId, input, claim, *level, std::move(message));
        for (const Service* row : rows) query.evidence.push_back(quote_service(*row));
        if (rows.empty()) {
          query.evidence.push_back(quote_table(
              "service.csv", "closed, and has no " + claim.value + " for " + claim.subject));
          query.suggestion = "without the " + claim.value;
        } else {
          query.suggestion = "without the " + claim.value + ", or a date from " +
                             in_words(rows.front()->spell.from) + " on";
        }
        return query;
      });
  return with_turns(std::move(queries), input, kId);
}

}  // namespace tailproof
