// When photographs were taken: every caption's photograph as a time variable, and all that its
// claims, the ledger and other captions say of its day.
//
// Contract: only what the author affirms of the picture as it was taken counts: claims that are
// shown, neither negated nor somebody else's, and not dated by an event of their own. What the
// ledger allows of each is asked of allowed_days.h, as the checks do. A fact is *firm* where going
// against it would be a contradiction, *usual* where it would only be odd (a marking past its
// withdrawal, a unit with which the ledger has the machine at no other time). A caption of several
// pictures of different dates is several photographs. Everything is in the order of the text.
//
// Lifetime: points into the CheckInput. Cost: near linear in the number of claims.
#pragma once

#include <memory>
#include <mutex>
#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "tailproof/check.h"
#include "tailproof/time_network.h"
#include "tailproof/verdict.h"

namespace tailproof {

enum class Basis {
  kDate,         // the caption's own date
  kArchive,      // the row of photographs.csv that it names
  kLife,         // of the machine
  kIdentity,     // a code, radio call or nickname
  kUnit,         // that held or flew the machine
  kUnitLife,     // forming and disbanding
  kPlace,        // by the machine's own rows, and the stations of units that the caption names
  kStation,      // the same place, by the stations of whatever units had the machine
  kPerson,       // life of somebody in the picture
  kRank,         //
  kAward,        //
  kService,      // the unit of somebody in the picture
  kIntroduced,   // a marking, by the first order anywhere
  kReached,      // a marking, by the orders that reached this machine
  kCurrent,      // a marking, until withdrawal and grace
  kTrace,        // of a former marking or code: not before it can have been there
  kRepainted,    // a form of a marking, by the repaints of the machine
  kFormerOwner,  // the insignia of a former operator
  kEventDay,     // of an event: its day, by the ledger or the text
  kEvent,        // "two days before it was lost"
  kStatedOrder,  // "two weeks after Fig. 8"
  kSession,      // two photographs of one session
  kPaintOrder,   // two forms of one marking on one surface of one machine
  kCoat,         // one marking painted over another, which other photographs still show
  kNewOwner,     // insignia of a former operator before those of the next
};

struct TimeFact {
  Basis basis = Basis::kDate;
  std::uint32_t photograph = kNone;     // of a relation: the later one
  std::uint32_t other = kNone;          // of a relation: the earlier one
  std::uint32_t claim = kNone;          // index into CheckInput::claims
  std::uint32_t other_claim = kNone;    // kPaintOrder: the marking in the other photograph
  const Photograph* archive = nullptr;  // kArchive, kSession
  const Sequence* sequence = nullptr;   // kPaintOrder: the first row between the two forms
  std::uint32_t event = kNone;          // kEvent, kEventDay: index into the events told of
  std::vector<Evidence> rows;           // of the ledger, where claim and basis do not lead to them
  Allowed allowed;                      // of a relation: offsets in days
  DaySet recorded;  // the part of `allowed` for which the ledger has a row; all where it has none
  /// The part of `allowed` that no row about something else cuts off from the recorded days: a
  /// silence of the ledger prolongs a spell, but hardly beyond the next one.
  DaySet linked = DaySet::all();
  bool is_firm = true;
  bool is_soft = false;  // counts for brackets, but a clash with it is at most a warning
  bool is_hedged = false;
  bool is_inherited = false;

