// What the ledger has of a kind: its machines, those lost and when, those that one unit had of
// another.
#include <algorithm>
#include <set>

#include "claims/fate_words.h"
#include "claims/kind_counts.h"
#include "grammars/fold.h"

namespace tailproof {
namespace {

constexpr std::string_view kLostEvent = "lost";

// Days between a mishap and the paper of a machine's end that may be one.
constexpr Day kLongestPaper = 366;

bool tells_no_loss(const Airframe& row, const WordList* fates, const WordList* unlost) {
  if (unlost != nullptr && !unlost->value_of(fold(row.fate)).empty()) return true;
  return !tells_fate(row.fate, fates, [](std::string_view kind) { return kind == kLostEvent; }) &&
         tells_fate(row.fate, fates, [](std::string_view) { return true; });
}

}  // namespace

// One row of each machine of a type and mark; none where the ledger may lack one's mark.
std::vector<const Airframe*> BlockAssembler::KindCounts::rows_of(const Count& count) const {
  std::vector<const Airframe*> rows;
  if (count.type.empty()) return rows;
  std::set<std::uint32_t> machines;
  for (const Airframe* row : a_.ledger_.airframes_of_type(count.type)) {
    if (row->mark.empty() && !count.mark.empty()) return {};
    if (!count.mark.empty() && row->mark != count.mark) continue;
    if (machines.insert(row->machine).second) rows.push_back(row);
  }
  return rows;
}

// The same where these are all; none where the ledger may lack one.
std::vector<const Airframe*> BlockAssembler::KindCounts::kin(const Count& count) const {
  if (!a_.ledger_.airframes_of_type("").empty()) return {};
  std::vector<const Airframe*> rows = rows_of(count);
  const bool are_all = std::all_of(rows.begin(), rows.end(), [&](const Airframe* row) {
    return a_.ledger_.is_in_closed_range(row->serial);
  });
  if (!are_all) rows.clear();
  return rows;
}

// Whether a row has it with the unit on any of the days; where no row tells of them, it may be.
bool BlockAssembler::KindCounts::may_be_of(const Airframe& row, const std::string& unit,
                                           const DaySet& days) const {
  bool is_told = false;
  for (const History* held : a_.ledger_.history_of(row.serial)) {
    if (held->role.empty() || !held->spell.possible().intersects(days)) continue;
    is_told = true;
    if (held->unit == unit || a_.ledger_.is_unit_within(held->unit, unit)) return true;
  }
  return !is_told;
}

// The days on which it may have been lost, none where it was not; `is_sure` where it certainly was.
DaySet BlockAssembler::KindCounts::days_of_loss(const Airframe& row, std::string& unit,
                                                bool& is_sure) const {
  is_sure = false;
  DaySet days;
  const DaySet& end = row.struck_off_charge.days();
  const bool has_end = !row.struck_off_charge.is_unknown() && !end.empty();
  for (const History* event : a_.ledger_.history_of(row.serial)) {
    const DaySet& own = event->spell.from.days();
    const bool is_dated = !event->spell.from.is_unknown() && !own.empty();
    if (event->kind == kLostEvent) {
      is_sure = true;
      unit = event->unit;
      return is_dated ? own : DaySet::all();
    }
    const bool may_end =
        event->kind == "accident" || event->kind == "captured" || event->kind == "interned";
    if (!may_end) continue;
    const bool is_near = !is_dated || !has_end || end.first() - own.last() <= kLongestPaper;
    if (is_near) days = days.unite(is_dated ? own : DaySet::all());
  }
  if (!days.empty()) return days;
  // Told of, and never of an end: it outlasted the records.
  if (!has_end && row.fate.empty() && !a_.ledger_.history_of(row.serial).empty()) return days;
  const WordList* fates = a_.lexicon_.grammars().list("fate_word");
  const WordList* unlost = a_.lexicon_.grammars().list("unlost_fate");
  if (fates != nullptr && tells_no_loss(row, fates, unlost)) return days;
  // The paper may be late, and never early.
  return has_end ? DaySet({{end.first() - kLongestPaper, end.last()}}) : DaySet::all();
}

BlockAssembler::KindCounts::Bounds BlockAssembler::KindCounts::lost(const Rows& rows,
                                                                    const std::string& unit,
                                                                    const DaySet& days) const {
  Bounds bounds;
  for (const Airframe* row : rows) {
    std::string whose;
    bool is_sure = false;
    const DaySet loss = days_of_loss(*row, whose, is_sure);
    if (loss.empty() || !loss.intersects(days)) continue;
    const bool is_units = unit.empty() || whose == unit || a_.ledger_.is_unit_within(whose, unit);
    if (!is_units && (!whose.empty() || !may_be_of(*row, unit, loss))) continue;
    ++bounds.most;
    if (!is_sure || !is_units || !days.covers(loss)) continue;
    ++bounds.least;
    bounds.machines.push_back(row->serial);
  }
  return bounds;
}

BlockAssembler::KindCounts::Bounds BlockAssembler::KindCounts::place_among_lost(
    const Count& count, const std::string& unit, const std::string& serial, bool is_last) const {
  Bounds bounds;
  const auto machine = a_.ledger_.machine_of(serial);
  if (machine.empty()) return bounds;
  std::string whose;
  bool is_sure = false;
  const std::vector<const Airframe*> rows = kin(count);
  const auto own = std::find_if(rows.begin(), rows.end(), [&](const Airframe* row) {
    return row->machine == machine.front()->machine;
  });
  if (own == rows.end()) return bounds;
  const DaySet mine = days_of_loss(**own, whose, is_sure);
  const bool is_units = unit.empty() || whose == unit || a_.ledger_.is_unit_within(whose, unit);
  if (!is_sure || mine.is_all() || !is_units) return bounds;
  bounds = {1, 1, {(*own)->serial}};
  for (const Airframe* row : rows) {
    if (row == *own) continue;
    bool is_sure_of_other = false;
    std::string others;
    const DaySet days = days_of_loss(*row, others, is_sure_of_other);
    const bool is_theirs =
        unit.empty() || others == unit || a_.ledger_.is_unit_within(others, unit);
    if (days.empty() || (!is_theirs && (!others.empty() || !may_be_of(*row, unit, days)))) continue;
    const bool may_be = is_last ? days.last() >= mine.first() : days.first() <= mine.last();
    const bool is_certain = is_last ? days.first() > mine.last() : days.last() < mine.first();
    bounds.most += may_be ? 1 : 0;
    if (!is_certain || !is_sure_of_other || !is_theirs) continue;
    ++bounds.least;
    bounds.machines.push_back(row->serial);
  }
  return bounds;
}

// Those that went from one holder straight to another.
BlockAssembler::KindCounts::Bounds BlockAssembler::KindCounts::handed_over(
    const Count& count, const std::string& giver, const std::string& taker,
    const DaySet& days) const {
  constexpr Day kOnTheWay = 14, kNear = 5, kFar = 45;
  Bounds bounds;
  const DaySet near = days.widened(kNear), far = days.widened(kFar);
  for (const Airframe* row : kin(count)) {
    const auto history = a_.ledger_.history_of(row->serial);
    bool may_be = false, is_certain = false;
    for (const History* to : history) {
      if (to->unit != taker || to->role.empty() || to->spell.from.days().empty()) continue;
      for (const History* from : history) {
        if (from->unit != giver || from->role.empty()) continue;
        const DaySet& arrival = to->spell.from.days();
        if (from->spell.from.days().empty() || from->spell.from.days().first() > arrival.last() ||
            !far.intersects(arrival))
          continue;
        may_be = true;
        const DaySet& end = from->spell.to.days();
        is_certain =
            is_certain || (!end.empty() && near.covers(arrival) && end.first() <= arrival.last() &&
                           arrival.first() - end.last() <= kOnTheWay);
      }
    }
    bounds.most += may_be ? 1 : 0;
    if (!is_certain) continue;
    ++bounds.least;
    bounds.machines.push_back(row->serial);
  }
  return bounds;
}

// Those that a unit held or flew on any of the days, or may have had while no row tells of them.
BlockAssembler::KindCounts::Bounds BlockAssembler::KindCounts::with_unit(const Rows& rows,
                                                                         const std::string& unit,
                                                                         const DaySet& days) const {
  constexpr Day kNearGap = 200;
  Bounds bounds;
  for (const Airframe* row : rows) {
    bool may_be = false, is_certain = false, is_elsewhere = false, is_near = false;
    for (const History* held : a_.ledger_.history_of(row->serial)) {
      if (held->role.empty()) continue;
      const bool is_its = held->unit == unit || a_.ledger_.is_unit_within(held->unit, unit);
      const DaySet possible = held->spell.possible();
      may_be = may_be || (is_its && possible.intersects(days));
      is_certain = is_certain || (is_its && held->spell.certain().covers(days));
      is_elsewhere = is_elsewhere || (!is_its && held->spell.certain().covers(days));
      is_near = is_near || (is_its && possible.widened(kNearGap).intersects(days));
    }
    // Between two rows: away to be mended, and on its books all the same.
    may_be = may_be || (!is_elsewhere && is_near && !days.is_all());
    bounds.most += may_be ? 1 : 0;
    if (may_be) bounds.machines.push_back(row->serial);
    bounds.least += is_certain ? 1 : 0;
  }
  return bounds;
}

BlockAssembler::KindCounts::Bounds BlockAssembler::KindCounts::made(const Rows& rows,
                                                                    const DaySet& days) const {
  // Papers and deliveries are a few days apart.
  constexpr Day kLate = 21;
  Bounds bounds;
  for (const Airframe* row : rows) {
    const DaySet& own = row->taken_on_charge.days();
    const bool is_dated = !row->taken_on_charge.is_unknown() && !own.empty();
    const bool may_be = !is_dated || own.widened(kLate).intersects(days);
    bounds.most += may_be ? 1 : 0;
    if (!is_dated || !days.covers(own.widened(kLate))) continue;
    ++bounds.least;
    bounds.machines.push_back(row->serial);
  }
  return bounds;
}

// Those with a later or former number; at most also those that were there when the others got
// theirs.
BlockAssembler::KindCounts::Bounds BlockAssembler::KindCounts::renumbered(const Rows& rows) const {
  Bounds bounds;
  Day first_change = kLastDay;
  const auto changed = [&](const Airframe* row) -> const Identity* {
    for (const Identity* identity : a_.ledger_.identities_of(row->serial)) {
      if (identity->kind == "later_serial" || identity->kind == "previous_serial") return identity;
    }
    return nullptr;
  };
  for (const Airframe* row : rows) {
    const Identity* identity = changed(row);
    if (identity == nullptr) continue;
    ++bounds.least;
    bounds.machines.push_back(row->serial);
    const Edtf& change =
        identity->kind == "later_serial" ? identity->spell.from : identity->spell.to;
    if (!change.is_unknown() && !change.days().empty())
      first_change = std::min(first_change, change.days().first());
  }
  bounds.most = bounds.least;
  for (const Airframe* row : rows) {
    if (changed(row) != nullptr) continue;
    const auto life = a_.ledger_.life_of(row->serial, true);
    const bool may_be =
        !life || life->empty() || (life->last() >= first_change && life->first() <= first_change);
    bounds.most += may_be ? 1 : 0;
  }
  return bounds;
}

// Under the type and mark that are told: what was made into another is no more of them.
BlockAssembler::KindCounts::Bounds BlockAssembler::KindCounts::on_charge(const Rows& rows,
                                                                         const DaySet& days) const {
  Bounds bounds;
  for (const Airframe* row : rows) {
    bool may_be = false, is_certain = false;
    for (const Airframe* own : a_.ledger_.machine_of(row->serial)) {
      if (own->type != row->type || own->mark != row->mark) continue;
      const DaySet& from = own->taken_on_charge.days();
      const DaySet& to = own->struck_off_charge.days();
      const bool has_from = !own->taken_on_charge.is_unknown() && !from.empty();
      const bool has_to = !own->struck_off_charge.is_unknown() && !to.empty();
      may_be = may_be || ((!has_from || from.first() <= days.last()) &&
                          (!has_to || to.last() >= days.first()));
      is_certain = is_certain ||
                   (has_from && has_to && from.last() <= days.first() && to.first() >= days.last());
    }
    bounds.most += may_be ? 1 : 0;
    if (!is_certain) continue;
    ++bounds.least;
    bounds.machines.push_back(row->serial);
  }
  return bounds;
}

// Those whose first unit it was; they may have waited elsewhere before.
BlockAssembler::KindCounts::Bounds BlockAssembler::KindCounts::new_to(
    const Rows& rows, const std::string& unit) const {
  constexpr int kMostBefore = 2;
  Bounds bounds;
  for (const Airframe* row : rows) {
    int seen = 0;
    bool may_be = false, is_first = false;
    for (const History* held : a_.ledger_.history_of(row->serial)) {
      if (held->role.empty() || seen == kMostBefore) continue;
      const bool is_its = held->unit == unit || a_.ledger_.is_unit_within(held->unit, unit);
      may_be = may_be || is_its;
      is_first = is_first || (is_its && seen == 0);
      ++seen;
    }
    bounds.most += may_be || seen == 0 ? 1 : 0;
    if (!is_first) continue;
    ++bounds.least;
    bounds.machines.push_back(row->serial);
  }
  return bounds;
}

// Those that the ledger has with another serial, and that mark, afterwards; nothing where it has
// none, as it may not tell of such things.
BlockAssembler::KindCounts::Bounds BlockAssembler::KindCounts::made_into(
    const Rows& rows, const std::string& mark) const {
  Bounds bounds;
  const auto is_it = [&](const Airframe& row, std::string_view serial) {
    const Airframe* other = serial.empty() ? nullptr : a_.ledger_.airframe(serial);
    return other != nullptr && other->type == row.type && other->mark == mark;
  };
  for (const Airframe* row : rows) {
    bool is_made = false;
    for (const Identity* identity : a_.ledger_.identities_of(row->serial))
      is_made = is_made || (identity->kind == "later_serial" && is_it(*row, identity->identity));
    std::string_view fate = row->fate;
    while (!fate.empty() && !is_made) {
      const std::size_t end = std::min(fate.find_first_of(" ,;"), fate.size());
      is_made = is_it(*row, fate.substr(0, end));
      fate.remove_prefix(std::min(end + 1, fate.size()));
    }
    if (!is_made) continue;
    ++bounds.least;
    bounds.machines.push_back(row->serial);
  }
  bounds.most = bounds.least;
  return bounds;
}

}  // namespace tailproof
