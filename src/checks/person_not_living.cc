// | situation                                                         | level  |
// | in a picture, or doing something, before birth or after death     | error  |
// | the day of birth, the day of death                                | silent |
// | after death, and the sentence speaks of death, funeral, memory    | silent |
// | only mentioned in a caption, or quoted                            | silent |
// | a name shared by several people, one of whom lived                | silent |
// | said to have been born, or to have died, on another day                    | error  |
#include <string>
#include <utility>
#include <vector>

#include "tailproof/allowed_days.h"
#include "tailproof/turns.h"

namespace tailproof {
namespace {

constexpr std::string_view kId = "person-not-living";

}  // namespace

std::vector<Query> check_person_not_living(const CheckInput& input) {
  const ClaimIndex index(input);
  const Ledger& ledger = input.ledger;
  std::vector<Query> queries =
      judge_claims(input, ClaimKind::kPerson, [&](const Claim& claim) -> std::optional<Query> {
        if (!claim.when.known || claim.when.days.empty()) return std::nullopt;
        if (!claim.shown || !holds_at_its_date(input, claim)) return std::nullopt;
        const std::optional<Allowed> allowed = days_of_person(ledger, claim);
        if (!allowed) return std::nullopt;
        const std::optional<Level> level =
            level_of(claim, fit(claim.when, *allowed), Level::kError);
        if (!level) return std::nullopt;
        const Person* person = ledger.person(readings_of(claim).front());
        const bool is_early =
            !person->born.is_unknown() && claim.when.days.last() < person->born.days().first();
        if (is_early ? (claim.said & kSaidBirth) != 0 : (claim.said & kSaidDeath) != 0)
          return std::nullopt;
        const std::string message = person->person + " is placed " + when_in_words(claim.when) +
                                    (is_early ? ", but was born " + in_words(person->born)
                                              : ", but died " + in_words(person->died));
        Query query = query_at(kId, input, claim, *level, message);
        query.subject = person->person;
        Grounds grounds;
        static_cast<void>(days_of_person(ledger, claim, &grounds));
        for (const Ground& ground : grounds.rows()) query.evidence.push_back(ground.evidence);
        query.suggestion = is_early ? "a date from " + in_words(person->born) + " on"
                                    : "a date until " + in_words(person->died);
        return query;
      });
  return with_turns(std::move(queries), input, kId);
}

}  // namespace tailproof
