// The ledger: the author's evidence, read once, immutable after that.
//
// Contract: every row remembers its table, line and source. Keys are spelled as in the table that
// defines them; names in other cells are resolved to those keys while reading, and a cell that
// resolves to nothing keeps its text. Absence of a row contradicts nothing unless is_closed_table()
// or is_in_closed_range() says so. Lifetime: pointers and spans handed out live as long as the
// Ledger. Threads: const methods may run side by side. Cost: a look-up by key, serial or name is a
// hash look-up; rows handed out in a vector cost their number.
//
// See: src/ledger/tables.md, the page of the tables for authors.
#pragma once

#include <cstdint>
#include <memory>
#include <optional>
#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "tailproof/day.h"
#include "tailproof/edtf.h"

namespace tailproof {

/// Where a value stands in the ledger.
struct RowPlace {
  std::string_view table;   // "histories.csv"
  std::uint32_t line = 0;   // of the row's first line, from 1
  std::string_view source;  // the row's citation, may be empty
  std::string_view note = {};
};

/// From one date to another, both uncertain. An unknown `from` is open. An empty `to` cell is
/// settled when reading, by these rules (the day of a hand-over belongs to both rows):
///   histories (allotted, loaned, stored, captured, interned, instructional): until the next such
///     row, or repair by a unit, of the same machine and role begins, or the machine is lost or
///     struck off. An empty role counts as `holder`, for `loaned` as `operator`.
///   histories (repair, accident, repaint, modified, ferried, lost): an event, `to` becomes `from`.
///   identities: code and radio_call until the machine's next of the same kind begins, nickname and
///     later_serial until it is struck off, previous_serial until it is taken on charge.
///   stations: until the unit's next row begins, or the unit is disbanded.
///   service (rank, unit, command): until the person's next row of the same kind begins.
///   service (award), combinations: open.
/// When no rule gives an end, `to` stays unknown, which is open.
struct Spell {
  Edtf from;
  Edtf to;
  bool ends_by_rule = false;  // `to` was empty in the table and has been settled

