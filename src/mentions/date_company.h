// Whether a date phrase is one, by the company it keeps.
//
// "May", "1943", "the 14th", "4.43" are dates only beside words or marks that make them so; the
// grammar says what each pattern needs, and the rules for each need are here.
#pragma once

#include <cstdint>
#include <string_view>
#include <vector>

#include "mentions/date_atoms.h"

namespace tailproof {

// How much company the words before give.
enum class DateCompany { kNone, kWeak, kStrong };

// A mention that may still be joined to the next one.
struct DateDraft {
  DateMention mention;
  DateAtom atom;  // the first; `end_atom` is the last
  DateAtom end_atom;
  DateCompany company = DateCompany::kNone;
  bool has_the = false;
  bool has_part = false;
  bool is_from = false;
  bool is_between = false;
  std::uint32_t the_begin = 0;  // begin without a leading "the"
};

/// Index of the first token that begins at `begin` or later.
[[nodiscard]] std::size_t token_at(const std::vector<Token>& tokens, std::uint32_t begin);

/// Whether "the 12th" of the draft is the number of a unit, by the words around it.
[[nodiscard]] bool is_ordinal_of_unit(const DateDraft& draft, std::string_view text,
                                      const std::vector<Token>& tokens, const DateWords& words);

/// "From the first day to the last of 1938": in words the first, second and third count things far
/// more often than days.
[[nodiscard]] bool counts_things(const DateDraft& draft, const std::vector<Token>& tokens);

/// Whether the draft, now that its neighbours are known, is a date.
[[nodiscard]] bool has_company(const DateDraft& draft, std::string_view text,
                               const std::vector<Token>& tokens, const DateWords& words);

}  // namespace tailproof
