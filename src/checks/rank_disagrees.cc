// | situation                                                                 | level   |
// | another rank was certainly held                                           | error   |
// | before the rank was first held (too early)                                | error   |
// | a more senior rank had certainly been reached (already promoted)          | error   |
// | a more junior rank was still to come (too early)                          | error   |
// | a gap between two spells that seniority leaves open                       | silent  |
// | "later" rank: held before the date and never after                        | warning |
// | "former" rank: held only after the date                                   | warning |
// | the rank of the date beside it, and words of promotion                    | silent  |
// | a rank from or until a day more than a month from its own                  | warning |
// | an abbreviation of several ranks, one of which was held                   | silent  |
// | said to have been promoted on another day than that of the rank's row      | error  |
#include <algorithm>
#include <string>
#include <utility>
#include <vector>

#include "tailproof/allowed_days.h"
#include "tailproof/told_ends.h"
#include "tailproof/turns.h"

namespace tailproof {
namespace {

constexpr std::string_view kId = "rank-disagrees";
constexpr std::size_t kQuoted = 4;

bool is_one_of(std::span<const std::string> words, const std::string& word) {
  return std::find(words.begin(), words.end(), word) != words.end();
}

// "Captain Vane": right before the name of its holder.
bool is_before_name(const CheckInput& input, const Claim& claim) {
  if (claim.holder_of_rank >= input.claims.size()) return false;
  const Claim& person = input.claims[claim.holder_of_rank];
  return person.block == claim.block && person.begin > claim.end && person.begin - claim.end <= 1;
}

// "Lieutenant Wray; a month afterwards he was a Captain": the text gives the rank of the date too,
// and says that the other one belongs to another time.
bool tells_of_promotion(const CheckInput& input, const ClaimIndex& index, const Claim& claim) {
  const Ledger& ledger = input.ledger;
  if ((claim.said & kSaidRankChange) == 0) return false;
  // "Major Vane gave up his command on 30 June, the day before his promotion took effect".
  constexpr Day kSoon = 31;
  const auto service = ledger.service_of(claim.subject);
  const bool is_near = std::any_of(service.begin(), service.end(), [&](const Service* row) {
    const Edtf& from = row->spell.from;
    return row->kind == "rank" && row->value == claim.value && !from.is_unknown() &&
           from.days().first() > claim.when.days.last() &&
           from.days().first() - claim.when.days.last() <= kSoon && is_before_name(input, claim);
  });
  if (is_near) return true;
  const auto around = index.around(claim);
  return std::any_of(around.begin(), around.end(), [&](std::uint32_t i) {
    const Claim& other = index.claim(i);
    const bool is_other_rank = other.kind == ClaimKind::kRank && other.subject == claim.subject &&
                               other.value != claim.value && other.when.known && is_affirmed(other);
    if (!is_other_rank || !other.when.days.intersects(claim.when.days)) return false;
    const std::optional<RankDays> days = days_of_rank(ledger, claim.subject, readings_of(other));
    return days && other.when.days.intersects(days->own.days);
  });
}

// "A Lieutenant since June": nobody's rank around that day.
std::optional<When> wrong_end(const CheckInput& input, const Claim& claim, const Allowed& allowed) {
  return impossible_end(input, claim, [&](const When&) { return allowed; });
}

}  // namespace

std::vector<Query> check_rank_disagrees(const CheckInput& input) {
  const ClaimIndex index(input);
  const Ledger& ledger = input.ledger;
  std::vector<Query> queries =
      judge_claims(input, ClaimKind::kRank, [&](const Claim& claim) -> std::optional<Query> {
        if (!is_affirmed(claim) || ledger.person(claim.subject) == nullptr) return std::nullopt;
        const bool is_then = claim.tense == Tense::kThen;
        if (is_then && !holds_at_its_date(input, claim)) return std::nullopt;
        const std::span<const std::string> ranks = readings_of(claim);
        if (ledger.rank(claim.value) == nullptr) return std::nullopt;
        if (!claim.when.known || claim.when.days.empty()) return std::nullopt;

        Allowed allowed;
        for (const std::string& person : people_meant(index, claim)) {
          const std::optional<RankDays> days = days_of_rank(ledger, person, ranks);
          if (!days) return std::nullopt;
          if (is_then) {
            allowed = unite(allowed, days->allowed);
            continue;
          }
          // Before or after the date, whenever that was: only a rank held on the wrong side counts.
          if (!days->was_held) return std::nullopt;
          const bool is_later = claim.tense == Tense::kLater;
          if (is_later ? days->own.widened.last() >= claim.when.days.first()
                       : days->own.widened.first() <= claim.when.days.last()) {
            return std::nullopt;
          }
        }
        const Level highest = is_then ? Level::kError : Level::kWarning;
        std::optional<Level> level = level_of(claim, fit(claim.when, allowed), highest);
        When when = claim.when;
        if (!level) {
          // "Captain Vane commanded them from 1926 to 1933": a title is that of some day of these.
          const bool is_title = is_before_name(input, claim);
          const std::optional<When> end =
              is_then && !is_title ? wrong_end(input, claim, allowed) : std::nullopt;
          if (!end) return std::nullopt;
          when = *end;
          level = tempered(claim, Level::kWarning);
        }
        if (is_then && tells_of_promotion(input, index, claim)) return std::nullopt;

        std::string rank_then;
        const Service* own = nullptr;
        std::vector<Evidence> evidence;
        for (const Service* row : ledger.service_of(claim.subject)) {
          if (row->kind != "rank") continue;
          const bool is_of_that_date = row->spell.possible().intersects(when.days);
          const bool is_claimed = is_one_of(ranks, row->value);
          if (is_claimed) own = row;
          if (is_of_that_date && !is_claimed) {
            rank_then += (rank_then.empty() ? "" : " or ") + row->value;
          }
          if ((is_of_that_date || is_claimed) && evidence.size() < kQuoted) {
            evidence.push_back(quote_service(*row));
          }
        }
        if (evidence.empty()) {
          for (const Service* row : ledger.service_of(claim.subject)) {
            if (row->kind == "rank" && evidence.size() < kQuoted) {
              evidence.push_back(quote_service(*row));
            }
          }
        }
        std::string message =
            claim.subject + " is called " + claim.value + " " + told_in_words(input, claim);
        if (!is_then) {
          message = claim.subject + " is called " +
                    (claim.tense == Tense::kLater ? "later " : "formerly ") + claim.value;
        }
        if (!rank_then.empty()) message += ", but was then " + rank_then;
        if (own != nullptr) {
          message += (rank_then.empty() ? ", but was " : "; was ") + claim.value + " only " +
                     in_words(own->spell);
        } else if (rank_then.empty()) {
          message += ", a rank that the ledger does not give at that time";
        }
        Query query = query_at(kId, input, claim, *level, std::move(message));
        query.evidence = std::move(evidence);
        if (is_then) query.suggestion = rank_then;
        return query;
      });
  return with_turns(std::move(queries), input, kId);
}

}  // namespace tailproof