  /// Days on which it may have held (the widest reading), with margins on "~" when `margins` is
  /// given.
  [[nodiscard]] DaySet possible(const Margins* margins = nullptr) const;
  /// Days on which it certainly held (the narrowest reading).
  [[nodiscard]] DaySet certain() const;
};

struct Airframe {
  std::string serial, type, mark, constructor_number, fate;
  Edtf taken_on_charge, struck_off_charge;
  RowPlace row;
  std::uint32_t machine = 0;  // equal for rows that identities.csv makes one airframe
};
struct Identity {
  std::string serial, identity, kind, operator_unit;
  Spell spell;
  RowPlace row;
};
struct History {
  std::string serial, kind, role, unit, place, detail;
  Spell spell;
  RowPlace row;
};
struct Unit {
  std::string unit, kind, parent, replaced_by;
  std::vector<std::string> aliases;
  Edtf formed, disbanded;
  RowPlace row;
};
struct Station {
  std::string unit, place;
  Spell spell;
  RowPlace row;
};
struct Place {
  std::string place, within, theatre;
  std::vector<std::string> aliases;
  RowPlace row;
};
struct Person {
  std::string person;
  std::vector<std::string> aliases;
  Edtf born, died;
  RowPlace row;
};
struct Service {
  std::string person, kind, value;  // kind: rank, unit, command, award
  Spell spell;
  RowPlace row;
};
struct Rank {
  std::string rank;
  std::vector<std::string> abbreviations;
  int seniority = 0;  // 1 is the most junior
  RowPlace row;
};
struct Award {
  std::string award;
  std::vector<std::string> abbreviations;
  RowPlace row;
};
struct AircraftType {
  std::string type, maker;
  std::vector<std::string> aliases;
  RowPlace row;
};
struct Marking {
  std::string marking, family, rings, description;
  std::vector<std::string> aliases;
  RowPlace row;
};
enum class OrderAction { kIntroduces, kWithdraws };
struct Order {
  std::string order, marking;
  OrderAction action = OrderAction::kIntroduces;
  Edtf issued, effective;
  Duration grace;  // how long after `effective` a withdrawn marking may still be worn
  std::vector<std::string> positions, theatres, units, types, replaced_by;  // empty: all
  RowPlace row;
};
struct Sequence {
  std::string family, earlier, later;
  std::vector<std::string> positions, theatres;
  bool always = false;
  RowPlace row;
};
struct Combination {
  std::string marking, position, with_marking, with_position;
  bool requires_it = false;  // else excludes
  Spell spell;
  RowPlace row;
};
struct Photograph {
  std::string photograph, place, session, credit;
  std::vector<std::string> depicts;
  Edtf taken;
  RowPlace row;
};

/// ledger.toml [[serial_form]].
struct SerialForm {
  std::string pattern, rewrite;
  std::vector<std::pair<std::string, std::string>> closed;  // first and last serial, both held
  bool tail_only = false;
};

enum class DateOrder { kDayMonthYear, kMonthDayYear, kYearMonthDay };

/// ledger.toml [defaults] and [margins].
struct LedgerSettings {
  std::string title, air_arm;
  std::string position;  // "" : the most permissive
  std::string theatre;
  Hemisphere hemisphere = Hemisphere::kNorth;
  DateOrder date_order = DateOrder::kDayMonthYear;
  int century = 1900;
  Margins margins;
  std::vector<std::string> closed_tables;
  std::vector<SerialForm> serial_forms;
};

/// What a printed name may mean: a key of one table. Several keys may share a name.
enum class NameKind {
  kAirframe,
  kIdentity,
  kUnit,
  kPlace,
  kPerson,
  kRank,
  kAward,
  kType,
  kMarking,
  kOrder,
  kPhotograph
};
struct Name {
  std::string_view text;  // a key, alias or abbreviation, as the table writes it
  NameKind kind;
  std::string_view key;
};

class Ledger {
 public:
  Ledger();
  Ledger(Ledger&&) noexcept;
  Ledger& operator=(Ledger&&) noexcept;
  ~Ledger();

  [[nodiscard]] const LedgerSettings& settings() const;
  /// Folder or file it was read from, as the user named it; "" for the empty ledger.
  [[nodiscard]] const std::string& path() const;

  // Of a compiled ledger only the rows are read that a manuscript's words lead to. Look-ups, and
  // the whole of a table, are answered as by the whole ledger all the same: a run asks again until
  // they are. To walk through a large table makes such a run read all of it.
  [[nodiscard]] std::span<const Airframe> airframes() const;
  [[nodiscard]] std::span<const Identity> identities() const;
  [[nodiscard]] std::span<const History> histories() const;
  [[nodiscard]] std::span<const Unit> units() const;
  [[nodiscard]] std::span<const Station> stations() const;
  [[nodiscard]] std::span<const Place> places() const;
  [[nodiscard]] std::span<const Person> people() const;
  [[nodiscard]] std::span<const Service> service() const;
  [[nodiscard]] std::span<const Rank> ranks() const;
  [[nodiscard]] std::span<const Award> awards() const;
  [[nodiscard]] std::span<const AircraftType> types() const;
  [[nodiscard]] std::span<const Marking> markings() const;
  [[nodiscard]] std::span<const Order> orders() const;
  [[nodiscard]] std::span<const Sequence> sequences() const;
  [[nodiscard]] std::span<const Combination> combinations() const;
  [[nodiscard]] std::span<const Photograph> photographs() const;

  /// The rows that are in memory: all of them, or of a compiled ledger those that the manuscript's
  /// words lead to, and at least one for each type with its marks, each form of serials, identities
  /// and photograph numbers, and the first and last year. For what is gathered from all rows.
  [[nodiscard]] std::span<const Airframe> airframes_at_hand() const;
  [[nodiscard]] std::span<const Identity> identities_at_hand() const;
  [[nodiscard]] std::span<const Photograph> photographs_at_hand() const;
  /// Rows of exactly this type ("": of none), in order of the table.
  [[nodiscard]] std::vector<const Airframe*> airframes_of_type(std::string_view type) const;

