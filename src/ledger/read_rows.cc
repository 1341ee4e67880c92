#include "ledger/read_rows.h"

#include <algorithm>
#include <bit>
#include <optional>

#include "source/nearest.h"

namespace tailproof {
namespace {

constexpr std::size_t kAbsent = static_cast<std::size_t>(-1);

// Cells of any length may stand in a message; only the beginning of a long one helps.
std::string shown_cell(std::string_view cell) {
  constexpr std::size_t kShown = 60;
  std::size_t end = std::min(cell.size(), kShown);
  while (end < cell.size() && end > 0 && (static_cast<unsigned char>(cell[end]) & 0xC0u) == 0x80u) {
    --end;
  }
  std::string out = "\"" + std::string(cell.substr(0, end)) + (end < cell.size() ? "…\"" : "\"");
  std::replace(out.begin(), out.end(), '\n', ' ');
  std::replace(out.begin(), out.end(), '\r', ' ');
  return out;
}

std::string words_in_prose(std::span<const std::string_view> words) {
  std::string out;
  for (std::size_t i = 0; i < words.size(); ++i) {
    if (i > 0) out += i + 1 == words.size() ? " or " : ", ";
    out += words[i];
  }
  return out;
}

// Rows by their key, without a copy of it. Rows may move; what finds them is their number.
template <typename Row>
class RowsByKey {
 public:
  RowsByKey(const std::vector<Row>& rows, std::string Row::*key) : rows_(rows), key_(key) {}

  // The row that had this key before rows[index]; `index` when none had.
  std::uint32_t first_with_key_of(std::uint32_t index) {
    if ((count_ + 1) * 2 > slots_.size()) grow();
    const std::string& key = rows_[index].*key_;
    const std::uint32_t hash = hash_of(key);
    const std::size_t mask = slots_.size() - 1;
    std::size_t at = hash & mask;
    for (; slots_[at].row != 0; at = (at + 1) & mask) {
      if (slots_[at].hash == hash && rows_[slots_[at].row - 1].*key_ == key) {
        return slots_[at].row - 1;
      }
    }
    slots_[at] = {hash, index + 1};
    ++count_;
    return index;
  }

 private:
  struct Slot {
    std::uint32_t hash = 0;
    std::uint32_t row = 0;  // from 1; 0 is free
  };
  static std::uint32_t hash_of(const std::string& key) {
    const std::size_t hash = std::hash<std::string>{}(key);
    return static_cast<std::uint32_t>(hash ^ hash >> 32);
  }
  void grow() {
    std::vector<Slot> old(std::max({std::size_t{16}, slots_.size() * 2, rows_.capacity() * 2}));
    if ((old.size() & (old.size() - 1)) != 0) old.resize(std::bit_ceil(old.size()));
    old.swap(slots_);
    for (const Slot& slot : old) {
      if (slot.row == 0) continue;
      std::size_t at = slot.hash & (slots_.size() - 1);
      while (slots_[at].row != 0) at = (at + 1) & (slots_.size() - 1);
      slots_[at] = slot;
    }
  }

