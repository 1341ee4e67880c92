// Which rows are about one and the same airframe.
#include <algorithm>
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

}  // namespace

void index_machines(LedgerTables& tables) {
  DisjointSets sets;
  auto& ids = tables.machine_by_serial;
  ids.reserve(tables.airframes.size() + tables.identities.size());
  const auto id_of = [&](std::string_view serial) {
    const auto [entry, is_new] = ids.try_emplace(serial, 0);
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
  for (std::uint32_t i = 0; i < tables.airframes.size(); ++i) {
    Airframe& row = tables.airframes[i];
    row.machine = ids.at(row.serial);
    tables.machines[row.machine].airframes.push_back(i);
    add_serial(row.serial);
  }
  for (std::uint32_t i = 0; i < tables.identities.size(); ++i) {
    const Identity& row = tables.identities[i];
    tables.machines[ids.at(row.serial)].identities.push_back(i);
    add_serial(row.serial);
    if (is_serial_link(row)) add_serial(row.identity);
  }
  for (std::uint32_t i = 0; i < tables.histories.size(); ++i) {
    const std::uint32_t machine = history_ids[i];
    tables.machines[machine].histories.push_back(i);
    if (tables.machines[machine].serials.empty()) add_serial(tables.histories[i].serial);
  }
  for (std::uint32_t i = 0; i < tables.photographs.size(); ++i) {
    for (const std::string& serial : tables.photographs[i].depicts) {
      const auto found = ids.find(serial);
      if (found == ids.end()) continue;
      auto& pictures = tables.machines[found->second].photographs;
      if (pictures.empty() || pictures.back() != i) pictures.push_back(i);
    }
  }

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
