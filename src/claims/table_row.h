// A row of a table: every cell is a claim about the serial in the row, of the kind that its
// column's heading names.
//
// Contract: `read` is called once, when the block's mentions and scopes are there, in place of all
// that is done with sentences. Nothing here looks at another row.
#pragma once

#include <cstdint>
#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "claims/assembler.h"
#include "claims/table_caption.h"

namespace tailproof {

class BlockAssembler::Row {
 public:
  explicit Row(BlockAssembler& block);
  void read();

 private:
  [[nodiscard]] std::span<Claim> claims() const {
    return std::span<Claim>(a_.out_).subspan(a_.first_claim_);
  }
  // table_row.cc
  void name_units_by_number();
  void find_subject();
  void add_claims(const Mention& mention);
  void add_airframe(const Mention& mention);
  void add_type(const Mention& mention);
  void add_event(const Mention& words);
  void add_reference(const Mention& mention);
  void add_end_places();
  // row_columns.cc
  [[nodiscard]] static bool has_digit(std::string_view text);
  [[nodiscard]] std::string_view heading_at(std::uint32_t offset) const;
  [[nodiscard]] std::string column_of(std::uint32_t offset) const;
  [[nodiscard]] bool is_near_column(std::uint32_t offset) const;
  [[nodiscard]] std::size_t cell_of(std::uint32_t offset) const;
  [[nodiscard]] const TableCaption& caption() const;
  [[nodiscard]] const Mention* serial_in_cell_before(const Mention& code) const;
  [[nodiscard]] const Mention* event_in_cell(const Mention& date) const;
  [[nodiscard]] bool is_met(const Mention& type) const;
  // row_dates.cc
  void add_date(const Mention& mention);
  void add_units_of_headings();
  [[nodiscard]] bool has_story(std::uint32_t offset) const;
  void date_other_ends();
  void date_events();
  void date_units_in_turn();
  [[nodiscard]] When when_it_stood() const;
  void date_states_by_headings();
  void date_states();
  // row_people.cc
  [[nodiscard]] static bool is_mishap(std::string_view event);
  [[nodiscard]] When when_people_stood() const;
  void add_people();
  // row_marks.cc
  [[nodiscard]] bool is_under(const Cell& cell, const WordList& headings) const;
  [[nodiscard]] bool names_several() const;
  [[nodiscard]] bool names_anything(const Cell& cell) const;
  void add_marks();
  void add_bare_codes();
  [[nodiscard]] std::vector<const Mention*> ends_of_range() const;
  void add_counts_of_range();

  BlockAssembler& a_;
  const std::vector<std::string>& headings_;  // of the columns; none outside of a table
  std::string subject_;                       // the machine of the row; "" where it names none
  const Mention* former_ = nullptr;           // its number of that time, where only that is told
};

}  // namespace tailproof
