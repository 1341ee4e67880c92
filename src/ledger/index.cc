// Look-ups by key and name, and the resolving of the names that cells hold.
#include <algorithm>

#include "ledger/columns.h"
#include "ledger/tables.h"

namespace tailproof {
namespace {

std::size_t slot(NameKind kind) { return static_cast<std::size_t>(kind); }

void add_name(LedgerTables& tables, NameKind kind, std::string_view name, std::string_view key) {
  auto& names = tables.keys_by_name[slot(kind)];
  const std::string folded = folded_name(name);
  const auto [entry, is_new] = names.try_emplace(folded);
  // Its text is kept only when nothing else has it.
  if (is_new) entry->first = tables.folded.keep(folded);
  entry->second.add(key);
}

template <typename Row>
void index_table(LedgerTables& tables, NameKind kind, const std::vector<Row>& rows,
                 std::string Row::*key, const std::vector<std::string> Row::*others,
                 ByKey<std::uint32_t>& by_key) {
  by_key.reserve(rows.size());
  tables.keys_by_name[slot(kind)].reserve(rows.size());
  for (std::uint32_t i = 0; i < rows.size(); ++i) {
    const std::string& name = rows[i].*key;
    by_key.emplace(name, i);
    add_name(tables, kind, name, name);
    if (others == nullptr) continue;
    for (const std::string& other : rows[i].*others) add_name(tables, kind, other, name);
  }
}

class Resolver {
 public:
  explicit Resolver(const LedgerTables& tables) : tables_(tables) {}

  // A name of one key becomes that key; a key, a name of several or of none stays.
  void resolve(NameKind kind, std::string& cell) const {
    if (cell.empty() || is_key(kind, cell)) return;
    if (kind == NameKind::kAward) {
      const std::string_view award = award_under_bar(cell);
      if (award.size() < cell.size()) {
        std::string under(award);
        resolve(kind, under);
        cell.replace(cell.size() - award.size(), award.size(), under);
        return;
      }
    }
    const auto keys = keys_named(tables_, kind, cell);
    if (keys.size() == 1) cell = keys.front();
  }

 private:
  [[nodiscard]] bool is_key(NameKind kind, std::string_view cell) const {
    switch (kind) {
      case NameKind::kAirframe:
        return tables_.airframe_by_key.contains(cell);
      case NameKind::kUnit:
        return tables_.unit_by_key.contains(cell);
      case NameKind::kPlace:
        return tables_.place_by_key.contains(cell);
      case NameKind::kPerson:
        return tables_.person_by_key.contains(cell);
      default:
        return false;  // small tables: the look-up by name finds the key itself first
    }
  }