  const std::vector<Row>& rows_;
  std::string Row::*key_;
  std::vector<Slot> slots_;
  std::size_t count_ = 0;
};

// Which cell of a row belongs to which column.
template <typename Row>
struct Binding {
  std::array<std::size_t, kTable<Row>.columns.size()> cell;
  std::size_t source = kAbsent;
  std::size_t note = kAbsent;
  std::size_t width = 0;
};

// The columns of the table that its header has not.
template <typename Row>
std::vector<std::string> columns_still_free(std::span<const std::string> header) {
  std::vector<std::string> names;
  for (const Column<Row>& column : kTable<Row>.columns) names.emplace_back(column.name);
  names.insert(names.end(), {"source", "note"});
  std::erase_if(names, [&](const std::string& name) {
    return std::any_of(header.begin(), header.end(),
                       [&](const std::string& cell) { return folded_name(cell) == name; });
  });
  return names;
}

// Nothing when the table lacks a key column.
template <typename Row>
std::optional<Binding<Row>> bind_header(const RowSource& source, const ReadContext& context) {
  const auto& columns = kTable<Row>.columns;
  Binding<Row> binding;
  binding.cell.fill(kAbsent);
  const auto& header = source.header();
  binding.width = header.size();

  for (std::size_t at = 0; at < header.size(); ++at) {
    const std::string name = folded_name(header[at]);
    if (name.empty()) continue;  // spreadsheets leave such columns at the end
    const auto column = std::find_if(columns.begin(), columns.end(),
                                     [&](const Column<Row>& c) { return c.name == name; });
    std::size_t* slot = name == "source" ? &binding.source
                        : name == "note" ? &binding.note
                        : column != columns.end()
                            ? &binding.cell[static_cast<std::size_t>(column - columns.begin())]
                            : nullptr;
    const std::uint32_t at_column = source.place(at).column;
    if (slot == nullptr) {
      context.remark(1, at_column,
                     "column " + shown_cell(header[at]) + " is none of this table and is ignored" +
                         perhaps_meant(name, columns_still_free<Row>(header)));
    } else if (*slot != kAbsent) {
      context.complain(1, at_column,
                       "column " + shown_cell(name) +
                           " stands twice in the header; the first is used, rename or remove one");
    } else {
      *slot = at;
    }
  }

  std::string missing;
  for (std::size_t i = 0; i < columns.size(); ++i) {
    if (columns[i].need == Need::kOptional || binding.cell[i] != kAbsent) continue;
    missing += missing.empty() ? "" : ", ";
    missing += columns[i].name;
  }
  if (missing.empty()) return binding;
  context.complain(1, 0, "has no column " + missing + "; no row of it counts until it is added");
  return std::nullopt;
}

// Puts a cell where it belongs; returns what is wrong with it, or "".
template <typename Row>
std::string assign_cell(Row& row, const Column<Row>& column, std::string_view cell,
                        const ReadContext& context) {
  if (column.list != nullptr) {
    row.*column.list = split_list(cell);
    return "";
  }
  if (column.assign != nullptr) return column.assign(row, cell);
  if (column.text != nullptr) {
    if (column.words.empty()) {
      (row.*column.text).assign(cell);
      return "";
    }
    if (std::find(column.words.begin(), column.words.end(), cell) != column.words.end()) {
      (row.*column.text).assign(cell);
      return "";
    }
    std::string word = folded_name(cell);
    if (std::find(column.words.begin(), column.words.end(), word) == column.words.end()) {
      return shown_cell(cell) + " is not known here; write " + words_in_prose(column.words);
    }
    row.*column.text = std::move(word);
    return "";
  }

  Edtf* date = nullptr;
  if constexpr (requires { row.spell; }) {
    if (column.spell_end != nullptr) date = &(row.spell.*column.spell_end);
  }
  if (date == nullptr) date = &(row.*column.date);
  if (const auto seen = context.dates.find(cell); seen != context.dates.end()) {
    *date = seen->second;
    return "";
  }
  const Result<Edtf> parsed = Edtf::parse(cell, context.hemisphere);
  if (!parsed) {
    // The reader of dates names the cell as well: once is enough.
    std::string_view problem = parsed.error().message;
    if (const std::size_t colon = problem.find("date: "); colon != std::string_view::npos)
      problem.remove_prefix(colon + std::string_view("date: ").size());
    return shown_cell(cell) + " is no EDTF date (" + std::string(problem) +
           "); write 1942-10-09, 1942-10~ or 1942-02/1942-07, or leave it empty";
  }
  *date = context.dates.emplace(std::string(cell), parsed.value()).first->second;
  return "";
}

}  // namespace

void ReadContext::complain(std::uint32_t line, std::uint32_t column, std::string message) const {
  complaints.push_back({file, line, column, std::move(message), false});
}

void ReadContext::remark(std::uint32_t line, std::uint32_t column, std::string message) const {
  complaints.push_back({file, line, column, std::move(message), true});
}

template <typename Row>
std::vector<Row> read_rows(RowSource& source, const ReadContext& context) {
  const auto& columns = kTable<Row>.columns;
  std::vector<Row> rows;
  const auto binding = bind_header<Row>(source, context);
  if (!binding) return rows;

  rows.reserve(source.expected_rows());
  std::optional<RowsByKey<Row>> by_key;
  std::size_t key_cell = kAbsent;
  for (std::size_t i = 0; i < columns.size(); ++i) {
    if (columns[i].need != Need::kUnique || binding->cell[i] == kAbsent) continue;
    key_cell = binding->cell[i];
    by_key.emplace(rows, columns[i].text);
  }
  std::size_t short_rows = 0;
  std::uint32_t first_short_line = 0;

  while (source.next(context.complaints)) {
    const auto& cells = source.cells();
    const auto complain_at = [&](std::size_t cell, std::string message) {
      const Position place = source.place(cell);
      context.complain(place.line, place.column, std::move(message));
    };
    if (cells.size() > binding->width) {
      const auto surplus = std::find_if(cells.begin() + static_cast<std::ptrdiff_t>(binding->width),
                                        cells.end(), [](std::string_view c) { return !c.empty(); });
      if (surplus != cells.end()) {
        complain_at(static_cast<std::size_t>(surplus - cells.begin()),
                    "the row has " + std::to_string(cells.size()) + " cells, the header " +
                        std::to_string(binding->width) +
                        "; the row is left out, put a cell with a comma in quotation marks");
        continue;
      }
    } else if (cells.size() < binding->width) {
      if (short_rows++ == 0) first_short_line = source.line();
    }
    const auto cell_at = [&](std::size_t at) {
      return at < cells.size() ? trimmed(cells[at]) : std::string_view{};
    };

    Row& row = rows.emplace_back();
    bool good = true;
    for (std::size_t i = 0; i < columns.size(); ++i) {
      const std::size_t at = binding->cell[i];
      if (at == kAbsent) continue;
      const Column<Row>& column = columns[i];
      const std::string_view cell = cell_at(at);
      if (cell.empty()) {
        if (column.need == Need::kOptional) continue;
        complain_at(at, std::string(column.name) +
                            " is empty; the row is left out until it is "
                            "filled in");
        good = false;
        continue;
      }
      const std::string wrong = assign_cell(row, column, cell, context);
      if (!wrong.empty()) {
        const bool left_out = column.need != Need::kOptional;
        complain_at(at, std::string(column.name) + " " + wrong +
                            (left_out ? "; the row is left out" : "; it is taken as unknown"));
        good = good && !left_out;
        continue;
      }
    }
    if (!good) {
      rows.pop_back();
      continue;
    }
    row.row.table = context.table_label;
    row.row.line = source.line();
    row.row.source = context.pool.keep(cell_at(binding->source));
    row.row.note = context.pool.keep(cell_at(binding->note));
    if (!by_key) continue;
    const auto own = static_cast<std::uint32_t>(rows.size() - 1);
    const std::uint32_t other = by_key->first_with_key_of(own);
    if (other == own) continue;
    rows.pop_back();
    complain_at(key_cell, shown_cell(cell_at(key_cell)) + " has a row already, in line " +
                              std::to_string(rows[other].row.line) +
                              "; this one is left out, merge or rename them");
  }
  if (short_rows > 0) {
    context.remark(first_short_line, 0,
                   std::to_string(short_rows) +
                       (short_rows == 1 ? " row has" : " rows, this the first, have") +
                       " fewer cells than the header; the missing ones are taken as empty");
  }
  return rows;
}

template std::vector<Airframe> read_rows<Airframe>(RowSource&, const ReadContext&);
template std::vector<Identity> read_rows<Identity>(RowSource&, const ReadContext&);
template std::vector<History> read_rows<History>(RowSource&, const ReadContext&);
template std::vector<Unit> read_rows<Unit>(RowSource&, const ReadContext&);
template std::vector<Station> read_rows<Station>(RowSource&, const ReadContext&);
template std::vector<Place> read_rows<Place>(RowSource&, const ReadContext&);
template std::vector<Person> read_rows<Person>(RowSource&, const ReadContext&);
template std::vector<Service> read_rows<Service>(RowSource&, const ReadContext&);
template std::vector<Rank> read_rows<Rank>(RowSource&, const ReadContext&);
template std::vector<Award> read_rows<Award>(RowSource&, const ReadContext&);
template std::vector<AircraftType> read_rows<AircraftType>(RowSource&, const ReadContext&);
template std::vector<Marking> read_rows<Marking>(RowSource&, const ReadContext&);
template std::vector<Order> read_rows<Order>(RowSource&, const ReadContext&);
template std::vector<Sequence> read_rows<Sequence>(RowSource&, const ReadContext&);
template std::vector<Combination> read_rows<Combination>(RowSource&, const ReadContext&);
template std::vector<Photograph> read_rows<Photograph>(RowSource&, const ReadContext&);

}  // namespace tailproof
