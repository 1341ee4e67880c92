// Which rows are about one and the same airframe.
#include <algorithm>
#include <span>
#include <tuple>

#include "ledger/tables.h"

namespace tailproof {
namespace {

class DisjointSets {
 public:
  std::uint32_t add() {
    parents_.push_back(static_cast<std::uint32_t>(parents_.size()));
    return parents_.back();
  }
  std::uint32_t root(std::uint32_t element) {
    while (parents_[element] != element) {
      parents_[element] = parents_[parents_[element]];
      element = parents_[element];
    }
    return element;
  }
  // The older root stays, so that numbers follow the order of the tables.
  void unite(std::uint32_t a, std::uint32_t b) {
    a = root(a);
    b = root(b);
    parents_[std::max(a, b)] = std::min(a, b);
  }
  [[nodiscard]] std::size_t size() const { return parents_.size(); }

 private:
  std::vector<std::uint32_t> parents_;
};

bool is_serial_link(const Identity& row) {
  return row.kind == "previous_serial" || row.kind == "later_serial";
}

struct RowOfMachine {
  std::uint32_t machine = 0, row = 0;
};

// Puts the rows of each machine together, in the order given, and tells the machine where.
void hand_out(const std::vector<RowOfMachine>& rows, std::vector<std::uint32_t>& store,
              std::vector<Machine>& machines, std::span<std::uint32_t> Machine::*member) {
  std::vector<std::uint32_t> next(machines.size() + 1);
  for (const RowOfMachine& row : rows) ++next[row.machine + 1];
  for (std::size_t i = 1; i < next.size(); ++i) next[i] += next[i - 1];
  store.resize(rows.size());
  for (std::size_t i = 0; i < machines.size(); ++i) {
    machines[i].*member = std::span(store).subspan(next[i], next[i + 1] - next[i]);
  }
  for (const RowOfMachine& row : rows) store[next[row.machine]++] = row.row;
}

}  // namespace

void index_machines(LedgerTables& tables) {
  DisjointSets sets;
  auto& ids = tables.machine_by_serial;
  ids.reserve(tables.airframes.size() + tables.identities.size());
  const auto id_of = [&](std::string_view serial) {
    const auto [entry, is_new] = ids.try_emplace(serial);
    if (is_new) entry->second = sets.add();
    return entry->second;
  };
  for (const Airframe& row : tables.airframes) id_of(row.serial);
  for (const Identity& row : tables.identities) id_of(row.serial);
  std::vector<std::uint32_t> history_ids;
  history_ids.reserve(tables.histories.size());
  for (const History& row : tables.histories) {
    const bool as_above = !history_ids.empty() && row.serial == (&row - 1)->serial;
    history_ids.push_back(as_above ? history_ids.back() : id_of(row.serial));
  }

  // A serial without a row of its own joins what names it. Where two machines both claim it as
  // their former number (or both as their later one), the numbers of some other service have been
  // used twice: that makes them no single machine, and it goes with the first.
  ByKey<std::uint32_t> first_former, first_later;
  for (const Identity& row : tables.identities) {
    if (!is_serial_link(row)) continue;
    const std::uint32_t serial = id_of(row.serial);
    const std::uint32_t identity = id_of(row.identity);
    const bool has_row = tables.airframe_by_key.contains(row.identity);
    auto& firsts = row.kind == "previous_serial" ? first_former : first_later;
    const bool is_first = firsts.try_emplace(row.identity, serial).second;
    if (has_row || is_first) sets.unite(serial, identity);
  }

  // Roots become machines, in order.
  std::vector<std::uint32_t> machine_of(sets.size());
  std::uint32_t count = 0;
  for (std::uint32_t id = 0; id < sets.size(); ++id) {
    machine_of[id] = sets.root(id) == id ? count++ : machine_of[sets.root(id)];
  }
  tables.machines.resize(count);
  for (auto& [serial, id] : ids) id = machine_of[id];
  for (std::uint32_t& id : history_ids) id = machine_of[id];

  const auto add_serial = [&](std::string_view serial) {
    auto& serials = tables.machines[ids.at(serial)].serials;
    if (std::find(serials.begin(), serials.end(), serial) == serials.end()) {
      serials.push_back(serial);
    }
  };
  std::vector<RowOfMachine> rows;
  rows.reserve(std::max(tables.airframes.size(), tables.histories.size()));
  for (std::uint32_t i = 0; i < tables.airframes.size(); ++i) {
    Airframe& row = tables.airframes[i];
    row.machine = ids.at(row.serial);
    rows.push_back({row.machine, i});
    add_serial(row.serial);
  }
  hand_out(rows, tables.machine_rows.airframes, tables.machines, &Machine::airframes);
  rows.clear();
  for (std::uint32_t i = 0; i < tables.identities.size(); ++i) {
    const Identity& row = tables.identities[i];
    rows.push_back({ids.at(row.serial), i});
    add_serial(row.serial);
    if (is_serial_link(row)) add_serial(row.identity);
  }
  hand_out(rows, tables.machine_rows.identities, tables.machines, &Machine::identities);
  rows.clear();
  for (std::uint32_t i = 0; i < tables.histories.size(); ++i) {
    const std::uint32_t machine = history_ids[i];
    rows.push_back({machine, i});
    if (tables.machines[machine].serials.empty()) add_serial(tables.histories[i].serial);
  }
  hand_out(rows, tables.machine_rows.histories, tables.machines, &Machine::histories);
  rows.clear();
  for (std::uint32_t i = 0; i < tables.photographs.size(); ++i) {
    std::vector<std::uint32_t> shown;  // two serials may be one machine
    for (const std::string& serial : tables.photographs[i].depicts) {
      const auto found = ids.find(serial);
      if (found == ids.end()) continue;
      if (std::find(shown.begin(), shown.end(), found->second) != shown.end()) continue;
      shown.push_back(found->second);
      rows.push_back({found->second, i});
    }
  }
  hand_out(rows, tables.machine_rows.photographs, tables.machines, &Machine::photographs);

  // Oldest first: the row that another succeeds, then by the day of taking on charge.
  for (Machine& machine : tables.machines) {
    if (machine.airframes.size() < 2) continue;
    const auto key = [&](std::uint32_t i) {
      const Airframe& row = tables.airframes[i];
      const bool has_successor = std::any_of(
          machine.identities.begin(), machine.identities.end(), [&](std::uint32_t identity) {
            const Identity& link = tables.identities[identity];
            return (link.kind == "later_serial" && link.serial == row.serial) ||
                   (link.kind == "previous_serial" && link.identity == row.serial);
          });
      const Day begin = !row.taken_on_charge.is_unknown() && !row.taken_on_charge.days().empty()
                            ? row.taken_on_charge.days().first()
                        : has_successor ? kFirstDay
                                        : kLastDay;
      return std::make_tuple(begin, !has_successor, i);
    };
    std::sort(machine.airframes.begin(), machine.airframes.end(),
              [&](std::uint32_t a, std::uint32_t b) { return key(a) < key(b); });
  }
}

}  // namespace tailproof
