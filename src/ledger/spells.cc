// What an empty `to` means: the rules stand at Spell in the public header.
#include <algorithm>
#include <array>
#include <map>
#include <span>

#include "ledger/tables.h"

namespace tailproof {
namespace {

constexpr std::array<std::string_view, 6> kHoldingKinds = {"allotted", "loaned",   "stored",
                                                           "captured", "interned", "instructional"};

bool is_holding(const History& row) {
  return std::find(kHoldingKinds.begin(), kHoldingKinds.end(), row.kind) != kHoldingKinds.end();
}

// A repair done by a unit takes the machine out of its holder's hands.
bool ends_holding(const History& row) {
  return is_holding(row) || (row.kind == "repair" && !row.role.empty() && !row.unit.empty());
}

std::string_view role_of(const History& row) {
  if (!row.role.empty()) return row.role;
  return row.kind == "loaned" ? "operator" : "holder";
}

Day first_of(const Edtf& date) {
  return date.is_unknown() || date.days().empty() ? kFirstDay : date.days().first();
}

void settle(Spell& spell, const Edtf& end) {
  if (!spell.to.is_unknown() || end.is_unknown() || first_of(end) < begin_of(spell)) return;
  spell.to = end;
  spell.ends_by_rule = true;
}

template <typename Row>
void sort_by_begin(const std::vector<Row>& rows, std::span<std::uint32_t> indices) {
  const auto is_earlier = [&](std::uint32_t a, std::uint32_t b) {
    return begin_of(rows[a].spell) < begin_of(rows[b].spell);
  };
  // As most are written; sorting would ask for memory.
  if (std::is_sorted(indices.begin(), indices.end(), is_earlier)) return;
  std::stable_sort(indices.begin(), indices.end(), is_earlier);
}

// Settles rows that follow each other within a series (one role, one kind). `indices` are in order
// of `from`; `series` names a row's series, `opens` says whether it may end an earlier row of the
// series, `last` is the end where no row follows. Backwards, group by group of one beginning: rows
// that begin on one day do not end each other.
template <typename Row, typename Series, typename Settles, typename Opens, typename Last>
void settle_series(std::vector<Row>& rows, std::span<const std::uint32_t> indices, Series series,
                   Settles settles, Opens opens, Last last) {
  std::map<std::string_view, const Row*> next;
  for (std::size_t end = indices.size(); end > 0;) {
    std::size_t begin = end - 1;
    const Day day = begin_of(rows[indices[begin]].spell);
    while (begin > 0 && begin_of(rows[indices[begin - 1]].spell) == day) --begin;
    for (std::size_t i = begin; i < end; ++i) {
      Row& row = rows[indices[i]];
      if (!settles(row)) continue;
      Edtf limit = last(row);
      if (!limit.is_unknown() && first_of(limit) < day) limit = Edtf{};
      if (const auto found = next.find(series(row)); found != next.end()) {
        const Edtf& follows = found->second->spell.from;
        if (limit.is_unknown() || first_of(follows) < first_of(limit)) limit = follows;
      }
      settle(row.spell, limit);
    }
    for (std::size_t i = begin; i < end; ++i) {
      const Row& row = rows[indices[i]];
      if (opens(row) && !row.spell.from.is_unknown()) next[series(row)] = &row;
    }
    end = begin;
  }
}

void settle_event(History& row) {
  if (is_holding(row) || (!row.spell.from.is_unknown() && !row.spell.to.is_unknown())) return;
  if (row.spell.from.is_unknown() && row.kind != "repair") {
    row.spell.from = row.spell.to;  // only one date was filled in: it is that of the event
    return;
  }
  settle(row.spell, row.spell.from);
}

// Day of loss, else of striking off: the later serial's row counts where there are two.
Edtf end_of_machine(const LedgerTables& tables, const Machine& machine) {
  Edtf end;
  if (!machine.airframes.empty()) {
    end = tables.airframes[machine.airframes.back()].struck_off_charge;
  }
  Day last_begin = kFirstDay;
  for (const std::uint32_t i : machine.histories) {
    last_begin = std::max(last_begin, begin_of(tables.histories[i].spell));
  }
  for (const std::uint32_t i : machine.histories) {
    const History& row = tables.histories[i];
    // One that was lost and found again has rows after it.
    if (row.kind != "lost" || row.spell.from.is_unknown()) continue;
    if (begin_of(row.spell) < last_begin) continue;
    if (end.is_unknown() || first_of(row.spell.from) < first_of(end)) end = row.spell.from;
  }
  return end;
}

void settle_machine(LedgerTables& tables, Machine& machine) {
  for (const std::uint32_t i : machine.histories) settle_event(tables.histories[i]);
  sort_by_begin(tables.histories, machine.histories);
  sort_by_begin(tables.identities, machine.identities);
  const bool any_open =
      std::any_of(machine.histories.begin(), machine.histories.end(),
                  [&](auto i) { return tables.histories[i].spell.to.is_unknown(); }) ||
      std::any_of(machine.identities.begin(), machine.identities.end(),
                  [&](auto i) { return tables.identities[i].spell.to.is_unknown(); });
  if (!any_open) return;

  const Edtf end = end_of_machine(tables, machine);
  settle_series(tables.histories, machine.histories, role_of, is_holding, ends_holding,
                [&](const History&) -> const Edtf& { return end; });

  const auto follows_itself = [](const Identity& row) {
    return row.kind == "code" || row.kind == "radio_call";
  };
  settle_series(
      tables.identities, machine.identities,
      [](const Identity& row) -> std::string_view { return row.kind; },
      [](const Identity&) { return true; }, follows_itself,
      [&](const Identity& row) {
        if (row.kind != "previous_serial") return end;
        const auto own = tables.airframe_by_key.find(row.serial);
        return own == tables.airframe_by_key.end() ? Edtf{}
                                                   : tables.airframes[own->second].taken_on_charge;
      });
}

}  // namespace

void settle_spells(LedgerTables& tables) {
  for (Machine& machine : tables.machines) settle_machine(tables, machine);

  for (auto& [unit, indices] : tables.stations_by_unit) {
    sort_by_begin(tables.stations, indices);
    const auto found = tables.unit_by_key.find(unit);
    const Edtf disbanded =
        found == tables.unit_by_key.end() ? Edtf{} : tables.units[found->second].disbanded;
    settle_series(
        tables.stations, indices, [](const Station&) { return std::string_view{}; },
        [](const Station&) { return true; }, [](const Station&) { return true; },
        [&](const Station&) { return disbanded; });
  }
  for (auto& [person, indices] : tables.service_by_person) {
    sort_by_begin(tables.service, indices);
    settle_series(
        tables.service, indices, [](const Service& row) -> std::string_view { return row.kind; },
        [](const Service& row) { return row.kind != "award"; },
        [](const Service& row) { return row.kind != "award"; },
        [](const Service&) { return Edtf{}; });
  }
}

}  // namespace tailproof
