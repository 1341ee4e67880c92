// Dates that lean on what was read before: a year left out, "that October", "two days later".
//
// Contract: give it every block of a manuscript once, in reading order; it answers for all dates of
// the block together, since a date may take its year from a later one of its own sentence
// ("delivered 3 May, lost 28 June 1943"). The anchor of a date is the nearest of: the date before
// it in the block, a dated one later in its sentence, the heading, the running text before. Dates
// of table rows never become the anchor of another block, and those of captions only of the words
// by which the next caption leans on the one before ("the same day", "three months later").
#pragma once

#include <cstdint>
#include <optional>
#include <string>
#include <vector>

#include "mentions/dates.h"
#include "tailproof/ledger.h"
#include "tailproof/manuscript.h"

namespace tailproof {

inline std::int64_t year_of(Day day) { return to_civil(day).year; }

struct ResolvedDate {
  Edtf date;                  // unknown: nothing tells it
  Edtf plain;                 // the same without its bound: of "by June 1943" the June
  Edtf first, second;         // the two ends of a joined date, each alone; else unknown
  bool inherited = false;     // a part of it comes from a heading, a table head or another block
  bool from_caption = false;  // counted from the caption before: "the same day", "a month later"
  bool impossible = false;
  std::string what;  // when impossible
};

class DateContext {
 public:
  explicit DateContext(const LedgerSettings& settings) : settings_(settings) {}

  /// What a table's caption or head, or a book's front matter, says of the blocks that follow
  /// ("All photographs 1943"); an unknown date takes it back.
  void set_default(const Edtf& date) { default_ = date; }
  /// What the rest of the figure says of the next block's picture: a date that the block leaves
  /// open is counted from it before anything that was read earlier.
  void set_figure_date(const Edtf& date);
  /// The dates of the next block, in order.
  [[nodiscard]] std::vector<ResolvedDate> resolve_block(BlockKind kind,
                                                        const std::vector<DateMention>& mentions);
  /// Whether both, between two blocks, would give the same dates for whatever follows.
  [[nodiscard]] bool stands_like(const DateContext& other) const;

 private:
  struct Anchor {
    DaySet days;
    Precision precision = Precision::kDay;
    bool is_local = false;             // from this block
    std::uint32_t sentence = 0;        // of this block
    std::size_t order = 0;             // how many dates were remembered before it
    std::uint32_t end = 0;             // of a year: where its words end
    DateRef counted = DateRef::kNone;  // of a year: how it was counted from another ("that year")
    bool is_here = false;              // told in this block, though its year may be inherited
    bool is_bounded = false;           // "since 1931", "until that year"
    std::uint32_t section = 0;         // how many headings stand before it
    bool is_look_back = false;         // of a year: "those that had come in 1937", told in 1942
    bool is_told_back = false;         // in the pluperfect of a caption
    bool is_of_make = false;           // the year of "a Tern of 1937"
    bool is_background = false;        // what led up to the picture, or to what is told
    std::uint32_t aside_end = 0;       // then: where its aside ends, or 0
    bool is_doubtful = false;          // the month of "31 June": nothing is counted from it
  };

  bool fill(DateUnit& unit, const DateMention& mention, std::size_t index, bool& inherited);
  bool fill_reference(DateUnit& unit, bool is_told_back, bool& inherited);
  bool fill_named(DateUnit& unit, const Anchor& anchor, const DateMention& mention) const;
  std::optional<Anchor> month_behind(std::size_t index) const;
  bool fill_day(DateUnit& unit, std::size_t index, bool& inherited);
  bool is_at_start_of_year() const;
  const Anchor* day_before_aside(const Anchor& anchor) const;
  void remember_impossible(const DateMention& mention);
  [[nodiscard]] Anchor exact_enough(const Anchor& anchor, Day longest) const;
  bool fill_weekday(DateUnit& unit, const Anchor& anchor) const;
  void lean_on_witness(DateUnit& unit, const DateMention& mention) const;
  std::optional<Anchor> anchor_for(Precision coarsest) const;
  [[nodiscard]] bool is_passed_over(const Anchor& anchor) const;
  [[nodiscard]] bool is_background(const Anchor& anchor, const DateMention& mention) const;
  std::optional<Anchor> dated_later(std::size_t index, bool in_sentence) const;
  std::optional<Anchor> year_spoken_of() const;
  std::optional<Anchor> year_in_sentence(const DateMention& mention) const;
  std::optional<Anchor> year_named_here() const;
  std::optional<Anchor> year_told_ahead(const Anchor& anchor) const;
  const DateMention* day_behind(std::size_t index) const;
  bool is_from_another_block(const Anchor& anchor) const;
  std::optional<Edtf> day_restated(std::size_t index,
                                   const std::vector<ResolvedDate>& resolved) const;
  std::int64_t usual_year() const;
  bool is_of_other_section(const Anchor& anchor) const;
  Edtf plain_date(const DateMention& mention) const;
  Edtf date_of(const DateUnit& unit) const;
  void remember(const Edtf& date, const DateMention& mention, bool is_heading, bool is_local);
  void carry_years(bool has_fine);
  void lean_first(DateMention& mention) const;
  static bool is_around(const Edtf& date, const Anchor& anchor);

  const LedgerSettings& settings_;
  Edtf default_;
  std::vector<Anchor> carried_;         // of headings and running text, the latest last
  std::vector<DaySet> recent_;          // finer dates of captions and running text, the latest last
  std::optional<Anchor> figure_date_;   // of the next block only
  std::optional<Anchor> last_caption_;  // the picture's date, until running text has a fine one
  bool is_caption_ = false;
  std::uint32_t section_ = 0;
  std::uint32_t captions_in_a_row_ = 0;  // dated ones, since dated running text or a heading
  bool leans_on_caption_ = false;        // a relative date of a caption is being filled
  mutable bool used_caption_ = false;
  std::vector<Anchor> local_;  // of this block
  std::vector<Anchor> years_;  // years of this block that are no anchor for months and days
  std::size_t remembered_ = 0;
  const std::vector<DateMention>* mentions_ = nullptr;
  const DateMention* filled_ = nullptr;  // the one that is being filled
};

}  // namespace tailproof
