#include "checks/merge.h"

#include <algorithm>
#include <iterator>
#include <string_view>
#include <tuple>
#include <unordered_map>
#include <utility>

#include "checks/other_readings.h"

namespace tailproof {
namespace {

/// What two queries of one caption must share for the one to stand for the other.
enum class Scope {
  kClaim,    // the claim at which they stand
  kDate,     // the winner stands at the date on which the other rests
  kMember,   // the other stands at a claim that the winner names
  kValue,    // the other's subject is what the winner says is no serial
  kSubject,  // subject
  kMoment,   // subject and date
  kCaption,  // nothing more
};

struct Rule {
  std::string_view winner;
  std::string_view loser;  // "*": every other check
  Scope scope;
};

// In order: a query that an earlier row has taken away no longer takes away others.
constexpr Rule kRules[] = {
    // A date that cannot be read as written proves nothing about anything else.
    {"date-impossible", "*", Scope::kDate},
    {"weekday-wrong", "*", Scope::kDate},
    // Of a machine that is not known, nothing else can be wrong.
    {"serial-malformed", "*", Scope::kValue},
    {"serial-malformed", "*", Scope::kClaim},
    {"serial-unknown", "*", Scope::kValue},
    {"serial-unknown", "*", Scope::kClaim},
    // The date of the event is the fault, and all that is dated by it follows from it.
    {"event-disagrees", "outside-service-life", Scope::kMoment},
    {"event-disagrees", "unit-disagrees", Scope::kMoment},
    {"event-disagrees", "place-disagrees", Scope::kMoment},
    {"event-disagrees", "code-disagrees", Scope::kMoment},
    {"event-disagrees", "marking-too-early", Scope::kMoment},
    {"event-disagrees", "marking-too-late", Scope::kMoment},
    // Nothing that a machine has at a date fits when the machine did not exist then.
    {"outside-service-life", "unit-disagrees", Scope::kMoment},
    {"outside-service-life", "unit-not-yet-formed", Scope::kMoment},
    {"outside-service-life", "place-disagrees", Scope::kMoment},
    {"outside-service-life", "type-disagrees", Scope::kMoment},
    {"outside-service-life", "code-disagrees", Scope::kMoment},
    {"outside-service-life", "marking-too-early", Scope::kMoment},
    {"outside-service-life", "marking-too-late", Scope::kMoment},
    {"outside-service-life", "marking-combination", Scope::kMoment},
    {"outside-service-life", "marking-order-reversed", Scope::kMoment},
    // A unit that did not exist was with nobody and nowhere.
    {"unit-not-yet-formed", "unit-disagrees", Scope::kClaim},
    {"unit-not-yet-formed", "person-unit-disagrees", Scope::kClaim},
    {"unit-not-yet-formed", "place-disagrees", Scope::kMoment},
    // With another unit, it was at that unit's place.
    {"unit-disagrees", "place-disagrees", Scope::kMoment},
    // The row of the very photograph goes before what is known of its machine.
    {"photograph-disagrees", "place-disagrees", Scope::kClaim},
    // The dead hold no rank.
    {"person-not-living", "rank-disagrees", Scope::kSubject},
    {"person-not-living", "person-unit-disagrees", Scope::kSubject},
    {"person-not-living", "award-too-early", Scope::kSubject},
    // The ledger's word on one marking goes before what is concluded from several.
    {"marking-too-early", "marking-combination", Scope::kClaim},
    {"marking-too-early", "marking-order-reversed", Scope::kClaim},
    {"marking-too-early", "overpaint-reversed", Scope::kClaim},
    {"marking-too-late", "marking-order-reversed", Scope::kClaim},
    // Two coats that lie the wrong way round leave open which of them is worn beside a third.
    {"overpaint-reversed", "marking-combination", Scope::kMember},
    // What is worn too long, or put on again, is the fault of the two that do not go together.
    {"marking-combination", "marking-too-late", Scope::kMember},
    {"overpaint-reversed", "marking-too-late", Scope::kMember},
    {"insignia-proportion", "conversion-wrong", Scope::kClaim},
    // Two codes that lie the wrong way round, by the rows of both.
    {"overpaint-reversed", "code-disagrees", Scope::kSubject},
    // What a single check explains is no clash of several facts.
    {"outside-service-life", "photograph-undatable", Scope::kCaption},
    {"photograph-disagrees", "photograph-undatable", Scope::kCaption},
    {"event-disagrees", "photograph-undatable", Scope::kCaption},
    {"unit-not-yet-formed", "photograph-undatable", Scope::kCaption},
    {"unit-disagrees", "photograph-undatable", Scope::kCaption},
    {"place-disagrees", "photograph-undatable", Scope::kCaption},
    {"code-disagrees", "photograph-undatable", Scope::kCaption},
    {"marking-too-early", "photograph-undatable", Scope::kCaption},
    {"marking-too-late", "photograph-undatable", Scope::kCaption},
    {"marking-order-reversed", "photograph-undatable", Scope::kCaption},
    {"person-not-living", "photograph-undatable", Scope::kCaption},
    {"rank-disagrees", "photograph-undatable", Scope::kCaption},
    {"award-too-early", "photograph-undatable", Scope::kCaption},
    {"person-unit-disagrees", "photograph-undatable", Scope::kCaption},
    {"date-impossible", "photograph-undatable", Scope::kCaption},
    {"marking-order-reversed", "photograph-undatable", Scope::kCaption},
    {"overpaint-reversed", "photograph-undatable", Scope::kCaption},
    {"weekday-wrong", "photograph-undatable", Scope::kCaption},
    // The ledger decides between two captions where it can.
    {"*", "captions-disagree", Scope::kClaim},
    // How firmly a thing is said hardly matters when it is wrong.
    {"*", "hedge-unneeded", Scope::kClaim},
    {"*", "hedge-missing", Scope::kClaim},
};

std::uint64_t caption_of(const CheckInput& input, const Query& query) {
  std::uint32_t group = kNone;
  if (query.manuscript < input.manuscripts.size()) {
    const auto& blocks = input.manuscripts[query.manuscript].blocks;
    if (query.block < blocks.size()) group = blocks[query.block].group;
  }
  const std::uint64_t manuscript = static_cast<std::uint64_t>(query.manuscript) << 32U;
  if (group == kNone) return manuscript | query.block;
  return (1ULL << 63U) ^ (manuscript | group);
}

const Claim* main_claim(const CheckInput& input, const Query& query) {
  const bool has_claim = !query.claims.empty() && query.claims.front() < input.claims.size();
  return has_claim ? &input.claims[query.claims.front()] : nullptr;
}

std::uint32_t date_of(const CheckInput& input, const Query& query) {
  const Claim* claim = main_claim(input, query);
  return claim == nullptr ? kNone : claim->when.date;
}

// Two dates that mean the same days are one date, even when the text gives it twice.
bool is_same_date(const CheckInput& input, const Query& one, const Query& other) {
  const Claim* a = main_claim(input, one);
  const Claim* b = main_claim(input, other);
  if (a == nullptr || b == nullptr || !a->when.known || !b->when.known) return false;
  return date_of(input, one) == date_of(input, other) || a->when.days == b->when.days;
}

// What is wrong on any day: a date beside it that is none, or no such weekday, does not excuse it.
bool is_timeless(const Query& query) {
  static constexpr std::string_view kTimeless[] = {"serial-unknown",      "serial-malformed",
                                                   "type-disagrees",      "conversion-wrong",
                                                   "insignia-proportion", "reference-broken"};
  return std::find(std::begin(kTimeless), std::end(kTimeless), query.check) != std::end(kTimeless);
}

bool shares(const CheckInput& input, const Query& winner, const Query& loser, Scope scope) {
  const Claim* claim = main_claim(input, winner);
  switch (scope) {
    case Scope::kClaim:
      return claim != nullptr && !loser.claims.empty() &&
             loser.claims.front() == winner.claims.front();
    case Scope::kDate:
      return claim != nullptr && !is_timeless(loser) &&
             std::find(loser.claims.begin(), loser.claims.end(), winner.claims.front()) !=
                 loser.claims.end();
    case Scope::kMember:
      return !loser.claims.empty() && std::find(winner.claims.begin(), winner.claims.end(),
                                                loser.claims.front()) != winner.claims.end();
    case Scope::kValue:
      return claim != nullptr && !claim->value.empty() && loser.subject == claim->value;
    case Scope::kSubject:
      return !winner.subject.empty() && winner.subject == loser.subject;
    case Scope::kMoment:
      return !winner.subject.empty() && winner.subject == loser.subject &&
             is_same_date(input, winner, loser);
    case Scope::kCaption:
      return true;
  }
  return false;
}

bool is_named(std::string_view pattern, const Query& query) {
  return pattern == "*" || pattern == query.check;
}

void carry(Query& winner, Query& loser) {
  for (Evidence& row : loser.evidence) winner.evidence.push_back(std::move(row));
  for (Related& place : loser.related) {
    const bool is_told = std::any_of(
        winner.related.begin(), winner.related.end(),
        [&](const Related& one) { return one.span == place.span && one.says == place.says; });
    if (!is_told) winner.related.push_back(std::move(place));
  }
  for (const std::uint32_t claim : loser.claims) {
    const bool has_it =
        std::find(winner.claims.begin(), winner.claims.end(), claim) != winner.claims.end();
    if (!has_it) winner.claims.push_back(claim);
  }
}

// A row of the ledger is quoted once, in the words of the query that quoted it first. Line 0 is a
// table as a whole, of which different things may be said.
void quote_once(Query& query) {
  std::vector<Evidence> rows;
  for (Evidence& row : query.evidence) {
    const bool has_it = std::any_of(rows.begin(), rows.end(), [&](const Evidence& own) {
      return own.table == row.table && own.line == row.line &&
             (row.line != 0 || own.says == row.says);
    });
    if (!has_it) rows.push_back(std::move(row));
  }
  query.evidence = std::move(rows);
}

using Indices = std::vector<std::size_t>;

// The losers that may share something with a winner, so that thousands in one block are not each
// held against each: by the first claim or the subject, where the scope asks for those.
class Losers {
 public:
  Losers(Scope scope, Indices all, const std::vector<Query>& queries)
      : scope_(scope), all_(std::move(all)) {
    constexpr std::size_t kFew = 16;
    is_indexed_ = all_.size() > kFew && scope != Scope::kDate && scope != Scope::kCaption &&
                  scope != Scope::kMember;
    if (!is_indexed_) return;
    for (const std::size_t l : all_) {
      if (scope != Scope::kClaim) {
        by_subject_[queries[l].subject].push_back(l);
      } else if (!queries[l].claims.empty()) {
        by_claim_[queries[l].claims.front()].push_back(l);
      }
    }
  }

