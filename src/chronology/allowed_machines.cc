// Life and identities of a machine.
#include <algorithm>
#include <cctype>

#include "tailproof/allowed_days.h"

namespace tailproof {
namespace {

// Groups of letters or digits: "NP-E" is {np, e}.
std::vector<std::string> groups_of(std::string_view identity) {
  std::vector<std::string> groups(1);
  for (const char c : identity) {
    const bool is_part = std::isalnum(static_cast<unsigned char>(c)) != 0 ||
                         (static_cast<unsigned char>(c) & 0x80U) != 0;
    if (is_part) {
      groups.back() += static_cast<char>(std::tolower(static_cast<unsigned char>(c)));
    } else if (!groups.back().empty()) {
      groups.emplace_back();
    }
  }
  if (groups.back().empty()) groups.pop_back();
  // "3" is the "03" of "1-03".
  for (std::string& group : groups) {
    while (group.size() > 1 && group.front() == '0') group.erase(0, 1);
  }
  return groups;
}

// A number in the text may be a code or a radio call; a nickname is neither.
bool is_kind_meant(std::string_view row_kind, std::string_view role) {
  if (role == "nickname") return row_kind == "nickname";
  return row_kind == "code" || row_kind == "radio_call";
}

bool tells_of_loss(const ClaimIndex& index, const Claim& claim) {
  const auto around = index.around(claim);
  return std::any_of(around.begin(), around.end(), [&](std::uint32_t i) {
    const Claim& other = index.claim(i);
    // "Two days before it was lost" it was still whole.
    const bool is_ahead = other.relation->photograph.is_known() && other.relation->most <= 0;
    return other.kind == ClaimKind::kEvent && other.subject == claim.subject && !other.negated &&
           !is_ahead &&
           (other.value == "lost" || other.value == "accident" ||
            other.value == "struck_off_charge");
  });
}

}  // namespace

DaySet without_short_gaps(const DaySet& open, const DaySet& life) {
  std::vector<DayRange> long_ones;
  for (const DayRange& range : open.ranges()) {
    const bool is_first = !life.empty() && range.first == life.first();
    if (range.last - range.first > (is_first ? kDeliveryDays : kWayDays))
      long_ones.push_back(range);
  }
  return DaySet(std::move(long_ones));
}

Allowed without_short_gaps(const Allowed& open, const Allowed& life) {
  return {without_short_gaps(open.days, life.days), without_short_gaps(open.widened, life.widened)};
}

const When& at_any_time() {
  static const When kAny = [] {
    When when;
    when.known = true;
    return when;
  }();
  return kAny;
}

Grounds Grounds::without_evidence() {
  Grounds grounds;
  grounds.has_evidence_ = false;
  return grounds;
}

DaySet Grounds::recorded() const {
  DaySet days;
  bool is_any = false;
  for (const Ground& row : rows_) {
    if (row.is_against) continue;
    is_any = true;
    days = days.unite(row.days);
  }
  return is_any ? days : DaySet::all();
}

Allowed only_in_life(const Ledger& ledger, std::string_view serial, const When& when,
                     Allowed free_days) {
  if (!when.known || when.days.empty()) return free_days;
  const std::optional<DaySet> life = ledger.life_of(serial, false);
  constexpr Day kMonth = 31, kYear = 366;
  const bool lies_within =
      life && !life->empty() && when.days.first() >= life->first() &&
      when.days.first() <= life->last() &&
      (when.days.last() <= life->last() + kMonth || when.days.last() - when.days.first() < kYear);
  if (!lies_within) return free_days;
  return {free_days.days.intersect(*life), free_days.widened.intersect(*life)};
}

std::optional<Allowed> days_of_life(const Ledger& ledger, std::string_view serial,
                                    Grounds* grounds) {
  const std::optional<DaySet> life = ledger.life_of(serial, false);
  const std::optional<DaySet> wide = ledger.life_of(serial, true);
  if (!life || !wide || life->empty()) return std::nullopt;
  if (grounds != nullptr) {
    for (const Airframe* airframe : ledger.machine_of(serial)) {
      std::string says = airframe->serial + " taken on charge " +
                         in_words(airframe->taken_on_charge) + ", struck off " +
                         in_words(airframe->struck_off_charge);
      if (!airframe->fate.empty()) says += " (" + airframe->fate + ")";
      grounds->add(*life, false, airframe->serial,
                   [&] { return quote(airframe->row, std::move(says)); });
    }
    for (const History* row : ledger.history_of(serial)) {
      if (row->kind != "lost") continue;
      grounds->add(until_days(row->spell.from, ledger.settings().margins).days, false, row->serial,
                   [&] { return quote(row->row, row->serial + " lost " + in_words(row->spell)); });
    }
  }
  return Allowed{*life, *wide};
}

bool tells_of_end(const ClaimIndex& index, const Claim& airframe) {
  return (airframe.said & kSaidRemains) != 0 || tells_of_loss(index, airframe);
}

bool is_same_identity(std::string_view one, std::string_view other) {
  return bare(one) == bare(other);
}

// A caption often gives the aircraft's own letter alone, or the unit's letters alone.
bool is_part_of_identity(std::string_view part, std::string_view whole) {
  const std::vector<std::string> groups = groups_of(whole);
  const std::vector<std::string> own = groups_of(part);
  return groups.size() > 1 && own.size() == 1 &&
         std::find(groups.begin(), groups.end(), own.front()) != groups.end();
}

std::vector<const Identity*> identities_meant(const Ledger& ledger, const Claim& identity) {
  std::vector<const Identity*> rows = ledger.identities_of(identity.subject);
  std::erase_if(rows,
                [&](const Identity* row) { return !is_kind_meant(row->kind, identity.role); });
  return rows;
}

std::optional<Allowed> days_of_identity(const Ledger& ledger, const Claim& identity,
                                        Grounds* grounds) {
  const Margins& margins = ledger.settings().margins;
  const std::vector<const Identity*> rows = identities_meant(ledger, identity);
  if (rows.empty()) return std::nullopt;
  Allowed own;
  Certain other;
  for (const Identity* row : rows) {
    const bool is_same = is_same_identity(row->identity, identity.value) ||
                         is_part_of_identity(identity.value, row->identity);
    // A name outside, and a radio call beside a code, may be worn at the same time.
    const bool excludes = !is_same && row->kind == identity.role && identity.role != "nickname";
    const Certain certain = certain_days(row->spell, margins);
    const Allowed possible = possible_days(row->spell, margins);
    if (is_same) own = unite(own, possible);
    if (excludes) other = unite(other, certain);
    if (grounds != nullptr && (is_same || excludes)) {
      grounds->add(is_same ? possible.days : certain.days, !is_same, row->identity,
                   [&] { return quote_identity(*row); });
    }
  }
  return unite(own, except(other));
}

Evidence quote_identity(const Identity& row) {
  const std::string_view what = row.kind == "previous_serial" ? " was formerly "
                                : row.kind == "later_serial"  ? " became "
                                : row.kind == "nickname"      ? " was called "
                                                              : " carried ";
  return quote(row.row, row.serial + std::string(what) + row.identity + " " + in_words(row.spell));
}

}  // namespace tailproof
