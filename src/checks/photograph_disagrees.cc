// | situation                                                                  | level   |
// | no machine that the caption shows is among those that the row depicts      | error   |
// | as many machines shown as depicted, and one of them is not among those     | warning |
// | the caption's date has no day in common with that on which it was taken    | error   |
// | the same, but the margin of a "~" or "circa" joins them                    | warning |
// | no place that the caption gives lies within or around that of the row      | error   |
// | several of these in one caption                                            | one     |
// | a hedged claim                                                             | one less |
// | a caption of several numbers: what any of their rows allows                | silent  |
// | the number of another photograph ("see ...", "an hour after ...")          | silent  |
// | in the air, or near a place; no machine in the picture                     | silent  |
// | a machine that is only mentioned, somebody else's words                    | silent  |
// | running text says what the photograph shows, or when it was taken: as in a | as      |
// |   caption                                                                  | there   |
#include <algorithm>
#include <set>
#include <string>
#include <tuple>
#include <unordered_map>
#include <vector>

#include "tailproof/claim_index.h"
#include "tailproof/placement.h"
#include "tailproof/verdict.h"

namespace tailproof {
namespace {

constexpr std::string_view kId = "photograph-disagrees";

using Rows = std::vector<const Photograph*>;

bool is_in_caption(const ClaimIndex& index, const Claim& claim) {
  return index.block_of(claim).kind == BlockKind::kCaption;
}

// Rows of the photographs that the caption says it prints; none when one of them has no row.
Rows rows_of_caption(const CheckInput& input, const ClaimIndex& index, const Claim& first) {
  Rows rows;
  for (const std::uint32_t i : index.around(first)) {
    const Claim& claim = index.claim(i);
    if (claim.kind != ClaimKind::kReference || claim.role != "photograph") continue;
    if (!is_affirmed(claim) || !is_in_caption(index, claim)) continue;
    if ((claim.said & kSaidElsewhere) != 0) continue;
    const Photograph* row = input.ledger.photograph(claim.value);
    if (row == nullptr) return {};
    if (std::find(rows.begin(), rows.end(), row) == rows.end()) rows.push_back(row);
  }
  return rows;
}

std::string joined(const std::vector<std::string>& words) {
  std::string out;
  for (std::size_t i = 0; i < words.size(); ++i) {
    if (i > 0) out += i + 1 == words.size() ? " and " : ", ";
    out += words[i];
  }
  return out;
}

std::string numbers_of(const Rows& rows) {
  std::vector<std::string> numbers;
  for (const Photograph* row : rows) numbers.push_back(row->photograph);
  return joined(numbers);
}

void add_evidence(const Rows& rows, Query& query) {
  for (const Photograph* row : rows) {
    std::string says = row->photograph;
    if (!row->depicts.empty()) says += " depicts " + joined(row->depicts);
    if (!row->taken.is_unknown()) says += ", taken " + in_words(row->taken);
    if (!row->place.empty()) says += ", at " + row->place;
    query.evidence.push_back(quote(row->row, std::move(says)));
  }
}

bool is_depicted(const Ledger& ledger, std::string_view serial, const Rows& rows) {
  std::vector<std::string> own = {bare(serial)};
  for (const std::string_view other : ledger.serials_of(serial)) own.push_back(bare(other));
  for (const Photograph* row : rows) {
    for (const std::string& depicted : row->depicts) {
      if (std::find(own.begin(), own.end(), bare(depicted)) != own.end()) return true;
    }
  }
  return false;
}

std::optional<Query> judge_machines(const CheckInput& input, const ClaimIndex& index,
                                    const Claim& reference, const Rows& rows) {
  const bool is_told = std::all_of(rows.begin(), rows.end(),
                                   [](const Photograph* row) { return !row->depicts.empty(); });
  if (!is_told) return std::nullopt;
  const Claim* wrong = nullptr;
  std::set<std::string_view> shown;
  bool is_any_depicted = false;
  for (const std::uint32_t i : index.around(reference)) {
    const Claim& claim = index.claim(i);
    if (claim.kind != ClaimKind::kAirframe || claim.subject.empty()) continue;
    if (!is_affirmed(claim) || !claim.shown || claim.role == "malformed") continue;
    shown.insert(claim.subject);
    const bool is_one = is_depicted(input.ledger, claim.subject, rows);
    is_any_depicted = is_any_depicted || is_one;
    if (!is_one && wrong == nullptr && !claim.hedged) wrong = &claim;
  }
  // A row may leave out a machine in the background, but not take one for another.
  const bool is_one_for_another =
      rows.size() == 1 && shown.size() == rows.front()->depicts.size() && shown.size() > 1;
  if (wrong == nullptr || (is_any_depicted && !is_one_for_another)) return std::nullopt;
  std::vector<std::string> depicted;
  for (const Photograph* row : rows) {
    depicted.insert(depicted.end(), row->depicts.begin(), row->depicts.end());
  }
  const Level level = is_any_depicted ? Level::kWarning : Level::kError;
  Query query = query_at(kId, input, *wrong, tempered(*wrong, level),
                         "the caption shows " + wrong->subject + ", but " + numbers_of(rows) +
                             " depicts " + joined(depicted));
  query.suggestion = joined(depicted);
  return query;
}

std::optional<Query> judge_date(const CheckInput& input, const ClaimIndex& index,
                                const Claim& reference, const Rows& rows) {
  const Margins& margins = input.ledger.settings().margins;
  Allowed taken = Allowed::none();
  std::string told;
  for (const Photograph* row : rows) {
    if (row->taken.is_unknown()) return std::nullopt;
    taken = unite(taken, {row->taken.days(), row->taken.widened(margins)});
    told += (told.empty() ? "" : " and ") + in_words(row->taken);
  }
  for (const std::uint32_t i : index.around(reference)) {
    const Claim& claim = index.claim(i);
    if (claim.kind != ClaimKind::kDate || claim.of != "photograph") continue;
    if (!is_affirmed(claim) || claim.impossible || !is_in_caption(index, claim)) continue;
    When when;
    when.known = true;
    when.days = claim.date.days();
    when.widened = claim.date.widened(margins);
    if (claim.date.is_unknown() || when.days.empty()) continue;
    const std::optional<Level> level = level_of(claim, fit(when, taken), Level::kError);
    if (!level) continue;
    Query query = query_at(kId, input, claim, *level,
                           "the caption is dated " + in_words(claim.date) + ", but " +
                               numbers_of(rows) + " was taken " + told);
    query.suggestion = told;
    return query;
  }
  return std::nullopt;
}

bool has_place(const Ledger& ledger, const Claim& claim, const Rows& rows) {
  for (const std::string& reading : readings_of(claim)) {
    for (const Photograph* row : rows) {
      if (places_agree(ledger, reading, row->place)) return true;
    }
  }
  return false;
}

std::optional<Query> judge_place(const CheckInput& input, const ClaimIndex& index,
                                 const Claim& reference, const Rows& rows) {
  const Ledger& ledger = input.ledger;
  for (const Photograph* row : rows) {
    if (ledger.place(row->place) == nullptr) return std::nullopt;
  }
  const Claim* wrong = nullptr;
  for (const std::uint32_t i : index.around(reference)) {
    const Claim& claim = index.claim(i);
    if (claim.kind != ClaimKind::kPlace) continue;
    if (has_place(ledger, claim, rows)) return std::nullopt;
    const bool is_near = claim.position == "approximate" || claim.role == "approximate";
    // A picture taken near a place may be filed under any other of that neighbourhood.
    if (is_near && is_affirmed(claim)) return std::nullopt;
    const bool counts = is_affirmed(claim) && claim.shown && claim.known && claim.role.empty() &&
                        claim.tense == Tense::kThen && ledger.place(claim.value) != nullptr;
    if (counts && wrong == nullptr) wrong = &claim;
  }
  if (wrong == nullptr) return std::nullopt;
  // The place of an event with a date of its own is not that of the picture.
  if (wrong->when.known && wrong->when.date < input.claims.size() &&
      input.claims[wrong->when.date].of != "photograph") {
    return std::nullopt;
  }
  std::vector<std::string> places;
  for (const Photograph* row : rows) {
    if (std::find(places.begin(), places.end(), row->place) == places.end()) {
      places.push_back(row->place);
    }
  }
  Query query = query_at(kId, input, *wrong, tempered(*wrong, Level::kError),
                         "the caption is placed at " + wrong->value + ", but " + numbers_of(rows) +
                             " was taken at " + joined(places));
  query.suggestion = joined(places);
  return query;
}

// A wrong number makes everything wrong at once: that is one fault.
void take_in(Query& query, Query&& other) {
  query.level = std::max(query.level, other.level);
  query.related.push_back({other.span, std::move(other.message)});
  query.claims.insert(query.claims.end(), other.claims.begin(), other.claims.end());
  query.suggestion.clear();
}

// "AB 12 was taken in May 1942" in running text.
std::optional<Query> judge_day_told(const CheckInput& input, const Claim& reference,
                                    const Photograph& row) {
  if (reference.of != "photograph" || row.taken.is_unknown()) return std::nullopt;
  const Allowed taken = {row.taken.days(), row.taken.widened(input.ledger.settings().margins)};
  const std::optional<Level> level = level_of(reference, fit(reference.when, taken), Level::kError);
  if (!level) return std::nullopt;
  Query query =
      query_at(kId, input, reference, *level,
               row.photograph + " is said to have been taken " + when_in_words(reference.when) +
                   ", but was taken " + in_words(row.taken));
  query.suggestion = in_words(row.taken);
  return query;
}

// "AB 12 shows X12 and X14" in running text: one claim of the number for each machine.
std::optional<Query> judge_told(const CheckInput& input, const ClaimIndex& index,
                                const Claim& reference, const Photograph& row) {
  if (row.depicts.empty()) return std::nullopt;
  const Claim* wrong = nullptr;
  std::size_t told = 0;
  bool is_any_depicted = false;
  for (const std::uint32_t i : index.around(reference)) {
    const Claim& claim = index.claim(i);
    if (claim.kind != ClaimKind::kReference || claim.begin != reference.begin ||
        claim.block != reference.block || claim.subject.empty())
      continue;
    ++told;
    const bool is_one = is_depicted(input.ledger, claim.subject, {&row});
    is_any_depicted = is_any_depicted || is_one;
    if (!is_one && wrong == nullptr) wrong = &claim;
  }
  if (wrong == nullptr || (is_any_depicted && told != row.depicts.size())) return std::nullopt;
  Query query = query_at(kId, input, *wrong,
                         tempered(*wrong, is_any_depicted ? Level::kWarning : Level::kError),
                         row.photograph + " is said to show " + wrong->subject + ", but depicts " +
                             joined(row.depicts));
  query.suggestion = joined(row.depicts);
  return query;
}

}  // namespace

std::vector<Query> check_photograph_disagrees(const CheckInput& input) {
  std::vector<Query> queries;
  if (!input.ledger.has_table("photographs")) return queries;
  const ClaimIndex index(input);
  std::unordered_map<std::uint64_t, bool> is_done;
  std::set<std::tuple<std::uint32_t, std::uint32_t, std::uint32_t>> told;
  for (const Claim& claim : ClaimsOfKind(input, ClaimKind::kReference)) {
    if (claim.role != "photograph") continue;
    const Photograph* row = input.ledger.photograph(claim.value);
    if (index.block_of(claim).kind == BlockKind::kBody && is_affirmed(claim) && row != nullptr) {
      if (!told.emplace(claim.manuscript, claim.block, claim.begin).second) continue;
      std::optional<Query> query = judge_told(input, index, claim, *row);
      std::optional<Query> day = judge_day_told(input, claim, *row);
      if (query && day) {
        take_in(*query, *std::move(day));
      } else if (day) {
        query = std::move(day);
      }
      if (!query) continue;
      add_evidence({row}, *query);
      queries.push_back(*std::move(query));
      continue;
    }
    if (!is_in_caption(index, claim) || is_done[caption_key(input, claim)]) continue;
    is_done[caption_key(input, claim)] = true;
    const Rows rows = rows_of_caption(input, index, claim);
    if (rows.empty()) continue;
    std::optional<Query> found;
    for (const auto judge : {judge_machines, judge_date, judge_place}) {
      std::optional<Query> query = judge(input, index, claim, rows);
      if (!query) continue;
      if (found) {
        take_in(*found, *std::move(query));
      } else {
        found = std::move(query);
      }
    }
    if (!found) continue;
    add_evidence(rows, *found);
    queries.push_back(*std::move(found));
  }
  return queries;
}

}  // namespace tailproof