  [[nodiscard]] bool is_relation() const { return other != kNone; }
};

struct PhotographTime {
  std::uint32_t manuscript = 0;
  std::uint32_t block = 0;  // the first of its caption
  std::string_view figure;
  Span span;                         // of that block
  std::vector<std::uint32_t> facts;  // indices into Chronology::facts, relations among them
};

/// One end of a bracket, and what sets it.
struct BracketEnd {
  bool is_known = false;
  Day day = 0;
  std::vector<std::uint32_t> facts;
};

/// Days between the ends of a bracket on which it was not taken, and what rules them out.
struct BracketGap {
  DayRange days;
  std::vector<std::uint32_t> facts;
};

struct Bracket {
  DaySet days;     // on which all firm facts can be true, where these are linked; empty when they
                   // clash
  DaySet widened;  // the same with every margin
  DaySet usual;    // the same with usual facts and recorded spells; empty when these clash
  BracketEnd earliest, latest;              // of `days`
  std::vector<BracketGap> gaps;             // of `days`; the first kMostGaps
  BracketEnd usual_earliest, usual_latest;  // of `usual`, where it is narrower
  std::vector<std::uint32_t> clash;         // facts; when `days` is empty
};

/// What would narrow a bracket most, if it were known.
struct Narrowing {
  std::string_view what;       // "serial", "unit", "theatre"; "" when nothing would
  std::size_t candidates = 0;  // values that are still possible
  Day days_now = 0;
  Day days_then = 0;  // to be expected, each possible day of each value being as likely
};

/// Facts about one or several photographs that cannot all be true.
struct TimeClash {
  std::vector<std::uint32_t> facts;  // minimal, ascending
  Level level = Level::kError;
  /// The one member that everything else tied to the photographs outvotes: without it, and without
  /// no other, all the rest can be true. kNone when nothing decides.
  std::uint32_t outvoted = kNone;
};

/// What one caption alone tells of its photographs, firm facts only. Photographs count from 0,
/// claims from the first of the caption.
struct CaptionPhotographs {
  std::uint32_t count = 0;
  std::vector<TimeFact> facts;
};

struct FirmTimes;

/// What is known of the photographs of an input, for all checks that are given it.
struct PhotographFacts {
  /// By manuscript, and there by the first block of each caption; null, or nothing at all, where it
  /// is still to be found.
  std::vector<std::vector<std::shared_ptr<const CaptionPhotographs>>> of;
  // Made when a check first asks for it.
  mutable std::once_flag once;
  mutable std::shared_ptr<const FirmTimes> firm;
};
/// The facts by caption.
[[nodiscard]] std::shared_ptr<PhotographFacts> photograph_facts(const CheckInput& input);

struct ChronologyData;

/// Which days of a fact are told.
inline constexpr std::size_t kMostGaps = 6;

enum class FactSense { kPossible, kLinked, kRecorded };

class Chronology {
 public:
  /// Clashes rest on firm facts alone, and so need no others.
  enum class Gather { kAllFacts, kFirmFacts };
  explicit Chronology(const CheckInput& input, Gather gather = Gather::kAllFacts);
  ~Chronology();
  Chronology(Chronology&&) noexcept;
  Chronology& operator=(Chronology&&) noexcept;

  [[nodiscard]] std::span<const PhotographTime> photographs() const;
  [[nodiscard]] std::span<const TimeFact> facts() const;
  /// By photograph.
  [[nodiscard]] std::vector<Bracket> brackets() const;
  /// `bracket` as of brackets().
  [[nodiscard]] Narrowing narrowing(std::uint32_t photograph, const Bracket& bracket);
  /// Every clash that remains when what the caption's own date contradicts by itself is left out
  /// (each check of single claims reports that).
  [[nodiscard]] std::vector<TimeClash> clashes() const;

  /// "Lieutenant Wray (until 31 January 1943)".
  [[nodiscard]] std::string in_words(const TimeFact& fact,
                                     FactSense sense = FactSense::kPossible) const;
  /// The same, with the name of the photograph before it where that is not `of`.
  [[nodiscard]] std::string in_words_beside(std::uint32_t of, const TimeFact& fact,
                                            FactSense sense = FactSense::kPossible) const;
  /// All of them, with names where more than one photograph is concerned.
  [[nodiscard]] std::string clash_in_words(std::span<const std::uint32_t> clash) const;
  /// Rows of the ledger behind a fact that bear on these days.
  [[nodiscard]] std::vector<Evidence> evidence(const TimeFact& fact, const DaySet& days) const;
  /// The photograph that a fact concerns; of a relation of two, the later one.
  [[nodiscard]] std::uint32_t photograph_of(const TimeFact& fact) const;
  /// Where the text states it; nullptr for what only the ledger says.
  [[nodiscard]] const Claim* claim_of(const TimeFact& fact) const;
  /// What the photograph is called: its figure's label, else its machine.
  [[nodiscard]] std::string name_of(std::uint32_t photograph) const;

 private:
  std::unique_ptr<ChronologyData> data_;
};

/// A chronology of firm facts, and its clashes.
struct FirmTimes {
  Chronology chronology;
  std::vector<TimeClash> clashes;
};
/// Made once for all checks that have `photographs` in common.
[[nodiscard]] std::shared_ptr<const FirmTimes> firm_times(const CheckInput& input);

}  // namespace tailproof