  [[nodiscard]] const Indices& of(const CheckInput& input, const Query& winner) const {
    static const Indices kNobody;
    if (!is_indexed_) return all_;
    const Claim* claim = main_claim(input, winner);
    if (scope_ == Scope::kClaim) {
      const auto found = claim == nullptr ? by_claim_.end() : by_claim_.find(winner.claims.front());
      return found == by_claim_.end() ? kNobody : found->second;
    }
    const std::string_view subject = scope_ != Scope::kValue ? std::string_view(winner.subject)
                                     : claim != nullptr      ? std::string_view(claim->value)
                                                             : std::string_view{};
    const auto found = by_subject_.find(subject);
    return found == by_subject_.end() ? kNobody : found->second;
  }
  [[nodiscard]] bool empty() const { return all_.empty(); }

 private:
  Scope scope_;
  Indices all_;
  bool is_indexed_ = false;
  std::unordered_map<std::string_view, Indices> by_subject_;
  std::unordered_map<std::uint32_t, Indices> by_claim_;
};

void apply(const CheckInput& input, const Rule& rule, const Indices& together,
           std::vector<Query>& queries, std::vector<bool>& is_gone) {
  // Most rules find no loser, which is soon told even where thousands stand together.
  Indices named;
  for (const std::size_t l : together) {
    if (!is_gone[l] && is_named(rule.loser, queries[l])) named.push_back(l);
  }
  const Losers losers(rule.scope, std::move(named), queries);
  if (losers.empty()) return;
  for (const std::size_t w : together) {
    if (is_gone[w] || !is_named(rule.winner, queries[w])) continue;
    for (const std::size_t l : losers.of(input, queries[w])) {
      if (l == w || is_gone[l]) continue;
      if (queries[l].check == queries[w].check) continue;
      if (!shares(input, queries[w], queries[l], rule.scope)) continue;
      carry(queries[w], queries[l]);
      is_gone[l] = true;
    }
  }
}

// Of those whose `words` are alike the first stays.
template <typename Words>
void drop_alike(Indices alike, std::vector<Query>& queries, std::vector<bool>& is_gone,
                const Words& words) {
  std::stable_sort(alike.begin(), alike.end(),
                   [&](std::size_t a, std::size_t b) { return words(a) < words(b); });
  for (std::size_t i = 0; i < alike.size(); ++i) {
    Query& first = queries[alike[i]];
    if (is_gone[alike[i]]) continue;
    for (std::size_t j = i + 1; j < alike.size() && words(alike[i]) == words(alike[j]); ++j) {
      Query& second = queries[alike[j]];
      if (is_gone[alike[j]] || second.claims.empty()) continue;
      first.level = std::max(first.level, second.level);
      carry(first, second);
      is_gone[alike[j]] = true;
    }
  }
}

// The same sentence twice in one caption, about two mentions of one thing, or about one mention of
// several things.
void drop_repetitions(const Indices& together, std::vector<Query>& queries,
                      std::vector<bool>& is_gone) {
  drop_alike(together, queries, is_gone, [&](std::size_t index) {
    const Query& query = queries[index];
    return std::tie(query.message, query.subject, query.check);
  });
  drop_alike(together, queries, is_gone, [&](std::size_t index) {
    const Query& query = queries[index];
    return std::tie(query.message, query.span.begin, query.check);
  });
}

// A query by its message, a blank for what differs among those alike.
struct Alike {
  std::string message;
  std::size_t query;
};

// The message with a blank for the surface in its brackets; "" where it names none.
std::string without_position(const CheckInput& input, const Query& query) {
  const Claim* claim = main_claim(input, query);
  if (claim == nullptr || claim->kind != ClaimKind::kMarking || claim->position.empty()) return {};
  const std::string position = "(" + std::string(claim->position) + ")";
  const std::size_t at = query.message.find(position);
  if (at == std::string::npos) return {};
  std::string message = query.message;
  return message.replace(at + 1, position.size() - 2, "\n");
}

// "Bands on the fuselage and wings", wrong of both for one reason.
void join_surfaces(const CheckInput& input, const Indices& together, std::vector<Query>& queries,
                   std::vector<bool>& is_gone) {
  std::vector<Alike> alike;
  for (const std::size_t i : together) {
    std::string message = is_gone[i] ? std::string{} : without_position(input, queries[i]);
    if (!message.empty()) alike.push_back({std::move(message), i});
  }
  const auto key = [&](const Alike& one) {
    const Query& query = queries[one.query];
    return std::tie(query.span.begin, query.check, query.subject, query.level, one.message);
  };
  std::stable_sort(alike.begin(), alike.end(),
                   [&](const Alike& a, const Alike& b) { return key(a) < key(b); });
  for (std::size_t i = 0; i < alike.size();) {
    std::size_t end = i + 1;
    while (end < alike.size() && key(alike[end]) == key(alike[i])) ++end;
    Query& first = queries[alike[i].query];
    std::string surfaces(main_claim(input, first)->position);
    for (std::size_t j = i + 1; j < end; ++j) {
      Query& other = queries[alike[j].query];
      surfaces += (j + 1 == end ? " and " : ", ") + std::string(main_claim(input, other)->position);
      carry(first, other);
      is_gone[alike[j].query] = true;
    }
    if (end > i + 1) {
      first.message = alike[i].message;
      first.message.replace(first.message.find('\n'), 1, surfaces);
    }
    i = end;
  }
}

// The message with a blank for the machine of which it speaks; "" where it names none.
std::string without_subject(const Query& query) {
  const std::size_t at =
      query.subject.empty() ? std::string::npos : query.message.find(query.subject);
  if (at == std::string::npos) return {};
  std::string message = query.message;
  return message.replace(at, query.subject.size(), "\n");
}

// The same words said of several machines, and wrong of each for one reason: "X12, X13 and X14 at
// the Point".
void join_machines(const CheckInput& input, const Indices& together, std::vector<Query>& queries,
                   std::vector<bool>& is_gone) {
  std::vector<Alike> alike;
  for (const std::size_t i : together) {
    const Claim* claim = main_claim(input, queries[i]);
    if (is_gone[i] || claim == nullptr || input.ledger.airframe(queries[i].subject) == nullptr)
      continue;
    std::string message = without_subject(queries[i]);
    if (!message.empty()) alike.push_back({std::move(message), i});
  }
  const auto key = [&](const Alike& one) {
    const Query& query = queries[one.query];
    return std::tie(query.span.begin, query.check, query.level, one.message);
  };
  std::stable_sort(alike.begin(), alike.end(),
                   [&](const Alike& a, const Alike& b) { return key(a) < key(b); });
  for (std::size_t i = 0; i < alike.size();) {
    Query& first = queries[alike[i].query];
    std::size_t end = i + 1;
    while (end < alike.size() && key(alike[end]) == key(alike[i])) ++end;
    constexpr std::size_t kNamed = 6;
    std::string others;
    for (std::size_t j = i + 1; j < end; ++j) {
      Query& other = queries[alike[j].query];
      const bool is_last = j + 1 == end;
      if (j - i <= kNamed) {
        others += (others.empty() ? "" : is_last ? " and " : ", ") + other.subject;
      } else {
        other.evidence.clear();
        if (is_last) others += " and " + std::to_string(end - i - 1 - kNamed) + " more";
      }
      carry(first, other);
      is_gone[alike[j].query] = true;
    }
    if (!others.empty()) first.message += "; so too with " + others;
    i = end;
  }
}

}  // namespace

std::vector<Query> merge_queries(std::vector<Query> queries, const CheckInput& input) {
  std::unordered_map<std::uint64_t, Indices> captions;
  for (std::size_t i = 0; i < queries.size(); ++i) {
    captions[caption_of(input, queries[i])].push_back(i);
  }
  std::vector<bool> is_gone(queries.size(), false);
  for (const auto& [caption, together] : captions) {
    if (together.size() < 2) continue;
    for (const Rule& rule : kRules) apply(input, rule, together, queries, is_gone);
    drop_repetitions(together, queries, is_gone);
    join_surfaces(input, together, queries, is_gone);
    join_machines(input, together, queries, is_gone);
  }
  std::vector<Query> kept;
  kept.reserve(queries.size());
  for (std::size_t i = 0; i < queries.size(); ++i) {
    if (is_gone[i]) continue;
    quote_once(queries[i]);
    kept.push_back(std::move(queries[i]));
  }
  give_benefit_of_doubt(kept, input);
  return kept;
}

}  // namespace tailproof
