// How a check comes from a claim and evidence to a verdict and a level: the rules that every check
// shares, so that no two checks weigh the same words differently.
//
// Contract: evidence is turned into the days on which the claim is possible (`Allowed`), at full
// width and with the margins that "~" and "circa" reach. A claim is contradicted only when it fits
// on no day at full width; when margins alone save it, the query is a warning. Hedges lower a level
// by one, inherited words allow a warning at most. See design.md sections 4 and 7.
#pragma once

#include <optional>
#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "tailproof/check.h"
#include "tailproof/claim_index.h"

namespace tailproof {

/// Days on which evidence leaves a claim possible.
struct Allowed {
  DaySet days;     // at full width, without any margin
  DaySet widened;  // with margins; covers `days`

  [[nodiscard]] static Allowed none() { return {}; }
  [[nodiscard]] static Allowed always() { return {DaySet::all(), DaySet::all()}; }
};
[[nodiscard]] Allowed unite(const Allowed& one, const Allowed& other);
[[nodiscard]] Allowed intersect(const Allowed& one, const Allowed& other);

/// Days on which something certainly held, and therefore something else did not.
struct Certain {
  DaySet days;      // at full width; a spell that nothing ends counts as going on
  DaySet narrowed;  // with margins taken off and no end taken for granted; within `days`
};
[[nodiscard]] Certain unite(const Certain& one, const Certain& other);
[[nodiscard]] Certain intersect(const Certain& one, const Certain& other);
/// What is left possible by that which certainly held.
[[nodiscard]] Allowed except(const Certain& certain);

/// The widest reading of a spell.
[[nodiscard]] Allowed possible_days(const Spell& spell, const Margins& margins);
/// The narrowest reading of a spell.
[[nodiscard]] Certain certain_days(const Spell& spell, const Margins& margins);
/// From the earliest day that `start` allows, for ever.
[[nodiscard]] Allowed from_days(const Edtf& start, const Margins& margins);
/// Up to the latest day that `end` allows.
[[nodiscard]] Allowed until_days(const Edtf& end, const Margins& margins);

/// How a claim's days meet the days on which it is possible.
enum class Fit { kPossible, kOnlyByMargin, kImpossible };
[[nodiscard]] Fit fit(const When& when, const Allowed& allowed);

/// Whether the claim's day or month, which its words give without a year, is one of these in a year
/// close by: only the text before tells the year, and the words may be of another.
[[nodiscard]] bool fits_in_another_year(const CheckInput& input, const Claim& claim,
                                        const DaySet& days);

/// The level of a query about `claim`, or nothing when there is nothing to report. `highest` is the
/// level of an outright contradiction without any hedge.
[[nodiscard]] std::optional<Level> level_of(const Claim& claim, Fit how, Level highest);
/// `level` after hedges and inheritance of the claim itself, for what does not depend on its date.
[[nodiscard]] Level tempered(const Claim& claim, Level level);

/// Whether the author affirms it: neither negated nor somebody else's words.
[[nodiscard]] inline bool is_affirmed(const Claim& claim) {
  return !claim.negated && !claim.attributed;
}
/// Whether it speaks of the time of the photograph or event in which it stands, and of something
/// that may be held against that date: a machine that is only mentioned is not in the picture, so
/// the picture's date says nothing of it.
[[nodiscard]] bool holds_at_its_date(const CheckInput& input, const Claim& claim);
/// Every key that the claim's value may mean; its value alone when the name is not shared.
[[nodiscard]] std::span<const std::string> readings_of(const Claim& claim);

/// "1 June 1943".
[[nodiscard]] std::string in_words(Day day);
/// "2 months", "1 year", "1 year 6 months", "10 days"; "" when it is none.
[[nodiscard]] std::string in_words(const Duration& duration);
/// "1 June 1943", "June 1943", "1943", "1 to 10 June 1943", "from 1 June 1943", "any date".
[[nodiscard]] std::string in_words(const DaySet& days);
/// "about June 1943"; "an unknown date".
[[nodiscard]] std::string in_words(const Edtf& date);
/// "from 1 June 1942 to 10 February 1943", "on 1 June 1942", "from 1 June 1942", "at all times".
[[nodiscard]] std::string in_words(const Spell& spell);
/// "a Wherrit Mk II", "an Oxgang": by the first letter alone.
[[nodiscard]] std::string with_article(std::string_view name);
/// With its preposition: "on 1 June 1943", "in June 1943", "between ... and ..."; "" when unknown.
[[nodiscard]] std::string when_in_words(const When& when);

/// Whose a marking is: "on QX1001", and of no machine that is known "in Fig. 3", "in the
/// photograph".
[[nodiscard]] std::string wearer_in_words(const Ledger& ledger, std::string_view subject);

/// A row of the ledger as a query quotes it.
[[nodiscard]] Evidence quote(const RowPlace& row, std::string says);
/// "3 Flight formed 1 May 1935, disbanded 2 June 1941".
[[nodiscard]] Evidence quote_unit(const Unit& unit);
/// What ledger.toml or a closed table as a whole says.
[[nodiscard]] Evidence quote_table(std::string table, std::string says);

/// A query of `check` at the claim.
[[nodiscard]] Query query_at(std::string_view check, const CheckInput& input, const Claim& claim,
                             Level level, std::string message);

/// Every query that `judge` (Claim -> std::optional<Query>) returns for claims of one kind.
template <typename Judge>
[[nodiscard]] std::vector<Query> judge_claims(const CheckInput& input, ClaimKind kind,
                                              const Judge& judge) {
  std::vector<Query> queries;
  for (const Claim& claim : ClaimsOfKind(input, kind)) {
    if (std::optional<Query> query = judge(claim)) queries.push_back(*std::move(query));
  }
  return queries;
}

}  // namespace tailproof
