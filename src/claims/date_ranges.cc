// What a range of dates states beside its days: its two ends, or that it runs backwards.
#include "claims/assembler.h"

namespace tailproof {

// "Between 14-6-55 and 2-6-55" as the range that runs backwards, both ends being days; else its
// words.
std::string BlockAssembler::impossible_text(const Mention& mention) const {
  const ResolvedDate& resolved = dates_[mention.payload];
  const bool has_ends = !resolved.first.is_unknown() && !resolved.second.is_unknown();
  if (!has_ends) return std::string(text_of(mention));
  return resolved.first.text() + "/" + resolved.second.text();
}

// In running text a range mostly tells when a state began and when it ended: two dates.
void BlockAssembler::add_ends(Claim& claim, const DateMention& date,
                              const ResolvedDate& resolved) const {
  if (resolved.first.is_unknown() || resolved.second.is_unknown()) return;
  if (date.first_end <= date.begin || date.second_begin >= date.end) return;
  const Hemisphere hemisphere = ledger_.settings().hemisphere;
  const auto add_end = [&](std::uint32_t begin, std::uint32_t end, const Edtf& value) {
    claim.ends.push_back({block_.text_span(begin, end), claimed_text(value, hemisphere),
                          block_.text.substr(begin, end - begin)});
  };
  add_end(date.begin, date.first_end, resolved.first);
  add_end(date.second_begin, date.end, resolved.second);
}

}  // namespace tailproof
