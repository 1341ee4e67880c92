// The columns of every ledger table: one row here is one column, and all that the reader, the
// resolving of names and the audit know of it. Every table has `source` and `note` besides.
//
// A new column is a new row; a new kind of cell is a new function beside the others.
#pragma once

#include <array>
#include <optional>
#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "tailproof/ledger.h"

namespace tailproof {

enum class Need {
  kKey,       // the table is nothing without this column, the row nothing without this cell
  kUnique,    // a key besides, that no second row may have
  kOptional,  // an empty cell is unknown
};

template <typename Row>
struct Column {
  std::string_view name;
  Need need = Need::kOptional;
  // Where the cell goes; exactly one of these is set.
  std::string Row::*text = nullptr;
  std::vector<std::string> Row::*list = nullptr;
  Edtf Row::*date = nullptr;
  Edtf Spell::*spell_end = nullptr;
  std::string (*assign)(Row& row, std::string_view cell) = nullptr;  // returns what is wrong, or ""
  // What may stand in a text cell; empty: anything.
  std::span<const std::string_view> words = {};
  // The cell (or each value of the list) names keys of that table.
  std::optional<NameKind> names = std::nullopt;
};

inline constexpr std::array<std::string_view, 5> kIdentityKinds = {
    "previous_serial", "later_serial", "code", "radio_call", "nickname"};
inline constexpr std::array<std::string_view, 12> kHistoryKinds = {
    "allotted", "loaned",  "stored",   "repair",   "accident", "repaint",
    "modified", "ferried", "captured", "interned", "lost",     "instructional"};
inline constexpr std::array<std::string_view, 2> kRoles = {"holder", "operator"};
inline constexpr std::array<std::string_view, 4> kServiceKinds = {"rank", "unit", "command",
                                                                  "award"};

// Cells that are neither text, list nor date (columns.cc).
std::string assign_seniority(Rank& row, std::string_view cell);
std::string assign_grace(Order& row, std::string_view cell);
std::string assign_action(Order& row, std::string_view cell);
std::string assign_strength(Sequence& row, std::string_view cell);
std::string assign_relation(Combination& row, std::string_view cell);

template <typename Row>
inline constexpr int kTable = 0;  // specialised below

template <typename Row, std::size_t kCount>
struct Table {
  std::string_view name;  // without ".csv"
  std::array<Column<Row>, kCount> columns;
};

template <>
inline constexpr Table<Airframe, 7> kTable<Airframe> = {
    "airframes",
    {{
        {.name = "serial", .need = Need::kUnique, .text = &Airframe::serial},
        {.name = "type", .text = &Airframe::type, .names = NameKind::kType},
        {.name = "mark", .text = &Airframe::mark},
        {.name = "constructor_number", .text = &Airframe::constructor_number},
        {.name = "taken_on_charge", .date = &Airframe::taken_on_charge},
        {.name = "struck_off_charge", .date = &Airframe::struck_off_charge},
        {.name = "fate", .text = &Airframe::fate},
    }}};

template <>
inline constexpr Table<Identity, 6> kTable<Identity> = {
    "identities",
    {{
        {.name = "serial",
         .need = Need::kKey,
         .text = &Identity::serial,
         .names = NameKind::kAirframe},
        {.name = "identity", .need = Need::kKey, .text = &Identity::identity},
        {.name = "kind", .need = Need::kKey, .text = &Identity::kind, .words = kIdentityKinds},
        {.name = "from", .spell_end = &Spell::from},
        {.name = "to", .spell_end = &Spell::to},
        {.name = "operator", .text = &Identity::operator_unit, .names = NameKind::kUnit},
    }}};

template <>
inline constexpr Table<History, 8> kTable<History> = {
    "histories",
    {{
        {.name = "serial",
         .need = Need::kKey,
         .text = &History::serial,
         .names = NameKind::kAirframe},
        {.name = "from", .spell_end = &Spell::from},
        {.name = "to", .spell_end = &Spell::to},
        {.name = "kind", .need = Need::kKey, .text = &History::kind, .words = kHistoryKinds},
        {.name = "role", .text = &History::role, .words = kRoles},
        {.name = "unit", .text = &History::unit, .names = NameKind::kUnit},
        {.name = "place", .text = &History::place, .names = NameKind::kPlace},
        {.name = "detail", .text = &History::detail},
    }}};

template <>
inline constexpr Table<Unit, 7> kTable<Unit> = {
    "units",
    {{
        {.name = "unit", .need = Need::kUnique, .text = &Unit::unit},
        {.name = "aliases", .list = &Unit::aliases},
        {.name = "kind", .text = &Unit::kind},
        {.name = "parent", .text = &Unit::parent, .names = NameKind::kUnit},
        {.name = "formed", .date = &Unit::formed},
        {.name = "disbanded", .date = &Unit::disbanded},
        {.name = "replaced_by", .text = &Unit::replaced_by, .names = NameKind::kUnit},
    }}};

template <>
inline constexpr Table<Station, 4> kTable<Station> = {
    "stations",
    {{
        {.name = "unit", .need = Need::kKey, .text = &Station::unit, .names = NameKind::kUnit},
        {.name = "place", .need = Need::kKey, .text = &Station::place, .names = NameKind::kPlace},
        {.name = "from", .spell_end = &Spell::from},
        {.name = "to", .spell_end = &Spell::to},
    }}};

template <>
inline constexpr Table<Place, 4> kTable<Place> = {
    "places",
    {{
        {.name = "place", .need = Need::kUnique, .text = &Place::place},
        {.name = "aliases", .list = &Place::aliases},
        {.name = "within", .text = &Place::within, .names = NameKind::kPlace},
        {.name = "theatre", .text = &Place::theatre},
    }}};

template <>
inline constexpr Table<Person, 4> kTable<Person> = {
    "people",
    {{
        {.name = "person", .need = Need::kUnique, .text = &Person::person},
        {.name = "aliases", .list = &Person::aliases},
        {.name = "born", .date = &Person::born},
        {.name = "died", .date = &Person::died},
    }}};

// `value` names a rank, a unit or an award, by the row's kind: see value_names().
template <>
inline constexpr Table<Service, 5> kTable<Service> = {
    "service",
    {{
        {.name = "person",
         .need = Need::kKey,
         .text = &Service::person,
         .names = NameKind::kPerson},
        {.name = "kind", .need = Need::kKey, .text = &Service::kind, .words = kServiceKinds},
        {.name = "value", .need = Need::kKey, .text = &Service::value},
        {.name = "from", .spell_end = &Spell::from},
        {.name = "to", .spell_end = &Spell::to},
    }}};

template <>
inline constexpr Table<Rank, 3> kTable<Rank> = {
    "ranks",
    {{
        {.name = "rank", .need = Need::kUnique, .text = &Rank::rank},
        {.name = "abbreviations", .list = &Rank::abbreviations},
        {.name = "seniority", .assign = assign_seniority},
    }}};

template <>
inline constexpr Table<Award, 2> kTable<Award> = {
    "awards",
    {{
        {.name = "award", .need = Need::kUnique, .text = &Award::award},
        {.name = "abbreviations", .list = &Award::abbreviations},
    }}};

template <>
inline constexpr Table<AircraftType, 3> kTable<AircraftType> = {
    "types",
    {{
        {.name = "type", .need = Need::kUnique, .text = &AircraftType::type},
        {.name = "aliases", .list = &AircraftType::aliases},
        {.name = "maker", .text = &AircraftType::maker},
    }}};

template <>
inline constexpr Table<Marking, 5> kTable<Marking> = {
    "markings",
    {{
        {.name = "marking", .need = Need::kUnique, .text = &Marking::marking},
        {.name = "family", .text = &Marking::family},
        {.name = "aliases", .list = &Marking::aliases},
        {.name = "rings", .text = &Marking::rings},
        {.name = "description", .text = &Marking::description},
    }}};

template <>
inline constexpr Table<Order, 11> kTable<Order> = {
    "orders",
    {{
        {.name = "order", .need = Need::kKey, .text = &Order::order},
        {.name = "issued", .date = &Order::issued},
        {.name = "effective", .date = &Order::effective},
        {.name = "grace", .assign = assign_grace},
        {.name = "action", .need = Need::kKey, .assign = assign_action},
        {.name = "marking", .text = &Order::marking, .names = NameKind::kMarking},
        {.name = "position", .list = &Order::positions},
        {.name = "theatre", .list = &Order::theatres},
        {.name = "unit", .list = &Order::units, .names = NameKind::kUnit},
        {.name = "type", .list = &Order::types, .names = NameKind::kType},
        {.name = "replaced_by", .list = &Order::replaced_by, .names = NameKind::kOrder},
    }}};

template <>
inline constexpr Table<Sequence, 6> kTable<Sequence> = {
    "sequences",
    {{
        {.name = "family", .text = &Sequence::family},
        {.name = "earlier",
         .need = Need::kKey,
         .text = &Sequence::earlier,
         .names = NameKind::kMarking},
        {.name = "later",
         .need = Need::kKey,
         .text = &Sequence::later,
         .names = NameKind::kMarking},
        {.name = "position", .list = &Sequence::positions},
        {.name = "theatre", .list = &Sequence::theatres},
        {.name = "strength", .assign = assign_strength},
    }}};

template <>
inline constexpr Table<Combination, 7> kTable<Combination> = {
    "combinations",
    {{
        {.name = "marking",
         .need = Need::kKey,
         .text = &Combination::marking,
         .names = NameKind::kMarking},
        {.name = "position", .text = &Combination::position},
        {.name = "with_marking",
         .need = Need::kKey,
         .text = &Combination::with_marking,
         .names = NameKind::kMarking},
        {.name = "with_position", .text = &Combination::with_position},
        {.name = "relation", .need = Need::kKey, .assign = assign_relation},
        {.name = "from", .spell_end = &Spell::from},
        {.name = "to", .spell_end = &Spell::to},
    }}};

template <>
inline constexpr Table<Photograph, 6> kTable<Photograph> = {
    "photographs",
    {{
        {.name = "photograph", .need = Need::kUnique, .text = &Photograph::photograph},
        {.name = "depicts", .list = &Photograph::depicts, .names = NameKind::kAirframe},
        {.name = "taken", .date = &Photograph::taken},
        {.name = "place", .text = &Photograph::place, .names = NameKind::kPlace},
        {.name = "session", .text = &Photograph::session},
        {.name = "credit", .text = &Photograph::credit},
    }}};

/// The table in which the value of a service row is a key.
[[nodiscard]] NameKind value_names(const Service& row);

/// "units" for kUnit: the table that defines keys of this kind.
[[nodiscard]] std::string_view defining_table(NameKind kind);

/// The names of all tables, in the order in which they are read.
[[nodiscard]] std::vector<std::string> table_names();

}  // namespace tailproof
