// How rows stand in a compiled ledger. Private to this station.
//
// A card is a list of other cards that it leads to, then rows: the number of the table, the line,
// and every cell in the order of the table's columns with `source` and `note` behind them. Numbers
// are written in groups of seven bits, the lowest first; texts with their length before them.
#pragma once

#include <array>
#include <cstdint>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "ledger/columns.h"
#include "ledger/row_source.h"

namespace tailproof {

/// What marks the file as ours (SQLite's application_id), and the form of what it holds.
inline constexpr std::int32_t kCompiledMark = 0x74706c67;
inline constexpr std::int32_t kCompiledForm = 1;

/// The tables whose rows stand on cards; those of the others are read in full.
enum class CardTable : std::uint8_t { kAirframes, kIdentities, kHistories, kPhotographs };
inline constexpr std::size_t kCardTables = 4;
inline constexpr std::array<std::string_view, kCardTables> kCardTableNames = {
    "airframes", "identities", "histories", "photographs"};

void put_number(std::string& bytes, std::uint64_t number);
void put_text(std::string& bytes, std::string_view text);

/// Takes apart what the two above wrote. What is cut short ends early and is not good.
class CardReader {
 public:
  explicit CardReader(std::string_view bytes) : rest_(bytes) {}
  [[nodiscard]] bool at_end() const { return rest_.empty(); }
  [[nodiscard]] bool is_good() const { return is_good_; }
  std::uint64_t number();
  std::string_view text();
  [[nodiscard]] std::string_view rest() const { return rest_; }

 private:
  std::string_view rest_;
  bool is_good_ = true;
};

/// The columns as a card has them.
template <typename Row>
[[nodiscard]] std::vector<std::string> card_columns() {
  std::vector<std::string> names;
  for (const Column<Row>& column : kTable<Row>.columns) names.emplace_back(column.name);
  names.emplace_back("source");
  names.emplace_back("note");
  return names;
}

/// Writes a row as a table would have it: what a rule settled is left empty again.
template <typename Row>
void put_row(std::string& bytes, const Row& row) {
  for (const Column<Row>& column : kTable<Row>.columns) {
    if (column.text != nullptr) {
      put_text(bytes, row.*column.text);
    } else if (column.list != nullptr) {
      std::string values;
      for (const std::string& value : row.*column.list) {
        values += (values.empty() ? "" : ";") + value;
      }
      put_text(bytes, values);
    } else if constexpr (requires { row.spell; }) {
      const bool is_settled = column.spell_end == &Spell::to && row.spell.ends_by_rule;
      put_text(bytes, is_settled ? std::string_view() : (row.spell.*column.spell_end).text());
    } else {
      put_text(bytes, (row.*column.date).text());
    }
  }
  put_text(bytes, row.row.source);
  put_text(bytes, row.row.note);
}

/// Rows of one table, from anywhere in bytes that must outlive this, in order of their lines.
class CardRows : public RowSource {
 public:
  struct Place {
    std::uint32_t line = 0;
    const char* begin = nullptr;
    const char* end = nullptr;  // of the bytes around, not of the row
  };
  CardRows(std::vector<std::string> header, std::vector<Place> rows);

  const std::vector<std::string>& header() const override { return header_; }
  std::size_t expected_rows() const override { return rows_.size(); }
  bool next(Complaints& complaints) override;
  const std::vector<std::string_view>& cells() const override { return cells_; }
  std::uint32_t line() const override { return line_; }
  Position place(std::size_t cell) const override {
    return {line_, static_cast<std::uint32_t>(cell + 1)};
  }

 private:
  std::vector<std::string> header_;
  std::vector<Place> rows_;
  std::vector<std::string_view> cells_;
  std::size_t next_ = 0;
  std::uint32_t line_ = 0;
};

}  // namespace tailproof
