// How many of a kind were lost, went from one unit to another or there ever were, and which place a
// machine has among those lost: told as a number that the ledger can count, if it holds every
// machine of the kind.
//
// The rules are in kind_counts.cc, kind_totals.cc and asked_counts.cc, the counting in
// kind_numbers.cc. A number is
// held against bounds (Count::least, Count::most): all that may have been, and all that certainly
// were. That fewer are told than there certainly were contradicts nothing unless the words say that
// these are all.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "claims/assembler.h"
#include "claims/counts.h"

namespace tailproof {

class BlockAssembler::KindCounts {
 public:
  explicit KindCounts(BlockAssembler& block) : a_(block) {}
  void add();

 private:
  /// The days of which a sentence tells, and whether its words mean all of them.
  struct Window {
    DaySet days = DaySet::all();
    bool is_told = false;  // by one date
    bool is_sum = false;   // and what fell into them is all told
  };
  /// How many at least and at most, and the machines of which that is certain.
  struct Bounds {
    int least = 0, most = 0;
    std::vector<std::string> machines;
  };
  struct Told {
    std::uint32_t first = 0, last = 0;  // the words of the number
    Counted counted;
    bool is_floor = false;  // "no fewer than"
  };

  using Rows = std::vector<const Airframe*>;
  class Asked;

  // kind_numbers.cc
  [[nodiscard]] Rows rows_of(const Count& count) const;
  [[nodiscard]] Rows kin(const Count& count) const;
  [[nodiscard]] bool may_be_of(const Airframe& row, const std::string& unit,
                               const DaySet& days) const;
  [[nodiscard]] DaySet days_of_loss(const Airframe& row, std::string& unit, bool& is_sure) const;
  [[nodiscard]] Bounds lost(const Rows& rows, const std::string& unit, const DaySet& days) const;
  [[nodiscard]] Bounds place_among_lost(const Count& count, const std::string& unit,
                                        const std::string& serial, bool is_last) const;
  [[nodiscard]] Bounds handed_over(const Count& count, const std::string& giver,
                                   const std::string& taker, const DaySet& days) const;

  [[nodiscard]] Bounds with_unit(const Rows& rows, const std::string& unit,
                                 const DaySet& days) const;
  [[nodiscard]] Bounds made(const Rows& rows, const DaySet& days) const;
  [[nodiscard]] Bounds renumbered(const Rows& rows) const;
  [[nodiscard]] Bounds on_charge(const Rows& rows, const DaySet& days) const;
  [[nodiscard]] Bounds new_to(const Rows& rows, const std::string& unit) const;
  [[nodiscard]] Bounds made_into(const Rows& rows, const std::string& mark) const;

  [[nodiscard]] Window window(std::uint32_t token, bool is_pluperfect) const;
  [[nodiscard]] bool is_floor(std::uint32_t first) const;
  [[nodiscard]] bool is_denied(std::uint32_t token) const;
  [[nodiscard]] bool is_whole_behind(std::uint32_t token) const;
  [[nodiscard]] const Mention* unit_before(std::uint32_t token) const;
  [[nodiscard]] const Mention* unit_at(std::uint32_t token) const;
  [[nodiscard]] std::uint32_t loss_behind(std::uint32_t token) const;
  [[nodiscard]] bool is_made_in_list(std::uint32_t token) const;
  [[nodiscard]] bool is_sum_of_losses(std::uint32_t end) const;
  [[nodiscard]] const Mention* kind_of_output(const Told& told, bool& is_whole) const;
  bool find_kind_elsewhere(Told& told);
  bool add_survivors(const Told& told, std::uint32_t verb);
  bool add_place_lost(const Told& told);
  bool add_lost(const Told& told);
  bool add_share_lost(const Told& told);
  bool add_handed_over(const Told& told);
  bool add_strength(const Told& told);
  bool add_total(const Told& told);
  void claim(const Told& told, std::string_view fate, const Bounds& bounds, bool is_sum,
             const std::string& unit = {}, const std::string& machine = {});
  void add_places_behind(const Told& told, const std::string& unit);
  void add_crews();
  void add_of_kinds();
  // asked_counts.cc
  void add_asked();

  BlockAssembler& a_;
};

}  // namespace tailproof