  const LedgerTables& tables_;
};

}  // namespace

std::string_view TextPool::keep(std::string_view text) {
  if (text.empty()) return {};
  if (text == last_) return last_;
  const auto [entry, is_new] = texts_.try_emplace(text);
  if (is_new) entry->first = arena_.keep(text);
  return last_ = entry->first;
}

void NamedKeys::add(std::string_view key) {
  if (one_.empty()) one_ = key;
  if (one_ == key || std::find(several_.begin(), several_.end(), key) != several_.end()) return;
  if (several_.empty()) several_.push_back(one_);
  several_.push_back(key);
}

std::span<const std::string_view> keys_named(const LedgerTables& tables, NameKind kind,
                                             std::string_view text) {
  const auto& names = tables.keys_by_name[slot(kind)];
  const auto found = names.find(folded_name(text));
  return found == names.end() ? std::span<const std::string_view>{} : found->second.all();
}

std::string_view award_under_bar(std::string_view award) {
  constexpr std::string_view kBar = "bar to ";
  for (std::size_t at = 0; at + kBar.size() < award.size(); ++at) {
    const bool begins_word = at == 0 || award[at - 1] == ' ';
    const bool is_bar = std::equal(kBar.begin(), kBar.end(), award.begin() + static_cast<long>(at),
                                   [](char bar, char c) { return bar == c || bar - 32 == c; });
    if (!begins_word || !(is_bar && award[at + 3] == ' ')) continue;
    std::string_view rest = award.substr(at + kBar.size());
    if (rest.starts_with("the ")) rest.remove_prefix(4);
    return rest;
  }
  return award;
}

Day begin_of(const Spell& spell) {
  const DaySet& days = spell.from.days();
  return spell.from.is_unknown() || days.empty() ? kFirstDay : days.first();
}

void index_keys(LedgerTables& tables) {
  const std::vector<std::string> Airframe::*no_others = nullptr;
  index_table(tables, NameKind::kAirframe, tables.airframes, &Airframe::serial, no_others,
              tables.airframe_by_key);
  index_table<Unit>(tables, NameKind::kUnit, tables.units, &Unit::unit, &Unit::aliases,
                    tables.unit_by_key);
  index_table<Place>(tables, NameKind::kPlace, tables.places, &Place::place, &Place::aliases,
                     tables.place_by_key);
  index_table<Person>(tables, NameKind::kPerson, tables.people, &Person::person, &Person::aliases,
                      tables.person_by_key);
  index_table<Rank>(tables, NameKind::kRank, tables.ranks, &Rank::rank, &Rank::abbreviations,
                    tables.rank_by_key);
  index_table<Award>(tables, NameKind::kAward, tables.awards, &Award::award, &Award::abbreviations,
                     tables.award_by_key);
  index_table<AircraftType>(tables, NameKind::kType, tables.types, &AircraftType::type,
                            &AircraftType::aliases, tables.type_by_key);
  index_table<Marking>(tables, NameKind::kMarking, tables.markings, &Marking::marking,
                       &Marking::aliases, tables.marking_by_key);
  const std::vector<std::string> Photograph::*no_names = nullptr;
  index_table(tables, NameKind::kPhotograph, tables.photographs, &Photograph::photograph, no_names,
              tables.photograph_by_key);
  for (const Order& order : tables.orders) {
    add_name(tables, NameKind::kOrder, order.order, order.order);
  }
}

void resolve_names(LedgerTables& tables) {
  const Resolver resolver(tables);
  for_each_table(tables, [&]<typename Row>(std::vector<Row>& rows) {
    for (const Column<Row>& column : kTable<Row>.columns) {
      if (!column.names) continue;
      const std::string* above = nullptr;  // rows of one airframe stand together
      for (Row& row : rows) {
        if (column.text != nullptr) {
          std::string& cell = row.*column.text;
          if (above == nullptr || cell != *above) resolver.resolve(*column.names, cell);
          above = &cell;
        }
        if (column.list == nullptr) continue;
        for (std::string& cell : row.*column.list) resolver.resolve(*column.names, cell);
      }
    }
  });
  for (Service& row : tables.service) resolver.resolve(value_names(row), row.value);
  for (Identity& row : tables.identities) {
    if (row.kind == "previous_serial" || row.kind == "later_serial") {
      resolver.resolve(NameKind::kAirframe, row.identity);
    }
  }
}

void index_rows(LedgerTables& tables) {
  tables.next_bearer.resize(tables.identities.size());
  tables.identities_by_folded.reserve(tables.identities.size());
  for (std::uint32_t i = 0; i < tables.identities.size(); ++i) {
    const std::string folded = folded_identity(tables.identities[i].identity);
    const auto [entry, is_new] = tables.identities_by_folded.try_emplace(folded, {i, i});
    if (is_new) entry->first = tables.folded.keep(folded);
    tables.next_bearer[entry->second.last] = i;
    tables.next_bearer[i] = i;
    entry->second.last = i;
  }
  for (std::uint32_t i = 0; i < tables.stations.size(); ++i) {
    tables.stations_by_unit[tables.stations[i].unit].push_back(i);
  }
  for (std::uint32_t i = 0; i < tables.service.size(); ++i) {
    tables.service_by_person[tables.service[i].person].push_back(i);
  }
  for (std::uint32_t i = 0; i < tables.orders.size(); ++i) {
    tables.orders_by_marking[tables.orders[i].marking].push_back(i);
  }
}

}  // namespace tailproof
