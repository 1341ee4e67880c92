#include "tailproof/ledger.h"

#include <algorithm>
#include <span>

#include "ledger/builder.h"
#include "ledger/columns.h"
#include "ledger/questions.h"
#include "ledger/tables.h"

namespace tailproof {
namespace {

// Parents of units and places in bad data may form a ring.
constexpr int kDeepest = 64;

template <typename Row>
const Row* row_at(const std::vector<Row>& rows, const ByKey<std::uint32_t>& by_key,
                  std::string_view key) {
  const auto found = by_key.find(key);
  return found == by_key.end() ? nullptr : &rows[found->second];
}

template <typename Row>
std::vector<const Row*> rows_at(const std::vector<Row>& rows,
                                std::span<const std::uint32_t> indices) {
  std::vector<const Row*> out;
  out.reserve(indices.size());
  for (const std::uint32_t i : indices) out.push_back(&rows[i]);
  return out;
}

template <typename Row, typename Index>
std::vector<const Row*> rows_by(const std::vector<Row>& rows, const Index& index,
                                std::string_view key) {
  const auto found = index.find(key);
  return found == index.end() ? std::vector<const Row*>{} : rows_at(rows, found->second);
}

std::string_view without_csv(std::string_view table) {
  return table.ends_with(".csv") ? table.substr(0, table.size() - 4) : table;
}

// Both ends of a life are gathered from rows and former or later numbers alike.
class LifeOfMachine {
 public:
  LifeOfMachine(const LedgerTables& tables, const Machine& machine, bool with_margins)
      : tables_(tables),
        machine_(machine),
        margins_(with_margins ? &tables.settings.margins : nullptr) {}

  [[nodiscard]] DaySet days() const {
    const Day first = begin();
    const Day last = end();
    // Struck off before taken on: the audit says so; here the days between are all there is.
    return DaySet{DayRange{std::min(first, last), std::max(first, last)}};
  }

 private:
  [[nodiscard]] DaySet days_of(const Edtf& date) const {
    return margins_ != nullptr ? date.widened(*margins_) : date.days();
  }

  [[nodiscard]] bool has_former(const Airframe& row) const {
    return has_link(row, "previous_serial", "later_serial");
  }
  [[nodiscard]] bool has_later(const Airframe& row) const {
    return has_link(row, "later_serial", "previous_serial");
  }
  [[nodiscard]] bool has_link(const Airframe& row, std::string_view own,
                              std::string_view other) const {
    return std::any_of(machine_.identities.begin(), machine_.identities.end(), [&](auto i) {
      const Identity& link = tables_.identities[i];
      return (link.kind == own && link.serial == row.serial) ||
             (link.kind == other && link.identity == row.serial);
    });
  }

  [[nodiscard]] Day begin() const {
    Day first = kLastDay;
    for (const std::uint32_t i : machine_.airframes) {
      const Airframe& row = tables_.airframes[i];
      const DaySet days = days_of(row.taken_on_charge);
      if (!row.taken_on_charge.is_unknown() && !days.empty()) {
        first = std::min(first, days.first());
      } else if (!has_former(row)) {
        return kFirstDay;
      }
    }
    for (const std::uint32_t i : machine_.identities) {
      const Identity& link = tables_.identities[i];
      if (link.kind != "previous_serial") continue;
      const DaySet days = days_of(link.spell.from);
      if (!link.spell.from.is_unknown() && !days.empty()) {
        first = std::min(first, days.first());
      } else if (!tables_.airframe_by_key.contains(link.identity)) {
        return kFirstDay;  // its days with another service are not on the cards
      }
    }
    return first == kLastDay ? kFirstDay : first;
  }

