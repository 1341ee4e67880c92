// Claims: what the manuscript states, one statement each.
#pragma once

#include <cstdint>
#include <string>
#include <string_view>
#include <vector>

#include "tailproof/day.h"
#include "tailproof/edtf.h"
#include "tailproof/manuscript.h"
#include "tailproof/seldom.h"
#include "tailproof/span.h"

namespace tailproof {

enum class ClaimKind {
  kAirframe,
  kType,
  kUnit,
  kDate,
  kPlace,
  kPerson,
  kRank,
  kAward,
  kMarking,
  kEvent,
  kMeasure,
  kCount,
  kOrderInTime,
  kOverpaint,
  kReference,
};

/// "airframe", "type", ..., "order_in_time": the words of the claims format.
[[nodiscard]] std::string_view to_word(ClaimKind kind);

/// The days at which a claim says that something held.
struct When {
  bool known = false;              // false: the text gives no date; `days` is then all days
  DaySet days = DaySet::all();     // at full width, as written
  DaySet widened = DaySet::all();  // with the margin that "circa" and "about" allow
  bool hedged = false;             // "probably June"
  bool inherited = false;          // taken from a heading, a table head or running text
  std::uint8_t season = 0;         // 1 spring to 4 winter, when all of `days` is one season as said
  std::uint32_t date = kNone;      // the date claim it rests on (index into Claims)
};

/// Numbers of a measure with its conversion ("18 in (46 cm)").
/// Part of a measure that tells the diameters of a marking as a proportion.
inline constexpr std::string_view kProportion = "proportion";

struct Measure {
  double value = 0, converted = 0;
  std::string unit, converted_unit;  // canonical: in, ft, yd, mi, nmi, cm, mm, m, km, lb, oz, kg,
                                     // g, gal, l, mph, kn, km/h
  std::string value_text, converted_text;  // digits as written, which show the rounding; of two
                                           // parts ("54 ft 6 in") "54+in 6"
  /// "54 ft 6 in".
  [[nodiscard]] std::string in_print() const { return printed(value_text, unit); }
  [[nodiscard]] std::string converted_in_print() const {
    return printed(converted_text, converted_unit);
  }
  [[nodiscard]] static std::string printed(const std::string& digits, const std::string& unit) {
    const std::size_t plus = digits.find('+');
    if (plus == std::string::npos) return digits + " " + unit;
    const std::size_t blank = digits.find(' ', plus);
    if (blank == std::string::npos) return digits.substr(0, plus) + " " + unit;
    return digits.substr(0, plus) + " " + unit + " " + digits.substr(blank + 1) + " " +
           digits.substr(plus + 1, blank - plus - 1);
  }
  double value_low = 0,
         value_high = 0;      // equal to `value` unless the text gives a range or several parts
  double converted_high = 0;  // 0 unless the conversion is a range as well
};

/// One end of a range or pair of dates in running text.
struct DateEnd {
  Span span;
  std::string value;  // EDTF
  std::string text;
};

/// What a marking is said to have done at the time of the claim.
enum class MarkingState { kWorn, kAdded, kRemoved, kFormer, kPlanned };

/// The time in which a statement stands, seen from the photograph or event: "later Wing Commander"
/// is kLater.
enum class Tense { kThen, kFormer, kLater };

/// A photograph, by the block of its caption (any block of the figure).
struct CaptionPlace {
  std::uint32_t manuscript = kNone;
  std::uint32_t block = kNone;

