// | situation                                                      | level  |
// | in a closed range, and neither airframes nor identities has it | error  |
// | said not to exist there or nearby, or quoted from somebody else                | silent |
// | outside every closed range                                     | silent |
#include <algorithm>
#include <cctype>
#include <map>
#include <set>
#include <string>
#include <string_view>
#include <unordered_set>

#include "tailproof/claim_index.h"
#include "tailproof/placement.h"
#include "tailproof/verdict.h"

namespace tailproof {
namespace {

constexpr std::string_view kId = "serial-unknown";
constexpr std::size_t kSuggestions = 3;

bool is_serial_role(std::string_view role) {
  return role.empty() || role == "tail" || role == "previous_serial" || role == "later_serial";
}

bool is_held(const Ledger& ledger, std::string_view serial) {
  if (!ledger.machine_of(serial).empty() || !ledger.identities_of(serial).empty()) return true;
  const auto bearers = ledger.bearers_of(serial);
  return std::any_of(bearers.begin(), bearers.end(), [](const Identity* row) {
    return row->kind == "previous_serial" || row->kind == "later_serial";
  });
}

// One digit off, or two neighbours swapped: the slips of a copyist.
std::vector<std::string> nearest_held(const Ledger& ledger, const std::string& serial) {
  std::set<std::string> found;
  for (std::size_t i = 0; i < serial.size(); ++i) {
    std::string changed = serial;
    if (std::isdigit(static_cast<unsigned char>(serial[i])) != 0) {
      for (char digit = '0'; digit <= '9'; ++digit) {
        changed[i] = digit;
        if (changed != serial && is_held(ledger, changed)) found.insert(changed);
      }
    }
    if (i + 1 == serial.size()) continue;
    changed = serial;
    std::swap(changed[i], changed[i + 1]);
    if (changed != serial && is_held(ledger, changed)) found.insert(changed);
  }
  return {found.begin(), found.end()};
}

// How many of the caption's other claims about the unknown serial would suit the candidate.
int support(const Ledger& ledger, const ClaimIndex& index, const Claim& unknown,
            const std::string& candidate) {
  int points = 0;
  const auto machine = ledger.machine_of(candidate);
  const auto history = ledger.history_of(candidate);
  const auto identities = ledger.identities_of(candidate);
  // One that was not in service on the day is the likelier slip only where nothing else is near.
  const auto weigh_day = [&](const When& when) {
    if (!when.known || when.days.empty()) return;
    for (const Airframe* airframe : machine) {
      const Edtf& first = airframe->taken_on_charge;
      const Edtf& last = airframe->struck_off_charge;
      if (!first.is_unknown() && when.days.last() < first.days().first()) points -= 3;
      if (!last.is_unknown() && when.days.first() > last.days().last()) points -= 3;
    }
  };
  weigh_day(unknown.when);
  for (const std::uint32_t i : index.around(unknown)) {
    const Claim& claim = index.claim(i);
    if (claim.kind == ClaimKind::kAirframe && claim.value == candidate) points -= 2;
    if (claim.kind == ClaimKind::kEvent && claim.subject == unknown.value) weigh_day(claim.when);
    if (claim.subject != unknown.subject && claim.subject != unknown.value) continue;
    if (claim.kind == ClaimKind::kType) {
      for (const Airframe* airframe : machine) {
        if (claim.value == airframe->type + " " + airframe->mark) ++points;
        if (claim.value.starts_with(airframe->type)) ++points;
      }
    }
    if (claim.kind == ClaimKind::kUnit) {
      for (const History* row : history) {
        const bool fits = !row->unit.empty() && units_agree(ledger, row->unit, claim.value) &&
                          row->spell.possible().intersects(claim.when.days);
        if (fits) points += 2;
      }
    }
    if (claim.kind == ClaimKind::kAirframe && claim.role == "code") {
      for (const Identity* row : identities) {
        if (bare(row->identity) == bare(claim.value)) points += 3;
      }
    }
  }
  return points;
}

// "There is no QX1012 ... whoever meets QX1012": the text itself knows.
// "Did anyone ever see X19?" in one place, "X19 was never built" in another.
bool is_asked_and_denied(const CheckInput& input, const Claim& claim) {
  const std::string_view text = input.manuscripts[claim.manuscript].blocks[claim.block].text;
  const std::size_t mark = text.find_first_of(".?!", claim.end);
  if (mark == std::string_view::npos || text[mark] != '?') return false;
  return std::any_of(input.claims.begin(), input.claims.end(), [&](const Claim& other) {
    return other.kind == ClaimKind::kAirframe && other.value == claim.value && other.negated &&
           !other.attributed && other.manuscript == claim.manuscript;
  });
}

bool is_denied_beside(const ClaimIndex& index, const Claim& claim) {
  const auto around = index.around(claim);
  return std::any_of(around.begin(), around.end(), [&](std::uint32_t i) {
    const Claim& other = index.claim(i);
    return other.kind == ClaimKind::kAirframe && other.value == claim.value && other.negated;
  });
}

// The number that ends the serial, and what stands before it.
std::pair<std::string_view, std::int64_t> numbered(std::string_view serial) {
  constexpr std::size_t kMostDigits = 18;
  std::size_t digits = 0;
  while (digits < serial.size() && digits < kMostDigits &&
         std::isdigit(static_cast<unsigned char>(serial[serial.size() - 1 - digits])) != 0)
    ++digits;
  const std::string_view head = serial.substr(0, serial.size() - digits);
  if (digits == 0) return {head, -1};
  return {head, std::stoll(std::string(serial.substr(serial.size() - digits)))};
}

// "S3001 to S3036": the closed range that holds the serial, as ledger.toml writes it; "" when it
// cannot be told by the number at the end or by the letters.
std::string range_of(const Ledger& ledger, std::string_view serial) {
  const auto [head, number] = numbered(serial);
  for (const SerialForm& form : ledger.settings().serial_forms) {
    for (const auto& [first, last] : form.closed) {
      const auto [first_head, low] = numbered(first);
      const auto [last_head, high] = numbered(last);
      const bool is_one_series = first_head == head && last_head == head && number >= 0;
      const bool is_within = is_one_series && low <= number && number <= high;
      const bool same_length = first.size() == serial.size() && last.size() == serial.size();
      if (is_within || (same_length && first <= serial && serial <= last))
        return first + " to " + last;
    }
  }
  return "";
}

}  // namespace

std::vector<Query> check_serial_unknown(const CheckInput& input) {
  const ClaimIndex index(input);
  const Ledger& ledger = input.ledger;
  std::unordered_set<std::string_view> denied;  // somewhere, by the text itself
  for (const Claim& claim : ClaimsOfKind(input, ClaimKind::kAirframe)) {
    if (claim.negated) denied.insert(claim.value);
  }
  return judge_claims(input, ClaimKind::kAirframe, [&](const Claim& claim) -> std::optional<Query> {
    if (!is_affirmed(claim) || !is_serial_role(claim.role)) return std::nullopt;
    for (const std::string& reading : readings_of(claim)) {
      if (!ledger.is_in_closed_range(reading) || is_held(ledger, reading)) return std::nullopt;
    }
    if (denied.contains(claim.value) &&
        (is_denied_beside(index, claim) || is_asked_and_denied(input, claim)))
      return std::nullopt;
    std::vector<std::string> candidates = nearest_held(ledger, claim.value);
    if (candidates.size() > 1) {
      std::map<std::string, int> points;
      for (const std::string& candidate : candidates) {
        points[candidate] = support(ledger, index, claim, candidate);
      }
      std::stable_sort(candidates.begin(), candidates.end(),
                       [&](const std::string& one, const std::string& other) {
                         return points[one] > points[other];
                       });
    }
    const std::string range = range_of(ledger, claim.value);
    Query query = query_at(kId, input, claim, tempered(claim, Level::kError),
                           claim.value + " is not in the ledger, which holds every serial of " +
                               (range.empty() ? "its range" : range));
    query.evidence.push_back(
        quote_table("ledger.toml", (range.empty() ? "its range" : "the range " + range) +
                                       " is closed and has no " + claim.value));
    if (candidates.size() > kSuggestions) candidates.resize(kSuggestions);
    for (const std::string& candidate : candidates) {
      query.suggestion += (query.suggestion.empty() ? "" : " or ") + candidate;
      for (const Airframe* airframe : ledger.machine_of(candidate)) {
        if (airframe->serial != candidate) continue;
        query.evidence.push_back(
            quote(airframe->row,
                  candidate + " is " + with_article(airframe->type + " " + airframe->mark)));
      }
    }
    return query;
  });
}

}  // namespace tailproof