  [[nodiscard]] Day end() const {
    Day last = kFirstDay;
    for (const std::uint32_t i : machine_.airframes) {
      const Airframe& row = tables_.airframes[i];
      const DaySet days = days_of(row.struck_off_charge);
      if (!row.struck_off_charge.is_unknown() && !days.empty()) {
        last = std::max(last, days.last());
      } else if (!has_later(row)) {
        return kLastDay;
      }
    }
    for (const std::uint32_t i : machine_.identities) {
      const Identity& link = tables_.identities[i];
      if (link.kind != "later_serial" || tables_.airframe_by_key.contains(link.identity)) continue;
      const DaySet days = days_of(link.spell.to);
      if (!link.spell.to.is_unknown() && !days.empty()) {
        last = std::max(last, days.last());
      } else if (begin_of(link.spell) > last) {
        return kLastDay;  // it went on under the later number, until nobody knows when
      }
    }
    return last == kFirstDay ? kLastDay : last;
  }

  const LedgerTables& tables_;
  const Machine& machine_;
  const Margins* margins_;
};

}  // namespace

struct Ledger::Data {
  LedgerTables tables;
  std::shared_ptr<LedgerQuestions> questions;  // null: the tables hold all there is

  // Each of these is told what was asked for beyond the rows at hand.
  [[nodiscard]] const Machine* machine_at(std::string_view serial) const {
    const auto found = tables.machine_by_serial.find(serial);
    if (found != tables.machine_by_serial.end()) return &tables.machines[found->second];
    ask(serial);
    return nullptr;
  }
  void ask(std::string_view name) const {
    if (questions != nullptr) questions->ask(name);
  }
  void ask_for_all() const {
    if (questions != nullptr) questions->ask_for_all();
  }
};

Ledger::Ledger() : data_(std::make_unique<Data>()) {}
Ledger::Ledger(Ledger&&) noexcept = default;
Ledger& Ledger::operator=(Ledger&&) noexcept = default;
Ledger::~Ledger() = default;

LedgerTables& LedgerBuilder::tables() { return ledger_.data_->tables; }

Ledger LedgerBuilder::finish(std::shared_ptr<LedgerQuestions> questions) {
  LedgerTables& tables = ledger_.data_->tables;
  index_keys(tables);
  resolve_names(tables);
  index_machines(tables);
  index_rows(tables);
  settle_spells(tables);
  ledger_.data_->questions = std::move(questions);
  return std::move(ledger_);
}

const LedgerSettings& Ledger::settings() const { return data_->tables.settings; }
const std::string& Ledger::path() const { return data_->tables.path; }

std::span<const Airframe> Ledger::airframes() const {
  data_->ask_for_all();
  return data_->tables.airframes;
}
std::span<const Identity> Ledger::identities() const {
  data_->ask_for_all();
  return data_->tables.identities;
}
std::span<const History> Ledger::histories() const {
  data_->ask_for_all();
  return data_->tables.histories;
}
std::span<const Airframe> Ledger::airframes_at_hand() const { return data_->tables.airframes; }
std::span<const Identity> Ledger::identities_at_hand() const { return data_->tables.identities; }
std::span<const Photograph> Ledger::photographs_at_hand() const {
  return data_->tables.photographs;
}

std::vector<const Airframe*> Ledger::airframes_of_type(std::string_view type) const {
  if (data_->questions != nullptr) data_->questions->ask_type(type);
  std::vector<const Airframe*> rows;
  for (const Airframe& row : data_->tables.airframes) {
    if (row.type == type) rows.push_back(&row);
  }
  return rows;
}

std::span<const Unit> Ledger::units() const { return data_->tables.units; }
std::span<const Station> Ledger::stations() const { return data_->tables.stations; }
std::span<const Place> Ledger::places() const { return data_->tables.places; }
std::span<const Person> Ledger::people() const { return data_->tables.people; }
std::span<const Service> Ledger::service() const { return data_->tables.service; }
std::span<const Rank> Ledger::ranks() const { return data_->tables.ranks; }
std::span<const Award> Ledger::awards() const { return data_->tables.awards; }
std::span<const AircraftType> Ledger::types() const { return data_->tables.types; }
std::span<const Marking> Ledger::markings() const { return data_->tables.markings; }
std::span<const Order> Ledger::orders() const { return data_->tables.orders; }
std::span<const Sequence> Ledger::sequences() const { return data_->tables.sequences; }
std::span<const Combination> Ledger::combinations() const { return data_->tables.combinations; }
std::span<const Photograph> Ledger::photographs() const {
  data_->ask_for_all();
  return data_->tables.photographs;
}

const Airframe* Ledger::airframe(std::string_view serial) const {
  const Airframe* row = row_at(data_->tables.airframes, data_->tables.airframe_by_key, serial);
  if (row == nullptr) data_->ask(serial);
  return row;
}
const Unit* Ledger::unit(std::string_view key) const {
  return row_at(data_->tables.units, data_->tables.unit_by_key, key);
}
const Place* Ledger::place(std::string_view key) const {
  return row_at(data_->tables.places, data_->tables.place_by_key, key);
}
const Person* Ledger::person(std::string_view key) const {
  return row_at(data_->tables.people, data_->tables.person_by_key, key);
}
const Rank* Ledger::rank(std::string_view key) const {
  return row_at(data_->tables.ranks, data_->tables.rank_by_key, key);
}
const Award* Ledger::award(std::string_view key) const {
  const Award* own = row_at(data_->tables.awards, data_->tables.award_by_key, key);
  if (own != nullptr) return own;
  return row_at(data_->tables.awards, data_->tables.award_by_key, award_under_bar(key));
}
const AircraftType* Ledger::type(std::string_view key) const {
  return row_at(data_->tables.types, data_->tables.type_by_key, key);
}
const Marking* Ledger::marking(std::string_view key) const {
  return row_at(data_->tables.markings, data_->tables.marking_by_key, key);
}
const Photograph* Ledger::photograph(std::string_view number) const {
  const Photograph* row =
      row_at(data_->tables.photographs, data_->tables.photograph_by_key, number);
  if (row == nullptr) data_->ask(number);
  return row;
}

std::vector<const Airframe*> Ledger::machine_of(std::string_view serial) const {
  const Machine* machine = data_->machine_at(serial);
  if (machine == nullptr) return {};
  return rows_at(data_->tables.airframes, machine->airframes);
}

std::vector<std::string_view> Ledger::serials_of(std::string_view serial) const {
  const Machine* machine = data_->machine_at(serial);
  return machine == nullptr ? std::vector<std::string_view>{} : machine->serials;
}

std::vector<const History*> Ledger::history_of(std::string_view serial) const {
  const Machine* machine = data_->machine_at(serial);
  if (machine == nullptr) return {};
  return rows_at(data_->tables.histories, machine->histories);
}

std::vector<const Identity*> Ledger::identities_of(std::string_view serial) const {
  const Machine* machine = data_->machine_at(serial);
  if (machine == nullptr) return {};
  return rows_at(data_->tables.identities, machine->identities);
}

std::vector<const Identity*> Ledger::bearers_of(std::string_view identity) const {
  data_->ask(identity);  // others may bear it too
  const LedgerTables& tables = data_->tables;
  std::vector<const Identity*> rows;
  const auto found = tables.identities_by_folded.find(folded_identity(identity));
  if (found == tables.identities_by_folded.end()) return rows;
  std::uint32_t row = found->second.first;
  for (;; row = tables.next_bearer[row]) {
    rows.push_back(&tables.identities[row]);
    if (row == found->second.last) return rows;
  }
}

std::optional<DaySet> Ledger::life_of(std::string_view serial, bool with_margins) const {
  const Machine* machine = data_->machine_at(serial);
  if (machine == nullptr || machine->airframes.empty()) return std::nullopt;
  return LifeOfMachine(data_->tables, *machine, with_margins).days();
}

std::vector<const Station*> Ledger::stations_of(std::string_view unit) const {
  return rows_by(data_->tables.stations, data_->tables.stations_by_unit, unit);
}
std::vector<const Service*> Ledger::service_of(std::string_view person) const {
  return rows_by(data_->tables.service, data_->tables.service_by_person, person);
}
std::vector<const Order*> Ledger::orders_of(std::string_view marking) const {
  return rows_by(data_->tables.orders, data_->tables.orders_by_marking, marking);
}

std::vector<const Photograph*> Ledger::photographs_of(std::string_view serial) const {
  const Machine* machine = data_->machine_at(serial);
  if (machine == nullptr) return {};
  return rows_at(data_->tables.photographs, machine->photographs);
}

bool Ledger::has_table(std::string_view table) const {
  return data_->tables.present.contains(without_csv(table));
}

bool Ledger::is_closed_table(std::string_view table) const {
  return data_->tables.closed_tables.contains(without_csv(table)) && has_table(table);
}

bool Ledger::is_in_closed_range(std::string_view serial) const {
  return data_->tables.closed_ranges.contain(serial);
}

bool Ledger::is_unit_within(std::string_view unit_key, std::string_view ancestor) const {
  for (int depth = 0; depth < kDeepest && !unit_key.empty(); ++depth) {
    if (unit_key == ancestor) return true;
    const Unit* row = unit(unit_key);
    if (row == nullptr) return false;
    unit_key = row->parent;
  }
  return false;
}

bool Ledger::is_place_within(std::string_view place_key, std::string_view region) const {
  for (int depth = 0; depth < kDeepest && !place_key.empty(); ++depth) {
    if (place_key == region) return true;
    const Place* row = place(place_key);
    if (row == nullptr) return false;
    place_key = row->within;
  }
  return false;
}

std::string_view Ledger::theatre_of(std::string_view place_key) const {
  for (int depth = 0; depth < kDeepest && !place_key.empty(); ++depth) {
    const Place* row = place(place_key);
    if (row == nullptr) return {};
    if (!row->theatre.empty()) return row->theatre;
    place_key = row->within;
  }
  return {};
}

std::vector<Name> Ledger::names() const {
  const LedgerTables& tables = data_->tables;
  std::vector<Name> out;
  const auto add_all = [&](NameKind kind, const auto& rows, auto key, auto others) {
    for (const auto& row : rows) {
      out.push_back({row.*key, kind, row.*key});
      for (const std::string& other : row.*others) {
        if (other != row.*key) out.push_back({other, kind, row.*key});
      }
    }
  };
  if (tables.settings.serial_forms.empty()) {
    for (const Airframe& row : tables.airframes) {
      out.push_back({row.serial, NameKind::kAirframe, row.serial});
    }
  }
  for (const Identity& row : tables.identities) {
    out.push_back({row.identity, NameKind::kIdentity, row.serial});
  }
  add_all(NameKind::kUnit, tables.units, &Unit::unit, &Unit::aliases);
  add_all(NameKind::kPlace, tables.places, &Place::place, &Place::aliases);
  add_all(NameKind::kPerson, tables.people, &Person::person, &Person::aliases);
  add_all(NameKind::kRank, tables.ranks, &Rank::rank, &Rank::abbreviations);
  add_all(NameKind::kAward, tables.awards, &Award::award, &Award::abbreviations);
  add_all(NameKind::kType, tables.types, &AircraftType::type, &AircraftType::aliases);
  add_all(NameKind::kMarking, tables.markings, &Marking::marking, &Marking::aliases);
  std::unordered_set<std::string_view> orders;
  for (const Order& row : tables.orders) {
    if (orders.insert(row.order).second) {
      out.push_back({row.order, NameKind::kOrder, row.order});
    }
  }
  for (const Photograph& row : tables.photographs) {
    out.push_back({row.photograph, NameKind::kPhotograph, row.photograph});
  }
  return out;
}

std::vector<std::string_view> Ledger::resolve(NameKind kind, std::string_view text) const {
  if (kind != NameKind::kIdentity) {
    if (kind == NameKind::kAirframe || kind == NameKind::kPhotograph) data_->ask(text);
    const auto keys = keys_named(data_->tables, kind, text);
    return {keys.begin(), keys.end()};
  }
  std::vector<std::string_view> serials;
  for (const Identity* row : bearers_of(text)) {
    if (std::find(serials.begin(), serials.end(), row->serial) == serials.end()) {
      serials.push_back(row->serial);
    }
  }
  return serials;
}

}  // namespace tailproof