  [[nodiscard]] bool is_known() const { return block != kNone; }
};

/// What an order_in_time claim says: days of `photograph` minus days of `other`, both ends
/// included. "A week before Fig. 8" is -9 to -5, since nobody counts weeks to the day; what has no
/// end reaches to kFirstDay or kLastDay. A photograph that no manuscript has, or that the words
/// ("the one opposite") leave open, is not known.
struct TimeRelation {
  CaptionPlace photograph, other;
  std::string other_name;  // as the text names it: "Fig. 8", "previous", "next", "beside"
  Day least = kFirstDay;
  Day most = kLastDay;
};

/// What a count claim says: "F113 to F120, nine aircraft", "the thirty-fourth F.2", "five of the
/// ten were renumbered".
struct Count {
  int number = 0;          // how many, or the place among its kind; 0 for a "last" without a number
  bool is_exact = true;    // false after "nearly", "some", "at least"
  bool is_place = false;   // "the thirty-fourth": of the claim's subject
  bool is_last = false;    // "the last (of forty)": number is how many there are
  bool is_whole = false;   // nothing behind the noun picks some of its kind out
  std::string type, mark;  // what is counted; "" when the noun is "aircraft"
  std::string first_serial, last_serial;  // both ends of a range of serials counted
  int out_of = 0;                         // "five of the ten"
  int listed = 0;  // "four Grapnels, A, B and C": machines in the list beside it; 0: no list
  bool is_listed_before = false;  // "A, B and C: four Grapnels"
  std::string fate;  // what became of the five: a kind of histories.csv, later_serial, on_charge
  std::vector<std::string> machines;   // the ten, where a list, a range or the ledger tells which
  bool is_before_renumbering = false;  // lost while they still had their first serials
  bool is_counted = false;  // held against the two that follow, of which `machines` are the certain
  int least = 0, most = 0;  // all that certainly were, all that may have been
  bool is_sum = false;      // the words mean all of them: fewer than `least` is wrong as well
  std::string unit;         // whose they were
};

/// What began or ended on the day of a date claim, in the life of its subject: a unit, a person or
/// an order. What it turned to is Claim::turned_to.
enum class Turn : std::uint8_t {
  kNone,
  kFormed,       // a unit
  kDisbanded,    // a unit
  kRenamed,      // a unit, to another
  kMovedIn,      // a unit, to a place
  kMovedOut,     // a unit, from a place
  kIssued,       // an order
  kEffective,    // an order
  kIntroduced,   // an order, a marking
  kWithdrawn,    // an order, a marking
  kPromoted,     // a person, to a rank
  kAwarded,      // a person, an award
  kCommand,      // a person, a unit
  kLeftCommand,  // a person, a unit
  kJoined,       // a person, a unit
  kLeft,         // a person, a unit
  kBorn,
  kDied,
  kLived,       // a person, from the first year of the date to the last
  kRenumbered,  // a machine, to another number
};

/// What the words around a claim tell that bears on it, as bits of Claim::said. Each but kSaidNear
/// and those of its date and of an event is a list of the grammar ("tells_remains" and so on).
enum Said : std::uint32_t {
  // In its sentence, or anywhere in its caption:
  kSaidRemains = 1,       // a wreck, a relic, a search: the machine's life may be over
  kSaidMakers = 2,        // the makers, or a time before delivery
  kSaidOtherMachine = 4,  // several machines, of which one may differ from another
  // In its sentence:
  kSaidOtherTime = 8,        // another time than that of the date
  kSaidDeath = 16,           // a death, or the memory of somebody
  kSaidBirth = 32,           // a birth, or parents
  kSaidRankChange = 64,      // a promotion, or another time
  kSaidForming = 128,        // a unit's beginning or end
  kSaidOneOfSeveral = 1024,  // "its second accident": there was more than one
  kSaidBeforeOrder = 65536,  // "a month before the order": a marking in advance of it
  kSaidAfterOrder = 131072,  // "long after it was withdrawn", "in spite of the order"
  // Anywhere in its block:
  kSaidOnTheWay = 2048,  // somebody or something comes or goes that day
  kSaidVisiting = 4096,  // a visit, a diversion: the machine is away from its unit
  // Right before a reference:
  kSaidElsewhere = 256,  // "see", "an hour after": another picture is meant
  // In the words of an event themselves:
  kSaidNear = 512,  // told of the days around the paper date ("delivered")
  // Of its date:
  kSaidStretch = 8192,      // the state lasts from or until that date, or is reached by it
  kSaidBothEnds = 16384,    // with kSaidStretch: the date is a range, of which both ends are told
  kSaidToTheDay = 524288,   // with kSaidStretch: the words give the very day of the end
  kSaidYearOpen = 1048576,  // the words give a month and no year, and nor does their block
  kSaidUntil = 2097152,     // with kSaidStretch: and no longer ("until May", not "by May")
  kSaidYearUnsaid = 33554432,   // the words give a day or month, and leave its year to the text
  kSaidNearARow = 268435456,    // of its turn nothing speaks but a row whose day is near
  kSaidMonthUnsaid = 67108864,  // the words give a day alone ("the 12th"): likewise its month
  // Of an event:
  kSaidOtherEnd = 32768,  // lost of what the ledger calls scrapped, or the other way round
  // Of an event that begins a state, stored or for instruction:
  kSaidBegins = 134217728,  // the words tell its beginning ("went into store", "became")
  // Of somebody's former unit:
  kSaidWhence = 8388608,  // left for the one that the sentence names as well
  // Of a machine in running text:
  kSaidOfRemains = 4194304,  // its wreck or what is left of it, on a day of its own
  // Of a date in running text: its machine flies, stands, is inspected or the like that day.
  kSaidInUse = 16777216,
  // Of a marking in running text:
  kSaidWornBySome = 262144,  // several machines wore it, which the words do not name
};

struct Claim {
  std::uint32_t manuscript = 0;      // index into CheckInput::manuscripts
  std::uint32_t block = 0;           // index into that manuscript's blocks
  std::uint32_t begin = 0, end = 0;  // in the block's text
  Span span;                         // in the source
  ClaimKind kind = ClaimKind::kAirframe;
  std::string value;                  // normalised: the ledger's key where known
  std::vector<std::string> readings;  // when a name is shared: every key it may mean (value is the
                                      // likeliest); else empty
  std::string subject;  // serial, person's key, or figure label; "" when nothing is named
  std::string
      role;  // see design: holder, operator, former, later, member, command; code, tail, ...
  std::string position;
  std::string of;  // of a date: photograph, event, order, person, publication, type
  bool negated = false;
  bool hedged = false;
  bool attributed = false;
  bool shown = true;
  bool inherited = false;
  bool known = true;  // the value is a key of the ledger (kinds that have keys)
  Tense tense = Tense::kThen;
  MarkingState state = MarkingState::kWorn;
  std::uint32_t said = 0;  // bits of Said
  When when;
  Edtf date;                  // of a date claim: what it means
  std::vector<DateEnd> ends;  // of a date in running text whose words name two dates: each alone,
                              // as `claims` prints them; else empty
  /// Of a date with `of: event`: the event claim it dates. Of a state told beside an event that
  /// only the ledger dates ("it had the band when it burnt"): that event.
  std::uint32_t event = kNone;
  Turn turn = Turn::kNone;  // of a date: what began or ended that day; of an order: what it did;
                            // of a code: kRenumbered, taken up that day, or kWithdrawn, given up
  std::string turn_of;      // whose turn: a unit, a person or an order
  std::string turned_to;    // place, rank, award, unit or marking of the turn, or repainted; or ""
  int weekday = -1;         // of a date: the weekday named beside it, 0 Sunday to 6 Saturday
  bool impossible = false;  // of a date: the calendar has no such day, or a range runs backwards
  std::uint32_t holder_of_rank =
      kNone;                      // of rank and award claims: the person claim they stand beside
  Seldom<Measure> measure;        // of a measure
  Seldom<TimeRelation> relation;  // of order_in_time, and of an event told with it
  Seldom<Count> count;
  std::string part;  // of a measure of a marking (its subject): the ring or part, by the name that
                     // the marking's `rings` gives it, or its number from the outside ("1");
                     // kProportion where the value is a proportion of several ("6:4:2") and no size
  std::string text;  // as flattened
  std::string why;   // which pattern or word list found it and how it came by its subject
};

}  // namespace tailproof
