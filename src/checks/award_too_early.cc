// | situation                                                            | level  |
// | a post-nominal before the award                                      | error  |
// | the day of the award, and every later one                            | silent |
// | an award still to come, or said to be missing                        | silent |
// | an award of which the ledger knows nothing for that person           | silent |
// | ... while the table of service is closed                             | error  |
// | a name or an abbreviation that is shared, and fits in any reading    | silent |
#include <algorithm>
#include <string>
#include <vector>

#include "tailproof/claim_index.h"
#include "tailproof/verdict.h"

namespace tailproof {
namespace {

constexpr std::string_view kId = "award-too-early";

std::vector<std::string> people_meant(const CheckInput& input, const Claim& award) {
  if (award.holder_of_rank < input.claims.size()) {
    const Claim& person = input.claims[award.holder_of_rank];
    if (!person.readings.empty()) return person.readings;
  }
  return {award.subject};
}

}  // namespace

std::vector<Query> check_award_too_early(const CheckInput& input) {
  const Ledger& ledger = input.ledger;
  return judge_claims(input, ClaimKind::kAward, [&](const Claim& claim) -> std::optional<Query> {
    if (!claim.when.known || claim.when.days.empty() || !is_affirmed(claim)) return std::nullopt;
    if (claim.tense == Tense::kLater || claim.role == "later") return std::nullopt;
    if (claim.tense == Tense::kThen && !holds_at_its_date(input, claim)) return std::nullopt;
    if (ledger.person(claim.subject) == nullptr) return std::nullopt;
    const std::vector<std::string> awards = readings_of(claim);
    Allowed allowed;
    std::vector<const Service*> rows;
    for (const std::string& person : people_meant(input, claim)) {
      bool is_recorded = false;
      for (const Service* row : ledger.service_of(person)) {
        if (row->kind != "award") continue;
        if (std::find(awards.begin(), awards.end(), row->value) == awards.end()) continue;
        is_recorded = true;
        rows.push_back(row);
        allowed = unite(allowed, from_days(row->spell.from, ledger.settings().margins));
      }
      if (!is_recorded && !ledger.is_closed_table("service")) return std::nullopt;
    }
    const std::optional<Level> level = level_of(claim, fit(claim.when, allowed), Level::kError);
    if (!level) return std::nullopt;
    std::string message =
        claim.subject + " has the " + claim.value + " " + when_in_words(claim.when);
    message += rows.empty() ? ", which the closed ledger does not give at all"
                            : ", but it was awarded " + in_words(rows.front()->spell.from);
    Query query = query_at(kId, input, claim, *level, std::move(message));
    for (const Service* row : rows) {
      query.evidence.push_back(
          quote(row->row, row->value + " to " + row->person + " " + in_words(row->spell.from)));
    }
    if (rows.empty()) {
      query.evidence.push_back(quote_table(
          "service.csv", "closed, and has no " + claim.value + " for " + claim.subject));
    } else {
      query.suggestion = "without the " + claim.value + ", or a date from " +
                         in_words(rows.front()->spell.from) + " on";
    }
    return query;
  });
}

}  // namespace tailproof
