// What stands behind a Ledger: the rows of every table and the look-ups over them. Private to this
// station; everybody else asks the Ledger.
#pragma once

#include <cstdint>
#include <span>
#include <string>
#include <string_view>
#include <unordered_map>
#include <unordered_set>
#include <vector>

#include "ledger/closed_ranges.h"
#include "ledger/flat_map.h"
#include "ledger/text.h"
#include "source/text_hash.h"
#include "tailproof/ledger.h"

namespace tailproof {

/// Keeps one copy of each text and hands out views that stay.
class TextPool {
 public:
  std::string_view keep(std::string_view text);

 private:
  TextArena arena_;
  FlatMap<char> texts_;
  std::string_view last_;  // the rows of one card stand together
};

template <typename Value>
using ByText = std::unordered_map<std::string, Value, TextHash, std::equal_to<>>;
template <typename Value>
using ByKey = FlatMap<Value>;  // by views into the rows

/// The keys that one name may mean: nearly always one.
class NamedKeys {
 public:
  void add(std::string_view key);
  [[nodiscard]] std::span<const std::string_view> all() const {
    if (several_.empty()) return {&one_, 1};
    return several_;
  }

 private:
  std::string_view one_;
  std::vector<std::string_view> several_;
};

/// What identities.csv makes one airframe: rows of each table, by index, in order of `from`.
struct Machine {
  std::span<std::uint32_t> airframes, identities, histories, photographs;  // of MachineRows
  std::vector<std::string_view> serials;
};

/// The rows of all machines, those of one together.
struct MachineRows {
  std::vector<std::uint32_t> airframes, identities, histories, photographs;
};

struct LedgerTables {
  std::string path;
  LedgerSettings settings;
  ClosedRanges closed_ranges;
  std::unordered_set<std::string, TextHash, std::equal_to<>> closed_tables, present;
  TextPool pool;

  std::vector<Airframe> airframes;
  std::vector<Identity> identities;
  std::vector<History> histories;
  std::vector<Unit> units;
  std::vector<Station> stations;
  std::vector<Place> places;
  std::vector<Person> people;
  std::vector<Service> service;
  std::vector<Rank> ranks;
  std::vector<Award> awards;
  std::vector<AircraftType> types;
  std::vector<Marking> markings;
  std::vector<Order> orders;
  std::vector<Sequence> sequences;
  std::vector<Combination> combinations;
  std::vector<Photograph> photographs;

  // Filled by index_keys(), before names are resolved.
  ByKey<std::uint32_t> airframe_by_key, unit_by_key, place_by_key, person_by_key, rank_by_key,
      award_by_key, type_by_key, marking_by_key, photograph_by_key;
  static constexpr std::size_t kNameKinds = 11;
  FlatMap<NamedKeys> keys_by_name[kNameKinds];  // folded name to keys
  TextArena folded;                             // the texts of folded names

  // Filled by index_machines() and index_rows(), after names are resolved.
  std::vector<Machine> machines;
  MachineRows machine_rows;
  ByKey<std::uint32_t> machine_by_serial;
  struct Bearers {
    std::uint32_t first = 0, last = 0;  // rows
  };
  FlatMap<Bearers> identities_by_folded;
  std::vector<std::uint32_t> next_bearer;  // by identities row: the next of that name, or itself
  ByKey<std::vector<std::uint32_t>> stations_by_unit, service_by_person, orders_by_marking;
};

/// Calls `visit` with the rows of each table.
template <typename Tables, typename Visit>
void for_each_table(Tables& tables, Visit&& visit) {
  visit(tables.airframes);
  visit(tables.identities);
  visit(tables.histories);
  visit(tables.units);
  visit(tables.stations);
  visit(tables.places);
  visit(tables.people);
  visit(tables.service);
  visit(tables.ranks);
  visit(tables.awards);
  visit(tables.types);
  visit(tables.markings);
  visit(tables.orders);
  visit(tables.sequences);
  visit(tables.combinations);
  visit(tables.photographs);
}

/// In this order, once each, when all rows are in place and will not move any more.
void index_keys(LedgerTables& tables);
void resolve_names(LedgerTables& tables);
void index_machines(LedgerTables& tables);
void index_rows(LedgerTables& tables);
void settle_spells(LedgerTables& tables);

/// The keys that `text` may mean, folded; empty when none.
[[nodiscard]] std::span<const std::string_view> keys_named(const LedgerTables& tables,
                                                           NameKind kind, std::string_view text);

/// What "Bar to " and the like leave of an award; the whole when it is no bar.
[[nodiscard]] std::string_view award_under_bar(std::string_view award);

/// Order of `from`: unknown first, then by the first possible day.
[[nodiscard]] Day begin_of(const Spell& spell);

}  // namespace tailproof