  /// The row with exactly this key; nullptr when there is none.
  [[nodiscard]] const Airframe* airframe(std::string_view serial) const;
  [[nodiscard]] const Unit* unit(std::string_view key) const;
  [[nodiscard]] const Place* place(std::string_view key) const;
  [[nodiscard]] const Person* person(std::string_view key) const;
  [[nodiscard]] const Rank* rank(std::string_view key) const;
  [[nodiscard]] const Award* award(std::string_view key) const;  // "Bar to X" finds X
  [[nodiscard]] const AircraftType* type(std::string_view key) const;
  [[nodiscard]] const Marking* marking(std::string_view key) const;
  [[nodiscard]] const Photograph* photograph(std::string_view number) const;

  /// Every airframes.csv row of the same machine (at least its own), oldest first. Empty when the
  /// serial has no row and no identities row leads to one.
  [[nodiscard]] std::vector<const Airframe*> machine_of(std::string_view serial) const;
  /// Serials under which the machine has rows anywhere: those of machine_of and its previous and
  /// later serials.
  [[nodiscard]] std::vector<std::string_view> serials_of(std::string_view serial) const;
  /// Rows about the machine, under any of its serials, in order of `from`.
  [[nodiscard]] std::vector<const History*> history_of(std::string_view serial) const;
  [[nodiscard]] std::vector<const Identity*> identities_of(std::string_view serial) const;
  /// identities.csv rows that give this identity ("K7+RB", "Tuppence"), compared without case,
  /// blanks and hyphens.
  [[nodiscard]] std::vector<const Identity*> bearers_of(std::string_view identity) const;
  /// Days between first taking on charge and last striking off of the machine; days under a former
  /// number count. Nothing when the ledger does not know the machine.
  [[nodiscard]] std::optional<DaySet> life_of(std::string_view serial, bool with_margins) const;
  [[nodiscard]] std::vector<const Station*> stations_of(std::string_view unit) const;
  [[nodiscard]] std::vector<const Service*> service_of(std::string_view person) const;
  [[nodiscard]] std::vector<const Order*> orders_of(std::string_view marking) const;
  /// photographs.csv rows that depict the machine, under any of its serials.
  [[nodiscard]] std::vector<const Photograph*> photographs_of(std::string_view serial) const;

  /// Whether the ledger has this table at all ("units"), be it without rows.
  [[nodiscard]] bool has_table(std::string_view table) const;

  [[nodiscard]] bool is_closed_table(std::string_view table) const;  // "units", without ".csv"
  /// Whether a closed range of a serial form contains this serial as the tables write it.
  [[nodiscard]] bool is_in_closed_range(std::string_view serial) const;
  /// Whether `unit` is `ancestor` or stands below it (units.csv parent).
  [[nodiscard]] bool is_unit_within(std::string_view unit, std::string_view ancestor) const;
  /// Whether `place` is `region` or lies within it (places.csv within, at any depth).
  [[nodiscard]] bool is_place_within(std::string_view place, std::string_view region) const;
  /// The place's own theatre or that of the nearest place around it; "" when none is given.
  [[nodiscard]] std::string_view theatre_of(std::string_view place) const;

  /// Every name of every table at hand, for the one pass over the words. The key of an identity is
  /// the serial of its row. Serials are left to the serial forms, unless ledger.toml has none. Bars
  /// to awards are left to the grammars.
  [[nodiscard]] std::vector<Name> names() const;
  /// Keys of `kind` whose key, alias or abbreviation is `text` (case and blanks folded); empty when
  /// none. Of an identity, the serials that bear it, as bearers_of.
  [[nodiscard]] std::vector<std::string_view> resolve(NameKind kind, std::string_view text) const;

 private:
  friend class LedgerBuilder;
  struct Data;
  std::unique_ptr<Data> data_;
};

}  // namespace tailproof
